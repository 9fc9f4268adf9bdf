package main

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"
)

// module writes a module into a temporary directory.
func module(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	files["go.mod"] = "module m\n\ngo 1.24\n"
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestUndocumented(t *testing.T) {
	found, err := check(module(t, map[string]string{
		"a/a.go": `// Package a is documented.
package a

// Group of constants.
const (
	A = 1
	B = 2
)

const C = 3

type T struct{}

func (T) M() {}

// N is documented.
func (T) N() {}

type hidden struct{}

func (hidden) String() string { return "" }

// The names of one type.
type (
	Alias = T
	Other int // a comment on the line will do
	Third int
)

// I is documented.
type I interface {
	Silent()
	// Spoken is documented.
	Spoken()
}

//go:noinline
func Directive() {}
`,
		"b/b.go":     "package b\n",
		"c/main.go":  "package main\n\nfunc Exported() {}\n\nfunc main() {}\n",
		"a/plan9.go": "//go:build plan9\n\npackage a\n\nfunc Plan9() {}\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"a/a.go:10: C", "a/a.go:12: T", "a/a.go:14: T.M", "a/a.go:27: Third",
		"a/a.go:32: I.Silent", "a/a.go:38: Directive", "a/plan9.go:5: Plan9", "package m/b"}
	if !reflect.DeepEqual(found.undocumented, want) {
		t.Errorf("undocumented\n got %q\nwant %q", found.undocumented, want)
	}
	if found.packages != 2 || found.exported != 14 {
		t.Errorf("%d packages, %d symbols; want 2 and 14", found.packages, found.exported)
	}
}

func TestUnshown(t *testing.T) {
	found, err := check(module(t, map[string]string{
		"a/a.go": `// Package a is documented.
package a

type Q[U any] struct{ u U }

func (Q[U]) Shown()         {}
func (Q[U]) Missed()        {}
func (Q[U]) String() string { return "q" }

type Constraint interface{ U1 | U2 }

type U1 int

func (U1) Same() Q[U1] { return Q[U1]{} }

type U2 int

func (U2) Same() Q[U2] { return Q[U2]{} }

func (U2) MarshalJSON() ([]byte, error) { return []byte("2"), nil }

type (
	Q1 = Q[U1]
	Q2 = Q[U2]
)

type Err struct{}

func (*Err) Error() string { return "err" }

type Record struct{ Field U2 }

func F() Q1        { return Q1{} }
func G() error     { return &Err{} }
func Silent()      {}
func InternalOne() {}
`,
		"a/a_test.go": `package a

func ExampleInternalOne() {
	InternalOne()
	// Output:
}
`,
		"a/export_test.go": "package a\n\nvar Helper = 1\n",
		"a/x_test.go": `package a_test

import (
	"encoding/json"
	"errors"
	"fmt"

	"m/a"
)

func Example() {
	q := a.F()
	q.Shown()
	_ = a.Helper
	fmt.Println(q, a.U1(1).Same())
	// Output: q q
}

func ExampleG() {
	var e *a.Err
	fmt.Println(errors.As(a.G(), &e))
	// Output: true
}

func ExampleRecord() {
	text, _ := json.Marshal(a.Record{})
	fmt.Println(string(text))
	// Output: {"Field":2}
}

// Without output, it isn't run.
func ExampleSilent() {
	a.Silent()
}
`,
	}))
	if err != nil {
		t.Fatal(err)
	}
	// U2 itself is shown by no expression of its type; its MarshalJSON is, through the record.
	want := []string{"a.Q.Missed", "a.Q2", "a.Silent", "a.U2", "a.U2.Same"}
	if !reflect.DeepEqual(found.unshown, want) {
		t.Errorf("unshown\n got %q\nwant %q", found.unshown, want)
	}
}

func TestReadme(t *testing.T) {
	found, err := check(module(t, map[string]string{
		"a/a.go": "// Package a is documented.\npackage a\n\n// F is documented.\nfunc F() (int, error) { return 1, nil }\n",
		"README.md": "# m\n\n```go\nx, err := a.F()\nif err != nil {\n\treturn err\n}\n```\n\n" +
			"```go\nfmt.Println(\n\ta.Gone())\n```\n\n```sh\nno go\n```\n\n```go\nif {\n```\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	if found.blocks != 3 || len(found.readme) != 2 || found.readme[0] != "block 2:2: undefined: a.Gone" {
		t.Errorf("%d blocks, %q", found.blocks, found.readme)
	}
}

func TestFiguresInReadme(t *testing.T) {
	found, err := check(module(t, map[string]string{
		"a/a.go": "// Package a is documented.\npackage a\n\n// F is documented.\nfunc F() (string, error) { return \"16.388 to 21.46 m\", nil }\n",
		"README.md": "# m\n\n```go\n" +
			"x, err := a.F() // 16.39 to 21.5 m: rounded, not 16.6\n" + // 1
			"if err != nil {\n\treturn err\n}\n" + // 2 to 4
			"y, err := a.F() // 16.38 to 21.46 m\n" + // 5
			"fmt.Println(1, 2) // 1 2\n" +
			"fmt.Println(1, 2) // 1 3\n" + // 7
			"z, err := a.F() // 16.388 to 21.46 cm\n" + // 8
			"z, err = a.F() // 16.388 to 21.46 m, about 7\n" + // 9
			"z, err = a.F() // 16.388 to 21.46 m, not 16.4\n" + // 10
			"// 16.388 is what it gives\n" + // 11
			"```\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	const value = `"16.388 to 21.46 m"`
	want := []string{
		`block 1:5: the comment says "16.38 to 21.46 m", the code gives ` + value,
		`block 1:7: the comment says "1 3", the code gives "1 2"`,
		`block 1:8: the comment says "16.388 to 21.46 cm", the code gives ` + value,
		`block 1:9: nothing gives 7 in "16.388 to 21.46 m, about 7"`,
		`block 1:10: it is 16.4, and the comment says not`,
		`block 1:11: no statement comes to "16.388 is what it gives"`,
	}
	if !reflect.DeepEqual(found.readme, want) {
		t.Errorf("\n got %q\nwant %q", found.readme, want)
	}
}

func TestBroken(t *testing.T) {
	if _, err := check(module(t, map[string]string{"a.go": "package a\n\nfunc F() { undefined() }\n"})); err == nil {
		t.Error("a module that doesn't compile passes")
	}
}

// What only the module itself can import needs doc comments and no example.
func TestInternalNeedsNoExample(t *testing.T) {
	found, err := check(module(t, map[string]string{
		"internal/a/a.go":  "// Package a is documented.\npackage a\n\n// F is documented.\nfunc F() {}\n\nfunc G() {}\n",
		"internals/b/b.go": "// Package b is documented.\npackage b\n\n// F is documented.\nfunc F() {}\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"internal/a/a.go:7: G"}; !reflect.DeepEqual(found.undocumented, want) {
		t.Errorf("undocumented\n got %q\nwant %q", found.undocumented, want)
	}
	if want := []string{"b.F"}; !reflect.DeepEqual(found.unshown, want) {
		t.Errorf("unshown\n got %q\nwant %q", found.unshown, want)
	}
}
