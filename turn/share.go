package turn

import (
	"strconv"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Share is an exact part of the gap between two marks, between none and all of it. The zero value is
// half: what people mean who say "between" and no more. Equal shares are ==.
type Share struct{ t Turn } // of the gap; a half is kept as zero

var half = Turn{num: 1, fin: 1}

const wantShare = `a part of the gap such as "1/3", "half", "a quarter" or "25 %"`

// NewShare is numerator/denominator of the gap.
//
// Errors: *ValueError (units.ErrRange) for what isn't between nothing and the whole gap, or finer
// than a millionth of it.
func NewShare(numerator, denominator int64) (Share, error) {
	text := strconv.FormatInt(numerator, 10) + "/" + strconv.FormatInt(denominator, 10)
	if denominator <= 0 || numerator <= 0 || numerator >= denominator {
		return Share{}, refuse("share", text, "not between nothing and the whole gap", wantShare, units.ErrRange)
	}
	t, ok := lowest(numerator, denominator)
	if !ok {
		return Share{}, refuse("share", text, "finer than a millionth of the gap", wantShare, units.ErrRange)
	}
	return Share{t}.kept(), nil
}

func (s Share) kept() Share {
	if s.t == half {
		return Share{}
	}
	return s
}

// turn is the share as a fraction.
func (s Share) turn() Turn {
	if s == (Share{}) {
		return half
	}
	return s.t
}

// String is the fraction, "1/3"; "1/2" for the zero value. [ParseShare] reads it back.
func (s Share) String() string { return string(s.turn().appendNumber(nil)) }

// AppendText appends what String writes; the error is always nil.
func (s Share) AppendText(dst []byte) ([]byte, error) { return s.turn().appendNumber(dst), nil }

// MarshalText is what String writes; the error is always nil.
func (s Share) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParseShare] reads; on an error s stays as it was.
func (s *Share) UnmarshalText(text []byte) error {
	parsed, err := ParseShare(clip(text))
	if err == nil {
		*s = parsed
	}
	return err
}

// ParseShare reads a part of a gap: "1/3", "0.25", "25 %", "half", "two thirds of the way", "a quarter of
// the gap". A unit is refused: a share has none.
//
// Errors: *units.ParseError: units.ErrSyntax, units.ErrRange for what isn't between nothing and the
// whole gap, units.ErrAmbiguous for a comma.
func ParseShare(text string) (Share, error) {
	p, err := newParser("share", text)
	if err != nil {
		return Share{}, err
	}
	a, err := p.amount()
	if err != nil {
		return Share{}, err
	}
	if p.accept("%", "percent") {
		if a.fraction {
			return Share{}, p.bad(a.at, "a fraction of a percent", wantShare, units.ErrSyntax)
		}
		a.den *= 100
	}
	if p.accept("of") && (!p.accept("the", "a", "their") || !p.accept("gap", "way")) {
		return Share{}, p.bad(p.peek().at, "a part of what isn't a gap", wantShare, units.ErrSyntax)
	}
	if t := p.peek(); t.kind != tokenEnd {
		e := p.unexpected(t)
		if pe, ok := e.(*units.ParseError); ok && pe.Err == units.ErrSyntax {
			e = p.bad(t.at, plain.Quote(t.text)+` behind a part of a gap, which has no unit`, wantShare, units.ErrSyntax)
		}
		return Share{}, e
	}
	if a.num <= 0 || a.num >= a.den {
		return Share{}, p.bad(a.at, "not between nothing and the whole gap", wantShare, units.ErrRange)
	}
	t, ok := lowest(a.num, a.den)
	if !ok {
		return Share{}, p.bad(a.at, "finer than a millionth of the gap", wantShare, units.ErrRange)
	}
	return Share{t}.kept(), nil
}
