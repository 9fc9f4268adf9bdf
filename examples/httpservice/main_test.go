package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
)

func job(t testing.TB) []byte {
	t.Helper()
	text, err := os.ReadFile("../servicesheet/demo.json")
	require.NoError(t, err)
	return text
}

func ask(method, path, accept string, body []byte) *http.Response {
	r := httptest.NewRequest(method, path, bytes.NewReader(body))
	if accept != "" {
		r.Header.Set("Accept", accept)
	}
	w := httptest.NewRecorder()
	handler().ServeHTTP(w, r)
	return w.Result()
}

// The answers are the library's own sheets, byte for byte. Weights: RFC 9110, section 12.5.1.
func TestSheetByAccept(t *testing.T) {
	read, err := service.ReadJob(job(t))
	require.NoError(t, err)
	plan, err := service.NewPlan(read)
	require.NoError(t, err)
	page, err := plan.Sheet().HTML()
	require.NoError(t, err)
	data, err := plan.Sheet().JSON()
	require.NoError(t, err)
	for accept, want := range map[string]string{
		"": string(data), "*/*": string(data), "application/json": string(data), "application/*": string(data),
		"text/html": string(page), "text/*": string(page), "text/plain": plan.Text(),
		"text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8": string(page), // as browsers ask
		"application/json;q=0.2, text/html;q=0.8":                         string(page),
		"*/*;q=1, application/json;q=0":                                   string(page),
		"text/html;q=0.5, text/plain;q=0.5, application/json;q=0.4":       string(page),
		"TEXT/PLAIN": plan.Text(),
	} {
		answer := ask("POST", "/sheet", accept, job(t))
		body, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		assert.Equal(t, 200, answer.StatusCode, accept)
		assert.Equal(t, want, string(body), accept)
		assert.Equal(t, service.SheetPolicy(), answer.Header.Get("Content-Security-Policy"))
		assert.Equal(t, "nosniff", answer.Header.Get("X-Content-Type-Options"))
		assert.Equal(t, "Accept", answer.Header.Get("Vary"))
	}
}

// Jobs of every shape the library's own tests have go through the service too.
func TestJobsOfEveryShape(t *testing.T) {
	names, err := filepath.Glob("../../service/testdata/jobs/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(names), 4)
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		read, err := service.ReadJob(text)
		require.NoError(t, err, name)
		for accept, says := range map[string]string{"application/json": `"job": "` + read.ID + `"`, "text/plain": read.ID, "text/html": read.ID} {
			answer := ask("POST", "/sheet", accept, text)
			body, err := io.ReadAll(answer.Body)
			require.NoError(t, err)
			assert.Equal(t, 200, answer.StatusCode, "%s as %s", name, accept)
			assert.Contains(t, string(body), says, "%s as %s", name, accept)
		}
	}
}

// Problem details: RFC 9457, section 3; statuses: RFC 9110, section 15.
func TestProblems(t *testing.T) {
	two := []byte(strings.NewReplacer(`"8 L"`, `"2 gal"`, `"843.2 kg/m³"`, `"84 kg/m³"`).Replace(string(job(t))))
	for _, c := range []struct {
		name, method, path, accept string
		body                       []byte
		status, errors             int
	}{
		{"a GET", "GET", "/sheet", "", nil, 405, 0},
		{"elsewhere", "POST", "/", "", job(t), 404, 0},
		{"a picture wanted", "POST", "/sheet", "image/png", job(t), 406, 0},
		{"a weight of nonsense", "POST", "/sheet", "text/html;q=NaN", job(t), 406, 0},
		{"nothing", "POST", "/sheet", "", nil, 400, 1},
		{"broken JSON", "POST", "/sheet", "", []byte(`{"id": `), 400, 1},
		{"too large", "POST", "/sheet", "", bytes.Repeat([]byte(" "), maxBody+1), 413, 0},
		{"two errors", "POST", "/sheet", "text/html", two, 422, 2},
	} {
		answer := ask(c.method, c.path, c.accept, c.body)
		assert.Equal(t, c.status, answer.StatusCode, c.name)
		assert.Equal(t, "application/problem+json", answer.Header.Get("Content-Type"), c.name)
		var p problem
		require.NoError(t, json.NewDecoder(answer.Body).Decode(&p), c.name)
		assert.Equal(t, c.status, p.Status, c.name)
		assert.Equal(t, http.StatusText(c.status), p.Title, c.name)
		assert.NotEmpty(t, p.Detail, c.name)
		assert.Len(t, p.Errors, c.errors, c.name)
		if c.status == 405 {
			assert.Equal(t, "POST", answer.Header.Get("Allow"))
		}
	}
}

func TestWithoutArgumentsItSaysHow(t *testing.T) {
	var out, problems bytes.Buffer
	assert.Zero(t, run(context.Background(), nil, &out, &problems))
	assert.Contains(t, out.String(), "-listen ADDR")
	assert.Equal(t, 2, run(context.Background(), []string{"-port", "1"}, &out, &problems))
	assert.Equal(t, 1, run(context.Background(), []string{"-listen", "127.0.0.1:99999"}, &out, &problems))
}

// Asked to end while a body is still coming in, it waits for the answer and takes nothing new.
func TestGracefulStop(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serve(ctx, listener) }()

	body, feed := io.Pipe()
	status := make(chan int, 1)
	go func() {
		answer, err := http.Post("http://"+listener.Addr().String()+"/sheet", "application/json", body)
		if err != nil {
			status <- 0
			return
		}
		answer.Body.Close()
		status <- answer.StatusCode
	}()
	text := job(t)
	feed.Write(text[:100])
	time.Sleep(100 * time.Millisecond) // for the request to be under way
	stop()
	time.Sleep(100 * time.Millisecond)
	_, err = net.DialTimeout("tcp", listener.Addr().String(), time.Second)
	assert.Error(t, err, "nothing new is taken")
	feed.Write(text[100:])
	feed.Close()
	assert.Equal(t, 200, <-status, "what was under way is answered")
	assert.NoError(t, <-ended)
}

// Over loopback, keep-alive, eight clients: go test -run '^$' -bench Loopback ./examples/httpservice
func BenchmarkLoopback(b *testing.B) {
	server := httptest.NewServer(handler())
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
				answer, err := client.Post(server.URL+"/sheet", "application/json", bytes.NewReader(text))
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
