package main

import (
	"bufio"
	"bytes"
	"flag"
	"io"
	"os"
	"strings"
	"testing"

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
	assert.Contains(t, out, `"complete":true,"asPlanned":false,"departures":["keyCycles: fail: `)
	assert.NotContains(t, out, `"open"`)
}

func TestRecordsAreRecords(t *testing.T) {
	code, out, problems := call(string(demoReadings), append(given, "-records")...)
	require.Zero(t, code, problems)
	records := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	require.Len(t, records, 3)
	for i, text := range records {
		record, err := service.ReadRecord([]byte(text))
		require.NoError(t, err)
		assert.Equal(t, i == 0, record.Complete)
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
		code, out, _ := call(c.line+"\n\n"+good, given...)
		assert.Equal(t, 1, code, c.name)
		answers := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		require.Len(t, answers, 2, c.name)
		assert.Contains(t, answers[0], `{"line":1,"problem":`, c.name)
		assert.Contains(t, answers[0], c.want, c.name)
		assert.Less(t, len(answers[0]), 1000, c.name)
		assert.Contains(t, answers[1], `{"line":3,"job":"DEMO-1","revision":1,"complete":true,`, c.name)
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
	assert.Contains(t, problems.String(), "standard output")
}

type torn struct{}

func (torn) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestInputThatBreaksOff(t *testing.T) {
	var out bytes.Buffer
	assert.Equal(t, 1, run(given, torn{}, &out, io.Discard, false))
	assert.Contains(t, out.String(), "unexpected EOF")
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
