package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

func job(t testing.TB) []byte {
	t.Helper()
	text, err := os.ReadFile("../servicesheet/demo.json")
	require.NoError(t, err)
	return text
}

// quiet is a server that logs nothing.
func quiet(rules service.Rules) kept { return kept{newServer(rules, slog.New(slog.DiscardHandler))} }

// kept is a server whose answers are kept in the folder that the environment names, one file each, for
// testdata/httpcheck to hold against openapi.json.
type kept struct{ *server }

type exchange struct {
	Method, Target     string
	Header, AnswerHead http.Header
	Body, Answer       []byte
	Status             int
}

type both struct {
	http.ResponseWriter
	exchange *exchange
}

func (b both) WriteHeader(status int) {
	b.exchange.Status, b.exchange.AnswerHead = status, b.Header().Clone()
	b.ResponseWriter.WriteHeader(status)
}

func (b both) Write(text []byte) (int, error) {
	b.exchange.Answer = append(b.exchange.Answer, text...)
	return b.ResponseWriter.Write(text)
}

func (b both) Unwrap() http.ResponseWriter { return b.ResponseWriter }

func (k kept) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	dir := os.Getenv("HTTPSERVICE_ANSWERS")
	if dir == "" {
		k.server.ServeHTTP(w, r)
		return
	}
	var body bytes.Buffer
	e := exchange{Method: r.Method, Target: r.URL.String(), Header: r.Header}
	r.Body = io.NopCloser(io.TeeReader(r.Body, &body))
	k.server.ServeHTTP(both{w, &e}, r)
	e.Body = body.Bytes()
	text, err := json.Marshal(e)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, rand.Text()+".json"), text, 0o644)
	}
	if err != nil {
		panic(err)
	}
}

func ask(method, path, accept string, body []byte) *http.Response {
	r := httptest.NewRequest(method, path, bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	if accept != "" {
		r.Header.Set("Accept", accept)
	}
	w := httptest.NewRecorder()
	quiet(service.Rules{}).ServeHTTP(w, r)
	return w.Result()
}

// jobs are the demonstration job and the invented ones of other shapes.
func jobs(t testing.TB) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../../service/testdata/jobs/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 4)
	all := map[string][]byte{"demo": job(t)}
	for _, file := range files {
		all[filepath.Base(file)], err = os.ReadFile(file)
		require.NoError(t, err)
	}
	return all
}

// The language is that of the heaviest range that there are words for (section 12.5.4; Source: rfc-9110).
func TestLanguageByAccept(t *testing.T) {
	for accept, want := range map[string]string{
		"": "en", "es": "es", "es-MX,es;q=0.9,en;q=0.8": "es", "fr, es;q=0.5, en;q=0.4": "es", "fr": "en", "*": "en",
		"en-GB, es;q=0.9": "en", "es;q=0": "en", "es;q=x": "en", "es;q=2, en;q=0.1": "en", "ES ; q=0.3": "es", ";;,,q=": "en",
	} {
		r := httptest.NewRequest(http.MethodPost, "/v1/sheet", bytes.NewReader(job(t)))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Accept", "text/html")
		r.Header.Set("Accept-Language", accept)
		w := httptest.NewRecorder()
		quiet(service.Rules{}).ServeHTTP(w, r)
		assert.Equal(t, want, w.Result().Header.Get("Content-Language"), accept)
		assert.Contains(t, w.Body.String(), `<html lang="`+want+`">`, accept)
	}
}

// The answers are the library's own sheets, byte for byte, of every job. Weights: section 12.4.2, Source: rfc-9110.
func TestSheetByAccept(t *testing.T) {
	for name, text := range jobs(t) {
		read, err := service.ReadJob(text)
		require.NoError(t, err, name)
		plan, err := service.NewPlan(read, service.Rules{})
		require.NoError(t, err, name)
		page, err := sheet.English().Sheet(plan, false).HTML()
		require.NoError(t, err, name)
		data, err := sheet.English().Sheet(plan, false).JSON()
		require.NoError(t, err, name)
		bodies := map[string]string{"application/json": string(data), "text/html; charset=utf-8": string(page), "text/plain; charset=utf-8": sheet.English().Sheet(plan, false).Text()}
		for accept, want := range map[string]string{
			"": "application/json", "*/*": "application/json", "application/json": "application/json", "application/*": "application/json",
			"text/html": "text/html; charset=utf-8", "text/*": "text/html; charset=utf-8", "text/plain": "text/plain; charset=utf-8",
			"text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8": "text/html; charset=utf-8", // as browsers ask
			"application/json;q=0.2, text/html;q=0.8":                         "text/html; charset=utf-8",
			"application/json;q=0.8, text/html;q=0.2":                         "application/json",
			"text/plain;q=0.001":                                              "text/plain; charset=utf-8",
			"*/*;q=1, application/json;q=0":                                   "text/html; charset=utf-8",
			"text/*;q=0.9, text/html;q=0.1, application/json;q=0.5":           "text/plain; charset=utf-8",
			"text/html;q=0.5, text/plain;q=0.5, application/json;q=0.4":       "text/html; charset=utf-8",
			"image/png, text/plain":                                           "text/plain; charset=utf-8",
			"TEXT/PLAIN":                                                      "text/plain; charset=utf-8",
		} {
			answer := ask("POST", "/v1/sheet", accept, text)
			body, err := io.ReadAll(answer.Body)
			require.NoError(t, err)
			assert.Equal(t, 200, answer.StatusCode, accept)
			assert.Equal(t, want, answer.Header.Get("Content-Type"), accept)
			assert.True(t, bodies[want] == string(body), "%s as %q is the library's own", name, accept)
			assert.Equal(t, strconv.Itoa(len(body)), answer.Header.Get("Content-Length"))
			assert.Equal(t, sheet.Policy()+"; frame-ancestors 'none'", answer.Header.Get("Content-Security-Policy"))
			assert.Equal(t, "nosniff", answer.Header.Get("X-Content-Type-Options"))
			assert.Equal(t, "no-store", answer.Header.Get("Cache-Control"))
			assert.Equal(t, "Accept, Accept-Language", answer.Header.Get("Vary"))
			assert.Equal(t, "en", answer.Header.Get("Content-Language"))
		}
	}
}

// The sheets aim by the rules that the service was started with.
func TestSheetByRules(t *testing.T) {
	rules, err := readRules("../servicesheet/demo-rules.json")
	require.NoError(t, err)
	for agreed, want := range map[service.Rules]string{rules: `"sources.rules"`, {}: `"sources.no-rules"`} {
		r := httptest.NewRequest("POST", "/v1/sheet?numbers", bytes.NewReader(job(t)))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		quiet(agreed).ServeHTTP(w, r)
		assert.Contains(t, w.Body.String(), want)
	}
}

// checkProblem holds an answer to the media type of problem details (section 3), the members they define and
// their types (3.1), names of extensions (3.2), and the title where no type is given (4.2.1). Source: rfc-9457.
func checkProblem(t *testing.T, name string, answer *http.Response) (p problem) {
	t.Helper()
	assert.Equal(t, "application/problem+json", answer.Header.Get("Content-Type"), name)
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err, name)
	var members map[string]any
	require.NoError(t, json.Unmarshal(text, &members), name)
	for member, value := range members {
		switch member {
		case "type", "title", "detail", "instance":
			assert.IsType(t, "", value, "%s: %s", name, member)
		case "status":
			assert.Equal(t, float64(answer.StatusCode), value, name)
		default:
			assert.Regexp(t, `^[A-Za-z][A-Za-z0-9_]{2,}$`, member, name)
		}
	}
	if kind, given := members["type"]; !given || kind == "about:blank" {
		assert.Equal(t, http.StatusText(answer.StatusCode), members["title"], name)
	}
	require.NoError(t, json.Unmarshal(text, &p), name)
	assert.NotEmpty(t, p.Detail, name)
	return p
}

// Problem details, section 3; statuses, section 15. Sources: rfc-9457, rfc-9110.
func TestProblems(t *testing.T) {
	two := []byte(strings.NewReplacer(`"8 L"`, `"2 gal"`, `"843.2 kg/m³"`, `"84 kg/m³"`).Replace(string(job(t))))
	for _, c := range []struct {
		name, method, path, accept string
		body                       []byte
		status, errors             int
	}{
		{"a GET", "GET", "/v1/sheet", "", nil, 405, 0},
		{"a PUT", "PUT", "/v1/sheet", "", job(t), 405, 0},
		{"a DELETE", "DELETE", "/v1/sheet", "", nil, 405, 0},
		{"elsewhere", "POST", "/", "", job(t), 404, 0},
		{"below", "POST", "/v1/sheet/1", "", job(t), 404, 0},
		{"another way up", "GET", "/nothing", "text/html", nil, 404, 0},
		{"a picture wanted", "POST", "/v1/sheet", "image/png", job(t), 406, 0},
		{"a weight of nonsense", "POST", "/v1/sheet", "text/html;q=NaN", job(t), 406, 0},
		{"nothing wanted", "POST", "/v1/sheet", "*/*;q=0", job(t), 406, 0},
		{"nothing", "POST", "/v1/sheet", "", nil, 400, 1},
		{"a POST", "POST", "/healthz", "", nil, 405, 0},
		{"no rules", "POST", "/v1/review", "", []byte(`{}`), 501, 0},
		{"broken JSON", "POST", "/v1/sheet", "", []byte(`{"id": `), 400, 1},
		{"too large", "POST", "/v1/sheet", "", bytes.Repeat([]byte(" "), maxBody+1), 413, 0},
		{"two errors", "POST", "/v1/sheet", "text/html", two, 422, 2},
	} {
		answer := ask(c.method, c.path, c.accept, c.body)
		assert.Equal(t, c.status, answer.StatusCode, c.name)
		assert.Len(t, checkProblem(t, c.name, answer).Errors, c.errors, c.name)
		if c.status == 405 && c.method != "POST" {
			assert.Equal(t, "POST", answer.Header.Get("Allow"))
		}
	}
}

// The extension member holds all that the library has to say, in its order.
func TestEveryJobErrorIsTold(t *testing.T) {
	for name, text := range jobs(t) {
		bad := []byte(strings.NewReplacer(`"version": 1`, `"version": 1, "colour": "red", "colour": 2`, `"revision": 1`, `"revision": "one"`,
			`"kg/m³"`, `"stone"`, `"side": "pressure"`, `"side": "left"`).Replace(string(text)))
		_, err := service.ReadJob(bad)
		var all service.JobErrors
		require.ErrorAs(t, err, &all, name)
		require.GreaterOrEqual(t, len(all), 4, name)
		answer := ask("POST", "/v1/sheet", "", bad)
		assert.Equal(t, 422, answer.StatusCode, name)
		told := checkProblem(t, name, answer).Errors
		require.Len(t, told, len(all), name)
		for i, one := range all {
			assert.Equal(t, wrong{pointer(one.Path), one.Code(), one.Problem, one.Want}, told[i], name)
		}
	}
}

// What isn't said to be plain JSON in UTF-8 is refused before it is read (section 15.5.16; Source: rfc-9110),
// whatever it is.
func TestContentType(t *testing.T) {
	for sent, status := range map[string]int{
		"application/json": 200, "Application/JSON; charset=UTF-8": 200, `application/json; charset="utf-8"`: 200,
		"": 415, "application/x-www-form-urlencoded": 415, "text/plain": 415, "multipart/form-data; boundary=x": 415,
		"application/json; charset=iso-8859-1": 415, "application/jsonp": 415, "json": 415, "application/json; =": 415,
	} {
		r := httptest.NewRequest("POST", "/v1/sheet", bytes.NewReader(job(t)))
		r.Header["Content-Type"] = []string{sent}
		w := httptest.NewRecorder()
		quiet(service.Rules{}).ServeHTTP(w, r)
		assert.Equal(t, status, w.Code, "%q", sent)
		if status == 415 {
			assert.Equal(t, "application/json", w.Result().Header.Get("Accept"))
			checkProblem(t, sent, w.Result())
		}
	}
	for coding, status := range map[string]int{"identity": 200, "gzip": 415, "br": 415} {
		r := httptest.NewRequest("POST", "/v1/sheet", bytes.NewReader(job(t)))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Content-Encoding", coding)
		w := httptest.NewRecorder()
		quiet(service.Rules{}).ServeHTTP(w, r)
		assert.Equal(t, status, w.Code, coding)
	}
}

// Over a connection: a HEAD gets no body; a body that is too large is refused whether it says so
// beforehand or not, and a client that waits to be asked for it never sends it.
func TestOverAConnection(t *testing.T) {
	server := httptest.NewServer(quiet(service.Rules{}).server) // as it is: what keeps answers is in the way of these
	defer server.Close()
	answer, err := http.Head(server.URL + "/v1/sheet")
	require.NoError(t, err)
	body, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, 405, answer.StatusCode)
	assert.Equal(t, "POST", answer.Header.Get("Allow"))
	assert.Empty(t, body)

	client := &http.Client{Transport: &http.Transport{ExpectContinueTimeout: 10 * time.Second}}
	for _, length := range []int64{maxBody + 1, -1} {
		sent := &counter{left: maxBody + 1}
		r, err := http.NewRequest("POST", server.URL+"/v1/sheet", sent)
		require.NoError(t, err)
		r.ContentLength = length
		r.Header.Set("Content-Type", "application/json")
		if length > 0 {
			r.Header.Set("Expect", "100-continue")
		}
		answer, err := client.Do(r)
		require.NoError(t, err)
		assert.Equal(t, 413, answer.StatusCode)
		checkProblem(t, "too large", answer)
		answer.Body.Close()
		if length > 0 {
			assert.Zero(t, sent.read.Load(), "not one byte was sent")
		}
	}
}

// counter is a body of blanks that counts what is read of it.
type counter struct {
	left int
	read atomic.Int64
}

func (c *counter) Read(b []byte) (int, error) {
	if c.left == 0 {
		return 0, io.EOF
	}
	n := min(len(b), c.left)
	for i := range b[:n] {
		b[i] = ' '
	}
	c.left -= n
	c.read.Add(int64(n))
	return n, nil
}

func TestWithoutArgumentsItSaysHow(t *testing.T) {
	var out, problems bytes.Buffer
	assert.Zero(t, run(context.Background(), nil, &out, &problems))
	assert.Contains(t, out.String(), "-listen ADDR")
	assert.Equal(t, 2, run(context.Background(), []string{"-port", "1"}, &out, &problems))
	assert.Equal(t, 1, run(context.Background(), []string{"-listen", "127.0.0.1:99999"}, &out, &problems))
	problems.Reset()
	assert.Equal(t, 2, run(context.Background(), []string{"-rules", "../servicesheet/demo.json"}, &out, &problems))
	assert.Contains(t, problems.String(), "unknown field", "a job is no rules")
	assert.Zero(t, run(context.Background(), []string{"-rules", "../servicesheet/demo-rules.json"}, &out, &problems))
}

// Over loopback, keep-alive, eight clients: go test -run '^$' -bench Loopback ./examples/httpservice
func BenchmarkLoopback(b *testing.B) {
	server := httptest.NewServer(quiet(service.Rules{}))
	defer server.Close()
	text := job(b)
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 8}}
	b.ReportAllocs()
	b.ResetTimer()
	work := make(chan struct{}, b.N)
	for range b.N {
		work <- struct{}{}
	}
	close(work)
	var clients sync.WaitGroup
	for range 8 {
		clients.Add(1)
		go func() {
			defer clients.Done()
			for range work {
				answer, err := client.Post(server.URL+"/v1/sheet", "application/json", bytes.NewReader(text))
				if err != nil {
					b.Error(err)
					return
				}
				if _, err := io.Copy(io.Discard, answer.Body); err != nil || answer.StatusCode != 200 {
					b.Error(answer.Status, err)
				}
				answer.Body.Close()
			}
		}()
	}
	clients.Wait()
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "sheets/s")
}
