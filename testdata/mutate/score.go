package main

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"time"
)

// A result is what became of the mutants of a package.
type result struct {
	dir                           string
	seed                          uint64
	of                            int // all there are
	made, equivalent, dead, alive int
	slow                          int // of the dead, those that ran until they were stopped
	took                          time.Duration
}

// score is the share that died of those that aren't listed as equivalent, in percent.
func (r result) score() float64 {
	if r.dead+r.alive == 0 {
		return 100
	}
	return 100 * float64(r.dead) / float64(r.dead+r.alive)
}

// below says whether the score is below the least. A sample is allowed what chance alone would bring about
// more often than once in a thousand if the whole were just at the least.
func (r result) below(percent float64) bool {
	tried := r.dead + r.alive
	if tried >= r.of-r.equivalent {
		return r.score() < percent
	}
	p := 1 - percent/100
	atLeast := 1.0 // the chance that r.alive or more of those tried live
	chance := math.Pow(1-p, float64(tried))
	for k := range r.alive {
		atLeast -= chance
		chance *= float64(tried-k) / float64(k+1) * p / (1 - p)
	}
	return atLeast < 0.001
}

func (r result) String() string {
	return fmt.Sprintf("# %s: %d of %d mutants (seed %d): %d equivalent (%.1f %%), %d dead (%d by time), %d alive: %.1f %% in %.0f s",
		r.dir, r.made, r.of, r.seed, r.equivalent, 100*float64(r.equivalent)/float64(max(r.made, 1)), r.dead, r.slow, r.alive, r.score(), r.took.Seconds())
}

const columns = 6 // of a mutant's name; the reason follows

// equivalents reads the list of mutants that change nothing, by name, with the reason.
func equivalents(name string) (map[string]string, error) {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	reasons := map[string]string{}
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) != columns+1 || strings.TrimSpace(cells[columns]) == "" {
			return nil, fmt.Errorf("%s:%d: want %d columns and a reason", name, i+1, columns)
		}
		key := strings.Join(cells[:columns], "\t")
		if reasons[key] != "" {
			return nil, fmt.Errorf("%s:%d: it is there twice", name, i+1)
		}
		reasons[key] = cells[columns]
	}
	return reasons, nil
}

// stale finds lines of the list that name no mutant, and a list that is too long.
func stale(dir string, mutants []*mutant, reasons map[string]string) error {
	there := map[string]bool{}
	listed := 0
	for _, m := range mutants {
		there[m.name()] = true
		if reasons[m.name()] != "" {
			listed++
		}
	}
	for key := range reasons {
		file := strings.SplitN(key, "\t", 2)[0]
		if file[:max(strings.LastIndex(file, "/"), 0)] == dir && !there[key] {
			return fmt.Errorf("equivalent.tsv names what isn't there: %s", key)
		}
	}
	if 10*listed > len(mutants) {
		return fmt.Errorf("%s: %d of %d mutants are listed as equivalent, more than a tenth", dir, listed, len(mutants))
	}
	return nil
}

const heading = "package\tmutants\tequivalent\tdead\talive\tscore\tseconds\tdate\n"

// writeScores replaces the lines of the packages that were looked at whole.
func writeScores(name string, results []result) error {
	lines := map[string]string{}
	text, err := os.ReadFile(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		if i > 0 {
			lines[strings.SplitN(line, "\t", 2)[0]] = line
		}
	}
	for _, r := range results {
		if r.made+50 < r.of {
			return fmt.Errorf("%s: scores are of whole packages", r.dir)
		}
		lines[r.dir] = fmt.Sprintf("%s\t%d\t%d\t%d\t%d\t%.1f %%\t%.0f\t%s", r.dir, r.made, r.equivalent, r.dead, r.alive, r.score(),
			r.took.Seconds(), time.Now().UTC().Format(time.DateOnly))
	}
	var out strings.Builder
	out.WriteString(heading)
	for _, l := range least {
		if line := lines[l.dir]; line != "" {
			out.WriteString(line + "\n")
			delete(lines, l.dir)
		}
	}
	if len(lines) > 0 {
		return fmt.Errorf("%s has lines of no package: %v", name, slices.Sorted(maps.Keys(lines)))
	}
	return os.WriteFile(name, []byte(out.String()), 0o644)
}
