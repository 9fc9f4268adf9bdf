package drain

import (
	"bytes"
	"database/sql/driver"
	"encoding/json"
	"errors"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// StatedDensity is a density as a delivery note states it: in a unit, "840 kg/m³"; in degrees API, "35.2
// °API"; or relative to water, both at 60 °F, "0.845 (60/60 °F)". The last two are scales that are defined
// at 60 °F (API MPMS Chapter 11.1-2004, 11.1.5.1), and so belong to that temperature without its being
// said. It keeps what was written. The zero value is a density of zero.
type StatedDensity struct {
	density units.Density // of a scale at 60 °F, good to 30 places of a kg/m³
	written string        // on a scale; "" in a unit
}

// StateDensity is a density in its unit.
func StateDensity(density units.Density) StatedDensity { return StatedDensity{density: density} }

// mostText is the longest text, in bytes, that is looked at for a scale; what is longer, package units refuses. As JSON
// such a text has at most six times as many, and its quotes.
const mostText = 256

const wantStated = `a density such as "840 kg/m³", "35.2 °API" or "0.845 (60/60 °F)"`

// ParseStatedDensity reads a density in a unit, as [units.ParseDensity] does, or on a scale: "35.2 °API",
// "35.2 deg API at 60 °F", "0.845 (60/60 °F)", "SG 0.845 at 60/60 °F", "0.845 relative (60/60 °F)". A relative
// density without its temperatures is refused, since some are at 15/4 °C, a thousandth apart; so are
// degrees API at another temperature than 60 °F.
//
// Errors: *units.ParseError as [units.Parse], units.ErrAmbiguous for a relative density that doesn't say at
// which temperatures; *InputError (units.ErrRange) for one that isn't above zero, or -131.5 °API and below.
func ParseStatedDensity(text string) (StatedDensity, error) {
	if len(text) > mostText {
		d, err := units.ParseDensity(text)
		return StateDensity(d), err
	}
	rest := strings.TrimSpace(text)
	if inside, ok := cutEnd(rest, ")"); ok { // in parentheses behind the number
		if before, within, ok := strings.Cut(inside, "("); ok {
			rest = strings.TrimSpace(before) + " " + strings.TrimSpace(within)
		}
	}
	api, isAPI := cutEnd(first(cutEnd(rest, "at 60 °F", "at 60°F", "@ 60 °F", "@ 60°F")), "°API", "° API", "degrees API", "deg API", "API")
	number, based := cutEnd(rest, "60/60 °F", "60/60°F", "60/60 F", "60/60F", "60°/60°F", "60 °F/60 °F", "60°F/60°F")
	number, _ = cutEnd(number, " at", "@")
	number, named := cutWord(number)
	switch {
	case isAPI:
		return onScale(text, api, " °API", densityOfAPIGravity)
	case strings.Contains(strings.ToUpper(rest), "API"):
		return StatedDensity{}, misread.Error("density", text, 0, "degrees API are at 60 °F, and this says more than that", `"35.2 °API", brought to 60 °F where it was read at another temperature`, units.ErrSyntax)
	case based:
		return onScale(text, number, " (60/60 °F)", densityOfRelative)
	case named:
		err := misread.Error("density", text, 0, "doesn't say at which temperatures it is relative to water", `"0.845 (60/60 °F)", or a density in kg/m³ with its temperature`, units.ErrAmbiguous)
		err.Candidates = []string{"60/60 °F", "15/4 °C", "20/4 °C"}
		return StatedDensity{}, err
	}
	d, err := units.ParseDensity(text)
	return StateDensity(d), err
}

// onScale reads a number as densities have it, and makes a density of it.
func onScale(text, number, scale string, density func(decimal.Decimal, int, units.Rounding) (units.Density, error)) (StatedDensity, error) {
	n, err := units.ParseDensity(number + " kg/m³")
	var e *units.ParseError
	switch {
	case errors.As(err, &e) && e.Err == units.ErrAmbiguous:
		return StatedDensity{}, misread.Error("density", text, 0, e.Problem, wantStated, e.Err)
	case err != nil:
		return StatedDensity{}, misread.Error("density", text, 0, "no number on that scale", wantStated, units.ErrSyntax)
	}
	const places = 30 // of less than 10000 kg/m³: 34 digits
	d, err := density(n.Magnitude(), places, units.ToNearestEven)
	if err != nil {
		return StatedDensity{}, err
	}
	return StatedDensity{d, strings.TrimSuffix(n.String(), " kg/m³") + scale}, nil
}

func first(text string, _ bool) string { return text }

// cutEnd cuts one of a few ends off, in letters of any case.
func cutEnd(text string, ends ...string) (before string, ok bool) {
	for _, end := range ends {
		if at := len(text) - len(end); at >= 0 && strings.EqualFold(text[at:], end) {
			return strings.TrimSpace(text[:at]), true
		}
	}
	return text, false
}

// cutWord cuts the words for a relative density off a number, on either side of it.
func cutWord(text string) (number string, ok bool) {
	for _, word := range []string{"relative density", "specific gravity", "relative", "sp gr", "SG", "RD"} {
		if before, ok := cutEnd(text, word); ok {
			return before, true
		}
		if len(text) >= len(word) && strings.EqualFold(text[:len(word)], word) {
			return strings.TrimSpace(text[len(word):]), true
		}
	}
	return text, false
}

// At60F reports whether it is on a scale that is defined at 60 °F.
func (d StatedDensity) At60F() bool { return d.written != "" }

// Density is the density in its unit; of what is on a scale that at 60 °F in kg/m³, at thirty places.
func (d StatedDensity) Density() units.Density { return d.density }

// Fuel is [FuelAt] of what was stated, at the temperature it was stated for. For what is on a scale that
// is 60 °F, or left out: the zero Temperature.
//
// Errors: as [FuelAt]; *InputError (ErrTemperature) for another temperature with what is on a scale.
func (d StatedDensity) Fuel(at units.Temperature) (Fuel, error) {
	switch {
	case !d.At60F():
	case !at.Valid():
		at = sixty
	case !at.Equal(sixty):
		return Fuel{}, refuse("temperature of the density", at.String(), d.written+" is a density at 60 °F", "60 °F, or no temperature", ErrTemperature)
	}
	return FuelAt(d.density, at)
}

// String is what was stated: "840 kg/m³", "35.2 °API", "0.845 (60/60 °F)". [ParseStatedDensity] reads it back.
func (d StatedDensity) String() string {
	if d.At60F() {
		return d.written
	}
	return d.density.String()
}

// MarshalText is what String writes; errors as [units.Quantity.MarshalText].
func (d StatedDensity) MarshalText() ([]byte, error) {
	if d.At60F() {
		return []byte(d.written), nil
	}
	return d.density.MarshalText()
}

// UnmarshalText reads what [ParseStatedDensity] reads; on an error d stays as it was.
func (d *StatedDensity) UnmarshalText(text []byte) error {
	parsed, err := ParseStatedDensity(string(text[:min(len(text), 257)]))
	if err == nil {
		*d = parsed
	}
	return err
}

// MarshalJSON writes a density in a unit as [units.Quantity.MarshalJSON] does, and one on a scale as a string.
func (d StatedDensity) MarshalJSON() ([]byte, error) {
	if d.At60F() {
		return []byte(`"` + d.written + `"`), nil // digits and the scale
	}
	return d.density.MarshalJSON()
}

// UnmarshalJSON reads what MarshalJSON writes, and any string that UnmarshalText reads; on an error d
// stays as it was.
func (d *StatedDensity) UnmarshalJSON(data []byte) error {
	var text string
	if len(data) <= 8*mostText && bytes.HasPrefix(data, []byte(`"`)) && json.Unmarshal(data, &text) == nil {
		return d.UnmarshalText([]byte(text))
	}
	var density units.Density
	err := density.UnmarshalJSON(data)
	if err == nil {
		*d = StateDensity(density)
	}
	return err
}

// MarshalBinary is MarshalText, for gob.
func (d StatedDensity) MarshalBinary() ([]byte, error) { return d.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (d *StatedDensity) UnmarshalBinary(text []byte) error { return d.UnmarshalText(text) }

// Value is the text, for a database column.
func (d StatedDensity) Value() (driver.Value, error) { return encode.Value(d.MarshalText()) }

// Scan reads a column's text as UnmarshalText does, or the object that a JSONB column gives; NULL and numbers are refused.
func (d *StatedDensity) Scan(column any) error {
	return encode.Scan(column, encode.TextOrObject(d.UnmarshalText, d.UnmarshalJSON), misread.NotText("density", wantStated))
}
