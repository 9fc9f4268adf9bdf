package units

// DensityUnit is a unit of density.
type DensityUnit uint8

// The units of density.
const (
	KilogramPerCubicMetre  DensityUnit = iota // kg/m³
	KilogramPerLitre                          // kg/L
	GramPerCubicCentimetre                    // g/cm³
	PoundPerUSGallon                          // lb/US gal
	PoundPerImperialGallon                    // lb/imp gal
	PoundPerCubicFoot                         // lb/ft³
	GramPerMillilitre                         // g/mL: on hydrometers and data sheets
)

var densityKind = newKind("density", "DensityUnit", []row{
	KilogramPerCubicMetre: {symbol: "kg/m³", name: "kilogram per cubic metre", num: 1, den: 1, ucum: "kg/m3", rec20: "KMQ",
		spellings: []string{"kg/m3", "g/l", "kilogram·per·cubic·meter"}},
	KilogramPerLitre: {symbol: "kg/L", name: "kilogram per litre", num: 1e3, den: 1, ucum: "kg/L", rec20: "B35",
		spellings: []string{"kg/l", "kg/dm3", "t/m3", "kilogram·per·liter"}},
	GramPerCubicCentimetre: {symbol: "g/cm³", name: "gram per cubic centimetre", num: 1e3, den: 1, ucum: "g/cm3", rec20: "23",
		spellings: []string{"g/cm3", "g/cc", "g/ccm"}},
	PoundPerUSGallon: {symbol: "lb/US gal", name: "pound per US gallon", num: pound * 1e4, den: 231 * inch * inch * inch, ucum: "[lb_av]/[gal_us]", rec20: "GE",
		spellings: []string{"lb/us·gal", "lb/gal·us", "lb/gal·(us)", "lbs/us·gal"}},
	PoundPerImperialGallon: {symbol: "lb/imp gal", name: "pound per imperial gallon", num: pound, den: impGallon, ucum: "[lb_av]/[gal_br]", rec20: "K71",
		spellings: []string{"lb/imp·gal", "lb/gal·imp", "lb/gal·(imp)", "lb/gal·(uk)", "lb/uk·gal"}},
	PoundPerCubicFoot: {symbol: "lb/ft³", name: "pound per cubic foot", num: pound * 1e4, den: 12 * 12 * 12 * inch * inch * inch, ucum: "[lb_av]/[ft_i]3", rec20: "87",
		spellings: []string{"lb/ft3", "lb/cu·ft", "pcf"}},
	GramPerMillilitre: {symbol: "g/mL", name: "gram per millilitre", num: 1e3, den: 1, ucum: "g/mL", rec20: "GJ",
		spellings: []string{"=g/ml", "gram·per·milliliter"}},
},
	trap{spelling: "lb/gal", candidates: []string{"lb/US gal", "lb/imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "lbs/gal", candidates: []string{"lb/US gal", "lb/imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "ppg", candidates: []string{"lb/US gal", "lb/imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "°api", why: "is a scale of density, not a unit"},
	trap{spelling: "api", why: "is a scale of density, not a unit"},
	trap{spelling: "deg·api", why: "is a scale of density, not a unit"},
	trap{spelling: "sg", why: "is a relative density, not a unit"},
	trap{spelling: "rd", why: "is a relative density, not a unit"})

func (u DensityUnit) kind() *kind { return densityKind }

// String is the unit's symbol; "DensityUnit(99)" for a value that is none of the constants.
func (u DensityUnit) String() string { return densityKind.symbol(uint8(u)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (u DensityUnit) UCUM() (string, error) { return densityKind.code(ucum, uint8(u)) }

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (u DensityUnit) Rec20() (string, error) { return densityKind.code(rec20, uint8(u)) }

// MarshalText writes the symbol; *UnitError for a value that is none of the constants.
func (u DensityUnit) MarshalText() ([]byte, error) { return densityKind.marshalUnit(uint8(u)) }

// UnmarshalText reads what [ParseUnit] reads; on an error u stays as it was.
func (u *DensityUnit) UnmarshalText(text []byte) error { return unmarshalUnit(densityKind, u, text) }

// Of is a whole number of the unit: KilogramPerCubicMetre.Of(3).
func (u DensityUnit) Of(magnitude int64) Density { return of(magnitude, u) }

// ParseDensity reads a density; see [Parse] for the grammar and the errors.
func ParseDensity(text string) (Density, error) { return Parse[DensityUnit](text) }

// MustParseDensity is ParseDensity for constants in a program; it panics on an error.
func MustParseDensity(text string) Density { return MustParse[DensityUnit](text) }
