package service

import (
	_ "embed"
	"encoding/json"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Readings of the job in bench.json, all of them as they should be; invented.
//
//go:embed testdata/asdone.json
var benchDone string

//go:embed testdata/rules.json
var benchRules string

func rulesWith(t testing.TB, edits ...string) Rules {
	t.Helper()
	rules, err := ReadRules([]byte(strings.NewReplacer(edits...).Replace(benchRules)))
	require.NoError(t, err)
	return rules
}

func doneWith(t testing.TB, edits ...string) AsDone {
	t.Helper()
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, benchDone, edits[i], "the edit finds its place")
	}
	done, err := ReadAsDone([]byte(strings.NewReplacer(edits...).Replace(benchDone)))
	require.NoError(t, err)
	return done
}

func reviewWith(t testing.TB, edits ...string) Review {
	t.Helper()
	review, err := benchPlan(t).reviewBy(doneWith(t, edits...), rulesWith(t))
	require.NoError(t, err)
	return review
}

func lineOf(t require.TestingT, r Review, where string) Line {
	for _, l := range r.Lines {
		if l.Where == where {
			return l
		}
	}
	require.Fail(t, "no such line", where)
	return Line{}
}

const (
	asTorqued = `"torque": {"value": "21 N·m", "tool": "W-1", "expanded": "1.2 N·m"},
      "seated": true,`
	asSeen = `"marks": {"before": {"mark": "S"}, "after": {"mark": "W"}, "passes": 0},`
)

// torqued is the edit for another torque, and for what was seen of the seat.
func torqued(value, expanded, more string) []string {
	text := ""
	if value != "" {
		text = `"torque": {"value": "` + value + `", "tool": "W-1"`
		if expanded != "" {
			text += `, "expanded": "` + expanded + `"`
		}
		text += "},"
	}
	if more != "" {
		text += more + ","
	}
	return []string{asTorqued, text}
}

func TestAllAsItShouldBe(t *testing.T) {
	review := reviewWith(t)
	assert.True(t, review.Complete)
	assert.Empty(t, review.Open())
	for _, l := range review.Lines {
		assert.NotEmpty(t, l.String(), l.Where)
		assert.NotEmpty(t, l.Want.Code, l.Where)
		assert.NotEmpty(t, l.Sources, l.Where)
		if l.Needed {
			assert.Contains(t, []Verdict{Pass, Seated}, l.Verdict, l.String())
		}
	}
}

// The band is 16.948 to 25.986 N·m. Rules: Source: ilac-g8. Seat, drag and
// stop: common practice, no source.
func TestTorqueLine(t *testing.T) {
	const seated, open = `"seated": true`, `"seated": false`
	for _, c := range []struct {
		name, rule, value, u, more string
		want                       Verdict
		reason                     string
	}{
		{"inside by more than U", "guarded by U", "21 N·m", "1 N·m", seated, Pass, ""},
		{"inside, seat not written", "guarded by U", "21 N·m", "1 N·m", "", Pass, ""},
		{"inside, gap open", "guarded by U", "21 N·m", "1 N·m", open, Undecided, "why.gap-open/torque"},
		{"just inside by U", "guarded by U", "160 in-lb", "10 in-lb", "", Pass, ""},
		{"not quite by U", "guarded by U", "160 in-lb", "10.001 in-lb", "", Fail, "why.torque/rejected"},
		{"low, seen seated", "guarded by U", "160 in-lb", "20 in-lb", seated, Seated, "why.seated/torque verdict=fail; why.torque/rejected"},
		{"below, seen seated", "guarded by U", "12 N·m", "1 N·m", seated, Seated, "why.outside/below"},
		{"below", "guarded by U", "12 N·m", "1 N·m", "", Fail, "why.outside/below"},
		{"below, gap open", "guarded by U", "12 N·m", "1 N·m", open, Fail, "why.outside/below"},
		{"above, seen seated", "guarded by U", "27 N·m", "1 N·m", seated, Fail, "why.outside/above"},
		{"near the high limit, seen seated", "guarded by U", "25.5 N·m", "1 N·m", seated, Fail, "why.torque/rejected"},
		{"U not known", "guarded by U", "21 N·m", "", "", Undecided, "why.torque/no-uncertainty"},
		{"U not known, seen seated", "guarded by U", "21 N·m", "", seated, Seated, "why.torque/no-uncertainty"},
		{"U not known, outside", "guarded by U", "27 N·m", "", "", Fail, "why.outside-whatever-U/above"},
		{"U not known, outside, non-binary", "non-binary", "26.1 N·m", "", "", Undecided, "why.torque/no-uncertainty"},
		{"U not known, above, non-binary, seated", "non-binary", "26.1 N·m", "", seated, Undecided, "why.torque/no-uncertainty"},
		{"U not known, simple", "simple acceptance", "21 N·m", "", "", Pass, ""},
		{"on the limit, simple", "simple acceptance", "230 in-lb", "", "", Pass, ""},
		{"a hair above, simple", "simple acceptance", "230.0000000000000000000000001 in-lb", "", "", Fail, "why.outside/above"},
		{"conditional pass", "non-binary", "25.5 N·m", "1 N·m", "", Undecided, "why.torque/conditionally-accepted"},
		{"conditional fail", "non-binary", "26.5 N·m", "1 N·m", seated, Undecided, "why.torque/conditionally-rejected"},
		{"U wider than the band", "guarded by U", "21 N·m", "8 N·m", "", Undecided, "why.torque/inconclusive rule=guarded by U; why.no-acceptance-zone"},
		{"95 % in a wide band", "guarded for 95 %", "25 N·m", "1 N·m", "", Pass, ""},
		{"unit slip", "guarded by U", "20 in-lb", "1 in-lb", "", Fail, "why.unit-slip"},
		{"past its stop", "guarded by U", "21 N·m", "1 N·m", seated + `, "pastStop": true`, Fail, "why.past-stop/torque"},
		{"nothing read, seen seated", "guarded by U", "", "", seated, Seated, "why.not-recorded"},
		{"nothing read, gap open", "guarded by U", "", "", open, NotRecorded, ""},
		{"nothing read", "guarded by U", "", "", "", NotRecorded, ""},
	} {
		plan := benchPlan(t, `"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "orSeated": true`)
		review, err := plan.reviewBy(doneWith(t, torqued(c.value, c.u, c.more)...), rulesWith(t, "guarded by U", c.rule))
		require.NoError(t, err, c.name)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, c.want, l.Verdict, "%s: %s", c.name, l.String())
		assert.Contains(t, l.String(), c.reason, c.name)
		assert.Equal(t, c.want == Pass || c.want == Seated, !contains(review.Open(), "stations[0].torque"), c.name)
	}
}

// U at another coverage factor is taken at k = 2 (U = k·u; Source: jcgm-100): 160 in-lb is inside the band of
// 150 to 230 in-lb by 10 in-lb, which is 15 in-lb at k = 3 and 5 in-lb at k = 1. The same through an adapter.
func TestCoverageFactorOfAReading(t *testing.T) {
	for _, c := range []struct {
		u, k string
		want Verdict
		says string
	}{
		{"15 in-lb", "3", Pass, "U=15 in-lb k=3 "}, {"15.001 in-lb", "3.00", Fail, "k=3.00 "},
		{"5 in-lb", "1", Pass, "k=1 "}, {"5.001 in-lb", "1", Fail, "k=1 "},
		{"10 in-lb", "2", Pass, "k=2 "}, {"10 in-lb", "", Pass, "k=2 "}, {"10.001 in-lb", "", Fail, "k=2 "},
		{"12.5 in-lb", "2.5", Pass, "k=2.5 "}, {"12.501 in-lb", "2.5", Fail, "k=2.5 "},
	} {
		edit := torqued("160 in-lb", c.u, "")
		if c.k != "" {
			edit[1] = strings.Replace(edit[1], "},", `, "k": "`+c.k+`"},`, 1)
		}
		l := lineOf(t, reviewWith(t, edit...), "stations[0].torque")
		assert.Equal(t, c.want, l.Verdict, "%s at %s: %s", c.u, c.k, l.String())
		assert.Contains(t, l.Found.String(), c.says)
	}
	lever := &Adapter{Lever: &torque.Adapter{Offset: units.MustParseLength("75 mm"), Angle: units.Degree.Of(0)}}
	at, unfit := throughLever(TorqueReading{Value: units.MustParseTorque("20 N·m"), Expanded: units.MustParseTorque("1 N·m"), K: "3"}, units.MustParseLength("300 mm"), lever)
	require.Empty(t, unfit)
	for _, reading := range at.read {
		assert.True(t, reading.Expanded.Equal(units.MustParseTorque("1.25 N·m")), reading.Expanded.String())
		assert.Equal(t, "3", reading.K)
	}
}

// A reading that can't be judged says nothing for the high limit either: a gap that was seen closed
// doesn't make up for it.
func TestSeatDoesNotMakeUpForAnUnfitReading(t *testing.T) {
	late := strings.Replace(wide, "2026-12-31", "2026-03-08", 1)
	for reason, edits := range map[string][]string{
		"why.out-of-calibration": withWrenches(late),
		"why.not-listed/wrench":  withWrenches(strings.Replace(wide, `"W-1"`, `"W-2"`, 1)),
		"why.lever-unknown":      {`"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "adapter": {"name": "claw", "lever": {"offset": "40 mm", "angle": "0°"}}`},
	} {
		plan := benchPlan(t, edits...)
		plan.Job.Stations[0].Tighten.OrSeated = true
		plan.Stations[0].Station.Tighten.OrSeated = true
		review, err := plan.reviewBy(doneWith(t), rulesWith(t))
		require.NoError(t, err, reason)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, Undecided, l.Verdict, l)
		assert.Contains(t, l.String(), reason)
		assert.Equal(t, Seated, lineOf(t, review, "stations[0].seated").Verdict)
		assert.False(t, review.Complete)
	}
}

// 190 in-lb is 21.5 N·m, in the band: the slip to ask about is one between what wrenches read, and
// not the deciNewton metre, in which it fits too.
func TestSlipsOfTheTradeComeFirst(t *testing.T) {
	review, err := benchPlan(t).reviewBy(doneWith(t, torqued("190 N·m", "1 N·m", "")...), rulesWith(t))
	require.NoError(t, err)
	assert.Contains(t, lineOf(t, review, "stations[0].torque").String(), "why.unit-slip units=[in-lb]")
}

func contains(lines []Line, where string) bool {
	for _, l := range lines {
		if l.Where == where {
			return true
		}
	}
	return false
}

// A bowl that drags is cross-threaded, or its seal has rolled (common practice, no source).
func TestDragSpoilsTheTorque(t *testing.T) {
	review := reviewWith(t, "\"id\": \"1\",\n      \"dragged\": false", "\"id\": \"1\",\n      \"dragged\": true")
	assert.Equal(t, Fail, lineOf(t, review, "stations[0].dragged").Verdict)
	assert.Equal(t, Undecided, lineOf(t, review, "stations[0].torque").Verdict)
	assert.False(t, review.Complete)

	review = reviewWith(t, "\"id\": \"2\",\n      \"dragged\": false", "\"id\": \"2\",\n      \"dragged\": true")
	assert.Equal(t, Undecided, lineOf(t, review, "stations[1].marks").Verdict)
}

// A stop takes the place of a band only where the job says so.
func TestSeatedOnlyWhereTheJobSaysSo(t *testing.T) {
	for _, c := range []struct {
		value string
		want  Verdict
	}{{"12 N·m", Fail}, {"", NotRecorded}, {"21 N·m", Pass}} {
		review := reviewWith(t, torqued(c.value, "1 N·m", `"seated": true`)...)
		assert.Equal(t, c.want, lineOf(t, review, "stations[0].torque").Verdict, c.value)
		assert.Equal(t, Seated, lineOf(t, review, "stations[0].seated").Verdict)
		assert.Equal(t, c.want == Pass, review.Complete)
	}
	assert.NotContains(t, benchPlan(t).Text(), "GAP CLOSED ALL ROUND? Stop there")
	assert.Contains(t, benchPlan(t, `"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "orSeated": true`).Text(), "GAP CLOSED ALL ROUND? Stop there")
}

func TestToolOfTheJob(t *testing.T) {
	wrenches := func(until string) string {
		return `"panHolds": "10 L", "wrenches": [{"id": "W-1", "lowest": "10 N·m", "highest": "60 N·m", "step": "0.5 N·m",
			"deviation": "4 %", "calibratedUntil": "` + until + `"}]`
	}
	for until, want := range map[string]Verdict{"2026-03-09": Pass, "2026-03-08": Undecided} {
		plan := benchPlan(t, `"panHolds": "10 L"`, wrenches(until))
		review, err := plan.reviewBy(doneWith(t, torqued("21 N·m", "1 N·m", "")...), rulesWith(t))
		require.NoError(t, err)
		assert.Equal(t, want, lineOf(t, review, "stations[0].torque").Verdict, until)
	}
	plan := benchPlan(t, `"panHolds": "10 L"`, strings.Replace(wrenches("2026-12-31"), "W-1", "W-2", 1))
	review, err := plan.reviewBy(doneWith(t, torqued("21 N·m", "1 N·m", "")...), rulesWith(t))
	require.NoError(t, err)
	assert.Contains(t, lineOf(t, review, "stations[0].torque").String(), "why.not-listed/wrench")
}

// What a wrench shows through an adapter isn't the torque at the fastener, which follows from the
// lever: 30 lb-ft on a 12 in wrench with a 4 in adapter straight on deliver 40. Source: tm-9-2350-277.
// The review takes what the sheet asks for.
func TestReadingThroughAnAdapter(t *testing.T) {
	const tool = `{"id": "W-1", "lowest": "10 ft-lb", "highest": "60 ft-lb", "step": "1 ft-lb", "deviation": "1 %", "length": "12 in", "calibratedUntil": "2026-12-31"}`
	band := func(text, adapter string) []string {
		return []string{`"torque": "150 to 230 in-lb"`, `"torque": "` + text + `", "adapter": {"name": "claw", ` + adapter + `}`}
	}
	straight, square, strap := `"lever": {"offset": "4 in", "angle": "0°"}`, `"lever": {"offset": "4 in", "angle": "90°"}`, `"kind": "strap wrench"`
	noLength := strings.Replace(tool, `"length": "12 in", `, "", 1)
	for _, c := range []struct {
		name, tool, band, adapter, value, more string
		want                                   Verdict
		reason, asked                          string
	}{
		{"worked out, on the limit", tool, "40 to 44 ft-lb", straight, "30 ft-lb", ``, Pass, "", "read __ ft-lb"},
		{"worked out, below", tool, "40.001 to 44 ft-lb", straight, "30 ft-lb", ``, Fail, "why.outside/below", "read __ ft-lb"},
		{"worked out, above", tool, "36 to 39 ft-lb", straight, "30 ft-lb", ``, Fail, "why.outside/above", "read __ ft-lb"},
		{"in the band on the scale alone", tool, "29 to 31 ft-lb", straight, "30 ft-lb", ``, Fail, "why.outside/above", "read __ ft-lb"},
		{"corrected already", tool, "29 to 31 ft-lb", straight, "30 ft-lb", `, "corrected": true`, Pass, "", "read __ ft-lb"},
		{"the lever stays", tool, "29 to 31 ft-lb", square, "30 ft-lb", ``, Pass, "", "read __ ft-lb"},
		{"the lever stays, of any length", noLength, "29 to 31 ft-lb", square, "30 ft-lb", ``, Pass, "", "read __ ft-lb"},
		{"no length", noLength, "40 to 44 ft-lb", straight, "30 ft-lb", ``, Undecided, "why.lever-unknown", "at the fastener __"},
		{"no length, corrected already", noLength, "40 to 44 ft-lb", straight, "42 ft-lb", `, "corrected": true`, Pass, "", "at the fastener __"},
		{"strap", tool, "29 to 31 ft-lb", strap, "30 ft-lb", ``, Undecided, "why.no-lever", ""},
		{"strap, corrected by somebody", tool, "29 to 31 ft-lb", strap, "30 ft-lb", `, "corrected": true`, Undecided, "why.no-lever", ""},
	} {
		plan := benchPlan(t, append(withWrenches(c.tool), band(c.band, c.adapter)...)...)
		edit := torqued(c.value, "", "")
		edit[1] = strings.Replace(edit[1], "}", c.more+"}", 1)
		review, err := plan.reviewBy(doneWith(t, edit...), rulesWith(t, "guarded by U", "simple acceptance"))
		require.NoError(t, err)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, c.want, l.Verdict, "%s: %s", c.name, l.String())
		assert.Contains(t, l.String(), c.reason, c.name)
		blank := ""
		for _, it := range section(plan.Sheet(), "record", "").Items {
			if it.Code == "record.torque" {
				blank = it.Words
			}
		}
		if asked := c.asked; plan.Stations[0].Torque.Set != nil {
			assert.Contains(t, blank, "set to __ ft-lb ☐ clicked", c.name)
		} else {
			assert.Contains(t, blank, asked, c.name)
		}
		assert.Equal(t, c.asked == "", blank == "", c.name)
	}
}

// section is a part of a sheet by its code, and the station where it has one.
func section(s Sheet, code, station string) Section {
	for _, part := range s.Sections {
		if part.Code == code && part.Station == station {
			return part
		}
	}
	return Section{}
}

// A strap or chain wrench has no fixed lever, and so no setting, whatever it is called (common practice,
// no source; package torque refuses it too).
func TestStrapWrenchGetsNoSetting(t *testing.T) {
	for kind, adapter := range map[string]string{
		"strap wrench": `{"name": "no. 3", "kind": "strap wrench"}`, "chain wrench": `{"name": "no. 4", "kind": "chain wrench"}`} {
		plan := benchPlan(t, append(withWrenches(wide), `"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "adapter": `+adapter)...)
		assert.Nil(t, plan.Stations[0].Torque.Set, kind)
		stop := finding(plan, "adapter.no-lever")
		require.NotNil(t, stop, kind)
		assert.Equal(t, Stop, stop.Level)
		assert.Equal(t, kind, stop.Values["kind"])
		assert.Equal(t, "stations[0].tighten.adapter", stop.Where)
		assert.NotContains(t, plan.Text(), "wrench W-1: set")
	}
	for adapter, path := range map[string]string{
		`{"name": "x", "kind": "strap wrench", "lever": {"offset": "1 in", "angle": "0°"}}`: "stations[0].tighten.adapter.lever",
		`{"name": "x", "kind": "strap"}`:                     "stations[0].tighten.adapter.kind",
		`{"name": "strap wrench", "lever": {"angle": "0°"}}`: "stations[0].tighten.adapter.lever.offset",
		`{"name": "x", "lever": {"offset": "1 in"}}`:         "stations[0].tighten.adapter.lever.angle",
		`{"name": "x"}`: "stations[0].tighten.adapter.lever",
	} {
		_, err := ReadJob([]byte(strings.Replace(bench, `"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "adapter": `+adapter, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, adapter)
		assert.Equal(t, path, all[0].Path, err)
		assert.Len(t, all, 1, err)
	}
}

// What a wrench can't have shown isn't judged: a unit that isn't on its scale, or a torque off it.
// Arithmetic: 185.9 in-lb are 21 N·m, and neither is asked to be the other.
func TestReadingTheWrenchCannotShow(t *testing.T) {
	both := strings.Replace(wide, `"step"`, `"alsoShows": ["in-lb"], "step"`, 1)
	for _, c := range []struct {
		tool, value string
		want        Verdict
		reason      string
	}{
		{wide, "21 N·m", Pass, ""},
		{wide, "186 in-lb", Undecided, "why.off-scale/unit wrench=W-1 shows=N·m unit=in-lb"},
		{both, "186 in-lb", Pass, ""},
		{both, "15 ft-lb", Undecided, "why.off-scale/unit"},
		{wide, "60.5 N·m", Undecided, "why.off-scale/above torque=60.5 N·m wrench=W-1 end=60 N·m"},
		{wide, "60 N·m", Fail, "why.outside/above"},
		{wide, "9.9 N·m", Undecided, "why.off-scale/below torque=9.9 N·m wrench=W-1 end=10 N·m"},
		{wide, "10 N·m", Fail, "why.outside/below"},
	} {
		plan := benchPlan(t, append(withWrenches(c.tool), `"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "orSeated": true`)...)
		review, err := plan.reviewBy(doneWith(t, torqued(c.value, "", "")...), rulesWith(t, "guarded by U", "simple acceptance"))
		require.NoError(t, err)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, c.want, l.Verdict, "%s: %s", c.value, l.String())
		assert.Contains(t, l.String(), c.reason, c.value)
		if c.want == Undecided {
			review, err = plan.reviewBy(doneWith(t, torqued(c.value, "", `"seated": true`)...), rulesWith(t, "guarded by U", "simple acceptance"))
			require.NoError(t, err)
			assert.Equal(t, Undecided, lineOf(t, review, "stations[0].torque").Verdict, "a closed gap doesn't make up for it")
		}
	}
	_, err := ReadJob([]byte(strings.NewReplacer(withWrenches(strings.Replace(wide, `"step"`, `"alsoShows": ["bar"], "step"`, 1))...).Replace(bench)))
	assert.ErrorContains(t, err, "shop.wrenches[0].alsoShows[0]")
}

// 3/4 turn from S is W on the invented ring. The eye is good to 15°, the
// tolerance is 30°.
func TestTurnLine(t *testing.T) {
	for _, c := range []struct {
		name, marks string
		want        Verdict
		reason      string
	}{
		{"on the mark", asSeen, Pass, ""},
		{"15° past", `"marks": {"before": {"mark": "S"}, "after": {"mark": "W", "past": "15°"}, "passes": 0},`, Pass, ""},
		{"16° past", `"marks": {"before": {"mark": "S"}, "after": {"mark": "W", "past": "16°"}, "passes": 0},`, Undecided, ""},
		{"46° past", `"marks": {"before": {"mark": "S"}, "after": {"mark": "W", "past": "46°"}, "passes": 0},`, Fail, "why.turn/over-gasket"},
		{"short", `"marks": {"before": {"mark": "S"}, "after": {"mark": "N"}, "passes": 0},`, Fail, "why.in-doubt/ran; why.not-turned-on"},
		{"between marks", `"marks": {"before": {"between": ["S", "E"]}, "after": {"between": ["W", "S"]}, "passes": 0},`, Pass, "why.turn/in-the-window; why.other-mark mark=S"},
		{"between marks, a share of the gap", `"marks": {"before": {"mark": "S"}, "after": {"between": ["S", "W"], "share": "5/6"}, "passes": 0},`, Pass, ""},
		{"a quarter of a gap from where it was expected", `"marks": {"before": {"between": ["E", "S"], "share": "3/4"}, "after": {"mark": "W", "past": "1/16 turn"}, "passes": 0},`, Pass, "why.turn/in-the-window"},
		{"once round too far", `"marks": {"before": {"mark": "S"}, "after": {"mark": "W"}, "passes": 1},`, Fail, "why.turn/over-gasket"},
		{"passes not counted", `"marks": {"before": {"mark": "S"}, "after": {"mark": "W"}},`, Undecided, "why.rounds-not-counted"},
		{"counted without marks", `"turned": "3/4 turn",`, Pass, ""},
		{"counted, too far", `"turned": "1 turn",`, Fail, "why.turn/over-gasket"},
		{"not written down", ``, NotRecorded, ""},
		{"another mark than expected", `"marks": {"before": {"mark": "E"}, "after": {"mark": "S"}, "passes": 0},`, Pass, "why.turn/in-the-window; why.other-mark mark=S"},
	} {
		review := reviewWith(t, asSeen, c.marks)
		l := Line{}
		for _, l = range review.Lines {
			if l.Code == "turn" {
				break
			}
		}
		assert.Equal(t, c.want, l.Verdict, "%s: %s", c.name, l.String())
		assert.Contains(t, l.String(), c.reason, c.name)
	}
}

// One turn without a range leaves nothing to pass within, and nobody's tolerance is made up.
func TestTurnWithoutTolerance(t *testing.T) {
	rules := rulesWith(t)
	rules.Turn = nil
	review, err := benchPlan(t).reviewBy(doneWith(t), rules)
	require.NoError(t, err)
	l := lineOf(t, review, "stations[1].marks")
	assert.Equal(t, Undecided, l.Verdict)
	assert.Contains(t, l.String(), "why.no-tolerance/turn")
}

// A canister on 1-14 UNS that is expected after 4 1/2 turns and meets its head after 2 1/4 has met
// a second gasket: 2 1/4 turns are 4.08 mm (lead 25.4/14 mm; Source: asme-b1-1; the rest common practice,
// no source).
func TestContactAudit(t *testing.T) {
	stated := []string{`"turn": "3/4 turn after gasket contact",`,
		`"turn": "3/4 turn after gasket contact", "stud": "1-14 UNS", "canister": "1-14 UNS", "contactTurns": "4 1/2 turns", "gasket": "4 mm",`}
	for _, c := range []struct {
		counted string
		want    Verdict
		reason  string
	}{
		{`"contactTurns": "4 1/2 turns",`, Pass, ""},
		{`"contactTurns": "2 1/4 turns",`, Fail, "why.contact/second-gasket-likely turns=2 1/4 turns"},
		{`"contactTurns": "6 3/4 turns",`, Fail, "why.contact/gasket-likely-missing"},
		{``, NotRecorded, ""},
	} {
		review, err := benchPlan(t, stated...).reviewBy(doneWith(t, asSeen, asSeen+c.counted), rulesWith(t))
		require.NoError(t, err)
		l := lineOf(t, review, "stations[1].contactTurns")
		assert.Equal(t, c.want, l.Verdict, l.String())
		assert.Contains(t, l.String(), c.reason)
		assert.Equal(t, c.want == Pass, review.Complete)
	}
	for _, l := range reviewWith(t, asSeen, asSeen+`"contactTurns": "9 turns",`).Lines {
		assert.NotEqual(t, "contact", l.Code, "not audited where the job expects nothing")
	}
}

// A job with everything that is needed can still have gone otherwise than planned: each of these is a
// line that isn't a pass, in the text, in the record and among the departures, and keeps no job open.
func TestNeededAndAsPlannedAreTwoThings(t *testing.T) {
	const (
		noWater = `"dragged": false,
      "torque"`
		water = `"dragged": false, "water": {"volume": {"low": "160 mL", "best": "170 mL", "high": "180 mL", "from": "measured"}, "at": "20 °C"},
      "torque"`
		all     = `{"stream": "wet element", "station": "1", "mass": {"low": "0.28 kg", "best": "0.28 kg", "high": "0.28 kg", "from": "weighed"}}`
		element = `{"stream": "wet element", "station": "2", "mass": {"low": "1 kg", "best": "1 kg", "high": "1 kg", "from": "weighed"}}`
		dirty   = `{"stream": "fuel-water mix", "station": "1", "mass": {"low": "50 g", "best": "60 g", "high": "70 g", "from": "weighed"}}`
	)
	plan := benchPlan(t, `"leastFlashPoint": "52 °C"`, `"leastFlashPoint": "80 °C"`, `"out": {"low": "1.5 L"`, `"water": {"low": "20 mL", "best": "60 mL", "high": "150 mL", "from": "assumed"}, "out": {"low": "1.5 L"`)
	good := strings.NewReplacer(all, all+","+element+","+dirty, noWater, strings.NewReplacer("160", "50", "170", "60", "180", "70").Replace(water)).Replace(benchDone)
	judge := func(name string, edits ...string) Review {
		for i := 0; i < len(edits); i += 2 {
			require.Contains(t, good, edits[i], name)
		}
		done, err := ReadAsDone([]byte(strings.NewReplacer(edits...).Replace(good)))
		require.NoError(t, err, name)
		review, err := plan.reviewBy(done, rulesWith(t))
		require.NoError(t, err, name)
		return review
	}
	review := judge("as planned")
	assert.True(t, review.Complete && review.AsPlanned, "%v %v", review.Open(), review.Departures())

	for name, c := range map[string]struct{ old, new, where, reason string }{
		"key cycles over plan":   {`"keyCycles": 3`, `"keyCycles": 9`, "keyCycles", "why.count/more; why.look-for"},
		"a crank over its limit": {`[{"crank": "8 s"}]`, `[{"crank": "16 s"}]`, "cranks[0].crank", "why.crank/long"},
		"a short rest":           {`[{"crank": "8 s"}]`, `[{"crank": "8 s"}, {"rest": "1 min", "crank": "8 s"}]`, "cranks[1].rest", "why.crank/rest"},
		"a rest not timed":       {`[{"crank": "8 s"}]`, `[{"crank": "8 s"}, {"crank": "8 s"}]`, "cranks[1].rest", "why.not-recorded"},
		"too many attempts":      {`[{"crank": "8 s"}]`, `[{"crank": "1 s"}, {"rest": "3 min", "crank": "1 s"}, {"rest": "3 min", "crank": "1 s"}]`, "cranks", "why.crank/often"},
		"4 L where 0.75 was planned": {`"low": "0.7 L", "best": "0.75 L", "high": "0.8 L"`, `"low": "4 L", "best": "4 L", "high": "4 L"`,
			"stations[1].out", "why.expected/more"},
		"water beyond its range":        {"50 mL\", \"best\": \"60 mL\", \"high\": \"70 mL", "160 mL\", \"best\": \"170 mL\", \"high\": \"180 mL", "stations[0].water", "why.expected/more"},
		"twice the estimate":            {`"low": "1 kg", "best": "1 kg", "high": "1 kg"`, `"low": "2 kg", "best": "2 kg", "high": "2 kg"`, "weights[2]", "why.expected/more"},
		"twice the estimate on a scale": {`"mass": {"low": "1 kg", "best": "1 kg", "high": "1 kg"`, `"scale": {"low": "2 kg", "best": "2 kg", "high": "2 kg"`, "weights[2]", "why.expected/more"},
		"a weight left out":             {"," + element, "", "weights", "why.not-recorded"},
	} {
		review := judge(name, c.old, c.new)
		l := lineOf(t, review, c.where)
		for _, l = range review.Departures() {
			if l.Where == c.where {
				break
			}
		}
		assert.Equal(t, c.where, l.Where, name)
		assert.False(t, l.Needed, name)
		assert.Contains(t, l.String(), c.reason, name)
		assert.True(t, review.Complete, name)
		assert.False(t, review.AsPlanned, name)
		text, err := review.Record()
		require.NoError(t, err)
		assert.Contains(t, string(text), `"asPlanned":false`, name)
		record, err := ReadRecord(text)
		require.NoError(t, err)
		assert.Equal(t, review.AsPlanned, record.AsPlanned)
		_, err = ReadRecord([]byte(strings.Replace(string(text), `"asPlanned":false`, `"asPlanned":true`, 1)))
		assert.ErrorIs(t, err, ErrAltered, name)
	}
	open := judge("open and otherwise", `"keyCycles": 3`, `"keyCycles": 9`, `{"what": "battery", "restored": true},`, "")
	assert.False(t, open.Complete || open.AsPlanned)
	assert.Equal(t, "restored", open.Open()[0].Where)
	assert.True(t, contains(open.Departures(), "keyCycles"))
}

// What a scale shows of a solid stands for every mass that a density from 500 to 9000 kg/m³ makes of it:
// the conventional formula (Source: oiml-d28), in fractions of its own here. It passes where all of
// the bracket lies in the plan, fails where none does, and is undecided and says what to give between.
func TestSolidsAreBracketed(t *testing.T) {
	mass := func(grams, density int64) *big.Rat { // R·(1 - 1.2/8000)/(1 - 1.2/density), in kg
		m := big.NewRat(grams, 1000)
		m.Mul(m, big.NewRat(80000-12, 80000))
		return m.Quo(m, big.NewRat(10*density-12, 10*density))
	}
	const element = `"mass": {"low": "0.28 kg", "best": "0.28 kg", "high": "0.28 kg", "from": "weighed"}`
	for shown, want := range map[string]Verdict{"200": Undecided, "201": Pass, "280": Pass, "360": Pass, "361": Undecided, "362": Fail, "199": Fail} {
		review := reviewWith(t, element, strings.NewReplacer("mass", "scale", "0.28 kg", shown+" g").Replace(element))
		l, total := lineOf(t, review, "weights[1]"), review.Totals[1]
		grams, _ := strconv.ParseInt(shown, 10, 64)
		plan := benchPlan(t).Waste[1].Mass
		low, high := mass(grams, 9000), mass(grams, 500)
		within := low.Cmp(plan.Low.RatIn(units.Kilogram)) >= 0 && high.Cmp(plan.High.RatIn(units.Kilogram)) <= 0
		assert.Equal(t, want == Pass, within, shown)
		assert.Equal(t, want, l.Verdict, "%s g: %v", shown, l)
		assert.Equal(t, want == Undecided, strings.Contains(l.String(), "why.lift-unknown"), shown)
		assert.Equal(t, ByScale, total.Basis)
		assert.Equal(t, low.FloatString(9), total.Mass.Low.RatIn(units.Kilogram).FloatString(9))
		assert.Equal(t, mass(grams, 1000).FloatString(9), total.Mass.Best.RatIn(units.Kilogram).FloatString(9))
		assert.Equal(t, high.FloatString(9), total.Mass.High.RatIn(units.Kilogram).FloatString(9))
		assert.Equal(t, "total.air/any low=500 kg/m³ high=9000 kg/m³", total.Notes[0].String())
	}
}

func TestIsolationBlocksCompletion(t *testing.T) {
	for edit, want := range map[string]Verdict{
		`{"what": "battery", "restored": true},`:  NotRecorded,
		`{"what": "battery", "restored": false},`: Fail,
	} {
		with := ""
		if want == Fail {
			with = edit
		}
		review := reviewWith(t, `{"what": "battery", "restored": true},`, with)
		assert.False(t, review.Complete)
		open := review.Open()
		require.Len(t, open, 1)
		assert.Equal(t, want, open[0].Verdict)
		assert.Equal(t, "battery", open[0].Want.Values.Get("what"))
	}
}

const dryBoth = `"leaks": {"priming": false, "hot": false}`

func TestLeaks(t *testing.T) {
	for _, c := range []struct {
		old, new, where string
		want            Verdict
	}{
		{dryBoth, `"leaks": {"priming": false, "hot": true}`, "stations[0].leaks.hot", Fail},
		{dryBoth, `"leaks": {"priming": true, "hot": false}`, "stations[1].leaks.priming", Fail},
		{dryBoth, `"leaks": {"priming": false, "running": true, "hot": false}`, "stations[0].leaks.running", Fail},
		{dryBoth, `"leaks": {"priming": false}`, "stations[0].leaks.hot", NotRecorded},
		{dryBoth, `"leaks": {"hot": false}`, "stations[1].leaks.priming", NotRecorded},
	} {
		review := reviewWith(t, c.old, c.new)
		assert.Equal(t, c.want, lineOf(t, review, c.where).Verdict)
		assert.False(t, review.Complete)
	}
	running := doneWith(t, dryBoth, `"leaks": {"priming": false, "running": false, "hot": false}`)
	for needed, rules := range map[bool]Rules{false: rulesWith(t), true: rulesWith(t, `"eye"`, `"needs": {"leakRunning": true}, "eye"`)} {
		review, err := benchPlan(t).reviewBy(doneWith(t), rules)
		require.NoError(t, err)
		assert.Equal(t, !needed, review.Complete, "asked for where the rules need it")
		review, err = benchPlan(t).reviewBy(running, rules)
		require.NoError(t, err)
		assert.True(t, review.Complete)
		assert.Equal(t, Pass, lineOf(t, review, "stations[1].leaks.running").Verdict)
	}
}

// Warm fuel: 1.5 L at 60 °C is 1.4545 L at 15 °C from the densities 807.77 (computed;
// Source: oracle-fuel) and 840 kg/m³, so 1.5 L read at 15 °C is more than the plan expects.
func TestVolumesKeepTheirTemperature(t *testing.T) {
	at := func(best, temperature string) []string {
		return []string{`"out": {"volume": {"low": "1.5 L", "best": "1.5 L", "high": "1.5 L", "from": "measured"}, "at": "60 °C"}`,
			`"out": {"volume": {"low": "` + best + `", "best": "` + best + `", "high": "` + best + `", "from": "measured"}, "at": "` + temperature + `"}`}
	}
	for _, c := range []struct {
		best, at string
		want     Verdict
	}{
		{"1.5 L", "60 °C", Pass}, {"1500 mL", "140 °F", Pass}, {"1.5 L", "15 °C", Fail}, {"1.5 L", "59.9 °C", Fail},
		{"1.4999999999999999 L", "60 °C", Fail}, {"1.4 L", "60 °C", Fail},
	} {
		review := reviewWith(t, at(c.best, c.at)...)
		assert.Equal(t, c.want, lineOf(t, review, "stations[0].out").Verdict, "%s at %s", c.best, c.at)
		assert.True(t, review.Complete, "a volume keeps no job open")
	}
	review := reviewWith(t, `"low": "0.7 L", "best": "0.75 L", "high": "0.8 L"`, `"low": "0.7 L", "best": "0.9 L", "high": "1.1 L"`)
	assert.Equal(t, Undecided, lineOf(t, review, "stations[1].out").Verdict)
}

func TestPrimingLines(t *testing.T) {
	for n, want := range map[string]Verdict{"1": Undecided, "2": Pass, "4": Pass, "5": Fail} {
		review := reviewWith(t, `"keyCycles": 3`, `"keyCycles": `+n)
		assert.Equal(t, want, lineOf(t, review, "keyCycles").Verdict, n)
		assert.True(t, review.Complete)
	}
	for _, c := range []struct {
		cranks, where string
		want          Verdict
	}{
		{`[{"crank": "10 s"}]`, "cranks[0].crank", Pass},
		{`[{"crank": "15.001 s"}]`, "cranks[0].crank", Fail},
		{`[{"crank": "8 s"}, {"rest": "2 min", "crank": "8 s"}]`, "cranks[1].rest", Pass},
		{`[{"crank": "8 s"}, {"rest": "119 s", "crank": "8 s"}]`, "cranks[1].rest", Fail},
		{`[{"crank": "8 s"}, {"crank": "8 s"}]`, "cranks[1].rest", NotRecorded},
		{`[{"crank": "8 s"}, {"rest": "2 min", "crank": "8 s"}, {"rest": "2 min", "crank": "8 s"}]`, "cranks", Fail},
		{`[]`, "cranks", NotRecorded},
	} {
		review := reviewWith(t, `[{"crank": "8 s"}]`, c.cranks)
		assert.Equal(t, c.want, lineOf(t, review, c.where).Verdict, c.cranks)
	}
}

// A scale in air shows less than the mass (Source: oiml-d28): the two are never mixed.
func TestWeightsAreNamed(t *testing.T) {
	const scale = `"scale": {"low": "1.80 kg", "best": "1.82 kg", "high": "1.84 kg", "from": "weighed"}`
	review := reviewWith(t)
	assert.Equal(t, "want.scale", lineOf(t, review, "weights[0]").Want.Code)
	assert.Equal(t, ByScale, review.Totals[0].Basis)
	back, err := drain.ScaleReading(review.Totals[0].Mass.Best, fuelDensity(t))
	require.NoError(t, err)
	assert.Equal(t, "1.8200000000 kg", back.RoundIn(units.Kilogram, 10, units.ToNearestEven).String())

	review = reviewWith(t, scale, strings.Replace(scale, "scale", "mass", 1))
	assert.Equal(t, "want.mass", lineOf(t, review, "weights[0]").Want.Code)
	assert.Equal(t, ByMass, review.Totals[0].Basis)
	assert.Equal(t, "1.82 kg", review.Totals[0].Mass.Best.String())

	element := `"mass": {"low": "0.28 kg", "best": "0.28 kg", "high": "0.28 kg", "from": "weighed"}`
	review = reviewWith(t, element, strings.Replace(element, "mass", "scale", 1))
	l := lineOf(t, review, "weights[1]")
	assert.Equal(t, Pass, l.Verdict)
	assert.Equal(t, "found.scale", l.Found.Code)
	assert.Equal(t, "any", l.Found.Variant)
	assert.Equal(t, ByScale, review.Totals[1].Basis)

	review = reviewWith(t, element, strings.Replace(element, "mass", "scale", 1)+`, "density": "1500 kg/m³"`)
	assert.Equal(t, Pass, lineOf(t, review, "weights[1]").Verdict)
	assert.Equal(t, ByScale, review.Totals[1].Basis)
}

func fuelDensity(t testing.TB) units.Density {
	fuel, err := drain.FuelAt(units.MustParse[units.DensityUnit]("840 kg/m³"), units.MustParseTemperature("15 °C"))
	require.NoError(t, err)
	d, err := fuel.DensityAt(units.MustParseTemperature("60 °C"))
	require.NoError(t, err)
	return d
}

const fuelWeight = `{"stream": "drained fuel", "scale": {"low": "1.80 kg", "best": "1.82 kg", "high": "1.84 kg", "from": "weighed"}},`

func TestTotalsTakeTheFirmestFigure(t *testing.T) {
	review := reviewWith(t, fuelWeight, "")
	total := review.Totals[0]
	assert.Equal(t, ByVolume, total.Basis)
	assert.Equal(t, drain.Measured, total.Mass.From)
	density := fuelDensity(t).RatIn(units.KilogramPerLitre)
	want, err := units.FromRat(density.Mul(density, big.NewRat(9, 4)), units.Kilogram, 6, units.ToNearestEven)
	require.NoError(t, err)
	assert.Equal(t, want.String(), total.Mass.Best.RoundIn(units.Kilogram, 6, units.ToNearestEven).String(), "1.5 L and 0.75 L")

	review = reviewWith(t, fuelWeight, "", "\"seated\": true,\n      \"out\": {\"volume\": {\"low\": \"1.5 L\", \"best\": \"1.5 L\", \"high\": \"1.5 L\", \"from\": \"measured\"}, \"at\": \"60 °C\"}", `"seated": true`)
	assert.Equal(t, ByPart, review.Totals[0].Basis)
	assert.Equal(t, "total.part read=1 all=2", review.Totals[0].Notes[0].String())
}

// posted is an entry as it is put down: who and when are invented.
func posted(e waste.Entry) waste.Posting {
	return waste.Posting{At: time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC), By: "Ann", Entry: &e}
}

// The totals are entries that a ledger takes, undetermined until their generator says otherwise.
func TestTotalsGoIntoTheLedger(t *testing.T) {
	var ledger waste.Ledger
	review := reviewWith(t)
	for _, e := range review.Entries() {
		for _, want := range []bool{true, false} { // the same entry twice counts once
			isNew, err := ledger.Add(posted(e))
			require.NoError(t, err)
			assert.Equal(t, want, isNew)
		}
		assert.Equal(t, waste.Undetermined, e.Determination)
	}
	month, err := ledger.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet())
	require.NoError(t, err)
	sum, _ := units.Sum(units.Kilogram, review.Totals[0].Mass.Best, review.Totals[1].Mass.Best, review.Totals[2].Mass.Best)
	assert.True(t, sum.Equal(month.Undetermined.Best))
	assert.Equal(t, []waste.Stream{waste.DrainedFuel, waste.WetElement, waste.WetElement},
		[]waste.Stream{review.Totals[0].Stream, review.Totals[1].Stream, review.Totals[2].Stream})
}

// What a waste is called has no part in which stream it belongs to: a field says that.
func TestStreamIsAField(t *testing.T) {
	job := benchPlan(t).Job
	mass, err := drain.PlusMinus(units.Gram.Of(300), units.Gram.Of(100), drain.Assumed)
	require.NoError(t, err)
	job.Waste.Other = []WasteItem{
		{What: "used element of an air filter", Mass: mass},
		{What: "fuel-wet water from the tank", Stream: waste.FuelWaterMix, Mass: mass},
		{What: "wipes", Stream: waste.Absorbents, Mass: mass},
	}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	review, err := plan.reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	n := len(review.Totals)
	for i, want := range []waste.Stream{waste.OtherWaste, waste.FuelWaterMix, waste.Absorbents} {
		total := review.Totals[n-3+i]
		assert.Equal(t, want, total.Stream)
		assert.Equal(t, AsPlanned, total.Basis, "no reading of a station is of it")
		assert.Equal(t, mass, total.Mass)
	}

	job.Waste.Other[0].Stream = 200
	assert.ErrorContains(t, job.Check(), "waste.other[0].stream")
	for _, twice := range []string{"wipes", "drained fuel", "wet element", "fuel-water mix"} {
		job.Waste.Other[0] = WasteItem{What: twice, Mass: mass}
		job.Waste.Other[2].What = "wipes"
		assert.ErrorIs(t, job.Check(), errContradiction, twice)
	}
}

func TestNothingReadIsNothingPassed(t *testing.T) {
	done := AsDone{Version: AsDoneVersion, Job: "T-1", Revision: 1, Date: waste.Date{Year: 2026, Month: 3, Day: 9}, By: "x", Source: "x"}
	review, err := benchPlan(t).reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.False(t, review.Complete)
	for _, l := range review.Lines {
		assert.Equal(t, NotRecorded, l.Verdict, l.Where)
	}
}

var badReadings = []struct {
	name, old, new, path string
	want                 error
}{
	{"unknown field", `"by": "invented"`, `"by": "invented", "mood": "good"`, "mood", errUnknownField},
	{"given twice", `"by": "invented"`, `"by": "invented", "by": "x"`, "by", errDuplicateField},
	{"nobody vouches", `"by": "invented"`, `"by": ""`, "by", errMissingField},
	{"no source", `"source": "invented readings",`, ``, "source", errMissingField},
	{"newer version", `"version": 1`, `"version": 2, "novelty": 1`, "version", ErrNewerVersion},
	{"no unit", `"value": "21 N·m"`, `"value": "21"`, "stations[0].torque.value", units.ErrNoUnit},
	{"a number", `"value": "21 N·m"`, `"value": 30`, "stations[0].torque.value", errType},
	{"negative torque", `"value": "21 N·m"`, `"value": "-21 N·m"`, "stations[0].torque.value", units.ErrRange},
	{"U of zero", `"expanded": "1.2 N·m"`, `"expanded": "0 N·m"`, "stations[0].torque.expanded", units.ErrRange},
	{"k below one", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "0.9"`, "stations[0].torque.k", units.ErrRange},
	{"k above ten", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "10.1"`, "stations[0].torque.k", units.ErrRange},
	{"k in words", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "two"`, "stations[0].torque.k", units.ErrRange},
	{"k with a comma", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "2,5"`, "stations[0].torque.k", units.ErrRange},
	{"k with an exponent", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "2e0"`, "stations[0].torque.k", units.ErrRange},
	{"k with a sign", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "+2"`, "stations[0].torque.k", units.ErrRange},
	{"half a k", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": "2."`, "stations[0].torque.k", units.ErrRange},
	{"k as a number", `"expanded": "1.2 N·m"`, `"expanded": "1.2 N·m", "k": 2.5`, "stations[0].torque.k", errType},
	{"k without U", `"expanded": "1.2 N·m"`, `"k": "2"`, "stations[0].torque.k", errContradiction},
	{"no tool", `"tool": "W-1"`, `"tool": ""`, "stations[0].torque.tool", errMissingField},
	{"station twice", `"id": "2"`, `"id": "1"`, "stations[1].id", errContradiction},
	{"negative passes", `"passes": 0`, `"passes": -1`, "stations[1].marks.passes", units.ErrRange},
	{"half a cycle", `"keyCycles": 3`, `"keyCycles": 2.5`, "keyCycles", units.ErrRange},
	{"negative cycles", `"keyCycles": 3`, `"keyCycles": -1`, "keyCycles", units.ErrRange},
	{"marks and turned", `"passes": 0},`, `"passes": 0}, "turned": "3/4 turn",`, "stations[1]", errContradiction},
	{"a volume without its temperature", `0.8 L", "from": "measured"}, "at": "60 °C"}`, `0.8 L", "from": "measured"}}`, "stations[1].out.at", errMissingField},
	{"volume out of order", `"low": "0.7 L"`, `"low": "0.9 L"`, "stations[1].out.volume", drain.ErrOrder},
	{"negative volume", `"low": "0.7 L"`, `"low": "-0.7 L"`, "stations[1].out.volume", drain.ErrNegative},
	{"mass and scale", `"scale": {`, `"mass": {"low": "1 kg", "best": "1 kg", "high": "1 kg", "from": "weighed"}, "scale": {`, "weights[0]", errContradiction},
	{"neither mass nor scale", `, "mass": {"low": "0.28 kg", "best": "0.28 kg", "high": "0.28 kg", "from": "weighed"}`, ``, "weights[1]", errContradiction},
	{"a weight that wasn't weighed", `"high": "1.84 kg", "from": "weighed"`, `"high": "1.84 kg", "from": "assumed"`, "weights[0].scale.from", errContradiction},
	{"density of a mass", `"high": "0.28 kg", "from": "weighed"}`, `"high": "0.28 kg", "from": "weighed"}, "density": "1 g/mL"`, "weights[1].density", errContradiction},
	{"density of air", `"high": "1.84 kg", "from": "weighed"}`, `"high": "1.84 kg", "from": "weighed"}, "density": "1 kg/m³"`, "weights[0].density", units.ErrRange},
	{"weight twice", `"stream": "wet element", "station": "1"`, `"stream": "drained fuel"`, "weights[1]", errContradiction},
	{"restored twice", `"what": "automatic start"`, `"what": "battery"`, "restored[1].what", errContradiction},
	{"rest before the first", `[{"crank": "8 s"}]`, `[{"rest": "2 min", "crank": "8 s"}]`, "cranks[0].rest", errContradiction},
	{"cranked for no time", `[{"crank": "8 s"}]`, `[{"crank": "0 s"}]`, "cranks[0].crank", units.ErrRange},
	{"an escape sequence", `"invented readings"`, `"\u001b[2J"`, "source", units.ErrSyntax},
	{"broken", `"keyCycles"`, `keyCycles`, "", ErrJSON},
	{"a long text", `"invented readings"`, `"` + strings.Repeat("x", 2<<20) + `"`, "", ErrSize},
}

func TestBadReadings(t *testing.T) {
	for _, c := range badReadings {
		require.Contains(t, benchDone, c.old, c.name)
		done, err := ReadAsDone([]byte(strings.Replace(benchDone, c.old, c.new, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		var paths []string
		for _, one := range all {
			paths = append(paths, one.Path)
			assert.LessOrEqual(t, len(one.Error()), 600, c.name)
		}
		assert.Contains(t, paths, c.path, "%s: %v", c.name, err)
		assert.ErrorIs(t, err, c.want, c.name)
		assert.Empty(t, done.Stations, c.name)
	}
	_, err := ReadAsDone([]byte(benchDone + "{}"))
	assert.ErrorIs(t, err, ErrJSON)
	assert.ErrorContains(t, err, "unexpected data after the object", "readings are no job")
}

func TestAllReadingErrorsAtOnce(t *testing.T) {
	text := strings.NewReplacer(`"value": "21 N·m"`, `"value": "21"`, `"keyCycles": 3`, `"keyCycles": -1`, `"by": "invented"`, `"by": "", "mood": 1`).Replace(benchDone)
	_, err := ReadAsDone([]byte(text))
	var all JobErrors
	require.ErrorAs(t, err, &all)
	assert.Len(t, all, 4)
}

// Readings that are fine by themselves and belong to no line of this plan.
func TestReadingsOfAnotherJob(t *testing.T) {
	for _, c := range []struct{ name, old, new, path string }{
		{"job", `"job": "T-1"`, `"job": "T-2"`, "job"},
		{"revision", `"revision": 1`, `"revision": 2`, "revision"},
		{"station", `"id": "2"`, `"id": "3"`, "stations[1].id"},
		{"waste", `"stream": "drained fuel"`, `"stream": "absorbents"`, "weights[0]"},
		{"waste of no station", `"station": "1", "mass"`, `"station": "9", "mass"`, "weights[1]"},
		{"isolation", `"what": "battery"`, `"what": "batteries"`, "restored[0].what"},
		{"mark", `"mark": "W"`, `"mark": "F"`, "stations[1].marks.after.mark"},
		{"torque on a turn", asSeen, `"torque": {"value": "21 N·m", "tool": "W-1"},`, "stations[1].torque"},
		{"seat on a turn", asSeen, `"seated": true,`, "stations[1].seated"},
		{"turn on a torque", `"seated": true`, `"turned": "3/4 turn"`, "stations[0].turned"},
		{"marks on a torque", `"seated": true`, strings.TrimSuffix(asSeen, ","), "stations[0].marks"},
		{"contact on a torque", `"seated": true`, `"contactTurns": "3 turns"`, "stations[0].contactTurns"},
		{"strokes of no primer", `"keyCycles": 3`, `"strokes": 3`, "strokes"},
		{"boiling water", `"seated": true`, `"water": {"volume": {"low": "1 L", "best": "1 L", "high": "1 L", "from": "measured"}, "at": "200 °C"}`, "stations[0].water"},
		{"out of the tables", `"high": "1.5 L", "from": "measured"}, "at": "60 °C"`, `"high": "1.5 L", "from": "measured"}, "at": "200 °C"`, "stations[0].out.at"},
	} {
		review, err := benchPlan(t).reviewBy(doneWith(t, c.old, c.new), rulesWith(t))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		assert.Equal(t, c.path, all[0].Path, "%s: %v", c.name, err)
		assert.Empty(t, review.Lines, c.name)
	}
}

func TestBadRules(t *testing.T) {
	for _, c := range []struct{ name, old, new, path string }{
		{"no such rule", "guarded by U", "by feel", "torque"},
		{"no rule", `"torque": "guarded by U",`, ``, "torque"},
		{"a perfect eye", `"eye": "15°"`, `"eye": "0°"`, "eye"},
		{"no eye at all", `"eye": "15°"`, `"eye": "180°"`, "eye"},
		{"a perfect count", `"count": "1/4 turn"`, `"count": "0°"`, "count"},
		{"no name", "invented shop rules", "", "name"},
		{"nobody's tolerance", `"source": "invented"`, `"source": ""`, "turn.source"},
		{"unknown field", `"eye"`, `"eyes": "2", "eye"`, "eyes"},
	} {
		require.Contains(t, benchRules, c.old, c.name)
		_, err := ReadRules([]byte(strings.Replace(benchRules, c.old, c.new, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		assert.Equal(t, c.path, all[0].Path, c.name)
	}
	_, err := benchPlan(t).reviewBy(doneWith(t), Rules{})
	assert.ErrorIs(t, err, errMissingField, "none of the rules has a default")
	assert.ErrorContains(t, err, "rules: the plan was made without any")
	_, err = NewPlan(benchPlan(t).Job, Rules{Version: RulesVersion, Name: "x"})
	assert.ErrorContains(t, err, "rules.eye", "half of them is not none")
	assert.Error(t, Rules{Version: RulesVersion, Name: "x", Torque: torque.Rule(99), Eye: turn.MustOf(1, 24), Count: turn.MustOf(1, 4)}.Check())
}

func TestRulesRoundTrip(t *testing.T) {
	rules := rulesWith(t)
	text, err := json.Marshal(rules)
	require.NoError(t, err)
	again, err := ReadRules(text)
	require.NoError(t, err)
	assert.Equal(t, rules, again)
	for _, rule := range rules.says() {
		assert.Regexp(t, `^[a-z.-]+$`, rule.Code)
		assert.NotEmpty(t, rule.Sources, rule)
	}
}

// By 4.2.2 (Source: ilac-g8), in fractions: a reading passes by low+U <= value <= high-U; what
// no rule can know, without U, never passes inside the band and fails outside it.
func TestGuardedByUProperty(t *testing.T) {
	plan, rules := benchPlan(t), rulesWith(t)
	band := plan.Stations[0].Torque.Stated
	low, high := band.Low().RatIn(units.NewtonMetre), band.High().RatIn(units.NewtonMetre)
	rapid.Check(t, func(t *rapid.T) {
		value, u := rapid.IntRange(12000, 32000).Draw(t, "value"), rapid.IntRange(0, 4000).Draw(t, "U")
		reading := &TorqueReading{Tool: "W", Value: milli(value)}
		if u > 0 {
			reading.Expanded = milli(u)
		}
		x, guard := big.NewRat(int64(value), 1000), big.NewRat(int64(u), 1000)
		inside := new(big.Rat).Sub(x, guard).Cmp(low) >= 0 && new(big.Rat).Add(x, guard).Cmp(high) <= 0
		want := Fail
		switch {
		case inside && u > 0:
			want = Pass
		case inside:
			want = Undecided
		}
		done := AsDone{Version: AsDoneVersion, Job: "T-1", Revision: 1, Date: waste.Date{Year: 2026, Month: 3, Day: 9}, By: "x", Source: "x",
			Stations: []StationDone{{ID: "1", Torque: reading}}}
		review, err := plan.reviewBy(done, rules)
		require.NoError(t, err)
		require.Equal(t, want, lineOf(t, review, "stations[0].torque").Verdict)

		done.Stations[0].Seated = ptr(true)
		review, err = plan.reviewBy(done, rules)
		require.NoError(t, err)
		if seated := lineOf(t, review, "stations[0].torque").Verdict; seated == Seated {
			require.LessOrEqual(t, x.Cmp(high), 0, "a bowl is never seated above its band")
		}
	})
}

// reviewBy judges by rules that the plan wasn't made with, so that one plan serves many of them.
func (p *Plan) reviewBy(done AsDone, rules Rules) (Review, error) {
	by := *p
	by.Rules = rules
	return by.Review(done)
}

// A weight is known by its stream and its station, and by its name only where two wastes share these.
func TestWhichWasteWasWeighed(t *testing.T) {
	job := benchPlan(t).Job
	mass := job.Stations[0].Element.Dry
	mass.From = drain.Weighed
	job.Waste.Other = []WasteItem{{What: "wipes", Stream: waste.Absorbents, Mass: mass}, {What: "mats", Stream: waste.Absorbents, Mass: mass}}
	plan, err := NewPlan(job, rulesWith(t))
	require.NoError(t, err)
	for _, c := range []struct {
		weights []Weight
		path    string
	}{
		{[]Weight{{Stream: waste.Absorbents, What: "mats"}}, ""},
		{[]Weight{{Stream: waste.Absorbents, What: "mats"}, {Stream: waste.Absorbents, What: "wipes"}}, ""},
		{[]Weight{{Stream: waste.Absorbents}}, "weights[0].what"},
		{[]Weight{{Stream: waste.Absorbents, What: "rags"}}, "weights[0]"},
		{[]Weight{{Stream: waste.WetElement}}, "weights[0]"},
		{[]Weight{{Stream: waste.WetElement, Station: "1"}, {Stream: waste.WetElement, Station: "1", What: "wet element"}}, "weights[1]"},
		{[]Weight{{}}, "weights[0].stream"},
	} {
		done := doneWith(t)
		done.Weights = nil
		for _, w := range c.weights {
			w.Mass = mass
			done.Weights = append(done.Weights, w)
		}
		review, err := plan.Review(done)
		assert.Equal(t, c.path, strings.Join(pathsOf(t, err), " "))
		if c.path == "" {
			at := slices.IndexFunc(review.Totals, func(t WasteTotal) bool { return t.What == "mats" })
			assert.Equal(t, ByMass, review.Totals[at].Basis)
		}
	}
}
