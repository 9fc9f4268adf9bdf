package units

import (
	"bytes"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Format serves %f, %v and %s ("145 in-lb") and %q (quoted). A precision rounds to that many places,
// half-even: %.2f of 1/8 in is "0.12 in". Without one the places stay as written, under %f too. A
// width pads on the left, with "-" on the right and with "0" under %f with zeros; "+" always writes
// a sign, a blank leaves room for one; "#" with v writes Go source. %x and %X write the text in
// hexadecimal, and all other verbs "%!d(units.Length=0.125 in)", as fmt does.
func (q Quantity[U]) Format(state fmt.State, verb rune) {
	k := q.unit.kind()
	k.format(state, verb, q.num(), q.unit.String(), "Parse[units."+k.typ+"]")
}

// Format is [Quantity.Format] for a temperature.
func (t Temperature) Format(state fmt.State, verb rune) {
	switch {
	case t.above != 0:
		temperatureKind.format(state, verb, t.num, t.Scale().String(), "ParseTemperature")
	case verb == 'v' && state.Flag('#'):
		io.WriteString(state, "units.Temperature{}")
	default:
		io.WriteString(state, t.String())
	}
}

func (k *kind) format(state fmt.State, verb rune, n number, symbol, parse string) {
	if places, ok := state.Precision(); ok && verb != 'x' && verb != 'X' {
		n, _ = n.scaledTo(ratio{num: 1, den: 1}, places, ToNearestEven)
	}
	var text []byte
	switch {
	case n.neg:
	case state.Flag('+'):
		text = append(text, '+')
	case state.Flag(' '):
		text = append(text, ' ')
	}
	text = appendSymbol(n.appendTo(text), symbol)
	source, bad := verb == 'v' && state.Flag('#'), false
	switch verb {
	case 'v', 's':
	case 'f', 'F':
		text = zeroPadded(text, state)
	case 'q':
		text = strconv.AppendQuote(nil, string(text))
	case 'x', 'X':
		fmt.Fprintf(state, fmt.FormatString(state, verb), text)
		return
	default:
		bad = true
	}
	if source {
		text = []byte("units.Must" + parse + "(" + strconv.Quote(string(text)) + ")")
	}
	if width, ok := state.Width(); ok {
		if state.Flag('-') {
			width = -width
		}
		text = fmt.Appendf(nil, "%*s", width, text)
	}
	if bad {
		text = []byte("%!" + string(verb) + "(units." + strings.TrimSuffix(strings.TrimSuffix(k.typ, "Unit"), "Scale") + "=" + string(text) + ")")
	}
	state.Write(text)
}

// zeroPadded fills a width with zeros between the sign and the digits, where the flags ask for it.
func zeroPadded(text []byte, state fmt.State) []byte {
	width, _ := state.Width() // none is 0
	missing := width - utf8.RuneCount(text)
	if missing <= 0 || !state.Flag('0') || state.Flag('-') {
		return text
	}
	at := 0
	if strings.IndexByte("+- ", text[0]) >= 0 {
		at = 1
	}
	return slices.Insert(text, at, bytes.Repeat([]byte("0"), missing)...)
}

// LogValue is the text, so that a log keeps the unit and the places.
func (q Quantity[U]) LogValue() slog.Value { return slog.StringValue(q.String()) }

// LogValue is the text.
func (t Temperature) LogValue() slog.Value { return slog.StringValue(t.String()) }

// appendSymbol puts a unit behind a number: after a blank, but 90° (SI Brochure, 9th edition, §5.4.3).
func appendSymbol(dst []byte, symbol string) []byte {
	if symbol != "°" {
		dst = append(dst, ' ')
	}
	return append(dst, symbol...)
}
