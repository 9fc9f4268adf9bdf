package units

// PressureUnit is a unit of pressure. Inches of mercury and of water are the conventional
// ones: 13.5951 kg/L and 1 kg/L of liquid under standard gravity, at no stated temperature.
type PressureUnit uint8

// The units of pressure.
const (
	Pascal             PressureUnit = iota // Pa
	Kilopascal                             // kPa
	Bar                                    // bar
	PoundPerSquareInch                     // psi
	InchOfMercury                          // inHg: conventional
	InchOfWater                            // inH2O: conventional
)

var pressureKind = newKind("pressure", "PressureUnit", []row{
	Pascal:     {symbol: "Pa", name: "pascal", num: 1, den: 1, ucum: "Pa", rec20: "PAL"},
	Kilopascal: {symbol: "kPa", name: "kilopascal", num: 1e3, den: 1, ucum: "kPa", rec20: "KPA"},
	Bar:        {symbol: "bar", name: "bar", num: 1e5, den: 1, ucum: "bar", rec20: "BAR"},
	PoundPerSquareInch: {symbol: "psi", name: "pound per square inch", num: pound * gravity, den: inch * inch * 1e5, ucum: "[psi]", rec20: "PS",
		spellings: []string{"lbf/in2", "lb/in2", "lbs/in2", "lb/sq·in", "p·s·i"}},
	InchOfMercury: {symbol: "inHg", name: "inch of mercury", num: 135951 * gravity * inch, den: 1e10, ucum: "[in_i'Hg]", rec20: "F79",
		spellings: []string{"in·hg", "\"·hg", "\"hg", "inches·of·mercury"}},
	InchOfWater: {symbol: "inH2O", name: "inch of water", num: 1000 * gravity * inch, den: 1e9, ucum: "[in_i'H2O]", rec20: "F78",
		spellings: []string{"in·h2o", "in·wc", "\"·h2o", "\"h2o", "inwc", "inches·of·water"}},
})

func (u PressureUnit) kind() *kind { return pressureKind }

// String is the unit's symbol; "PressureUnit(99)" for a value that is none of the constants.
func (u PressureUnit) String() string { return pressureKind.symbol(uint8(u)) }

// Of is a whole number of the unit: Pascal.Of(3).
func (u PressureUnit) Of(magnitude int64) Pressure { return of(magnitude, u) }

// ParsePressure reads a pressure; see [Parse] for the grammar and the errors.
func ParsePressure(text string) (Pressure, error) { return Parse[PressureUnit](text) }

// MustParsePressure is ParsePressure for constants in a program; it panics on an error.
func MustParsePressure(text string) Pressure { return MustParse[PressureUnit](text) }
