package frozen

import (
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Edited is an edit of a file, see [Edit].
type Edited struct{ Name, Edit string }

// Edits are edits of texts: each member and element removed, lists longer by one, each value exchanged for nonsense, for
// another number and for what the others have in its place, and members that only others have. A prefix such as "rules"
// stands before each. More are edits that each text has, too.
func Edits(prefix string, texts map[string][]byte, more ...string) (all []Edited) {
	seen := pool{}
	docs := map[string]any{}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		var doc any
		if err := json.Unmarshal(texts[name], &doc); err != nil {
			panic(err)
		}
		docs[name] = doc
		seen.add("", doc)
	}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		for _, e := range append(seen.edits("", "", docs[name]), more...) {
			all = append(all, Edited{name, prefix + e})
		}
	}
	return all
}

// A pool is what is in the place of a path without its numbers, as JSON.
type pool map[string][]string

// most is how many values of others are tried in a place.
const most = 2

func (p pool) add(place string, doc any) {
	text := compact(doc)
	if !slices.Contains(p[place], text) {
		p[place] = append(p[place], text)
	}
	switch d := doc.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(d)) {
			p.add(place+"/"+key, d[key])
		}
	case []any:
		for _, value := range d {
			p.add(place+"/#", value)
		}
	}
}

func (p pool) edits(path, place string, doc any) (all []string) {
	others := slices.Sorted(slices.Values(p[place]))
	others = slices.DeleteFunc(others, func(text string) bool { return text == compact(doc) })
	// Not always the first of many: they would be much alike.
	slices.SortStableFunc(others, func(a, b string) int { return cmp.Compare(mixed(path+a), mixed(path+b)) })
	switch d := doc.(type) {
	case map[string]any:
		for _, text := range others[:min(most, len(others))] {
			all = append(all, path+"="+text)
		}
		for _, key := range slices.Sorted(maps.Keys(d)) {
			all = append(all, path+"/"+key+"-")
			all = append(all, p.edits(path+"/"+key, place+"/"+key, d[key])...)
		}
		for _, other := range slices.Sorted(maps.Keys(p)) {
			if key, ok := strings.CutPrefix(other, place+"/"); ok && !strings.Contains(key, "/") && key != "#" && d[key] == nil {
				for _, text := range p[other][:min(most, len(p[other]))] {
					all = append(all, path+"/"+key+"="+text)
				}
			}
		}
		return all
	case []any:
		if len(d) > 0 {
			all = append(all, fmt.Sprintf("%s/%d=%s", path, len(d), compact(d[len(d)-1])), path+"=[]")
		}
		for i, value := range d {
			if len(d) > 1 {
				all = append(all, fmt.Sprintf("%s/%d-", path, i))
			}
			all = append(all, p.edits(fmt.Sprintf("%s/%d", path, i), place+"/#", value)...)
		}
		return all
	case string:
		all = append(all, path+`="?"`)
		if at := number.FindStringIndex(d); at != nil {
			for _, n := range []string{"0", "1000"} {
				all = append(all, path+"="+compact(d[:at[0]]+n+d[at[1]:]))
			}
		}
	case float64:
		for _, n := range []float64{0, -1, d + 1} {
			all = append(all, path+"="+compact(n))
		}
	case bool:
		all = append(all, path+"="+compact(!d))
	}
	for _, text := range others[:min(most, len(others))] {
		all = append(all, path+"="+text)
	}
	return all
}

var number = regexp.MustCompile(`[0-9]+(\.[0-9]+)?(/[0-9]+)?`)

func compact(v any) string {
	text, _ := json.Marshal(v)
	return string(text)
}

func mixed(s string) uint32 {
	h := fnv.New32a()
	h.Write([]byte(s))
	return h.Sum32()
}

// TestEdits gives each edit to a call and compares what it answers with a table: a line a place, with a sum of each answer
// in the order of the edits. With short only one place in twenty is tried.
func TestEdits(t *testing.T, table string, edits []Edited, call func(name, edit string) string) {
	var places []string // in order
	at := map[string][]Edited{}
	for _, e := range edits {
		place := e.Name + " " + e.Edit[:strings.IndexAny(e.Edit, "=-")]
		if at[place] == nil {
			places = append(places, place)
		}
		at[place] = append(at[place], e)
	}
	text, err := os.ReadFile(table)
	if err != nil && !*update {
		t.Fatal(err)
	}
	was := map[string][]string{}
	for line := range strings.Lines(string(text)) {
		place, sums, _ := strings.Cut(strings.TrimSpace(line), ": ")
		was[place] = strings.Fields(sums)
	}
	if *update {
		was = nil
	} else if len(was) != len(places) {
		t.Errorf("%s has %d places, and there are %d", table, len(was), len(places))
	}
	var out strings.Builder
	var questions []func() bool
	for i, place := range places {
		if testing.Short() && i%20 != 0 {
			continue
		}
		if Try != nil {
			for k, e := range at[place] {
				questions = append(questions, func() bool { return k < len(was[place]) && was[place][k] == sum(call(e.Name, e.Edit)) })
			}
			continue
		}
		out.WriteString(place + ":")
		for k, e := range at[place] {
			answer := call(e.Name, e.Edit)
			is := sum(answer)
			out.WriteString(" " + is)
			if was != nil && (k >= len(was[place]) || was[place][k] != is) {
				t.Fatalf("%s with %s gives another answer than the table's: %.2000s", e.Name, e.Edit, answer)
			}
		}
		out.WriteString("\n")
	}
	if Try != nil {
		Try(questions)
		return
	}
	if *update && !testing.Short() {
		if err := os.WriteFile(table, []byte(out.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

func sum(answer string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(answer)))[:6] }

// Dump is a value with all that is in it and exported, but what is zero: what has words in its words.
func Dump(v any) string {
	var b strings.Builder
	dump(&b, reflect.ValueOf(v))
	return b.String()
}

func dump(b *strings.Builder, v reflect.Value) {
	if v.CanInterface() && (v.Kind() != reflect.Pointer || !v.IsNil()) {
		if s, ok := v.Interface().(fmt.Stringer); ok {
			b.WriteString(s.String())
			return
		}
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			dump(b, v.Elem())
		}
	case reflect.Struct:
		b.WriteString("{")
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && !v.Field(i).IsZero() {
				b.WriteString(f.Name + ":")
				dump(b, v.Field(i))
				b.WriteString(" ")
			}
		}
		b.WriteString("}\n")
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			b.WriteString("- ")
			dump(b, v.Index(i))
			b.WriteString("\n")
		}
	case reflect.Map:
		for _, key := range slices.SortedFunc(slices.Values(v.MapKeys()), func(a, b reflect.Value) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) }) {
			fmt.Fprint(b, key, "=")
			dump(b, v.MapIndex(key))
			b.WriteString(" ")
		}
	case reflect.Func, reflect.Chan, reflect.UnsafePointer:
		panic("an address is another each time")
	default:
		fmt.Fprint(b, v)
	}
}

// Spoil sets a part of what p points to, by its path as [Parts] gives it, to what only a program can make of it: a word
// that is none, a number below zero, nothing.
func Spoil(p any, path string) {
	parts(reflect.ValueOf(p).Elem(), "", func(at string, v reflect.Value) {
		if at != path {
			return
		}
		switch {
		case v.CanUint():
			v.SetUint(200)
		case v.CanInt():
			v.SetInt(-1)
		default:
			v.SetZero()
		}
	})
}

// Parts are the paths of all that is exported in what p points to, lists and what pointers point to included.
func Parts(p any) (all []string) {
	parts(reflect.ValueOf(p).Elem(), "", func(path string, _ reflect.Value) { all = append(all, path) })
	return all
}

func parts(v reflect.Value, path string, visit func(string, reflect.Value)) {
	before := v.Kind()
	visit(path, v)
	switch before {
	case reflect.Pointer:
		if !v.IsNil() {
			parts(v.Elem(), path+"*", visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			parts(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				parts(v.Field(i), path+"."+f.Name, visit)
			}
		}
	}
}
