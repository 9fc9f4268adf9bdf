package drain

import (
	"strings"
	"testing"

	"example.com/snugturn/units"
)

// Computed (D) by another program from the same equations and constants, those of API MPMS 11.1-2004.
// They hold the arithmetic at many densities and temperatures; a constant that is wrong in both shows
// only in the standard's own examples, in fuel_test.go (S).

func TestFactorsToFifteenDegrees(t *testing.T) {
	temperatures := strings.Fields("-20 -10 0 10 20 25 30 40 50 55 60 80")
	rows := map[string]string{
		"820": "1.03065 1.02196 1.01321 1.00442 0.99557 0.99113 0.98668 0.97774 0.96877 0.96427 0.95975 0.94162",
		"832": "1.02978 1.02134 1.01284 1.00429 0.99570 0.99139 0.98706 0.97839 0.96967 0.96530 0.96092 0.94332",
		"835": "1.02957 1.02118 1.01275 1.00426 0.99573 0.99145 0.98716 0.97854 0.96989 0.96555 0.96120 0.94373",
		"840": "1.02926 1.02096 1.01261 1.00421 0.99578 0.99154 0.98729 0.97878 0.97022 0.96593 0.96163 0.94435",
		"845": "1.02903 1.02079 1.01251 1.00418 0.99581 0.99161 0.98739 0.97894 0.97045 0.96619 0.96193 0.94478",
		"860": "1.02838 1.02032 1.01223 1.00409 0.99590 0.99180 0.98768 0.97942 0.97113 0.96697 0.96280 0.94606",
	}
	checkFactors(t, rows, " kg/m³ at 15 °C", temperatures, " °C", "15 °C")
}

func TestFactorsToSixtyDegreesFahrenheit(t *testing.T) {
	temperatures := strings.Fields("0 32 50 70 77 90 100 131 140 180")
	rows := map[string]string{
		"30": "1.02643 1.01239 1.00444 0.99555 0.99243 0.98662 0.98214 0.96818 0.96411 0.94593",
		"35": "1.02750 1.01289 1.00462 0.99537 0.99212 0.98607 0.98141 0.96687 0.96263 0.94370",
		"37": "1.02793 1.01310 1.00469 0.99530 0.99200 0.98585 0.98111 0.96634 0.96204 0.94280",
		"38": "1.02824 1.01325 1.00474 0.99524 0.99191 0.98569 0.98090 0.96596 0.96160 0.94214",
		"40": "1.02891 1.01356 1.00486 0.99513 0.99171 0.98535 0.98044 0.96514 0.96068 0.94075",
	}
	checkFactors(t, rows, " °API at 60 °F", temperatures, " °F", "60 °F")
}

func checkFactors(t *testing.T, rows map[string]string, given string, temperatures []string, scale, base string) {
	t.Helper()
	for row, want := range rows {
		f := fuel(t, row+given)
		for i, want := range strings.Fields(want) {
			at := VolumeAt{temperature(temperatures[i] + scale), temperature(base)}
			if got := must(f.volumeFactor(at, 5)).StringFixed(5); got != want {
				t.Errorf("%s from %s: %s, want %s", row, at.Temperature, got, want)
			}
		}
	}
}

func TestDensities(t *testing.T) {
	for _, e := range []struct {
		fuel, at, want string
		places         int
	}{
		{"840 kg/m³ at 15 °C", "-20 °C", "864.57 kg/m³", 2},
		{"840 kg/m³ at 15 °C", "0 °C", "850.59 kg/m³", 2},
		{"840 kg/m³ at 15 °C", "20 °C", "836.45 kg/m³", 2},
		{"840 kg/m³ at 15 °C", "25 °C", "832.89 kg/m³", 2},
		{"840 kg/m³ at 15 °C", "40 °C", "822.17 kg/m³", 2},
		{"840 kg/m³ at 15 °C", "60 °C", "807.77 kg/m³", 2},
		{"840 kg/m³ at 15 °C", "80 °C", "793.25 kg/m³", 2},
		{"820 kg/m³ at 15 °C", "60 °F", "819.5970 kg/m³", 4}, // 15 °C is not 60 °F
		{"832 kg/m³ at 15 °C", "60 °F", "831.6028 kg/m³", 4},
		{"840 kg/m³ at 15 °C", "60 °F", "839.6061 kg/m³", 4},
		{"845 kg/m³ at 15 °C", "60 °F", "844.6069 kg/m³", 4},
		{"850 kg/m³ at 15 °C", "60 °F", "849.6076 kg/m³", 4},
		{"860 kg/m³ at 15 °C", "60 °F", "859.6090 kg/m³", 4},
		{"832 kg/m³ at 15 °C", "40 °C", "814.017 kg/m³", 3},
		{"845 kg/m³ at 15 °C", "-10 °C", "862.572 kg/m³", 3},
		{"835 kg/m³ at 15 °C", "80 °C", "788.014 kg/m³", 3},
		{"865.6 kg/m³ at 15 °C", "15 °C", "865.600000 kg/m³", 6},
		{"19.4 °API at 60 °F", "48.04 °F", "941.3353501926 kg/m³", 10}, // API MPMS 11.1-2004, example 6.1-3 (S)
	} {
		got := must(fuel(t, e.fuel).DensityAt(temperature(e.at))).RoundIn(units.KilogramPerCubicMetre, e.places, units.ToNearestEven)
		if got.String() != e.want {
			t.Errorf("%s: at %s %s, want %s", e.fuel, e.at, got, e.want)
		}
	}
}

// Masses (D): the volume is at the temperature at which it was measured.
func TestMasses(t *testing.T) {
	for _, e := range []struct{ fuel, volume, at, kg, lb string }{
		{"840 kg/m³ at 15 °C", "1.5 L", "25 °C", "1.2493 kg", "2.7543 lb"},
		{"840 kg/m³ at 15 °C", "1.5 L", "60 °C", "1.2116 kg", "2.6712 lb"},
		{"832 kg/m³ at 15 °C", "2.0 L", "40 °C", "1.6280 kg", "3.5892 lb"},
		{"845 kg/m³ at 15 °C", "0.7 L", "-10 °C", "0.6038 kg", "1.3312 lb"},
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

// API gravities (D): density at 60 °F, and a gallon's mass and reading in air.
func TestGravities(t *testing.T) {
	for _, e := range []struct{ api, rd, rho, gallon, inAir string }{
		{"10", "1.00000", "999.02", "8.3372", "8.3284"},
		{"30", "0.87616", "875.30", "7.3047", "7.2958"},
		{"33", "0.86018", "859.34", "7.1715", "7.1626"},
		{"35", "0.84985", "849.01", "7.0854", "7.0764"},
		{"37", "0.83976", "838.94", "7.0013", "6.9923"},
		{"40", "0.82507", "824.26", "6.8788", "6.8698"},
		{"42", "0.81556", "814.76", "6.7995", "6.7905"},
	} {
		f := fuel(t, e.api+" °API at 60 °F")
		if got := must(f.APIGravity(6)); !got.Equal(number(e.api)) {
			t.Errorf("%s °API comes back as %s", e.api, got)
		}
		if got := must(f.RelativeDensity(5)).StringFixed(5); got != e.rd {
			t.Errorf("%s °API: relative density %s, want %s", e.api, got, e.rd)
		}
		rho := must(f.DensityAt(sixty))
		m := must(f.Mass(units.USGallon.Of(1), sixty))
		shown := must(ScaleReading(m, rho))
		got := []string{
			rho.Round(2, units.ToNearestEven).Magnitude().StringFixed(2),
			m.RoundIn(units.Pound, 4, units.ToNearestEven).Magnitude().StringFixed(4),
			shown.RoundIn(units.Pound, 4, units.ToNearestEven).Magnitude().StringFixed(4),
		}
		for i, want := range []string{e.rho, e.gallon, e.inAir} {
			if got[i] != want {
				t.Errorf("%s °API: %s, want %s", e.api, got[i], want)
			}
		}
	}
}

// 849.3134524 is 999.016 × 0.85015 (by definition): a density given at 60 °F passes through nothing
// that would lose the tie, which goes to the even digit.
func TestGravityOfADensityGivenAt60F(t *testing.T) {
	f := fuel(t, "849.3134524 kg/m³ at 60 °F")
	if got := must(f.RelativeDensity(4)).String(); got != "0.8502" {
		t.Errorf("relative density %s, want 0.8502", got)
	}
}

// Groups of products meet at 37.125, 48.001 and 52.002 °API (S, rounded there): a little to either
// side the group is the one the standard names.
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
