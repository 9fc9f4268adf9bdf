package units

// AngleUnit is a unit of angle. There are no radians among them: no decimal number of
// degrees is a decimal number of radians.
type AngleUnit = UnitOf[angleUnits]

// The units of angle.
const (
	Degree     AngleUnit = iota // °
	Revolution                  // rev: a full turn, 360°
)

type angleUnits struct{}

func (angleUnits) kind() *kind { return angleKind }

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

// ParseAngle reads an angle; see [Parse] for the grammar and the errors.
func ParseAngle(text string) (Angle, error) { return Parse[AngleUnit](text) }
