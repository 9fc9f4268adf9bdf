package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io"
	"maps"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// event is a line of go test -json; see go doc test2json.
type event struct {
	Action, Package, ImportPath, Test, Output string
}

// measured is the line of a benchmark that came to its end: its name, how often it went round, a figure.
var measured = regexp.MustCompile(`(^|\t) +[0-9]+\t`)

// ran compares what go test says with the functions that stand in the module's test files, whatever
// system or tag they are built for. Nothing may have failed, been skipped or not been run, and every
// package has to have some. Those below a folder of the module, where one is named, are left out.
func ran(from io.Reader, without string, kinds ...string) ([]string, error) {
	module, err := modulePath()
	if err != nil {
		return nil, err
	}
	written, packages, err := functions(module, kinds)
	if err != nil {
		return nil, err
	}
	if without != "" {
		maps.DeleteFunc(written, func(name, _ string) bool { return strings.HasPrefix(name, module+without) })
		maps.DeleteFunc(packages, func(name string, _ int) bool { return strings.HasPrefix(name, module+without) })
	}
	var found []string
	passed, sub := map[string]bool{}, 0
	output := map[string]string{}
	for d := json.NewDecoder(from); ; {
		var e event
		if err := d.Decode(&e); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("what go test -json says: %w", err)
		}
		name := e.Package + "." + e.Test
		switch e.Action {
		case "output":
			output[name] += e.Output
			if e.Test == "" && strings.HasPrefix(e.Output, "ok ") {
				fmt.Print(e.Output)
			}
			if measured.MatchString(e.Output) { // a benchmark has no other word for success
				top, _, _ := strings.Cut(e.Test, "/")
				passed[e.Package+"."+top] = true
			}
		case "build-output":
			fmt.Print(e.Output)
		case "build-fail":
			found = append(found, e.ImportPath+" doesn't compile")
		case "pass":
			if e.Test == "" {
				break
			}
			passed[name] = true
			delete(output, name)
			if strings.Contains(e.Test, "/") {
				sub++
			}
		case "skip":
			if e.Test != "" {
				fmt.Print(output[name])
				found = append(found, "skipped: "+name)
			}
		case "fail":
			fmt.Print(output[name])
			found = append(found, strings.TrimSuffix("failed: "+name, "."))
		}
	}
	missing := 0
	for _, name := range slices.Sorted(maps.Keys(written)) {
		if !passed[name] {
			missing++
			if missing <= 20 {
				found = append(found, "didn't run and pass: "+name+" in "+written[name])
			}
		}
	}
	fmt.Printf("%d of the %d in the files passed, and %d below them\n", len(written)-missing, len(written), sub)
	if missing > 0 {
		found = append(found, fmt.Sprintf("%d of %d didn't run and pass", missing, len(written)))
	}
	if len(written) == 0 {
		found = append(found, "there are none")
	}
	if slices.Contains(kinds, "Test") {
		for p, n := range packages {
			if n == 0 {
				found = append(found, "no tests in "+p)
			}
		}
	}
	return found, nil
}

// functions gives the functions that go test is to run as package.Name with the file each stands in,
// and how many there are in each package.
func functions(module string, kinds []string) (written map[string]string, packages map[string]int, err error) {
	dirs, err := packageDirs()
	if err != nil {
		return nil, nil, err
	}
	written, packages = map[string]string{}, map[string]int{}
	for dir, names := range dirs {
		pkg := path.Join(module, dir)
		packages[pkg] = 0
		for _, name := range names {
			if !strings.HasSuffix(name, "_test.go") {
				continue
			}
			file := filepath.Join(dir, name)
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
			if err != nil {
				return nil, nil, err
			}
			for _, f := range inFile(parsed, kinds) {
				packages[pkg]++
				written[pkg+"."+f] = file
			}
		}
	}
	return written, packages, nil
}

// inFile names the functions of the kinds in a file. An example without output is only compiled.
func inFile(file *ast.File, kinds []string) (names []string) {
	for _, decl := range file.Decls {
		f, ok := decl.(*ast.FuncDecl)
		if !ok || f.Recv != nil || f.Name.Name == "TestMain" {
			continue
		}
		for _, kind := range kinds {
			if kind != "Example" && isOfKind(f.Name.Name, kind) {
				names = append(names, f.Name.Name)
			}
		}
	}
	if slices.Contains(kinds, "Example") {
		for _, e := range doc.Examples(file) {
			if e.Output != "" || e.EmptyOutput {
				names = append(names, "Example"+e.Name)
			}
		}
	}
	return names
}

// isOfKind is go test's rule: TestLike and Test, but not Testify.
func isOfKind(name, kind string) bool {
	rest, ok := strings.CutPrefix(name, kind)
	first, _ := utf8.DecodeRuneInString(rest)
	return ok && !unicode.IsLower(first)
}
