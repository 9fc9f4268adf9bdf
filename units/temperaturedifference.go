package units

// TemperatureDifferenceUnit is a unit of temperature difference. A difference has no offset: 9 °F of
// difference are 5 °C of difference. A reading of a thermometer is a [Temperature].
type TemperatureDifferenceUnit uint8

// The units of temperature difference.
const (
	KelvinDifference     TemperatureDifferenceUnit = iota // K
	CelsiusDifference                                     // °C of difference, the kelvin under its other name
	FahrenheitDifference                                  // °F of difference: 5/9 K
)

// Cel and CEL mean a reading of a thermometer.
var differenceCaveat = map[codeSystem]string{
	ucum:  "has a code for a reading only (Cel); convert the difference to K",
	rec20: "has a code for a reading only (CEL); convert the difference to K",
}

var temperatureDifferenceKind = newKind("temperature difference", "TemperatureDifferenceUnit", []row{
	KelvinDifference: {symbol: "K", name: "kelvin", num: 1, den: 1, ucum: "K", rec20: "KEL"},
	CelsiusDifference: {symbol: "°C", name: "degree Celsius", num: 1, den: 1, caveat: differenceCaveat,
		spellings: []string{"c", "degc", "deg·c", "degrees·celsius"}},
	FahrenheitDifference: {symbol: "°F", name: "degree Fahrenheit", num: 5, den: 9, ucum: "[degR]", rec20: "A48", // the degree Rankine: the same size, no offset
		spellings: []string{"f", "degf", "deg·f", "degrees·fahrenheit"}},
})

func (u TemperatureDifferenceUnit) kind() *kind { return temperatureDifferenceKind }

// String is the unit's symbol; "TemperatureDifferenceUnit(99)" for a value that is none of the constants.
func (u TemperatureDifferenceUnit) String() string { return temperatureDifferenceKind.symbol(uint8(u)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (u TemperatureDifferenceUnit) UCUM() (string, error) {
	return temperatureDifferenceKind.code(ucum, uint8(u))
}

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (u TemperatureDifferenceUnit) Rec20() (string, error) {
	return temperatureDifferenceKind.code(rec20, uint8(u))
}

// MarshalText writes the symbol; *UnitError for a value that is none of the constants.
func (u TemperatureDifferenceUnit) MarshalText() ([]byte, error) {
	return temperatureDifferenceKind.marshalUnit(uint8(u))
}

// UnmarshalText reads what [ParseUnit] reads; on an error u stays as it was.
func (u *TemperatureDifferenceUnit) UnmarshalText(text []byte) error {
	return unmarshalUnit(temperatureDifferenceKind, u, text)
}

// Of is a whole number of the unit: KelvinDifference.Of(3).
func (u TemperatureDifferenceUnit) Of(magnitude int64) TemperatureDifference { return of(magnitude, u) }

// ParseTemperatureDifference reads a temperature difference; see [Parse] for the grammar and the errors.
func ParseTemperatureDifference(text string) (TemperatureDifference, error) {
	return Parse[TemperatureDifferenceUnit](text)
}

// MustParseTemperatureDifference is ParseTemperatureDifference for constants in a program; it panics on an error.
func MustParseTemperatureDifference(text string) TemperatureDifference {
	return MustParse[TemperatureDifferenceUnit](text)
}
