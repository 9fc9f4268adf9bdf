package units

import (
	"strings"
	"unicode/utf8"

	"example.com/snugturn/internal/plain"
)

// The grammar of a quantity:
//
//	quantity = [ sign ] number [ blank ] unit
//	number   = digits [ "." digits ] | "." digits | [ digits ( blank | "-" ) ] fraction
//	fraction = digits "/" digits | "½" | "¼" | ...
//	sign     = "+" | "-" | "−"
//
// At most 34 significant digits and 60 places, at most 128 bytes in all. There are no thousands
// separators, no decimal comma and no exponent: each would make a slip look like a number.

const wantNumber = "plain digits with a point, such as 12.5"

// Parse reads a number and a unit of kind U: "145 in-lb", "12.50 N·m", "1.5L", "1½ in". The number
// keeps its places, the quantity its unit. Errors are *ParseError.
func Parse[U Unit](text string) (Quantity[U], error) {
	var none U
	k := none.kind()
	n, u, err := k.parse(text)
	if err != nil {
		return Quantity[U]{}, err
	}
	return quantity(n, U(u)), nil
}

// MustParse is Parse for constants in a program; it panics on an error.
func MustParse[U Unit](text string) Quantity[U] {
	q, err := Parse[U](text)
	if err != nil {
		panic(err)
	}
	return q
}

// ParseUnit reads a unit of kind U by any of its spellings. Errors are *ParseError.
func ParseUnit[U Unit](text string) (U, error) {
	var none U
	u, err := none.kind().readUnit(text)
	return U(u), err
}

// readUnit reads a unit that stands alone.
func (k *kind) readUnit(text string) (uint8, error) {
	if len(text) > maxText {
		return 0, tooLong(k.name+" unit", text)
	}
	u, err := k.parseUnit(text, skipBlank(text, 0))
	if err != nil {
		err.What += " unit"
		return 0, err
	}
	return u, nil
}

func tooLong(what, text string) *ParseError {
	return misread(what, text, maxText, "longer than 128 bytes", "a shorter text", ErrRange)
}

func (k *kind) parse(text string) (number, uint8, error) {
	if len(text) > maxText {
		return number{}, 0, tooLong(k.name, text)
	}
	start := skipBlank(text, 0)
	n, end, problem := scanNumber(text, start)
	if problem != nil {
		problem.What, problem.Input = k.name, plain.Cut(text)
		return number{}, 0, problem
	}
	at := unitAt(text, end)
	u, err := k.parseUnit(text, at)
	if err != nil {
		return number{}, 0, err
	}
	if !k.inRange(n, u) {
		return number{}, 0, misread(k.name, text, start, "the number is too large",
			"less than 10^24 "+k.rows[0].symbol, ErrRange)
	}
	return n, u, nil
}

// unitAt is where the unit behind a number begins: past blanks, or past the hyphen of "12-in".
func unitAt(text string, end int) int {
	if end+1 < len(text) && text[end] == '-' && skipBlank(text, end+1) == end+1 {
		return end + 1
	}
	return skipBlank(text, end)
}

// parseUnit reads text[at:], all of it but blanks behind it, as a unit.
func (k *kind) parseUnit(text string, at int) (uint8, *ParseError) {
	word := text[at:]
	if e, ok := k.lookup(word); ok && e.trap == nil {
		return e.unit, nil
	}
	word = strings.TrimRightFunc(word, plain.IsBlank)
	if word == "" {
		return 0, misread(k.name, text, at, "no unit", k.some(), ErrNoUnit)
	}
	e, ok := k.lookup(word)
	if ok && e.trap == nil {
		return e.unit, nil
	}
	if ok {
		p := misread(k.name, text, at, plain.Quote(word)+" "+e.trap.why, "", ErrAmbiguous)
		if len(e.trap.candidates) == 0 {
			p.Err, p.Want = ErrOtherKind, k.some()
		}
		p.Candidates = e.trap.candidates
		return 0, p
	}
	if other := k.otherKindOf(word); other != nil {
		return 0, misread(k.name, text, at, plain.Quote(word)+" is a unit of "+other.name, k.some(), ErrOtherKind)
	}
	problem, want := plain.Quote(word)+" is not a unit of "+k.name+" known here", k.some()
	sentinel := ErrUnknownUnit
	if c := word[0]; '0' <= c && c <= '9' || c == ',' || c == '.' {
		problem, want, sentinel = "a second number where a unit was expected", wantNumber+", then a unit", ErrSyntax
	}
	return 0, misread(k.name, text, at, problem, want, sentinel)
}

// otherKindOf is the kind that has a unit of this spelling, or else the one that has several. What
// a kind knows only to refuse it, as a torque the joule, is no unit of that kind.
func (k *kind) otherKindOf(word string) *kind {
	if unreadable(word) {
		return nil
	}
	var several *kind
	folded := foldUnit(word)
	for _, other := range kinds() {
		e, ok := other.lookupFolded(folded)
		switch {
		case !ok || other == k:
		case e.trap == nil:
			return other
		case len(e.trap.candidates) > 1 && several == nil:
			several = other
		}
	}
	return several
}

// some names a few units of the kind, for errors.
func (k *kind) some() string {
	var usual, first []string
	for i, r := range k.rows {
		if r.usual {
			usual = append(usual, r.symbol)
		}
		if i < 3 {
			first = append(first, r.symbol)
		}
	}
	names := usual
	if len(names) == 0 {
		names = first
	}
	return "a unit such as " + strings.Join(names, ", ")
}

// skipBlank passes blanks of any width from position at.
func skipBlank(text string, at int) int {
	for at < len(text) {
		r, size := rune(text[at]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(text[at:])
		}
		if !plain.IsBlank(r) {
			break
		}
		at += size
	}
	return at
}

// scanNumber reads a number that starts at text[at] and says where it ends.
func scanNumber(text string, at int) (n number, end int, problem *ParseError) {
	bad := func(offset int, what, want string, err error) (number, int, *ParseError) {
		return number{}, 0, &ParseError{Offset: offset, Problem: what, Want: want, Err: err}
	}
	neg, first := scanSign(text, at)
	coef, point, i, fits := scanDigits(text, first)
	if !fits {
		return bad(i, "more than 34 significant digits", "at most 34", ErrRange)
	}
	if point < 0 && startsFraction(text, i) {
		n, end, problem := scanFraction(text, first, i, coef)
		if problem != nil || end > i {
			return n.signed(neg), end, problem
		}
	}
	if i == first {
		if i == len(text) {
			return bad(i, "no number", wantNumber, ErrSyntax)
		}
		return bad(i, "no digit where the number should start", wantNumber, ErrSyntax)
	}
	places := 0
	if point >= 0 {
		places = i - point - 1
	}
	if places > maxPlaces {
		return bad(point, "more than 60 places", "at most 60", ErrRange)
	}
	if problem := behindNumber(text, i, point >= 0); problem != nil {
		return number{}, 0, problem
	}
	return number{coef: coef, places: uint8(places)}.signed(neg), i, nil
}

// scanDigits reads the digits from text[i] on as one whole number, with where the point among them is, or -1,
// and where they end; where they don't fit, end is the first that is too many.
func scanDigits(text string, i int) (coef u128, point, end int, fits bool) {
	point, significant := -1, 0
	var small uint64 // the coefficient while it fits
	wide := false
scan:
	for ; i < len(text); i++ {
		c := text[i]
		switch {
		case '0' <= c && c <= '9':
			if significant > 0 || c != '0' {
				if significant++; significant > maxDigits {
					return coef, point, i, false
				}
			}
			if significant <= 19 {
				small = small*10 + uint64(c-'0')
				continue
			}
			if !wide {
				wide, coef = true, u128{0, small}
			}
			coef, _ = coef.times(10).low128().plus(u128{0, uint64(c - '0')})
		case c == '.' && point < 0 && i+1 < len(text) && '0' <= text[i+1] && text[i+1] <= '9':
			point = i
		default:
			break scan
		}
	}
	if !wide {
		coef.lo = small
	}
	return coef, point, i, true
}

// scanSign passes a sign, if one is at text[at].
func scanSign(text string, at int) (neg bool, end int) {
	const minus = "−"
	switch {
	case at == len(text):
	case text[at] == '-':
		return true, at + 1
	case text[at] == '+':
		return false, at + 1
	case strings.HasPrefix(text[at:], minus):
		return true, at + len(minus)
	}
	return false, at
}

// behindNumber refuses what is right behind a number, at text[i], and may have been meant as more
// of it.
func behindNumber(text string, i int, hasPoint bool) *ParseError {
	const digits = "0123456789"
	if i == len(text) {
		return nil
	}
	next := func(among string) bool { return i+1 < len(text) && strings.IndexByte(among, text[i+1]) >= 0 }
	bad := func(what, want string) *ParseError {
		return &ParseError{Offset: i, Problem: what, Want: want, Err: ErrSyntax}
	}
	switch c := text[i]; {
	case c == ',':
		return &ParseError{Offset: i, Problem: "a comma in a number", Want: wantNumber, Err: ErrAmbiguous,
			Candidates: []string{"a decimal comma", "a thousands separator"}}
	case (c == 'e' || c == 'E') && next("+-"+digits):
		return bad("an exponent", "the digits written out")
	case c == '.' && hasPoint:
		return bad("a second point", wantNumber)
	case c == '.':
		return bad("no digit after the point", wantNumber)
	case (c == '_' || c == '\'') && next(digits): // else a foot
		return bad("a separator between digits", wantNumber)
	}
	return nil
}

// foldUnit brings the ways to join words and to write letters to one form: every run of blanks,
// dots, hyphens and asterisks becomes "·", superscripts and subscripts become digits, points and
// blanks behind an abbreviation go. A hyphen or an asterisk with nothing behind it or before it stays:
// there was more once, such as the high end of a band.
func foldUnit(text string) string {
	var b strings.Builder
	b.Grow(len(text) + 4)
	const no, soft, hard = 0, 1, 2
	join, last := no, rune(0)
	put := func(r rune) {
		if join == hard || join == soft && r != '/' && r != ')' {
			b.WriteString("·")
		}
		join = no
		b.WriteRune(r)
		last = r
	}
	for i, r := range text {
		if plain.IsBlank(r) {
			r = ' '
		}
		switch r {
		case ' ', '.':
			if (b.Len() > 0 || r == '.') && last != '/' && last != '(' {
				join = max(join, soft)
			}
			continue
		case '*', '-', '·', '⋅', '•', '∙', '‧', '‐', '‑', '‒', '–', '—', '−', '×':
			join = hard
			continue
		case '²':
			r = '2'
		case '³':
			r = '3'
		case '₂': // H₂O
			r = '2'
		case '^': // in^3
			if i+1 < len(text) && '0' <= text[i+1] && text[i+1] <= '9' {
				continue
			}
		case 'ℓ':
			r = 'l'
		case 'º', '˚':
			r = '°'
		case '℃':
			put('°')
			r = 'C'
		case '℉':
			put('°')
			r = 'F'
		case '\u212a': // the sign for kelvin
			r = 'K'
		case 'μ':
			r = 'µ'
		case '″', '”':
			r = '"'
		case '′', '’':
			r = '\''
		}
		put(r)
	}
	if join == hard {
		b.WriteString("·")
	}
	return b.String()
}
