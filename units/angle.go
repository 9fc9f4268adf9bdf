package units

// AngleUnit is a unit of angle. There are no radians among them: no decimal number of
// degrees is a decimal number of radians.
type AngleUnit uint8

// The units of angle.
const (
	Degree     AngleUnit = iota // °
	Revolution                  // rev: a full turn, 360°
)

var angleKind = newKind("angle", "AngleUnit", []row{
	Degree: {symbol: "°", name: "degree", num: 1, den: 1, ucum: "deg", rec20: "DD",
		spellings: []string{"deg", "degs"}},
	Revolution: {symbol: "rev", name: "revolution", num: 360, den: 1, ucum: "circ", rec20: "M44",
		spellings: []string{"rev", "turn", "turns", "r", "revs"}},
},
	radian("rad"), radian("radian"), radian("radians"))

func radian(spelling string) trap {
	return trap{spelling: spelling, why: "is the radian; no decimal number of it but 0 is a decimal number of degrees"}
}

func (u AngleUnit) kind() *kind { return angleKind }

// String is the unit's symbol; "AngleUnit(99)" for a value that is none of the constants.
func (u AngleUnit) String() string { return angleKind.symbol(uint8(u)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (u AngleUnit) UCUM() (string, error) { return angleKind.code(ucum, uint8(u)) }

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (u AngleUnit) Rec20() (string, error) { return angleKind.code(rec20, uint8(u)) }

// MarshalText writes the symbol; *UnitError for a value that is none of the constants.
func (u AngleUnit) MarshalText() ([]byte, error) { return angleKind.marshalUnit(uint8(u)) }

// UnmarshalText reads what [ParseUnit] reads; on an error u stays as it was.
func (u *AngleUnit) UnmarshalText(text []byte) error { return unmarshalUnit(angleKind, u, text) }

// Of is a whole number of the unit: Degree.Of(3).
func (u AngleUnit) Of(magnitude int64) Angle { return of(magnitude, u) }

// ParseAngle reads an angle; see [Parse] for the grammar and the errors.
func ParseAngle(text string) (Angle, error) { return Parse[AngleUnit](text) }

// MustParseAngle is ParseAngle for constants in a program; it panics on an error.
func MustParseAngle(text string) Angle { return MustParse[AngleUnit](text) }
