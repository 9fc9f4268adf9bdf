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
		rho, err = APIGravity(number(api))
	} else if relative, ok := strings.CutSuffix(text, " RD"); ok {
		rho, err = RelativeDensity(number(relative))
	} else {
		rho, err = units.ParseDensity(text)
	}
	if err != nil {
		t.Fatal(err)
	}
	return rho
}

// workedExamples are those for refined products of API MPMS 11.1-2004, 11.1.6.1 to 11.1.7.3
// (grade S), at no pressure: CTL to twelve places.
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

func TestEdgesOfTheTables(t *testing.T) {
	refused := []struct {
		fuel string
		want error
	}{
		{"840 kg/m³ at -58.05 °F", ErrTemperature}, // the standard's own must-reject cases (S)
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
	if _, err := FuelAt(must(APIGravity(number("-10.08"))), sixty); !errors.Is(err, ErrDensity) {
		t.Errorf("-10.08 °API: %v", err)
	}
}

// reference/fuel-and-waste.md §8 and bench-practice: 1.5 L at 60 °C of 840 kg/m³ at 15 °C (D).
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
