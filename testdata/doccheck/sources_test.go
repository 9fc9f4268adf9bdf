package main

import (
	"fmt"
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
)

// A check names its rows of testdata/sources.md in a comment in its declaration, "Source: id" or
// "Sources: id, id"; "common practice, no source" names the row of these words.
const practice = "common practice, no source"

var (
	naming = regexp.MustCompile(`\bSources?: ([a-z0-9]+(?:[-.][a-z0-9]+)*(?:, [a-z0-9]+(?:[-.][a-z0-9]+)*)*)`)
	// cited is what looks like a published text, as far as the row has to have it too.
	cited = regexp.MustCompile(`\b(NIST (SP|Handbook) \d+|(ISO|EN|IEC) \d+|\d+ CFR \d+(\.\d+)?|\d+ FR \d+|API MPMS|ASTM [A-Z]\d+|ASME B[\d.]*\d|` +
		`ANSI/IEEE \d+|ANSI Z\d+|SAE J\d+|JCGM \d+|ILAC-G8|EPA (Form [\d-]+\d|FAQ|RO \d+)|T[MB] \d[\d-]*\d(&P)?|AC 43\.13-1B|OIML D \d+|RFC \d+|` +
		`Unicode (Standard|CLDR|\d+)|ADR \d+|COMAR [\d.]*\d|List of Waste|BWBR\d+|OEIS A\d+|CRC Handbook|PostgreSQL \d+|CMS \d+|A325|WCAG|Utah R[\d-]+\d|` +
		`UCUM functional tests|Recommendation 20, Annex I|Tanaka|Kell|Patterson)`)
	// graded is a grade beside a check: the table has it.
	graded = regexp.MustCompile(`\((?:[^()]*, )?(S2?|D|M|C|T)\)|[,;:] (S2?|D|M)([.;:),"]|$)|^(S2?|D|M)[:;]`)
)

// A remark is a comment or a text in a declaration of a test file.
type remark struct {
	line    int
	text    string
	comment bool
}

// A naming declaration has the ids it names, and what it says.
type declaration struct {
	file, name string
	line       int
	ids        []string
	remarks    []remark
}

func (d declaration) at(line int) string {
	return strings.TrimSuffix(fmt.Sprintf("%s:%d: %s", d.file, line, d.name), ": ")
}

// declarations are those of a test file. What stands before the first belongs to the first.
func declarations(path string, text []byte) (found []declaration, err error) {
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, path, text, parser.ParseComments)
	if err != nil {
		return nil, err
	}
	var ends []token.Pos
	for _, decl := range file.Decls {
		if g, ok := decl.(*ast.GenDecl); ok && g.Tok == token.IMPORT {
			continue
		}
		d := declaration{file: path, name: "package", line: fset.Position(decl.Pos()).Line}
		switch decl := decl.(type) {
		case *ast.FuncDecl:
			d.name = decl.Name.Name
		case *ast.GenDecl:
			switch s := decl.Specs[0].(type) {
			case *ast.ValueSpec:
				d.name = s.Names[0].Name
			case *ast.TypeSpec:
				d.name = s.Name.Name
			}
		}
		ast.Inspect(decl, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				d.remarks = append(d.remarks, remark{line: fset.Position(lit.Pos()).Line, text: strings.Trim(lit.Value, "`\"")})
			}
			return true
		})
		found, ends = append(found, d), append(ends, decl.End())
	}
	for _, group := range file.Comments {
		i := slices.IndexFunc(ends, func(end token.Pos) bool { // a comment behind the last brace of a line belongs to what it ends
			return group.Pos() < end || fset.Position(group.Pos()).Line == fset.Position(end).Line
		})
		if i < 0 {
			continue
		}
		text := strings.Join(strings.Fields(group.Text()), " ")
		if strings.HasPrefix(text, "Output:") || strings.HasPrefix(text, "Unordered output:") {
			continue
		}
		found[i].remark(fset.Position(group.Pos()).Line, text)
	}
	return found, nil
}

// remark adds a comment, and the sources it names.
func (d *declaration) remark(line int, text string) {
	d.remarks = append(d.remarks, remark{line, text, true})
	for _, names := range naming.FindAllStringSubmatch(text, -1) {
		d.ids = append(d.ids, strings.Split(names[1], ", ")...)
	}
	if strings.Contains(strings.ToLower(text), practice) {
		d.ids = append(d.ids, "practice")
	}
}

// A source is a row of the table.
type source struct {
	line  int
	id    string
	grade string
	text  string // of source, edition and where in it
	cells []string
}

// wrong lists what a declaration says of its sources that the table doesn't bear out.
func (d declaration) wrong(rows map[string]source) (found []string) {
	has := func(yes func(source) bool) bool {
		return slices.ContainsFunc(d.ids, func(id string) bool { return yes(rows[id]) })
	}
	for _, id := range d.ids {
		if _, ok := rows[id]; !ok {
			found = append(found, d.at(d.line)+": there is no source "+id)
		}
	}
	for _, r := range d.remarks {
		if !r.comment && !strings.HasPrefix(d.name, "Test") {
			continue // the answers of the library that an Example prints, and what reads them
		}
		for _, text := range cited.FindAllString(r.text, -1) {
			if !has(func(s source) bool { return strings.Contains(s.text, text) }) {
				found = append(found, d.at(r.line)+": "+text+" without its row, Source: id")
			}
		}
		if mark := graded.FindString(r.text); mark != "" && (r.comment || cited.MatchString(r.text)) {
			found = append(found, d.at(r.line)+": the grade "+mark+" belongs into the table")
		}
		if r.comment && strings.Contains(r.text, "from memory") && !has(func(s source) bool { return s.grade == "M" }) {
			found = append(found, d.at(r.line)+": from memory, and no row that is")
		}
	}
	return found
}

// readSources reads the table: its grades, and its rows by their ids.
func readSources(t *testing.T, text string) (grades []string, means map[string]string, rows map[string]source) {
	t.Helper()
	means, rows = map[string]string{}, map[string]source{}
	var order []string
	for i, line := range strings.Split(text, "\n") {
		cells := strings.Split(line, " | ")
		if !strings.HasPrefix(line, "| ") || cells[0] == "| id" || cells[0] == "| grade" {
			continue
		}
		for j := range cells {
			cells[j] = strings.TrimSpace(strings.Trim(cells[j], "|"))
		}
		switch s := (source{line: i, id: cells[0], cells: cells}); len(cells) {
		case 2:
			grades, means[cells[0]] = append(grades, cells[0]), cells[1]
		case 8:
			s.grade, s.text = cells[1], strings.Join(cells[2:5], ", ")
			if _, twice := rows[s.id]; twice || means[s.grade] == "" || slices.Contains(cells[:7], "") {
				t.Errorf("sources.md:%d: %s twice, of no grade or with an empty cell", i+1, s.id)
			}
			rows[s.id], order = s, append(order, s.id)
		default:
			t.Errorf("sources.md:%d: %d cells", i+1, len(cells))
		}
	}
	if !slices.IsSorted(order) {
		t.Error("sources.md: the rows aren't in the order of their ids")
	}
	return grades, means, rows
}

// everyDeclaration reads the test files of all modules, and of what is in other languages each file as one declaration.
func everyDeclaration(t *testing.T) (all []declaration) {
	t.Helper()
	err := filepath.WalkDir("../..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			if slices.Contains([]string{".git", "doccheck", "node_modules", "rapid"}, filepath.Base(path)) {
				return fs.SkipDir
			}
			return err
		}
		name := strings.TrimPrefix(filepath.ToSlash(path), "../../")
		switch filepath.Ext(path) {
		case ".go":
			if !strings.HasSuffix(path, "_test.go") {
				return nil
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			found, err := declarations(name, text)
			all = append(all, found...)
			return err
		case ".py", ".ts":
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			d, quoted := declaration{file: name, line: 1}, false // within the three quotes of what Python says of a function
			for i, line := range strings.Split(string(text), "\n") {
				_, comment, ok := strings.Cut(line, map[string]string{".py": "# ", ".ts": "// "}[filepath.Ext(path)])
				quotes := strings.Count(line, `"""`)
				if quoted || quotes > 0 {
					comment, ok = line, true
				}
				quoted = quoted != (quotes%2 == 1)
				if ok {
					d.remark(i+1, comment)
				}
			}
			all = append(all, d)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// checks are the declarations that name a source, as the table's last column has them: a link a file.
func checks(all []declaration, id string) string {
	var links []string
	var last string
	for _, d := range all {
		if !slices.Contains(d.ids, id) {
			continue
		}
		name := d.name
		if d.file == last && name != "" {
			links[len(links)-1] = strings.TrimSuffix(links[len(links)-1], ")") // what is behind the link goes before its end
			head, link, _ := strings.Cut(links[len(links)-1], "](")
			links[len(links)-1] = head + ", " + name + "](" + link + ")"
			continue
		}
		path, err := filepath.Rel("testdata", d.file)
		if err != nil {
			path = d.file
		}
		links = append(links, strings.TrimSuffix("["+d.file+": "+name, ": ")+"]("+filepath.ToSlash(path)+")")
		last = d.file
	}
	return strings.Join(links, "; ")
}

// summary is README's table: of each grade how many sources there are, and how many checks name one.
func summary(grades []string, means map[string]string, rows map[string]source, all []declaration) string {
	text := "| how a source is known | sources | checks |\n|---|---|---|\n"
	for _, grade := range grades {
		n, named := 0, 0
		for _, s := range rows {
			if s.grade == grade {
				n++
			}
		}
		for _, d := range all {
			if slices.ContainsFunc(d.ids, func(id string) bool { return rows[id].grade == grade }) {
				named++
			}
		}
		text += fmt.Sprintf("| %s: %s | %d | %d |\n", grade, means[grade], n, named)
	}
	return text
}

const (
	summaryBegin = "<!-- sources: go -C testdata/doccheck test -run Sources -update -->\n"
	summaryEnd   = "<!-- end of sources -->"
)

// Every check names its rows, each row is there and used, what looks published has its row, and what the table and
// README say of the checks is what there is.
func TestSources(t *testing.T) {
	const tableFile, readmeFile = "../sources.md", "../../README.md"
	table, err := os.ReadFile(tableFile)
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(readmeFile)
	if err != nil {
		t.Fatal(err)
	}
	grades, means, rows := readSources(t, string(table))
	all := everyDeclaration(t)
	if len(rows) < 50 || len(all) < 500 {
		t.Fatalf("%d rows, %d declarations", len(rows), len(all))
	}
	for _, d := range all {
		for _, w := range d.wrong(rows) {
			t.Error(w)
		}
	}
	lines := strings.Split(string(table), "\n")
	for _, s := range rows {
		named := checks(all, s.id)
		if named == "" {
			t.Errorf("sources.md:%d: no check names %s", s.line+1, s.id)
		}
		lines[s.line] = "| " + strings.Join(append(s.cells[:7:7], named), " | ") + " |"
	}
	before, rest, found := strings.Cut(string(readme), summaryBegin)
	_, after, ended := strings.Cut(rest, summaryEnd)
	if !found || !ended {
		t.Fatal("README.md has no place for the sources")
	}
	for file, text := range map[string][2]string{
		tableFile:  {string(table), strings.Join(lines, "\n")},
		readmeFile: {string(readme), before + summaryBegin + summary(grades, means, rows, all) + summaryEnd + after},
	} {
		if text[0] == text[1] {
			continue
		}
		if !*update {
			t.Errorf("%s says something else of the checks; go -C testdata/doccheck test -run Sources -update", file)
		} else if err := os.WriteFile(file, []byte(text[1]), 0o644); err != nil {
			t.Error(err)
		}
	}
}

// What is wrong is found, and what is right isn't.
func TestWrongSources(t *testing.T) {
	rows := map[string]source{"iso-261": {grade: "S", text: "ISO 261, 1998, table 2"}, "memory": {grade: "M", text: "ISO 724"}, "practice": {grade: "P"}}
	for text, want := range map[string]int{
		"// Coarse pitches. Source: iso-261.\nfunc TestA() {}\n":                           0,
		"// The pitches of ISO 261. Source: iso-261.\nfunc TestA() {}\n":                   0,
		"// The pitches of ISO 261.\nfunc TestA() {}\n":                                    1,
		"// The pitches of ISO 262. Source: iso-261.\nfunc TestA() {}\n":                   1,
		"func TestA() { f(`ISO 261`) }\n":                                                  1,
		"func TestA() {\n\tf(`ISO 261`) // Source: iso-261.\n}\n":                          0,
		"func ExampleA() { f(`ISO 261`) }\n":                                               0,
		"func ExampleA() {\n\t// Output:\n\t// ISO 261\n}\n":                               0,
		"// Source: iso-999.\nfunc TestA() {}\n":                                           1,
		"// Sources: iso-261, iso-999.\nfunc TestA() {}\n":                                 1,
		"// Sources: iso-261,\n// memory.\nfunc TestA() {}\n":                              0,
		"// From memory.\nfunc TestA() {}\n":                                               0,
		"// It is from memory.\nfunc TestA() {}\n":                                         1,
		"// It is from memory. Source: memory.\nfunc TestA() {}\n":                         0,
		"// Pitches (S). Source: iso-261.\nfunc TestA() {}\n":                              1,
		"// Pitches, S2. Source: iso-261.\nfunc TestA() {}\n":                              1,
		"// Common practice, no source.\nfunc TestA() {}\n":                                0,
		"// Source: iso-261.\nfunc TestA() {}\n\n// The ISO 261 again.\nfunc TestB() {}\n": 1,
		"var a = 1\n\nfunc TestA() {} // ISO 261\n":                                        1,
	} {
		found, err := declarations("a_test.go", []byte("package a\n\n"+text))
		if err != nil {
			t.Fatal(err)
		}
		var wrong []string
		for _, d := range found {
			wrong = append(wrong, d.wrong(rows)...)
		}
		if len(wrong) != want {
			t.Errorf("%q: %v, want %d", text, wrong, want)
		}
	}
}
