package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A bench is a package's test program with all its mutants in it, and what each test reaches.
type bench struct {
	*subject
	root, tmp, program string
	args               []string
	tests              []*tested
	broken             []string // fail without any mutant
	verbose            bool
	tables             []string       // the tests that compare a table of testdata/frozen
	asked              map[string]int // how many rows of a table were asked first, where that isn't all
}

type tested struct {
	name    string
	reached []byte // by ID; mutants of one site answer to its first
	took    time.Duration
}

// The file that is added to the package while it is looked at.
const hook = `package %s

import (
	"os"
	"strconv"
	"syscall"
)

var mutantNow_, mutantTrace_ = func() (int, []byte) {
	now, _ := strconv.Atoi(os.Getenv("MUTANT"))
	name := os.Getenv("MUTANT_TRACE")
	if name == "" {
		return now, nil
	}
	f, err := os.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		panic(err)
	}
	b, err := syscall.Mmap(int(f.Fd()), 0, %d, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_SHARED)
	if err != nil {
		panic(err)
	}
	return now, b
}()

func mutant_(id int) int {
	if mutantTrace_ != nil {
		mutantTrace_[id] = 1
	}
	return mutantNow_
}
`

// overlaid are the package's files with every mutant in them and the hook, by path.
func (s *subject) overlaid() map[string][]byte {
	files := map[string][]byte{filepath.Join(filepath.Dir(s.files[0].path), "mutant_hook.go"): fmt.Appendf(nil, hook, s.name, len(s.mutants)+1)}
	for i, text := range s.rendered() {
		files[s.files[i].path] = text
	}
	return files
}

// build compiles the package's tests with every mutant and asks what each test reaches.
func build(root, tmp string, s *subject, short bool) (*bench, error) {
	b := &bench{subject: s, root: root, tmp: tmp, program: filepath.Join(tmp, "test"), asked: map[string]int{}}
	if out, err := b.compile(b.program, s.overlaid()); err != nil {
		return nil, fmt.Errorf("%s with its mutants: %w\n%s", s.dir, err, out)
	}
	if out, _ := exec.Command(b.program, "-h").CombinedOutput(); bytes.Contains(out, []byte("-rapid.seed")) {
		b.args = append(b.args, "-rapid.seed=1", "-rapid.nofailfile")
	}
	if short {
		b.args = append(b.args, "-test.short")
	}
	list, err := b.command(context.Background(), b.program, "-test.list=.").Output()
	if err != nil {
		return nil, fmt.Errorf("%s: list of tests: %w", s.dir, err)
	}
	for _, name := range strings.Fields(string(list)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		t := &tested{name: name}
		trace := filepath.Join(tmp, "trace")
		if err := os.WriteFile(trace, make([]byte, len(s.mutants)+1), 0o600); err != nil {
			return nil, err
		}
		c := b.command(context.Background(), b.program, "-test.run=^"+regexp.QuoteMeta(name)+"$")
		c.Env = append(c.Env, "MUTANT_TRACE="+trace)
		begin := time.Now()
		if out, err := c.CombinedOutput(); err != nil {
			fmt.Fprintf(os.Stderr, "# %s fails without a mutant: %s\n", name, out[:min(2000, len(out))])
			b.broken = append(b.broken, name)
			continue
		}
		t.took = time.Since(begin)
		if t.reached, err = os.ReadFile(trace); err != nil {
			return nil, err
		}
		b.tests = append(b.tests, t)
	}
	for _, t := range b.tests {
		if strings.HasPrefix(t.name, "TestFrozen") {
			b.tables = append(b.tables, t.name)
		}
	}
	sort.SliceStable(b.tests, func(i, j int) bool { return b.tests[i].took < b.tests[j].took })
	return b, nil
}

func (b *bench) compile(program string, files map[string][]byte) ([]byte, error) {
	dir, err := os.MkdirTemp(b.tmp, "build")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	replace := map[string]string{}
	for path, text := range files {
		replace[path] = filepath.Join(dir, filepath.Base(path))
		if err := os.WriteFile(replace[path], text, 0o600); err != nil {
			return nil, err
		}
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, err
	}
	name := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(name, overlay, 0o600); err != nil {
		return nil, err
	}
	c := exec.Command("go", "test", "-c", "-vet=off", "-ldflags=-w", "-overlay", name, "-o", program, "./"+b.dir)
	c.Dir = b.root
	return c.CombinedOutput()
}

func (b *bench) command(ctx context.Context, program string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, program, append(args, b.args...)...)
	c.Dir = filepath.Join(b.root, b.dir)
	c.Env = append(os.Environ(), "GOMAXPROCS=2")
	return c
}

type outcome int

const (
	alive outcome = iota
	killed
	slow // stopped after its time: dead, too
	none // doesn't compile: no mutant at all
)

// try runs the tests that reach a mutant against it.
func (b *bench) try(m *mutant) outcome {
	if m.site.alone {
		return b.tryAlone(m)
	}
	var names []string
	var took time.Duration
	first := m.site.mutants[0].ID
	for _, t := range b.tests {
		if t.reached[first] == 1 && !slices.Contains(m.survived, t.name) {
			names = append(names, t.name)
			took += t.took
		}
	}
	return b.against(b.program, "MUTANT="+strconv.Itoa(m.ID), names, took)
}

// against runs the tests named, the quickest first: most mutants die there.
func (b *bench) against(program, env string, names []string, took time.Duration) outcome {
	limit := 10*took + 2*time.Second
	for begin, n := 0, 4; begin < len(names); n *= 4 {
		end := min(begin+n, len(names))
		ctx, cancel := context.WithTimeout(context.Background(), limit)
		c := b.command(ctx, program, "-test.failfast", "-test.run=^("+strings.Join(names[begin:end], "|")+")$")
		c.Env = append(c.Env, env)
		c.WaitDelay = time.Second
		err := c.Run()
		late := ctx.Err() != nil
		cancel()
		if late {
			return slow
		}
		if err != nil {
			return killed
		}
		begin = end
	}
	return alive
}

// tryAlone builds the one mutant by itself.
func (b *bench) tryAlone(m *mutant) outcome {
	program := filepath.Join(b.tmp, "alone"+strconv.Itoa(m.ID))
	defer os.Remove(program)
	for _, f := range b.files {
		if f.name != m.File {
			continue
		}
		text := append([]byte{}, f.src[:m.site.start]...)
		text = append(append(text, m.text...), f.src[m.site.end:]...)
		if _, err := b.compile(program, map[string][]byte{f.path: text}); err != nil {
			return none
		}
	}
	var names []string
	var took time.Duration
	for _, t := range b.tests {
		names = append(names, t.name)
		took += t.took
	}
	return b.against(program, "MUTANT=0", names, took)
}

// few mutants aren't worth the time that it takes to build the trials.
const few = 50

// all tries the mutants, so many at once, and says at once which live.
func (b *bench) all(mutants []*mutant, workers int, lives func(*mutant)) ([]outcome, error) {
	if len(mutants) < few {
		b.tables = nil
	}
	if err := b.buildTrials(); err != nil {
		return nil, err
	}
	died, err := b.trials(mutants, workers, false)
	if err != nil {
		return nil, err
	}
	out := make([]outcome, len(mutants))
	next := make(chan int)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for i := range next {
				if out[i] = killed; !died[mutants[i]] {
					out[i] = b.try(mutants[i])
				}
			}
		})
	}
	for i := range mutants {
		next <- i
	}
	close(next)
	wg.Wait()
	var left []*mutant
	for i, m := range mutants {
		if out[i] == alive {
			left = append(left, m)
		}
	}
	if died, err = b.trials(left, workers, true); err != nil {
		return nil, err
	}
	for i, m := range mutants {
		if died[m] {
			out[i] = killed
		} else if out[i] == alive {
			lives(m)
		}
	}
	return out, nil
}
