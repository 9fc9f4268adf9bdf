package main

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzPost: a body of any kind has an answer or a problem, in JSON or as a sheet, and never a status of 500.
func FuzzPost(f *testing.F) {
	s := judging(f).server
	paths := []string{"/v1/plan", "/v1/sheet", "/v1/review", "/v1/record/verify"}
	record, err := os.ReadFile("../../service/testdata/record.json")
	require.NoError(f, err)
	for i, body := range [][]byte{job(f), job(f), reviewBody(f), record} {
		f.Add(uint8(i), body)
		f.Add(uint8(i), body[:len(body)/2])
	}
	f.Add(uint8(2), []byte(`{"job":{},"job":{},"asDone":null}`))
	f.Add(uint8(2), []byte("{\"job\":\"\xff\",\"asDone\":[]}"))
	f.Fuzz(func(t *testing.T, which uint8, body []byte) {
		w := postTo(s, paths[int(which)%len(paths)], body)
		require.Less(t, w.Code, 500)
		if kind := w.Header().Get("Content-Type"); kind == "application/json" || kind == "application/problem+json" {
			require.True(t, json.Valid(w.Body.Bytes()), "%s", w.Body)
		}
	})
}
