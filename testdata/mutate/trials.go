package main

import (
	"context"
	_ "embed"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"
)

//go:embed trials.go.txt
var trier []byte

// trials asks rows of the package's tables of one mutant after another within one process, which takes a hundredth of the
// time that a process for each takes, and returns those that died. Rows that reach a mutant and didn't show it are noted:
// the tests of the table needn't be run for it. The first rows are asked before all other tests, the rest after them.
func (b *bench) trials(mutants []*mutant, workers int, rest bool) (dead map[*mutant]bool, err error) {
	dead = map[*mutant]bool{}
	begin := time.Now()
	for _, table := range b.tables {
		if rest && b.asked[table] == 0 {
			continue // all of them were
		}
		var left []*mutant
		for _, m := range mutants {
			if !m.site.alone && !dead[m] {
				left = append(left, m)
			}
		}
		var wg sync.WaitGroup
		var mu sync.Mutex
		for w := range workers {
			share := left[len(left)*w/workers : len(left)*(w+1)/workers]
			wg.Go(func() {
				died, survived, n, e := b.table(table, fmt.Sprintf("trials%d", w), share, rest)
				mu.Lock()
				defer mu.Unlock()
				if !rest && n > 0 && (b.asked[table] == 0 || n < b.asked[table]) {
					b.asked[table] = n
				}
				for _, m := range died {
					dead[m] = true
				}
				for _, m := range survived {
					m.survived = append(m.survived, table)
				}
				if e != nil {
					err = e
				}
			})
		}
		wg.Wait()
		if b.verbose {
			fmt.Fprintf(os.Stderr, "# %s, rest %t: of %d mutants %d dead by now, %.0f s\n", table, rest, len(mutants), len(dead), time.Since(begin).Seconds())
		}
	}
	return dead, err
}

// buildTrials compiles the package's tests once more, to try mutants within one process.
func (b *bench) buildTrials() error {
	if len(b.tables) == 0 {
		return nil
	}
	dir := filepath.Dir(b.files[0].path)
	files := b.overlaid()
	files[filepath.Join(dir, "mutant_trials_test.go")] = fmt.Appendf(nil, `package %s

import (
	"os"
	"strconv"

	"example.com/snugturn/testdata/frozen"
)

func init() {
	mutantTrace_ = make([]byte, %d)
	from, _ := strconv.Atoi(os.Getenv("MUTANT_FROM"))
	frozen.Try = func(rows []func() bool) {
		frozen.Trials(os.Getenv("MUTANT_TRIALS"), from, rows, func(id int) { mutantNow_ = id }, mutantTrace_)
	}
}
`, b.name, len(b.mutants)+1)
	files[filepath.Join(b.root, "testdata/frozen/trials.go")] = trier
	if out, err := b.compile(b.program+"-trials", files); err != nil {
		return fmt.Errorf("%s: the trials: %w\n%s", b.dir, err, out)
	}
	return nil
}

// table tries mutants against one table. A process ends where a mutant loops, breaks it down or leaves something behind;
// another goes on from there.
func (b *bench) table(table, name string, mutants []*mutant, rest bool) (dead, survived []*mutant, rows int, err error) {
	file := filepath.Join(b.tmp, name)
	for len(mutants) > 0 {
		var text strings.Builder
		at := map[int]int{}
		for i, m := range mutants {
			at[m.ID] = i
			fmt.Fprintf(&text, "try %d %d\n", m.ID, m.site.mutants[0].ID)
		}
		if err := os.WriteFile(file, []byte(text.String()), 0o600); err != nil {
			return nil, nil, 0, err
		}
		c := b.command(context.Background(), b.program+"-trials", "-test.run=^"+table+"$", "-test.timeout=0")
		c.Env = append(c.Env, "MUTANT_TRIALS="+file)
		if rest {
			c.Env = append(c.Env, "MUTANT_FROM="+strconv.Itoa(b.asked[table]))
		}
		out, _ := c.CombinedOutput()
		said, err := os.ReadFile(file)
		if err != nil {
			return nil, nil, 0, err
		}
		last, trying, again := -1, false, false
		for _, line := range strings.Split(strings.TrimSpace(string(said)), "\n")[len(mutants):] {
			var word string
			var n int
			if fmt.Sscan(line, &word, &n); word == "end" {
				return dead, survived, rows, nil
			}
			if word == "rows" {
				rows = n
				continue
			}
			last, trying, again = at[n], word == "trying", word == "again"
			switch word {
			case "dead":
				dead = append(dead, mutants[last])
			case "alive":
				survived = append(survived, mutants[last])
			}
		}
		if last < 0 {
			return nil, nil, 0, fmt.Errorf("%s: no trial of %s: %s", b.dir, table, out[max(0, len(out)-3000):])
		}
		if trying { // it looped, or broke the process down
			dead = append(dead, mutants[last])
		}
		if !again {
			last++
		}
		mutants = mutants[last:]
	}
	return dead, survived, rows, nil
}
