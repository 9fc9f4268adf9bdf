package drain

import (
	"errors"
	"testing"

	"example.com/snugturn/units"
)

func TestWaterDensity(t *testing.T) {
	for _, e := range []struct {
		equation      equation
		at, want      string
		places        int
		whereItIsFrom string
	}{
		// D are the same equations and coefficients again, by another program: they hold the arithmetic.
		// Independent are API's 999.016 and the handbooks' figures.
		{byTanaka, "4 °C", "999.975 kg/m³", 3, "D"}, {byTanaka, "10 °C", "999.703 kg/m³", 3, "D"},
		{byTanaka, "15 °C", "999.103 kg/m³", 3, "D"}, {byTanaka, "20 °C", "998.207 kg/m³", 3, "D"},
		{byTanaka, "25 °C", "997.047 kg/m³", 3, "D"}, {byTanaka, "30 °C", "995.649 kg/m³", 3, "D"},
		{byTanaka, "40 °C", "992.215 kg/m³", 3, "D"},
		{byTanaka, "60 °F", "999.0170 kg/m³", 4, "D"},
		{byPattersonMorris, "60 °F", "999.0161 kg/m³", 4, "D; S: API MPMS 11.1-2004, 11.1.5.1 has 999.016"},
		{byKell, "60 °F", "999.0141 kg/m³", 4, "D"},
		{byKell, "60 °C", "983.2 kg/m³", 1, "M: handbooks' figure"}, {byKell, "80 °C", "971.8 kg/m³", 1, "M: the same"},
		{byKell, "100 °C", "958.36 kg/m³", 2, "M: handbooks' figure at the boiling point"},
	} {
		got := must(e.equation.densityAt(temperature(e.at))).RoundIn(units.KilogramPerCubicMetre, e.places, units.ToNearestEven)
		if got.String() != e.want {
			t.Errorf("%v at %s: %s, want %s (%s)", e.equation, e.at, got, e.want, e.whereItIsFrom)
		}
	}
	// where one equation takes over from the other the step is no more than the comment says
	cold, warm := must(byTanaka.densityAt(temperature("40 °C"))), must(byKell.densityAt(temperature("40 °C")))
	if step, _ := warm.Sub(cold); step.Sign() < 0 || !step.Less(density("0.00065 kg/m³")) {
		t.Errorf("a step of %s at 40 °C", step)
	}
	if got := must(WaterDensityAt(temperature("40 °C"))); !got.Equal(cold) {
		t.Errorf("at 40 °C %s, want Tanaka's %s", got, cold)
	}
	// above it the warm equation holds, to what handbooks print (M)
	for at, want := range map[string]string{"41 °C": "991.8 kg/m³", "50 °C": "988.0 kg/m³", "60 °C": "983.2 kg/m³", "80 °C": "971.8 kg/m³"} {
		if got := must(WaterDensityAt(temperature(at))).RoundIn(units.KilogramPerCubicMetre, 1, units.ToNearestEven).String(); got != want {
			t.Errorf("water at %s: %s, want %s", at, got, want)
		}
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
func TestWaterEquationsKeepToTheirRange(t *testing.T) {
	for _, e := range []struct {
		equation      equation
		coldest, warm string
	}{{byTanaka, "0", "40"}, {byPattersonMorris, "1", "40"}, {byKell, "0", "100"}} {
		for _, ends := range []struct {
			at   string
			want error
		}{{e.coldest, nil}, {e.warm, nil}, {e.warm + ".001", ErrTemperature}} {
			if _, err := e.equation.densityAt(temperature(ends.at + " °C")); !errors.Is(err, ends.want) {
				t.Errorf("%v at %s °C: %v, want %v", e.equation, ends.at, err, ends.want)
			}
		}
	}
}

func TestWaterRefusals(t *testing.T) {
	one := litresOf("1", "1", "1")
	bowl := Cylinder{length("10 cm"), length("10 cm")}
	for name, e := range map[string]struct{ err, want error }{
		"ice":                    {second(WaterDensityAt(temperature("-0.1 °C"))), ErrTemperature},
		"steam":                  {second(WaterDensityAt(temperature("100.1 °C"))), ErrTemperature},
		"beyond Tanaka":          {second(byTanaka.densityAt(temperature("40.1 °C"))), ErrTemperature},
		"below Patterson-Morris": {second(byPattersonMorris.densityAt(temperature("0.9 °C"))), ErrTemperature},
		"no equation":            {second(equation(0).densityAt(temperature("20 °C"))), ErrMissing},
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
