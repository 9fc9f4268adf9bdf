package schemacheck

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// mutants are documents with one thing wrong, or merely different.
type mutants struct {
	r     *rand.Rand
	texts []string         // that stand somewhere in a document
	known map[string][]any // values that stand under a key somewhere
}

func (m *mutants) pick(n int) int { return m.r.IntN(n) }

func one[T any](m *mutants, of ...T) T { return of[m.pick(len(of))] }

// place is a value in a document, with how to put another in its place.
type place struct {
	key   string // of it, or of the list that it is in
	value any
	put   func(any)
	drop  func()
}

func places(key string, doc any, all *[]place) {
	switch d := doc.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(d)) {
			*all = append(*all, place{key, d[key], func(v any) { d[key] = v }, func() { delete(d, key) }})
			places(key, d[key], all)
		}
	case []any:
		for i := range d {
			*all = append(*all, place{key, d[i], func(v any) { d[i] = v }, nil})
			places(key, d[i], all)
		}
	}
}

// mutant is a copy of a document with one change.
func (m *mutants) mutant(doc any) any {
	doc = copied(doc)
	var all []place
	places("", doc, &all)
	named := map[string][]place{} // each field is as likely as any other, however often it is there
	for _, p := range all {
		named[p.key] = append(named[p.key], p)
	}
	p := one(m, named[one(m, slices.Sorted(maps.Keys(named))...)]...)
	switch chance := m.pick(20); {
	case chance == 0:
		p.put(nil)
		return doc
	case chance == 1:
		p.put(one[any](m, true, json.Number("7"), "x", []any{}, map[string]any{}))
		return doc
	case chance == 2 && p.drop != nil:
		p.drop()
		return doc
	}
	switch v := p.value.(type) {
	case string:
		p.put(m.text(v))
	case json.Number:
		p.put(m.number(v))
	case bool:
		p.put(one[any](m, !v, fmt.Sprint(v), json.Number("0")))
	case []any:
		p.put(m.list(v))
	case map[string]any:
		m.object(v)
	}
	return doc
}

func (m *mutants) text(text string) any {
	runes := []rune(text)
	at := m.pick(len(runes) + 1)
	odd := one(m, []rune("abcxyzNML019 -./,+±°·%½²\u00a0'\"#()\u200b\n")...)
	digits := func(change func(rune) rune) string {
		return strings.Map(func(r rune) rune {
			if '0' <= r && r <= '9' {
				return change(r)
			}
			return r
		}, text)
	}
	rest := runes[min(at+1, len(runes)):]
	switch m.pick(16) {
	case 0, 1:
		return string(runes[:at]) + string(rest)
	case 2, 3:
		return string(runes[:at]) + string(odd) + string(runes[at:])
	case 4, 5:
		return string(runes[:at]) + string(odd) + string(rest)
	case 6:
		return string(runes[:at])
	case 7:
		return one(m, "", " ", "x", "0", "-", "null")
	case 8:
		return one(m, strings.ToUpper(text), strings.ToLower(text))
	case 9:
		return digits(func(rune) rune { return '0' + rune(m.pick(10)) })
	case 10:
		return digits(func(rune) rune { return '0' })
	case 11:
		return "-" + text
	case 12:
		return strings.Replace(text, " ", one(m, "", "  ", "\u00a0", "-", "\t"), 1)
	case 13:
		return strings.Repeat(text+" ", 1+600/(len(text)+1))
	case 14:
		return text + one(m, " ", ".", " x", "5", " m", " 5", "%")
	}
	return one(m, m.texts...)
}

func (m *mutants) number(n json.Number) any {
	return one[any](m, json.Number("-1"), json.Number("0"), json.Number("1"), json.Number("41"), json.Number("1.5"), json.Number("1000001"),
		json.Number("99999999999"), n.String(), json.Number(n.String()+".5"), json.Number("-"+n.String()))
}

func (m *mutants) list(list []any) any {
	switch m.pick(5) {
	case 0:
		return []any{}
	case 1:
		if len(list) > 0 {
			at := m.pick(len(list))
			return slices.Delete(slices.Clone(list), at, at+1)
		}
	case 2:
		if len(list) > 0 {
			return append(slices.Clone(list), copied(list[m.pick(len(list))]))
		}
	case 3:
		long := []any{}
		for len(list) > 0 && len(long) < 101 {
			long = append(long, list...)
		}
		return long
	}
	list = slices.Clone(list)
	slices.Reverse(list)
	return list
}

// object gets a field that some object has, one of another name, or one less.
func (m *mutants) object(object map[string]any) {
	keys := slices.Sorted(maps.Keys(object))
	switch m.pick(4) {
	case 0, 1:
		key := one(m, slices.Sorted(maps.Keys(m.known))...)
		object[key] = copied(one(m, m.known[key]...))
	case 2:
		object[one(m, "unheardOf", "id", "version", "")] = "x"
	default:
		if len(keys) > 0 {
			key := keys[m.pick(len(keys))]
			object[key+one(m, "s", "x")] = object[key]
			delete(object, key)
		}
	}
}

// collect takes up the values of a document.
func (m *mutants) collect(doc any) {
	switch d := doc.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(d)) {
			m.known[key] = append(m.known[key], d[key])
			m.collect(d[key])
		}
	case []any:
		for _, child := range d {
			m.collect(child)
		}
	case string:
		m.texts = append(m.texts, d)
	}
}

func unmarshalled(t *testing.T, text []byte) any {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// words are the types whose values are words of a list, or units.
var words = []interface {
	encoding.TextMarshaler
	encoding.TextUnmarshaler
}{
	new(units.TorqueUnit), new(units.VolumeUnit), new(units.MassUnit), new(units.LengthUnit), new(units.TemperatureScale),
	new(torque.Rule), new(torque.DeviationBasis), new(turn.Hand), new(turn.View), new(turn.Rotation), new(drain.Provenance), new(waste.Stream),
	new(service.Kind), new(service.Side), new(service.Fit), new(service.AdapterKind),
}

// asWritten puts the words of lists as they are written where they are in another letter case, or with other
// blanks. Schemas have them as they are written, so that generators make lists of them.
func asWritten(doc any) any {
	switch d := doc.(type) {
	case map[string]any:
		for key := range d {
			d[key] = asWritten(d[key])
		}
	case []any:
		for i := range d {
			d[i] = asWritten(d[i])
		}
	case string:
		for _, word := range words {
			if word.UnmarshalText([]byte(d)) == nil {
				text, _ := word.MarshalText()
				return string(text)
			}
		}
	}
	return doc
}

// The classes of what Go alone refuses: what no JSON Schema can say, and how the library says it.
var beyond = []struct{ rule, says string }{
	{"order: a schema compares no value with another", `not in order|the low limit is above|lowest to highest|range runs backwards|a band around|settings`},
	{"names: a schema looks nothing up in another list or file", `is given twice|given twice|no such mark|not known here|differ|is said to be`},
	{"amount: a schema has no bounds for a number in a text", `outside the tables|zero, or not given|more than zero|limits are zero|more than \d+ turns|above zero|and at most|` +
		`nothing to turn|\d to \d|can't be added|finer than|a diameter|no pitch|threads to the inch|absolute zero|nothing, or more|\(API`},
	{"grammar: a pattern that takes all spellings takes some that mean nothing", `at byte \d+|out of place|negative|could be|no number|no thread|no fraction|no datum|tolerance`},
	{"marks: a ring's labels are judged together", `^shop|ring`},
}

func classOf(e *service.JobError) string {
	for _, class := range beyond {
		if regexp.MustCompile(class.says).MatchString(e.Error()) {
			return class.rule
		}
	}
	return ""
}

// Source: json-schema.
func TestMutants(t *testing.T) {
	const seed = 20261127
	tried := 25_000
	if n, err := strconv.Atoi(os.Getenv("MUTANTS")); err == nil {
		tried = n
	}
	m := &mutants{r: rand.New(rand.NewPCG(seed, 0)), known: map[string][]any{}}
	type form struct {
		schema *jsonschema.Schema
		read   func([]byte) (any, error)
		docs   []any
	}
	forms := map[string]*form{
		"job":    {read: func(text []byte) (any, error) { return service.ReadJob(text) }},
		"asDone": {read: func(text []byte) (any, error) { return service.ReadAsDone(text) }},
		"rules":  {read: func(text []byte) (any, error) { return service.ReadRules(text) }},
	}
	files := map[string][]string{
		"job":    {"service/testdata/bench.json", "service/testdata/jobs/*.json", "examples/servicesheet/demo.json"},
		"asDone": {"service/testdata/asdone.json"},
		"rules":  {"service/testdata/rules.json", "examples/servicesheet/demo-rules.json"},
	}
	var names []string
	for _, name := range slices.Sorted(maps.Keys(forms)) {
		f := forms[name]
		f.schema = compiled(t, service.Schemas()[name])
		for _, pattern := range files[name] {
			all := read(t, pattern)
			for _, file := range slices.Sorted(maps.Keys(all)) {
				doc := unmarshalled(t, all[file])
				f.docs = append(f.docs, doc)
				m.collect(doc)
			}
		}
	}
	names = []string{"job", "job", "asDone", "asDone", "rules"}
	refusedByBoth, takenByBoth, spelt, total := 0, 0, 0, 0
	classes := map[string]int{}
	for range tried {
		name := one(m, names...)
		f := forms[name]
		doc := m.mutant(one(m, f.docs...))
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		bySchema := f.schema.Validate(doc)
		_, byGo := f.read(text)
		switch {
		case bySchema != nil && byGo != nil:
			refusedByBoth++
		case bySchema == nil && byGo == nil:
			takenByBoth++
		case byGo == nil:
			if err := f.schema.Validate(asWritten(copied(doc))); err != nil {
				t.Errorf("%s: only the schema refuses %s: %v", name, text, err)
			}
			spelt++
		default:
			total++
			errs, ok := byGo.(service.JobErrors)
			if !ok {
				t.Fatal(byGo)
			}
			class := classOf(errs[0])
			classes[class]++
			if class == "" {
				t.Errorf("%s: only Go refuses: %v: %s", name, errs[0], text)
			}
		}
	}
	t.Logf("seed %d: of %d, both refuse %d, both take %d, Go alone reads %d words in another spelling", seed, tried, refusedByBoth, takenByBoth, spelt)
	for _, class := range slices.Sorted(maps.Keys(classes)) {
		t.Logf("Go alone refuses %d: %s", classes[class], class)
	}
	if total > 300 || len(classes) > 6 {
		t.Errorf("Go alone refuses %d of %d, in %d classes; 300 in 6 would do", total, tried, len(classes))
	}
	if min(takenByBoth, refusedByBoth) < tried/5 {
		t.Error("hardly a mutant that both take, or that both refuse")
	}
}
