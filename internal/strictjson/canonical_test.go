package strictjson

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func canonical(t testing.TB, text string) (string, error) {
	t.Helper()
	n, ok := reader.Parse([]byte(text), "", func(path, problem, _ string, _ error) { t.Fatal(path, problem) })
	require.True(t, ok)
	out, err := n.Canonical()
	return string(out), err
}

// The published examples: 3.2.2 with its result in 3.2.4, 3.2.3, and Appendix B. Source: rfc-8785.
func TestCanonicalIsRFC8785(t *testing.T) {
	got, err := canonical(t, `{
		"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
		"string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
		"literals": [null, true, false]
	}`)
	require.NoError(t, err)
	assert.Equal(t, `{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`, got)

	got, err = canonical(t, `{
		"\u20ac": "Euro Sign",
		"\r": "Carriage Return",
		"\ufb33": "Hebrew Letter Dalet With Dagesh",
		"1": "One",
		"\ud83d\ude00": "Emoji: Grinning Face",
		"\u0080": "Control",
		"\u00f6": "Latin Small Letter O With Diaeresis"
	}`)
	require.NoError(t, err)
	var order []string
	for _, pair := range strings.Split(got, ",") {
		order = append(order, strings.Trim(pair[strings.LastIndex(pair, `:"`)+1:], `"}`))
	}
	assert.Equal(t, []string{"Carriage Return", "One", "Control", "Latin Small Letter O With Diaeresis", "Euro Sign",
		"Emoji: Grinning Face", "Hebrew Letter Dalet With Dagesh"}, order[:7])

	for bits, want := range map[uint64]string{
		0x0000000000000000: "0", 0x8000000000000000: "0", 0x0000000000000001: "5e-324", 0x8000000000000001: "-5e-324",
		0x7fefffffffffffff: "1.7976931348623157e+308", 0xffefffffffffffff: "-1.7976931348623157e+308",
		0x44b52d02c7e14af5: "9.999999999999997e+22", 0x44b52d02c7e14af6: "1e+23", 0x44b52d02c7e14af7: "1.0000000000000001e+23",
		0x444b1ae4d6e2ef4e: "999999999999999700000", 0x444b1ae4d6e2ef4f: "999999999999999900000", 0x444b1ae4d6e2ef50: "1e+21",
		0x444b1ae4d6e2ef51: "1.0000000000000001e+21", 0x41b3de4355555553: "333333333.3333332", 0x41b3de4355555554: "333333333.33333325",
		0x41b3de4355555555: "333333333.3333333", 0x41b3de4355555556: "333333333.3333334", 0x41b3de4355555557: "333333333.33333343",
	} {
		got, err := canonical(t, strconv.FormatFloat(math.Float64frombits(bits), 'e', -1, 64))
		require.NoError(t, err)
		assert.Equal(t, want, got, "%x", bits)
	}
}

func TestCanonical(t *testing.T) {
	for text, want := range map[string]string{
		` { "b" : [ ] , "a" : { } } `:                                             `{"a":{},"b":[]}`,
		`[1, 1.0, 1e0, 10E-1, -0, -0.0, 9007199254740991]`:                        `[1,1,1,1,0,0,9007199254740991]`,
		`[9007199254740992, -9007199254740992.0, 888866666E8, 88886666600000000]`: `[9007199254740992,-9007199254740992,88886666600000000,88886666600000000]`, // they come back as themselves
		`["<&>\u2028\u007f", "\u0001\u001F\b\t\f\r"]`:                             "[\"<&>\u2028\u007f\",\"\\u0001\\u001f\\b\\t\\f\\r\"]",
		`["\ud83d\ude00"]`: `["😀"]`,
	} {
		got, err := canonical(t, text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got)
		again, err := canonical(t, got)
		require.NoError(t, err)
		assert.Equal(t, got, again)
	}
	for _, text := range []string{`[9007199254740993]`, `[-9007199254740993]`, `[100000000000000000000000]`, `[1e999]`, `["\ud83d"]`, `["\udc00\ud83d"]`, "[\"\xff\"]", `{"\ud83d": 1}`} {
		_, err := canonical(t, text)
		assert.Error(t, err, text)
	}
}

// What a value holds is read from its canonical bytes once it has them.
func TestCanonicalValues(t *testing.T) {
	n, err := Tree(struct {
		B []int  `json:"b"`
		A string `json:"a"`
	}{nil, "<&>"})
	require.NoError(t, err)
	text, err := n.Canonical()
	require.NoError(t, err)
	assert.Equal(t, `{"a":"<&>","b":[]}`, string(text))
	b, _ := n.Member("b")
	assert.Equal(t, "[]", string(b.JSON()))
	assert.JSONEq(t, `{"a":"<&>"}`, string(n.without("b").JSON()))
	_, err = Tree(make([]int, MaxItems+1))
	assert.ErrorIs(t, err, ErrSize)
	_, err = Tree(func() {})
	assert.Error(t, err)

	number, ok := reader.Parse([]byte(`{"name": "a", "number": 1.0e1, "more": 1}`), "", func(string, string, string, error) {})
	require.True(t, ok)
	_, err = number.Canonical()
	require.NoError(t, err)
	var into part
	lenient := reader
	lenient.Extra = true
	lenient.Bind(number, &into, func(path, problem, _ string, _ error) { t.Error(path, problem) })
	assert.Equal(t, part{Name: "a", Number: 10}, into)
}
