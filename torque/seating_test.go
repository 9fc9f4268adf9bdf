package torque

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/units"
)

func TestWithRunning(t *testing.T) {
	for _, c := range []struct {
		band, running string
		rule          RunningRule
		want          string
		added         bool
		source        string
	}{
		{"50 to 70 in-lb", "30 in-lb", AddFromAThird, "80 to 100 in-lb", true, "TB 43-0218 §7c, its own example (S)"},
		{"50 to 70 in-lb", "16 in-lb", AddFromAThird, "50 to 70 in-lb", false, "the same: below a third of 50"},
		{"51 to 69 in-lb", "23 in-lb", AddFromAThird, "74 to 92 in-lb", true, "the same: a third itself is added"},
		{"50 to 70 in-lb", "5 in-lb", AddAlways, "55 to 75 in-lb", true, "AC 43.13-1B 7-40 (S)"},
		{"6 to 8 N·m", "10 in-lb", AddAlways, "7.129848290276167 to 9.129848290276167 N·m", true, "exact across units (D)"},
	} {
		b, added, err := MustParseBand(c.band).WithRunning(units.MustParseTorque(c.running), c.rule)
		if err != nil || b.String() != c.want || added != c.added {
			t.Errorf("%s + %s: %v %v %v; want %s (%s)", c.band, c.running, b, added, err, c.want, c.source)
		}
	}
	b := MustParseBand("51 to 69 in-lb")
	for _, c := range []struct {
		band    Band
		running units.Torque
		rule    RunningRule
		want    error
	}{
		{b, units.InchPound.Of(17), AddFromAThird, ErrOpen}, // a third of the low limit itself
		{b, units.InchPound.Of(22), AddFromAThird, ErrOpen},
		{b, units.InchPound.Of(22), 0, ErrNoRule},
		{b, units.InchPound.Of(22), 9, ErrNoRule},
		{b, units.InchPound.Of(-1), AddAlways, units.ErrRange},
		{b, units.NewtonMetre.Of(1), AddAlways, units.ErrRange},
		{b, units.TorqueUnit(99).Of(1), AddAlways, units.ErrUnknownUnit},
		{Band{}, units.InchPound.Of(1), AddAlways, ErrNoBand},
	} {
		got, added, err := c.band.WithRunning(c.running, c.rule)
		if !errors.Is(err, c.want) || got.Valid() || added {
			t.Errorf("%v %v: %v, %v", c.running, c.rule, got, err)
		}
	}
}

// Common practice, no source.
func TestJudge(t *testing.T) {
	in, below, above := units.InchPound.Of(170), units.InchPound.Of(90), units.InchPound.Of(191)
	for _, c := range []struct {
		count bool
		t     Tightening
		want  Outcome
		then  Verdict
	}{
		{false, Tightening{Reading: in}, InBand, Pass},
		{false, Tightening{Reading: in, Stopped: Yes, GapClosed: Yes}, InBand, Pass},
		{false, Tightening{Reading: in, GapClosed: No}, NotShownSeated, Undecided},
		{false, Tightening{Reading: below}, NotTight, Undecided},
		{false, Tightening{Reading: below, GapClosed: Yes}, NotTight, Undecided},
		{false, Tightening{Reading: below, GapClosed: No}, NotTight, Undecided}, // it is still being run up
		{false, Tightening{Reading: below, GapClosed: No, Stopped: No}, NotTight, Undecided},
		{false, Tightening{Reading: above, GapClosed: No, Stopped: Yes}, AboveBand, Fail},
		{false, Tightening{Reading: below, Stopped: Yes}, NotShownSeated, Undecided},
		{false, Tightening{Reading: below, Stopped: Yes, GapClosed: No}, NotShownSeated, Undecided},
		{false, Tightening{Reading: below, Stopped: Yes, GapClosed: Yes}, Seated, Pass},
		{true, Tightening{Reading: below, Stopped: Yes, GapClosed: Yes}, NotShownSeated, Undecided},
		{true, Tightening{Reading: below, Stopped: Yes, GapClosed: Yes, TurnsMade: No}, NotShownSeated, Undecided},
		{true, Tightening{Reading: below, Stopped: Yes, GapClosed: Yes, TurnsMade: Yes}, Seated, Pass},
		{false, Tightening{Reading: above, Stopped: Yes, GapClosed: Yes}, AboveBand, Fail},
		{false, Tightening{Reading: in, GapClosed: Yes, PastStop: Yes}, PastStop, Fail},
		{false, Tightening{Reading: in, GapClosed: Yes, PastStop: Yes, Dragged: Yes}, Dragging, Fail},
		{false, Tightening{Reading: in, GapClosed: Yes, Dragged: No}, InBand, Pass},
	} {
		got, err := Seating{MustParseBand("145 to 190 in-lb"), c.count}.Judge(c.t)
		if err != nil || got != c.want || got.Verdict() != c.then || (got.Advice() == "") != (c.then == Pass) {
			t.Errorf("%+v: %v, %v, %v", c.t, got, got.Verdict(), err)
		}
	}
	if _, err := (Seating{}).Judge(Tightening{Reading: in}); !errors.Is(err, ErrNoBand) {
		t.Error(err)
	}
	if _, err := (Seating{Band: MustParseBand("1 to 2 N·m")}).Judge(Tightening{Reading: units.TorqueUnit(99).Of(1)}); !errors.Is(err, units.ErrUnknownUnit) {
		t.Error(err)
	}
	if Outcome(99).String() != "Outcome(99)" || Outcome(99).Verdict() != 0 {
		t.Error("an outcome that is none")
	}
}

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
	fine.DeviationPercent = percent("2")
	tools := []Tool{
		{"small", small, day("2027-01-01")},
		{"plain", shopWrench(), day("2027-01-01")},
		{"fine, late", fine, day("2026-05-03")},
		{"unknown", fine, time.Time{}},
		{"fine", fine, day("2026-05-04")},
		{"fine too", fine, day("2027-01-01")},
	}
	b := MustParseBand("220 to 310 in-lb")
	best, choices := Choose(tools, b, Adapter{}, day("2026-05-04").Add(17*time.Hour))
	if best != 4 || len(choices) != len(tools) {
		t.Fatalf("%d of %d", best, len(choices))
	}
	for i, want := range []error{ErrOutOfScale, nil, ErrCalibration, ErrCalibration, nil, nil} {
		if !errors.Is(choices[i].Err, want) || choices[i].Tool.Name != tools[i].Name {
			t.Errorf("%s: %v, want %v", tools[i].Name, choices[i].Err, want)
		}
	}
	if text := choices[2].Err.Error(); !strings.Contains(text, "until 2026-05-03, the job is on 2026-05-04") {
		t.Error(text)
	}
	// Margins count as torques, whatever unit a scale is in: ±2 % of some 266 in-lb is less than ±4 % of 30 N·m.
	inches := Wrench{Lowest: units.InchPound.Of(50), Highest: units.InchPound.Of(500), Step: units.InchPound.Of(1), DeviationPercent: percent("2"), Length: units.Inch.Of(14)}
	mixed := []Tool{{"in N·m", shopWrench(), day("2027-01-01")}, {"in in-lb", inches, day("2027-01-01")}}
	for _, order := range [][]Tool{{mixed[0], mixed[1]}, {mixed[1], mixed[0]}} {
		best, choices := Choose(order, MustParseBand("27 to 33 N·m"), Adapter{}, day("2026-05-04"))
		nearest, _ := ChooseNearest(order, units.NewtonMetre.Of(30), Adapter{}, day("2026-05-04"))
		if best < 0 || choices[best].Tool.Name != "in in-lb" || nearest != best {
			t.Errorf("%s first: %d and %d", order[0].Name, best, nearest)
		}
	}
	if best, _ := Choose(tools[:1], b, Adapter{}, day("2026-05-04")); best != -1 {
		t.Error(best)
	}
	if best, choices := Choose(nil, b, Adapter{}, day("2026-05-04")); best != -1 || len(choices) != 0 {
		t.Error(best)
	}
}
