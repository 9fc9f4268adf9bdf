package main

import (
	"fmt"
	"go/token"
	"go/types"
	"maps"
	"slices"
	"strings"
	"testing"
)

// meansTheSame are the names that two packages export for one thing, and what that is. A name that isn't
// here may be exported by one package alone, or be an alias.
var meansTheSame = map[string]string{
	"Adapter":   "what stands between wrench and fastener; package service has it as a job lists it",
	"Drum":      "a drum; package service has it as a job states it",
	"ErrOrder":  "figures that have to rise, and don't",
	"Fuel":      "the fuel; package service has it as a job states it",
	"MustParse": "reads what the package is about",
	"Parse":     "reads what the package is about",
	"PlusMinus": "a figure and how far it may be off either way",
	"RuleSet":   "one set of rules for waste",
	"Sum":       "all of them together",
	"Undecided": "what is known shows neither the one nor the other",
	"Wrench":    "a torque wrench; package service has it as a job lists it",
}

// How much there is to learn. These only ever go down.
const (
	mostNames  = 700
	mostFields = 705
)

// standard are the methods by which the standard library calls a type: nobody learns them twice.
var standard = strings.Fields(`String Error Unwrap Is As Format GoString LogValue Value Scan
	MarshalText UnmarshalText AppendText MarshalJSON UnmarshalJSON MarshalBinary UnmarshalBinary AppendBinary`)

// vocabulary is what a module exports.
type vocabulary struct {
	names, fields int
	by            map[string]map[types.Object][]string // name, what it stands for, the packages
}

func (v *vocabulary) add(pkg *types.Package) {
	for _, name := range pkg.Scope().Names() {
		object := pkg.Scope().Lookup(name)
		if !object.Exported() {
			continue
		}
		v.names++
		means := object
		if alias, ok := types.Unalias(object.Type()).(*types.Named); ok && object.Type() != alias {
			means = alias.Obj()
		}
		if v.by[name] == nil {
			v.by[name] = map[types.Object][]string{}
		}
		v.by[name][means] = append(v.by[name][means], pkg.Name())
		named, ok := object.Type().(*types.Named)
		if _, isType := object.(*types.TypeName); !isType || !ok {
			continue
		}
		methods := types.NewMethodSet(types.NewPointer(named)) // with those it is promoted
		if types.IsInterface(named) {
			methods = types.NewMethodSet(named)
		}
		for i := range methods.Len() {
			if m := methods.At(i).Obj(); m.Exported() && !slices.Contains(standard, m.Name()) {
				v.names++
			}
		}
		if s, ok := named.Underlying().(*types.Struct); ok {
			for i := range s.NumFields() {
				if s.Field(i).Exported() {
					v.fields++
				}
			}
		}
	}
}

// doubles lists the names that stand for more than one thing, and those of the table that don't any more.
func (v *vocabulary) doubles(same map[string]string) (found []string) {
	for _, name := range slices.Sorted(maps.Keys(v.by)) {
		if means := v.by[name]; len(means) > 1 && same[name] == "" {
			found = append(found, fmt.Sprintf("%s means %d things: %v", name, len(means), slices.Sorted(maps.Keys(packages(means)))))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(same)) {
		if len(v.by[name]) < 2 {
			found = append(found, name+" is in the table of what means the same, and one package has it")
		}
	}
	return found
}

func packages(means map[types.Object][]string) map[string]bool {
	names := map[string]bool{}
	for _, of := range means {
		for _, name := range of {
			names[name] = true
		}
	}
	return names
}

func vocabularyOf(t *testing.T, dir string) (v vocabulary) {
	t.Helper()
	all, err := list(dir)
	if err != nil {
		t.Fatal(err)
	}
	v.by = map[string]map[types.Object][]string{}
	from := importerFor(all, "", token.NewFileSet())
	for _, path := range slices.Sorted(maps.Keys(all)) {
		if p := all[path]; p.examined() && !p.internal() {
			pkg, err := from.Import(path)
			if err != nil {
				t.Fatal(err)
			}
			v.add(pkg)
		}
	}
	return v
}

func TestNamesMeanOneThing(t *testing.T) {
	v := vocabularyOf(t, "../..")
	for _, wrong := range v.doubles(meansTheSame) {
		t.Error(wrong)
	}
	t.Logf("%d exported names beside the methods of standard interfaces, %d exported fields", v.names, v.fields)
	if v.names > mostNames || v.fields > mostFields {
		t.Errorf("%d names and %d fields; at most %d and %d", v.names, v.fields, mostNames, mostFields)
	}
}

// The check sees what it is for: two things of one name, one thing under two, and a table that is out of date.
func TestVocabulary(t *testing.T) {
	v := vocabularyOf(t, module(t, map[string]string{
		"a/a.go": "// Package a.\npackage a\n\n// T.\ntype T struct{ A, b int }\n\n// M.\nfunc (T) M() {}\n\nfunc (T) String() string { return \"\" }\n\n// Same.\ntype Same struct{}\n\n// Two.\nconst Two = 2\n",
		"b/b.go": "// Package b.\npackage b\n\nimport \"m/a\"\n\n// T.\ntype T struct{ a.T; C int }\n\n// Same.\ntype Same = a.Same\n\n// Two.\nfunc Two() {}\n",
	}))
	got := v.doubles(map[string]string{"Two": "two", "Gone": "nothing"})
	want := []string{"T means 2 things: [a b]", "Gone is in the table of what means the same, and one package has it"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	if v.names != 8 || v.fields != 3 { // T, M, Same, Two; T, M promoted, Same, Two; A; T, C
		t.Errorf("%d names, %d fields", v.names, v.fields)
	}
}
