package units

import "strings"

// PressureUnit is a unit of pressure. Inches and millimetres of mercury and of water are the
// conventional ones: 13.5951 kg/L and 1 kg/L of liquid under standard gravity, at no stated temperature.
type PressureUnit = UnitOf[pressureUnits]

// The units of pressure. Those without a constant are read and written by their symbols; [All] has them too.
const (
	Pascal                           PressureUnit = iota // Pa
	Kilopascal                                           // kPa
	Bar                                                  // bar
	PoundPerSquareInch                                   // psi
	InchOfMercury                                        // inHg: conventional
	InchOfWater                                          // inH2O: conventional
	megapascal                                           // MPa: injection pressures, and plates of Asian make
	hectopascal                                          // hPa: barometers
	millibar                                             // mbar: suction gauges
	kilogramForcePerSquareCentimetre                     // kgf/cm²: older Japanese and European gauges, where it reads kg/cm²
	millimetreOfMercury                                  // mmHg: conventional; vacuum gauges
	millimetreOfWater                                    // mmH2O: conventional; intake restriction
	standardAtmosphere                                   // atm: 101 325 Pa (NIST SP 811, App. B.8)
)

// UCUM takes the metre of mercury as 133.322 kPa; 13.5951 kg/L under standard gravity give
// 133.322387415 kPa.
const ucumMercury = "is 3 parts in a million smaller there than the conventional unit"

type pressureUnits struct{}

func (pressureUnits) kind() *kind { return pressureKind }

var pressureKind = newKind("pressure", "PressureUnit", []row{
	Pascal:     {symbol: "Pa", name: "pascal", num: 1, den: 1, ucum: "Pa", rec20: "PAL", spellings: []string{"=PA", "=pa"}},
	Kilopascal: {symbol: "kPa", name: "kilopascal", num: 1e3, den: 1, ucum: "kPa", rec20: "KPA", spellings: []string{"kpa"}},
	Bar:        {symbol: "bar", name: "bar", num: 1e5, den: 1, ucum: "bar", rec20: "BAR", spellings: []string{"bar"}},
	PoundPerSquareInch: {symbol: "psi", name: "pound per square inch", num: pound * gravity, den: inch * inch * 1e5, ucum: "[psi]", rec20: "PS",
		spellings: []string{"psi", "lbf/in2", "lb/in2", "lbs/in2", "lb/sq·in", "lbs/sq·in", "lbf/sq·in", "lbs·per·sq·in", "pounds·per·square·inch", "p·s·i"}},
	InchOfMercury: {symbol: "inHg", name: "inch of mercury", num: 135951 * gravity * inch, den: 1e10, ucum: "[in_i'Hg]", rec20: "F79", caveat: map[codeSystem]string{ucum: ucumMercury},
		spellings: []string{"inhg", "in·hg", "\"·hg", "\"hg", "inches·of·mercury"}},
	InchOfWater: {symbol: "inH2O", name: "inch of water", num: 1000 * gravity * inch, den: 1e9, ucum: "[in_i'H2O]", rec20: "F78",
		spellings: []string{"inh2o", "in·h2o", "in·wc", "in·w·c", "\"·h2o", "\"h2o", "\"·wc", "\"wc", "inwc", "in·wg", "in·w·g", "inwg", "\"·wg", "\"wg", "inches·of·water"}},
	megapascal:  {symbol: "MPa", name: "megapascal", num: 1e6, den: 1, ucum: "MPa", rec20: "MPA", spellings: []string{"=Mpa", "=MPA", "n/mm2"}},
	hectopascal: {symbol: "hPa", name: "hectopascal", num: 100, den: 1, ucum: "hPa", rec20: "A97", spellings: []string{"hpa"}},
	millibar:    {symbol: "mbar", name: "millibar", num: 100, den: 1, ucum: "mbar", rec20: "MBR", spellings: []string{"=mb"}},
	kilogramForcePerSquareCentimetre: {symbol: "kgf/cm²", name: "kilogram-force per square centimetre", num: gravity, den: 10, ucum: "kgf/cm2", rec20: "E42",
		spellings: []string{"kgf/cm2", "kg/cm2", "kp/cm2", "=at", "kgf/sq·cm", "kg/sq·cm", "kilogram·force·per·square·centimeter"}},
	millimetreOfMercury: {symbol: "mmHg", name: "millimetre of mercury", num: 135951 * gravity, den: 1e9, ucum: "mm[Hg]", rec20: "HN", caveat: map[codeSystem]string{ucum: ucumMercury, rec20: deprecated[rec20]},
		spellings: []string{"=mm·Hg", "=mmhg", "millimeter·of·mercury", "millimeters·of·mercury", "millimetres·of·mercury"}},
	millimetreOfWater: {symbol: "mmH2O", name: "millimetre of water", num: gravity, den: 1e5, ucum: "mm[H2O]", rec20: "HP", caveat: deprecated,
		spellings: []string{"=mm·H2O", "=mmAq", "=mm·Aq", "=mmWC", "=mm·WC", "=mmWG", "=mm·WG", "=mmWS", "=mm·WS", "millimeter·of·water", "millimeters·of·water", "millimetres·of·water"}},
	standardAtmosphere: {symbol: "atm", name: "standard atmosphere", num: 101325, den: 1, ucum: "atm", rec20: "ATM",
		spellings: []string{"atm"}},
},
	append(gauges("psi", "bar", "kPa", "MPa", "mbar", "kgf/cm²"),
		gauge("atü", "kgf/cm²"), gauge("atu", "kgf/cm²"), gauge("ata", "kgf/cm²"),
		trap{spelling: "atmosphere", candidates: []string{"atm", "kgf/cm²"}, why: "doesn't say whether it is the standard or the technical one"},
		trap{spelling: "atmospheres", candidates: []string{"atm", "kgf/cm²"}, why: "doesn't say whether they are standard or technical ones"},
		trap{spelling: "torr", candidates: []string{"mmHg"}, why: "is a 760th of an atmosphere, which is not quite a millimetre of mercury"},
		trap{spelling: "mpa", candidates: []string{"MPa", "millipascal"}, why: "is ambiguous in these letters"})...)

// gauges are the traps of units with a mark behind them, as in psig, bar(a) and "kPa abs".
func gauges(symbols ...string) (traps []trap) {
	for _, symbol := range symbols {
		for _, mark := range [...]string{"g", "a", "·g", "·a", "(g)", "(a)", "·(g)", "·(a)", "·gauge", "(gauge)", "·(gauge)",
			"·abs", "(abs)", "·(abs)", "·absolute", "·(absolute)"} {
			traps = append(traps, gauge(strings.ToLower(foldUnit(symbol))+mark, symbol))
		}
	}
	return traps
}

// gauge is the trap of a unit that says what its pressure is counted from: a Pressure doesn't.
func gauge(spelling, unit string) trap {
	return trap{spelling: spelling, why: "says what the pressure is counted from, which a unit doesn't hold; write " + unit + " and keep gauge or absolute beside it"}
}

// ParsePressure reads a pressure; see [Parse] for the grammar and the errors.
func ParsePressure(text string) (Pressure, error) { return Parse[PressureUnit](text) }
