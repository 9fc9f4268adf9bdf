package drain

import (
	"cmp"
	"errors"
	"math/big"
	"strings"
	"testing"

	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

func density(text string) units.Density         { return units.MustParseDensity(text) }
func temperature(text string) units.Temperature { return units.MustParseTemperature(text) }
func volume(text string) units.Volume           { return units.MustParseVolume(text) }
func mass(text string) units.Mass               { return units.MustParseMass(text) }
func number(text string) decimal.Decimal        { return decimal.RequireFromString(text) }

func must[T any](value T, err error) T {
	if err != nil {
		panic(err)
	}
	return value
}

// fuel reads "840 kg/m³ at 15 °C"; the density may also be "19.4 °API" or "0.7943 RD".
func fuel(t *testing.T, text string) Fuel {
	t.Helper()
	d, at, _ := strings.Cut(text, " at ")
	f, err := FuelAt(fuelDensity(t, d), temperature(at))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func fuelDensity(t *testing.T, text string) (rho units.Density) {
	t.Helper()
	var err error
	if api, ok := strings.CutSuffix(text, " °API"); ok {
		rho, err = densityOfAPIGravity(number(api), 60, units.ToNearestEven)
	} else if relative, ok := strings.CutSuffix(text, " RD"); ok {
		rho, err = densityOfRelative(number(relative), 60, units.ToNearestEven)
	} else {
		rho, err = units.ParseDensity(text)
	}
	if err != nil {
		t.Fatal(err)
	}
	return rho
}

// workedExamples are those for refined products at no pressure: CTL to twelve places. Source: api-11-1.
var workedExamples = []struct{ name, fuel, at, base, ctl string }{
	{"6.1-3", "19.4 °API at 60 °F", "48.04 °F", "60 °F", "1.004858068990"},
	{"6.1-4", "0.7943 RD at 60 °F", "85.0 °F", "60 °F", "0.986832406683"},
	{"6.1-6", "657.3 kg/m³ at 60 °F", "27.3 °F", "60 °F", "1.026475833518"},
	{"6.2-3", "868.722680008428 kg/m³ at 60 °F", "68.0 °F", "60 °F", "0.996406814700"},
	{"6.2-5", "787.507922593917 kg/m³ at 60 °F", "25.3 °F", "60 °F", "1.018381017381"},
	{"6.3-3", "868.730481427765 kg/m³ at 60 °F", "150.3 °F", "60 °F", "0.959034901244"},
	{"6.3-4", "820.686533964218 kg/m³ at 60 °F", "-58 °F", "60 °F", "1.056751557035"},
	{"7.1-3", "865.6 kg/m³ at 15 °C", "87.32 °C", "15 °C", "0.940416747194"},
	{"7.1-5", "772.3 kg/m³ at 20 °C", "-36 °C", "20 °C", "1.060143267269"},
	{"7.2-4", "868.425929024799 kg/m³ at 15 °C", "20 °C", "15 °C", "0.995955841168"},
	{"7.3-4", "821.056637883991 kg/m³ at 15 °C", "102.35 °C", "15 °C", "0.921427460327"},
	{"7.3-5", "784.134681415189 kg/m³ at 20 °C", "45.95 °C", "20 °C", "0.974768180331"},
}

// tolerance where the printed digits carry the standard's stopping rule: see oracle_test.go.
var tolerance = map[string]string{"7.1-5": "2e-11"}

func TestVolumeFactorOfWorkedExamples(t *testing.T) {
	for _, e := range workedExamples {
		got, err := fuel(t, e.fuel).VolumeFactor(VolumeAt{temperature(e.at), temperature(e.base)})
		if err != nil {
			t.Errorf("%s: %v", e.name, err)
		} else if off := got.Sub(number(e.ctl)).Abs(); off.GreaterThan(number(cmp.Or(tolerance[e.name], "5e-13"))) {
			t.Errorf("%s: CTL %s, want %s", e.name, got, e.ctl)
		}
	}
}

// What a zero Fuel, a negative volume and a density of air come to.
func TestFuelRefusals(t *testing.T) {
	f, at, one := fuel(t, "840 kg/m³ at 15 °C"), temperature("20 °C"), units.Litre.Of(1)
	hot, stray := temperature("150.01 °C"), units.TemperatureScale(9).Of(20)
	for name, e := range map[string]struct{ err, want error }{
		"stray scale":           {second(FuelAt(density("840 kg/m³"), stray)), ErrMissing},
		"stray unit":            {second(FuelAt(units.DensityUnit(99).Of(840), at)), ErrMissing},
		"the largest density":   {second(FuelAt(density("999999999999999999999999 kg/m³"), at)), ErrDensity},
		"zero Fuel, density":    {second(Fuel{}.DensityAt(at)), ErrMissing},
		"zero Fuel, factor":     {second(Fuel{}.VolumeFactor(VolumeAt{at, at})), ErrMissing},
		"zero Fuel, mass":       {second(Fuel{}.Mass(one, at)), ErrMissing},
		"zero Fuel, gravity":    {second(Fuel{}.APIGravity(1)), ErrMissing},
		"zero Fuel, relative":   {second(Fuel{}.RelativeDensity(1)), ErrMissing},
		"too hot":               {second(f.DensityAt(hot)), ErrTemperature},
		"too hot, factor":       {second(f.VolumeFactor(VolumeAt{hot, at})), ErrTemperature},
		"base too hot":          {second(f.volumeFactor(VolumeAt{at, hot}, 5)), ErrTemperature},
		"too hot, volume":       {second(f.Volume(one, VolumeAt{at, hot})), ErrTemperature},
		"too hot, mass":         {second(f.Mass(one, hot)), ErrTemperature},
		"stray, mass":           {second(f.Mass(one, stray)), ErrMissing},
		"negative volume":       {second(f.Volume(one.Neg(), VolumeAt{at, at})), ErrNegative},
		"negative mass":         {second(f.Mass(one.Neg(), at)), ErrNegative},
		"stray volume":          {second(f.Mass(units.VolumeUnit(99).Of(1), at)), ErrMissing},
		"estimate not given":    {second(f.MassOf(volumes{}, at)), ErrMissing},
		"negative on the scale": {second(ScaleReading(mass("-1 kg"), density("840 kg/m³"))), ErrNegative},
		"no density":            {second(ScaleReading(mass("1 kg"), units.Density{})), ErrMissing},
		"as light as air":       {second(MassFromScale(mass("1 kg"), density("1.2 kg/m³"))), units.ErrRange},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

func TestEdgesOfTheTables(t *testing.T) {
	refused := []struct {
		fuel string
		want error
	}{
		{"840 kg/m³ at -58.05 °F", ErrTemperature}, // the standard's own must-reject cases, to the fourth. Source: api-11-1.
		{"840 kg/m³ at 302.05 °F", ErrTemperature},
		{"1163.55 kg/m³ at 15 °C", ErrDensity},
		{"840 kg/m³ at -50.1 °C", ErrTemperature},
		{"840 kg/m³ at 150.1 °C", ErrTemperature},
		{"1163.51 kg/m³ at 60 °F", ErrDensity},
		{"610.59 kg/m³ at 60 °F", ErrDensity},
		{"610.6 kg/m³ at 15 °C", ErrDensity}, // 610.05 at 60 °F
		{"0 kg/m³ at 15 °C", ErrMissing},
		{"-840 kg/m³ at 15 °C", ErrNegative},
		{"0.84 kg/m³ at 15 °C", ErrDensity}, // kg/L meant
	}
	for _, e := range refused {
		d, at, _ := strings.Cut(e.fuel, " at ")
		_, err := FuelAt(density(d), temperature(at))
		var input *InputError
		if !errors.Is(err, e.want) || !errors.As(err, &input) {
			t.Errorf("%s: %v, want %v", e.fuel, err, e.want)
		}
	}
	for _, text := range []string{"1163.5 kg/m³ at 60 °F", "610.6 kg/m³ at 60 °F", "840 kg/m³ at -58 °F", "840 kg/m³ at 302 °F"} {
		fuel(t, text)
	}
	if _, err := FuelAt(fuelDensity(t, "-10.08 °API"), sixty); !errors.Is(err, ErrDensity) {
		t.Errorf("-10.08 °API: %v", err)
	}
}

// 1.5 L at 60 °C of 840 kg/m³ at 15 °C, computed: 1.5 times the density that is in factors.tsv; the scale from
// air of 1.2 kg/m³ and weights of 8000 kg/m³. Sources: oracle-fuel, oiml-d28.
func TestMassAndScale(t *testing.T) {
	f := fuel(t, "840 kg/m³ at 15 °C")
	hot := temperature("60 °C")
	m := must(f.Mass(volume("1.5 L"), hot))
	if got := m.RoundIn(units.Kilogram, 4, units.ToNearestEven).String(); got != "1.2116 kg" {
		t.Errorf("mass %s", got)
	}
	shown := must(ScaleReading(m, must(f.DensityAt(hot))))
	if got := shown.RoundIn(units.Kilogram, 4, units.ToNearestEven).String(); got != "1.2100 kg" {
		t.Errorf("scale %s", got)
	}
	v := must(f.Volume(volume("1.5 L"), VolumeAt{hot, temperature("20 °C")}))
	if got := v.RoundIn(units.Litre, 4, units.ToNearestEven).String(); got != "1.4486 L" {
		t.Errorf("volume at 20 °C %s", got)
	}
	back := must(MassFromScale(shown, must(f.DensityAt(hot))))
	if diff := new(big.Rat).Sub(back.RatIn(units.Kilogram), m.RatIn(units.Kilogram)); diff.Abs(diff).Cmp(big.NewRat(2, 1e12)) > 0 {
		t.Errorf("from scale %s, want %s", back, m)
	}
}

// A kilogram of 840 kg/m³ weighed in air of 1.2 kg/m³ against weights of 8000 kg/m³, the conventional
// values (Source: oiml-d28), shows (699/700)/(19997/20000) kg; a kilogram of the weights' own
// density shows itself.
func TestConventionalAirAndWeights(t *testing.T) {
	for rho, want := range map[string]string{"840 kg/m³": "0.998721236757 kg", "8000 kg/m³": "1.000000000000 kg"} {
		if got := must(ScaleReading(mass("1 kg"), density(rho))); got.String() != want {
			t.Errorf("%s: %s, want %s", rho, got, want)
		}
	}
}

// The heaviest density is one of the tables' at 60 °F and at 15 °C, from memory; nothing above it is.
// Source: api-11-1-edge.
func TestHeaviestDensityIsInside(t *testing.T) {
	for _, at := range []string{"60 °F", "15 °C"} {
		for rho, want := range map[string]error{"1163.5 kg/m³": nil, "1163.500001 kg/m³": ErrDensity} {
			if _, err := FuelAt(density(rho), temperature(at)); !errors.Is(err, want) {
				t.Errorf("%s at %s: %v, want %v", rho, at, err, want)
			}
		}
	}
}
