package strictjson

import (
	"bytes"
	"encoding/json"
	"unicode/utf8"
)

// scanner reads what there is nothing to say against, in one pass. Of all else it says only that it isn't
// that: the words for it, and what is left to read of it, are the parser's.
type scanner struct {
	data []byte
	at   int
	left int  // values
	bare bool // the values need no paths: nothing will be said of them
}

// scan is the tree of a text; not ok where the parser has to look.
func scan(data []byte, path string) (root Node, ok bool) {
	s := scanner{data: data, left: maxValues}
	return s.root(path)
}

func (s *scanner) root(path string) (root Node, ok bool) {
	s.blanks()
	if root, ok = s.node(path, 0); !ok {
		return root, false
	}
	s.blanks()
	return root, s.at == len(s.data)
}

func (s *scanner) blanks() {
	for s.at < len(s.data) && (s.data[s.at] == ' ' || s.data[s.at] == '\n' || s.data[s.at] == '\t' || s.data[s.at] == '\r') {
		s.at++
	}
}

// next passes a byte and the blanks behind it, if it is the one.
func (s *scanner) next(c byte) bool {
	if s.at == len(s.data) || s.data[s.at] != c {
		return false
	}
	s.at++
	s.blanks()
	return true
}

// node reads a value and the blanks behind it.
func (s *scanner) node(path string, depth int) (n Node, ok bool) {
	n.path = path
	if s.left--; s.left < 0 || depth > maxDepth || s.at == len(s.data) {
		return n, false
	}
	from := s.at
	switch s.data[from] {
	case '{':
		ok = s.object(&n, depth)
	case '[':
		ok = s.list(&n, depth)
	case '"':
		n.value, ok = s.text()
	case 't':
		n.value, ok = true, s.word("true")
	case 'f':
		n.value, ok = false, s.word("false")
	case 'n':
		n.value, ok = nil, s.word("null")
	default:
		n.value, ok = s.number()
	}
	if !ok {
		return n, false
	}
	n.text = s.data[from:s.at]
	s.blanks()
	return n, true
}

func (s *scanner) object(n *Node, depth int) bool {
	n.value = object{}
	var seen map[string]bool // of many keys
	for s.next('{'); s.at < len(s.data) && s.data[s.at] != '}'; {
		if count := len(n.members); count == MaxItems || count > 0 && !s.next(',') {
			return false
		}
		key, ok := s.text()
		if s.blanks(); !ok || !s.next(':') {
			return false
		}
		if seen == nil && len(n.members) == 16 {
			seen = map[string]bool{}
			for _, m := range n.members {
				seen[m.key] = true
			}
		}
		if seen != nil && seen[key] || seen == nil && n.has(key) {
			return false
		}
		if seen != nil {
			seen[key] = true
		}
		path := ""
		if !s.bare {
			path = Join(n.path, key)
		}
		child, ok := s.node(path, depth+1)
		if !ok {
			return false
		}
		if n.members == nil {
			n.members = make([]member, 0, 4)
		}
		n.members = append(n.members, member{key, child})
	}
	return s.closed('}')
}

func (s *scanner) list(n *Node, depth int) bool {
	list := []Node{}
	for s.next('['); s.at < len(s.data) && s.data[s.at] != ']'; {
		if len(list) == MaxItems || len(list) > 0 && !s.next(',') {
			return false
		}
		path := ""
		if !s.bare {
			path = At(n.path, len(list))
		}
		child, ok := s.node(path, depth+1)
		if !ok {
			return false
		}
		list = append(list, child)
	}
	n.value = list
	return s.closed(']')
}

// closed passes the bracket behind a list or an object.
func (s *scanner) closed(c byte) bool {
	ok := s.at < len(s.data) && s.data[s.at] == c
	s.at++
	return ok
}

func (s *scanner) word(word string) bool {
	ok := bytes.HasPrefix(s.data[s.at:], []byte(word))
	s.at += len(word)
	return ok
}

// text reads a string.
func (s *scanner) text() (text string, ok bool) {
	if s.at == len(s.data) || s.data[s.at] != '"' {
		return "", false
	}
	from := s.at
	s.at++
	plain := true
	for ; s.at < len(s.data); s.at++ {
		switch c := s.data[s.at]; {
		case c == '"':
			s.at++
			raw := s.data[from:s.at]
			if plain || utf8.Valid(raw) && bytes.IndexByte(raw, '\\') < 0 {
				return string(raw[1 : len(raw)-1]), true
			}
			return text, json.Unmarshal(raw, &text) == nil
		case c < ' ':
			return "", false
		case c == '\\':
			s.at++
			plain = false
		case c >= utf8.RuneSelf:
			plain = false
		}
	}
	return "", false
}

func (s *scanner) number() (json.Number, bool) {
	from := s.at
	if s.at < len(s.data) && s.data[s.at] == '-' {
		s.at++
	}
	ok := s.at < len(s.data) && s.data[s.at] == '0'
	if ok {
		s.at++
	} else {
		ok = s.digits()
	}
	if s.at < len(s.data) && s.data[s.at] == '.' {
		s.at++
		ok = s.digits() && ok
	}
	if s.at < len(s.data) && s.data[s.at]|0x20 == 'e' {
		if s.at++; s.at < len(s.data) && (s.data[s.at] == '+' || s.data[s.at] == '-') {
			s.at++
		}
		ok = s.digits() && ok
	}
	return json.Number(s.data[from:s.at]), ok
}

// digits passes digits and reports whether there were any.
func (s *scanner) digits() bool {
	from := s.at
	for s.at < len(s.data) && '0' <= s.data[s.at] && s.data[s.at] <= '9' {
		s.at++
	}
	return s.at > from
}
