package strictjson

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sameRead holds what scan reads against what the parser, encoding/json's, makes of the same text. Source: encoding-json.
func sameRead(t require.TestingT, text []byte) (scanned bool) {
	var wrong []string
	slow, ok := parse(text, "", func(path, problem, _ string, _ error) { wrong = append(wrong, path+": "+problem) })
	fast, scanned := scan(text, "")
	require.Equal(t, ok && wrong == nil, scanned, "%q: %v", text, wrong)
	if scanned {
		require.Equal(t, slow, fast, "%q", text)
		bare := scanner{data: text, left: maxValues, bare: true}
		root, ok := bare.root("")
		require.True(t, ok)
		root.Move() // its paths are those it has by itself
		require.Equal(t, slow, root, "%q", text)
	}
	return scanned
}

// drawText is JSON with anything in it that JSON may have, and sometimes one byte too few, too many or
// another.
func drawText(rt *rapid.T) []byte {
	keys := rapid.SampledFrom([]string{`"a"`, `"b"`, `"c1"`, `"A"`, `"ä"`, `"\u00e4"`, `""`, `"a b"`, `"\"\\"`, "\"\xff\"", `"<&>"`})
	texts := rapid.OneOf(keys, rapid.Custom(func(rt *rapid.T) string {
		text, _ := json.Marshal(rapid.String().Draw(rt, "text"))
		return string(text)
	}), rapid.SampledFrom([]string{`"\/\b\f\n\r\t"`, `"\ud83d\ude00"`, `"\ud83d"`, `"\x"`, `"\u12"`, "\"\u2028\u2029\"", "\"a\tb\"", "\"\x7f\"", `"`}))
	plain := rapid.SampledFrom([]string{"true", "false", "null", "0", "-0", "1", "-12.50", "1e5", "1E-5", "0.0e+1", "01", "1.", ".5", "-", "1e", "tru", "nul", "+1", "1x"})
	blank := rapid.SampledFrom([]string{"", "", "", " ", "\n\t\r ", "\u00a0", "\v"})
	var value func(depth int) string
	value = func(depth int) string {
		kind := rapid.IntRange(0, 9).Draw(rt, "kind")
		b := func() string {
			if kind == 9 {
				return blank.Draw(rt, "blank")
			}
			return ""
		}
		switch {
		case kind < 2 || depth > 18:
			return plain.Draw(rt, "plain")
		case kind < 4:
			return texts.Draw(rt, "text")
		case kind < 6:
			out := "[" + b()
			for i := range rapid.IntRange(0, 4).Draw(rt, "of the list") {
				if i > 0 {
					out += b() + "," + b()
				}
				out += value(depth + 1)
			}
			return out + b() + "]"
		}
		out := "{" + b()
		for i := range rapid.IntRange(0, 5).Draw(rt, "of the object") {
			if i > 0 {
				out += b() + "," + b()
			}
			out += keys.Draw(rt, "key") + b() + ":" + b() + value(depth+1)
		}
		return out + b() + "}"
	}
	text := []byte(value(0))
	at := rapid.IntRange(0, len(text)-1).Draw(rt, "at")
	switch rapid.IntRange(0, 9).Draw(rt, "mutation") {
	case 0:
		return append(text[:at:at], text[at+1:]...)
	case 1:
		return append(append(text[:at:at], rapid.SampledFrom([]byte(`{}[],:"\0e.- x`)).Draw(rt, "more")), text[at:]...)
	case 2:
		return text[:at]
	}
	return text
}

func TestScanReadsWhatTheParserReads(t *testing.T) {
	valid, cases := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		for range 20 {
			cases++
			if sameRead(rt, drawText(rt)) {
				valid++
			}
		}
	})
	assert.Greater(t, valid, cases/20, "enough of them are JSON")
	assert.Less(t, valid, cases*19/20, "and enough aren't")
	for _, n := range []int{15, 16, 17, 999, 1000, 1001} {
		list, object, twice := "[0", `{"0":0`, ""
		for i := 1; i < n; i++ {
			list, object = list+",0", object+fmt.Sprintf(`,"%d":0`, i)
		}
		twice = object + `,"3":0}`
		assert.Equal(t, n <= MaxItems, sameRead(t, []byte(list+"]")))
		assert.Equal(t, n <= MaxItems, sameRead(t, []byte(object+"}")))
		assert.False(t, sameRead(t, []byte(twice)))
	}
	fifty := "[0" + strings.Repeat(",0", 48) + "]" // values
	full := "[" + fifty + strings.Repeat(","+fifty, 998)
	assert.True(t, sameRead(t, []byte(full+",["+strings.Repeat("0,", 47)+"0]]")))
	assert.False(t, sameRead(t, []byte(full+","+fifty+"]")))
	for depth := 14; depth < 20; depth++ {
		sameRead(t, append(bytes.Repeat([]byte("["), depth), bytes.Repeat([]byte("]"), depth)...))
	}
}

// Every JSON file of the project, too.
func TestScanReadsFiles(t *testing.T) {
	files := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".json" {
			return err
		}
		text, err := os.ReadFile(path)
		files++
		sameRead(t, text)
		return err
	}))
	assert.Greater(t, files, 5)
}

// A text that needs no escapes is copied whole, and any other byte by byte.
func TestQuotedIsEncodingJSON(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching("[ -~\t\n\"\\\\]*")).Draw(rt, "text")
		got, err := quoted(nil, text)
		if strings.ContainsRune(text, '\uFFFD') {
			require.Error(rt, err)
			return
		}
		require.NoError(rt, err)
		var back string
		require.NoError(rt, json.Unmarshal(got, &back))
		require.Equal(rt, text, back)
		slow := []byte{'"'}
		for _, r := range text {
			one, err := quoted(nil, string(r)+"\u0080") // never plain
			require.NoError(rt, err)
			slow = append(slow, bytes.TrimSuffix(one[1:], []byte("\u0080\""))...)
		}
		require.Equal(rt, string(append(slow, '"')), string(got))
	})
}
