package service

import (
	_ "embed"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// An invented job: a cover by torque then angle, through an adapter, and a cap that meets its stop.
//
//go:embed testdata/jobs/cover-and-cap.json
var coverAndCap string

// Readings of it, all of them as they should be; invented.
const coverAndCapDone = `{
  "version": 1, "job": "DOZ-0031", "revision": 1, "date": "2026-10-05", "by": "invented", "source": "invented", "invented": true,
  "stations": [
    {"id": "cover", "dragged": false,
      "torque": {"value": "29.5 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb", "corrected": true},
      "angle": {"total": "165°", "tool": "G-1", "deviation": "2°"}, "leaks": {"priming": false, "hot": false}},
    {"id": "cap", "dragged": false,
      "torque": {"value": "14 N·m", "tool": "TW-9", "expanded": "0.8 N·m"},
      "stopTurns": "5 1/2 turns",
      "seated": true, "leaks": {"priming": false, "hot": false}}
  ],
  "strokes": 110,
  "cranks": [{"crank": "6 s"}],
  "restored": [{"what": "batteries", "restored": true}]
}`

// edited is a text with edits that each find their place.
func edited(t testing.TB, text string, edits ...string) []byte {
	t.Helper()
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, text, edits[i], "the edit finds its place")
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return []byte(text)
}

func coverPlan(t testing.TB, edits ...string) *Plan {
	t.Helper()
	job, err := ReadJob(edited(t, coverAndCap, edits...))
	require.NoError(t, err)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	return plan
}

func coverReview(t testing.TB, plan *Plan, edits ...string) Review {
	t.Helper()
	done, err := ReadAsDone(edited(t, coverAndCapDone, edits...))
	require.NoError(t, err)
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	return review
}

// 29.5 lbf·ft / 40 N·m, then 45° + 45° + 45° + 30° (Source: tm-10-3930-669): 165° in all. The
// band of 36 to 44 N·m is 26.5522… to 32.4527… ft-lb, inward 26.6 to 32.4. Through 4 in on a wrench
// of 12 in the fastener gets 4/3 of the dial: 22.0 ft-lb gives 28.16 to 30.56 within 4 %, 1.608 above
// the low limit and 1.897 below the high one; 22.5 would leave 1.203 and 21.5 only 0.968. By hand.
func TestSequencePlan(t *testing.T) {
	s := coverPlan(t).Stations[0].Sequence
	require.NotNil(t, s)
	assert.Equal(t, "29.5 ft-lb", s.Snug.String())
	assert.Equal(t, "40 N·m", s.Nearby.String())
	assert.Equal(t, "26.6 to 32.4 ft-lb", s.Band.Wrench.String())
	require.NotNil(t, s.Band.Set)
	assert.Equal(t, "22.0 ft-lb", s.Band.Set.Setting.Dial.String())
	assert.Nil(t, s.Nearest)
	assert.Contains(t, flat(coverPlan(t).Text()), "delivers 28.160 ft-lb to 30.556 ft-lb at the fastener")
	var totals []string
	for _, stage := range s.Stages {
		totals = append(totals, stage.Total.Degrees().String())
	}
	assert.Equal(t, []string{"45°", "90°", "135°", "165°"}, totals)
	// Each stage from 2° less to 5° more: 157° to 185° in all.
	assert.Equal(t, "157°", s.Whole.Least().Degrees().String())
	assert.Equal(t, "185°", s.Whole.Most().Degrees().String())
	assert.Empty(t, coverPlan(t).Findings)
}

const snugBand = `"snug": "40 ± 4 N·m",`
const angleWithin = `"within": {"less": "2°", "more": "5°"},`

// Without a tolerance the wrench is set to what is nearest: 29.5025 ft-lb through 4/3 is 22.127, of
// a scale in halves 22.0. Nobody can say whether that is near enough, and the plan says so.
func TestSequenceWithoutTolerances(t *testing.T) {
	plan := coverPlan(t, snugBand, "", angleWithin, "")
	s := plan.Stations[0].Sequence
	assert.Nil(t, s.Band)
	require.NotNil(t, s.Nearest)
	assert.Equal(t, "22.0 ft-lb", s.Nearest.Setting.Dial.String())
	assert.Equal(t, s.Whole.Least(), s.Whole.Most())
	for _, code := range []string{"sequence.snug-without-tolerance", "sequence.turn-without-tolerance"} {
		f := finding(plan, code)
		require.NotNil(t, f, code)
		assert.Equal(t, Caution, f.Level)
		assert.Equal(t, "stations[0].tighten", f.Where)
	}
	text := flat(plan.Text())
	assert.Contains(t, text, "SET 22.0 ft-lb")
	assert.Contains(t, text, "No tolerance of the torque in this job")
	assert.Contains(t, text, "No tolerance of the turns in this job")

	review := coverReview(t, plan)
	assert.Equal(t, Undecided, lineOf(t, review, "stations[0].torque").Verdict)
	l := lineOf(t, review, "stations[0].angle.total")
	assert.Equal(t, Undecided, l.Verdict, "the rules' tolerance of 30° is for canisters")
	assert.Contains(t, l.String(), "why.no-tolerance/turn")
	assert.False(t, review.Complete)
	// What is short or over whatever the tolerance, is.
	assert.Equal(t, Fail, lineOf(t, coverReview(t, plan, `"165°"`, `"120°"`), "stations[0].angle.total").Verdict)
	assert.Equal(t, Fail, lineOf(t, coverReview(t, plan, `"165°"`, `"168°"`), "stations[0].angle.total").Verdict)
}

func TestSequenceWrenches(t *testing.T) {
	const until = `"calibratedUntil": "2026-12-31"`
	plan := coverPlan(t, until, `"calibratedUntil": "2026-10-04"`)
	assert.NotNil(t, finding(plan, "wrench.out-of-calibration"))
	stop := finding(plan, "wrench.none-fits")
	require.NotNil(t, stop)
	assert.Equal(t, "stations[0].tighten", stop.Where)
	assert.Nil(t, plan.Stations[0].Sequence.Band.Set)

	plan = coverPlan(t, snugBand, "", `"highest": "60 ft-lb"`, `"highest": "20 ft-lb"`)
	stop = finding(plan, "wrench.none-fits")
	require.NotNil(t, stop)
	assert.Contains(t, fmt.Sprint(stop.Finding.Values.Get("why-1")), "from=22.127 ft-lb")

	plan = coverPlan(t, `"length": "12 in", `, "")
	assert.Contains(t, fmt.Sprint(finding(plan, "wrench.none-fits").Finding.Values.Get("why-1")), "why.no-wrench/lever")
	assert.Contains(t, flat(plan.Text()), "Through cover key the wrench reads another")
}

// What a shop's unit makes of a torque without a tolerance: as stated in its own unit, at the shop's
// places where it has some, else to half a per cent. 40 N·m is 354.03 in-lb, 4.0789 kgf·m.
func TestNearestInTheShopsUnit(t *testing.T) {
	forty := units.MustParseTorque("40 N·m")
	for _, c := range []struct {
		unit   units.TorqueUnit
		places *int
		want   string
	}{
		{units.NewtonMetre, ptr(2), "40 N·m"}, {units.InchPound, nil, "354 in-lb"}, {units.FootPound, nil, "29.5 ft-lb"},
		{units.FootPound, ptr(0), "30 ft-lb"}, {units.KilogramForceMetre, nil, "4.08 kgf·m"},
	} {
		assert.Equal(t, c.want, nearest(forty, c.unit, c.places).String())
	}
	stated := coverPlan(t, `"torqueUnit": "ft-lb"`, `"torqueUnit": "N·m"`)
	assert.Equal(t, "40 N·m", stated.Stations[0].Sequence.Snug.String())
	assert.Contains(t, flat(stated.Text()), "Snug torque 40 N·m at the fastener: to nearest, from 40 N·m, which is 40 N·m. - On a wrench that reads ft-lb: 29.5 ft-lb. - The snug torque may be 36 to 44 N·m at the fastener")
}

// Where the shop's places leave nothing inside a band, the plan says which band, and plans nothing.
func TestNothingLeftOfABand(t *testing.T) {
	for old, new := range map[string]string{snugBand: `"snug": "40 ± 0.2 N·m",`, "max 25 N·m": "25.1 to 25.2 N·m"} {
		job, err := ReadJob(edited(t, coverAndCap, old, new, `"torqueUnit": "ft-lb"`, `"torqueUnit": "ft-lb", "torquePlaces": 0`))
		require.NoError(t, err)
		_, err = NewPlan(job, Rules{})
		require.ErrorIs(t, err, torque.ErrNothingLeft)
		assert.Regexp(t, `^stations\[(0\]\.tighten\.snug|1\]\.tighten\.seat\.torque): `, err.Error())
	}
}

func TestSequenceSense(t *testing.T) {
	for _, c := range []struct{ hand, view, want string }{
		{"right hand", "from the head side", "counterclockwise"}, {"left hand", "from the head side", "clockwise"},
		{"right hand", "facing the closed end", "clockwise"}, {"right hand", "from beside, closed end down", "to the right"},
	} {
		plan := coverPlan(t, `"thread": "right hand",
        "view": "from the head side"`, `"thread": "`+c.hand+`", "view": "`+c.view+`"`)
		assert.Contains(t, flat(plan.Text()), ">>> "+strings.ToUpper(c.want)+" seen "+c.view)
	}
	assert.NotContains(t, coverPlan(t, `"thread": "right hand",
        "view": "from the head side"`, `"thread": "right hand"`, `,
        "view": "facing the closed end"`, "").Text(), "From where you stand")
}

func TestSequenceAllAsItShouldBe(t *testing.T) {
	review := coverReview(t, coverPlan(t))
	assert.Empty(t, review.Open())
	assert.True(t, review.Complete)
	assert.Equal(t, "want.snug torque=40 N·m band=36 to 44 N·m", lineOf(t, review, "stations[0].torque").Want.String())
	angle := lineOf(t, review, "stations[0].angle.total")
	assert.Equal(t, "want.angle angle=[157° 185°]", angle.Want.String())
	assert.Equal(t, "found.angle/tool angle=165° tool=G-1", angle.Found.String())
}

// 36 to 44 N·m is 26.552 to 32.453 ft-lb: guarded by U of 1.2 a reading passes from 27.752 to 31.253
// (4.2.2; Source: ilac-g8).
func TestSnugLine(t *testing.T) {
	const reading = `"torque": {"value": "29.5 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb", "corrected": true},`
	for _, c := range []struct {
		old, new string
		want     Verdict
		reason   string
	}{
		{`"29.5 ft-lb"`, `"27.76 ft-lb"`, Pass, ""},
		{`"29.5 ft-lb"`, `"31.25 ft-lb"`, Pass, ""},
		{`"29.5 ft-lb"`, `"27.75 ft-lb"`, Fail, "why.next/snug"},
		{`"29.5 ft-lb"`, `"40 ft-lb"`, Fail, "why.outside/above"},
		{`"29.5 ft-lb"`, `"350 in-lb"`, Pass, ""},
		{`, "expanded": "1.2 ft-lb"`, ``, Undecided, "why.torque/no-uncertainty"},
		{`, "corrected": true`, ``, Fail, "why.outside/above"}, // 29.5 on the scale are 39.3 at the fastener
		{`"29.5 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb", "corrected": true`, `"22.2 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb"`, Pass, ""},
		{`"29.5 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb", "corrected": true`, `"21 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb"`, Fail, "why.torque/rejected"}, // 28.0, with U = 1.6
		{`"29.5 ft-lb", "tool": "TW-9", "expanded": "1.2 ft-lb", "corrected": true`, `"266 in-lb", "tool": "TW-9", "expanded": "15 in-lb"`, Undecided, "why.off-scale/unit wrench=TW-9 shows=ft-lb unit=in-lb"},
		{`"tool": "TW-9"`, `"tool": "TW-1"`, Undecided, "why.not-listed/wrench"},
		{reading, ``, NotRecorded, ""},
		{`"dragged": false`, `"dragged": true`, Undecided, "why.dragged/torque"},
	} {
		review := coverReview(t, coverPlan(t), c.old, c.new)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, "snug", l.Code)
		assert.Equal(t, c.want, l.Verdict, "%s: %s", c.new, l.String())
		assert.Contains(t, l.String(), c.reason)
		assert.Equal(t, c.want == Pass, review.Complete, c.new)
	}
}

// The whole passes from 157° to 185°, read by a gauge to 2° from 159° to 183°; by an eye good to 15°
// from 172° to 170°, which is nothing. A stage passes from 43° to 50°, the last from 28° to 35°.
func TestAngleLine(t *testing.T) {
	for _, c := range []struct {
		angle, where string
		want         Verdict
		reason       string
	}{
		{`{"total": "165°", "tool": "G-1", "deviation": "2°"}`, "total", Pass, ""},
		{`{"total": "159°", "tool": "G-1", "deviation": "2°"}`, "total", Pass, ""},
		{`{"total": "158.9°", "tool": "G-1", "deviation": "2°"}`, "total", Undecided, "why.turn/unclear out=2°"},
		{`{"total": "154.9°", "tool": "G-1", "deviation": "2°"}`, "total", Fail, "why.not-turned-on"},
		{`{"total": "183°", "tool": "G-1", "deviation": "2°"}`, "total", Pass, ""},
		{`{"total": "187.1°", "tool": "G-1", "deviation": "2°"}`, "total", Fail, "why.turn/over"},
		{`{"total": "525°", "tool": "G-1", "deviation": "2°"}`, "total", Fail, "why.turn/over"},
		{`{"total": "165°"}`, "total", Undecided, "why.turn/unclear out=15°"},
		{`{"total": "210°"}`, "total", Fail, "why.turn/over"},
		{`{"total": "165°", "tool": "G-1"}`, "total", Undecided, "why.gauge-unknown"},
		{`{"stages": ["45°", "45°", "45°", "30°"], "tool": "G-1", "deviation": "2°"}`, "stages[3]", Pass, ""},
		{`{"stages": ["45°", "50°", "45°", "30°"], "tool": "G-1", "deviation": "2°"}`, "stages[1]", Undecided, ""},
		{`{"stages": ["45°", "90°", "45°", "30°"], "tool": "G-1", "deviation": "2°"}`, "stages[1]", Fail, "why.turn/over"},
		{`{"stages": ["45°", "45°", "45°"], "tool": "G-1", "deviation": "2°"}`, "stages[3]", NotRecorded, ""},
	} {
		review := coverReview(t, coverPlan(t), `{"total": "165°", "tool": "G-1", "deviation": "2°"}`, c.angle)
		l := lineOf(t, review, "stations[0].angle."+c.where)
		assert.Equal(t, c.want, l.Verdict, "%s: %s", c.angle, l.String())
		assert.Contains(t, l.String(), c.reason)
		assert.Equal(t, c.want == Pass, review.Complete, c.angle)
	}
	review := coverReview(t, coverPlan(t), `,
      "angle": {"total": "165°", "tool": "G-1", "deviation": "2°"}`, "")
	assert.Equal(t, NotRecorded, lineOf(t, review, "stations[0].angle").Verdict)

}

const coverGauge = `{"id": "G-1", "calibratedUntil": "2027-03-31"}`

// A torque wrench that shows angles is one of the job's tools, and its calibration is known.
func TestGaugeIsInDate(t *testing.T) {
	wrench := `"calibratedUntil": "2026-12-31"}`
	angleWrench := func(until string) string {
		return wrench + `, {"id": "AW-2", "lowest": "5 ft-lb", "highest": "80 ft-lb", "step": "1 ft-lb", "deviation": "20 %", "calibratedUntil": "` + until + `"}`
	}
	for _, c := range []struct {
		name, tool string
		edits      []string
		want       Verdict
		reason     string
	}{
		{"in date", "G-1", nil, Pass, ""},
		{"last day", "G-1", []string{"2027-03-31", "2026-10-05"}, Pass, ""},
		{"late", "G-1", []string{"2027-03-31", "2026-10-04"}, Undecided, "why.out-of-calibration tool=G-1 until=2026-10-04"},
		{"not listed", "G-2", nil, Undecided, "why.not-listed/gauge"},
		{"no list", "G-2", []string{coverGauge, ""}, Pass, ""},
		{"a wrench", "AW-2", []string{wrench, angleWrench("2026-12-31")}, Pass, ""},
		{"a late wrench", "AW-2", []string{wrench, angleWrench("2026-10-04")}, Undecided, "why.out-of-calibration tool=AW-2 until=2026-10-04"},
	} {
		plan := coverPlan(t, c.edits...)
		l := lineOf(t, coverReview(t, plan, `"tool": "G-1"`, `"tool": "`+c.tool+`"`), "stations[0].angle.total")
		assert.Equal(t, c.want, l.Verdict, c.name)
		assert.Contains(t, l.String(), c.reason, c.name)
		assert.Equal(t, c.name == "late", finding(plan, "gauge.out-of-calibration") != nil, c.name)
	}
}

func TestAdapterIsInDate(t *testing.T) {
	assert.Nil(t, finding(coverPlan(t), "adapter.out-of-calibration"))
	plan := coverPlan(t, `"calibratedUntil": "2026-10-05"`, `"calibratedUntil": "2026-10-04"`)
	late := finding(plan, "adapter.out-of-calibration")
	require.NotNil(t, late)
	assert.Equal(t, "stations[0].tighten.adapter", late.Where)
	assert.Equal(t, Texts{"adapter": "cover key", "until": "2026-10-04", "date": "2026-10-05"}, late.Values)
	l := lineOf(t, coverReview(t, plan), "stations[0].torque")
	assert.Equal(t, Undecided, l.Verdict)
	assert.Contains(t, l.String(), "why.out-of-calibration tool=cover key until=2026-10-04")
}

// A reading passes exactly when all that it may have been lies in the window; by arithmetic in
// thousandths of a degree.
func TestAngleProperty(t *testing.T) {
	plan, rules := coverPlan(t), rulesWith(t)
	rapid.Check(t, func(t *rapid.T) {
		turned := rapid.Int64Range(0, 400_000).Draw(t, "turned")
		out := rapid.Int64Range(1, 90_000).Draw(t, "out")
		at, err := turn.Of(turned, 360_000)
		require.NoError(t, err)
		within, err := turn.Of(out, 360_000)
		require.NoError(t, err)
		done := AsDone{Version: AsDoneVersion, Job: "DOZ-0031", Revision: 1, Date: waste.Date{Year: 2026, Month: 10, Day: 5}, By: "x", Source: "x",
			Stations: []StationDone{{ID: "cover", Angle: &AngleDone{Total: &at, Tool: "G-1", Deviation: within}}}}
		review, err := plan.reviewBy(done, rules)
		require.NoError(t, err)
		want := Undecided
		switch {
		case turned-out >= 157_000 && turned+out <= 185_000:
			want = Pass
		case turned+out < 157_000 || turned-out > 185_000:
			want = Fail
		}
		require.Equal(t, want, lineOf(t, review, "stations[0].angle.total").Verdict)
	})
}

const (
	theSequence = `"sequence": "40 N·m then 45° + 45° + 45° + 30°",`
	theSeat     = `"seat": {"gap": "between cap and housing", "torque": "max 25 N·m", "stopTurns": "5 1/2 turns"},`
)

var badWays = []struct {
	name, old, new, path string
	want                 error
}{
	{"sequence and torque", theSequence, theSequence + `"torque": "36 to 44 N·m",`, "stations[0].tighten", errContradiction},
	{"sequence and turn", theSequence, theSequence + `"turn": "1/4 turn after snug",`, "stations[0].tighten", errContradiction},
	{"seat and sequence", theSeat, theSeat + theSequence, "stations[1].tighten", errContradiction},
	{"seat and printed", theSeat, theSeat + `"printed": "150-230 in-lb (17-26 N·m)",`, "stations[1].tighten", errContradiction},
	{"no way", theSeat, ``, "stations[1].tighten", errContradiction},
	{"no turns", `then 45° + 45° + 45° + 30°`, ``, "stations[0].tighten.sequence", units.ErrRange},
	{"no unit of the torque", `40 N·m then`, `40 then`, "stations[0].tighten.sequence", units.ErrNoUnit},
	{"no unit of a turn", `45° + 30°`, `45° + 30`, "stations[0].tighten.sequence", units.ErrNoUnit},
	{"a turn of nothing", `45° + 30°`, `45° + 0°`, "stations[0].tighten.sequence", units.ErrRange},
	{"a negative torque", `40 N·m then`, `-40 N·m then`, "stations[0].tighten.sequence", units.ErrRange},
	{"thirteen turns", `then 45°`, `then 1°` + strings.Repeat(" + 1°", 12) + ` + 45°`, "stations[0].tighten.sequence", units.ErrRange},
	{"a long sequence", `then 45°`, `then ` + strings.Repeat("9", 10<<10) + `°`, "stations[0].tighten.sequence", units.ErrRange},
	{"a number", `"40 N·m then 45° + 45° + 45° + 30°"`, `40`, "stations[0].tighten.sequence", errType},
	{"a list", `"40 N·m then 45° + 45° + 45° + 30°"`, `["40 N·m", "45°"]`, "stations[0].tighten.sequence", errType},
	{"snug elsewhere", `40 ± 4 N·m`, `50 ± 4 N·m`, "stations[0].tighten.snug", errContradiction},
	{"snug without tolerance", `40 ± 4 N·m`, `40 N·m`, "stations[0].tighten.snug", nil},
	{"snug of no sequence", theSequence, `"torque": "36 to 44 N·m",`, "stations[0].tighten.snug", errContradiction},
	{"a tolerance of nothing", `{"less": "2°", "more": "5°"}`, `{"less": "0°", "more": "0°"}`, "stations[0].tighten.within", units.ErrRange},
	{"less than nothing left", `{"less": "2°", "more": "5°"}`, `{"less": "30°", "more": "5°"}`, "stations[0].tighten.within.less", units.ErrRange},
	{"half a tolerance", `{"less": "2°", "more": "5°"}`, `{"less": "2°"}`, "stations[0].tighten.within.more", errMissingField},
	{"a tolerance past all turns", `{"less": "2°", "more": "5°"}`, `{"less": "2°", "more": "99 turns"}`, "stations[0].tighten.within", units.ErrRange},
	{"marks beside a sequence", theSequence, theSequence + `"marks": {"labels": ["A", "B"], "order": "clockwise", "index": "x", "view": "from the head side"},`, "stations[0].tighten.marks", errContradiction},
	{"contact beside a sequence", theSequence, theSequence + `"contactTurns": "4 turns",`, "stations[0].tighten.contactTurns", errContradiction},
	{"a gasket beside a sequence", theSequence, theSequence + `"gasket": "4 mm",`, "stations[0].tighten.gasket", errContradiction},
	{"an unknown view", `"from the head side"`, `"from above"`, "stations[0].tighten.view", units.ErrSyntax},
	{"no gap", `"gap": "between cap and housing", `, ``, "stations[1].tighten.seat.gap", errMissingField},
	{"an empty gap", `"between cap and housing"`, `""`, "stations[1].tighten.seat.gap", errMissingField},
	{"a gap that doesn't print", `"between cap and housing"`, `"\u001b[2J"`, "stations[1].tighten.seat.gap", units.ErrSyntax},
	{"one torque at the stop", `max 25 N·m`, `25 N·m`, "stations[1].tighten.seat.torque", nil},
	{"no turns to the stop", `5 1/2 turns`, `0 turns`, "stations[1].tighten.seat.stopTurns", units.ErrRange},
	{"unknown field of a seat", `"gap":`, `"depth": "1 mm", "gap":`, "stations[1].tighten.seat.depth", errUnknownField},
	{"a seat as text", `{"gap": "between cap and housing", "torque": "max 25 N·m", "stopTurns": "5 1/2 turns"}`, `"metal to metal"`, "stations[1].tighten.seat", errType},
	{"contact beside a seat", theSeat, theSeat + `"contactTurns": "4 turns",`, "stations[1].tighten.contactTurns", errContradiction},
	{"a gasket beside a seat", theSeat, theSeat + `"gasket": "4 mm",`, "stations[1].tighten.gasket", errContradiction},
	{"snug beside a seat", theSeat, theSeat + snugBand, "stations[1].tighten.snug", errContradiction},
	{"within beside a seat", theSeat, theSeat + angleWithin, "stations[1].tighten.within", errContradiction},
	{"marks beside a seat", theSeat, theSeat + `"marks": {"labels": ["A", "B"], "order": "clockwise", "index": "x", "view": "from the head side"},`, "stations[1].tighten.marks", errContradiction},
	{"an adapter beside a seat without a torque", theSeat, `"seat": {"gap": "between cap and housing"}, "adapter": {"name": "key", "lever": {"offset": "1 in", "angle": "0 °"}},`, "stations[1].tighten.adapter", errContradiction},
	{"or until seated beside a sequence", theSequence, theSequence + `"orSeated": true,`, "stations[0].tighten.orSeated", errContradiction},
	{"or until seated beside a seat", theSeat, theSeat + `"orSeated": true,`, "stations[1].tighten.orSeated", errContradiction},
	{"a view beside a torque", theSeat, `"torque": "20 to 25 N·m",`, "stations[1].tighten.view", errContradiction},
}

func TestBadWaysToTighten(t *testing.T) {
	for _, c := range badWays {
		_, err := ReadJob(edited(t, coverAndCap, c.old, c.new))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		var paths []string
		for _, one := range all {
			paths = append(paths, one.Path)
			assert.LessOrEqual(t, len(one.Error()), 600, c.name)
		}
		assert.Contains(t, paths, c.path, "%s: %v", c.name, err)
		if c.want != nil {
			assert.ErrorIs(t, err, c.want, c.name)
		}
	}
	_, err := ReadJob(edited(t, coverAndCap, theSequence, `"turn": "1/4 turn after snug",`))
	var all JobErrors
	require.ErrorAs(t, err, &all)
	require.Len(t, all, 4, "snug, within, seen and adapter, all at once: %v", err)
}

// A job made in Go is held to the same.
func TestWaysMadeInGo(t *testing.T) {
	for name, spoil := range map[string]func(*Tighten){
		"snug": func(t *Tighten) { t.Snug = torque.MustParseBand("1 to 2 N·m") },
		"view": func(t *Tighten) { t.View = turn.View(99) },
	} {
		job, err := ReadJob([]byte(coverAndCap))
		require.NoError(t, err)
		spoil(&job.Stations[0].Tighten)
		_, err = NewPlan(job, Rules{})
		assert.ErrorContains(t, err, "stations[0].tighten."+name)
	}
	job, err := ReadJob([]byte(coverAndCap))
	require.NoError(t, err)
	job.Stations[0].Tighten.Sequence = turn.Sequence{} // is left out
	assert.ErrorContains(t, job.Check(), "stations[0].tighten: none of torque, printed, turn, sequence and seat is given")
}

func TestBadReadingsOfNewWays(t *testing.T) {
	const angle = `{"total": "165°", "tool": "G-1", "deviation": "2°"}`
	for _, c := range []struct {
		old, new, path string
		want           error
	}{
		{angle, `{}`, "stations[0].angle", errContradiction},
		{angle, `{"total": "165°", "stages": ["45°"]}`, "stations[0].angle", errContradiction},
		{angle, `{"total": "165°", "deviation": "2°"}`, "stations[0].angle.deviation", errContradiction},
		{angle, `{"total": "165°", "tool": "G", "deviation": "0°"}`, "stations[0].angle.deviation", units.ErrRange},
		{angle, `{"total": "165°", "tool": "G", "deviation": "180°"}`, "stations[0].angle.deviation", units.ErrRange},
		{angle, `{"total": "165"}`, "stations[0].angle.total", units.ErrNoUnit},
		{angle, `{"stages": ["45°", 45]}`, "stations[0].angle.stages[1]", errType},
		{`"stopTurns": "5 1/2 turns"`, `"stopTurns": "5.5"`, "stations[1].stopTurns", units.ErrNoUnit},
	} {
		_, err := ReadAsDone(edited(t, coverAndCapDone, c.old, c.new))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.new)
		assert.Equal(t, c.path, all[0].Path, err)
		assert.ErrorIs(t, err, c.want)
	}
	plan := coverPlan(t)
	bare := coverPlan(t, theSeat, `"seat": {"gap": "between cap and housing"},`)
	for _, c := range []struct {
		plan           *Plan
		old, new, path string
	}{
		{plan, angle, `{"stages": ["45°", "45°", "45°", "30°", "1°"]}`, "stations[0].angle.stages"},
		{plan, angle, `{"total": "100 turns"}`, "stations[0].angle"},
		{plan, `"angle": ` + angle, `"turned": "165°"`, "stations[0].turned"},
		{plan, `"angle": ` + angle, `"seated": true`, "stations[0].seated"},
		{plan, `"angle": ` + angle, `"pastStop": true`, "stations[0].pastStop"},
		{plan, `"angle": ` + angle, `"stopTurns": "3 turns"`, "stations[0].stopTurns"},
		{plan, `"angle": ` + angle, `"contactTurns": "3 turns"`, "stations[0].contactTurns"},
		{plan, `"stopTurns": "5 1/2 turns"`, `"angle": ` + angle, "stations[1].angle"},
		{plan, `"stopTurns": "5 1/2 turns"`, `"contactTurns": "5 turns"`, "stations[1].contactTurns"},
		{plan, `"stopTurns": "5 1/2 turns"`, `"turned": "5 turns"`, "stations[1].turned"},
		{bare, `"strokes": 110`, `"strokes": 110`, "stations[1].torque"},
	} {
		done, err := ReadAsDone(edited(t, coverAndCapDone, c.old, c.new))
		require.NoError(t, err, c.new)
		_, err = c.plan.reviewBy(done, rulesWith(t))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.new)
		assert.Equal(t, c.path, all[0].Path, err)
		assert.ErrorIs(t, err, all[0].Err)
	}
}

// Whatever was read of the two stations: the record is read back and gives the same bytes.
func TestRecordOfNewWaysProperty(t *testing.T) {
	plan, rules := coverPlan(t), rulesWith(t)
	rapid.Check(t, func(t *rapid.T) {
		truth := func(name string) *bool {
			return rapid.SampledFrom([]*bool{nil, ptr(true), ptr(false)}).Draw(t, name)
		}
		cover := StationDone{ID: "cover", Dragged: truth("dragged"), Torque: anyTorque(t, "snug")}
		if n := rapid.IntRange(0, 5).Draw(t, "stages"); n == 5 {
			total := turn.MustOf(rapid.Int64Range(0, 800).Draw(t, "total"), 360)
			cover.Angle = &AngleDone{Total: &total}
		} else if n > 0 {
			cover.Angle = &AngleDone{Tool: "G", Deviation: turn.MustOf(1, 360)}
			for range n {
				cover.Angle.Stages = append(cover.Angle.Stages, turn.MustOf(rapid.Int64Range(0, 90).Draw(t, "stage"), 360))
			}
		}
		cap := StationDone{ID: "cap", Dragged: truth("dragged 2"), Seated: truth("seated"), PastStop: rapid.Bool().Draw(t, "past"), Torque: anyTorque(t, "stop")}
		if n := rapid.Int64Range(0, 40).Draw(t, "quarters"); n > 0 {
			cap.StopTurns = ptr(turn.MustOf(n, 4))
		}
		done := AsDone{Version: AsDoneVersion, Job: "DOZ-0031", Revision: 1, Date: waste.Date{Year: 2026, Month: 10, Day: 5}, By: "x", Source: "x",
			Stations: []StationDone{cover, cap}}
		review, err := plan.reviewBy(done, rules)
		require.NoError(t, err)
		require.False(t, review.Complete, "nobody looked for leaks")
		text, err := review.Record()
		require.NoError(t, err)
		record, err := ReadRecord(text)
		require.NoError(t, err)
		again, err := record.Review()
		require.NoError(t, err)
		rewritten, err := again.Record()
		require.NoError(t, err)
		require.Equal(t, string(text), string(rewritten))
	})
}

func anyTorque(t *rapid.T, name string) *TorqueReading {
	value := rapid.IntRange(0, 60000).Draw(t, name)
	if value == 0 {
		return nil
	}
	r := &TorqueReading{Tool: "TW-9", Value: milli(value), Corrected: rapid.Bool().Draw(t, name+" corrected")}
	if u := rapid.IntRange(0, 4000).Draw(t, name+" U"); u > 0 {
		r.Expanded = milli(u)
	}
	return r
}

// The stages add up: in every plan the last total is the sum, and the whole's limits are the sums
// of the stages' limits.
func TestStagesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stages []turn.Turn
		sum := new(big.Rat)
		n := int64(rapid.IntRange(1, 12).Draw(t, "stages"))
		for range n {
			stage := turn.MustOf(rapid.Int64Range(11, 360).Draw(t, "degrees"), 360)
			stages = append(stages, stage)
			sum.Add(sum, stage.Rat())
		}
		less, more := rapid.Int64Range(0, 10).Draw(t, "less"), rapid.Int64Range(1, 10).Draw(t, "more")
		sequence, err := turn.NewSequence(units.NewtonMetre.Of(40), stages...)
		require.NoError(t, err)
		plans, whole, err := Tighten{Sequence: sequence, Within: &TurnTolerance{Less: turn.MustOf(less, 360), More: turn.MustOf(more, 360)}}.stages()
		require.NoError(t, err)
		require.Zero(t, plans[n-1].Total.Rat().Cmp(sum))
		least, most := new(big.Rat).Sub(sum, big.NewRat(n*less, 360)), new(big.Rat).Add(sum, big.NewRat(n*more, 360))
		require.Zero(t, whole.Least().Rat().Cmp(least), fmt.Sprint(whole))
		require.Zero(t, whole.Most().Rat().Cmp(most), fmt.Sprint(whole))
	})
}
