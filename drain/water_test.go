package drain

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/snugturn/units"
)

// byPattersonMorris is the equation from which the density comes that is taken for relative ones. Source: water-patterson.
var (
	morris            = exacts("1", "-7.0134e-8", "-7.926504e-6", "7.575677e-8", "-7.314894e-10", "3.596458e-12")
	morris0           = exacts("3.9818", "999.97358")
	byPattersonMorris = &waterEquation{"Patterson and Morris 1994", 1, 40, func(t *big.Rat) *big.Rat {
		return product(morris0[1], series(new(big.Rat).Sub(t, morris0[0]), morris))
	}}
)

// A table of water's density as handbooks print it, on another scale of temperature and of water with another share
// of heavy isotopes: within 3 g/m³ where it has four places, and to its one place above. Source: water-table.
func TestWaterDensity(t *testing.T) {
	for at, want := range map[string]string{"4": "999.9720", "10": "999.7026", "15": "999.1026", "20": "998.2071", "22": "997.7735", "25": "997.0479",
		"30": "995.6502", "40": "992.2", "60": "983.2", "80": "971.8", "100": "958.4"} {
		got := must(WaterDensityAt(temperature(at + " °C")))
		if _, places, _ := strings.Cut(want, "."); len(places) == 1 {
			if got := got.RoundIn(units.KilogramPerCubicMetre, 1, units.ToNearestEven).String(); got != want+" kg/m³" {
				t.Errorf("at %s °C: %s, want %s", at, got, want)
			}
			continue
		}
		if off, _ := got.Sub(density(want + " kg/m³")); !off.Abs().Less(density("0.0031 kg/m³")) {
			t.Errorf("at %s °C: %s, want %s", at, got, want)
		}
	}
}

// An equation of other authors, on today's scale of temperature, good to 0.006 kg/m³, against both of ours. At 40 °C the
// one takes over from the other, and above it the warm equation still is on the scale of its time, 0.026 °C lower at the
// boiling point: 0.02 kg/m³. Sources: water-spieweck, water-tanaka, water-kell.
func TestWaterByOtherAuthors(t *testing.T) {
	for c := int64(0); c <= 100; c++ {
		x := float64(c)
		want := (999.83952 + x*(16.952577+x*(-7.9905127e-3+x*(-46.241757e-6+x*(105.84601e-9-281.03006e-12*x))))) / (1 + 16.887236e-3*x)
		within := 0.006
		if c > 40 {
			within = 0.02
		}
		if got := must(WaterDensityAt(units.Celsius.Of(c))).Magnitude().InexactFloat64(); math.Abs(got-want) > within {
			t.Errorf("at %d °C: %v, and %v by others", c, got, want)
		}
	}
}

// The density that is taken for relative ones is by one of the equations; the others are within their uncertainty of it.
// Sources: api-11-1, water-patterson, water-tanaka, water-kell.
func TestWaterAt60F(t *testing.T) {
	if got := must(byPattersonMorris.densityAt(sixty)).RoundIn(units.KilogramPerCubicMetre, 3, units.ToNearestEven).String(); got != "999.016 kg/m³" {
		t.Errorf("%s", got)
	}
	for _, e := range []*waterEquation{byTanaka, byKell} {
		if off, _ := must(e.densityAt(sixty)).Sub(density("999.016 kg/m³")); !off.Abs().Less(density("0.003 kg/m³")) {
			t.Errorf("%s is off by %s", e.name, off)
		}
	}
}

func TestWaterMass(t *testing.T) {
	// where one equation takes over from the other the step is no more than the comment says
	cold, warm := must(byTanaka.densityAt(temperature("40 °C"))), must(byKell.densityAt(temperature("40 °C")))
	if step, _ := warm.Sub(cold); step.Sign() < 0 || !step.Less(density("0.00065 kg/m³")) {
		t.Errorf("a step of %s at 40 °C", step)
	}
	if got := must(WaterDensityAt(temperature("40 °C"))); !got.Equal(cold) {
		t.Errorf("at 40 °C %s, want Tanaka's %s", got, cold) // Source: water-tanaka.
	}
	one := must(Exactly(units.Litre.Of(1), Measured))
	if got, want := must(WaterMass(one, temperature("20 °C"))).Best.Round(6, units.ToNearestEven).String(), "0.998207 kg"; got != want {
		t.Errorf("a litre of water: %s, want %s", got, want)
	}
	if got, want := must(WaterMass(litresOf("1", "2", "3"), temperature("20 °C"))).RoundIn(units.Kilogram, 3).String(), "1.996 kg (0.998 kg to 2.995 kg, measured)"; got != want {
		t.Errorf("one to three litres of water: %s, want %s", got, want)
	}
}

// Each equation holds from the coldest to the warmest temperature it is published for, and no further.
// Sources: water-tanaka, water-patterson, water-kell.
func TestWaterEquationsKeepToTheirRange(t *testing.T) {
	for _, e := range []struct {
		equation      *waterEquation
		coldest, warm string
	}{{byTanaka, "0", "40"}, {byPattersonMorris, "1", "40"}, {byKell, "0", "100"}} {
		for _, ends := range []struct {
			at   string
			want error
		}{{e.coldest, nil}, {e.warm, nil}, {e.warm + ".001", ErrTemperature}} {
			if _, err := e.equation.densityAt(temperature(ends.at + " °C")); !errors.Is(err, ends.want) {
				t.Errorf("%v at %s °C: %v, want %v", e.equation.name, ends.at, err, ends.want)
			}
		}
	}
}

// Sources: water-tanaka, water-patterson.
func TestWaterRefusals(t *testing.T) {
	one := litresOf("1", "1", "1")
	bowl := Cylinder{length("10 cm"), length("10 cm")}
	for name, e := range map[string]struct{ err, want error }{
		"ice":                    {second(WaterDensityAt(temperature("-0.1 °C"))), ErrTemperature},
		"steam":                  {second(WaterDensityAt(temperature("100.1 °C"))), ErrTemperature},
		"beyond Tanaka":          {second(byTanaka.densityAt(temperature("40.1 °C"))), ErrTemperature},
		"below Patterson-Morris": {second(byPattersonMorris.densityAt(temperature("0.9 °C"))), ErrTemperature},
		"stray scale":            {second(byKell.densityAt(units.TemperatureScale(9).Of(20))), ErrMissing},
		"mass of ice":            {second(WaterMass(one, temperature("-1 °C"))), ErrTemperature},
		"mass of nothing":        {second(WaterMass(volumes{}, temperature("1 °C"))), ErrMissing},
		"negative water":         {second(WaterMass(litresOf("-1", "1", "1"), temperature("1 °C"))), ErrNegative},
		"no service":             {second(NewWaterTrend(nil, units.Litre.Of(1))), ErrMissing},
		"no threshold":           {second(NewWaterTrend([]volumes{one}, units.Litre.Of(0))), ErrMissing},
		"a service not given":    {second(NewWaterTrend([]volumes{{}}, units.Litre.Of(1))), ErrMissing},
		"water above the fuel":   {third(Layers(bowl, length("6 cm"), length("5 cm"))), ErrOrder},
		"no vessel":              {third(Layers(nil, length("1 cm"), length("5 cm"))), ErrMissing},
		"surface above the rim":  {third(Layers(bowl, length("6 cm"), length("11 cm"))), units.ErrRange},
		"interface not given":    {third(Layers(bowl, lengths{}, length("5 cm"))), ErrMissing},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

func third[T, U any](_ T, _ U, err error) error { return err }

// 20 cm across: each centimetre is π/10 L.
func TestLayers(t *testing.T) {
	bowl := Cylinder{length("20 cm"), length("10 cm")}
	water, fuel, err := Layers(bowl, length("1 cm"), length("6 cm"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []struct{ got, want string }{
		{water.Best.Round(6, units.ToNearestEven).String(), "0.314159 L"},
		{fuel.Best.Round(6, units.ToNearestEven).String(), "1.570796 L"},
	} {
		if e.got != e.want {
			t.Errorf("%s, want %s", e.got, e.want)
		}
	}
}

// Water up to the surface is water alone.
func TestLayersWithoutFuel(t *testing.T) {
	water, fuel, err := Layers(Cylinder{length("20 cm"), length("10 cm")}, length("6 cm"), length("6 cm"))
	if err != nil || fuel.Best.Sign() != 0 || water.Best.Round(6, units.ToNearestEven).String() != "1.884956 L" {
		t.Errorf("%s of water, %s of fuel, %v", water, fuel, err)
	}
}

func TestNewWaterTrend(t *testing.T) {
	limit := volume("0.2 L")
	a, b, c := litresOf("0.04", "0.05", "0.06"), litresOf("0.07", "0.08", "0.09"), litresOf("0.15", "0.18", "0.21")
	d := litresOf("0.25", "0.26", "0.27")
	for _, e := range []struct {
		name         string
		services     []volumes
		over, rising Answer
	}{
		{"one", []volumes{a}, No, Undecided},
		{"two", []volumes{a, b}, No, Undecided},
		{"three, rising", []volumes{a, b, c}, Undecided, Yes},
		{"over", []volumes{a, b, d}, Yes, Yes},
		{"falling", []volumes{c, b, a}, No, No},
		{"up, then down", []volumes{a, c, b}, No, No},
		{"down, then up", []volumes{b, a, c}, Undecided, No},
		{"perhaps up, then down", []volumes{b, b, a}, No, No},
		{"down, then perhaps up", []volumes{b, a, a}, No, No},
		{"up, then perhaps up", []volumes{a, c, c}, Undecided, Undecided},
		{"the same again", []volumes{a, b, b}, No, Undecided}, // within what was measured it may have risen
		{"only the last three count", []volumes{d, a, b, c}, Undecided, Yes},
		{"just the threshold", []volumes{litresOf("0.2", "0.2", "0.2")}, No, Undecided},
	} {
		got, err := NewWaterTrend(e.services, limit)
		if err != nil || got.Over != e.over || got.Rising != e.rising {
			t.Errorf("%s: over %v, rising %v, %v; want %v, %v", e.name, got.Over, got.Rising, err, e.over, e.rising)
		}
	}
}

// A constant with a letter in it stops the program before it computes anything.
func TestConstantsAreNumbers(t *testing.T) {
	assert.Panics(t, func() { exact("1.2.3") })
	assert.Panics(t, func() { fixedText("61O.6") })
}
