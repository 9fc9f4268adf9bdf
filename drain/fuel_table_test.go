package drain

import (
	"fmt"
	"math"
	"math/big"
	"os"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

// testdata/factors.tsv is made by testdata/oracles/factors.py, a program of another language that shares nothing with
// this one: the published equations with fifty digits, and bisection in place of Newton's steps. testdata/oracles makes
// it again and compares. The digits are also what has to come out on every machine. Source: oracle-fuel.
func TestFactors(t *testing.T) {
	table, err := os.ReadFile("testdata/factors.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(table)), "\n")[1:]
	if len(rows) < 80 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		c := strings.Split(row, "\t")
		f := fuel(t, c[0]+" kg/m³ at "+c[1])
		at := VolumeAt{temperature(c[2]), temperature(c[1])}
		for _, e := range []struct{ what, got, want string }{
			{"factor", must(f.VolumeFactor(at)).StringFixed(18), c[3]},
			{"rounded once", must(f.volumeFactor(at, 5)).StringFixed(5), number(c[3]).RoundBank(5).StringFixed(5)},
			{"at 60 °F", must(f.DensityAt(sixty)).String(), c[4] + " kg/m³"},
			{"there", must(f.DensityAt(at.Temperature)).String(), c[5] + " kg/m³"},
		} {
			if e.got != e.want {
				t.Errorf("%s: %s %s, want %s", row, e.what, e.got, e.want)
			}
		}
	}
}

// The equations that were published before have other constants and no second group of temperatures, and come to the same
// within 10 parts in a million, or 35 for the light fuels that they count to another group. Source: d1250-80.
func TestOlderEquations(t *testing.T) {
	for _, rho := range []float64{820, 830, 838, 840, 845, 850, 860, 880} {
		k0, k1, within := 186.9696, 0.4862, 10e-6
		if rho < 838.5 {
			k0, k1, within = 594.5418, 0, 35e-6
		}
		alpha := k0/(rho*rho) + k1/rho
		f := fuel(t, fmt.Sprintf("%g kg/m³ at 15 °C", rho))
		for c := int64(-20); c <= 80; c += 5 {
			warmer := float64(c - 15)
			want := math.Exp(-alpha * warmer * (1 + 0.8*alpha*warmer))
			got := must(f.VolumeFactor(VolumeAt{units.Celsius.Of(c), fifteen})).InexactFloat64()
			if math.Abs(got-want) > within {
				t.Errorf("%g at %d °C: %v, and %v before", rho, c, got, want)
			}
		}
	}
}

// The published examples that print a density too. Source: api-11-1.
func TestDensities(t *testing.T) {
	for _, e := range []struct {
		fuel, at, want string
		places         int
	}{
		{"865.6 kg/m³ at 15 °C", "15 °C", "865.600000 kg/m³", 6}, // as given
		{"19.4 °API at 60 °F", "48.04 °F", "941.3353501926 kg/m³", 10},
	} {
		got := must(fuel(t, e.fuel).DensityAt(temperature(e.at))).RoundIn(units.KilogramPerCubicMetre, e.places, units.ToNearestEven)
		if got.String() != e.want {
			t.Errorf("%s: at %s %s, want %s", e.fuel, e.at, got, e.want)
		}
	}
}

// A mass is the volume times the density at the temperature at which it was measured, which is that of factors.tsv; in
// pounds it is by 0.45359237 kg. Sources: oracle-fuel, 24-fr-5348.
func TestMasses(t *testing.T) {
	for _, e := range []struct{ fuel, volume, at, kg, lb string }{
		{"840 kg/m³ at 15 °C", "1.5 L", "25 °C", "1.2493 kg", "2.7543 lb"},
		{"840 kg/m³ at 15 °C", "1.5 L", "60 °C", "1.2116 kg", "2.6712 lb"},
		{"835 kg/m³ at 15 °C", "10 L", "80 °C", "7.8801 kg", "17.3727 lb"},
	} {
		m := must(fuel(t, e.fuel).Mass(volume(e.volume), temperature(e.at)))
		kg := m.RoundIn(units.Kilogram, 4, units.ToNearestEven).String()
		lb := m.RoundIn(units.Pound, 4, units.ToNearestEven).String()
		if kg != e.kg || lb != e.lb {
			t.Errorf("%s of %s at %s: %s, %s; want %s, %s", e.volume, e.fuel, e.at, kg, lb, e.kg, e.lb)
		}
	}
}

// Density at 60 °F by 999.016·141.5/(°API + 131.5), a gallon's mass by 231 in³, and what a scale in air of 1.2 kg/m³
// shows of it, each worked out here in fractions. Sources: api-11-1, nist-hb44-c, 24-fr-5348, oiml-d28.
func TestGravities(t *testing.T) {
	r := func(text string) *big.Rat {
		x, _ := new(big.Rat).SetString(text)
		return x
	}
	gallon := new(big.Rat).Mul(r("231"), r("0.000016387064"))
	for _, api := range []string{"10", "30", "33", "35", "37", "40", "42"} {
		f := fuel(t, api+" °API at 60 °F")
		if got := must(f.APIGravity(6)); !got.Equal(number(api)) {
			t.Errorf("%s °API comes back as %s", api, got)
		}
		rd := new(big.Rat).Quo(r("141.5"), new(big.Rat).Add(r(api), r("131.5")))
		if got := must(f.RelativeDensity(5)).StringFixed(5); got != rd.FloatString(5) {
			t.Errorf("%s °API: relative density %s, want %s", api, got, rd.FloatString(5))
		}
		density := new(big.Rat).Mul(rd, r("999.016"))
		pounds := new(big.Rat).Quo(new(big.Rat).Mul(density, gallon), r("0.45359237"))
		lift := new(big.Rat).Quo(new(big.Rat).Sub(density, r("1.2")), density)
		shown := new(big.Rat).Quo(new(big.Rat).Mul(pounds, lift), new(big.Rat).Sub(r("1"), r("0.00015")))
		rho := must(f.DensityAt(sixty))
		m := must(f.Mass(units.USGallon.Of(1), sixty))
		inAir := must(ScaleReading(m, rho))
		for _, e := range [][2]string{
			{rho.Round(2, units.ToNearestEven).Magnitude().StringFixed(2), density.FloatString(2)},
			{m.RoundIn(units.Pound, 4, units.ToNearestEven).Magnitude().StringFixed(4), pounds.FloatString(4)},
			{inAir.RoundIn(units.Pound, 4, units.ToNearestEven).Magnitude().StringFixed(4), shown.FloatString(4)},
		} {
			if e[0] != e[1] {
				t.Errorf("%s °API: %s, want %s", api, e[0], e[1])
			}
		}
	}
}

// 849.3134524 is 999.016 × 0.85015, by definition (Source: api-11-1): a density given at 60 °F passes through nothing
// that would lose the tie, which goes to the even digit.
func TestGravityOfADensityGivenAt60F(t *testing.T) {
	f := fuel(t, "849.3134524 kg/m³ at 60 °F")
	if got := must(f.RelativeDensity(4)).String(); got != "0.8502" {
		t.Errorf("relative density %s, want 0.8502", got)
	}
}

// Groups of products meet at 37.125, 48.001 and 52.002 °API, which are rounded: a little to either side the group is
// the one the standard names. Source: api-11-1.
func TestGroupEdges(t *testing.T) {
	for _, e := range []struct {
		rho  string
		want group
	}{
		{"1163.5", fuelOil}, {"838.3127", fuelOil}, {"838.3126", jetFuel}, {"787.5195", jetFuel},
		{"787.5194", transition}, {"770.3520", transition}, {"770.3519", gasoline}, {"610.6", gasoline},
	} {
		if got := fuel(t, e.rho+" kg/m³ at 60 °F").group; got != e.want {
			t.Errorf("%s at 60 °F: %v, want %v", e.rho, got, e.want)
		}
	}
	// 838.3127 counts at 60 °F; at 15 °C the edge stands higher.
	if got := fuel(t, "838.4 kg/m³ at 15 °C").group; got != jetFuel {
		t.Errorf("838.4 at 15 °C: %v, want %v", got, jetFuel)
	}
}

// Between the densities to which two groups take their common edge, either both answer or neither:
// the heavier is taken, and the density at 60 °F is the edge to 1e-4 kg/m³. At 15 °C it is an overlap
// at 787.5195 and a gap at 770.352.
func TestBetweenGroups(t *testing.T) {
	midway := func(g group, at units.Temperature) (rho fixed, gap bool) {
		edge := groups[g].from
		heavy, _ := groups[g].ctl(edge, tStar(at))
		light, _ := groups[g-1].ctl(edge, tStar(at))
		return edge.mul(heavy.add(light)).mul(half), heavy.cmp(light) > 0
	}
	for _, g := range []group{fuelOil, jetFuel, transition} {
		for _, text := range []string{"-50 °C", "15 °C", "20 °C", "80 °C", "150 °C"} {
			at := temperature(text)
			rho, gap := midway(g, at)
			if text == "15 °C" && (g == jetFuel && gap || g == transition && !gap) {
				t.Errorf("%v at 15 °C: gap is %v", g, gap)
			}
			rho60, got := solve(rho, tStar(at))
			if got != g {
				t.Errorf("between %v and %v at %s: %v", g-1, g, text, got)
			}
			if off := rho60.sub(groups[g].from); !off.within(fixedText("0.0001")) {
				t.Errorf("between %v and %v at %s: %s off the edge", g-1, g, text, off.rat().FloatString(9))
			}
		}
	}
}
