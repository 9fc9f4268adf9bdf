package units

// MassUnit is a unit of mass. A mass is not what a scale in air shows.
type MassUnit = UnitOf[massUnits]

// The units of mass. Those without a constant are read and written by their symbols; [All] has them too.
const (
	Kilogram  MassUnit = iota // kg
	Gram                      // g
	Tonne                     // t: 1000 kg
	Pound                     // lb: avoirdupois
	Ounce                     // oz: avoirdupois
	ShortTon                  // short ton: 2000 lb
	LongTon                   // long ton: 2240 lb
	milligram                 // mg: sediment weighed on a test patch
)

type massUnits struct{}

func (massUnits) kind() *kind { return massKind }

var massKind = newKind("mass", "MassUnit", []row{
	Kilogram: {symbol: "kg", name: "kilogram", num: 1, den: 1, ucum: "kg", rec20: "KGM",
		spellings: []string{"kg", "kgs", "kilo", "kilos", "kilogramme", "kilogrammes"}},
	Gram: {symbol: "g", name: "gram", num: 1, den: 1e3, ucum: "g", rec20: "GRM",
		spellings: []string{"gm", "gms", "gramme", "grammes"}},
	Tonne: {symbol: "t", name: "tonne", num: 1e3, den: 1, ucum: "t", rec20: "TNE",
		spellings: []string{"metric·ton", "metric·tons", "metric·tonne"}},
	Pound: {symbol: "lb", name: "pound", num: pound, den: 1e8, ucum: "[lb_av]", rec20: "LBR",
		spellings: []string{"lb", "lbs", "lbm"}},
	Ounce: {symbol: "oz", name: "ounce", num: pound, den: 16 * 1e8, ucum: "[oz_av]", rec20: "ONZ",
		spellings: []string{"oz", "ozs", "oz·av"}},
	ShortTon: {symbol: "short ton", name: "short ton", num: 2000 * pound, den: 1e8, ucum: "[ston_av]", rec20: "STN",
		spellings: []string{"us·ton", "us·tons", "net·ton"}},
	LongTon: {symbol: "long ton", name: "long ton", num: 2240 * pound, den: 1e8, ucum: "[lton_av]", rec20: "LTN",
		spellings: []string{"imperial·ton", "uk·ton", "gross·ton"}},
	milligram: {symbol: "mg", name: "milligram", num: 1, den: 1e6, ucum: "mg", rec20: "MGM"},
},
	// T is the ton of 2000 lb and G the gallon on a manifest (EPA Form 8700-22, instructions, Table II).
	trap{spelling: "=T", candidates: []string{"t (tonne)", "short ton (T on a waste manifest)", "long ton"}, why: "doesn't say which ton"},
	trap{spelling: "=G", candidates: []string{"g (gram)", "US gal (G on a waste manifest)"}, why: "is a gram to some and a gallon on a form"},
	trap{spelling: "ton", candidates: []string{"t", "short ton", "long ton"}, why: "doesn't say which ton"},
	trap{spelling: "tons", candidates: []string{"t", "short ton", "long ton"}, why: "doesn't say which ton"},
	trap{spelling: "gr", candidates: []string{"g", "grain, 64.79891 mg"}, why: "is a gram to some and a grain to others"},
	trap{spelling: "kgf", why: "is a unit of force"},
	trap{spelling: "lbf", why: "is a unit of force"},
	trap{spelling: "fl·oz", why: "is a unit of volume"})

// ParseMass reads a mass; see [Parse] for the grammar and the errors.
func ParseMass(text string) (Mass, error) { return Parse[MassUnit](text) }

// MustParseMass is ParseMass for constants in a program; it panics on an error.
func MustParseMass(text string) Mass { return MustParse[MassUnit](text) }
