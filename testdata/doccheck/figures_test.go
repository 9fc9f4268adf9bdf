package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// usual are figures of the trade (common practice, no source): a bowl's band in in-lb and what it is in
// N·m, a ring of four letters, a starter's limit. They serve to check by, marked as what they are, and
// are no data to copy: everything people read has figures of an invented scenario.
var usual = []*regexp.Regexp{
	regexp.MustCompile(`(?i)\b(220|310)\W{0,3}(in|inch|lbf?)\W{1,2}(lb|lbf|in|pound)`),
	regexp.MustCompile(`\b220[^\w\n]{1,6}((to|through|and)[^\w\n]{1,4})?310\b`),
	regexp.MustCompile(`(InchPound\.Of\(|"value":\s*")(220|310)\b`),
	regexp.MustCompile(`\b(24\.86|24\.856\d*|35\.0[23]|35\.025\d*)\b`),
	regexp.MustCompile(`\bA\W{1,24}B\W{1,24}C\W{1,24}D\b(\W{1,24}E\b)?`),
	regexp.MustCompile(`(?i)(crank|"limit)[^\n]{0,60}\b15 ?s\b|Limit:\s*15 ?\* ?time\.Second`),
}

// Either of these, somewhere in a test, says where its figures are from.
var sources = []string{"common practice, no source", "Source: tm-5-5420-202"}

// figures lists the lines of a file on which such a figure stands, unless it is in a test, or what
// belongs to one, that says where it is from. Examples and benchmarks are read and copied: none there.
func figures(path string, text []byte) []int {
	excused := func(int) bool { return false }
	if strings.HasSuffix(path, "_test.go") {
		excused = marked(text)
	}
	var lines []int
	for _, figure := range usual {
		for _, at := range figure.FindAllIndex(text, -1) {
			if found := string(text[at[0]:at[1]]); strings.HasPrefix(found, "A") && strings.HasSuffix(found, "E") {
				continue // a longer ring
			}
			if !excused(at[0]) {
				lines = append(lines, 1+strings.Count(string(text[:at[0]]), "\n"))
			}
		}
	}
	slices.Sort(lines)
	return slices.Compact(lines)
}

// marked says whether a place in a test file is in a declaration that names its source.
func marked(text []byte) func(int) bool {
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "", text, parser.ParseComments)
	if err != nil {
		return func(int) bool { return false }
	}
	type span struct{ from, to int }
	var spans []span
	for _, decl := range file.Decls {
		var doc *ast.CommentGroup
		switch d := decl.(type) {
		case *ast.GenDecl:
			doc = d.Doc
		case *ast.FuncDecl:
			doc = d.Doc
			if strings.HasPrefix(d.Name.Name, "Example") || strings.HasPrefix(d.Name.Name, "Benchmark") {
				continue
			}
		}
		s := span{fset.Position(decl.Pos()).Offset, fset.Position(decl.End()).Offset}
		if doc != nil {
			s.from = fset.Position(doc.Pos()).Offset
		}
		words := strings.Join(strings.Fields(strings.ReplaceAll(string(text[s.from:s.to]), "//", " ")), " ")
		if slices.ContainsFunc(sources, func(source string) bool { return strings.Contains(words, source) }) {
			spans = append(spans, s)
		}
	}
	return func(at int) bool {
		return slices.ContainsFunc(spans, func(s span) bool { return s.from <= at && at < s.to })
	}
}

func TestUsualFiguresStandInMarkedTestsOnly(t *testing.T) {
	read := 0
	err := filepath.WalkDir("../..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			if entry != nil && (entry.Name() == ".git" || entry.Name() == "rapid") {
				return fs.SkipDir
			}
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil || !utf8.Valid(text) || !entry.Type().IsRegular() {
			return err
		}
		read++
		for _, line := range figures(path, text) {
			t.Errorf("%s:%d: a figure of the trade; want one of the invented scenario, or, in a test, a word on where it is from", path, line)
		}
		return nil
	})
	if err != nil || read < 100 {
		t.Fatalf("%d files, %v", read, err)
	}
}

// What is looked for is found, wherever it stands and however it is written. Common practice, no
// source.
func TestFigures(t *testing.T) {
	const noted = "// 220 to 310 in-lb: common practice,\n// no source.\n"
	for text, want := range map[string]int{
		"220 to 310 in-lb": 1, "220–310 lb-in": 1, "max 310 lbf·in": 1, `{"value": "220", "unit": "in-lb"}`: 1, "units.InchPound.Of(310)": 1,
		"24.86 to 35.02 N·m": 1, "24.856662386075674": 1, "nearest prints 35.03": 1,
		`["A", "B", "C", "D"]`: 1, "[\n\"A\",\n\"B\",\n\"C\",\n\"D\"\n]": 1, "Ring A B C D": 1,
		"crank for at most 15 s": 1, `"crank": {"limit": "15 s"}`: 1, "Cranking{Limit: 15 * time.Second}": 1,
		"220 lb is 99.79 kg": 0, "220 mL": 0, `["A", "B", "C", "D", "E"]`: 0, "key on for 15 s": 0, "124.86": 0,
	} {
		if got := figures("README.md", []byte(text)); len(got) != want {
			t.Errorf("%q: %v, want %d", text, got, want)
		}
	}
	for text, want := range map[string]int{
		"package a\n\n" + noted + "func TestA() { f(`220 in-lb`) }\n":                                                 0,
		"package a\n\n" + noted + "func ExampleA() {}\n":                                                              1,
		"package a\n\n" + noted + "func BenchmarkA() {}\n":                                                            1,
		"package a\n\n" + noted + "func TestA() {}\n\nfunc TestB() { f(`220 in-lb`) }\n":                              1,
		"package a\n\nfunc TestA() { f(`220 in-lb`) }\n":                                                              1,
		"package a\n\nvar b = `220 in-lb` // common practice, no source\n\nconst c = 1\n":                             1,
		"package a\n\n// Common practice, no source; Source: tm-5-5420-202.\nvar b = `crank 15 s`\n\nconst c = `1`\n": 0,
	} {
		if got := figures("a_test.go", []byte(text)); len(got) != want {
			t.Errorf("%q: %v, want %d", text, got, want)
		}
	}
	if got := figures("a.go", []byte("package a\n\n"+noted+"var b = 1\n")); len(got) != 1 {
		t.Errorf("a mark outside a test: %v", got)
	}
}
