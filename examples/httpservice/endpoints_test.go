package main

import (
	"bytes"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
)

// reviewBody is the tests' job of package service with the readings that belong to it.
func reviewBody(t testing.TB) []byte {
	t.Helper()
	job, err := os.ReadFile("../../service/testdata/bench.json")
	require.NoError(t, err)
	done, err := os.ReadFile("../../service/testdata/asdone.json")
	require.NoError(t, err)
	return []byte(`{"job": ` + string(job) + `, "asDone": ` + string(done) + `}`)
}

func judging(t testing.TB) kept {
	t.Helper()
	rules, err := readRules("../../service/testdata/rules.json")
	require.NoError(t, err)
	return quiet(rules)
}

func postTo(s http.Handler, path string, body []byte) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", path, bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

// A plan's answer has the library's findings and wants.
func TestPlan(t *testing.T) {
	for name, text := range jobs(t) {
		s := judging(t)
		read, err := service.ReadJob(text)
		require.NoError(t, err, name)
		plan, err := service.NewPlan(read, s.rules)
		require.NoError(t, err, name)
		w := postTo(s, "/v1/plan", text)
		require.Equal(t, 200, w.Code, name)
		var got struct {
			Findings []struct{ Code, Where, Level string }
			Wants    json.RawMessage
		}
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &got), name)
		require.Len(t, got.Findings, len(plan.Findings), name)
		for i, f := range plan.Findings {
			assert.Equal(t, struct{ Code, Where, Level string }{f.Code, f.Where, f.Level.String()}, got.Findings[i], name)
		}
		wants, err := json.Marshal(plan.Wants())
		require.NoError(t, err, name)
		assert.JSONEq(t, string(wants), string(got.Wants), name)
	}
	assert.JSONEq(t, `[]`, string(member(t, postTo(quiet(service.Rules{}), "/v1/plan", job(t)).Body.Bytes(), "wants")), "no rules, no wants")
}

func member(t *testing.T, text []byte, name string) json.RawMessage {
	t.Helper()
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(text, &all), string(text))
	return all[name]
}

// The record is the one that the library commits to, and verifies; altered it is refused by that name, and one of
// another release is told from it.
func TestReviewAndVerify(t *testing.T) {
	s := judging(t)
	w := postTo(s, "/v1/review", reviewBody(t))
	require.Equal(t, 200, w.Code, w.Body.String())
	kept, err := os.ReadFile("../../service/testdata/record.json")
	require.NoError(t, err)
	record, err := service.ReadRecord(kept)
	require.NoError(t, err)
	canonical, err := record.MarshalJSON()
	require.NoError(t, err)
	assert.Equal(t, string(canonical), w.Body.String(), "as Review.Record writes it")

	verified := postTo(s, "/v1/record/verify", w.Body.Bytes())
	assert.Equal(t, 200, verified.Code)
	assert.JSONEq(t, `{"outcome": "verified", "release": "`+service.Release+`", "sha256": "`+record.SHA256+`", "differences": []}`, verified.Body.String())

	altered := postTo(s, "/v1/record/verify", bytes.Replace(canonical, []byte(`"verdict":"pass"`), []byte(`"verdict":"fail"`), 1))
	assert.Equal(t, 422, altered.Code)
	assert.Equal(t, "altered", checkProblem(t, "altered", altered.Result()).Errors[0].Code)

	other, err := os.ReadFile("../../service/testdata/other-release.json")
	require.NoError(t, err)
	elsewhere, err := service.ReadRecord(other)
	require.NoError(t, err)
	require.NotEmpty(t, elsewhere.Differences)
	w = postTo(s, "/v1/record/verify", other)
	assert.Equal(t, 200, w.Code)
	assert.JSONEq(t, `"other release"`, string(member(t, w.Body.Bytes(), "outcome")))
	var told []difference
	require.NoError(t, json.Unmarshal(member(t, w.Body.Bytes(), "differences"), &told))
	require.Len(t, told, len(elsewhere.Differences))
	assert.Equal(t, difference(elsewhere.Differences[0]), told[0])
}

// Pointers (Source: rfc-6901) lead to what is wrong within the whole body.
func TestReviewRefused(t *testing.T) {
	body := string(reviewBody(t))
	for name, c := range map[string]struct {
		old, new string
		status   int
		pointer  string
		code     string
	}{
		"a job that can't be":         {`"10 L"`, `"10 gal"`, 422, "/job/shop/panHolds", "ambiguous"},
		"a reading that can't be":     {`"21 N·m"`, `"21"`, 422, "/asDone/stations/0/torque/value", "no-unit"},
		"a reading of another job":    {`"job": "T-1"`, `"job": "T-2"`, 422, "/asDone/job", ""},
		"a member more in the job":    {`"machine": "Inv`, `"colour": 1, "machine": "Inv`, 422, "/job/colour", "unknown-field"},
		"a member that is no word":    {`"machine": "Inv`, `"a/b.c": 1, "machine": "Inv`, 422, "/job", "unknown-field"},
		"no JSON":                     {`"asDone": {`, `"asDone": `, 400, "", "not-json"},
		"a member more":               {`"asDone"`, `"more": 1, "asDone"`, 422, "", "wrong-type"},
		"a member twice":              {`"asDone"`, `"job": {}, "asDone"`, 422, "", "wrong-type"},
		"a member missing":            {body, `{"job": {}}`, 422, "", "wrong-type"},
		"a list":                      {body, `[]`, 422, "", "wrong-type"},
		"nothing where a job belongs": {body, `{"job": null, "asDone": {}}`, 422, "/job", ""},
	} {
		require.Contains(t, body, c.old, name)
		w := postTo(judging(t), "/v1/review", []byte(strings.Replace(body, c.old, c.new, 1)))
		assert.Equal(t, c.status, w.Code, "%s: %s", name, w.Body)
		told := checkProblem(t, name, w.Result()).Errors
		if assert.NotEmpty(t, told, name) {
			assert.Equal(t, c.pointer, told[0].Pointer, name)
			if c.code != "" {
				assert.Equal(t, c.code, told[0].Code, name)
			}
		}
	}
}

// JSON Pointer, section 3. Source: rfc-6901.
func TestPointer(t *testing.T) {
	for path, want := range map[string]string{
		"": "", "id": "/id", "shop.panHolds": "/shop/panHolds", "stations[12].tighten.turn": "/stations/12/tighten/turn",
		"stations[0].connectors[3]": "/stations/0/connectors/3", `shop."pan holds"`: "/shop", `"a.b"`: "", `stations[1]."x[2]".y`: "/stations/1",
	} {
		assert.Equal(t, want, pointer(path), path)
	}
}

// Each answer, whatever it is, has the headers that keep a browser from making more of it, and an id that the log has
// too: the client's own, or one that is made.
func TestHeadersAndLog(t *testing.T) {
	var log lines
	s := kept{newServer(service.Rules{}, slog.New(slog.NewJSONHandler(&log, nil)))}
	for path, status := range map[string]int{"/v1/plan": 200, "/v1/sheet": 200, "/v1/review": 501, "/v1/record/verify": 422,
		"/healthz": 405, "/v1/openapi.json": 405, "/nothing": 404, "//v1/plan": 404} {
		for _, id := range []string{"", "a-1_b.C", "two words", strings.Repeat("x", 65), "a\nb"} {
			r := httptest.NewRequest("POST", "/", bytes.NewReader(job(t)))
			r.URL.Path = path
			r.Header = http.Header{"Content-Type": {"application/json"}, "X-Request-Id": {id}}
			w := httptest.NewRecorder()
			s.ServeHTTP(w, r)
			require.Equal(t, status, w.Code, path)
			h := w.Result().Header
			assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"))
			assert.Equal(t, "no-store", h.Get("Cache-Control"))
			assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"))
			assert.Equal(t, "same-origin", h.Get("Cross-Origin-Resource-Policy"))
			assert.Contains(t, h.Get("Content-Security-Policy"), "default-src 'none'")
			assert.Contains(t, h.Get("Content-Security-Policy"), "frame-ancestors 'none'")
			given := h.Get("X-Request-Id")
			if id == "a-1_b.C" {
				assert.Equal(t, id, given)
			} else {
				assert.Regexp(t, `^[A-Z2-7]{26}$`, given, "crypto/rand.Text")
			}
			assert.Contains(t, log.text(), `"id":"`+given+`","method":"POST","path":"`+path+`","status":`)
		}
	}
	for path, kind := range map[string]string{"/healthz": "application/json", "/v1/openapi.json": "application/json"} {
		w := httptest.NewRecorder()
		s.ServeHTTP(w, httptest.NewRequest("GET", path, nil))
		assert.Equal(t, 200, w.Code)
		assert.Equal(t, kind, w.Result().Header.Get("Content-Type"))
		assert.True(t, json.Valid(w.Body.Bytes()))
	}
}
