package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
)

// A subject is a package, its files and its mutants.
type subject struct {
	path, dir, name string
	files           []*file
	mutants         []*mutant // in order of ID from 1; those that don't compile are gone
	exports         map[string]string
}

type file struct {
	name  string // from the module's root
	path  string
	src   []byte
	sites []*site
}

type listed struct {
	Dir, ImportPath, Name, Export string
	GoFiles                       []string
}

// load reads the package in dir, a folder under root, and finds its mutants.
func load(root, dir string) (*subject, error) {
	list := exec.Command("go", "list", "-export", "-deps", "-json=Dir,ImportPath,Name,Export,GoFiles", "./"+dir)
	list.Dir, list.Stderr = root, os.Stderr
	out, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", dir, err)
	}
	s := &subject{dir: dir, exports: map[string]string{}}
	var last listed
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var l listed
		if err := dec.Decode(&l); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		s.exports[l.ImportPath], last = l.Export, l
	}
	s.path, s.name = last.ImportPath, last.Name
	for _, name := range last.GoFiles {
		path := filepath.Join(last.Dir, name)
		src, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		s.files = append(s.files, &file{name: dir + "/" + name, path: path, src: src})
	}
	fset := token.NewFileSet()
	texts := make([][]byte, len(s.files))
	for i, f := range s.files {
		texts[i] = f.src
	}
	parsed, pkg, info, errs := s.check(fset, texts)
	if len(errs) > 0 {
		return nil, errs[0]
	}
	for i, f := range s.files {
		f.sites = sites(f.name, f.src, fset, parsed[i], pkg, info)
		sort.SliceStable(f.sites, func(a, b int) bool {
			x, y := f.sites[a], f.sites[b]
			return x.start < y.start || x.start == y.start && x.end > y.end
		})
	}
	return s, s.settle()
}

func (s *subject) check(fset *token.FileSet, texts [][]byte) ([]*ast.File, *types.Package, *types.Info, []error) {
	var errs []error
	var parsed []*ast.File
	for i, f := range s.files {
		p, err := parser.ParseFile(fset, f.path, texts[i], parser.SkipObjectResolution)
		if err != nil {
			return nil, nil, nil, []error{err}
		}
		parsed = append(parsed, p)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{}}
	config := types.Config{Importer: importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(s.exports[path])
	}), Error: func(err error) { errs = append(errs, err) }}
	pkg, _ := config.Check(s.path, fset, parsed, info)
	return parsed, pkg, info, errs
}

// settle numbers the mutants and renders the files until the compiler's checks pass: a place that can't be
// compiled with the others is built alone.
func (s *subject) settle() error {
	for range 50 {
		s.mutants = nil
		bySite := map[int]*site{}
		for _, f := range s.files {
			for _, at := range f.sites {
				for _, m := range at.mutants {
					s.mutants = append(s.mutants, m)
					m.ID = len(s.mutants)
				}
				bySite[at.mutants[0].ID] = at
			}
		}
		fset := token.NewFileSet()
		texts := s.rendered()
		texts[0] = append(texts[0], "\nfunc mutant_(id int) int { return id }\n"...)
		_, _, _, errs := s.check(fset, texts)
		if len(errs) == 0 {
			return nil
		}
		progress := false
		for _, err := range errs {
			var at token.Position
			var te types.Error
			if errors.As(err, &te) {
				at = fset.Position(te.Pos)
			} else {
				return err
			}
			var id int
			for i, f := range s.files {
				if f.path == at.Filename {
					id = innermost(texts[i], at.Offset)
				}
			}
			if id != 0 {
				bySite[id].alone, progress = true, true
			}
		}
		if !progress {
			return fmt.Errorf("can't render %s: %w", s.dir, errs[0])
		}
	}
	return fmt.Errorf("can't render %s", s.dir)
}

func (s *subject) rendered() [][]byte {
	var texts [][]byte
	for _, f := range s.files {
		texts = append(texts, render(f.src, f.sites))
	}
	return texts
}

var marks = regexp.MustCompile(`/\*<(\d+)\*/|/\*(\d+)>\*/`)

// innermost is the site around an offset of a rendered file, or 0.
func innermost(text []byte, offset int) int {
	var open []int
	for _, m := range marks.FindAllSubmatchIndex(text, -1) {
		if m[0] > offset {
			break
		}
		if m[2] >= 0 {
			id, _ := strconv.Atoi(string(text[m[2]:m[3]]))
			open = append(open, id)
		} else {
			open = open[:len(open)-1]
		}
	}
	if len(open) == 0 {
		return 0
	}
	return open[len(open)-1]
}
