// Package strictjson reads JSON without the leniency of encoding/json, which stops at the first error,
// lets the second of two equal keys win, matches keys in any letter case, and takes null for nothing
// said. Whoever mends a file wants all that is wrong with it said at once, each with its path. So the
// text is read into a tree first (that part is encoding/json's), and the tree into Go values.
package strictjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/snugturn/internal/plain"
)

// What can be wrong with a text.
var (
	ErrJSON    = errors.New("not JSON")
	ErrSize    = errors.New("too large") // more text, or more values, than the reader takes
	ErrUnknown = errors.New("unknown field")
	ErrTwice   = errors.New("field given twice")
	ErrMissing = errors.New("missing field")
	ErrType    = errors.New("wrong type") // a number instead of a string, and the like
	ErrText    = errors.New("no plain text")
	ErrRange   = errors.New("out of range")
)

// The bounds of every text, so that none is costly to refuse.
const (
	MaxItems  = 1000   // of one list or object
	maxValues = 50_000 // of all of them together: a MiB of brackets would fill memory
	maxDepth  = 16
)

// Report takes one thing that is wrong: where, "stations[1].out", what, what would be accepted, and one
// of the errors above. Where a value refused its text, the cause is that value's error, which says all of
// it, and problem is empty.
type Report func(path, problem, want string, cause error)

// Reader says how much is read, and how what is wrong with it is put.
type Reader struct {
	Bytes   int  // of a whole text, at the most
	Text    int  // bytes of one string, at the most
	Partial bool // no field has to be there: whoever looks at the values says what they lack
	Extra   bool // fields that aren't known are passed over
	// Sample is what a type that reads text would read, for errors.
	Sample func(reflect.Type) string
	// InParts reports whether a value that can read itself is read field by field all the same, so that
	// an error of one field has its path. Nil: none is.
	InParts func(into any) bool
}

// Read fills the struct that into points to. A field is required unless its tag says omitempty or
// omitzero. What is refused stays as it was.
func (r Reader) Read(data []byte, into any, report Report) {
	if root, ok := r.Parse(data, "", report); ok {
		r.Bind(root, into, report)
	}
}

// Problem is one thing that is wrong, as a [Report] takes it.
type Problem struct {
	Path, Problem, Want string
	Cause               error
}

// First is Read for a value that tells one thing that is wrong, the first; nil where nothing is.
func (r Reader) First(data []byte, into any) (first *Problem) {
	r.Read(data, into, func(path, problem, want string, cause error) {
		if first == nil {
			first = &Problem{path, problem, want, cause}
		}
	})
	return first
}

// What is where it is and what.
func (p Problem) What() string {
	if p.Path == "" {
		return p.Problem
	}
	return p.Path + ": " + p.Problem
}

// Parse reads a text into a tree whose paths begin with path; ok means that it can be bound.
func (r Reader) Parse(data []byte, path string, report Report) (root Node, ok bool) {
	if len(data) > r.Bytes {
		report(path, fmt.Sprintf("%d bytes of text", len(data)), "at most "+size(r.Bytes), ErrSize)
		return root, false
	}
	if root, ok = scan(data, path); ok {
		return root, true
	}
	return parse(data, path, report)
}

// parse is [Reader.Parse] with the words for all that is wrong. What is right [scan] reads alike.
func parse(data []byte, path string, report Report) (root Node, ok bool) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	p := parser{Decoder: d, data: data, left: maxValues}
	root, err := p.node(path, 0)
	if err != errMany {
		for _, twice := range p.twice {
			report(twice, "given twice", "it once", ErrTwice)
		}
	}
	if err == nil {
		if _, err = d.Token(); err == nil {
			err = errors.New("unexpected data after the object")
		} else if errors.Is(err, io.EOF) {
			return root, true
		}
	}
	after := fmt.Sprintf("after byte %d: ", d.InputOffset())
	switch {
	case err == errMany:
		report(path, after+err.Error(), fmt.Sprintf("at most %d of a list or an object, and %d in all", MaxItems, maxValues), ErrSize)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		report(path, after+"it ends too soon", "one JSON object", ErrJSON)
	default:
		report(path, after+plain.Cut(err.Error()), "one JSON object", ErrJSON)
	}
	return root, false
}

func size(bytes int) string {
	if mib := bytes >> 20; mib > 0 && mib<<20 == bytes {
		return strconv.Itoa(mib) + " MiB"
	}
	return strconv.Itoa(bytes) + " bytes"
}

// Object splits an object into its fields, or says what is wrong with it: text that isn't valid JSON
// or no object, a key that isn't known or is given twice, a null. Keys may be missing.
func Object(data []byte, known ...string) (fields map[string]Node, problem string) {
	root, ok := Reader{Bytes: len(data)}.Parse(data, "", func(path, what, _ string, cause error) {
		if cause == ErrTwice && problem == "" {
			problem = "the key " + plain.Quote(path) + " is " + what
		}
	})
	switch {
	case !ok || !utf8.Valid(data):
		return nil, "not valid JSON"
	case !root.IsObject():
		return nil, "no JSON object"
	}
	fields = make(map[string]Node, len(known))
	for _, m := range root.members {
		switch {
		case problem != "":
		case !slices.Contains(known, m.key):
			problem = "the key " + plain.Quote(m.key) + " is unknown"
		case m.value == nil:
			problem = "the key " + plain.Quote(m.key) + " is null"
		}
		fields[m.key] = m.Node
	}
	if problem != "" {
		return nil, problem
	}
	return fields, ""
}

// parser reads values until there are too many of them.
type parser struct {
	*json.Decoder
	data  []byte
	left  int
	twice []string // the paths of fields that were given before
}

var errMany = errors.New("too many values")

func (p *parser) node(path string, depth int) (Node, error) {
	n := Node{path: path}
	if depth > maxDepth {
		return n, errors.New("nested too deeply")
	}
	if p.left--; p.left < 0 {
		return n, errMany
	}
	before := p.InputOffset()
	token, err := p.Token()
	if err != nil {
		return n, err
	}
	switch token {
	case json.Delim('{'):
		err = p.object(&n, depth)
	case json.Delim('['):
		err = p.list(&n, depth)
	default:
		n.value = token
	}
	if _, one := token.(json.Delim); one && err == nil {
		_, err = p.Token() // the closing one
	}
	n.text = bytes.TrimLeft(p.data[before:p.InputOffset()], " \t\r\n:,")
	return n, err
}

func (p *parser) object(n *Node, depth int) error {
	n.value = object{}
	seen := map[string]bool{}
	for count := 0; p.More(); count++ {
		if count == MaxItems {
			return errMany
		}
		token, err := p.Token()
		if err != nil {
			return err
		}
		key, _ := token.(string)
		child, err := p.node(Join(n.path, key), depth+1)
		if err != nil {
			return err
		}
		if seen[key] {
			p.twice = append(p.twice, child.path)
			continue
		}
		seen[key] = true
		n.members = append(n.members, member{key, child})
	}
	return nil
}

func (p *parser) list(n *Node, depth int) error {
	list := []Node{}
	for p.More() {
		child, err := p.node(At(n.path, len(list)), depth+1)
		if err != nil {
			return err
		}
		if list = append(list, child); len(list) > MaxItems {
			return errMany
		}
	}
	n.value = list
	return nil
}

// Join is the path of a field.
func Join(path, key string) string {
	if !plainKey(key) {
		key = plain.Quote(key)
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

// At is the path of a list's element.
func At(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// Within reports whether one path is another or a part of it.
func Within(inner, outer string) bool {
	rest, ok := strings.CutPrefix(inner, outer)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

func plainKey(key string) bool {
	for i := range len(key) {
		if c := key[i]; (c|0x20 < 'a' || c|0x20 > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return key != "" && len(key) <= 40
}
