package units

// TemperatureDifferenceUnit is a unit of temperature difference. A difference has no offset: 9 °F of
// difference are 5 °C of difference. A reading of a thermometer is a [Temperature].
type TemperatureDifferenceUnit = UnitOf[temperatureDifferenceUnits]

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

type temperatureDifferenceUnits struct{}

func (temperatureDifferenceUnits) kind() *kind { return temperatureDifferenceKind }

var temperatureDifferenceKind = newKind("temperature difference", "TemperatureDifferenceUnit", []row{
	KelvinDifference: {symbol: "K", name: "kelvin", num: 1, den: 1, ucum: "K", rec20: "KEL"},
	CelsiusDifference: {symbol: "°C", name: "degree Celsius", num: 1, den: 1, caveat: differenceCaveat,
		spellings: []string{"c", "degc", "deg·c", "degrees·celsius"}},
	FahrenheitDifference: {symbol: "°F", name: "degree Fahrenheit", num: 5, den: 9, ucum: "[degR]", rec20: "A48", // the degree Rankine: the same size, no offset
		spellings: []string{"f", "degf", "deg·f", "degrees·fahrenheit"}},
})
