package main

import (
	"flag"
	"fmt"
	"go/token"
	"go/types"
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write ../api.txt anew, to be read before it is kept")

// listing is what a module exports, a line a constant, variable, function, type, field and method, each with its
// type. A field has its JSON name too. What a constant is isn't in it.
func listing(t *testing.T, dir string) (lines []string) {
	t.Helper()
	all, err := list(dir)
	if err != nil {
		t.Fatal(err)
	}
	from := importerFor(all, "", token.NewFileSet())
	for _, path := range slices.Sorted(maps.Keys(all)) {
		p := all[path]
		if !p.examined() || p.internal() {
			continue
		}
		pkg, err := from.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		put := func(format string, of ...any) {
			lines = append(lines, pkg.Name()+": "+fmt.Sprintf(format, of...))
		}
		local := func(other *types.Package) string {
			if other == pkg {
				return ""
			}
			return other.Name()
		}
		for _, name := range pkg.Scope().Names() {
			object := pkg.Scope().Lookup(name)
			if !object.Exported() {
				continue
			}
			constant, isConstant := object.(*types.Const)
			named, isNamed := object.Type().(*types.Named)
			if _, isType := object.(*types.TypeName); isConstant {
				put("const %s %s", name, types.TypeString(constant.Type(), local))
				continue
			} else if !isType || !isNamed {
				put("%s", types.ObjectString(object, local))
				continue
			}
			fields, isStruct := named.Underlying().(*types.Struct)
			if isStruct {
				put("type %s struct", types.TypeString(named, local))
				for i := range fields.NumFields() {
					if field := fields.Field(i); field.Exported() {
						json, _, _ := strings.Cut(reflect.StructTag(fields.Tag(i)).Get("json"), ",")
						put("%s", strings.TrimSpace(fmt.Sprintf("field %s.%s %s %s", name, field.Name(), types.TypeString(field.Type(), local), json)))
					}
				}
			} else {
				put("%s", types.ObjectString(object, local))
			}
			for m := range methods(named) {
				put("%s", types.ObjectString(m, local))
			}
		}
	}
	slices.Sort(lines)
	return lines
}

// What the library exports is what ../api.txt lists, so that nobody changes it without seeing it.
func TestAPI(t *testing.T) {
	const file = "../api.txt"
	got := listing(t, "../..")
	if *update {
		if err := os.WriteFile(file, []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	slices.Sort(want)
	if len(want) < 1000 {
		t.Errorf("%s has %d lines", file, len(want))
	}
	for _, line := range want {
		if _, found := slices.BinarySearch(got, line); !found {
			t.Errorf("gone: %s", line)
		}
	}
	for _, line := range got {
		if _, found := slices.BinarySearch(want, line); !found {
			t.Errorf("new: %s", line)
		}
	}
	if t.Failed() {
		t.Log("what goes or changes breaks a promise of CHANGELOG.md; else: go -C testdata/doccheck test -run API -update")
	}
}

// The listing has each kind of thing, and nothing that isn't exported.
func TestListing(t *testing.T) {
	got := listing(t, module(t, map[string]string{
		"a/a.go": "// Package a.\npackage a\n\nimport \"io\"\n\n// T.\ntype T struct{ A int `json:\"a,omitempty\"`; b int; io.Reader }\n\n" +
			"// M.\nfunc (t *T) M(r io.Reader) error { return nil }\n\nfunc (T) m() {}\n\n// F.\nfunc F[X any](x ...X) {}\n\n" +
			"// C.\nconst C T2 = 1\n\n// T2.\ntype T2 uint8\n\n// V.\nvar V T\n\n// S.\ntype S = T\n\n// I.\ntype I interface{ Get() T }\n",
		"internal/b/b.go": "// Package b.\npackage b\n\n// B.\nvar B int\n",
	}))
	want := []string{"a: const C T2", "a: field T.A int a", "a: field T.Reader io.Reader", "a: func (*T).M(r io.Reader) error", "a: func F[X any](x ...X)",
		"a: type I interface{Get() T}", "a: type S = T", "a: type T struct", "a: type T2 uint8", "a: var V T"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
}
