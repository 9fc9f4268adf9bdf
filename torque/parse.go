package torque

import (
	"errors"
	"math/big"
	"strings"
	"unicode"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// The grammar of a printed limit. Units stand once or on every number, blanks where they like:
//
//	band   = limit range limit | [ "from" ] limit "to" limit | "between" limit "and" limit
//	       | limit "±" ( limit | number "%" )
//	       | limit "+" limit [ "/" | "," ] "-" limit          both tolerances may be in percent;
//	                                                          a tolerance of 0 needs no sign
//	       | ( "max" | "maximum" | "up to" | "at most" | "not more than" | "≤" ) limit
//	       | limit ( "max" | "maximum" )
//	limit  = number [ unit ]
//	range  = "to" | "through" | "thru" | "-" | "–" | "—" | "−" | "~" | "..." | "…"
//	"±"    = "±" | "+/-" | "+-"
//
// A tolerance may be in parentheses, brackets or braces: "30 N·m (± 3)". Its sign tells it from the
// same value in another unit.
//
// A range is closed: both limits pass, with "to" as with "through". A maximum alone has zero for
// its low limit.

const (
	maxText  = 192 // two numbers of 60 places with their units fit
	bandWhat = "torque band"
	wantBand = `limits such as "145 to 190 in-lb", "30 ± 3 N·m", "30 N·m ± 10 %", "30 +5/-0 N·m" or "max 40 N·m"`
)

// ParseBand reads a limit as sheets print it: "145 to 190 in-lb", "145-190 in-lb",
// "145 in-lb to 190 in-lb", "30 ± 3 N·m", "30 N·m ± 10 %", "30 +5/-0 N·m", "max 40 N·m". It takes
// at most 192 bytes. A tolerance with its sign may be in parentheses, "30 N·m (±3)".
//
// Errors: *units.ParseError, matching ErrNoTolerance for a nominal value alone, ErrTwoUnits for
// a limit with a second unit in parentheses, or one of the sentinels of package units.
func ParseBand(text string) (Band, error) {
	if len(text) > maxText {
		return Band{}, misread.Error(bandWhat, text, maxText, "longer than 192 bytes", "a shorter text", units.ErrRange)
	}
	p := bandText{text: unwrapTolerance(text), quoted: text}
	b, err := p.read()
	if err != nil {
		return Band{}, p.parseError(err)
	}
	return b, nil
}

// parseError makes an error about values one about the text they were read from.
func (p *bandText) parseError(err error) error {
	var parse *units.ParseError
	if !errors.As(err, &parse) {
		return misread.Error(bandWhat, p.quoted, 0, err.Error(), wantBand, errors.Unwrap(err))
	}
	own := *parse
	own.What, own.Input = bandWhat, plain.Cut(p.quoted)
	return &own
}

// MustParseBand is ParseBand for constants in a program; it panics on an error.
func MustParseBand(text string) Band {
	b, err := ParseBand(text)
	if err != nil {
		panic(err)
	}
	return b
}

// span is a part of the text by its bytes.
type span struct{ from, to int }

// bandText reads one printed limit: the numbers in it, and what is around them.
type bandText struct {
	text    string // without parentheses round a tolerance
	quoted  string // as it was given, for errors; every byte stands where it is in text
	start   int    // what is in front is another text's
	numbers []span
	// loose lets a nominal value stand alone: it is then in nominal, and the band is the zero one. The
	// doubts below are noted, too.
	loose   bool
	single  bool
	maximum bool
	nominal units.Torque
	// How far each limit may be off for the places it was printed with, in the limit's unit; see
	// ParsePrintedLimit.
	lowDoubt, highDoubt *big.Rat
	derived             bool // the limits are worked out of a value and its tolerance
}

func (p *bandText) refuse(at int, problem, want string, err error) error {
	return misread.Error(bandWhat, p.quoted, at, problem, want, err)
}

func (p *bandText) cut(s span) string { return p.text[s.from:s.to] }

func (p *bandText) read() (Band, error) {
	if at := strings.IndexAny(p.text[p.start:], "([{"); at >= 0 {
		return Band{}, p.inParentheses(p.start + at)
	}
	p.numbers = findNumbers(p.text, p.start)
	switch len(p.numbers) {
	case 0:
		return Band{}, p.refuse(0, "no number", wantBand, units.ErrSyntax)
	case 1:
		return p.readOne()
	case 2:
		return p.readTwo()
	case 3:
		return p.readThree()
	}
	return Band{}, p.refuse(p.numbers[3].from, "a fourth number", wantBand, units.ErrSyntax)
}

// inParentheses refuses what is in parentheses and isn't a tolerance.
func (p *bandText) inParentheses(at int) error {
	inner := p.text[at+1:]
	end := strings.IndexByte(inner, closing(p.text[at]))
	if end < 0 {
		return p.refuse(at, "what opens here isn't closed", wantBand, units.ErrSyntax)
	}
	if inner = trimBlanks(inner[:end]); strings.ContainsFunc(inner, unicode.IsLetter) {
		return p.refuse(at, "a second value in parentheses", "a limit in one unit", ErrTwoUnits)
	}
	return p.refuse(at, "the parentheses hold neither a tolerance with its sign nor a value with its unit",
		`a tolerance such as "(± 3)" or "(+5/-0)"`, units.ErrSyntax)
}

// unwrapTolerance puts blanks for the parentheses round a tolerance: "25 N·m (±3)" is read as
// "25 N·m  ±3 ", and every byte stays where it is.
func unwrapTolerance(text string) string {
	if !strings.ContainsAny(text, "([{") {
		return text
	}
	plain := []byte(text)
	for i := range plain {
		closer := closing(plain[i])
		if closer == 0 {
			continue
		}
		if end := strings.IndexByte(text[i:], closer); end > 0 && isTolerance(text[i+1:i+end]) {
			plain[i], plain[i+end] = ' ', ' '
		}
	}
	return string(plain)
}

// isTolerance reports whether a text has the signs of one: ±, or both plus and minus. A lone sign
// could be a range, "25 N·m (-35)".
func isTolerance(text string) bool {
	text = trimBlanks(text)
	if !startsWithSign(text) || !strings.ContainsAny(text, "0123456789") {
		return false
	}
	return strings.HasPrefix(text, "±") || strings.Contains(text, "+") && strings.ContainsAny(text, "-−–")
}

func startsWithSign(text string) bool {
	for _, sign := range [...]string{"±", "+", "-", "−", "–"} {
		if strings.HasPrefix(text, sign) {
			return true
		}
	}
	return false
}

// findNumbers marks every run of digits, with the points and commas inside it. Signs are left to
// what is between the numbers: a hyphen is a range or a minus only by its place.
func findNumbers(text string, start int) []span {
	var found []span
	digit := func(i int) bool { return i < len(text) && '0' <= text[i] && text[i] <= '9' }
	for i := start; i < len(text); i++ {
		if !digit(i) && !(text[i] == '.' && digit(i+1) && (i == start || text[i-1] != '.')) {
			continue
		}
		from := i
		for digit(i) || i < len(text) && strings.IndexByte(".,_'", text[i]) >= 0 && digit(i+1) {
			i++
		}
		found = append(found, span{from, i})
		if len(found) > 3 {
			break // a fourth is an error already
		}
	}
	return found
}

func trimBlanks(text string) string { return strings.TrimFunc(text, plain.IsBlank) }

// trim is trimBlanks of a part.
func (p *bandText) trim(s span) span {
	inner := strings.TrimLeftFunc(p.cut(s), plain.IsBlank)
	s.from = s.to - len(inner)
	s.to = s.from + len(strings.TrimRightFunc(inner, plain.IsBlank))
	return s
}

// before is what is in front of the first number, after what is behind the last.
func (p *bandText) before() span { return p.trim(span{p.start, p.numbers[0].from}) }

func (p *bandText) after() span {
	return p.trim(span{p.numbers[len(p.numbers)-1].to, len(p.text)})
}

// gap is what is behind number i and before the next.
func (p *bandText) gap(i int) span { return p.trim(span{p.numbers[i].to, p.numbers[i+1].from}) }

// What joins two numbers.
const (
	joinRange = iota + 1
	joinDash  // a range between two limits, a minus before a tolerance
	joinAnd
	joinPlusMinus
	joinPlus
)

// The longer of two that end alike comes first.
var joins = []struct {
	text string
	join int
}{
	{"through", joinRange}, {"thru", joinRange}, {"to", joinRange}, {"and", joinAnd},
	{"+/-", joinPlusMinus}, {"+/−", joinPlusMinus}, {"+/–", joinPlusMinus}, {"±", joinPlusMinus}, {"+-", joinPlusMinus},
	{"+", joinPlus}, {"-", joinDash}, {"–", joinDash}, {"—", joinDash}, {"−", joinDash}, {"‐", joinDash}, {"‑", joinDash},
	{"~", joinRange}, {"～", joinRange}, {"〜", joinRange}, {"...", joinRange}, {"..", joinRange}, {"…", joinRange},
}

// splitJoin takes the word or sign that joins two numbers off the end of a gap; 0 where there is
// none.
func (p *bandText) splitJoin(s span) (unit span, join int) {
	low := strings.ToLower(p.cut(s))
	for _, j := range joins {
		if rest, ok := strings.CutSuffix(low, j.text); ok && len(low) == s.to-s.from && wordEnds(rest, j.text) {
			return p.trim(span{s.from, s.to - len(j.text)}), j.join
		}
	}
	return s, 0
}

// wordEnds reports whether a word of letters behind rest stands on its own.
func wordEnds(rest, word string) bool {
	if c := word[0]; c < 'a' || c > 'z' || rest == "" {
		return true
	}
	last := rest[len(rest)-1]
	return last < 'a' || last > 'z'
}

// splitPercent takes a percent sign off the front.
func (p *bandText) splitPercent(s span) (rest span, percent bool) {
	low := strings.ToLower(p.cut(s))
	for _, sign := range [...]string{"%", "percent", "pct"} {
		if strings.HasPrefix(low, sign) {
			return p.trim(span{s.from + len(sign), s.to}), true
		}
	}
	return s, false
}

// torque is number i with the first of the units that is there.
func (p *bandText) torque(i int, choices ...span) (units.Torque, error) {
	number := p.numbers[i]
	for _, s := range choices {
		if s.from == s.to {
			continue
		}
		// What begins with a letter is no more of the number, and both are read at once.
		if c := p.text[s.from] | 0x20; 'a' <= c && c <= 'z' {
			if q, err := units.ParseTorque(p.cut(number) + " " + p.cut(s)); err == nil {
				return q, nil
			}
		}
		return p.torqueIn(number, s)
	}
	return units.Torque{}, p.refuse(number.to, "no unit", "a unit such as in-lb, ft-lb or N·m after the number", units.ErrNoUnit)
}

// torqueIn reads a unit, and then the number in it, so that an error is about the one that is wrong.
func (p *bandText) torqueIn(number, s span) (units.Torque, error) {
	unit, err := units.ParseUnit[units.TorqueUnit](p.cut(s))
	if err != nil {
		return units.Torque{}, p.moved(err, s.from)
	}
	q, err := units.ParseTorque(p.cut(number) + " " + unit.String())
	if err != nil {
		return units.Torque{}, p.moved(err, number.from)
	}
	return q, nil
}

// moved makes an error about a part of the text one about the text.
func (p *bandText) moved(err error, from int) error {
	var e *units.ParseError
	if !errors.As(err, &e) {
		return err
	}
	moved := misread.Error(bandWhat, p.quoted, from+e.Offset, e.Problem, e.Want, e.Err)
	moved.Candidates = e.Candidates
	return moved
}

// unitOnce refuses a unit, or what else is there, where the unit was before: a percentage has none of its own.
func (p *bandText) unitOnce(places ...span) error {
	there := false
	for _, s := range places {
		if s.from == s.to {
			continue
		}
		if there {
			return p.refuse(s.from, plain.Quote(p.cut(s))+" where only a percentage was expected", `the unit once, such as "30 N·m ± 10 %"`, units.ErrSyntax)
		}
		there = true
	}
	return nil
}

// percent is number i as a percentage.
func (p *bandText) percent(i int) (units.Share, error) {
	s, err := units.ParseShare(p.cut(p.numbers[i]) + " %")
	if err != nil {
		return units.Share{}, p.moved(err, p.numbers[i].from)
	}
	return s, nil
}

func isOneOf(word string, list ...string) bool {
	for _, w := range list {
		if word == w {
			return true
		}
	}
	return false
}

// word is a piece of text with letter case, blanks and a closing point taken away.
func (p *bandText) word(s span) string {
	return strings.TrimRight(strings.Join(strings.Fields(strings.ToLower(p.cut(s))), " "), ".:")
}

// badStart refuses what is before the first number.
func (p *bandText) badStart() error {
	s := p.before()
	switch word := p.word(s); word {
	case "-", "−", "–":
		return p.refuse(s.from, "a limit is below zero", "zero or more; a direction is not a sign", units.ErrRange)
	case "±", "+/-", "+-":
		return p.refuse(s.from, "a tolerance without the value it belongs to", wantBand, units.ErrSyntax)
	case "min", "minimum", "at least", "not less than", "≥", ">=":
		return p.refuse(s.from, "a low limit without a high limit", `both, such as "20 to 30 N·m"`, units.ErrSyntax)
	case "<", "less than", "under", "below", ">", "more than", "over", "above":
		return p.refuse(s.from, "a limit that isn't itself allowed", `closed limits, such as "max 40 N·m"`, units.ErrSyntax)
	}
	return p.refuse(s.from, plain.Quote(p.cut(s))+" before the number", wantBand, units.ErrSyntax)
}

// readOne reads a maximum. Anything else with one number is a nominal value, and refused.
func (p *bandText) readOne() (Band, error) {
	unit, maximum := p.after(), false
	for _, word := range [...]string{"maximum", "max.", "max"} {
		if rest, ok := strings.CutSuffix(strings.ToLower(p.cut(unit)), word); ok && wordEnds(rest, word) {
			unit, maximum = p.trim(span{unit.from, unit.to - len(word)}), true
			break
		}
	}
	switch word := p.word(p.before()); {
	case word == "" || word == "+":
	case isOneOf(word, "max", "maximum", "up to", "at most", "not more than", "not to exceed", "≤", "<="):
		maximum = true
	default:
		return Band{}, p.badStart()
	}
	q, err := p.torque(0, unit)
	if err != nil {
		return Band{}, err
	}
	if !maximum && p.loose {
		p.nominal, p.single = q, true
		return Band{}, nil
	}
	if !maximum {
		return Band{}, p.refuse(p.numbers[0].from, "a nominal value without a tolerance",
			`the tolerance too, such as "`+q.String()+` ± 10 %", or both limits`, ErrNoTolerance)
	}
	p.maximum = true
	return p.doubtful(q.Unit().Of(0), q)
}

// halfPlace is half of the last place a number is printed with, in its own unit: 0.5 for 30.
func halfPlace(q units.Torque) *big.Rat {
	place := tenth(q.Places())
	return place.Mul(place, half)
}

// doubtful is Between, with a note of how far the limits may be off.
func (p *bandText) doubtful(low, high units.Torque) (Band, error) {
	if p.loose {
		p.lowDoubt, p.highDoubt = halfPlace(low), halfPlace(high)
	}
	return Between(low, high)
}

// doubtPlusMinus notes how far a nominal value and its tolerances may be off together. A tolerance
// in percent counts as exact (40 CFR 1090.50).
func (p *bandText) doubtPlusMinus(nominal, above, below units.Torque) {
	if p.derived = true; !p.loose {
		return
	}
	unit := nominal.Unit()
	sum := func(t units.Torque) *big.Rat {
		x := new(big.Rat).Mul(halfPlace(t), units.Factor(t.Unit(), unit))
		return x.Add(x, halfPlace(nominal))
	}
	p.lowDoubt, p.highDoubt = sum(below), sum(above)
}

func (p *bandText) doubtPercent(nominal units.Torque, above, below units.Share) {
	if p.derived = true; !p.loose {
		return
	}
	part := func(percent units.Share, sign int64) *big.Rat {
		x := fraction(percent)
		x.Mul(x, big.NewRat(sign, 1)).Add(x, one)
		return x.Mul(x, halfPlace(nominal))
	}
	p.lowDoubt, p.highDoubt = part(below, -1), part(above, +1)
}

// readTwo reads two limits, or a value and its tolerance.
func (p *bandText) readTwo() (Band, error) {
	first, join := p.splitJoin(p.gap(0))
	last, percent := p.splitPercent(p.after())
	if join == joinDash {
		join = joinRange
	}
	switch start := p.word(p.before()); {
	case start == "between" && join == joinAnd, start == "from" && join == joinRange:
		join = joinRange
	case start != "" && start != "+":
		return Band{}, p.badStart()
	case join == joinAnd:
		join = 0
	}
	if join == 0 || join == joinPlus {
		return Band{}, p.refuse(p.gap(0).from, "two numbers, and nothing between them that says how they belong together", wantBand, units.ErrSyntax)
	}
	if join == joinRange && percent {
		return Band{}, p.refuse(p.after().from, "a percentage for a limit", wantBand, units.ErrSyntax)
	}
	if percent {
		if err := p.unitOnce(first, last); err != nil {
			return Band{}, err
		}
	}
	nominal, err := p.torque(0, first, last)
	if err != nil {
		return Band{}, err
	}
	if percent {
		x, err := p.percent(1)
		if err != nil {
			return Band{}, err
		}
		p.doubtPercent(nominal, x, x)
		return PlusMinusPercent(nominal, x)
	}
	other, err := p.torque(1, last, first)
	if err != nil {
		return Band{}, err
	}
	if join == joinPlusMinus {
		p.doubtPlusMinus(nominal, other, other)
		return PlusMinus(nominal, other)
	}
	return p.doubtful(nominal, other)
}

// readThree reads a value with a tolerance above and one below, in either order.
func (p *bandText) readThree() (Band, error) {
	if start := p.word(p.before()); start != "" && start != "+" {
		return Band{}, p.badStart()
	}
	first, sign := p.splitJoin(p.gap(0))
	middle, otherSign := p.splitJoin(p.gap(1))
	if s := p.cut(middle); strings.HasSuffix(s, "/") || strings.HasSuffix(s, ",") {
		middle = p.trim(span{middle.from, middle.to - 1})
	}
	if sign == 0 && p.isZero(1) {
		sign = joinPlus + joinDash - otherSign
	} else if otherSign == 0 && p.isZero(2) {
		otherSign = joinPlus + joinDash - sign
	}
	above, below := 1, 2
	switch {
	case sign == joinPlus && otherSign == joinDash:
	case sign == joinDash && otherSign == joinPlus:
		above, below = 2, 1
	default:
		return Band{}, p.refuse(p.numbers[1].from, "three numbers that are no value with a tolerance above and one below", wantBand, units.ErrSyntax)
	}
	middle, midPercent := p.splitPercent(middle)
	last, percent := p.splitPercent(p.after())
	if percent {
		if err := p.unitOnce(first, middle, last); err != nil {
			return Band{}, err
		}
	}
	nominal, err := p.torque(0, first, last, middle)
	if err != nil {
		return Band{}, err
	}
	if percent {
		return p.unevenPercent(nominal, above, below)
	}
	if midPercent {
		return Band{}, p.refuse(p.gap(1).from, "a percentage on one side and a torque on the other", "both in percent or both in a unit", units.ErrSyntax)
	}
	var tolerance [3]units.Torque
	if tolerance[1], err = p.torque(1, middle, last, first); err != nil {
		return Band{}, err
	}
	if tolerance[2], err = p.torque(2, last, first, middle); err != nil {
		return Band{}, err
	}
	p.doubtPlusMinus(nominal, tolerance[above], tolerance[below])
	return plusMinus(nominal, tolerance[above], tolerance[below])
}

// isZero reports whether number i is nothing but zeros.
func (p *bandText) isZero(i int) bool { return strings.Trim(p.cut(p.numbers[i]), "0.") == "" }

func (p *bandText) unevenPercent(nominal units.Torque, above, below int) (Band, error) {
	var x [3]units.Share
	for i := 1; i <= 2; i++ {
		var err error
		if x[i], err = p.percent(i); err != nil {
			return Band{}, err
		}
	}
	p.doubtPercent(nominal, x[above], x[below])
	return plusMinusPercent(nominal, x[above], x[below])
}
