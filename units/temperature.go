package units

import (
	"database/sql/driver"
	"math/big"

	"example.com/snugturn/internal/encode"
	"github.com/shopspring/decimal"
)

// TemperatureScale is a scale a thermometer can have.
type TemperatureScale uint8

// The scales. The zero scale is °C; a Temperature of no scale is none. t/°C = (t/°F - 32)/1.8 and T/K = t/°C + 273.15 (NIST SP 811, App. B.9).
const (
	Celsius TemperatureScale = iota
	Fahrenheit
	Kelvin
)

// temperatureKind serves for spellings; scales have offsets, so its ratios say nothing.
var temperatureKind = newKind("temperature", "TemperatureScale", []row{
	Celsius: {symbol: "°C", name: "degree Celsius", num: 1, den: 1, ucum: "Cel", rec20: "CEL",
		spellings: []string{"c", "°·c", "degc", "deg·c", "degrees·c", "degrees·celsius", "celsius", "centigrade", "degrees·centigrade"}},
	Fahrenheit: {symbol: "°F", name: "degree Fahrenheit", num: 1, den: 1, ucum: "[degF]", rec20: "FAH",
		spellings: []string{"f", "°·f", "degf", "deg·f", "degrees·f", "degrees·fahrenheit", "fahrenheit"}},
	Kelvin: {symbol: "K", name: "kelvin", num: 1, den: 1, ucum: "K", rec20: "KEL", spellings: []string{"=°K"}},
})

// String is the scale's symbol; "TemperatureScale(9)" for a value that isn't one of the constants.
func (s TemperatureScale) String() string { return temperatureKind.symbol(uint8(s)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (s TemperatureScale) UCUM() (string, error) { return temperatureKind.code(ucum, uint8(s)) }

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (s TemperatureScale) Rec20() (string, error) { return temperatureKind.code(rec20, uint8(s)) }

// MarshalText writes the symbol. Errors: *ParseError (ErrUnknownUnit) for an unknown value.
func (s TemperatureScale) MarshalText() ([]byte, error) { return temperatureKind.marshalUnit(uint8(s)) }

// UnmarshalText reads a scale by any of its spellings; on an error s stays as it was.
func (s *TemperatureScale) UnmarshalText(text []byte) error {
	return readInto(temperatureKind, s, text)
}

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (s *TemperatureScale) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, s.UnmarshalText, temperatureKind.notUnit)
}

// MarshalBinary is MarshalText, for gob.
func (s TemperatureScale) MarshalBinary() ([]byte, error) { return s.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (s *TemperatureScale) UnmarshalBinary(text []byte) error { return s.UnmarshalText(text) }

// Value is the symbol, for a database column.
func (s TemperatureScale) Value() (driver.Value, error) { return encode.Value(s.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (s *TemperatureScale) Scan(column any) error {
	return encode.Scan(column, s.UnmarshalText, temperatureKind.notUnit)
}

// Of is a whole number of degrees on the scale: Celsius.Of(15). It doesn't check for absolute zero,
// as [ParseTemperature] and [NewTemperature] do; it is for constants in a program.
func (s TemperatureScale) Of(degrees int64) Temperature {
	return temperature(of(degrees, KelvinDifference).num(), s)
}

// Temperature is a point on a scale, as somebody read it: 60 °C, 140.0 °F. A difference of two
// points is a [TemperatureDifference], which has no offset. The zero value is no temperature: it is
// invalid, isn't written, and lies above every valid one, so that what was never measured isn't cold.
type Temperature struct {
	_     [0]func()
	num   number
	above TemperatureScale // one above the scale, so that the zero value has none
}

func temperature(n number, s TemperatureScale) Temperature { return Temperature{num: n, above: s + 1} }

// offset is how far the scale's zero lies above absolute zero, in degrees of the scale's own size, and
// the size.
func (s TemperatureScale) offset() (zero number, size TemperatureDifferenceUnit) {
	switch s {
	case Fahrenheit:
		return number{coef: u128{0, 45967}, places: 2}, FahrenheitDifference
	case Kelvin:
		return number{}, KelvinDifference
	}
	return number{coef: u128{0, 27315}, places: 2}, KelvinDifference
}

// NewTemperature makes a temperature of a decimal and a scale.
//
// Errors: *ParseError, ErrRange as [New], and below absolute zero; ErrUnknownUnit for a scale
// that isn't one of the constants.
func NewTemperature(degrees decimal.Decimal, scale TemperatureScale) (Temperature, error) {
	k := temperatureKind
	if !k.has(uint8(scale)) {
		return Temperature{}, k.unknown(uint8(scale))
	}
	n, ok := fromDecimal(degrees)
	if !ok || !k.inRange(n, uint8(scale)) {
		return Temperature{}, k.tooLarge(uint8(scale), degrees)
	}
	t := temperature(n, scale)
	if t.belowZero() {
		return Temperature{}, k.unfit(uint8(scale), t.String(), "below absolute zero", "at least -273.15 °C")
	}
	return t, nil
}

// ParseTemperature reads a temperature: "60 °C", "140F", "333.15 K". Errors are *ParseError, also
// (ErrRange) below absolute zero.
func ParseTemperature(text string) (Temperature, error) {
	n, u, err := temperatureKind.parse(text)
	if err != nil {
		return Temperature{}, err
	}
	t := temperature(n, TemperatureScale(u))
	if t.belowZero() {
		return Temperature{}, misread("temperature", text, 0, "below absolute zero", "at least -273.15 °C", ErrRange)
	}
	return t, nil
}

// MustParseTemperature is ParseTemperature for constants in a program; it panics on an error.
func MustParseTemperature(text string) Temperature {
	t, err := ParseTemperature(text)
	if err != nil {
		panic(err)
	}
	return t
}

// absolute is the temperature in kelvins, exactly.
func (t Temperature) absolute() *big.Rat {
	zero, size := t.Scale().offset()
	var x *big.Rat
	if sum, exact := zero.plus(t.num); exact {
		x = sum.rat()
	} else {
		x = zero.rat()
		x.Add(x, t.num.rat())
	}
	if size != KelvinDifference {
		x.Mul(x, Factor(size, KelvinDifference))
	}
	return x
}

// belowZero reports whether t is colder than absolute zero. A sum that is rounded keeps its sign.
func (t Temperature) belowZero() bool {
	zero, _ := t.Scale().offset()
	above, _ := t.num.plus(zero)
	return above.neg
}

// Scale is the scale as written; unknown for the zero Temperature.
func (t Temperature) Scale() TemperatureScale { return t.above - 1 }

// Degrees is the number on its scale, with its places.
func (t Temperature) Degrees() decimal.Decimal { return t.num.decimal() }

// Valid reports whether the scale is one of the constants.
func (t Temperature) Valid() bool { return temperatureKind.has(uint8(t.Scale())) }

// RatIn is the exact number of degrees on a scale; nil where t or the scale is none.
func (t Temperature) RatIn(scale TemperatureScale) *big.Rat {
	if !t.Valid() || !temperatureKind.has(uint8(scale)) {
		return nil
	}
	if scale == t.Scale() {
		return t.num.rat()
	}
	zero, size := scale.offset()
	x := t.absolute()
	x.Mul(x, Factor(KelvinDifference, size))
	return x.Sub(x, zero.rat())
}

// In is the same temperature on another scale, half-even to 34 digits, and never larger than a
// temperature may be; the zero Temperature where t or the scale is none.
func (t Temperature) In(scale TemperatureScale) Temperature {
	x := t.RatIn(scale)
	if x == nil {
		return Temperature{}
	}
	if scale == t.Scale() {
		return t
	}
	n, _ := roundRat(x)
	return temperature(n, scale).within()
}

// RoundIn converts and rounds in one step. Nothing is rounded to below absolute zero: 0 K becomes
// -273 °C whichever way it is rounded to whole degrees. It is the zero Temperature where t or the
// scale is none.
func (t Temperature) RoundIn(scale TemperatureScale, places int, mode Rounding) Temperature {
	exact := t.RatIn(scale)
	if exact == nil {
		return Temperature{}
	}
	n, _ := roundRatTo(exact, places, mode)
	rounded := temperature(n, scale)
	if rounded.belowZero() && !t.belowZero() {
		rounded.num, _ = roundRatTo(exact, places, ToPositiveInf)
	}
	return rounded.within()
}

// within is t, or the largest temperature there is on its scale.
func (t Temperature) within() Temperature {
	t.num, _ = temperatureKind.within(t.num, uint8(t.Scale()), true)
	return t
}

// Compare is -1, 0 or +1 as t is colder than, as warm as or warmer than u, exactly. One that is
// invalid lies above every valid one.
func (t Temperature) Compare(u Temperature) int {
	if !t.Valid() || !u.Valid() {
		return -boolCompare(t.Valid(), u.Valid())
	}
	if t.Scale() == u.Scale() {
		return t.num.cmp(u.num)
	}
	zeroT, sizeT := t.Scale().offset()
	zeroU, sizeU := u.Scale().offset()
	aboveT, exactT := t.num.plus(zeroT)
	aboveU, exactU := u.num.plus(zeroU)
	if r, _ := temperatureDifferenceKind.ratio(uint8(sizeT), uint8(sizeU)); exactT && exactU {
		return aboveT.cmpScaled(aboveU, r)
	}
	return t.absolute().Cmp(u.absolute())
}

// Equal reports whether both are the same temperature: 32 °F equals 0 °C.
func (t Temperature) Equal(u Temperature) bool { return t.Compare(u) == 0 }

// Less reports whether t is colder than u.
func (t Temperature) Less(u Temperature) bool { return t.Compare(u) < 0 }

// Sub is how much warmer t is than u, in degrees of t's scale, and whether that is exact; false where
// one of them is none.
func (t Temperature) Sub(u Temperature) (TemperatureDifference, bool) {
	if !t.Valid() || !u.Valid() {
		return TemperatureDifference{}, false
	}
	_, size := t.Scale().offset()
	if t.Scale() == Celsius {
		size = CelsiusDifference
	}
	x := t.RatIn(t.Scale())
	n, exact := roundRat(x.Sub(x, u.RatIn(t.Scale())))
	return quantity(n, size), exact
}

// Add is t warmed by a difference, on t's scale, and whether that is exact. It doesn't get colder
// than absolute zero, nor larger than a temperature may be.
func (t Temperature) Add(d TemperatureDifference) (Temperature, bool) {
	zero, size := t.Scale().offset()
	x := d.RatIn(size)
	if x == nil || !t.Valid() {
		return t, false
	}
	x.Add(x, t.num.rat())
	coldest := zero.rat()
	coldest.Neg(coldest)
	above := x.Cmp(coldest) >= 0
	if !above {
		x = coldest
	}
	n, exact := roundRat(x)
	n, exact = temperatureKind.within(n, uint8(t.Scale()), exact && above)
	return temperature(n, t.Scale()), exact
}

// String is the number and the scale: "60 °C"; "no temperature" for the zero Temperature.
func (t Temperature) String() string {
	if t.above == 0 {
		return "no temperature"
	}
	var buf [48]byte
	return string(t.append(buf[:0]))
}

func (t Temperature) append(dst []byte) []byte {
	return appendSymbol(t.num.appendTo(dst), t.Scale().String())
}

// none is the error of an invalid temperature, nil of any other.
func (t Temperature) none() error {
	switch {
	case t.above == 0:
		return misread("temperature", "", 0, "none was given", "one such as 60 °C", ErrUnknownUnit)
	case !t.Valid():
		return temperatureKind.unknown(uint8(t.Scale()))
	}
	return nil
}

// AppendText appends the text that [ParseTemperature] reads back.
//
// Errors: *ParseError (ErrUnknownUnit) for the zero Temperature, and where the scale is not one of the constants.
func (t Temperature) AppendText(dst []byte) ([]byte, error) {
	if err := t.none(); err != nil {
		return dst, err
	}
	return t.append(dst), nil
}

// MarshalText is [Temperature.AppendText] into a new slice.
func (t Temperature) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText reads what [ParseTemperature] reads; on an error t stays as it was.
func (t *Temperature) UnmarshalText(text []byte) error {
	parsed, err := ParseTemperature(clip(text))
	if err == nil {
		*t = parsed
	}
	return err
}

// MarshalBinary is [Temperature.MarshalText], for gob.
func (t Temperature) MarshalBinary() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalBinary is [Temperature.UnmarshalText].
func (t *Temperature) UnmarshalBinary(data []byte) error { return t.UnmarshalText(data) }

// MarshalJSON writes {"value":"60","unit":"°C"}.
func (t Temperature) MarshalJSON() ([]byte, error) {
	if err := t.none(); err != nil {
		return nil, err
	}
	return appendJSON(t.num, t.Scale().String()), nil
}

// UnmarshalJSON reads that object or a string such as "60 °C"; on an error t stays as it was.
func (t *Temperature) UnmarshalJSON(data []byte) error {
	text, err := temperatureKind.textOfJSON(data)
	if err != nil {
		return err
	}
	parsed, err := ParseTemperature(text)
	if err == nil {
		*t = parsed
	}
	return err
}
