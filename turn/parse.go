package turn

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// The grammar of a turn:
//
//	turn     = amount [ [ "of" ] [ "a" ] unit ]
//	amount   = number | fraction | whole ( blank | "-" | "and" ) fraction | words
//	number   = digits [ "." digits ]                          at most 9 digits, 6 of them places
//	fraction = digits "/" digits | "½" | "¾" | digits "quarters" | ...
//	words    = "three quarters" | "half" | "one and a half" | "two" ...
//	unit     = "turn" | "rev" | "°" | "deg" | "flat" [ "of" polygon ] ...
//	polygon  = "a hexagon" | "a square" | "an octagon" | digits      a hexagon where none is named
//	range    = turn [ ( "to" | "-" | "–" ) turn ]
//
// So "1-1/4" is a mixed number, and "3/4-1", "1-2" and "1 - 1 1/4" are ranges. A fraction may
// stand without its unit, since fractions are only used of turns here; a whole number and a
// decimal may not: 90 could be anything. In a range the second unit serves for both.

const maxText = 256

const wantParse = `a turn such as "3/4 turn", "270°" or "2 flats"`

type tokenKind uint8

const (
	tokenEnd tokenKind = iota
	tokenNumber
	tokenWord
	tokenFraction // one character: ¾
	tokenSign     // everything else
)

type token struct {
	kind   tokenKind
	text   string // words in small letters
	at     int    // byte of the text
	spaced bool   // a blank is before it
}

// alike brings characters that are written for each other to one form.
var alike = map[rune]string{
	'⁄': "/", '∕': "/", '‐': "-", '‑': "-", '−': "-", '—': "–", '‒': "–", 'º': "°", '˚': "°",
}

// scan splits a text into tokens; ok is false, with the byte, where it isn't UTF-8.
func scan(text string) (tokens []token, at int, ok bool) {
	spaced := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		end := i + size
		t := token{kind: tokenSign, at: i, spaced: spaced, text: text[i:end]}
		switch {
		case r == utf8.RuneError && size == 1:
			return nil, i, false
		case unicode.IsSpace(r):
			spaced, i = true, end
			continue
		case '0' <= r && r <= '9':
			end = numberEnd(text, i)
			t.kind, t.text = tokenNumber, text[i:end]
		case isFraction(r):
			t.kind = tokenFraction
		case unicode.IsLetter(r) && r != 'º':
			for end < len(text) {
				r, size := utf8.DecodeRuneInString(text[end:])
				if !unicode.IsLetter(r) || r == 'º' {
					break
				}
				end += size
			}
			t.kind, t.text = tokenWord, strings.ToLower(text[i:end])
		case alike[r] != "":
			t.text = alike[r]
		}
		tokens = append(tokens, t)
		spaced, i = false, end
	}
	return append(tokens, token{at: len(text), spaced: spaced}), 0, true
}

func isFraction(r rune) bool {
	_, den := rational.Vulgar(r)
	return den != 0
}

func numberEnd(text string, i int) int {
	point := false
	for ; i < len(text); i++ {
		switch c := text[i]; {
		case '0' <= c && c <= '9':
		case c == '.' && !point && i+1 < len(text) && '0' <= text[i+1] && text[i+1] <= '9':
			point = true
		default:
			return i
		}
	}
	return i
}

type parser struct {
	what string
	text string
	toks []token
	i    int
}

// newParser caps the text and splits it.
func newParser(what, text string) (*parser, error) {
	p := &parser{what: what, text: text}
	if len(text) > maxText {
		return nil, misread.Error(what, text, maxText, "longer than 256 bytes", "a shorter text", units.ErrRange)
	}
	toks, at, ok := scan(text)
	if !ok {
		return nil, p.bad(at, "not UTF-8", wantParse, units.ErrSyntax)
	}
	p.toks = toks
	return p, nil
}

func (p *parser) bad(at int, problem, want string, err error) *units.ParseError {
	return misread.Error(p.what, p.text, at, problem, want, err)
}

func (p *parser) peek() token { return p.ahead(0) }

func (p *parser) ahead(n int) token { return p.toks[min(p.i+n, len(p.toks)-1)] }

// accept passes the next token where it is one of the texts.
func (p *parser) accept(texts ...string) bool {
	t := p.peek()
	for _, text := range texts {
		if t.text == text && (t.kind == tokenWord || t.kind == tokenSign) {
			p.i++
			return true
		}
	}
	return false
}

// end refuses whatever is left, but for the full stop of a sentence.
func (p *parser) end() error {
	if p.ahead(1).kind == tokenEnd {
		p.accept(".")
	}
	t := p.peek()
	if t.kind == tokenEnd {
		return nil
	}
	return p.unexpected(t)
}

func (p *parser) unexpected(t token) error {
	if t.kind == tokenWord && isClock(t.text) {
		e := p.bad(t.at, `"`+t.text+`" depends on where one stands, and a turn has no viewpoint`, "", ErrNoView)
		e.Candidates = []string{t.text + " facing the closed end", t.text + " from the head side"}
		return e
	}
	if t.kind == tokenEnd {
		return p.bad(t.at, "the text ends too soon", wantParse, units.ErrSyntax)
	}
	if t.text == "," {
		e := p.bad(t.at, "a comma", "", units.ErrAmbiguous)
		e.Candidates = []string{"a decimal comma", "a separator"}
		return e
	}
	return p.bad(t.at, plain.Quote(t.text)+" is out of place", wantParse, units.ErrSyntax)
}

func isClock(word string) bool {
	switch word {
	case "clockwise", "counterclockwise", "anticlockwise", "cw", "ccw":
		return true
	}
	return false
}

// isLink reports whether a word leads from a turn to its datum.
func isLink(word string) bool {
	switch word {
	case "after", "past", "beyond", "from", "following", "once":
		return true
	}
	return false
}

// amount is a number without its unit yet.
type amount struct {
	num, den int64
	at       int
	fraction bool // 3/4, ¾, "three quarters", "one and a half": never of degrees
}

// with gives the amount of a unit that goes per times into a turn.
func (p *parser) with(a amount, per int64) (Turn, error) {
	t, ok := lowest(a.num, a.den*per) // num < 2·10^18, den < 10^9, per <= 360
	switch {
	case t.num > maxTurns*t.den():
		return Turn{}, p.bad(a.at, "more than 100 turns", wantTurn, units.ErrRange)
	case !ok:
		return Turn{}, p.bad(a.at, "finer than a millionth of a turn", wantTurn, units.ErrRange)
	}
	return t, nil
}

// counts and parts are the numbers a shop writes in words.
var (
	counts = map[string]int64{
		"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
		"eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
	}
	parts = map[string]int64{
		"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4,
		"fourths": 4, "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8,
		"tenth": 10, "tenths": 10, "twelfth": 12, "twelfths": 12,
	}
	polygons = map[string]int64{
		"square": 4, "pentagon": 5, "hexagon": 6, "hex": 6, "octagon": 8, "dodecagon": 12,
	}
)

// amount reads the number of a turn, in figures or in words.
func (p *parser) amount() (amount, error) {
	t := p.peek()
	switch t.kind {
	case tokenNumber:
		p.i++
		whole, err := p.number(t)
		if err != nil {
			return whole, err
		}
		if p.peek().text == "/" {
			return p.fraction(whole)
		}
		if n, ok := parts[p.peek().text]; ok && whole.den == 1 { // "3 quarters"
			p.i++
			p.hyphen()
			return amount{num: whole.num, den: n, at: whole.at, fraction: true}, nil
		}
		if whole.den == 1 {
			return p.mixed(whole)
		}
		return whole, nil
	case tokenFraction:
		p.i++
		return vulgarAmount(t), nil
	case tokenWord:
		return p.words()
	case tokenEnd:
		return amount{}, p.bad(t.at, "no number", wantParse, units.ErrSyntax)
	}
	if t.text == "-" {
		return amount{}, p.bad(t.at, "negative: which way to turn is said by the action, not by a sign", wantTurn, units.ErrRange)
	}
	return amount{}, p.unexpected(t)
}

// number reads one run of digits, with a point or without.
func (p *parser) number(t token) (amount, error) {
	a := amount{den: 1, at: t.at}
	whole, decimals, _ := strings.Cut(t.text, ".")
	if whole = strings.TrimLeft(whole, "0"); len(whole) > 9 {
		return a, p.bad(t.at, "a number of "+strconv.Itoa(len(whole))+" digits", "at most 9", units.ErrRange)
	}
	if len(decimals) > 6 {
		return a, p.bad(t.at, "more than 6 places", "at most 6", units.ErrRange)
	}
	for range decimals {
		a.den *= 10
	}
	a.num, _ = strconv.ParseInt("0"+whole+decimals, 10, 64) // at most 15 digits
	return a, nil
}

// fraction reads the rest of "3/4" from its stroke on.
func (p *parser) fraction(above amount) (amount, error) {
	stroke := p.peek()
	p.i++
	t := p.peek()
	if t.kind != tokenNumber {
		return above, p.bad(t.at, "no number below the stroke", "a fraction such as 3/4", units.ErrSyntax)
	}
	p.i++
	below, err := p.number(t)
	switch {
	case err != nil:
		return above, err
	case above.den != 1 || below.den != 1:
		return above, p.bad(stroke.at, "a decimal in a fraction", "a fraction such as 3/4", units.ErrSyntax)
	case below.num == 0:
		return above, p.bad(t.at, "a denominator of zero", "a fraction such as 3/4", units.ErrRange)
	}
	return amount{num: above.num, den: below.num, at: above.at, fraction: true}, nil
}

func vulgarAmount(t token) amount {
	r, _ := utf8.DecodeRuneInString(t.text)
	num, den := rational.Vulgar(r)
	return amount{num: num, den: den, at: t.at, fraction: true}
}

// mixed reads the fraction behind a whole number, if one is there: "1 1/4", "1-1/4", "1¼",
// "1 and 1/4", "1 and a half".
func (p *parser) mixed(whole amount) (amount, error) {
	skip := 0
	if t := p.ahead(0); t.text == "-" && !t.spaced && !p.ahead(1).spaced || t.text == "and" {
		skip = 1
	}
	next := p.ahead(skip)
	figures := next.kind == tokenNumber && p.ahead(skip+1).text == "/"
	inWords := skip == 1 && p.ahead(0).text == "and" && next.kind == tokenWord
	if !figures && !inWords && next.kind != tokenFraction {
		return whole, nil
	}
	p.i += skip
	part, err := p.amount()
	switch {
	case err != nil:
		return whole, err
	case !part.fraction || part.num >= part.den:
		return whole, p.bad(part.at, "after a whole number, and not less than one",
			`a mixed number such as "1 1/4", or a range such as "1 to 1 1/4"`, units.ErrSyntax)
	}
	if whole.num == 0 && skip == 1 { // nobody writes a mixed number of none
		fraction := strings.TrimSpace(p.text[part.at:p.peek().at])
		e := p.bad(whole.at, "a range or a fraction", "", units.ErrAmbiguous)
		e.Candidates = []string{"0 to " + fraction, fraction}
		return whole, e
	}
	return amount{num: whole.num*part.den + part.num, den: part.den, at: whole.at, fraction: true}, nil
}

// words reads a number in words: "three quarters", "half a", "one full", "one and a half".
func (p *parser) words() (amount, error) {
	t := p.peek()
	a := amount{num: 1, den: 1, at: t.at}
	if n, ok := counts[t.text]; ok {
		a.num = n
		p.i++
		p.hyphen()
	} else if _, ok := parts[t.text]; !ok {
		return a, p.unexpected(t)
	}
	p.accept("full", "whole", "complete")
	if n, ok := parts[p.peek().text]; ok {
		a.den, a.fraction = n, true
		p.i++
		p.hyphen()
		return a, nil
	}
	return p.mixed(a)
}

// hyphen passes the hyphen of "three-quarters" and "quarter-turn".
func (p *parser) hyphen() {
	if t := p.peek(); t.text == "-" && !t.spaced && p.ahead(1).kind == tokenWord {
		p.i++
	}
}

// unit reads a unit and gives how many of it make a turn; 0 where none is there.
func (p *parser) unit() (int64, error) {
	start := p.i
	if p.accept("of") {
		p.accept("a", "an", "one", "the")
	} else {
		p.accept("a", "an")
	}
	p.accept("full", "whole", "complete")
	p.hyphen()
	t := p.peek()
	switch {
	case p.accept("turn", "turns", "rev", "revs", "revolution", "revolutions", "rotation", "rotations"):
		return 1, nil
	case p.accept("°", "deg", "degs", "degree", "degrees"):
		p.accept(".")
		return 360, nil
	case p.accept("flat", "flats"):
		return p.polygon()
	}
	if t.kind == tokenWord && p.i > start {
		return 0, p.bad(t.at, plain.Quote(t.text)+" is no unit of turn", wantParse, units.ErrUnknownUnit)
	}
	p.i = start
	return 0, nil
}

// polygon reads whose flats are counted: a hexagon's where nothing is said.
func (p *parser) polygon() (int64, error) {
	if !p.accept("of") {
		return 6, nil
	}
	p.accept("a", "an", "the")
	t := p.peek()
	p.i++
	if n, ok := polygons[t.text]; ok {
		return n, nil
	}
	if t.kind == tokenNumber {
		if n, err := strconv.ParseInt(t.text, 10, 64); err == nil && 3 <= n && n <= 24 {
			return n, nil
		}
	}
	return 0, p.bad(t.at, "no polygon known here", "a hexagon, a square, an octagon, or a number of sides from 3 to 24", units.ErrSyntax)
}

// measured reads an amount and its unit; per is 0 where no unit is there.
func (p *parser) measured() (a amount, per int64, err error) {
	if a, err = p.amount(); err != nil {
		return a, 0, err
	}
	per, err = p.unit()
	return a, per, err
}

// bare gives the unit of an amount that stands alone: a fraction is of a turn.
func (p *parser) bare(a amount) (Turn, error) {
	if a.fraction {
		return p.with(a, 1)
	}
	t := p.peek()
	if t.kind == tokenWord && !isClock(t.text) && !isLink(t.text) {
		return Turn{}, p.bad(t.at, plain.Quote(t.text)+" is no unit of turn", wantParse, units.ErrUnknownUnit)
	}
	if t.kind == tokenSign {
		return Turn{}, p.unexpected(t)
	}
	return Turn{}, p.bad(t.at, "a number without its unit", "turns, degrees or flats after it", units.ErrNoUnit)
}

// span reads a turn, or a range of two.
func (p *parser) span() (least, most Turn, err error) {
	a, per, err := p.measured()
	if err != nil {
		return least, most, err
	}
	if !p.accept("to", "-", "–") {
		if per != 0 {
			least, err = p.with(a, per)
		} else {
			least, err = p.bare(a)
		}
		return least, least, err
	}
	b, perB, err := p.measured()
	switch {
	case err != nil:
		return least, most, err
	case perB == 0:
		most, err = p.bare(b)
		perB = 1
	default:
		most, err = p.with(b, perB)
	}
	if err != nil {
		return least, most, err
	}
	if per == 0 {
		if per = perB; per == 360 && a.fraction {
			e := p.bad(a.at, "a fraction whose unit may be the turn or the degree after it", "", units.ErrAmbiguous)
			e.Candidates = []string{"turns", "degrees"}
			return least, most, e
		}
	}
	if least, err = p.with(a, per); err != nil {
		return least, most, err
	}
	if least.Compare(most) > 0 {
		return least, most, p.bad(a.at, "the range runs backwards", "the least turn first", units.ErrRange)
	}
	return least, most, nil
}

// Parse reads a turn in figures or in words: "3/4", "¾ turn", "1 1/4 turns", "1-1/4", "0.75 turn",
// "270°", "2 flats" (of a hexagon), "1½ flats of a square", "three quarters of a turn", "one full
// turn". A fraction may be without its unit, a whole number or a decimal may not.
//
// Errors: *units.ParseError, matching units.ErrSyntax, units.ErrRange (0/0, negative, more than
// 100 turns), units.ErrNoUnit, units.ErrUnknownUnit, units.ErrAmbiguous (a comma) or ErrNoView.
func Parse(text string) (Turn, error) {
	p, err := newParser("turn", text)
	if err != nil {
		return Turn{}, err
	}
	a, per, err := p.measured()
	if err != nil {
		return Turn{}, err
	}
	var t Turn
	if per != 0 {
		t, err = p.with(a, per)
	} else if next := p.peek(); (next.text == "to" || next.text == "-" || next.text == "–") && p.ahead(1).kind != tokenEnd {
		return Turn{}, p.bad(next.at, "a range", "one turn", units.ErrSyntax)
	} else {
		t, err = p.bare(a)
	}
	if err == nil {
		err = p.end()
	}
	if err != nil {
		return Turn{}, err
	}
	return t, nil
}

// MustParse is Parse for constants in a program; it panics on an error.
func MustParse(text string) Turn {
	t, err := Parse(text)
	if err != nil {
		panic(err)
	}
	return t
}
