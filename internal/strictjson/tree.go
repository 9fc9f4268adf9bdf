package strictjson

import (
	"encoding/json"
	"slices"
	"strings"
)

// Node is a JSON value and where it is.
type Node struct {
	path    string
	value   any      // nil, bool, json.Number, string, []Node or object
	members []member // of an object, in the order of the file
	text    []byte   // as it stood there; nil where the value was put together
}

type member struct {
	key string
	Node
}

type object struct{}

// NewText is a node of a string.
func NewText(path, text string) Node { return Node{path: path, value: text} }

// Path is where the value stands, "stations[1].out".
func (n Node) Path() string { return n.path }

// Is is what the value is, in words: "a string".
func (n Node) Is() string {
	switch n.value.(type) {
	case nil:
		return "null"
	case bool:
		return "true or false"
	case json.Number:
		return "a number"
	case string:
		return "a string"
	case []Node:
		return "a list"
	}
	return "an object"
}

// IsObject reports whether the value is an object.
func (n Node) IsObject() bool { return n.value == object{} }

// Text is the text of a string.
func (n Node) Text() (text string, ok bool) {
	text, ok = n.value.(string)
	return text, ok
}

// Number is the text of a number.
func (n Node) Number() (digits string, ok bool) {
	number, ok := n.value.(json.Number)
	return number.String(), ok
}

// Member is the field of an object; the zero Node and false where there is none.
func (n Node) Member(key string) (Node, bool) {
	for _, m := range n.members {
		if m.key == key {
			return m.Node, true
		}
	}
	return Node{}, false
}

func (n Node) has(key string) bool {
	for i := range n.members {
		if n.members[i].key == key {
			return true
		}
	}
	return false
}

// With is an object with a field set to a value, in its place or behind the others.
func (n Node) With(key string, value Node) Node {
	n.members, n.text = slices.Clone(n.members), nil
	for i := range n.members {
		if n.members[i].key == key {
			n.members[i].Node = value
			return n
		}
	}
	n.members = append(n.members, member{key, value})
	return n
}

// Listed is an object as a list of its values, each by put, which is given the key too.
func (n Node) Listed(put func(key string, value Node) Node) Node {
	list := make([]Node, len(n.members))
	for i, m := range n.members {
		list[i] = put(m.key, m.Node)
	}
	return Node{path: n.path, value: list}
}

// children are the values in an object or a list.
func (n Node) children(each func(child *Node, path func(under string) string)) {
	for i := range n.members {
		key := n.members[i].key
		each(&n.members[i].Node, func(under string) string { return Join(under, key) })
	}
	list, _ := n.value.([]Node)
	for i := range list {
		each(&list[i], func(under string) string { return At(under, i) })
	}
}

// Nulls calls found with the path of every null.
func (n Node) Nulls(found func(path string)) {
	if n.value == nil {
		found(n.path)
	}
	n.children(func(child *Node, _ func(string) string) { child.Nulls(found) })
}

// Over is a tree laid over another: two objects merge, field by field, and anything else replaces what
// is under it.
func (n Node) Over(under Node) Node {
	if !under.IsObject() || !n.IsObject() {
		return n
	}
	merged := n
	merged.members, merged.text = slices.Clone(under.members), nil
	at := make(map[string]int, len(under.members))
	for i, m := range under.members {
		at[m.key] = i
	}
	for _, m := range n.members {
		if i, has := at[m.key]; has {
			merged.members[i].Node = m.Node.Over(merged.members[i].Node)
		} else {
			merged.members = append(merged.members, m)
		}
	}
	return merged
}

// Origins are the paths at which the values of a tree stood before it was put together, by those that
// they have now.
type Origins map[string]string

// Move gives a tree that was put together of others the paths that it has by itself.
func (n *Node) Move() Origins {
	from := Origins{}
	n.move("", from)
	return from
}

func (n *Node) move(path string, from Origins) {
	from[path], n.path = n.path, path
	n.children(func(child *Node, of func(string) string) { child.move(of(path), from) })
}

// Of is where a value stood, or the nearest one round it.
func (o Origins) Of(path string) string {
	for end := len(path); end > 0; end = strings.LastIndexAny(path[:end], ".[") {
		if was, ok := o[path[:end]]; ok {
			return was + path[end:]
		}
	}
	return Join(o[""], path)
}

// plain is the value as encoding/json writes it.
func (n Node) plain() any {
	switch v := n.value.(type) {
	case object:
		fields := make(map[string]any, len(n.members))
		for _, m := range n.members {
			fields[m.key] = m.plain()
		}
		return fields
	case []Node:
		list := make([]any, len(v))
		for i, child := range v {
			list[i] = child.plain()
		}
		return list
	}
	return n.value
}

// JSON is the value as JSON.
func (n Node) JSON() []byte {
	if n.text != nil {
		return n.text
	}
	text, _ := json.Marshal(n.plain()) // what was read can be written
	return text
}
