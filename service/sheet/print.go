package sheet

import (
	"fmt"
	"math/big"
	"reflect"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/catalogue"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// printer puts messages into words, by the preferences of a job that is checked.
type printer struct {
	*Words
	prefer service.Preferences
	own    *[]string // what was in the last sentence that isn't of this language
}

func (w *Words) printer(prefer *service.Preferences) printer {
	p := printer{Words: w, own: new([]string)}
	if prefer != nil {
		p.prefer = *prefer
	}
	return p
}

// Say puts what a sheet or a review holds into words: a [service.Message], [service.Finding] or [service.Line],
// an enumeration, a turn, a place on a ring, a quantity.
func (w *Words) Say(what any) string {
	p := w.printer(nil)
	switch x := what.(type) {
	case service.Finding:
		return withSource(p.finding(x))
	case service.Line:
		return p.line(x)
	}
	return p.print(service.Value{Value: what}, "")
}

// line is a line of a review: where, its verdict and why.
func (p printer) line(l service.Line) string {
	return p.code("review/line", "where", l.Where, "verdict", l.Verdict, "reasons", l.Reasons)
}

// Review puts every line of a review that isn't a pass into words, for a terminal: first those that keep the job
// open, then the others.
func (w *Words) Review(r service.Review) string {
	var t wrap.Text
	p := w.printer(r.Job.Preferences)
	p.state(&t, r)
	p.lines(&t, "review/keep-open", r.Open())
	p.lines(&t, "review/not-planned", r.Departures())
	return t.String()
}

// state is whether a job is complete and went as planned, and a notice where the words are a draft.
func (p printer) state(t *wrap.Text, r service.Review) {
	state := "review/complete"
	if !r.Complete {
		state = "review/open"
	} else if !r.AsPlanned {
		state = "review/departs"
	}
	t.Line("", p.code(state, "job", r.Job.ID, "revision", r.Job.Revision, "date", dated(r.Done.Date, r.Done.Zone)))
	if draft := p.said.Draft; draft != "" {
		t.Line("", draft)
	}
}

// lines are a part of a review under its title.
func (p printer) lines(t *wrap.Text, title string, lines []service.Line) {
	if len(lines) > 0 {
		t.Line("", p.code(title))
	}
	for _, l := range lines {
		t.Line("   -   ", p.line(l))
		if l.Found.Code == "" {
			t.Line("       ", p.code("review/wanted", "want", l.Want))
		} else {
			t.Line("       ", p.code("review/found", "found", l.Found, "want", l.Want))
		}
	}
}

// code is what a code with its variant says of values, in names and values in turn.
func (p printer) code(code string, list ...any) string {
	m := service.Message{Code: code}
	for i := 0; i < len(list); i += 2 {
		m.Values = append(m.Values, service.Value{Name: list[i].(string), Value: list[i+1]})
	}
	return p.say(m)
}

// say is the sentence of a message.
func (p printer) say(m service.Message) string {
	code := m.Code
	if m.Variant != "" {
		code += "/" + m.Variant
	}
	return p.said.Say(code, func(name, form string) (string, bool) {
		at := slices.IndexFunc(m.Values, func(v service.Value) bool { return v.Name == name })
		switch {
		case at < 0:
			return "", false
		case form == catalogue.Count:
			return fmt.Sprint(m.Values[at].Value), true
		}
		return p.print(m.Values[at], form), true
	})
}

// printed is a value that is printed already.
type printed string

// print is a value in words, and numbers with the job's decimal mark: unlike a name, a part, a thread or a date, which
// may hold a point too.
func (p printer) print(v service.Value, form string) string {
	switch x := v.Value.(type) {
	case printed:
		return string(x)
	case service.Message:
		return p.say(x)
	case []service.Message:
		return join(p, x, " ")
	case service.Word:
		return p.number(p.word(string(x)))
	case []service.Word:
		return join(p, x, "; ")
	case []string:
		if v.Name == "stations" || v.Name == "unknown" {
			return join(p, x, ", ")
		}
		return join(p, x, "; ")
	case string:
		x = plain.Clean(x)
		if len(x) > 2 { // else a label, as of a station or a mark
			*p.own = append(*p.own, x)
		}
		return x
	case units.Volume:
		if v.Computed { // two places going up, one going down, a limit
			places := map[bool]int{true: 1, false: 2}[v.Round == units.ToNegativeInf]
			return computed(p, x, x.Unit(), p.prefer.Volume, places, v.Round)
		}
		return quantity(p, x, p.prefer.Volume, v.Round)
	case units.Mass:
		return computed(p, x, units.Kilogram, p.prefer.Mass, 1, v.Round)
	case units.Length:
		if v.Computed {
			x = x.Round(min(3, x.Places()), units.ToNearestEven)
		}
		if units.Factor(x.Unit(), units.Metre).Cmp(hundred) > 0 { // a distance
			return p.number(x)
		}
		return quantity(p, x, p.prefer.Length, units.ToNearestEven)
	case units.Temperature:
		return p.temperature(x, v.Round)
	case units.TemperatureDifference:
		return p.difference(x)
	case drain.Estimate[units.VolumeUnit]:
		return p.volumes(x)
	case drain.Estimate[units.MassUnit]:
		if v.Computed {
			return p.briefly(x)
		}
		return estimate(p, x, p.prefer.Mass, units.Kilogram, units.Pound, 2)
	case units.VolumeUnit:
		return inUnit(x, p.prefer.Volume)
	case units.MassUnit:
		return inUnit(x, p.prefer.Mass)
	case units.TorqueUnit, units.TemperatureScale, waste.Date, turn.Thread, waste.Zone:
		return fmt.Sprint(x)
	case units.Angle:
		return p.angle(x)
	case []units.Angle:
		return p.code("number/range", "low", x[0], "high", x[1])
	case units.Torque:
		if v.Computed {
			return p.number(digits(x))
		}
		if form == "number" {
			return p.number(numeral(x))
		}
		return p.number(x)
	case []units.Torque:
		return join(p, x, ", ")
	case []units.TorqueUnit:
		return join(p, x, ", ")
	case torque.Band:
		return p.band(x)
	case turn.Turn:
		if form == "number" {
			return p.fraction(x)
		}
		return p.turns(x)
	case turn.Instruction:
		return p.instruction(x)
	case turn.Sequence:
		return p.code("turn/sequence", "snug", x.Torque(), "stages", printed(join(p, x.Stages(), " + ")))
	case turn.Position:
		return p.place(turn.Place{Mark: x.Mark, Past: x.Past, Passes: x.Passes}, form)
	case turn.Place:
		return p.place(x, form)
	case service.Counts:
		if x.Least == x.Most {
			return p.number(x.Best)
		}
		return p.code("number/counts", "least", x.Least, "best", x.Best, "most", x.Most)
	}
	switch r := reflect.ValueOf(v.Value); r.Kind() {
	case reflect.Pointer:
		if r.IsNil() {
			return ""
		}
		v.Value = r.Elem().Interface()
		return p.print(v, form)
	case reflect.Uint8: // an enumeration
		return p.word(fmt.Sprint(v.Value))
	}
	return p.number(v.Value)
}

// join prints the elements of a list.
func join[V any](p printer, list []V, between string) string {
	all := make([]string, len(list))
	for i, v := range list {
		all[i] = p.print(service.Value{Value: v}, "")
	}
	return strings.Join(all, between)
}

// word is a word of this module in the language.
func (p printer) word(word string) string {
	if said, found := p.said.Sentences["word/"+word]; found {
		return said
	}
	return word
}

// number prints a number with its decimal mark, and a plus between a whole number and a fraction: 1 1/4 might be
// read as 11/4.
func (p printer) number(v any) string {
	return decimalMark(mixed(plain.Clean(fmt.Sprint(v))), p.prefer.DecimalComma)
}

// turns prints a turn with its word: "3/4 turn", "1 + 1/4 turns".
func (p printer) turns(t turn.Turn) string {
	form := map[int]string{-1: "part", 0: "one", 1: "more"}[t.Compare(turn.MustOf(1, 1))]
	if t == (turn.Turn{}) {
		form = "more"
	}
	return p.code("turn/"+form, "number", printed(p.fraction(t)))
}

// fraction is a turn without the word.
func (p printer) fraction(t turn.Turn) string {
	number, _, _ := strings.Cut(t.String(), " turn")
	return p.number(number)
}

func (p printer) instruction(in turn.Instruction) string {
	turn := any(in.Most())
	if in.Least() != in.Most() {
		turn = printed(p.code("number/range", "low", in.Least(), "high", in.Most()))
	}
	return p.code("turn/after", "turn", turn, "datum", in.Datum())
}

// place prints a place in a form of the catalogue: "place" where it has none, "bare" without "at", "cell" in a table.
func (p printer) place(at turn.Place, form string) string {
	code, rounds := "place", at.Passes
	if form != "" {
		code = form
	}
	at.Passes = 0
	switch {
	case rounds == 1:
		return p.code(code+"/round", "place", printed(p.place(at, form)))
	case rounds != 0:
		return p.code(code+"/rounds", "place", printed(p.place(at, form)), "times", rounds)
	case at.Past != (turn.Turn{}):
		code += "/past"
	case at.Next == "":
		code += "/at"
	case at.Share == (turn.Part{}):
		code += "/midway"
	default:
		code += "/share"
	}
	return p.code(code, "mark", at.Mark, "next", at.Next, "share", at.Share, "past", at.Past)
}

// band prints "20 to 25 N·m".
func (p printer) band(b torque.Band) string {
	low := any(b.Low())
	if b.Low().Unit() != b.High().Unit() {
		low = printed(p.number(low))
	}
	return p.code("number/range", "low", low, "high", b.High())
}

// mixed puts a plus between a whole number and a fraction.
func mixed(text string) string {
	whole, rest, _ := strings.Cut(text, " ")
	part, _, _ := strings.Cut(rest, " ")
	if over, under, found := strings.Cut(part, "/"); found && number(whole) && number(over) && number(under) {
		return whole + " + " + rest
	}
	return text
}

// number reports whether a text is digits.
func number(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// inUnit is the unit asked for, or else the job's.
func inUnit[U units.Unit](unit U, preferred *U) string {
	if preferred != nil {
		unit = *preferred
	}
	return unit.String()
}

func decimalMark(text string, comma bool) string {
	if !comma {
		return text
	}
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	marked := []byte(text)
	for i, c := range marked {
		if c == '.' && digit(i-1) && digit(i+1) {
			marked[i] = ','
		}
	}
	return string(marked)
}

// quantity prints a single value in the unit asked for, rounded to within a hundredth of itself,
// with what it was rounded from.
func quantity[U units.Unit](p printer, q units.Quantity[U], unit *U, mode units.Rounding) string {
	if unit == nil || *unit == q.Unit() {
		return p.number(q)
	}
	r := q.RoundIn(*unit, fineEnough(q, *unit, placesIn(*unit)), mode)
	return p.rounded(r, q, r.Equal(q))
}

// rounded prints a value with what it was rounded from.
func (p printer) rounded(value, from any, exact bool) string {
	if exact {
		return p.number(value)
	}
	return p.code("number/rounded", "value", printed(p.number(value)), "from", printed(p.number(from)))
}

// fineEnough is the fewest places, from so many up to six, that move a value by no more than a
// hundredth of it.
func fineEnough[U units.Unit](q units.Quantity[U], unit U, places int) int {
	for ; places < 6; places++ {
		off, _ := q.RoundIn(unit, places, units.ToNearestEven).Sub(q)
		if q.Sign() == 0 || off.Abs().Ratio(q.Abs()).Cmp(hundredth) <= 0 {
			break
		}
	}
	return places
}

var hundred, tenth, hundredth = big.NewRat(100, 1), big.NewRat(1, 10), big.NewRat(1, 100)

// placesIn is how many places are printed at least: none of what is small in a workshop.
func placesIn[U units.Unit](unit U) int {
	switch u := any(unit).(type) {
	case units.VolumeUnit:
		if units.Factor(u, units.Litre).Cmp(tenth) < 0 {
			return 0
		}
		return 2
	case units.MassUnit:
		switch f := units.Factor(u, units.Kilogram); {
		case f.Cmp(big.NewRat(1, 1)) >= 0:
			return 3
		case f.Cmp(tenth) >= 0:
			return 2
		}
		return 0
	}
	return 1
}

// temperature rounds to a tenth of a degree.
func (p printer) temperature(t units.Temperature, mode units.Rounding) string {
	scale := p.prefer.Temperature
	if scale == nil || *scale == t.Scale() {
		return p.number(t)
	}
	r := t.RoundIn(*scale, 0, mode)
	if !r.Equal(t) {
		r = t.RoundIn(*scale, 1, mode)
	}
	return p.rounded(r, t, r.Equal(t))
}

// computed is what was worked out, in few places: in a unit that is preferred, as many as it takes to be within a
// hundredth.
func computed[U units.Unit](p printer, q units.Quantity[U], unit U, preferred *U, places int, mode units.Rounding) string {
	if preferred != nil {
		unit = *preferred
		places = fineEnough(q, unit, places)
	}
	return p.number(q.RoundIn(unit, places, mode))
}

// angle is in degrees, to a hundredth.
func (p printer) angle(a units.Angle) string {
	if a.Places() > 2 {
		return p.code("number/about", "value", printed(p.number(a.Round(2, units.ToNearestEven))))
	}
	return p.number(a)
}

// difference is a difference of temperatures on both scales, to a tenth.
func (p printer) difference(d units.TemperatureDifference) string {
	other := units.CelsiusDifference
	if d.Unit() == other {
		other = units.FahrenheitDifference
	}
	return p.number(fmt.Sprintf("%v (%v)", d, d.RoundIn(other, 1, units.ToNearestEven)))
}

// volumes prints a range in the unit asked for; without one, as written and then in the other
// system's unit of that size.
func (p printer) volumes(e drain.Estimate[units.VolumeUnit]) string {
	other, places := units.USGallon, 2
	switch e.Best.Unit() {
	case units.USGallon, units.USQuart, units.USPint:
		other = units.Litre
	case units.USFluidOunce:
		other, places = units.Millilitre, 0
	case units.Millilitre:
		other, places = units.USFluidOunce, 1
	}
	return estimate(p, e, p.prefer.Volume, e.Best.Unit(), other, places)
}

// estimate prints low / best / high in the unit asked for, rounded outward; without one, in the usual unit and then
// in another to so many places.
func estimate[U units.Unit](p printer, e drain.Estimate[U], asked *U, usual, other U, places int) string {
	unit, fine := usual, placesIn(usual)
	if asked != nil {
		unit, fine = *asked, fineEnough(e.Best, *asked, placesIn(*asked))
	}
	few, exact := true, true // as they are written
	for _, q := range []units.Quantity[U]{e.Low, e.Best, e.High} {
		few = few && q.Unit() == unit && q.Places() <= 3
		exact = exact && q.RoundIn(unit, fine, units.ToNearestEven).Equal(q)
	}
	text := printed(p.triple(numeralsOf(e, unit, fine), unit))
	switch {
	case few:
		text = printed(p.triple([3]string{numeral(e.Low), numeral(e.Best), numeral(e.High)}, unit))
	case !exact:
		text = printed(p.code("number/estimate-rounded", "value", text, "from", printed(p.number(digits(e.Best)))))
	}
	text = printed(p.code("number/estimate", "value", text, "from", e.From))
	if asked == nil {
		text = printed(p.code("number/also", "value", text, "other", printed(p.triple(numeralsOf(e, other, places), other))))
	}
	return string(text)
}

// briefly prints a range in one unit, outward: "1.36 (1.09 to 1.63) kg".
func (p printer) briefly(e drain.Estimate[units.MassUnit]) string {
	unit := units.Kilogram
	if p.prefer.Mass != nil {
		unit = *p.prefer.Mass
	}
	n := numeralsOf(e, unit, fineEnough(e.Best, unit, max(placesIn(unit), 1)-1))
	return p.code("number/briefly", "low", printed(p.number(n[0])), "best", printed(p.number(n[1])), "high", printed(p.number(n[2])), "unit", printed(unit.String()))
}

// numeralsOf are low, best and high in a unit, rounded outward.
func numeralsOf[U units.Unit](e drain.Estimate[U], unit U, places int) [3]string {
	show := func(q units.Quantity[U], mode units.Rounding) string { return numeral(q.RoundIn(unit, places, mode)) }
	return [3]string{show(e.Low, units.ToNegativeInf), show(e.Best, units.ToNearestEven), show(e.High, units.ToPositiveInf)}
}

// triple prints "1 / 2 / 3 L".
func (p printer) triple(n [3]string, unit fmt.Stringer) string {
	return p.number(strings.Join(n[:], " / ") + " " + unit.String())
}

// numeral is the number of a quantity, with its places.
func numeral[U units.Unit](q units.Quantity[U]) string {
	return strings.TrimSuffix(q.String(), " "+q.Unit().String())
}

// digits is a number as it was before rounding, cut after eight places with an ellipsis.
func digits[U units.Unit](q units.Quantity[U]) string {
	if q.Places() <= 8 {
		return q.String()
	}
	cut := q.Abs().Round(8, units.ToNegativeInf)
	return fmt.Sprintf("%s… %v", numeral(cut), q.Unit())
}
