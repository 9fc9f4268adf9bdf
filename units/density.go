package units

// DensityUnit is a unit of density.
type DensityUnit = UnitOf[densityUnits]

// The units of density. Those without a constant are read and written by their symbols; [All] has them too.
const (
	KilogramPerCubicMetre  DensityUnit = iota // kg/m³
	KilogramPerLitre                          // kg/L
	GramPerCubicCentimetre                    // g/cm³
	PoundPerUSGallon                          // lb/US gal
	PoundPerImperialGallon                    // lb/imp gal
	PoundPerCubicFoot                         // lb/ft³
	gramPerMillilitre                         // g/mL: on hydrometers and data sheets
)

type densityUnits struct{}

func (densityUnits) kind() *kind { return densityKind }

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
	gramPerMillilitre: {symbol: "g/mL", name: "gram per millilitre", num: 1e3, den: 1, ucum: "g/mL", rec20: "GJ",
		spellings: []string{"=g/ml", "gram·per·milliliter"}},
},
	trap{spelling: "lb/gal", candidates: []string{"lb/US gal", "lb/imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "lbs/gal", candidates: []string{"lb/US gal", "lb/imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "ppg", candidates: []string{"lb/US gal", "lb/imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "°api", why: api},
	trap{spelling: "api", why: api},
	trap{spelling: "deg·api", why: api},
	trap{spelling: "sg", why: relative},
	trap{spelling: "rd", why: relative})

// What to write instead of the scales, which are those of API MPMS Chapter 11.1-2004, 11.1.5.1.
const (
	api      = "is a scale, not a unit: at 60 °F the density is 141360.764 kg/m³ / (131.5 + °API)"
	relative = "is relative to water, not a unit: with both at 60 °F the density is so many times 999.016 kg/m³"
)

// ParseDensity reads a density; see [Parse] for the grammar and the errors.
func ParseDensity(text string) (Density, error) { return Parse[DensityUnit](text) }

// MustParseDensity is ParseDensity for constants in a program; it panics on an error.
func MustParseDensity(text string) Density { return MustParse[DensityUnit](text) }
