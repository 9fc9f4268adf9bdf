package units

// LengthUnit is a unit of length.
type LengthUnit = UnitOf[lengthUnits]

// The units of length. Those without a constant are read and written by their symbols; [All] has them too.
const (
	Metre      LengthUnit = iota // m
	Centimetre                   // cm
	Millimetre                   // mm
	Inch                         // in: 25.4 mm
	Foot                         // ft: 12 in
	Kilometre                    // km: service intervals
	Mile                         // mi: 5280 ft; service intervals
	micrometre                   // µm: what a filter holds back; micron in American sheets
)

type lengthUnits struct{}

func (lengthUnits) kind() *kind { return lengthKind }

var lengthKind = newKind("length", "LengthUnit", []row{
	Metre: {symbol: "m", name: "metre", num: 1, den: 1, ucum: "m", rec20: "MTR",
		spellings: []string{"m", "meter", "meters"}},
	Centimetre: {symbol: "cm", name: "centimetre", num: 1, den: 1e2, ucum: "cm", rec20: "CMT",
		spellings: []string{"cm", "centimeter", "centimeters"}},
	Millimetre: {symbol: "mm", name: "millimetre", num: 1, den: 1e3, ucum: "mm", rec20: "MMT",
		spellings: []string{"=MM", "millimeter", "millimeters"}},
	Inch: {symbol: "in", name: "inch", num: inch, den: 1e4, ucum: "[in_i]", rec20: "INH",
		spellings: []string{"in", "inches", "\"", "''"}},
	Foot: {symbol: "ft", name: "foot", num: 12 * inch, den: 1e4, ucum: "[ft_i]", rec20: "FOT",
		spellings: []string{"ft", "feet", "'"}},
	Kilometre: {symbol: "km", name: "kilometre", num: 1e3, den: 1, ucum: "km", rec20: "KMT",
		spellings: []string{"km", "kms", "kilometer", "kilometers"}},
	Mile: {symbol: "mi", name: "mile", num: 5280 * 12 * inch, den: 1e4, ucum: "[mi_i]", rec20: "SMI",
		spellings: []string{"mi", "statute·mile", "statute·miles"}},
	micrometre: {symbol: "µm", name: "micrometre", num: 1, den: 1e6, ucum: "um", rec20: "4H",
		spellings: []string{"=um", "micrometer", "micrometers", "micron", "microns"}},
})

// ParseLength reads a length; see [Parse] for the grammar and the errors.
func ParseLength(text string) (Length, error) { return Parse[LengthUnit](text) }

// MustParseLength is ParseLength for constants in a program; it panics on an error.
func MustParseLength(text string) Length { return MustParse[LengthUnit](text) }
