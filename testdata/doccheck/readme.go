package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"maps"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// block is Go code that README.md shows.
type block struct{ name, code string }

func readReadme(dir string) (blocks []block, err error) {
	text, err := os.ReadFile(filepath.Join(dir, "README.md"))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	for _, code := range strings.Split(string(text), "\n```go\n")[1:] {
		code, _, _ = strings.Cut(code, "\n```")
		blocks = append(blocks, block{fmt.Sprintf("block %d", len(blocks)+1), code})
	}
	return blocks, nil
}

// line tells the compiler where a block begins.
func (b block) line() string { return "//line " + b.name + ":1\n" }

// check type-checks a block and, if it compiles, runs it and compares what its comments say.
func (b block) check(dir string, packages map[string]listed) (wrong []string, err error) {
	imports := "package main\n"
	for _, path := range slices.Sorted(maps.Keys(packages)) {
		if p := packages[path]; path == "fmt" || p.examined() && strings.Contains(b.code, p.Name+".") {
			imports += fmt.Sprintf("import %q\n", path)
		}
	}
	source := imports + "func readme() error {\n" + b.line() + b.code + "\nreturn nil\n}\n"
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, b.name, source, parser.ParseComments)
	if err != nil {
		return []string{err.Error()}, nil
	}
	config := types.Config{Importer: importerFor(packages, "", fset), Error: func(err error) {
		if e, ok := err.(types.Error); !ok || !e.Soft { // what is declared or imported and not used is soft
			wrong = append(wrong, err.Error())
		}
	}}
	config.Check("main", fset, []*ast.File{file}, nil)
	if len(wrong) > 0 {
		return wrong, nil
	}
	said, source := b.instrumented(fset, file, source)
	if len(said) == 0 {
		return nil, nil
	}
	printed, err := run(dir, source)
	if err != nil {
		return []string{b.name + ": " + err.Error()}, nil
	}
	for _, s := range said {
		for _, w := range s.compare(printed) {
			wrong = append(wrong, fmt.Sprintf("%s:%d: %s", b.name, s.line, w))
		}
	}
	return wrong, nil
}

// saying is a comment with a figure.
type saying struct {
	line int
	text string
	of   ast.Stmt // nil if it is behind none
}

// instrumented gives the block's comments with figures, and the program in which each statement that
// has one behind it prints what it comes to between two marks.
func (b block) instrumented(fset *token.FileSet, file *ast.File, source string) (said []saying, program string) {
	body := file.Decls[len(file.Decls)-1].(*ast.FuncDecl).Body
	ends := map[int]ast.Stmt{}
	for _, s := range body.List {
		ends[fset.Position(s.End()).Line] = s
	}
	for _, group := range file.Comments {
		for _, c := range group.List {
			if at := fset.Position(c.Pos()); figure.MatchString(c.Text) && !strings.HasPrefix(c.Text, "//line") {
				said = append(said, saying{line: at.Line, text: strings.TrimSpace(strings.TrimPrefix(c.Text, "//")), of: ends[at.Line]})
			}
		}
	}
	head, code, _ := strings.Cut(source, b.line())
	lines := strings.Split(code, "\n")
	for at, s := range ends {
		assign, _ := s.(*ast.AssignStmt)
		if assign != nil && assign.Tok == token.DEFINE {
			for _, name := range assign.Lhs {
				if id := name.(*ast.Ident); id.Name != "_" {
					lines[at-1] += fmt.Sprintf("\n_ = %s", id.Name)
				}
			}
		}
	}
	for _, s := range said {
		if s.of == nil {
			continue
		}
		first := fset.Position(s.of.Pos()).Line - 1
		mark := fmt.Sprintf("fmt.Print(%q)\n", fmt.Sprintf("\x00%d\x00", s.line))
		if assign, ok := s.of.(*ast.AssignStmt); ok {
			lines[s.line-1] += "\n" + mark + "fmt.Print(" + types.ExprString(assign.Lhs[0]) + ")\n" + `fmt.Print("\x00")`
		} else {
			lines[first] = mark + lines[first]
			lines[s.line-1] += "\n" + `fmt.Print("\x00")`
		}
	}
	if !strings.Contains(head, "import \"fmt\"") {
		head = strings.Replace(head, "\n", "\nimport \"fmt\"\n", 1)
	}
	return said, head + strings.Join(lines, "\n") + "\nfunc main() {\n\tif err := readme(); err != nil {\n\t\tpanic(err)\n\t}\n\tfmt.Println()\n}\n"
}

// run runs a program as if it stood in the module.
func run(dir, source string) (string, error) {
	root, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	temp, err := os.MkdirTemp("", "doccheck")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(temp)
	program, overlay := filepath.Join(temp, "main.go"), filepath.Join(temp, "overlay.json")
	text, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(root, "readme-code", "main.go"): program}})
	if err := errors.Join(err, os.WriteFile(program, []byte(source), 0o600), os.WriteFile(overlay, text, 0o600)); err != nil {
		return "", err
	}
	cmd := exec.Command("go", "run", "-overlay", overlay, "./readme-code")
	cmd.Dir = root
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("its code doesn't run: %w: %s", err, stderr.Bytes())
	}
	return string(out), nil
}

var figure = regexp.MustCompile(`\b[0-9]+(\.[0-9]+)?\b`)

// compare holds a comment against what the program printed.
func (s saying) compare(printed string) (wrong []string) {
	_, value, ok := strings.Cut(printed, fmt.Sprintf("\x00%d\x00", s.line))
	if !ok {
		return []string{fmt.Sprintf("no statement comes to %q", s.text)}
	}
	value, _, _ = strings.Cut(value, "\x00")
	value = strings.TrimSpace(value)
	figures := figure.FindAllString(s.text, -1)
	k := 0
	rounded := figure.ReplaceAllStringFunc(value, func(number string) string {
		if k == len(figures) {
			return number
		}
		k++
		return round(number, figures[k-1])
	})
	rest, ok := strings.CutPrefix(s.text, rounded)
	if !ok || rest != "" && !strings.ContainsAny(rest[:1], ",:; ") {
		return []string{fmt.Sprintf("the comment says %q, the code gives %q", s.text, value)}
	}
	for _, at := range figure.FindAllStringIndex(rest, -1) {
		other := rest[at[0]:at[1]]
		if !strings.HasSuffix(rest[:at[0]], "not ") {
			wrong = append(wrong, fmt.Sprintf("nothing gives %s in %q", other, s.text))
		}
		for _, number := range figure.FindAllString(value, -1) {
			if round(number, other) == other {
				wrong = append(wrong, fmt.Sprintf("it is %s, and the comment says not", other))
			}
		}
	}
	return wrong
}

// round gives a number to as many places as another has, half away from zero.
func round(number, like string) string {
	_, places, _ := strings.Cut(like, ".")
	if r, ok := new(big.Rat).SetString(number); ok {
		return r.FloatString(len(places))
	}
	return number
}
