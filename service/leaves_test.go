package service

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/turn"
)

// edit is one place of a text put otherwise.
type edit struct {
	start, end int
	by         string
	same       bool // and the value of the whole is the same
}

// editor walks a text in canonical form and collects every edit of every leaf, field and element of it.
type editor struct {
	text   string
	leaves int
	edits  []edit
}

func (e *editor) put(start, end int, by string) {
	e.edits = append(e.edits, edit{start, end, by, e.text[start:end] == by})
}

// alike is an edit that changes the layout alone.
func (e *editor) alike(start, end int, by string) {
	e.edits = append(e.edits, edit{start, end, by, true})
}

// value edits the value at i and gives its end.
func (e *editor) value(i int) int {
	switch e.text[i] {
	case '{':
		return e.list(i, '}', true)
	case '[':
		return e.list(i, ']', false)
	}
	e.leaves++
	if e.text[i] != '"' {
		end := i + strings.IndexAny(e.text[i:], ",]}")
		was := e.text[i:end]
		e.put(i, end, `"`+was+`"`)
		e.put(i, end, "null")
		switch was {
		case "true", "false":
			e.put(i, end, map[string]string{"true": "false", "false": "true"}[was])
		default:
			e.put(i, end, was+"1")
			e.put(i, end, "-1"+was)
			e.alike(i, end, was+".0")
			e.alike(i, end, was+"e0")
		}
		return end
	}
	end := e.quoted(i)
	was := e.text[i+1 : end-1]
	e.put(i, end, `"`+was+`x"`)
	e.put(i, end, "null")
	if at := strings.IndexAny(was, "0123456789"); at >= 0 {
		e.put(i, end, `"`+was[:at]+string('0'+(was[at]-'0'+1)%10)+was[at+1:]+`"`)
	}
	if was != "" && was[0] != '\\' && was[0] < 0x80 {
		e.alike(i+1, i+2, fmt.Sprintf(`\u%04x`, was[0]))
	}
	return end
}

func (e *editor) quoted(i int) int {
	for i++; e.text[i] != '"'; i++ {
		if e.text[i] == '\\' {
			i++
		}
	}
	return i + 1
}

// list edits the fields of an object, or the elements of a list, and what is in them.
func (e *editor) list(i int, closing byte, keyed bool) int {
	before := -1 // where the one before begins
	for i++; e.text[i] != closing; {
		start := i
		if keyed {
			i = e.quoted(i)
			e.put(start, i, e.text[start:i-1]+`x"`)
			e.alike(i, i+1, " : ")
			i++
		}
		i = e.value(i)
		one := e.text[start:i]
		switch { // with the comma that parts it from its neighbour
		case before >= 0:
			e.put(start-1, i, "")
		case e.text[i] == ',':
			e.put(start, i+1, "")
		default:
			e.put(start, i, "")
		}
		e.put(start, i, one+","+one)
		if swapped := one + "," + e.text[max(before, 0):start-1]; before >= 0 && keyed {
			e.alike(before, i, swapped)
		} else if before >= 0 {
			e.put(before, i, swapped)
		}
		before = start
		if e.text[i] == ',' {
			i++
		}
	}
	return i + 1
}

// Every leaf edited, removed, doubled; every field renamed; neighbours in every list swapped: what changes the meaning
// is found, and nothing else is.
func TestEveryLeaf(t *testing.T) {
	for name, every := range map[string]int{"bench": 1, "month": 5} {
		text := string(benchRecord(t))
		if name == "month" {
			text = string(monthRecord(t, "US federal"))
		}
		if testing.Short() {
			every = 50
		}
		e := editor{text: text}
		require.Equal(t, len(text), e.value(0))
		require.Greater(t, e.leaves, 300)
		tried, passed, alike, layouts := 0, 0, 0, 0
		for i, edit := range e.edits {
			if i%every != 0 {
				continue
			}
			layout := edit.same && e.text[edit.start:edit.end] != edit.by
			if layout { // each costs a review
				if layouts++; layouts%20 != 0 {
					continue
				}
			}
			tried++
			_, err := ReadRecord([]byte(text[:edit.start] + edit.by + text[edit.end:]))
			if err == nil {
				passed++
			}
			if edit.same {
				alike++
			}
			if (err == nil) != edit.same {
				around := text[max(0, edit.start-60):edit.start]
				t.Fatalf("%s: …%s [%s] put as [%s]: %v", name, around, text[edit.start:edit.end], edit.by, err)
			}
		}
		assert.Equal(t, alike, passed)
		assert.NotZero(t, passed)
		t.Logf("%s: %d leaves; of %d edits %d tried: %d pass, and the value of %d is the same", name, e.leaves, len(e.edits), tried, passed, alike)
	}
}

// layout writes JSON in another way than the canonical one.
type layout struct {
	less          func(a, b string) bool
	comma, colon  string
	text, integer func(string) string
}

func (l layout) write(b *strings.Builder, v any) {
	switch v := v.(type) {
	case map[string]any:
		keys := slices.SortedFunc(maps.Keys(v), func(a, b string) int {
			if l.less(a, b) {
				return -1
			}
			return 1
		})
		b.WriteByte('{')
		for i, key := range keys {
			if i > 0 {
				b.WriteString(l.comma)
			}
			b.WriteString(l.text(key) + l.colon)
			l.write(b, v[key])
		}
		b.WriteByte('}')
	case []any:
		b.WriteByte('[')
		for i, one := range v {
			if i > 0 {
				b.WriteString(l.comma)
			}
			l.write(b, one)
		}
		b.WriteByte(']')
	case string:
		b.WriteString(l.text(v))
	case json.Number:
		b.WriteString(l.integer(v.String()))
	default:
		fmt.Fprint(b, v)
	}
}

// A record is verified in whatever layout it comes back, and written again as it was.
func TestRecordInAnyLayout(t *testing.T) {
	escaped := func(s string) string {
		var b strings.Builder
		for _, unit := range utf16.Encode([]rune(s)) {
			fmt.Fprintf(&b, `\u%04X`, unit)
		}
		return `"` + b.String() + `"`
	}
	as := func(n string) string { return n }
	for name, l := range map[string]layout{
		// Keys by length and then by their bytes, a blank behind comma and colon: as a jsonb column is given back;
		// testdata/dbcheck has it from the database itself. Source: jsonb-layout.
		"JSONB":     {func(a, b string) bool { return len(a) < len(b) || len(a) == len(b) && a < b }, ", ", ": ", strconv.Quote, as},
		"backwards": {func(a, b string) bool { return a > b }, "\r\n\t,\r\n\t", " : ", strconv.Quote, as},
		"escapes":   {func(a, b string) bool { return a < b }, ",", ":", escaped, func(n string) string { return n + ".0E+0" }},
		"points":    {func(a, b string) bool { return a > b }, ",", ":", strconv.QuoteToASCII, func(n string) string { return n + ".000" }},
	} {
		text := monthRecord(t, "US federal")
		d := json.NewDecoder(bytes.NewReader(text))
		d.UseNumber()
		var tree any
		require.NoError(t, d.Decode(&tree))
		var b strings.Builder
		l.write(&b, tree)
		record, err := ReadRecord([]byte(b.String()))
		require.NoError(t, err, name)
		assert.True(t, record.Verified, name)
		again, err := record.MarshalJSON()
		require.NoError(t, err)
		assert.Equal(t, string(text), string(again), name)
		wrapped, err := json.Marshal(map[string]any{"record": record})
		require.NoError(t, err)
		var kept struct{ Record json.RawMessage }
		require.NoError(t, json.Unmarshal(wrapped, &kept))
		record, err = ReadRecord(kept.Record)
		require.NoError(t, err, "inside another document")
		assert.True(t, record.Verified)
	}
	_, err := Record{}.MarshalJSON()
	assert.ErrorIs(t, err, errMissingField)
}

// A record holds no sentence: what is said in it is codes, and values that some type reads. Labels of sources, and what
// the job, the readings and the rules say, are theirs.
func TestRecordHoldsNoSentence(t *testing.T) {
	sentence := regexp.MustCompile(`\pL{2,} \pL{2,} \pL{2,}`)
	require.Regexp(t, sentence, "it ran up free")
	files, err := filepath.Glob("testdata/forms/" + Release + "/record-*.json")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var record map[string]any
		require.NoError(t, json.Unmarshal(text, &record))
		inputs, own := map[string]bool{"job": true, "asDone": true, "rules": true, "wasteRules": true}, map[string]bool{}
		for part := range inputs {
			texts(record[part], "", func(_, text string) { own[text] = true })
		}
		count := 0
		for part, value := range record {
			if inputs[part] {
				continue
			}
			texts(value, part, func(key, text string) {
				count++
				if _, err := turn.ParseInstruction(text); err != nil && !own[text] && key != "sources" {
					assert.NotRegexp(t, sentence, text, "%s: %s", file, key)
				}
			})
		}
		assert.Greater(t, count, 100)
	}
}

// texts calls each with every text in a value, and the key it has or its list has.
func texts(value any, key string, each func(key, text string)) {
	switch v := value.(type) {
	case map[string]any:
		for key, one := range v {
			texts(one, key, each)
		}
	case []any:
		for _, one := range v {
			texts(one, key, each)
		}
	case string:
		each(key, v)
	}
}
