package units

import (
	"cmp"
	"errors"
)

// What can be wrong with a code. [FromUCUM], [FromRec20] and the units' UCUM and Rec20 methods
// return errors that match one of these under errors.Is; or [ErrOtherKind] for a code of another
// quantity, or [ErrUnknownUnit] where a unit value is not one of the constants.
var (
	// ErrNoCode: the code system has no code for the unit.
	ErrNoCode = errors.New("no code")
	// ErrCaveat: code and unit belong together and both are returned, but there is something to
	// know first: the code is deprecated, or its unit has a slightly different size.
	ErrCaveat = errors.New("code with a caveat")
)

// FromUCUM finds the unit of kind U that a code of the Unified Code for Units of Measure (2.2,
// case-sensitive) stands for. Codes are looked up as they stand in the units' table; the code is
// no expression to be worked out, since UCUM's N.m is its J and a torque is no energy.
//
// Errors: *ParseError matching ErrUnknownUnit; ErrOtherKind where the code is of another quantity;
// ErrCaveat with a unit that is valid all the same (mercury is a little lighter in UCUM). The
// units' UCUM methods return ErrCaveat with the code in the same way, ErrNoCode where there is no
// code, and ErrUnknownUnit for a value that isn't one of the constants.
func FromUCUM[U Unit](code string) (U, error) { return fromCode[U](ucum, code) }

// FromRec20 finds the unit of kind U that a code of UN/CEFACT Recommendation 20 (revision 17)
// stands for. The factors printed there are never used; several are misprints.
//
// Errors: *ParseError matching ErrUnknownUnit; ErrOtherKind where the code is of another quantity,
// as 85, which is energy, and IA, 4Q and 4R, which are mass times length in spite of their names;
// ErrCaveat with a unit that is valid all the same (B38 for kgf·m is deprecated). The units'
// Rec20 methods return ErrCaveat with the code in the same way, ErrNoCode where there is no code
// (kgf·cm), and ErrUnknownUnit for a value that isn't one of the constants.
func FromRec20[U Unit](code string) (U, error) { return fromCode[U](rec20, code) }

// codeSystem is one of the two ways to write a unit for machines.
type codeSystem uint8

const (
	ucum codeSystem = iota
	rec20
)

// deprecated is the caveat of units whose Recommendation 20 code has status D.
var deprecated = map[codeSystem]string{rec20: "is marked as deprecated there, with nothing in its place"}

func (s codeSystem) String() string { return [...]string{"UCUM", "Recommendation 20"}[s] }

func (s codeSystem) of(r row) string {
	if s == ucum {
		return r.ucum
	}
	return r.rec20
}

// sameCode are UCUM's other ways to write a unit of a table: l is L, and [cin_i] is [in_i]3.
var sameCode = map[string]string{
	"l": "L", "dm3": "L", "ml": "mL", "cl": "cL", "dl": "dL", "hl": "hL", "[cin_i]": "[in_i]3",
	"l/min": "L/min", "l/h": "L/h", "ml/min": "mL/min", "kg/l": "kg/L", "kg/dm3": "kg/L", "g/ml": "g/mL",
}

// notUnits are the codes that look as if they were of a unit here and are not, with what they
// are. Source: UN/CEFACT Recommendation 20, revision 17 (2021), Annexes I to III; UCUM 2.2.
var notUnits = [...]map[string]string{
	ucum: {
		"J":               "is the joule, a unit of energy; a torque is N.m",
		"[ft_i].[lbf_av]": "is the foot times the pound-force, by custom a unit of energy; the torque is [lbf_av].[ft_i]",
		"[gal_wi]":        "is the dry gallon",
		"m[Hg]":           "is the metre of mercury",
	},
	rec20: {
		"IA":  "is the inch pound in kg·m, a mass times a length; the torque is F21",
		"4Q":  "is the ounce inch in kg·m, a mass times a length; the torque is L41",
		"4R":  "is the ounce foot in kg·m, a mass times a length",
		"85":  "is the foot pound-force in joules, a unit of energy; the torque is M92",
		"JOU": "is the joule, a unit of energy; a torque is NU",
		"GLD": "is the dry gallon; the liquid one is GLL",
		"QT":  "is deprecated; the liquid quart is QTL",
		"PT":  "is deprecated; the liquid pint is PTL",
		"64":  "is deprecated and means gauge pressure; psi is PS",
	},
}

// code is what a unit's UCUM and Rec20 methods return.
func (k *kind) code(s codeSystem, u uint8) (string, error) {
	if !k.has(u) {
		return "", k.unknown(u)
	}
	r := k.rows[u]
	code, caveat := s.of(r), r.caveat[s]
	switch {
	case code == "":
		return "", &ParseError{What: s.String() + " code of the unit", Input: r.symbol, Problem: cmp.Or(caveat, "there is none"), Err: ErrNoCode}
	case caveat != "":
		return code, &ParseError{What: s.String() + " code for " + r.symbol, Input: code, Problem: caveat, Err: ErrCaveat}
	}
	return code, nil
}

func fromCode[U Unit](s codeSystem, code string) (U, error) {
	var none U
	k := none.kind()
	if same, ok := sameCode[code]; ok && s == ucum {
		code = same
	}
	if i, ok := k.findCode(s, code); ok {
		_, caveat := k.code(s, uint8(i))
		return U(i), caveat
	}
	problem := misread(s.String()+" code", code, 0, "is no unit of "+k.name+" known here", "", ErrUnknownUnit)
	if what, ok := notUnits[s][code]; ok {
		problem.Problem, problem.Err = what, ErrOtherKind
		return 0, problem
	}
	for _, other := range allKinds() {
		if i, ok := other.findCode(s, code); ok {
			problem.Problem, problem.Err = "is "+other.rows[i].symbol+", a unit of "+other.name+", not of "+k.name, ErrOtherKind
			return 0, problem
		}
	}
	return 0, problem
}

func (k *kind) findCode(s codeSystem, code string) (int, bool) {
	for i, r := range k.rows {
		if code != "" && s.of(r) == code {
			return i, true
		}
	}
	return 0, false
}
