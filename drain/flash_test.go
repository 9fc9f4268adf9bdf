package drain

import (
	"errors"
	"testing"

	"example.com/snugturn/units"
)

// The least flash point of No. 2-D is 52 °C, or 125 °F as Maryland's rule rounds it. Source: maryland-d975.
func TestFlashGuard(t *testing.T) {
	margin := units.CelsiusDifference.Of(10)
	for _, e := range []struct {
		flash, caught string
		want          Guard
		line          string
	}{
		{"52 °C", "41.9 °C", FlashClear, "clear: caught at 41.9 °C, 10.1 °C below the least flash point of 52 °C"},
		{"52 °C", "42 °C", FlashCaution, "caution: caught at 42 °C, 10 °C below the least flash point of 52 °C"},
		{"52 °C", "51.99 °C", FlashCaution, "caution: caught at 51.99 °C, 0.01 °C below the least flash point of 52 °C"},
		{"52 °C", "52 °C", FlashStop, "stop: caught at 52 °C, at the least flash point"},
		{"52 °C", "60 °C", FlashStop, "stop: caught at 60 °C, 8 °C above the least flash point of 52 °C"},
		{"125 °F", "107 °F", FlashCaution, "caution: caught at 107 °F, 18 °F below the least flash point of 125 °F"}, // 18 °F are 10 °C
		{"125 °F", "106.9 °F", FlashClear, "clear: caught at 106.9 °F, 18.1 °F below the least flash point of 125 °F"},
	} {
		got, err := FlashGuard(temperature(e.flash), temperature(e.caught), margin)
		if err != nil || got.Guard != e.want || got.String() != e.line {
			t.Errorf("%q, %v; want %q", got, err, e.line)
		}
	}
	for name, e := range map[string]struct{ err, want error }{
		"no margin":       {second(FlashGuard(temperature("52 °C"), temperature("40 °C"), units.TemperatureDifference{})), ErrMissing},
		"negative margin": {second(FlashGuard(temperature("52 °C"), temperature("40 °C"), margin.Neg())), ErrNegative},
		"not caught":      {second(FlashGuard(temperature("52 °C"), units.Temperature{}, margin)), ErrMissing},
		"no flash point":  {second(FlashGuard(units.Temperature{}, temperature("40 °C"), margin)), ErrMissing},
		"stray scale":     {second(FlashGuard(units.TemperatureScale(9).Of(52), temperature("40 °C"), margin)), ErrMissing},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

// Sources: maryland-d975, en-590.
func TestGrades(t *testing.T) {
	want := map[string]string{"No. 1-D": "38 °C", "No. 2-D": "52 °C", "No. 2-D, Maryland November to April": "43 °C", "EN 590": "55 °C"}
	grades := Grades()
	if len(grades) != len(want) {
		t.Fatalf("%d grades, want %d", len(grades), len(want))
	}
	for _, g := range grades {
		if g.LeastFlash.String() != want[g.Name] || g.Source == "" || g.AsOf == "" {
			t.Errorf("%+v, want %s", g, want[g.Name])
		}
	}
}
