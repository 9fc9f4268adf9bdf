package units

// TorqueUnit is a unit of torque. A torque is not an energy: the joule is refused
// (SI Brochure, 9th edition, §2.3.4).
type TorqueUnit = UnitOf[torqueUnits]

// The units of torque. Those without a constant are read and written by their symbols; [All] has them too.
const (
	NewtonMetre             TorqueUnit = iota // N·m
	DecinewtonMetre                           // dN·m
	CentinewtonMetre                          // cN·m
	InchPound                                 // in-lb: inch times pound-force
	FootPound                                 // ft-lb: foot times pound-force
	InchOunce                                 // in-oz: inch times ounce-force
	KilogramForceMetre                        // kgf·m
	KilogramForceCentimetre                   // kgf·cm
	newtonCentimetre                          // N·cm: on small fittings; the centinewton metre by another name
	millinewtonMetre                          // mN·m: torque screwdrivers
	kilonewtonMetre                           // kN·m: head and frame bolts of large engines
	decanewtonMetre                           // daN·m: French and Italian sheets, where it reads m·daN too
)

type torqueUnits struct{}

func (torqueUnits) kind() *kind { return torqueKind }

var torqueKind = newKind("torque", "TorqueUnit", []row{
	NewtonMetre: {symbol: "N·m", name: "newton metre", usual: true, num: 1, den: 1, ucum: "N.m", rec20: "NU",
		spellings: []string{"n·m", "=Nm", "newton·meter", "newton·meters", "newtonmetre", "newtonmeter"}},
	DecinewtonMetre: {symbol: "dN·m", name: "decinewton metre", num: 1, den: 10, ucum: "dN.m", rec20: "DN",
		spellings: []string{"=dNm", "decinewton·meter", "decinewton·meters"}},
	CentinewtonMetre: {symbol: "cN·m", name: "centinewton metre", num: 1, den: 100, ucum: "cN.m", rec20: "J72",
		spellings: []string{"=cNm", "centinewton·meter", "centinewton·meters"}},
	InchPound: {symbol: "in-lb", name: "inch-pound", usual: true, num: pound * gravity * inch, den: 1e17, ucum: "[lbf_av].[in_i]", rec20: "F21",
		spellings: []string{"in·lb", "in·lbs", "in·lbf", "lb·in", "lbf·in", "lbs·in", "inlb", "inlbs", "inlbf", "inch·lb", "inch·lbs", "pound·inch", "pound·inches", "lb/in", "lbs/in", "in/lb", "in/lbs",
			"pound·force·inch", "pound·force·inches", "pounds·force·inch", "inch·pound·force", "inch·pounds·force", "lbf·inch", "inch·lbf", "lbfin"}},
	FootPound: {symbol: "ft-lb", name: "foot-pound", usual: true, num: 12 * pound * gravity * inch, den: 1e17, ucum: "[lbf_av].[ft_i]", rec20: "M92",
		spellings: []string{"ft·lb", "ft·lbs", "ft·lbf", "lb·ft", "lbf·ft", "lbs·ft", "ftlb", "ftlbs", "ftlbf", "foot·lb", "foot·lbs", "pound·foot", "pound·feet", "lb/ft", "lbs/ft", "ft/lb", "ft/lbs",
			"pound·force·foot", "pound·force·feet", "pounds·force·foot", "foot·pound·force", "foot·pounds·force", "lbf·foot", "foot·lbf", "lbfft"}},
	InchOunce: {symbol: "in-oz", name: "inch-ounce", num: pound * gravity * inch, den: 16 * 1e17, ucum: "[oz_av].[g].[in_i]", rec20: "L41",
		spellings: []string{"in·oz", "in·ozf", "oz·in", "ozf·in", "ounce·inch", "ounce·inches", "ozin", "inoz", "oz/in"}},
	KilogramForceMetre: {symbol: "kgf·m", name: "kilogram-force metre", num: gravity, den: 1e5, ucum: "kgf.m", rec20: "B38", caveat: deprecated,
		spellings: []string{"kgf·m", "kgfm", "kg·m", "kgm", "kg/m", "kilogram·force·meter", "kilogram·force·meters", "kilopond·metre", "kilopond·meter", "kp·m", "kpm", "m·kgf", "m·kg", "m·kp", "=mkg", "=mkp"}},
	KilogramForceCentimetre: {symbol: "kgf·cm", name: "kilogram-force centimetre", num: gravity, den: 1e7, ucum: "kgf.cm",
		spellings: []string{"kgf·cm", "kgfcm", "kg·cm", "kgcm", "kg/cm", "kilogram·force·centimeter", "kilogram·force·centimeters", "kp·cm", "kpcm", "cm·kgf", "cm·kg", "cm·kp", "=cmkg", "=cmkp"}},
	newtonCentimetre: {symbol: "N·cm", name: "newton centimetre", num: 1, den: 100, ucum: "N.cm", rec20: "F88",
		spellings: []string{"=Ncm", "newton·centimeter", "newton·centimeters"}},
	millinewtonMetre: {symbol: "mN·m", name: "millinewton metre", num: 1, den: 1e3, ucum: "mN.m", rec20: "D83",
		spellings: []string{"=mNm", "millinewton·meter", "millinewton·meters"}},
	kilonewtonMetre: {symbol: "kN·m", name: "kilonewton metre", num: 1e3, den: 1, ucum: "kN.m", rec20: "B48",
		spellings: []string{"=kNm", "=KNm", "=KN·m", "kilonewton·meter", "kilonewton·meters"}},
	decanewtonMetre: {symbol: "daN·m", name: "decanewton metre", num: 10, den: 1, ucum: "daN.m",
		spellings: []string{"=daNm", "=DaNm", "=DaN·m", "=m·daN", "=mdaN", "decanewton·meter", "decanewton·meters"}},
},
	trap{spelling: "nm", candidates: []string{"N·m (newton metre)", "nanometre", "nautical mile"}, why: "is ambiguous in these letters"},
	trap{spelling: "lb", candidates: []string{"in-lb", "ft-lb"}, why: "is a pound without a lever"},
	trap{spelling: "lbs", candidates: []string{"in-lb", "ft-lb"}, why: "is a pound without a lever"},
	trap{spelling: "lbf", candidates: []string{"in-lb", "ft-lb"}, why: "is a pound-force without a lever"},
	trap{spelling: "kgf", why: "is a kilogram-force without a lever"},
	trap{spelling: "kg", why: "is a kilogram without a lever"},
	trap{spelling: "n", why: "is a newton without a lever"},
	trap{spelling: "dan", why: "is a decanewton without a lever"},
	trap{spelling: "kn", why: "is a kilonewton without a lever"},
	trap{spelling: "newtons", why: "is a force without a lever"},
	trap{spelling: "j", why: "is the joule, a unit of energy; a torque is never given in it"},
	trap{spelling: "joule", why: "is a unit of energy; a torque is never given in it"},
	trap{spelling: "joules", why: "is a unit of energy; a torque is never given in it"})

// ParseTorque reads a torque; see [Parse] for the grammar and the errors.
func ParseTorque(text string) (Torque, error) { return Parse[TorqueUnit](text) }

// MustParseTorque is ParseTorque for constants in a program; it panics on an error.
func MustParseTorque(text string) Torque { return MustParse[TorqueUnit](text) }
