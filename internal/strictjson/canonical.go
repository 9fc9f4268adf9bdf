package strictjson

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Canonical is the value in the one form of RFC 8785 (JSON Canonicalization Scheme): keys in the order of
// their UTF-16 code units, no blanks, no escapes that JSON doesn't need, numbers as ECMAScript writes them.
// However the value was laid out, its canonical bytes are the same. They are now what [Node.JSON] gives for n
// and all that is in it.
//
// Refused, and then n is of no use any more: a number that no double holds, a whole number written out
// from 2^53 on, which one double would hold for two of them (RFC 7493, 2.2), and text with U+FFFD, which
// stands where a text wasn't Unicode.
func (n *Node) Canonical() ([]byte, error) { return n.canonical(nil) }

func (n *Node) canonical(out []byte) (_ []byte, err error) {
	start := len(out)
	switch v := n.value.(type) {
	case object:
		slices.SortFunc(n.members, func(a, b member) int { return byUTF16(a.key, b.key) })
		out = append(out, '{')
		for i := range n.members {
			if i > 0 {
				out = append(out, ',')
			}
			if out, err = quoted(out, n.members[i].key); err == nil {
				out, err = n.members[i].canonical(append(out, ':'))
			}
			if err != nil {
				return nil, err
			}
		}
		out = append(out, '}')
	case []Node:
		out = append(out, '[')
		for i := range v {
			if i > 0 {
				out = append(out, ',')
			}
			if out, err = v[i].canonical(out); err != nil {
				return nil, err
			}
		}
		out = append(out, ']')
	case string:
		out, err = quoted(out, v)
	case json.Number:
		out, err = number(out, v.String())
		n.value = json.Number(out[start:])
	case bool:
		out = strconv.AppendBool(out, v)
	default:
		out = append(out, "null"...)
	}
	n.text = out[start:]
	return out, err
}

// byUTF16 is the order of RFC 8785, 3.2.3. It is that of the bytes but for characters beyond U+FFFF.
func byUTF16(a, b string) int {
	beyond := func(text string) bool {
		for i := range len(text) {
			if text[i] >= 0xF0 { // four bytes of UTF-8
				return true
			}
		}
		return false
	}
	if !beyond(a) && !beyond(b) {
		return cmp.Compare(a, b)
	}
	return slices.Compare(utf16.Encode([]rune(a)), utf16.Encode([]rune(b)))
}

var errText = errors.New("text that isn't Unicode")

// quoted appends a text as RFC 8785, 3.2.2.2, has it.
func quoted(out []byte, text string) ([]byte, error) {
	const hex = "0123456789abcdef"
	if isPlain(text) {
		return append(append(append(out, '"'), text...), '"'), nil
	}
	if strings.ContainsRune(text, utf8.RuneError) {
		return out, errText
	}
	out = append(out, '"')
	for i := range len(text) {
		switch c := text[i]; {
		case c == '"' || c == '\\':
			out = append(out, '\\', c)
		case c >= ' ':
			out = append(out, c)
		default:
			if at := strings.IndexByte("\b\t\n\f\r", c); at >= 0 {
				out = append(out, '\\', "btnfr"[at])
			} else {
				out = append(out, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
			}
		}
	}
	return append(out, '"'), nil
}

// isPlain reports whether a text is ASCII that needs no escapes.
func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c == '"' || c == '\\' || c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// number appends a number as RFC 8785, 3.2.2.3, has it.
func number(out []byte, text string) ([]byte, error) {
	if len(text) < 16 && text[0] != '-' && (text[0] != '0' || text == "0") && strings.Trim(text, "0123456789") == "" {
		return append(out, text...), nil
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return out, errNoDouble
	}
	if f == 0 {
		return append(out, '0'), nil // no minus
	}
	digits, err := json.Marshal(f) // as ECMAScript writes it
	if math.Abs(f) >= 1<<53 && !strings.ContainsAny(text, ".eE") && string(digits) != text {
		return out, errNoDouble
	}
	return append(out, digits...), err
}

var errNoDouble = errors.New("a number that a double doesn't hold")

// Tree is a value of Go as JSON, an empty list where Go has none: no null is ever written. It may hold no
// more values than a reader takes (ErrSize).
func Tree(v any) (n Node, err error) {
	text, err := json.Marshal(v)
	if err != nil {
		return n, err
	}
	bare := scanner{data: text, left: maxValues, bare: true}
	if root, ok := bare.root(""); ok {
		n = root
	} else {
		n, _ = Reader{Bytes: len(text)}.Parse(text, "", func(_, _, _ string, cause error) { err = cause })
	}
	n.listNulls()
	return n, err
}

func (n *Node) listNulls() {
	if n.value == nil {
		n.value = []Node{}
	}
	n.children(func(child *Node, _ func(string) string) { child.listNulls() })
}

// Sealed is an object in its canonical form with one field of its own: the SHA-256 of all the others, in hexadecimal.
//
// Errors: as [Node.Canonical].
func (n Node) Sealed(key string) (Node, error) {
	n = n.without(key)
	text, err := n.Canonical()
	if err != nil {
		return n, err
	}
	sum := sha256.Sum256(text)
	return n.with(key, hex.EncodeToString(sum[:])), nil
}

// without is an object without a field.
func (n Node) without(key string) Node {
	n.members = slices.DeleteFunc(slices.Clone(n.members), func(m member) bool { return m.key == key })
	n.text = nil
	return n
}

// with is a canonical object with one more field, a text that needs no escapes, as it is when it is made canonical
// again; it shares all else.
func (n Node) with(key, text string) Node {
	at, before := 0, 1
	for ; at < len(n.members) && byUTF16(n.members[at].key, key) < 0; at++ {
		name, _ := quoted(nil, n.members[at].key) // which was quoted before
		before += len(name) + len(":") + len(n.members[at].text) + len(",")
	}
	field := strconv.Quote(key) + ":"
	start := before + len(field)
	field += strconv.Quote(text)
	switch last := len(n.members) == at; {
	case !last:
		field += ","
	case at > 0:
		before, field = before-1, ","+field
	}
	written := slices.Concat(n.text[:before], []byte(field), n.text[before:])
	n.members = slices.Insert(slices.Clone(n.members), at, member{key, Node{path: Join(n.path, key), value: text, text: written[start : start+len(text)+2]}})
	n.text = written
	return n
}
