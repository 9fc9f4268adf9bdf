package turn

import (
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Part is an exact part of the gap between two marks, between none and all of it. The zero value is
// half: what people mean who say "between" and no more. Equal parts are ==.
type Part struct{ t Turn } // of the gap; a half is kept as zero

var half = Turn{num: 1, fin: 1}

const wantPart = `a part of the gap such as "1/3", "half", "a quarter" or "25 %"`

func (s Part) kept() Part {
	if s.t == half {
		return Part{}
	}
	return s
}

// turn is the part as a fraction.
func (s Part) turn() Turn {
	if s == (Part{}) {
		return half
	}
	return s.t
}

// String is the fraction, "1/3"; "1/2" for the zero value. [ParsePart] reads it back.
func (s Part) String() string { return string(s.turn().appendNumber(nil)) }

// AppendText appends what String writes; the error is always nil.
func (s Part) AppendText(dst []byte) ([]byte, error) { return s.turn().appendNumber(dst), nil }

// MarshalText is what String writes; the error is always nil.
func (s Part) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParsePart] reads; on an error s stays as it was.
func (s *Part) UnmarshalText(text []byte) error {
	parsed, err := ParsePart(clip(text))
	if err == nil {
		*s = parsed
	}
	return err
}

// ParsePart reads a part of a gap: "1/3", "0.25", "25 %", "half", "two thirds of the way", "a quarter of
// the gap". A unit is refused: a part has none.
//
// Errors: *units.ParseError: units.ErrSyntax, units.ErrRange for what isn't between nothing and the
// whole gap, units.ErrAmbiguous for a comma.
func ParsePart(text string) (Part, error) {
	p, err := newParser("part of a gap", text)
	if err != nil {
		return Part{}, err
	}
	a, err := p.amount()
	if err != nil {
		return Part{}, err
	}
	if p.accept("%", "percent") {
		if a.fraction {
			return Part{}, p.bad(a.at, "a fraction of a percent", wantPart, units.ErrSyntax)
		}
		a.den *= 100
	}
	if p.accept("of") && (!p.accept("the", "a", "their") || !p.accept("gap", "way")) {
		return Part{}, p.bad(p.peek().at, "a part of what isn't a gap", wantPart, units.ErrSyntax)
	}
	if t := p.peek(); t.kind != tokenEnd {
		e := p.unexpected(t)
		if pe, ok := e.(*units.ParseError); ok && pe.Err == units.ErrSyntax {
			e = p.bad(t.at, plain.Quote(t.text)+` behind a part of a gap, which has no unit`, wantPart, units.ErrSyntax)
		}
		return Part{}, e
	}
	if a.num <= 0 || a.num >= a.den {
		return Part{}, p.bad(a.at, "not between nothing and the whole gap", wantPart, units.ErrRange)
	}
	t, ok := lowest(a.num, a.den)
	if !ok {
		return Part{}, p.bad(a.at, "finer than a millionth of the gap", wantPart, units.ErrRange)
	}
	return Part{t}.kept(), nil
}
