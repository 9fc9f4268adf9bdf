package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzLines: every line that isn't blank has an answer of its own, in one line of JSON, whatever stands on it.
func FuzzLines(f *testing.F) {
	var b batch
	require.NoError(f, b.addJobs(bytes.NewReader(demoJob)))
	require.NoError(f, b.setRules(bytes.NewReader(demoRules)))
	require.NoError(f, b.plan())
	f.Add(string(demoReadings))
	f.Add("\n{}\n\xff\n[1,2\n\u2028\r\nnull")
	f.Fuzz(func(t *testing.T, text string) {
		for number, l := range lines(strings.NewReader(text)) {
			answer, judged := b.judge(number, l)
			var read struct {
				Line    int
				Problem string
			}
			require.NoError(t, json.Unmarshal(answer, &read))
			require.Equal(t, number, read.Line)
			require.Equal(t, judged, read.Problem == "")
			require.Equal(t, len(answer)-1, bytes.IndexByte(answer, '\n'))
		}
	})
}
