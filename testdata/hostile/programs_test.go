package hostile

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// built is the program of an example.
func built(t *testing.T, name string) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), name)
	build := exec.Command("go", "build", "-o", program, "./examples/"+name)
	build.Dir = filepath.Join("..", "..")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return program
}

// A program that is started by a large process counts that one's memory as its own, by what Linux says. So this one
// starts itself once more, small, to start it.
func TestMain(m *testing.M) {
	if os.Getenv("HOSTILE_LAUNCH") == "" {
		debug.SetMemoryLimit(1 << 30) // what was measured is garbage
		os.Exit(m.Run())
	}
	c := exec.Command(os.Args[1], os.Args[2:]...)
	c.Stdin, c.Stderr = os.Stdin, os.Stderr
	c.Run()
	if c.ProcessState == nil {
		os.Exit(3)
	}
	used, _ := c.ProcessState.SysUsage().(*syscall.Rusage)
	fmt.Println(c.ProcessState.ExitCode(), int64(c.ProcessState.UserTime()+c.ProcessState.SystemTime()), used.Maxrss)
}

// fed gives a program a text on its standard input. What it takes is its processor time and the most memory it had.
func fed(t *testing.T, text []byte, program string, args ...string) taken {
	t.Helper()
	c := exec.Command(os.Args[0], append([]string{program}, args...)...)
	c.Dir, c.Stdin, c.Env = filepath.Join("..", ".."), bytes.NewReader(text), append(os.Environ(), "HOSTILE_LAUNCH=1")
	var out, problems bytes.Buffer
	c.Stdout, c.Stderr = &out, &problems
	if err := c.Run(); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(problems.String(), "panic:") || strings.Contains(problems.String(), "goroutine ") {
		t.Errorf("%s panics:\n%.2000s", filepath.Base(program), &problems)
	}
	var code int
	var spent time.Duration
	v := taken{bytes: len(text), outcome: "refused"}
	if _, err := fmt.Fscan(&out, &code, &spent, &v.memory); err != nil {
		t.Fatal(err)
	}
	if v.time, v.memory = spent, v.memory<<10; code == 0 || code == 1 && filepath.Base(program) == "reviewbatch" { // which answers each line
		v.outcome = "read"
	}
	return v
}

// posted gives the HTTP example a body.
func posted(t *testing.T, text []byte, url string, pid int) taken {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, url, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	return asked(t, r, len(text), pid)
}

// once follows no answer elsewhere.
var once = &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

// asked sends a request of so many bytes to a program; the memory is the most that its process ever had, so that sizes go up.
// Where it has heard enough of one that is larger than it reads, it may hang up.
func asked(t *testing.T, r *http.Request, size, pid int) taken {
	t.Helper()
	start := time.Now()
	v := taken{bytes: size, outcome: "refused"}
	answer, err := once.Do(r)
	if err == nil {
		_, err = io.Copy(io.Discard, answer.Body)
		answer.Body.Close()
		if answer.StatusCode == http.StatusOK || answer.StatusCode == http.StatusSeeOther {
			v.outcome = "read"
		}
		if answer.StatusCode >= 500 {
			t.Errorf("%.80s: status %d", r.URL, answer.StatusCode)
		}
	}
	if v.time = time.Since(start); err != nil && size < 16<<10 {
		t.Errorf("%.80s: %v", r.URL, err)
	}
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(status), "VmHWM:")
	kib, err := strconv.ParseUint(strings.Fields(rest)[0], 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	v.memory = kib << 10
	return v
}

// served starts an example that listens, and says where in its first line.
func served(t *testing.T, program string, args ...string) (url string, pid int) {
	t.Helper()
	c := exec.Command(program, append([]string{"-listen", "127.0.0.1:0"}, args...)...)
	c.Env = append(os.Environ(), "TMPDIR="+t.TempDir())
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := c.Process.Signal(syscall.SIGTERM); err != nil {
			t.Error(err)
		}
		if err := c.Wait(); err != nil {
			t.Error(err)
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return "http://" + regexp.MustCompile(`127\.0\.0\.1:[0-9]+`).FindString(line), c.Process.Pid
}

// listed gives shopfloor the folder of a shop with the jobs, a line each, and what was put down for the first of them, each entry
// a line.
func listed(t *testing.T, program string, jobs, entries []byte) taken {
	t.Helper()
	folder, err := os.MkdirTemp("", "hostile")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(folder) // thousands of files
	put := func(name string, text []byte) {
		name = filepath.Join(folder, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o750), os.WriteFile(name, text, 0o640)); err != nil {
			t.Fatal(err)
		}
	}
	put("rules.json", file("examples/shopfloor/demo/rules.json"))
	i := 0
	for line := range bytes.Lines(jobs) {
		put(fmt.Sprintf("jobs/%06d.json", i), line)
		i++
	}
	i = 0
	first := sha256.Sum256([]byte("J0"))
	for line := range bytes.Lines(entries) {
		i++
		put(fmt.Sprintf("entries/%x/%06d.json", first[:16], i), line)
	}
	return fed(t, nil, program, "-list", folder)
}

// floor is the example that keeps a shop's jobs: forms and addresses for the running program, folders for its list.
func floor(t *testing.T) (all []measured) {
	program := built(t, "shopfloor")
	url, pid := served(t, program)
	send := func(method, path string, body []byte, size int) taken {
		r, err := http.NewRequest(method, url+path, bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		r.Header = http.Header{"Content-Type": {"application/x-www-form-urlencoded"}, "Origin": {url}, "Cookie": {"by=Ann"}}
		return asked(t, r, size, pid)
	}
	job := fmt.Sprintf("/job/%x", sha256.Sum256([]byte("COLD-0417")))[:21]
	for _, path := range []string{job + "/answer", job + "/undo", "/who"} {
		name := "shopfloor, " + strings.TrimPrefix(path, job)
		all = append(all, measured{name, forms, func(text []byte) taken { return send(http.MethodPost, path, text, len(text)) }})
	}
	return append(all,
		measured{"shopfloor, /address", addresses, func(text []byte) taken { return send(http.MethodGet, string(text), nil, len(text)) }},
		measured{"shopfloor -list", floorJobs(), func(text []byte) taken {
			v := listed(t, program, text, nil)
			v.bytes = len(text)
			return v
		}},
		measured{"shopfloor -list of one job", entries, func(text []byte) taken {
			v := listed(t, program, []byte(floorJob(0)), text)
			v.bytes = len(text)
			return v
		}},
	)
}

// programs are the examples that read what others send, as processes.
func programs(t *testing.T) (all []measured) {
	sheet, batch, month := built(t, "servicesheet"), built(t, "reviewbatch"), built(t, "wastemonth")
	pick := func(list []input, names ...string) (some []input) {
		for _, in := range list {
			for _, name := range names {
				if in.name == name {
					some = append(some, in)
				}
			}
		}
		if len(some) != len(names) {
			t.Fatalf("not all of %q", names)
		}
		return some
	}
	some := pick(documents, "nested lists", "commas", "empty stations", "one key, again and again", "a long text", "invalid UTF-8 in JSON")
	rules, job := "examples/servicesheet/demo-rules.json", "examples/reviewbatch/demo.json"
	url, pid := served(t, built(t, "httpservice"), "-drain", "0s", "-rules", filepath.Join("..", "..", "service", "testdata", "rules.json"))
	for _, path := range []string{"plan", "sheet", "review", "record/verify"} {
		all = append(all, measured{"httpservice, /v1/" + path, some, func(text []byte) taken { return posted(t, text, url+"/v1/"+path, pid) }})
	}
	return append(append(all, floor(t)...),
		measured{"servicesheet", some, func(text []byte) taken { return fed(t, text, sheet, "-") }},
		measured{"reviewbatch", append(some, pick(lines, "objects, a line each")...),
			func(text []byte) taken { return fed(t, text, batch, "-rules", rules, "-job", job, "-") }},
		measured{"wastemonth", append(some, lines...), func(text []byte) taken { return fed(t, text, month, "-on", "2026-03-31", "-") }},
	)
}
