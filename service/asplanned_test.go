package service

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// drawn draws one case of a way: how it is tightened, what is read when it is done exactly as its plan says,
// and whether the plan says that such readings can show it.
type drawn struct {
	*rapid.T
	job   Job
	rules Rules
}

func (d drawn) int(low, high int64, name string) int64 {
	return rapid.Int64Range(low, high).Draw(d.T, name)
}

func (d drawn) degrees(low, high int64, name string) turn.Turn {
	return turn.MustOf(d.int(low, high, name), 360)
}

func oneOf[T any](d drawn, name string, from ...T) T { return rapid.SampledFrom(from).Draw(d.T, name) }

// wrenches are some that may serve and some that don't, in any unit.
func (d drawn) wrenches() (all []Wrench) {
	for i := range d.int(1, 3, "wrenches") {
		unit := oneOf(d, "scale", units.NewtonMetre, units.FootPound, units.InchPound, units.KilogramForceMetre)
		tenths := map[units.TorqueUnit]int64{units.NewtonMetre: 10, units.FootPound: 7, units.InchPound: 88, units.KilogramForceMetre: 1}[unit]
		step := d.int(1, 40, "step") * tenths
		hundredths := func(n int64) units.Torque {
			q, err := units.New(decimal.New(n*step*5, -2), unit)
			require.NoError(d, err)
			return q
		}
		lowest, highest, step1 := hundredths(d.int(1, 10, "lowest")), hundredths(d.int(40, 400, "highest")), hundredths(1)
		w := Wrench{Wrench: torque.Wrench{Name: fmt.Sprint("W-", i), Lowest: lowest, Step: step1, Highest: highest,
			Deviation: units.Percent.Of(d.int(1, 9, "deviation"))}, CalibratedUntil: d.job.Date}
		if d.int(0, 3, "length") > 0 {
			w.Length = units.Millimetre.Of(d.int(150, 500, "mm"))
		}
		all = append(all, w)
	}
	return all
}

func (d drawn) adapter() *Adapter {
	switch d.int(0, 4, "adapter") {
	case 0:
		return &Adapter{Name: "claw", Lever: &torque.Adapter{Offset: units.Millimetre.Of(d.int(0, 140, "offset")), Angle: units.Degree.Of(d.int(0, 180, "angle"))}}
	case 1:
		if d.int(0, 3, "strap") == 0 {
			return &Adapter{Name: "strap", Kind: StrapWrench}
		}
	}
	return nil
}

func (d drawn) band() torque.Band {
	low := d.int(5, 120, "low")
	unit := oneOf(d, "unit of the band", units.NewtonMetre, units.FootPound, units.KilogramForceMetre)
	b, err := torque.Between(unit.Of(low), unit.Of(low+d.int(1, low, "width")))
	require.NoError(d, err)
	return b
}

// clickAt is the wrench of the plan, set as planned.
func clickAt(set *WrenchSet) *TorqueReading {
	if set == nil {
		return nil
	}
	return &TorqueReading{Value: set.Setting.Dial, Tool: set.Wrench.Name, Clicked: true}
}

func (d drawn) marks() *Marks {
	labels := []string{"A", "B", "C", "D", "E", "F", "G", "H", "K", "L", "M", "N"}[:d.int(2, 12, "marks")]
	m := &Marks{Labels: labels, Index: "rib", Order: oneOf(d, "order", turn.Clockwise, turn.Counterclockwise),
		View: oneOf(d, "view", turn.FacingClosedEnd, turn.FromHeadSide, turn.BesideClosedEndDown, turn.BesideClosedEndUp, turn.BesideClosedEndUp.Mirrored())}
	if rapid.Bool().Draw(d.T, "contact is known") {
		m.AtContact = oneOf(d, "contact", labels...)
	}
	return m
}

func (d drawn) instruction() turn.Instruction {
	least := d.degrees(20, 500, "least")
	most, err := least.Add(d.degrees(0, 120, "width"))
	require.NoError(d, err)
	in, err := turn.NewInstruction(least, most, oneOf(d, "datum", turn.GasketContact, turn.FingerTight, turn.Snug))
	require.NoError(d, err)
	return in
}

func at(p turn.Position) MarkSeen {
	seen := MarkSeen{Mark: p.Mark}
	if p.Past != (turn.Turn{}) {
		seen.Past = &p.Past
	}
	return seen
}

// plannedWays draw each way; done is what is read at each place that the plan names, and can what it says
// of that.
var plannedWays = map[string]struct {
	draw func(d drawn) Tighten
	done func(d drawn, p *Plan) (done []StationDone, can bool)
}{
	"torque": {
		func(d drawn) Tighten { return Tighten{Torque: d.band(), Adapter: d.adapter()} },
		func(_ drawn, p *Plan) ([]StationDone, bool) {
			set := p.Stations[0].Torque.Set
			return []StationDone{{Torque: clickAt(set), Seated: ptr(true)}}, set != nil
		},
	},
	"printed": {
		func(d drawn) Tighten {
			low := d.int(8, 120, "low")
			high := low + d.int(1, low, "width")
			in := func(n int64) units.Torque {
				return units.NewtonMetre.Of(n).RoundIn(units.InchPound, 0, units.ToNearestEven)
			}
			return Tighten{Printed: fmt.Sprintf("%d-%d N·m (%v-%v)", low, high, in(low).Magnitude(), in(high)), Adapter: d.adapter()}
		},
		func(_ drawn, p *Plan) ([]StationDone, bool) {
			set := p.Stations[0].Torque.Set
			return []StationDone{{Torque: clickAt(set), Seated: ptr(true)}}, set != nil
		},
	},
	"torque, or seated": {
		func(d drawn) Tighten { return Tighten{Torque: d.band(), Adapter: d.adapter(), OrSeated: true} },
		func(_ drawn, p *Plan) ([]StationDone, bool) { // seated before it clicks: the gap alone shows it
			click := StationDone{Torque: clickAt(p.Stations[0].Torque.Set), Seated: ptr(true)}
			return []StationDone{click, {Seated: ptr(true)}}, true
		},
	},
	"seat": {
		func(d drawn) Tighten {
			s := Seat{Gap: "under the cap"}
			if rapid.Bool().Draw(d.T, "turns") {
				s.StopTurns = d.degrees(360, 3000, "turns to the stop")
			}
			t := Tighten{Seat: &s}
			if rapid.Bool().Draw(d.T, "limit") {
				s.Torque, t.Adapter = d.band(), d.adapter()
				if rapid.Bool().Draw(d.T, "max") {
					s.Torque, _ = torque.Between(s.Torque.High().Unit().Of(0), s.Torque.High())
				}
			}
			return t
		},
		func(_ drawn, p *Plan) ([]StationDone, bool) {
			s := p.Stations[0].Seat
			done := StationDone{Seated: ptr(true)}
			if given(s.Turns) {
				done.StopTurns = &s.Turns
			}
			if s.Limit != nil {
				done.Torque = clickAt(s.Limit.Set)
			}
			return []StationDone{done}, true
		},
	},
	"sequence": {
		func(d drawn) Tighten {
			var stages []string
			for range d.int(1, 4, "stages") {
				stages = append(stages, fmt.Sprintf("%d°", d.int(20, 200, "stage")))
			}
			snug := d.int(20, 80, "snug")
			s, err := turn.ParseSequence(fmt.Sprintf("%d N·m then %s", snug, strings.Join(stages, " + ")))
			require.NoError(d, err)
			t := Tighten{Sequence: s, Adapter: d.adapter(), Within: &TurnTolerance{Less: d.degrees(0, 15, "less"), More: d.degrees(1, 15, "more")}}
			if rapid.Bool().Draw(d.T, "a band") {
				t.Snug, err = torque.Between(units.NewtonMetre.Of(snug-d.int(1, 9, "less snug")), units.NewtonMetre.Of(snug+d.int(1, 9, "more snug")))
				require.NoError(d, err)
			}
			return t
		},
		func(d drawn, p *Plan) ([]StationDone, bool) {
			sp := &p.Stations[0]
			s := sp.Sequence
			sheet := p.Sheet()
			gauge := slices.ContainsFunc(section(sheet, "station", "1").Items, func(it Item) bool { return it.Code == "sequence.gauge" })
			total := s.Stages[len(s.Stages)-1].Total
			read := []StationDone{{Torque: clickAt(sp.set()), Angle: &AngleDone{Total: &total}}} // by eye, on the line
			if gauge {
				read[0].Angle.Tool, read[0].Angle.Deviation = "G", turn.MustOf(1, 36000)
			}
			return read, s.Band != nil && sp.set() != nil && finding(p, "sequence.turn-one-sided") == nil
		},
	},
	"turn, marks": {
		func(d drawn) Tighten { return Tighten{Turn: d.instruction(), Marks: d.marks()} },
		func(_ drawn, p *Plan) (all []StationDone, can bool) {
			t := p.Stations[0].Turn
			for _, m := range t.Marks {
				passes := m.Aim.Passes
				all = append(all, StationDone{Marks: &MarksSeen{Before: at(m.From), After: at(m.Aim), Passes: &passes}})
			}
			return all, finding(p, "turn.narrower-than-eye") == nil && finding(p, "turn.without-tolerance") == nil
		},
	},
	"turn, counted": {
		func(d drawn) Tighten { return Tighten{Turn: d.instruction()} },
		func(_ drawn, p *Plan) ([]StationDone, bool) {
			return []StationDone{{Turned: &p.Stations[0].Turn.Aim}},
				finding(p, "turn.narrower-than-eye") == nil && finding(p, "turn.without-tolerance") == nil
		},
	},
}

// Whatever the way, the rule, the eye, the wrench and its deviation, the adapter, the hand of the thread, the
// view, the order of the labels and the place of contact: what was done exactly as the plan says passes
// wherever the plan says that it can, and where it doesn't say so, it doesn't. At least 1,000 cases a way,
// the readings through JSON.
func TestDoneAsPlannedPasses(t *testing.T) {
	least := 1000
	if testing.Short() {
		least = 100
	}
	job, rules := benchPlan(t).Job, rulesWith(t)
	for name, way := range plannedWays {
		t.Run(name, func(t *testing.T) {
			cases, can := 0, 0
			one := func(rt *rapid.T) {
				d := drawn{T: rt, job: job, rules: rules}
				d.rules.Torque = oneOf(d, "rule", torque.SimpleAcceptance, torque.GuardedByU, torque.Guarded95, torque.NonBinary)
				d.rules.Eye = d.degrees(1, 45, "eye")
				if rapid.Bool().Draw(rt, "no tolerance") {
					d.rules.Turn = nil
				}
				d.job.Shop.Wrenches = d.wrenches()
				d.job.Stations = []Station{job.Stations[0]}
				tighten := way.draw(d)
				tighten.Thread = oneOf(d, "hand", turn.RightHand, turn.LeftHand)
				d.job.Stations[0].Tighten = tighten
				plan, err := NewPlan(d.job, d.rules)
				require.NoError(rt, err)
				if finding(plan, "torque.units-disagree") != nil {
					return
				}
				done, passes := way.done(d, plan)
				if cases%100 == 0 { // the page too, which takes longer than all else
					_, err = plan.Sheet().HTML()
					require.NoError(rt, err)
				}
				for _, s := range done {
					cases++
					s.ID, s.Dragged, s.Leaks = d.job.Stations[0].ID, ptr(false), LeakCheck{Priming: ptr(false), Hot: ptr(false)}
					text, err := json.Marshal(AsDone{Version: AsDoneVersion, Job: d.job.ID, Revision: d.job.Revision, Date: d.job.Date, By: "x", Source: "x", Stations: []StationDone{s}})
					require.NoError(rt, err)
					read, err := ReadAsDone(text)
					require.NoError(rt, err)
					review, err := plan.Review(read)
					require.NoError(rt, err)
					all := true
					for _, l := range review.Open() {
						if strings.HasPrefix(l.Where, "stations[0]") {
							all = false
							require.False(rt, passes, "%v\n%s", l, text)
						}
					}
					require.Equal(rt, passes, all, "%s", text)
				}
				if passes {
					can += len(done)
				}
			}
			for cases < least {
				rapid.Check(t, one)
				if t.Failed() {
					return
				}
			}
			assert.GreaterOrEqual(t, cases, least)
			assert.Greater(t, can, least/20, "enough of them can pass")
			t.Logf("%d cases, of which %d can pass", cases, can)
		})
	}
}

// asPlanned is a job done exactly as its plan says: clicked where a wrench is set, stopped at the aim, each
// volume in the expected range, each waste on a scale.
func asPlanned(t *testing.T, p *Plan) AsDone {
	job := p.Job
	done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x",
		Cranks: []CrankDone{{Crank: job.Prime.Crank.Limit}}}
	dry := LeakCheck{Priming: ptr(false), Hot: ptr(false)}
	volume := func(v drain.Estimate[units.VolumeUnit]) *VolumeTaken {
		v.From = drain.Measured
		return &VolumeTaken{Volume: v, At: job.Fuel.MeasuredAt}
	}
	for _, sp := range p.Stations {
		s := StationDone{ID: sp.Station.ID, Dragged: ptr(false), Out: volume(sp.Out.Volume)}
		tighten := sp.Station.Tighten
		if given(sp.Station.Drain.Water) {
			s.Water = volume(sp.Station.Drain.Water)
		}
		if given(tighten.ContactTurns) {
			s.ContactTurns = &tighten.ContactTurns
		}
		switch {
		case sp.Torque != nil:
			s.Seated = ptr(true)
			if s.Torque = clickAt(sp.Torque.Set); s.Torque == nil {
				inside, _ := sp.Torque.Stated.Low().Add(units.MustParseTorque("1 N·m"))
				s.Torque = &TorqueReading{Value: inside, Tool: "W-1", Expanded: units.MustParseTorque("0.01 N·m")}
			}
		case sp.Turn != nil && tighten.Marks != nil:
			m := sp.Turn.Marks[0]
			s.Marks = &MarksSeen{Before: at(m.From), After: at(m.Aim), Passes: &m.Aim.Passes}
		case sp.Turn != nil:
			s.Turned = &sp.Turn.Aim
		case sp.Sequence != nil:
			s.Torque = clickAt(sp.set())
			s.Angle = &AngleDone{Total: &sp.Sequence.Stages[len(sp.Sequence.Stages)-1].Total, Tool: "G-1", Deviation: turn.MustOf(1, 360)}
		case sp.Seat == nil:
			panic("nothing here says how a station is done as planned that is tightened " + sp.way().how())
		default:
			s.Seated = ptr(true)
			if given(sp.Seat.Turns) {
				s.StopTurns = &sp.Seat.Turns
			}
			if sp.Seat.Limit != nil {
				s.Torque = clickAt(sp.Seat.Limit.Set)
			}
		}
		s.Leaks = dry
		done.Stations = append(done.Stations, s)
	}
	if p.Prime.Cycles != nil {
		done.KeyCycles = &p.Prime.Cycles.Best
	}
	if p.Prime.Strokes != nil {
		done.Strokes = &p.Prime.Strokes.Best
	}
	for _, line := range p.Waste {
		shown := line.Mass.Best
		if given(line.Scale) {
			shown = line.Scale.Best
		}
		done.Weights = append(done.Weights, Weight{Stream: line.Stream, Station: line.Station, What: line.What, Scale: drain.Estimate[units.MassUnit]{Low: shown, Best: shown, High: shown, From: drain.Weighed}})
	}
	for _, step := range job.Isolate {
		done.Restored = append(done.Restored, Restored{What: step.What, Restored: true})
	}
	text, err := json.Marshal(done)
	require.NoError(t, err)
	done, err = ReadAsDone(text)
	require.NoError(t, err)
	return done
}

// Done exactly as the sheet says, a job of any shape is complete and as planned.
func TestJobsDoneAsPlannedAreAsPlanned(t *testing.T) {
	files, err := filepath.Glob("testdata/jobs/*.json")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range append(files, "../examples/servicesheet/demo.json", "testdata/bench.json") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		job, err := ReadJob(text)
		require.NoError(t, err, file)
		job.Fuel.LeastFlashPoint = units.MustParseTemperature("90 °C") // one job is of fuel at 60 °C
		plan, err := NewPlan(job, rulesWith(t))
		require.NoError(t, err, file)
		review, err := plan.Review(asPlanned(t, plan))
		require.NoError(t, err, file)
		assert.True(t, review.Complete && review.AsPlanned, "%s: %v %v", file, review.Open(), review.Departures())
	}
}

// A plan keeps the fuel it solved, and finds and reviews by it: it is that of the job, solved afresh.
func TestPlanKeepsItsFuel(t *testing.T) {
	job := benchPlan(t).Job
	rapid.Check(t, func(rt *rapid.T) {
		d := drawn{T: rt}
		job := job
		job.Fuel.Density = drain.StateDensity(units.KilogramPerCubicMetre.Of(d.int(780, 880, "density")))
		job.Fuel.DensityAt, job.Fuel.MeasuredAt = units.Celsius.Of(d.int(0, 40, "density at")), units.Celsius.Of(d.int(0, 40, "measured at"))
		plan, err := NewPlan(job, Rules{})
		require.NoError(rt, err)
		fuel, err := drain.FuelAt(job.Fuel.Density.Density(), job.Fuel.DensityAt)
		require.NoError(rt, err)
		density, err := fuel.DensityAt(job.Fuel.MeasuredAt)
		require.NoError(rt, err)
		require.Equal(rt, measured{fuel, job.Fuel.MeasuredAt, density}, plan.fuel)
	})
}
