package units

import (
	"fmt"
	"log/slog"
	"strconv"
)

// Format serves %v and %s ("220 in-lb") and %q (quoted). A width pads on the left, or with "-" on
// the right; a precision rounds to that many places, half-even; "+" always writes a sign; "#" with
// v writes Go source. Other verbs write the quantity as fmt writes a verb that doesn't fit.
func (q Quantity[U]) Format(state fmt.State, verb rune) {
	k := q.unit.kind()
	k.format(state, verb, q.num(), q.unit.String(), "Parse[units."+k.typ+"]")
}

// Format is [Quantity.Format] for a temperature.
func (t Temperature) Format(state fmt.State, verb rune) {
	temperatureKind.format(state, verb, t.num, t.scale.String(), "ParseTemperature")
}

func (k *kind) format(state fmt.State, verb rune, n number, symbol, parse string) {
	if places, ok := state.Precision(); ok {
		n, _ = n.scaledTo(ratio{num: 1, den: 1}, places, ToNearestEven)
	}
	var text []byte
	if state.Flag('+') && !n.neg {
		text = append(text, '+')
	}
	text = appendSymbol(n.appendTo(text), symbol)
	switch verb {
	case 'v':
		if state.Flag('#') {
			text = []byte("units.Must" + parse + "(" + strconv.Quote(string(text)) + ")")
		}
	case 's':
	case 'q':
		text = strconv.AppendQuote(nil, string(text))
	default:
		text = []byte("%!" + string(verb) + "(units: " + string(text) + ")")
	}
	if width, ok := state.Width(); ok {
		if state.Flag('-') {
			width = -width
		}
		fmt.Fprintf(state, "%*s", width, text)
		return
	}
	state.Write(text)
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
