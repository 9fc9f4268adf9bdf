package torque

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/units"
)

// The tools are invented. 220 to 310 in-lb: common practice, no source.
func TestChoose(t *testing.T) {
	day := func(text string) time.Time {
		d, err := time.Parse(time.DateOnly, text)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	small, fine := shopWrench(), shopWrench()
	small.Lowest, small.Highest = units.NewtonMetre.Of(2), units.NewtonMetre.Of(20)
	fine.Deviation = percent("2")
	named := func(name string, w Wrench, until time.Time) Wrench {
		w.Name, w.CalibratedUntil = name, until
		return w
	}
	wrenches := []Wrench{
		named("small", small, day("2027-01-01")),
		named("plain", shopWrench(), day("2027-01-01")),
		named("fine, late", fine, day("2026-05-03")),
		named("unknown", fine, time.Time{}),
		named("fine", fine, day("2026-05-04")),
		named("fine too", fine, day("2027-01-01")),
	}
	b := MustParseBand("220 to 310 in-lb")
	best, choices := Choose(wrenches, b, Adapter{}, day("2026-05-04").Add(17*time.Hour))
	if best != 4 || len(choices) != len(wrenches) {
		t.Fatalf("%d of %d", best, len(choices))
	}
	for i, want := range []error{ErrOutOfScale, nil, ErrCalibration, ErrCalibration, nil, nil} {
		if !errors.Is(choices[i].Err, want) || choices[i].Wrench.Name != wrenches[i].Name {
			t.Errorf("%s: %v, want %v", wrenches[i].Name, choices[i].Err, want)
		}
	}
	if text := choices[2].Err.Error(); !strings.Contains(text, "until 2026-05-03, the job is on 2026-05-04") {
		t.Error(text)
	}
	// Margins count as torques, whatever unit a scale is in: ±2 % of some 266 in-lb is less than ±4 % of 30 N·m.
	inches := Wrench{Lowest: units.InchPound.Of(50), Highest: units.InchPound.Of(500), Step: units.InchPound.Of(1), Deviation: percent("2"), Length: units.Inch.Of(14)}
	mixed := []Wrench{named("in N·m", shopWrench(), day("2027-01-01")), named("in in-lb", inches, day("2027-01-01"))}
	for _, order := range [][]Wrench{{mixed[0], mixed[1]}, {mixed[1], mixed[0]}} {
		best, choices := Choose(order, MustParseBand("27 to 33 N·m"), Adapter{}, day("2026-05-04"))
		nearest, _ := ChooseNearest(order, units.NewtonMetre.Of(30), Adapter{}, day("2026-05-04"))
		if best < 0 || choices[best].Wrench.Name != "in in-lb" || nearest != best {
			t.Errorf("%s first: %d and %d", order[0].Name, best, nearest)
		}
	}
	// Zero is nearer to 4 N·m than 10 N·m, but nothing clicks there.
	coarse := named("coarse", Wrench{Lowest: units.NewtonMetre.Of(0), Highest: units.NewtonMetre.Of(50), Step: units.NewtonMetre.Of(10), Deviation: percent("4")}, day("2027-01-01"))
	if _, choices := ChooseNearest([]Wrench{coarse}, units.NewtonMetre.Of(4), Adapter{}, day("2026-05-04")); choices[0].Setting.Dial.String() != "10 N·m" {
		t.Error(choices[0].Setting.Dial, choices[0].Err)
	}
	if best, _ := Choose(wrenches[:1], b, Adapter{}, day("2026-05-04")); best != -1 {
		t.Error(best)
	}
	if best, choices := Choose(nil, b, Adapter{}, day("2026-05-04")); best != -1 || len(choices) != 0 {
		t.Error(best)
	}
}
