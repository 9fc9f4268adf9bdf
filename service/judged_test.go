package service

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// judged is the one line of a way with those readings, by those rules, before the engine has run again.
func judged(t testing.TB, tighten Tighten, done StationDone, rules Rules, where string) Line {
	t.Helper()
	plan, all := oneStation(t, tighten, done)
	all.Stations[0].Leaks = LeakCheck{}
	review, err := plan.reviewBy(all, rules)
	require.NoError(t, err)
	return lineOf(t, review, "stations[0]."+where)
}

// A turn that was counted stands where it was written down, and a reading of marks where they were:
// whoever looks for the line finds the reading it is of.
func TestLinesStandWhereTheirReadingsDo(t *testing.T) {
	for name, want := range map[string]string{
		"turn, counted": "stations[0].turned", "turn, counted at ring": "stations[0].turned", "turn, marks": "stations[0].marks",
		"sequence, in all": "stations[0].angle.total", "torque": "stations[0].torque", "seat, turns": "stations[0].stopTurns",
	} {
		way := ways()[name]
		plan, all := oneStation(t, way.tighten, way.done)
		review, err := plan.reviewBy(all, rulesWith(t))
		require.NoError(t, err)
		l := lineOf(t, review, want)
		assert.Equal(t, Pass, l.Verdict, "%s: %v", name, l)
		assert.NotEmpty(t, l.Found, name)
	}
}

// The tolerance of the rules is on the side they state, is for an instruction of one turn alone, and there is
// none where it leaves nothing of the turn or ends past every turn: what wasn't turned never passes. The eye is good to 15°;
// by arithmetic.
func TestToleranceOfTheRules(t *testing.T) {
	degrees := func(n int64) turn.Turn { return turn.MustOf(n, 360) }
	for _, c := range []struct {
		in         string
		less, more int64
		turned     int64
		want       Verdict
	}{
		{"1/2 turn", 20, 60, 180, Pass}, {"1/2 turn", 20, 60, 175, Pass}, {"1/2 turn", 20, 60, 174, Undecided}, {"1/2 turn", 20, 60, 144, Fail},
		{"1/2 turn", 20, 60, 225, Pass}, {"1/2 turn", 20, 60, 226, Undecided}, {"1/2 turn", 20, 60, 256, Fail},
		{"1/2 turn", 60, 20, 135, Pass}, {"1/2 turn", 60, 20, 134, Undecided}, {"1/2 turn", 60, 20, 185, Pass}, {"1/2 turn", 60, 20, 186, Undecided},
		{"1/2 to 2/3 turn", 60, 60, 210, Pass}, {"1/2 to 2/3 turn", 60, 60, 194, Undecided}, {"1/2 to 2/3 turn", 60, 60, 164, Fail},
		{"1/2 to 2/3 turn", 60, 60, 226, Undecided}, {"1/2 to 2/3 turn", 60, 60, 256, Fail},
		{"1/6 turn", 59, 60, 45, Pass}, {"1/6 turn", 60, 60, 60, Undecided}, {"1/6 turn", 60, 60, 0, Fail}, {"1/12 turn", 60, 60, 30, Undecided}, {"1/12 turn", 60, 60, 0, Fail},
		{"1/2 turn", 20, 100 * 360, 180, Undecided}, {"1/2 turn", 20, 100 * 360, 250, Fail}, // more than any turn can be
	} {
		rules := rulesWith(t)
		rules.Turn = &TurnTolerance{Less: degrees(c.less), More: degrees(c.more), Source: "invented"}
		in := turn.MustParseInstruction(c.in + " after gasket contact")
		l := judged(t, Tighten{Turn: in}, StationDone{Dragged: ptr(false), Turned: ptr(degrees(c.turned))}, rules, "turned")
		assert.Equal(t, c.want, l.Verdict, "%+v: %s", c, l.String())
	}
}

// A part that dragged and was read outside its band, or past its stop, fails: drag makes a pass of
// nothing and takes no fail away.
func TestDragTakesNoFailAway(t *testing.T) {
	way := ways()["torque"]
	way.done.Dragged = ptr(true)
	way.done.Torque.Value = units.NewtonMetre.Of(60)
	assert.Equal(t, Fail, judged(t, way.tighten, way.done, rulesWith(t), "torque").Verdict)
	way.done.Torque = nil
	assert.Equal(t, NotRecorded, judged(t, way.tighten, way.done, rulesWith(t), "torque").Verdict)
	seat := ways()["seat, turns"]
	seat.done.Dragged, seat.done.PastStop = ptr(true), true
	assert.Equal(t, Fail, judged(t, seat.tighten, seat.done, rulesWith(t), "seated").Verdict)
	for _, name := range []string{"turn, counted", "sequence, in all"} {
		way := ways()[name]
		way.done.Dragged = ptr(true)
		where := "turned"
		if way.done.Angle != nil {
			way.done.Angle.Total, where = ptr(turn.MustOf(2, 1)), "angle.total"
		} else {
			way.done.Turned = ptr(turn.MustOf(2, 1))
		}
		assert.Equal(t, Fail, judged(t, way.tighten, way.done, rulesWith(t), where).Verdict, name)
	}
}

// Turns to the stop: early and late are told apart, since each has another cause, and the count that is
// allowed is allowed to the last. By arithmetic.
func TestTurnsToTheStop(t *testing.T) {
	for _, c := range []struct {
		quarters int64 // of 4 turns, give or take 1/4
		want     Verdict
		says     string
	}{{14, Fail, "why.stop-turns/early"}, {15, Pass, ""}, {16, Pass, ""}, {17, Pass, ""}, {18, Fail, "why.stop-turns/late"}} {
		way := ways()["seat, turns"]
		way.done.Dragged, way.done.StopTurns = ptr(false), ptr(turn.MustOf(c.quarters, 4))
		l := judged(t, way.tighten, way.done, rulesWith(t), "stopTurns")
		assert.Equal(t, c.want, l.Verdict, c.quarters)
		assert.Contains(t, l.String(), c.says)
		seated := judged(t, way.tighten, way.done, rulesWith(t), "seated")
		assert.Equal(t, c.want == Pass, seated.done(), "%v", seated)
	}
}

// How a range that was found lies to one that was expected, with each end on, just in and just out.
func TestFoundAgainstExpected(t *testing.T) {
	r := func(n int64) *big.Rat { return big.NewRat(n, 10) }
	for _, c := range []struct {
		low, high int64 // against 10 to 20
		want      Verdict
	}{
		{10, 20, Pass}, {10, 10, Pass}, {20, 20, Pass}, {11, 19, Pass},
		{9, 20, Undecided}, {10, 21, Undecided}, {9, 10, Undecided}, {20, 21, Undecided}, {9, 21, Undecided},
		{8, 9, Fail}, {9, 9, Fail}, {21, 21, Fail}, {21, 22, Fail},
	} {
		got, _ := expected(r(c.low), r(c.high), r(10), r(20))
		assert.Equal(t, c.want, got, "%d to %d", c.low, c.high)
	}
	kg := func(low, high int64) drain.Estimate[units.MassUnit] {
		return drain.Estimate[units.MassUnit]{Low: units.Gram.Of(low), Best: units.Gram.Of(low), High: units.Gram.Of(high)}
	}
	for found, want := range map[[2]int64]Verdict{{100, 200}: Pass, {99, 150}: Undecided, {150, 201}: Undecided, {50, 99}: Fail, {201, 300}: Fail} {
		got, _ := expectedMass(kg(found[0], found[1]), kg(100, 200))
		assert.Equal(t, want, got, found)
	}
}

// Turns to contact are audited by the canister's thread, or by the stud's where that alone is stated;
// 3 turns of 1.5 mm are more than a gasket of 4 mm too early, from the pitch of M20 × 1.5.
func TestContactByEitherThread(t *testing.T) {
	thread, other, gasket := turn.MustParseThread("M20x1.5"), turn.MustParseThread("1-12 UNF"), units.MustParseLength("4 mm")
	in := turn.MustParseInstruction("1/2 turn after gasket contact")
	for name, c := range map[string]struct{ stud, canister turn.Thread }{"stud": {stud: thread}, "canister": {canister: thread}, "both": {other, thread}} {
		for counted, want := range map[turn.Turn]Verdict{turn.MustOf(6, 1): Pass, turn.MustOf(3, 1): Fail} {
			tighten := Tighten{Turn: in, Stud: c.stud, Canister: c.canister, ContactTurns: turn.MustOf(6, 1), Gasket: gasket}
			l := judged(t, tighten, StationDone{Dragged: ptr(false), Turned: ptr(turn.MustOf(1, 2)), ContactTurns: &counted}, rulesWith(t), "contactTurns")
			assert.Equal(t, want, l.Verdict, "%s: %v", name, l)
		}
	}
}

// The strokes of a hand primer have their line where the job has one, as the cycles of a pump do.
func TestStrokesLine(t *testing.T) {
	plan := benchPlan(t, `"pump": {`, `"handPrimer": {"stroke": {"low": "40 mL", "best": "50 mL", "high": "50 mL", "from": "measured"}, "efficiency": "100 %"}, "pump": {`)
	require.Equal(t, &Counts{30, 40, 63}, plan.Prime.Strokes) // 1500 / 50, 2000 / 50, 2500 / 40 rounded up
	for n, want := range map[int]Verdict{29: Undecided, 30: Pass, 63: Pass, 64: Fail} {
		done := doneWith(t)
		done.Strokes = &n
		review, err := plan.reviewBy(done, rulesWith(t))
		require.NoError(t, err)
		assert.Equal(t, want, lineOf(t, review, "strokes").Verdict, n)
		assert.Equal(t, Pass, lineOf(t, review, "keyCycles").Verdict)
	}
	review, err := plan.reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, NotRecorded, lineOf(t, review, "strokes").Verdict)
}

// A month that stays in its category is unchanged only where all of it was weighed or measured; the line is
// at 100 kg. Source: 40-cfr-260.
func TestMonthLine(t *testing.T) {
	kg := func(text string) drain.Estimate[units.MassUnit] {
		m := units.MustParseMass(text)
		return drain.Estimate[units.MassUnit]{Low: m, Best: m, High: m, From: benchPlan(t).Job.Stations[0].Element.Dry.From}
	}
	job := benchPlan(t).Job
	for _, c := range []struct {
		soFar   string
		weighed int
		want    Verdict
	}{{"50 kg", 3, Unchanged}, {"97 kg", 3, Unchanged}, {"97.001 kg", 3, Undecided}, {"50 kg", 2, Undecided}, {"50 kg", 0, NotRecorded}, {"97.001 kg", 0, NotRecorded}} {
		job.Waste.Month = &Month{Rules: usfederal.RuleSet().Name, SoFar: kg(c.soFar)}
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		done := doneWith(t)
		done.Weights = nil
		for i := range done.Stations {
			done.Stations[i].Out = nil
		}
		for _, w := range plan.Waste[:c.weighed] {
			m := kg("1 kg")
			done.Weights = append(done.Weights, Weight{Stream: w.Stream, Station: w.Station, What: w.What, Mass: m})
		}
		review, err := plan.reviewBy(done, rulesWith(t))
		require.NoError(t, err)
		assert.Equal(t, c.want, lineOf(t, review, "totals").Verdict, "%+v", c)
	}
}

// What hardly moves is forecast by nothing, however little it moves.
func TestNoDayForWhatHardlyMoves(t *testing.T) {
	for week, want := range map[string]bool{
		"1 mm": false, "0.000000000000000001 mm": false, "0.00000000000000000000000000000000000001 mm": false, "0.0000000003 mm": false,
		"640 km": true, "639 km": false, // 10 000 000 km at 640 km a week are 109 375 days, less than the 109 500 of three centuries
	} {
		distance, perWeek := units.MustParseLength("10000000 km"), units.MustParseLength(week)
		p := &Plan{Job: Job{Date: waste.Date{Year: 2026, Month: 3, Day: 9}, Interval: &Interval{Distance: distance, DistancePerWeek: perWeek}}}
		p.due()
		assert.Equal(t, want, p.Due.ByUse != nil, week)
	}
}
