package units

// VolumeUnit is a unit of volume. Gallons, quarts, pints and fluid ounces say whose.
type VolumeUnit = UnitOf[volumeUnits]

// The units of volume. Those without a constant are read and written by their symbols; [All] has them too.
const (
	CubicMetre         VolumeUnit = iota // m³
	Litre                                // L
	Millilitre                           // mL
	CubicInch                            // in³
	USGallon                             // US gal: 231 in³
	USQuart                              // US qt: liquid quart
	USPint                               // US pt: liquid pint
	USFluidOunce                         // US fl oz
	ImperialGallon                       // imp gal: 4.546 09 L
	ImperialQuart                        // imp qt
	ImperialPint                         // imp pt
	ImperialFluidOunce                   // imp fl oz
	centilitre                           // cL: on measuring jugs
	cubicCentimetre                      // cm³: displacements and filter voids, and in Japanese sheets
	decilitre                            // dL: measuring jugs and sheets of the Nordic countries
	hectolitre                           // hL: fuel delivered and waste oil taken back, in France and Central Europe
)

type volumeUnits struct{}

func (volumeUnits) kind() *kind { return volumeKind }

var volumeKind = newKind("volume", "VolumeUnit", []row{
	CubicMetre: {symbol: "m³", name: "cubic metre", num: 1, den: 1, ucum: "m3", rec20: "MTQ",
		spellings: []string{"m3", "cubic·meter", "cubic·meters", "cu·m"}},
	Litre: {symbol: "L", name: "litre", usual: true, num: 1, den: 1e3, ucum: "L", rec20: "LTR",
		spellings: []string{"=l", "liter", "liters", "ltr", "dm3"}},
	Millilitre: {symbol: "mL", name: "millilitre", usual: true, num: 1, den: 1e6, ucum: "mL", rec20: "MLT",
		spellings: []string{"=ml", "milliliter", "milliliters"}},
	CubicInch: {symbol: "in³", name: "cubic inch", num: inch * inch * inch, den: 1e12, ucum: "[in_i]3", rec20: "INQ",
		spellings: []string{"in3", "cu·in", "cubic·inches", "cuin", "cu·ins"}},
	USGallon: {symbol: "US gal", name: "US gallon", usual: true, num: 231 * inch * inch * inch, den: 1e12, ucum: "[gal_us]", rec20: "GLL",
		spellings: []string{"us·gal", "u·s·gal", "u·s·gallon", "u·s·gallons", "gal·us", "us·gals", "usgal", "gal·(us)", "gallon·(us)", "gallons·(us)", "us·liquid·gallon", "us·liq·gal", "usg", "gal·(u·s)", "gallon·(u·s)", "gallons·(u·s)"}},
	USQuart: {symbol: "US qt", name: "US quart", num: 231 * inch * inch * inch, den: 4 * 1e12, ucum: "[qt_us]", rec20: "QTL",
		spellings: []string{"us·qt", "u·s·qt", "u·s·quart", "u·s·quarts", "qt·us", "us·qts", "us·liquid·quart", "us·liq·qt", "qt·(u·s)", "quart·(u·s)", "quarts·(u·s)", "qt·(us)", "quart·(us)", "quarts·(us)", "liquid·quart·(us)", "liq·qt·(us)"}},
	USPint: {symbol: "US pt", name: "US pint", num: 231 * inch * inch * inch, den: 8 * 1e12, ucum: "[pt_us]", rec20: "PTL",
		spellings: []string{"us·pt", "u·s·pt", "u·s·pint", "u·s·pints", "pt·us", "us·pts", "us·liquid·pint", "us·liq·pt", "pt·(u·s)", "pint·(u·s)", "pints·(u·s)", "pt·(us)", "pint·(us)", "pints·(us)", "liquid·pint·(us)", "liq·pt·(us)"}},
	USFluidOunce: {symbol: "US fl oz", name: "US fluid ounce", num: 231 * inch * inch * inch, den: 128 * 1e12, ucum: "[foz_us]", rec20: "OZA",
		spellings: []string{"us·fl·oz", "u·s·fl·oz", "u·s·fluid·ounce", "u·s·fluid·ounces", "fl·oz·us", "us·floz", "fl·oz·(us)", "fluid·ounce·(us)", "fluid·ounces·(us)"}},
	ImperialGallon: {symbol: "imp gal", name: "imperial gallon", num: impGallon, den: 1e8, ucum: "[gal_br]", rec20: "GLI",
		spellings: []string{"imp·gal", "gal·imp", "imp·gals", "uk·gal", "uk·gallon", "uk·gallons", "gal·uk", "gal·(imp)", "gal·(uk)", "gallon·(uk)", "gallons·(uk)", "gallon·(imp)", "gallons·(imp)", "impgal"}},
	ImperialQuart: {symbol: "imp qt", name: "imperial quart", num: impGallon, den: 4 * 1e8, ucum: "[qt_br]", rec20: "QTI",
		spellings: []string{"imp·qt", "qt·imp", "uk·qt", "qt·uk", "uk·quart", "uk·quarts", "qt·(imp)", "qt·(uk)", "quart·(uk)", "quarts·(uk)"}},
	ImperialPint: {symbol: "imp pt", name: "imperial pint", num: impGallon, den: 8 * 1e8, ucum: "[pt_br]", rec20: "PTI",
		spellings: []string{"imp·pt", "pt·imp", "uk·pt", "pt·uk", "uk·pint", "uk·pints", "pt·(imp)", "pt·(uk)", "pint·(uk)", "pints·(uk)"}},
	ImperialFluidOunce: {symbol: "imp fl oz", name: "imperial fluid ounce", num: impGallon, den: 160 * 1e8, ucum: "[foz_br]", rec20: "OZI",
		spellings: []string{"imp·fl·oz", "fl·oz·imp", "uk·fl·oz", "uk·fluid·ounce", "uk·fluid·ounces", "fl·oz·(imp)", "fl·oz·uk", "fl·oz·(uk)", "fluid·ounce·(uk)", "fluid·ounces·(uk)"}},
	centilitre: {symbol: "cL", name: "centilitre", num: 1, den: 1e5, ucum: "cL", rec20: "CLT",
		spellings: []string{"cl", "centiliter", "centiliters"}},
	cubicCentimetre: {symbol: "cm³", name: "cubic centimetre", num: 1, den: 1e6, ucum: "cm3", rec20: "CMQ",
		spellings: []string{"cm3", "cc", "c·c", "ccm", "cu·cm", "cubic·centimeter", "cubic·centimeters"}},
	decilitre: {symbol: "dL", name: "decilitre", num: 1, den: 1e4, ucum: "dL", rec20: "DLT",
		spellings: []string{"dl", "deciliter", "deciliters"}},
	hectolitre: {symbol: "hL", name: "hectolitre", num: 1, den: 10, ucum: "hL", rec20: "HLT",
		spellings: []string{"hl", "hectoliter", "hectoliters"}},
},
	trap{spelling: "=G", candidates: []string{"US gal (G on a waste manifest)", "g (gram)"}, why: "is a gallon on a form and a gram to some"},
	trap{spelling: "gal", candidates: []string{"US gal", "imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "gals", candidates: []string{"US gal", "imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "gallon", candidates: []string{"US gal", "imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "gallons", candidates: []string{"US gal", "imp gal"}, why: "doesn't say whose gallon"},
	trap{spelling: "qt", candidates: []string{"US qt", "imp qt"}, why: "doesn't say whose quart"},
	trap{spelling: "quart", candidates: []string{"US qt", "imp qt"}, why: "doesn't say whose quart"},
	trap{spelling: "quarts", candidates: []string{"US qt", "imp qt"}, why: "doesn't say whose quart"},
	trap{spelling: "pt", candidates: []string{"US pt", "imp pt"}, why: "doesn't say whose pint"},
	trap{spelling: "pint", candidates: []string{"US pt", "imp pt"}, why: "doesn't say whose pint"},
	trap{spelling: "pints", candidates: []string{"US pt", "imp pt"}, why: "doesn't say whose pint"},
	trap{spelling: "fl·oz", candidates: []string{"US fl oz", "imp fl oz"}, why: "doesn't say whose ounce"},
	trap{spelling: "floz", candidates: []string{"US fl oz", "imp fl oz"}, why: "doesn't say whose ounce"},
	trap{spelling: "oz", candidates: []string{"US fl oz", "imp fl oz", "oz, a mass"}, why: "doesn't say which ounce"},
	trap{spelling: "ounce", candidates: []string{"US fl oz", "imp fl oz", "oz, a mass"}, why: "doesn't say which ounce"},
	trap{spelling: "ounces", candidates: []string{"US fl oz", "imp fl oz", "oz, a mass"}, why: "doesn't say which ounce"},
	trap{spelling: "fluid·ounce", candidates: []string{"US fl oz", "imp fl oz"}, why: "doesn't say whose ounce"},
	trap{spelling: "fluid·ounces", candidates: []string{"US fl oz", "imp fl oz"}, why: "doesn't say whose ounce"})

// ParseVolume reads a volume; see [Parse] for the grammar and the errors.
func ParseVolume(text string) (Volume, error) { return Parse[VolumeUnit](text) }

// MustParseVolume is ParseVolume for constants in a program; it panics on an error.
func MustParseVolume(text string) Volume { return MustParse[VolumeUnit](text) }
