package service

import (
	"cmp"
	"database/sql/driver"
	"errors"
	"strings"

	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// FillPart is how much of what a bowl, a canister or a housing holds goes in before it is fitted, more
// than nothing and no more than all: "50 %", "2/3", "half of the bowl", "all". It is exact and keeps how
// it was written. The zero value is none and can't be written.
type FillPart struct {
	percent  units.Share // as written in percent
	fraction bool        // or as a fraction, in part
	part     turn.Part
	of       Word // what holds it, where that was named: "bowl"
}

func parseFillPart(text string) (FillPart, error) {
	bad := func(problem string, err error) (FillPart, error) {
		return FillPart{}, misread.Error("part to fill", text, 0, problem, `more than zero and no more than all, such as "50 %", "2/3" or "half of the bowl"`, err)
	}
	if len(text) > 256 {
		return bad("longer than 256 bytes", units.ErrRange)
	}
	amount, of := cutHolder(strings.TrimSpace(text))
	f := FillPart{of: of}
	var err error
	switch {
	case strings.EqualFold(amount, "all"):
		f.percent = all
	case strings.Contains(strings.ToLower(amount), " of "):
		return bad("a part of what holds no fuel", units.ErrSyntax)
	case strings.HasSuffix(amount, "%"):
		f.percent, err = units.ParseShare(amount)
	default:
		f.fraction = true
		f.part, err = turn.ParsePart(amount)
	}
	var cause *units.ParseError
	switch {
	case errors.As(err, &cause) && cause.Err == units.ErrAmbiguous:
		return bad("can be read in two ways", units.ErrAmbiguous)
	case errors.Is(err, units.ErrRange), err == nil && !f.fraction && (f.percent.Sign() <= 0 || all.Less(f.percent)):
		return bad("nothing, or more than all", units.ErrRange)
	case err != nil:
		return bad("no part of what is filled", units.ErrSyntax)
	}
	return f, nil
}

var all = units.Percent.Of(100)

// holder is what is filled, by the kind of filter.
func (k Kind) holder() Word {
	return cmp.Or(map[Kind]Word{ScrewOnBowl: "bowl", SpinOnCanister: "canister", DropInElement: "housing"}[k], "filter")
}

// cutHolder cuts " of the bowl" off, and says what was named.
func cutHolder(text string) (amount string, of Word) {
	for _, kind := range []Kind{ScrewOnBowl, SpinOnCanister, DropInElement, InLine} {
		end := " of the " + string(kind.holder())
		if at := len(text) - len(end); at > 0 && strings.EqualFold(text[at:], end) {
			return strings.TrimSpace(text[:at]), kind.holder()
		}
	}
	return text, ""
}

// alone is the part without what it is of.
func (f FillPart) alone() FillPart {
	f.of = ""
	return f
}

// String is the part: "50 %", "2/3 of the canister", "100 %" for all. UnmarshalText reads it back.
func (f FillPart) String() string {
	text := f.percent.String()
	if f.fraction {
		text = f.part.String()
	}
	if f.of != "" {
		text += " of the " + string(f.of)
	}
	return text
}

// MarshalText is what String writes; *units.ParseError for the zero value.
func (f FillPart) MarshalText() ([]byte, error) {
	_, err := parseFillPart(f.String())
	return []byte(f.String()), err
}

// UnmarshalText reads a part of what is filled; on an error f stays as it was.
//
// Errors: *units.ParseError: units.ErrSyntax, units.ErrRange for nothing and for more than all,
// units.ErrAmbiguous for a comma.
func (f *FillPart) UnmarshalText(text []byte) error {
	parsed, err := parseFillPart(string(text[:min(len(text), 257)]))
	if err == nil {
		*f = parsed
	}
	return err
}

var notFillPart = misread.NotText("part to fill", `text such as "50 %", "2/3" or "half of the bowl"`)

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (f *FillPart) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, f.UnmarshalText, notFillPart)
}

// MarshalBinary is MarshalText, for gob.
func (f FillPart) MarshalBinary() ([]byte, error) { return f.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (f *FillPart) UnmarshalBinary(text []byte) error { return f.UnmarshalText(text) }

// Value is the text, for a database column.
func (f FillPart) Value() (driver.Value, error) { return encode.Value(f.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (f *FillPart) Scan(column any) error { return encode.Scan(column, f.UnmarshalText, notFillPart) }
