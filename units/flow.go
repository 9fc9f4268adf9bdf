package units

// FlowUnit is a unit of volume flow.
type FlowUnit = UnitOf[flowUnits]

// The units of volume flow. Those without a constant are read and written by their symbols; [All] has them too.
const (
	LitrePerMinute          FlowUnit = iota // L/min
	LitrePerHour                            // L/h
	USGallonPerMinute                       // US gal/min
	USGallonPerHour                         // US gal/h
	ImperialGallonPerHour                   // imp gal/h
	imperialGallonPerMinute                 // imp gal/min: pump plates of British make
	MillilitrePerMinute                     // mL/min: injector leak-off and drip tests
	cubicMetrePerHour                       // m³/h: booster pumps, separators and duplex filters of ships and power stations
)

type flowUnits struct{}

func (flowUnits) kind() *kind { return flowKind }

var flowKind = newKind("volume flow", "FlowUnit", []row{
	LitrePerMinute: {symbol: "L/min", name: "litre per minute", num: 1, den: 1, ucum: "L/min", rec20: "L2",
		spellings: []string{"l/min", "lpm", "liter·per·minute", "liters·per·minute", "litres·per·minute"}},
	LitrePerHour: {symbol: "L/h", name: "litre per hour", num: 1, den: 60, ucum: "L/h", rec20: "E32",
		spellings: []string{"l/h", "l/hr", "lph", "liter·per·hour", "liters·per·hour", "litres·per·hour"}},
	USGallonPerMinute: {symbol: "US gal/min", name: "US gallon per minute", num: 231 * inch * inch * inch, den: 1e9, ucum: "[gal_us]/min", rec20: "G2",
		spellings: []string{"us·gal/min", "us·gpm", "usgpm", "us·gallons·per·minute"}},
	USGallonPerHour: {symbol: "US gal/h", name: "US gallon per hour", num: 231 * inch * inch * inch, den: 60 * 1e9, ucum: "[gal_us]/h", rec20: "G50",
		spellings: []string{"us·gal/h", "us·gal/hr", "us·gph", "usgph", "us·gallons·per·hour"}},
	ImperialGallonPerHour: {symbol: "imp gal/h", name: "imperial gallon per hour", num: impGallon, den: 60 * 1e5, ucum: "[gal_br]/h", rec20: "K27",
		spellings: []string{"imp·gal/h", "imp·gal/hr", "imp·gph", "uk·gal/h", "uk·gph", "imperial·gallons·per·hour"}},
	imperialGallonPerMinute: {symbol: "imp gal/min", name: "imperial gallon per minute", num: impGallon, den: 1e5, ucum: "[gal_br]/min", rec20: "G3",
		spellings: []string{"imp·gal/min", "imp·gpm", "uk·gal/min", "uk·gpm", "imperial·gallons·per·minute"}},
	MillilitrePerMinute: {symbol: "mL/min", name: "millilitre per minute", num: 1, den: 1e3, ucum: "mL/min", rec20: "41",
		spellings: []string{"=ml/min", "cc/min", "cm3/min", "milliliter·per·minute", "milliliters·per·minute", "millilitres·per·minute"}},
	cubicMetrePerHour: {symbol: "m³/h", name: "cubic metre per hour", num: 1000, den: 60, ucum: "m3/h", rec20: "MQH",
		spellings: []string{"m3/h", "m3/hr", "cubic·meter·per·hour", "cubic·meters·per·hour", "cubic·metres·per·hour"}},
},
	trap{spelling: "gpm", candidates: []string{"US gal/min", "imp gal/min"}, why: "doesn't say whose gallon"},
	trap{spelling: "gph", candidates: []string{"US gal/h", "imp gal/h"}, why: "doesn't say whose gallon"},
	trap{spelling: "gal/min", candidates: []string{"US gal/min", "imp gal/min"}, why: "doesn't say whose gallon"},
	trap{spelling: "gal/h", candidates: []string{"US gal/h", "imp gal/h"}, why: "doesn't say whose gallon"},
	trap{spelling: "gal/hr", candidates: []string{"US gal/h", "imp gal/h"}, why: "doesn't say whose gallon"},
	trap{spelling: "gallons·per·hour", candidates: []string{"US gal/h", "imp gal/h"}, why: "doesn't say whose gallon"},
	trap{spelling: "gallons·per·minute", candidates: []string{"US gal/min", "imp gal/min"}, why: "doesn't say whose gallon"})

// ParseFlow reads a volume flow; see [Parse] for the grammar and the errors.
func ParseFlow(text string) (Flow, error) { return Parse[FlowUnit](text) }

// MustParseFlow is ParseFlow for constants in a program; it panics on an error.
func MustParseFlow(text string) Flow { return MustParse[FlowUnit](text) }
