package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
)

var update = flag.Bool("update", false, "write testdata/demo.ndjson anew, to be read before it is kept")

var given = []string{"-rules", "demo-rules.json", "-job", "demo.json"}

func call(in string, args ...string) (code int, out, problems string) {
	var o, p bytes.Buffer
	code = run(args, strings.NewReader(in), &o, &p, false)
	return code, o.String(), p.String()
}

// The verdicts of the demonstration, as they were last read by a person.
func TestDemonstration(t *testing.T) {
	code, out, problems := call("")
	require.Zero(t, code, problems)
	assert.Empty(t, problems, "no progress where nobody watches")
	if *update {
		require.NoError(t, os.WriteFile("testdata/demo.ndjson", []byte(out), 0o644))
	}
	want, err := os.ReadFile("testdata/demo.ndjson")
	require.NoError(t, err)
	assert.Equal(t, string(want), out)

	code, out, problems = call(string(demoReadings), given...)
	require.Zero(t, code, problems)
	assert.Equal(t, string(want), out, "the same from files")
	code, out, problems = call(string(demoReadings), given[2], given[3], given[0], given[1])
	require.Zero(t, code, problems)
	assert.Equal(t, string(want), out, "the same with the job named before the rules")
}

// Every line that isn't a pass is listed, also where the job is complete.
func TestDeparturesAreListed(t *testing.T) {
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	_, out, _ := call(strings.Replace(good, `"keyCycles": 3`, `"keyCycles": 9`, 1), given...)
	assert.Contains(t, out, `"complete":true,"asPlanned":false,"departures":[{"where":"keyCycles",`)
	assert.NotContains(t, out, `"open"`)
}

// A record is in its answer as it may be kept, with the hash that the answer always has.
func TestRecordsAreRecords(t *testing.T) {
	code, out, problems := call(string(demoReadings), append(given, "-records")...)
	require.Zero(t, code, problems)
	_, without, _ := call(string(demoReadings), given...)
	short := strings.Split(without, "\n")
	answers := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	require.Len(t, answers, 3)
	for i, text := range answers {
		var answer, same verdict
		require.NoError(t, json.Unmarshal([]byte(text), &answer))
		require.NoError(t, json.Unmarshal([]byte(short[i]), &same))
		record, err := service.ReadRecord(answer.Record)
		require.NoError(t, err)
		assert.Equal(t, i == 0, record.Complete)
		assert.Equal(t, record.SHA256, same.Hash)
		assert.Equal(t, i+1, answer.Line)
	}
}

// A line that can't be judged is answered, and the next one is judged.
func TestBadLines(t *testing.T) {
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	for _, c := range []struct{ name, line, want string }{
		{"another job", strings.Replace(good, "DEMO-1", "DEMO-2", 1), "was not given"},
		{"another job, and which there are", strings.Replace(good, `"revision": 1`, `"revision": 2`, 1), `job \"DEMO-1\", revision 2 was not given; want one of \"DEMO-1\", revision 1"`},
		{"broken", `{"version"`, "JSON"},
		{"spread over lines", "{", "one whole record a line"},
		{"no unit", strings.Replace(good, "21 N·m", "21", 1), "stations[0].torque.value"},
		{"two errors", strings.NewReplacer("21 N·m", "21", `"keyCycles": 3`, `"keyCycles": -3`).Replace(good), "keyCycles"},
		{"much too long", strings.Repeat("x", 3*longest), "more than 1048576 bytes"},
		{"a hair too long", strings.Repeat("x", longest), "more than 1048576 bytes"},
	} {
		code, out, refused := call(c.line+"\n\n"+good, given...)
		assert.Equal(t, 1, code, c.name)
		assert.Equal(t, 1, strings.Count(refused, "\n"), c.name)
		assert.Contains(t, refused, `{"line":1,"problem":`, c.name)
		assert.Contains(t, refused, c.want, c.name)
		assert.Less(t, len(refused), 1000, c.name)
		assert.Equal(t, 1, strings.Count(out, "\n"), c.name)
		assert.Contains(t, out, `{"line":3,"job":"DEMO-1","revision":1,"complete":true,`, c.name)
	}
	code, out, _ := call("", given...)
	assert.Zero(t, code)
	assert.Empty(t, out, "nothing in, nothing out")
}

// The answer to a line comes before the next line is there.
func TestStreaming(t *testing.T) {
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	in, feed := io.Pipe()
	answers, out := io.Pipe()
	ended := make(chan int)
	go func() {
		code := run(given, in, out, io.Discard, false)
		out.Close()
		ended <- code
	}()
	lines := bufio.NewScanner(answers)
	for range 3 {
		_, err := io.WriteString(feed, good+"\n")
		require.NoError(t, err)
		require.True(t, lines.Scan())
		assert.Contains(t, lines.Text(), `"complete":true`)
	}
	feed.Close()
	assert.Zero(t, <-ended)
}

func TestProgressOnATerminal(t *testing.T) {
	var out, problems bytes.Buffer
	require.Zero(t, run(nil, nil, &out, &problems, true))
	assert.Contains(t, problems.String(), "\r3 lines, 0 not judged\n")
	assert.NotContains(t, out.String(), "\r")
}

// The help says that a record is a line.
func TestHelp(t *testing.T) {
	code, _, problems := call("", "-h")
	assert.Zero(t, code)
	assert.Contains(t, problems, "one whole record a line")
}

// A message names no more jobs than can be read.
func TestManyJobsAreCounted(t *testing.T) {
	b := batch{jobs: make([]service.Job, 12)}
	assert.Equal(t, 9, strings.Count(b.given(), "; ")-1)
	assert.Contains(t, b.given(), "; 2 others")
}

func TestCalledWrongly(t *testing.T) {
	for name, args := range map[string][]string{
		"unknown flag":      {"-colour"},
		"no rules":          {"-job", "demo.json"},
		"no job":            {"-rules", "demo-rules.json"},
		"an argument":       {"demo.ndjson"},
		"no such file":      {"-job", "none.json"},
		"a job that isn't":  {"-job", "demo-rules.json"},
		"rules that aren't": {"-rules", "demo.json"},
	} {
		code, out, problems := call("", args...)
		assert.Equal(t, 2, code, name)
		assert.Empty(t, out, name)
		assert.NotEmpty(t, problems, name)
	}
	code, _, problems := call("", "-h")
	assert.Zero(t, code)
	assert.Contains(t, problems, "-records")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, os.ErrClosed }

func TestFullDisk(t *testing.T) {
	var problems bytes.Buffer
	assert.Equal(t, 1, run(nil, nil, full{}, &problems, false))
	assert.Contains(t, problems.String(), "can't be written")
}

type torn struct{}

func (torn) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestInputThatBreaksOff(t *testing.T) {
	var refused bytes.Buffer
	assert.Equal(t, 1, run(given, torn{}, io.Discard, &refused, false))
	assert.Contains(t, refused.String(), "unexpected EOF")
}

func TestEachJobAndTheRulesOnce(t *testing.T) {
	code, out, problems := call("", append(given, "-job", "demo.json")...)
	assert.Equal(t, 2, code)
	assert.Empty(t, out)
	assert.Contains(t, problems, "was given before")
	code, _, problems = call("", append(given, "-rules", "demo-rules.json")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, problems, "rules were given before")
	code, out, problems = call(string(demoReadings), append(given, "-")...)
	assert.Zero(t, code, problems)
	assert.NotEmpty(t, out)
	code, _, _ = call("", append(given, "readings.ndjson")...)
	assert.Equal(t, 2, code)
}

// However long a file was when the process was killed, the rest comes out as if it had never stopped: no line
// twice, none missing, in either stream.
func TestResumes(t *testing.T) {
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	in := strings.Repeat(good+"\n{\n\n", 8)
	dir := t.TempDir()
	out, refused := filepath.Join(dir, "out"), filepath.Join(dir, "refused")
	args := append(given, "-out", out, "-refused", refused)
	require.Equal(t, 1, run(args, strings.NewReader(in), io.Discard, io.Discard, false))
	whole, err := os.ReadFile(out)
	require.NoError(t, err)
	bad, err := os.ReadFile(refused)
	require.NoError(t, err)
	require.Equal(t, 8, bytes.Count(whole, []byte("\n")))
	require.Equal(t, 8, bytes.Count(bad, []byte("\n")))
	// Answers are written one by one, by turns: what a kill leaves is so many bytes of the one and the other.
	left, leftBad := whole, bad
	for len(left) > 0 || len(leftBad) > 0 {
		last := &left
		if len(leftBad) > 0 && bytes.Count(left, []byte("\n")) == bytes.Count(leftBad, []byte("\n")) {
			last = &leftBad
		}
		*last = (*last)[:max(0, len(*last)-97)]
		if bytes.Count(left, []byte("\n")) < bytes.Count(leftBad, []byte("\n")) {
			continue // no kill leaves this: the refusal is written after the answer before it
		}
		require.NoError(t, os.WriteFile(out, left, 0o600))
		require.NoError(t, os.WriteFile(refused, leftBad, 0o600))
		run(args, strings.NewReader(in), io.Discard, io.Discard, false)
		again, err := os.ReadFile(out)
		require.NoError(t, err)
		require.Equal(t, string(whole), string(again), len(left))
		again, err = os.ReadFile(refused)
		require.NoError(t, err)
		require.Equal(t, string(bad), string(again), len(leftBad))
	}
	require.NoError(t, os.WriteFile(out, []byte("a letter\n"), 0o600))
	var problems bytes.Buffer
	assert.Equal(t, 2, run(args, strings.NewReader(in), io.Discard, &problems, false))
	assert.Contains(t, problems.String(), "no answers of this program")
	kept, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.Equal(t, "a letter\n", string(kept), "what isn't ours stays as it is")
}

// The test's own binary is the program where the environment says so, for a process that can be killed.
func TestMain(m *testing.M) {
	if os.Getenv("REVIEWBATCH_TEST") != "" {
		main()
	}
	os.Exit(m.Run())
}

// A process that was killed leaves files that the next one goes on with, until all is there as if none had been.
func TestKilled(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no SIGKILL there")
	}
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	in := strings.Repeat(good+"\n{\n", 150)
	_, want, wantRefused := call(in, given...)
	dir := t.TempDir()
	out, refused := filepath.Join(dir, "out"), filepath.Join(dir, "refused")
	length := func() int64 {
		info, err := os.Stat(out)
		if err != nil {
			return 0
		}
		return info.Size()
	}
	kills := 0
	for ended := false; !ended; {
		program := exec.Command(os.Args[0], append(given, "-out", out, "-refused", refused)...)
		program.Env = append(os.Environ(), "REVIEWBATCH_TEST=1")
		program.Stdin = strings.NewReader(in)
		before := length()
		err := program.Start()
		if errors.Is(err, syscall.ENOEXEC) {
			return // an emulator runs the test, and the system can't run it without; TestResumes cuts off what a kill would
		}
		require.NoError(t, err)
		done := make(chan error, 1)
		go func() { done <- program.Wait() }()
		for running := true; running; {
			select {
			case <-done:
				running, ended = false, true
			case <-time.After(time.Millisecond):
				if kills < 5 && length() > before+int64(len(want)/8) {
					require.NoError(t, program.Process.Kill())
					<-done
					running = false
					kills++
				}
			}
		}
	}
	assert.Equal(t, 5, kills)
	got, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.True(t, want == string(got), "%d bytes, want %d", len(got), len(want))
	got, err = os.ReadFile(refused)
	require.NoError(t, err)
	assert.True(t, wantRefused == string(got), "%d bytes of refusals, want %d", len(got), len(wantRefused))
}

// Answers come in the order of the lines, however many work at them.
func TestOrderIsKept(t *testing.T) {
	good, bad, _ := strings.Cut(string(demoReadings), "\n")
	bad, _, _ = strings.Cut(bad, "\n")
	in := strings.Repeat(good+"\n"+bad+"\n", 50)
	_, want, _ := call(in, append(given, "-workers", "1")...)
	require.Equal(t, 100, strings.Count(want, "\n"))
	for _, workers := range []string{"2", "7"} {
		_, out, _ := call(in, append(given, "-workers", workers)...)
		assert.Equal(t, want, out)
	}
	code, _, _ := call(in, append(given, "-workers", "0")...)
	assert.Equal(t, 2, code)
}

// A file of jobs has one a line; each is found by its number.
func TestJobsOneALine(t *testing.T) {
	var compact bytes.Buffer
	require.NoError(t, json.Compact(&compact, demoJob))
	other := strings.Replace(compact.String(), `"DEMO-1"`, `"DEMO-2"`, 1)
	file := filepath.Join(t.TempDir(), "jobs.ndjson")
	require.NoError(t, os.WriteFile(file, []byte(other+"\n\n"+compact.String()+"\n"), 0o600))
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	code, out, problems := call(good+"\n"+strings.Replace(good, "DEMO-1", "DEMO-2", 1), given[0], given[1], "-job", file)
	require.Zero(t, code, problems)
	assert.Equal(t, 2, strings.Count(out, `"complete":true`))
	require.NoError(t, os.WriteFile(file, []byte(other+"\n{}\n"), 0o600))
	code, _, problems = call("", given[0], given[1], "-job", file)
	assert.Equal(t, 2, code)
	assert.Contains(t, problems, "line 2: ")
}

// A million lines need no more memory than a few: what is under way is bounded by the workers.
func TestMemoryIsBounded(t *testing.T) {
	b := batch{rules: service.Rules{}, plans: map[string]*service.Plan{}}
	var read atomic.Int64
	source := func(yield func(int, line) bool) {
		for number := range 100_000 {
			read.Store(int64(number) + 1)
			if !yield(number+1, line{text: []byte("{}")}) {
				return
			}
		}
	}
	seen := 0
	for t1 := range b.answers(source, 3) {
		seen++
		require.Equal(t, seen, t1.number)
		require.LessOrEqual(t, len(t1.answer), 2000)
		if seen == 1000 {
			break
		}
	}
	assert.LessOrEqual(t, read.Load(), int64(1000+2*3+3+1))
}

// The rate on so many workers: go test ./examples/reviewbatch -run XXX -bench Lines -cpu 1,2
func BenchmarkLines(b *testing.B) {
	batch := batch{}
	require.NoError(b, batch.addJob(demoJob))
	require.NoError(b, batch.setRules(bytes.NewReader(demoRules)))
	require.NoError(b, batch.plan())
	good, _, _ := strings.Cut(string(demoReadings), "\n")
	in := strings.Repeat(good+"\n", 200)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n += 200
		if batch.judgeAll(strings.NewReader(in), io.Discard, io.Discard, io.Discard, 0, runtime.GOMAXPROCS(0), false) != 0 {
			b.Fatal("not judged")
		}
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "lines/s")
}
