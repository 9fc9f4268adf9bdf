package service

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// pathsOf are the paths of what is wrong, none where nothing is.
func pathsOf(t testing.TB, err error) (paths []string) {
	t.Helper()
	if err == nil {
		return nil
	}
	var all JobErrors
	require.ErrorAs(t, err, &all)
	for _, one := range all {
		paths = append(paths, one.Path)
	}
	return paths
}

// Values of the wrong kind are refused where they are: nothing is taken for a text, a list or a
// number that isn't one.
func TestValuesOfTheWrongKind(t *testing.T) {
	for _, c := range []struct{ old, new, path string }{
		{`"invented": true,`, `"invented": true, "place": 5,`, "place"},
		{`"invented": true,`, `"invented": true, "place": ["x"],`, "place"},
		{`"invented": true,`, `"invented": true, "place": {"value": "5", "unit": "m"},`, "place"},
		{`"invented": true,`, `"invented": true, "place": null,`, "place"},
		{`"invented": true,`, `"invented": "true",`, "invented"},
		{`"machine": "Invented engine"`, `"machine": 12`, "machine"},
		{`"machine": "Invented engine"`, `"machine": null`, "machine"},
		{`"revision": 1`, `"revision": "1"`, "revision"},
		{`"revision": 1`, `"revision": 1.5`, "revision"},
		{`"revision": 1`, `"revision": 1e3`, "revision"},
		{`"torquePlaces": 2`, `"torquePlaces": null`, "shop.torquePlaces"},
		{`"steps": ["open the drain"]`, `"steps": "open the drain"`, "stations[0].drain.steps"},
		{`"steps": ["open the drain"]`, `"steps": {"0": "open the drain"}`, "stations[0].drain.steps"},
		{`"steps": ["open the drain"]`, `"steps": null`, "stations[0].drain.steps"},
		{`"steps": ["open the drain"]`, `"steps": [null]`, "stations[0].drain.steps[0]"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum", "month": null}`, "waste.month"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": null`, "interval"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": [6]`, "interval"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum", "month": "US federal"}`, "waste.month"},
	} {
		_, err := ReadJob(edited(t, bench, c.old, c.new))
		require.Error(t, err, c.new)
		assert.Contains(t, pathsOf(t, err), c.path, c.new)
		assert.ErrorIs(t, err, map[bool]error{true: units.ErrRange, false: errType}[strings.HasPrefix(c.new, `"revision": 1`)], c.new)
	}
}

// A job's figures from their last good value to the first that is refused.
func TestBoundsOfAJob(t *testing.T) {
	places := func(n int) func(*Job) { return func(j *Job) { j.Shop.TorquePlaces = &n } }
	wrench := func(spoil func(*Wrench)) func(*Job) {
		return func(j *Job) {
			w := Wrench{Wrench: torque.Wrench{Name: "T", Lowest: units.MustParseTorque("10 N·m"), Highest: units.MustParseTorque("60 N·m"), Step: units.MustParseTorque("1 N·m"),
				Deviation: units.Percent.Of(4)}, CalibratedUntil: j.Date}
			spoil(&w)
			j.Shop.Wrenches = []Wrench{w}
		}
	}
	litres := func(low, best, high string) drain.Estimate[units.VolumeUnit] {
		return drain.Estimate[units.VolumeUnit]{Low: units.MustParseVolume(low), Best: units.MustParseVolume(best), High: units.MustParseVolume(high), From: benchPlan(t).Job.Stations[0].Drain.Out.From}
	}
	drum := func(inside drain.Estimate[units.VolumeUnit]) func(*Job) {
		return func(j *Job) {
			j.Waste.Drum = &Drum{Capacity: units.MustParseVolume("208 L"), Inside: inside, FilledAt: units.MustParseTemperature("15 °C")}
		}
	}
	water := func(v drain.Estimate[units.VolumeUnit]) func(*Job) {
		return func(j *Job) { j.Stations[0].Drain.Water = v }
	}
	vessel := func(j *Job) {
		mm := func(n string) drain.Estimate[units.LengthUnit] {
			l := units.MustParseLength(n + " mm")
			return drain.Estimate[units.LengthUnit]{Low: l, Best: l, High: l, From: j.Stations[0].Drain.Out.From}
		}
		j.Stations[0].Drain.Housing = &Housing{Diameter: mm("100"), Height: mm("200"), Displaced: litres("0.1 L", "0.2 L", "0.3 L"), Retained: litres("0 L", "0 L", "0.1 L")}
	}
	connectors := func(n int) func(*Job) {
		return func(j *Job) { j.Stations[0].Connectors = slices.Repeat([]string{"sensor plug"}, n) }
	}
	efficiency := func(percent int64) func(*Job) {
		return func(j *Job) { p := *j.Prime.Pump; p.Efficiency = units.Percent.Of(percent); j.Prime.Pump = &p }
	}
	for name, c := range map[string]struct {
		edit func(*Job)
		path string // "" where it is taken
	}{
		"no places": {places(0), ""}, "six places": {places(6), ""}, "places below zero": {places(-1), "shop.torquePlaces"}, "seven places": {places(7), "shop.torquePlaces"},
		"a wrench":                {wrench(func(*Wrench) {}), ""},
		"from zero":               {wrench(func(w *Wrench) { w.Lowest = units.NewtonMetre.Of(0) }), ""},
		"from below zero":         {wrench(func(w *Wrench) { w.Lowest = units.NewtonMetre.Of(-1) }), "shop.wrenches[0]"},
		"one torque":              {wrench(func(w *Wrench) { w.Lowest = w.Highest }), ""},
		"high below low":          {wrench(func(w *Wrench) { w.Highest = units.NewtonMetre.Of(9) }), "shop.wrenches[0]"},
		"no number":               {wrench(func(w *Wrench) { w.Name = "" }), "shop.wrenches[0].id"},
		"no deviation":            {wrench(func(w *Wrench) { w.Deviation = units.Share{} }), "shop.wrenches[0].deviation"},
		"all deviation":           {wrench(func(w *Wrench) { w.Deviation = units.Percent.Of(100) }), ""},
		"more than all deviation": {wrench(func(w *Wrench) { w.Deviation = units.Percent.Of(101) }), "shop.wrenches[0].deviation"},
		"step below zero":         {wrench(func(w *Wrench) { w.Step = units.NewtonMetre.Of(-1) }), "shop.wrenches[0].step"},
		"out and housing":         {vessel, "stations[0].drain"},
		"vessel alone":            {func(j *Job) { vessel(j); j.Stations[0].Drain.Out = drain.Estimate[units.VolumeUnit]{} }, ""},
		"neither out nor vessel":  {func(j *Job) { j.Stations[0].Drain.Out = drain.Estimate[units.VolumeUnit]{} }, ""},
		"an end without the rest": {func(j *Job) { j.Stations[0].Drain.Out = drain.Estimate[units.VolumeUnit]{High: units.Litre.Of(1)} }, "stations[0].drain.out"},
		"water":                   {water(litres("0 L", "0.1 L", "0.2 L")), ""}, "water out of order": {water(litres("0.2 L", "0.1 L", "0.3 L")), "stations[0].drain.water"},
		"how much, and unknown": {func(j *Job) { water(litres("0 L", "0.1 L", "0.2 L"))(j); j.Stations[0].Drain.WaterUnknown = true }, "stations[0].drain.waterUnknown"},
		"water below zero":      {water(litres("-0.1 L", "0 L", "0.1 L")), "stations[0].drain.water"},
		"drum":                  {drum(litres("10 L", "11 L", "12 L")), ""}, "drum out of order": {drum(litres("12 L", "11 L", "10 L")), "waste.drum.inside"},
		"drum below empty": {drum(litres("-1 L", "0 L", "1 L")), "waste.drum.inside"},
		"100 connectors":   {connectors(100), ""}, "101 connectors": {connectors(101), "stations[0].connectors"},
		"all arrives": {efficiency(100), ""}, "more arrives": {efficiency(101), "prime.pump.efficiency"}, "nothing arrives": {efficiency(0), "prime.pump.efficiency"},
		"a long name": {func(j *Job) { j.Stations[0].ID = strings.Repeat("x", 64) }, ""}, "a longer name": {func(j *Job) { j.Stations[0].ID = strings.Repeat("x", 65) }, "stations[0].id"},
		"no revision": {func(j *Job) { j.Revision = 0 }, "revision"}, "nothing isolated": {func(j *Job) { j.Isolate = nil }, "isolate"},
	} {
		job := benchPlan(t).Job
		job.Stations = slices.Clone(job.Stations)
		c.edit(&job)
		err := job.Check()
		_, planned := NewPlan(job, Rules{})
		if c.path == "" {
			assert.NoError(t, err, name)
			assert.NoError(t, planned, name)
			continue
		}
		assert.Equal(t, []string{c.path}, pathsOf(t, err), name)
		assert.Equal(t, err, planned, "%s: nothing is planned, for the same reason", name)
		if name == "no number" {
			assert.ErrorContains(t, err, "the shop's number for the wrench")
		}
	}
}

// Forty stations are a job, and a hundred of anything else that is listed; one more of it is none.
func TestMostOfEach(t *testing.T) {
	for n, path := range map[int]string{40: "", 41: "stations"} {
		job := benchPlan(t).Job
		one := job.Stations[0]
		job.Stations = nil
		for i := range n {
			one.ID = fmt.Sprint(i)
			job.Stations = append(job.Stations, one)
		}
		assert.Equal(t, path == "", job.Check() == nil, n)
	}
	done := AsDone{Version: AsDoneVersion, Job: "J", Revision: 1, Date: waste.Date{Year: 2026, Month: 3, Day: 9}, By: "x", Source: "x"}
	kg := units.MustParseMass("1 kg")
	for i := range 300 {
		done.Weights = append(done.Weights, Weight{Stream: waste.OtherWaste, What: fmt.Sprint(i), Mass: drain.Estimate[units.MassUnit]{Low: kg, Best: kg, High: kg, From: benchPlan(t).Job.Stations[0].Element.Dry.From}})
	}
	assert.NoError(t, done.Check())
}

// A review holds readings made in Go to what a file of them is held to, whatever the plan: nothing that
// no file could say is judged.
func TestReviewChecksReadingsMadeInGo(t *testing.T) {
	for path, spoil := range map[string]func(*AsDone){
		"version":                     func(a *AsDone) { a.Version = 2 },
		"by":                          func(a *AsDone) { a.By = "" },
		"source":                      func(a *AsDone) { a.Source = " " },
		"zone":                        func(a *AsDone) { a.Zone = "CST" },
		"stations[0].torque.tool":     func(a *AsDone) { a.Stations[0].Torque.Tool = "" },
		"stations[0].torque.value":    func(a *AsDone) { a.Stations[0].Torque.Value = units.NewtonMetre.Of(-1) },
		"stations[0].torque.expanded": func(a *AsDone) { a.Stations[0].Torque.Expanded = units.NewtonMetre.Of(-1) },
		"stations[1].id":              func(a *AsDone) { a.Stations[1].ID = a.Stations[0].ID },
		"stations[1].marks.passes":    func(a *AsDone) { a.Stations[1].Marks.Passes = ptr(-1) },
		"stations[1]":                 func(a *AsDone) { a.Stations[1].Turned = ptr(turn.MustOf(3, 4)) },
		"keyCycles":                   func(a *AsDone) { a.KeyCycles = ptr(-1) },
		"cranks[0].crank":             func(a *AsDone) { a.Cranks[0].Crank = 0 },
		"cranks[1].rest":              func(a *AsDone) { a.Cranks = append(a.Cranks, CrankDone{Rest: ptr(drain.Duration(-1)), Crank: 1}) },
		"weights[0]":                  func(a *AsDone) { a.Weights[0].Mass = a.Weights[0].Scale },
		"restored[1].what":            func(a *AsDone) { a.Restored[1] = a.Restored[0] },
	} {
		done := doneWith(t)
		spoil(&done)
		review, err := benchPlan(t).reviewBy(done, rulesWith(t))
		require.Error(t, err, path)
		assert.Equal(t, []string{path}, pathsOf(t, err), path)
		assert.Empty(t, review.Lines, path)
	}
	done := doneWith(t)
	for n, ok := range map[int]bool{0: true, 1_000_000: true, 1_000_001: false} {
		done.KeyCycles = &n
		assert.Equal(t, ok, done.Check() == nil, n)
	}

	// A mark that isn't on the ring is refused where it is.
	for path, edit := range map[string]func(*MarksSeen){
		"stations[1].marks.before.mark": func(m *MarksSeen) { m.Before.Mark = "Q" },
		"stations[1].marks.after.mark":  func(m *MarksSeen) { m.After.Mark = "Q" },
	} {
		done := doneWith(t)
		edit(done.Stations[1].Marks)
		_, err := benchPlan(t).reviewBy(done, rulesWith(t))
		require.Error(t, err, path)
		assert.Equal(t, []string{path}, pathsOf(t, err))
	}
}

// One name may stand for a station, for a waste and for a thing that was isolated: they are of
// different kinds, and none is taken for another.
func TestNamesOfDifferentKindsDoNotCollide(t *testing.T) {
	job := benchPlan(t).Job
	job.Stations = slices.Clone(job.Stations)
	drainedFuel := waste.DrainedFuel.String()
	job.Stations[0].ID, job.Isolate[0].What = drainedFuel, drainedFuel
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	done := doneWith(t)
	done.Stations[0].ID, done.Restored = drainedFuel, []Restored{{What: drainedFuel, Restored: true}}
	done.Weights = done.Weights[:1]
	require.Equal(t, waste.DrainedFuel, done.Weights[0].Stream)
	_, err = plan.reviewBy(done, rulesWith(t))
	assert.NoError(t, err)
}
