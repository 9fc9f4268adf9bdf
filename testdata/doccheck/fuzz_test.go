package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// fuzzed are the names of what reads what others wrote, and of what writes it for them.
var fuzzed = regexp.MustCompile(`^(Parse|Read|Decode|Unmarshal|Scan|GobDecode|With|From|Draw)|^(String|Text|ASCII|HTML|JSON|MarshalJSON|MarshalText|MarshalBinary|Value|Record|Review|Say|Sheet)$`)

// unfuzzed show what no text of anybody else's is in, each with what is.
var unfuzzed = map[string]string{
	"drain/flash.go: FlashFinding.String":       "temperatures",
	"drain/fuel.go: Fuel.MarshalJSON":           "nothing: it refuses",
	"torque/print.go: PrintedLimit.MarshalJSON": "nothing: it refuses",
	"turn/thread.go: ContactCount.String":       "turns",
	"service/prime.go: Counts.String":           "two whole numbers",
	"service/turn.go: MarkSeen.String":          "a mark of a ring, which FuzzSheet shows as part of a page",
}

// stretch is a stretch of a file's lines, and whether a fuzz target's seeds ran it.
type stretch struct {
	from, to int
	ran      bool
}

// reached runs the seeds of every fuzz target of the library, and no other test, for what they run of it.
func reached(t *testing.T, root string) map[string][]stretch {
	profile := filepath.Join(t.TempDir(), "profile")
	packages := []string{"./units/...", "./torque/...", "./turn/...", "./drain/...", "./service/..."}
	run := exec.Command("go", append([]string{"test", "-run", "^Fuzz", "-coverpkg", strings.Join(packages, ","), "-coverprofile", profile}, packages...)...)
	run.Dir = root
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(profile)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]stretch{}
	for line := range strings.Lines(string(text)) {
		var from, to, count, skip int
		name, rest, found := strings.Cut(strings.TrimPrefix(line, "example.com/snugturn/"), ":")
		if _, err := fmt.Sscanf(rest, "%d.%d,%d.%d %d %d", &from, &skip, &to, &skip, &skip, &count); found && err == nil {
			files[name] = append(files[name], stretch{from, to, count > 0})
		}
	}
	if len(files) < 50 {
		t.Fatalf("%d files in the profile", len(files))
	}
	return files
}

// Every exported function of the library that reads or shows is run by a fuzz target.
func TestEveryReaderIsFuzzed(t *testing.T) {
	root := filepath.Join("..", "..")
	ran := reached(t, root)
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name, _ := filepath.Rel(root, path)
		top, _, _ := strings.Cut(filepath.ToSlash(name), "/")
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") ||
			strings.Contains(path, "internal") || !slices.Contains([]string{"units", "torque", "turn", "drain", "service"}, top) {
			return err
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, path, nil, 0)
		if err != nil {
			return err
		}
		for _, decl := range file.Decls {
			f, ok := decl.(*ast.FuncDecl)
			if !ok || !fuzzed.MatchString(f.Name.Name) || receiverName(f) != "" && !ast.IsExported(receiverName(f)) {
				continue
			}
			seen++
			from, to := fset.Position(f.Body.Pos()).Line, fset.Position(f.Body.End()).Line
			runs := slices.ContainsFunc(ran[filepath.ToSlash(name)], func(s stretch) bool { return s.ran && from <= s.from && s.to <= to })
			which := filepath.ToSlash(name) + ": " + strings.TrimPrefix(receiverName(f)+"."+f.Name.Name, ".")
			if _, listed := unfuzzed[which]; runs && listed {
				t.Errorf("a fuzz target reaches %s, which is listed as not to be", which)
			} else if !runs && !listed {
				t.Errorf("no fuzz target reaches %s", which)
			}
		}
		return nil
	})
	if err != nil || seen < 150 {
		t.Fatalf("%d functions; %v", seen, err)
	}
}

// testdata/fuzz.tsv, which .ci/long fuzz writes, has a row for every fuzz target there is: when it last ran, for how
// long, how many inputs, and how many of them were new to it.
func TestEveryFuzzTargetRan(t *testing.T) {
	root := filepath.Join("..", "..")
	text, err := os.ReadFile(filepath.Join(root, "testdata", "fuzz.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]bool{}
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		cells := strings.Split(line, "\t")
		if i == 0 {
			continue
		}
		if len(cells) != 6 {
			t.Fatalf("row %d: %q", i+1, line)
		}
		if n, err := strconv.Atoi(cells[4]); err != nil || n < 1000 {
			t.Errorf("row %d: %q executions", i+1, cells[4])
		}
		rows[cells[0]+"."+cells[1]] = false
	}
	target := regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") || strings.Contains(filepath.ToSlash(path), "/testdata/") {
			return err
		}
		source, err := os.ReadFile(path)
		for _, found := range target.FindAllSubmatch(source, -1) {
			dir, _ := filepath.Rel(root, filepath.Dir(path))
			name := filepath.ToSlash(dir) + "." + string(bytes.TrimSpace(found[1]))
			if _, has := rows[name]; !has {
				t.Errorf("no row for %s: run FUZZ=%s .ci/long fuzz", name, found[1])
			}
			rows[name] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, there := range rows {
		if !there {
			t.Errorf("a row for %s, which isn't there", name)
		}
	}
}
