package strictjson

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"

	"example.com/snugturn/internal/plain"
)

// Check reports what of a value made in Go no reader would take back: texts that say nothing or hold
// what isn't seen, values that can't be written or not be read again, lists without end. A path that
// known reports is known to be wrong, and passed over.
func (r Reader) Check(value any, known func(path string) bool, report Report) {
	checker{r, known, report}.check("", reflect.ValueOf(value))
}

type checker struct {
	Reader
	known  func(path string) bool
	report Report
}

func (c checker) when(bad bool, path, problem, want string, cause error) {
	if bad && !c.known(path) {
		c.report(path, problem, want, cause)
	}
}

func (c checker) check(path string, v reflect.Value) {
	if value, ok := v.Interface().(encoding.TextMarshaler); ok {
		if (v.Kind() != reflect.Pointer || !v.IsNil()) && !c.known(path) {
			c.readsBack(path, value)
		}
		return
	}
	switch v.Kind() {
	case reflect.String:
		if problem := c.Unprintable(v.String()); problem != "" {
			c.when(true, path, problem, c.plainText(), ErrText)
			return
		}
		c.when(plain.Blank(v.String()), path, "nothing but blanks", "non-blank text", ErrMissing)
	case reflect.Int:
		c.when(int64(int32(v.Int())) != v.Int(), path, fmt.Sprint(v.Int()), everyday, ErrRange)
	case reflect.Pointer:
		if !v.IsNil() {
			c.check(path, v.Elem())
		}
	case reflect.Slice:
		if v.Len() > MaxItems {
			c.when(true, path, fmt.Sprintf("%d of them", v.Len()), fmt.Sprintf("at most %d", MaxItems), ErrSize)
			return
		}
		for i := range v.Len() {
			c.check(At(path, i), v.Index(i))
		}
	case reflect.Struct:
		for _, field := range Fields(v.Type()) {
			if value := v.FieldByIndex(field.Index); !field.Optional || !value.IsZero() {
				c.check(Join(path, field.Key), value)
			}
		}
	}
}

// readsBack writes a value and reads it again.
func (c checker) readsBack(path string, value encoding.TextMarshaler) {
	text, err := value.MarshalText()
	switch of := reflect.Indirect(reflect.ValueOf(value)); {
	case err != nil:
		c.report(path, "", "", err)
	case len(text) == 0:
		c.report(path, "nothing given", "a text"+c.such(of), ErrMissing)
	default:
		if again, ok := reflect.New(of.Type()).Interface().(encoding.TextUnmarshaler); ok {
			if err := again.UnmarshalText(text); err != nil {
				c.report(path, "", "", err)
			}
		}
	}
}

// Unprintable says why a text may not stand where people read it, "" if it may.
func (r Reader) Unprintable(text string) string {
	if len(text) > r.Text {
		return strconv.Itoa(len(text)) + " bytes of text"
	}
	if hidden := plain.Hidden(text); hidden != "" {
		return "text with a character that doesn't print: " + hidden
	}
	return ""
}

func (r Reader) plainText() string { return "plain text of at most " + strconv.Itoa(r.Text) + " bytes" }
