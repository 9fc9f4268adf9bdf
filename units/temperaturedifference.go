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

var temperatureDifferenceKind = newKind("temperature difference", "TemperatureDifferenceUnit", []row{
	KelvinDifference: {symbol: "K", name: "kelvin", num: 1, den: 1, ucum: "K", rec20: "KEL"},
	CelsiusDifference: {symbol: "°C", name: "degree Celsius", num: 1, den: 1, ucum: "Cel", rec20: "CEL",
		spellings: []string{"c", "degc", "deg·c", "degrees·celsius"}},
	FahrenheitDifference: {symbol: "°F", name: "degree Fahrenheit", num: 5, den: 9, ucum: "[degF]", rec20: "FAH",
		spellings: []string{"f", "degf", "deg·f", "degrees·fahrenheit"}},
})

func (u TemperatureDifferenceUnit) kind() *kind { return temperatureDifferenceKind }

// String is the unit's symbol; "TemperatureDifferenceUnit(99)" for a value that is none of the constants.
func (u TemperatureDifferenceUnit) String() string { return temperatureDifferenceKind.symbol(uint8(u)) }

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
