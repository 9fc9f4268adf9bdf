package units

// LengthUnit is a unit of length.
type LengthUnit uint8

// The units of length.
const (
	Metre      LengthUnit = iota // m
	Centimetre                   // cm
	Millimetre                   // mm
	Inch                         // in: 25.4 mm
	Foot                         // ft: 12 in
	Kilometre                    // km: service intervals
	Mile                         // mi: 5280 ft; service intervals
	Micrometre                   // µm: what a filter holds back; micron in American sheets
)

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
	Micrometre: {symbol: "µm", name: "micrometre", num: 1, den: 1e6, ucum: "um", rec20: "4H",
		spellings: []string{"=um", "micrometer", "micrometers", "micron", "microns"}},
})

func (u LengthUnit) kind() *kind { return lengthKind }

// String is the unit's symbol; "LengthUnit(99)" for a value that is none of the constants.
func (u LengthUnit) String() string { return lengthKind.symbol(uint8(u)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (u LengthUnit) UCUM() (string, error) { return lengthKind.code(ucum, uint8(u)) }

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (u LengthUnit) Rec20() (string, error) { return lengthKind.code(rec20, uint8(u)) }

// MarshalText writes the symbol; *UnitError for a value that is none of the constants.
func (u LengthUnit) MarshalText() ([]byte, error) { return lengthKind.marshalUnit(uint8(u)) }

// UnmarshalText reads what [ParseUnit] reads; on an error u stays as it was.
func (u *LengthUnit) UnmarshalText(text []byte) error { return unmarshalUnit(lengthKind, u, text) }

// Of is a whole number of the unit: Metre.Of(3).
func (u LengthUnit) Of(magnitude int64) Length { return of(magnitude, u) }

// ParseLength reads a length; see [Parse] for the grammar and the errors.
func ParseLength(text string) (Length, error) { return Parse[LengthUnit](text) }

// MustParseLength is ParseLength for constants in a program; it panics on an error.
func MustParseLength(text string) Length { return MustParse[LengthUnit](text) }
