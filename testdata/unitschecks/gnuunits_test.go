// Package unitschecks holds package units against things made elsewhere.
package unitschecks

import (
	"bytes"
	"fmt"
	"math/big"
	"os/exec"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

// gnuNames says how GNU units (Debian package units) writes each of our units. A unit that is
// missing here fails the test.
var gnuNames = map[string]string{
	"N·m": "N m", "dN·m": "dN m", "cN·m": "cN m", "in-lb": "inch lbf", "ft-lb": "foot lbf", "in-oz": "inch ounce gravity",
	"kgf·m": "kgf m", "kgf·cm": "kgf cm", "N·cm": "N cm", "mN·m": "mN m", "kN·m": "kN m", "daN·m": "daN m",
	"°": "degree", "rev": "revolution",
	"m³": "m^3", "L": "liter", "mL": "milliliter", "in³": "inch^3", "US gal": "usgallon", "US qt": "usquart", "US pt": "uspint",
	"US fl oz": "usfloz", "imp gal": "brgallon", "imp qt": "brquart", "imp pt": "brpint", "imp fl oz": "brfloz",
	"cL": "centiliter", "cm³": "cm^3", "dL": "deciliter", "hL": "hectoliter",
	"kg": "kg", "g": "g", "t": "tonne", "lb": "lb", "oz": "oz", "short ton": "uston", "long ton": "brton", "mg": "mg",
	"kg/m³": "kg/m^3", "kg/L": "kg/liter", "g/cm³": "g/cm^3", "g/mL": "g/milliliter",
	"lb/US gal": "lb/usgallon", "lb/imp gal": "lb/brgallon", "lb/ft³": "lb/foot^3",
	"m": "m", "cm": "cm", "mm": "mm", "in": "inch", "ft": "foot", "km": "km", "mi": "mile", "µm": "micrometer",
	"L/min": "liter/minute", "L/h": "liter/hour", "US gal/min": "usgallon/minute", "US gal/h": "usgallon/hour",
	"imp gal/h": "brgallon/hour", "imp gal/min": "brgallon/minute", "mL/min": "milliliter/minute", "m³/h": "m^3/hour",
	"Pa": "Pa", "kPa": "kPa", "bar": "bar", "psi": "psi", "inHg": "inch Hg", "inH2O": "inch H2O", "MPa": "MPa", "hPa": "hPa",
	"mbar": "millibar", "kgf/cm²": "kgf/cm^2", "mmHg": "mm Hg", "mmH2O": "mm H2O", "atm": "atm",
	"%": "percent", "K": "K", "°C": "degC", "°F": "degF",
}

// A question to GNU units, with our exact answer.
type question struct {
	from, to string
	factor   *big.Rat
}

func everyPair[U units.Unit](t *testing.T) (all []question) {
	for from := range units.All[U]() {
		for to := range units.All[U]() {
			for _, u := range []U{from, to} {
				if gnuNames[u.String()] == "" {
					t.Errorf("no GNU units name for %s", u)
				}
			}
			all = append(all, question{from.String(), to.String(), units.Factor(from, to)})
		}
	}
	return all
}

// GNU units computes with doubles, so 15 digits are asked of it. Source: gnu-units.
func TestGNUUnits(t *testing.T) {
	var all []question
	all = append(all, everyPair[units.TorqueUnit](t)...)
	all = append(all, everyPair[units.AngleUnit](t)...)
	all = append(all, everyPair[units.VolumeUnit](t)...)
	all = append(all, everyPair[units.MassUnit](t)...)
	all = append(all, everyPair[units.DensityUnit](t)...)
	all = append(all, everyPair[units.LengthUnit](t)...)
	all = append(all, everyPair[units.FlowUnit](t)...)
	all = append(all, everyPair[units.PressureUnit](t)...)
	all = append(all, everyPair[units.TemperatureDifferenceUnit](t)...)
	all = append(all, everyPair[units.ShareUnit](t)...)

	var in, out bytes.Buffer
	for _, q := range all {
		fmt.Fprintf(&in, "%s\n%s\n", gnuNames[q.from], gnuNames[q.to])
	}
	cmd := exec.Command("units", "--quiet", "--terse", "--output-format", "%.17g")
	cmd.Stdin, cmd.Stdout = &in, &out
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	answers := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(answers) != len(all) || len(all) < 600 {
		t.Fatalf("%d answers to %d questions:\n%.2000s", len(answers), len(all), out.String())
	}
	limit := big.NewRat(1, 1e15)
	for i, q := range all {
		theirs, ok := new(big.Rat).SetString(strings.TrimSpace(answers[i]))
		if !ok {
			t.Errorf("%s to %s: %q", q.from, q.to, answers[i])
			continue
		}
		gap := theirs.Sub(theirs, q.factor)
		if gap.Abs(gap.Quo(gap, q.factor)).Cmp(limit) > 0 {
			t.Errorf("%s to %s: GNU units says %s, we say %s", q.from, q.to, answers[i], q.factor.FloatString(20))
		}
	}
	t.Logf("%d pairs compared", len(all))
}
