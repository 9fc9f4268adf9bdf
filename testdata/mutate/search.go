package main

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"go/scanner"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

//go:embed search.go.txt
var searcher []byte

// search compiles the package's tests with the searcher and lets it look for calls that show the mutants
// alive. It stands still where a mutant loops: that call shows it, too.
func search(root, tmp string, s *subject, alive []*mutant, o options) error {
	b := &bench{subject: s, root: root, tmp: tmp, program: filepath.Join(tmp, "search")}
	dir := filepath.Dir(s.files[0].path)
	files := s.overlaid()
	files[filepath.Join(dir, "mutant_search_test.go")] = fmt.Appendf(nil, `package %s

import (
	"testing"

	"example.com/snugturn/testdata/frozen"
)

func TestMutantSearch_(t *testing.T) {
	mutantTrace_ = make([]byte, %d)
	frozen.Search(t, "testdata/frozen.txt", frozenCalls, func(id int) { mutantNow_ = id }, mutantTrace_)
}
`, s.name, len(s.mutants)+1)
	files[filepath.Join(root, "testdata/frozen/search.go")] = searcher
	if out, err := b.compile(b.program, files); err != nil {
		return fmt.Errorf("%s: the searcher: %w\n%s", s.dir, err, out)
	}
	left := map[int]*mutant{}
	for _, m := range alive {
		if !m.site.alone {
			left[m.ID] = m
		}
	}
	fmt.Printf("# %s: looking for calls that show %d mutants\n", s.dir, len(left))
	var stuck []string
	found := regexp.MustCompile(`(?m)^FOUND (\d+)$`)
	hang := regexp.MustCompile(`^(\d+) .*`)
	state := filepath.Join(tmp, "state") // what was tried last: it looped, or called itself for ever
	begin := time.Now()
	for run := range 100 {
		rest := o.search - int(time.Since(begin).Seconds())
		if rest <= 0 || len(left) == 0 {
			break
		}
		var ids []string
		for id, m := range left {
			ids = append(ids, strconv.Itoa(id)+":"+strconv.Itoa(m.site.mutants[0].ID))
		}
		slices.Sort(ids)
		if err := os.WriteFile(state, nil, 0o600); err != nil {
			return err
		}
		c := b.command(context.Background(), b.program, "-test.run=^TestMutantSearch_$", "-test.v")
		c.Env = append(c.Env, "MUTANT_SEARCH="+strings.Join(ids, " "), "MUTANT_SECONDS="+strconv.Itoa(rest), "MUTANT_SEED="+strconv.FormatUint(o.seed+uint64(run), 10),
			"MUTANT_WORDS="+strings.Join(s.words(), "\n"), "MUTANT_STATE="+state, "MUTANT_STUCK="+strings.Join(stuck, "\n"))
		out, err := c.CombinedOutput()
		for _, m := range found.FindAllSubmatch(out, -1) {
			id, _ := strconv.Atoi(string(m[1]))
			delete(left, id)
		}
		last, _ := os.ReadFile(state)
		last, _, _ = bytes.Cut(last, []byte("\n"))
		if m := hang.FindSubmatch(last); err != nil && m != nil {
			stuck = append(stuck, string(last))
			id, _ := strconv.Atoi(string(m[1]))
			delete(left, id)
			if err := appendHung(filepath.Join(dir, "testdata/frozen.txt"), string(last)); err != nil {
				return err
			}
			continue
		}
		if err != nil {
			return fmt.Errorf("%s: the searcher: %w\n%s", s.dir, err, out[max(0, len(out)-3000):])
		}
		break
	}
	fmt.Printf("# %s: %d not shown\n", s.dir, len(left))
	for _, m := range alive {
		if left[m.ID] != nil || m.site.alone {
			fmt.Println(m.name())
		}
	}
	return nil
}

// appendHung adds a call whose result isn't known, once; -frozen fills it in.
func appendHung(table, stuck string) error {
	_, call, _ := strings.Cut(stuck, " ")
	text, err := os.ReadFile(table)
	if err != nil || bytes.Contains(append([]byte("\n"), text...), []byte("\n"+call)) {
		return err
	}
	f, err := os.OpenFile(table, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = fmt.Fprintln(f, call)
	return err
}

// words are the short texts of the package's source, in the order of the alphabet.
func (s *subject) words() []string {
	seen := map[string]bool{}
	for _, f := range s.files {
		fset := token.NewFileSet()
		var sc scanner.Scanner
		sc.Init(fset.AddFile(f.name, -1, len(f.src)), f.src, nil, 0)
		for {
			_, tok, lit := sc.Scan()
			if tok == token.EOF {
				break
			}
			if tok == token.STRING || tok == token.CHAR {
				text, err := strconv.Unquote(lit)
				if err == nil && len(text) < 25 && !strings.Contains(text, "\n") && !strings.Contains(text, "\x00") {
					seen[text] = true
				}
			}
		}
	}
	words := make([]string, 0, len(seen))
	for w := range seen {
		words = append(words, w)
	}
	slices.Sort(words)
	return words
}
