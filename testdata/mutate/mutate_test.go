package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const sample = "testdata/sample"

func mutants(t *testing.T) *subject {
	t.Helper()
	root, err := filepath.Abs(sample)
	if err != nil {
		t.Fatal(err)
	}
	s, err := load(root, "shop")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Every kind of mutant is made, with a name of its own.
func TestKinds(t *testing.T) {
	kinds, names := map[string]int{}, map[string]bool{}
	for _, m := range mutants(t).mutants {
		kinds[m.Kind]++
		if names[m.name()] {
			t.Errorf("twice: %s", m.name())
		}
		names[m.name()] = true
		if m.From == m.To {
			t.Errorf("no change: %s", m.name())
		}
	}
	for _, kind := range []string{"comparison", "arithmetic", "negation", "condition", "forced", "drop", "string", "constant", "swap", "field"} {
		if kinds[kind] == 0 {
			t.Errorf("no mutant of kind %s: %v", kind, kinds)
		}
	}
}

// What the sample's tests miss is alive, and nothing else.
func TestAlive(t *testing.T) {
	s := mutants(t)
	b, err := build(filepath.Dir(filepath.Dir(s.files[0].path)), t.TempDir(), s, false)
	if err != nil {
		t.Fatal(err)
	}
	if len(b.tests) != 4 || len(b.broken) != 0 {
		t.Fatalf("%d tests, broken: %v", len(b.tests), b.broken)
	}
	var got []string
	outcomes, err := b.all(s.mutants, 2, func(*mutant) {})
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range outcomes {
		switch m := s.mutants[i]; {
		case o == alive && m.Func != "unseen": // no test reaches it
			got = append(got, m.Kind+" "+m.From+" -> "+m.To)
		case o != alive && m.Func == "unseen":
			t.Errorf("dead, and no test reaches it: %s", m.name())
		}
	}
	want := []string{
		"swap {low: 30, high: 40} -> wrench{low: 40, high: 30}", "constant 30 -> 31", "constant 40 -> 41", // the second wrench
		"comparison set > limit -> set >= limit",          // 20 of 20
		`string "more than a turn" -> "nore than a turn"`, // the error's text
		"comparison len(out) > teeth -> len(out) >= teeth",
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("alive:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A line of the list that names nothing, has no reason or is one too many is refused.
func TestEquivalents(t *testing.T) {
	s := mutants(t)
	first := s.mutants[0].name()
	for name, c := range map[string]struct{ text, want string }{
		"good":      {"# heading\n" + first + "\ta reason\n", ""},
		"no reason": {first + "\t \n", "want 6 columns and a reason"},
		"short":     {"shop/shop.go\treason\n", "want 6 columns and a reason"},
		"twice":     {first + "\ta\n" + first + "\tb\n", "there twice"},
		"gone":      {strings.Replace(first, "\t1", "\t9", 1) + "\ta reason\n", "names what isn't there"},
		"many":      {many(s), "more than a tenth"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "equivalent.tsv")
			if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
				t.Fatal(err)
			}
			reasons, err := equivalents(path)
			if err == nil {
				err = stale("shop", s.mutants, reasons)
			}
			switch {
			case c.want == "" && err != nil:
				t.Error(err)
			case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
				t.Errorf("%v, want %s", err, c.want)
			}
		})
	}
}

func many(s *subject) string {
	var b strings.Builder
	for _, m := range s.mutants {
		b.WriteString(m.name() + "\ta reason\n")
	}
	return b.String()
}

// A whole package must have its score; a sample is allowed its chance.
func TestBelow(t *testing.T) {
	for _, c := range []struct {
		r    result
		want bool
	}{
		{result{of: 1000, made: 1000, dead: 950, alive: 50}, false},
		{result{of: 1000, made: 1000, dead: 949, alive: 51}, true},
		{result{of: 1000, made: 1000, equivalent: 100, dead: 855, alive: 45}, false},
		{result{of: 1000, made: 100, dead: 90, alive: 10}, false}, // 10 or more of 100 at 5 %: 2.8 %
		{result{of: 1000, made: 100, dead: 86, alive: 14}, true},  // 14 or more: 0.05 %
		{result{of: 1000, made: 100, dead: 87, alive: 13}, false}, // 13 or more: 0.15 %
	} {
		if got := c.r.below(95); got != c.want {
			t.Errorf("%v: %v", c.r, got)
		}
	}
}

func TestOtherString(t *testing.T) {
	for from, want := range map[string]string{"25.4": "35.4", "%s: %d apart": "%s: %d bpart", "%-3d": "", ", ": "", "zero": "yero", "9": "8", "µm": "µn"} {
		if got := otherString(from); got != want {
			t.Errorf("%q becomes %q, want %q", from, got, want)
		}
	}
}
