package hostile

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
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

// posted gives the HTTP example a body; the memory is the most that its process ever had, so that sizes go up.
func posted(t *testing.T, text []byte, url string, pid int) taken {
	t.Helper()
	start := time.Now()
	answer, err := http.Post(url, "application/json", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if _, err := io.Copy(io.Discard, answer.Body); err != nil {
		t.Fatal(err)
	}
	v := taken{len(text), time.Since(start), 0, "read"}
	if answer.StatusCode >= 500 {
		t.Errorf("%s: status %d", url, answer.StatusCode)
	}
	if answer.StatusCode != http.StatusOK {
		v.outcome = "refused"
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

// served starts the HTTP example.
func served(t *testing.T) (url string, pid int) {
	t.Helper()
	c := exec.Command(built(t, "httpservice"), "-listen", "127.0.0.1:0", "-drain", "0s", "-rules", filepath.Join("..", "..", "service", "testdata", "rules.json"))
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
	return "http://" + strings.Fields(line)[2], c.Process.Pid
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
	url, pid := served(t)
	for _, path := range []string{"plan", "sheet", "review", "record/verify"} {
		all = append(all, measured{"httpservice, /v1/" + path, some, func(text []byte) taken { return posted(t, text, url+"/v1/"+path, pid) }})
	}
	return append(all,
		measured{"servicesheet", some, func(text []byte) taken { return fed(t, text, sheet, "-") }},
		measured{"reviewbatch", append(some, pick(lines, "objects, a line each")...),
			func(text []byte) taken { return fed(t, text, batch, "-rules", rules, "-job", job, "-") }},
		measured{"wastemonth", append(some, lines...), func(text []byte) taken { return fed(t, text, month, "-on", "2026-03-31", "-") }},
	)
}
