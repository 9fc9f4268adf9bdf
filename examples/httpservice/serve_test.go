package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

const asProgram = "HTTPSERVICE_RUN"

// With the variable set the test program is the service.
func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

// running is a service that listens: a process of its own or, where tests have to be short and may run under an
// emulator, part of this one.
type running struct {
	url   string
	pid   int
	stop  func() // as SIGTERM does
	ended func() error
}

func start(t *testing.T) running {
	t.Helper()
	if testing.Short() {
		listener, err := net.Listen("tcp", "127.0.0.1:0")
		require.NoError(t, err)
		ctx, stop := context.WithCancel(context.Background())
		ended := make(chan error, 1)
		go func() { ended <- quiet(service.Rules{}).serve(ctx, listener, time.Second) }()
		return running{"http://" + listener.Addr().String(), 0, stop, func() error { return <-ended }}
	}
	program, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(program, "-listen", "127.0.0.1:0", "-drain", "1s")
	cmd.Env = append(os.Environ(), asProgram+"=1")
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	t.Cleanup(func() { cmd.Process.Kill() })
	return running{"http://" + strings.TrimSpace(strings.TrimPrefix(line, "listening on ")), cmd.Process.Pid,
		func() { cmd.Process.Signal(syscall.SIGTERM) }, cmd.Wait}
}

// largeJob is a lawful job of that many bytes or a little less: forty stations with as many connectors as there may be.
func largeJob(t testing.TB, size int, fill string) []byte {
	t.Helper()
	text, err := os.ReadFile("../../service/testdata/jobs/three-stations.json")
	require.NoError(t, err)
	var job map[string]any
	require.NoError(t, json.Unmarshal(text, &job))
	few := job["stations"].([]any)
	stations := make([]map[string]any, 40)
	write := func() []byte {
		var b bytes.Buffer
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		require.NoError(t, e.Encode(job))
		return b.Bytes()
	}
	for i := range stations {
		one, err := json.Marshal(few[i%len(few)])
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(one, &stations[i]))
		stations[i]["id"] = fmt.Sprint("s", i)
	}
	job["stations"] = stations
	each := (size-len(write()))/40/98 - 3
	for i := range stations {
		var connectors []string
		for k := range 98 {
			connectors = append(connectors, (fmt.Sprint(i, "-", k, " ") + strings.Repeat(fill, 500))[:each])
		}
		stations[i]["connectors"] = connectors
	}
	return write()
}

// post asks until the answer isn't 503, waiting each time as long as Retry-After says; the hash is of the body.
func post(url, accept string, body []byte) (status int, hash [32]byte, err error) {
	for range 100 {
		r, err := http.NewRequest("POST", url, bytes.NewReader(body))
		if err != nil {
			return 0, hash, err
		}
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Accept", accept)
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			return 0, hash, err
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil {
			return 0, hash, err
		}
		if answer.StatusCode != http.StatusServiceUnavailable {
			return answer.StatusCode, sha256.Sum256(text), nil
		}
		seconds, err := strconv.Atoi(answer.Header.Get("Retry-After"))
		if err != nil {
			return 503, hash, err
		}
		time.Sleep(time.Duration(seconds) * time.Second)
	}
	return 503, hash, nil
}

// Sixty lawful jobs of 250 KB at once: each gets its sheet, and the process stays below 300 MB.
func TestSixtyLargeJobsAtOnce(t *testing.T) {
	n, size := 60, 250_000
	if testing.Short() {
		n, size = 4, 50_000
	}
	text, bound := largeJob(t, size, "plug of the sensor "), 300_000_000
	require.InDelta(t, size, len(text), 10_000)
	if os.Getenv("HTTPSERVICE_WORST") != "" {
		n, text, bound = 100, largeJob(t, maxBody-20_000, "<"), 600_000_000
	}
	job, err := service.ReadJob(text)
	require.NoError(t, err)
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	data, err := sheet.English().Sheet(plan, false).JSON()
	require.NoError(t, err)
	page, err := sheet.English().Sheet(plan, false).HTML()
	require.NoError(t, err)
	want := map[string][32]byte{"application/json": sha256.Sum256(data), "text/html": sha256.Sum256(page)}

	s := start(t)
	var clients sync.WaitGroup
	began := time.Now()
	for i := range n {
		clients.Add(1)
		go func() {
			defer clients.Done()
			accept := []string{"application/json", "text/html", "application/json", "application/json"}[i%4]
			status, hash, err := post(s.url+"/v1/sheet", accept, text)
			assert.NoError(t, err)
			assert.Equal(t, 200, status)
			assert.True(t, want[accept] == hash, "the library's own, as %s", accept)
		}()
	}
	clients.Wait()
	t.Logf("%d jobs of %d bytes, sheets of %d and %d bytes: %v", n, len(text), len(data), len(page), time.Since(began))
	if s.pid != 0 && runtime.GOOS == "linux" {
		most := highWater(t, s.pid)
		t.Logf("at most %d MB", most>>20)
		assert.Less(t, most, bound)
	}
	s.stop()
	assert.NoError(t, s.ended())
}

// highWater is the most memory that a process has had, in bytes.
func highWater(t *testing.T, pid int) int {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	require.NoError(t, err)
	_, rest, found := strings.Cut(string(text), "VmHWM:")
	require.True(t, found)
	kB, err := strconv.Atoi(strings.Fields(rest)[0])
	require.NoError(t, err)
	return kB << 10
}

// The largest answer is a sheet as JSON, of a job that is full of what JSON escapes; README.md has the figure.
func TestLargestAnswer(t *testing.T) {
	size, least, most := maxBody-20_000, 30_000_000, 40_000_000
	if testing.Short() { // of a tenth of it then
		size, least, most = size/10, least/10, 5_000_000
	}
	text := largeJob(t, size, "<")
	require.LessOrEqual(t, len(text), maxBody)
	job, err := service.ReadJob(text)
	require.NoError(t, err)
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	data, err := sheet.English().Sheet(plan, true).JSON()
	require.NoError(t, err)
	t.Logf("%d bytes", len(data))
	assert.Less(t, len(data), most)
	assert.Greater(t, len(data), least)
}

// Told to stop with fifty requests under way and ten connections without one yet, it answers all sixty, says at
// /healthz that it is about to stop, and ends well.
func TestStopUnderLoad(t *testing.T) {
	s := start(t)
	text := job(t)
	head := fmt.Sprintf("POST /v1/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n", len(text))
	message := append([]byte(head), text...)
	answers := make([]*http.Response, 60)
	conns := make([]net.Conn, len(answers))
	for i := range conns {
		conn, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
		require.NoError(t, err)
		defer conn.Close()
		if i < 50 {
			_, err = conn.Write(message[:len(message)/2])
			require.NoError(t, err)
		}
		conns[i] = conn
	}
	assert.Equal(t, 200, healthy(t, s.url))
	s.stop()
	assert.Eventually(t, func() bool { return healthy(t, s.url) == 503 }, 5*time.Second, time.Millisecond)
	var clients sync.WaitGroup
	for i, conn := range conns {
		clients.Add(1)
		go func() {
			defer clients.Done()
			rest := message
			if i < 50 {
				rest = message[len(message)/2:]
			}
			_, err := conn.Write(rest)
			assert.NoError(t, err)
			answers[i], err = http.ReadResponse(bufio.NewReader(conn), nil)
			if assert.NoError(t, err) {
				_, err = io.Copy(io.Discard, answers[i].Body)
				assert.NoError(t, err)
			}
		}()
	}
	clients.Wait()
	for i, answer := range answers {
		if assert.NotNil(t, answer, "%d is lost", i) {
			assert.Equal(t, 200, answer.StatusCode)
			assert.True(t, answer.Close, "the connection ends with it")
		}
	}
	assert.NoError(t, s.ended())
	_, err := net.DialTimeout("tcp", strings.TrimPrefix(s.url, "http://"), time.Second)
	assert.Error(t, err, "nothing new is taken")
}

func healthy(t *testing.T, url string) int {
	answer, err := http.Get(url + "/healthz")
	if !assert.NoError(t, err) {
		return 0
	}
	answer.Body.Close()
	return answer.StatusCode
}

// raw sends a request over a connection of its own.
func raw(t *testing.T, s *httptest.Server, request string) net.Conn {
	t.Helper()
	conn, err := net.Dial("tcp", s.Listener.Addr().String())
	require.NoError(t, err)
	t.Cleanup(func() { conn.Close() })
	_, err = io.WriteString(conn, request)
	require.NoError(t, err)
	return conn
}

// What comes too slowly is told so (section 15.5.9; Source: rfc-9110), and its place is free again.
func TestSlowBody(t *testing.T) {
	s := quiet(service.Rules{})
	s.bodyTime = 100 * time.Millisecond
	server := httptest.NewServer(s)
	defer server.Close()
	conn := raw(t, server, "POST /v1/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{")
	answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
	require.NoError(t, err)
	assert.Equal(t, 408, answer.StatusCode)
	assert.True(t, answer.Close)
	checkProblem(t, "slow", answer)
	assert.Eventually(t, func() bool { return len(s.inFlight) == 0 }, 5*time.Second, time.Millisecond)

	// The next request on a connection has its own time, and so has a long wait after a body that has come.
	client := server.Client()
	for range 2 {
		answer, err := client.Post(server.URL+"/v1/plan", "application/json", bytes.NewReader(job(t)))
		require.NoError(t, err)
		_, err = io.Copy(io.Discard, answer.Body)
		require.NoError(t, err)
		answer.Body.Close()
		assert.Equal(t, 200, answer.StatusCode)
		time.Sleep(2 * s.bodyTime)
	}
	s.unsent <- struct{}{}
	fill(s.work)
	go func() {
		time.Sleep(3 * s.bodyTime)
		empty(s.work)
	}()
	answer, err = client.Post(server.URL+"/v1/plan", "application/json", bytes.NewReader(job(t)))
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, 200, answer.StatusCode)
}

func fill(p places) {
	for range cap(p) {
		p <- struct{}{}
	}
}

func empty(p places) {
	for range cap(p) {
		<-p
	}
}

// A client that reads nothing loses its answer after a time, and others get its place.
func TestSlowReader(t *testing.T) {
	s := quiet(service.Rules{})
	s.writeTime = 100 * time.Millisecond
	server := httptest.NewServer(s)
	defer server.Close()
	text := largeJob(t, 250_000, "<") // 9.5 MB as a sheet
	conn := raw(t, server, fmt.Sprintf("POST /v1/sheet HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", len(text), text))
	assert.Eventually(t, func() bool { return len(s.unsent) == 1 }, 20*time.Second, time.Millisecond)
	assert.Eventually(t, func() bool { return len(s.unsent) == 0 && len(s.inFlight) == 0 }, 60*time.Second, time.Millisecond)
	n, err := io.Copy(io.Discard, conn)
	t.Logf("%d bytes came; %v", n, err)
	assert.Less(t, n, int64(9_000_000), "it is cut")
}

// What can't be taken in now is sent away at once, what doesn't get its turn after a time; both hear when to come back.
func TestBusy(t *testing.T) {
	s := quiet(service.Rules{})
	s.wait = 50 * time.Millisecond
	server := httptest.NewServer(s)
	defer server.Close()
	for name, p := range map[string]places{"in flight": s.inFlight, "unsent": s.unsent, "work": s.work} {
		fill(p)
		answer, err := http.Post(server.URL+"/v1/plan", "application/json", bytes.NewReader(job(t)))
		require.NoError(t, err, name)
		assert.Equal(t, 503, answer.StatusCode, name)
		assert.Regexp(t, `^[123]$`, answer.Header.Get("Retry-After"), name)
		checkProblem(t, name, answer)
		answer.Body.Close()
		assert.Equal(t, 200, healthy(t, server.URL), "whoever asks for its health isn't kept waiting")
		empty(p)
		answer, err = http.Post(server.URL+"/v1/plan", "application/json", bytes.NewReader(job(t)))
		require.NoError(t, err, name)
		answer.Body.Close()
		assert.Equal(t, 200, answer.StatusCode, name)
	}
}

// A client that goes while it waits is waited for no longer.
func TestClientGoneWhileItWaits(t *testing.T) {
	var log lines
	s := newServer(service.Rules{}, slog.New(slog.NewJSONHandler(&log, nil)))
	server := httptest.NewServer(s)
	defer server.Close()
	fill(s.work)
	text := job(t)
	conn := raw(t, server, fmt.Sprintf("POST /v1/sheet HTTP/1.1\r\nHost: x\r\nX-Request-Id: leaves\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", len(text), text))
	assert.Eventually(t, func() bool { return len(s.unsent) == 1 }, 10*time.Second, time.Millisecond)
	conn.Close()
	assert.Eventually(t, func() bool { return len(s.unsent) == 0 && len(s.inFlight) == 0 }, 10*time.Second, time.Millisecond)
	assert.Eventually(t, func() bool { return strings.Contains(log.text(), `"leaves"`) }, 10*time.Second, time.Millisecond)
	assert.Regexp(t, `"id":"leaves","method":"POST","path":"/v1/sheet","status":0,"bytes":0,"ms":[0-9]+,"gone":true`, log.text())
}

// lines is a log that goroutines share.
type lines struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lines) Write(text []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(text)
}

func (l *lines) text() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// leaving is the context of a client that goes after it was asked for a number of times.
type leaving struct {
	context.Context
	left int
}

func (l *leaving) Err() error {
	if l.left--; l.left < 0 {
		return context.Canceled
	}
	return nil
}

// Work ends after the step in which its client went.
func TestClientGoneAtWork(t *testing.T) {
	rules, err := readRules("../servicesheet/demo-rules.json")
	require.NoError(t, err)
	s := quiet(rules)
	for name, c := range map[string]struct {
		work  func(context.Context, *http.Request, []byte) (answer, error)
		body  []byte
		steps int
	}{"plan": {s.plan, job(t), 2}, "sheet": {s.sheet, job(t), 3}, "review": {s.review, reviewBody(t), 2}} {
		for steps := range c.steps + 1 {
			a, err := c.work(&leaving{context.Background(), steps}, httptest.NewRequest("POST", "/", nil), c.body)
			if steps == c.steps {
				assert.NoError(t, err, name)
				continue
			}
			assert.ErrorIs(t, err, context.Canceled, "%s after %d", name, steps)
			assert.Empty(t, a.body, name)
		}
	}
}
