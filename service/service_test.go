package service

import (
	_ "embed"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// The common-practice figures of the trade, all in one job; the job itself is invented.
//
//go:embed testdata/bench.json
var bench string

func benchPlan(t testing.TB, edits ...string) *Plan {
	t.Helper()
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, bench, edits[i], "the edit finds its place")
	}
	job, err := ReadJob([]byte(strings.NewReplacer(edits...).Replace(bench)))
	require.NoError(t, err)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	return plan
}

// flat undoes the wrapping of a sheet, so that a test needn't know where lines break.
func flat(text string) string { return strings.Join(strings.Fields(text), " ") }

// usualBand and usualRing put the figures of the trade in place of the invented ones: common
// practice, no source.
var (
	usualBand = []string{"150 to 230 in-lb", "220 to 310 in-lb"}
	usualRing = []string{`["N", "E", "S", "W"]`, `["A", "B", "C", "D"]`, `"atContact": "S"`, `"atContact": "D"`}
)

// 220 to 310 in-lb: common practice, no source; the conversions are computed from the definitions
// of inch, pound and standard gravity. Source: nist-sp811-b8.
func TestBowlBandIsRoundedInward(t *testing.T) {
	for _, c := range []struct{ unit, places, want string }{
		{"N·m", "2", "24.86 to 35.02 N·m"}, // nearest would print 35.03
		{"ft-lb", "1", "18.4 to 25.8 ft-lb"},
		{"ft-lb", "0", "19 to 25 ft-lb"},
		{"in-lb", "0", "220 to 310 in-lb"},
	} {
		plan := benchPlan(t, usualBand[0], usualBand[1], `"N·m", "torquePlaces": 2`, `"`+c.unit+`", "torquePlaces": `+c.places)
		assert.Equal(t, c.want, plan.Stations[0].Torque.Wrench.String())
		assert.Contains(t, flat(plan.Text()), ">>> "+strings.Replace(c.want, " to", " to", 1))
	}
	text := flat(benchPlan(t, usualBand...).Text())
	assert.Contains(t, text, "is rounded inward from 220 to 310 in-lb, which is 24.856662386075674 N·m to 35.025296998561177 N·m")
}

// Left to itself a plan takes the fewest places that keep nine tenths of the band. 220 to 310 in-lb:
// common practice, no source.
func TestPlacesKeepNineTenthsOfTheBand(t *testing.T) {
	for unit, want := range map[string]string{
		"N·m":    "25 to 35 N·m", // 10 of 10.17
		"ft-lb":  "18.4 to 25.8 ft-lb",
		"kgf·m":  "2.54 to 3.57 kgf·m",
		"kgf·cm": "254 to 357 kgf·cm",
	} {
		plan := benchPlan(t, usualBand[0], usualBand[1], `"N·m", "torquePlaces": 2`, `"`+unit+`"`)
		assert.Equal(t, want, plan.Stations[0].Torque.Wrench.String(), unit)
	}
}

// D at the index at contact, 3/4 turn more: A. Common practice, no source.
func TestMarkAtTheEndOfTheTurn(t *testing.T) {
	pair := benchPlan(t, usualRing...).Stations[1].Turn.Marks
	require.Len(t, pair, 1)
	assert.Equal(t, "A", pair[0].Most.String())
	assert.Contains(t, flat(benchPlan(t).Text()), "3/4 turn after gasket contact (270°)")

	other := benchPlan(t, usualRing[0], usualRing[1], usualRing[2], usualRing[3], `"order": "clockwise"`, `"order": "counterclockwise"`)
	assert.Equal(t, "C", other.Stations[1].Turn.Marks[0].Most.String())

	left := benchPlan(t, usualRing[0], usualRing[1], usualRing[2], usualRing[3], `"turn": "3/4 turn after gasket contact",
        "thread": "right hand"`, `"turn": "3/4 turn after gasket contact",
        "thread": "left hand"`)
	assert.Equal(t, "C", left.Stations[1].Turn.Marks[0].Most.String())
	assert.Equal(t, turn.Counterclockwise, left.Stations[1].Station.Tighten.goes(turn.FacingClosedEnd))
}

func TestEveryMarkIsListedWhereContactIsNotKnown(t *testing.T) {
	text := benchPlan(t, `,
          "atContact": "S"`, "", "3/4 turn after", "1/2 to 1 turn after").Text()
	for _, line := range []string{"touched W: stop at N; never past W again\n", "touched N and W: stop at E and N; never past N and W again\n", "touched S: stop at W; never past S again\n"} {
		assert.Contains(t, flat(text), flat(line))
	}
}

// 1.5 L at 60 °C of fuel that has 840 kg/m³ at 15 °C: the density there is computed (Source: oracle-fuel),
// air of 1.2 kg/m³ and weights of 8000 kg/m³ are the scale's (Source: oiml-d28).
func TestMassOfWarmFuel(t *testing.T) {
	plan := benchPlan(t)
	out := plan.Stations[0].Out
	round := func(m units.Mass) string { return m.RoundIn(units.Kilogram, 4, units.ToNearestEven).String() }
	assert.Equal(t, "1.2116 kg", round(out.Mass.Best))
	assert.Equal(t, "1.2100 kg", round(out.Scale.Best))
	assert.NotEqual(t, "1.2600 kg", round(out.Mass.Best), "weighed as if at 15 °C")

	text := flat(plan.Text())
	assert.Contains(t, text, "STOP The fuel is to be caught at 60 °C; the least flash point of No. 2-D is 52 °C.")
}

func TestFlashPointGuard(t *testing.T) {
	for at, want := range map[string]Level{
		"60 °C": Stop, "52 °C": Stop, "125.6 °F": Stop, "51.99 °C": Warning, "36 °C": Warning,
		"35.333 °C": 0, // 52 °C less 30 °F is 35.333… °C: just below the margin
		"35.334 °C": Warning, "20 °C": 0,
	} {
		got := Level(0)
		for _, f := range benchPlan(t, `"caughtAt": "60 °C"`, `"caughtAt": "`+at+`"`).Findings {
			if f.Where == "fuel.caughtAt" {
				got = f.Level
			}
		}
		assert.Equal(t, want, got, at)
	}
	// 30 °F below 52 °C, which are 125.6 °F, is within the margin and not less than it.
	f := finding(benchPlan(t, `"caughtAt": "60 °C"`, `"caughtAt": "95.6 °F"`), "fuel.near-flash-point")
	require.NotNil(t, f)
	assert.Contains(t, f.Words, "within 30 °F (16.7 °C) of the least flash point")
	assert.NotContains(t, f.Words, "less than")
}

// Key cycles are void / (flow × on-time × share), rounded up: 1.5/(2·0.5·0.85), 2/(1.8·0.5·0.85)
// and 2.5/(1.5·0.5·0.85) are 1.76, 2.61 and 3.92. Arithmetic, no source.
func TestKeyCycles(t *testing.T) {
	plan := benchPlan(t)
	assert.Equal(t, &Counts{Least: 2, Best: 3, Most: 4}, plan.Prime.Cycles)
	assert.Contains(t, flat(plan.Text()), "wait for the pump to stop: 3 times")
	assert.Contains(t, flat(plan.Text()), "Still air after 4? Stop")
	assert.Contains(t, flat(plan.Text()), "Cycles 3 (2 to 4)")
}

// At most 15 s, then 3 min of rest or more. Source: tm-5-5420-202.
func TestCrankingIsHeldToTheJobsLimit(t *testing.T) {
	plan := benchPlan(t, `"limit": "10 s", "rest": "2 min"`, `"limit": "15 s", "rest": "3 min"`)
	require.Len(t, plan.Prime.Crank, 2)
	assert.Equal(t, drain.CrankStep{Attempt: 2, Rest: 3 * time.Minute, Crank: 15 * time.Second,
		Cranked: 30 * time.Second, Elapsed: 3*time.Minute + 30*time.Second}, plan.Prime.Crank[1])
	assert.Contains(t, flat(plan.Text()), "crank for at most 15 s, then rest 3 min; at most 2 attempts")
}

func TestHandPrimerStrokes(t *testing.T) {
	plan := benchPlan(t, pumpBlock, `"handPrimer": {"stroke": {"low": "60 mL", "best": "60 mL", "high": "60 mL", "from": "stated"}, "efficiency": "100 %"}`)
	assert.Nil(t, plan.Prime.Cycles)
	assert.Equal(t, &Counts{25, 34, 42}, plan.Prime.Strokes) // 1500, 2000 and 2500 over 60, rounded up
}

func TestTotals(t *testing.T) {
	plan := benchPlan(t)
	assert.Equal(t, "2.25 L", plan.FuelOut.Volume.Best.String())
	low, _ := plan.Stations[0].Out.Mass.Best.Add(plan.Stations[1].Out.Mass.Best)
	gap, _ := low.Sub(plan.FuelOut.Mass.Best)
	assert.True(t, gap.Abs().Compare(units.MustParseMass("0.000000000002 kg")) <= 0, "the total is the sum: %v", gap)
	for _, w := range plan.Waste {
		assert.NoError(t, w.Mass.Check(), w.What)
	}
	assert.Equal(t, drain.Assumed, plan.Waste[1].Mass.From, "an element weighed dry and guessed wet is a guess")
}

func TestPanFindings(t *testing.T) {
	codes := func(p *Plan) (codes []string) {
		for _, f := range p.Findings {
			codes = append(codes, f.Code)
		}
		return codes
	}
	assert.NotContains(t, codes(benchPlan(t)), "pan.fills")
	assert.Contains(t, codes(benchPlan(t, "10 L", "2.4 L")), "pan.fills")
	assert.NotContains(t, codes(benchPlan(t, "10 L", "2.5 L")), "pan.fills", "up to the brim still holds")
	assert.Contains(t, codes(benchPlan(t, "10 L", "1.4 L")), "pan.too-small")
}

// The sheet in the order of the work.
func TestSheetOrder(t *testing.T) {
	text := benchPlan(t).Text()
	at := -1
	for _, part := range []string{"BEFORE YOU START", "INVENTED", "! STOP", "TAKE OUT OF SERVICE",
		"PARTS AND TOOLS", "STATION 1", "STATION 2", "PRIME, START", "PRIME\n", "LEAKS\n", "\nBACK INTO SERVICE\n", "WASTE\n", "TO FILE"} {
		i := strings.Index(text, part)
		assert.Greater(t, i, at, part)
		at = i
	}
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), wrap.Width, line)
	}
	assert.NotContains(t, strings.ToLower(text), "non-hazardous")
	assert.NotContains(t, text, "%!", "a verb without its value")
	back := text[strings.Index(text, "\nBACK INTO SERVICE\n"):]
	require.Contains(t, back, "B. battery")
	assert.Less(t, strings.Index(back, "B. battery"), strings.Index(back, "A. automatic"), "restored in reverse")
}

const pumpBlock = `"pump": {
      "flow": {"low": "1.5 L/min", "best": "1.8 L/min", "high": "2 L/min", "from": "stated"},
      "onTime": "30 s",
      "efficiency": "85 %"
    }`

var badJobs = []struct {
	name, old, new, path string
	want                 error
}{
	{"unknown field", `"id": "T-1"`, `"id": "T-1", "colour": "red"`, "colour", errUnknownField},
	{"other letter case", `"id": "T-1"`, `"ID": "T-1"`, "id", errMissingField},
	{"duplicate key", `"id": "T-1"`, `"id": "T-1", "id": "T-2"`, "id", errDuplicateField},
	{"missing field", `"source": "an invented service card",`, ``, "source", errMissingField},
	{"missing unit", `"best": "1.5 L"`, `"best": "1.5"`, "stations[0].drain.out.best", units.ErrNoUnit},
	{"a bare number", `"best": "1.5 L"`, `"best": 1.5`, "stations[0].drain.out.best", errType},
	{"null", `"best": "1.5 L"`, `"best": null`, "stations[0].drain.out.best", errType},
	{"whose gallon", `"panHolds": "10 L"`, `"panHolds": "2 gal"`, "shop.panHolds", units.ErrAmbiguous},
	{"decimal comma", `"panHolds": "10 L"`, `"panHolds": "1,5 L"`, "shop.panHolds", units.ErrAmbiguous},
	{"low above high", `"150 to 230 in-lb"`, `"230 to 150 in-lb"`, "stations[0].tighten.torque", nil},
	{"huge exponent", `"150 to 230 in-lb"`, `"150 to 1e999999999 in-lb"`, "stations[0].tighten.torque", nil},
	{"huge torque alone", `"150 to 230 in-lb"`, `"1e999999999 N·m"`, "stations[0].tighten.torque", nil},
	{"a 10 MB string", `"drum"`, `"` + strings.Repeat("x", 10<<20) + `"`, "", ErrSize},
	{"a long string", `"drum"`, `"` + strings.Repeat("x", 10<<10) + `"`, "waste.into", units.ErrSyntax},
	{"a long torque", `"150 to 230 in-lb"`, `"` + strings.Repeat("9", 10<<10) + ` N·m"`, "stations[0].tighten.torque", nil},
	{"an escape sequence", `"drum"`, `"\u001b[2J"`, "waste.into", units.ErrSyntax},
	{"negative volume", `"low": "1.5 L", "best"`, `"low": "-1.5 L", "best"`, "stations[0].drain.out", drain.ErrNegative},
	{"volumes out of order", `"low": "0.5 L"`, `"low": "0.8 L"`, "stations[1].drain.out", drain.ErrOrder},
	{"one mark", `["N", "E", "S", "W"]`, `["N"]`, "stations[1].tighten.marks.labels", units.ErrSyntax},
	{"equal labels", `["N", "E", "S", "W"]`, `["N", "E", "S", "S"]`, "stations[1].tighten.marks.labels", units.ErrSyntax},
	{"no such mark", `"atContact": "S"`, `"atContact": "F"`, "stations[1].tighten.marks.atContact", turn.ErrUnknownMark},
	{"a turn of 0/0", `"3/4 turn after`, `"0/0 turn after`, "stations[1].tighten.turn", units.ErrRange},
	{"no datum", `"3/4 turn after gasket contact"`, `"3/4 turn"`, "stations[1].tighten.turn", turn.ErrNoDatum},
	{"a torque in two units", `"150 to 230 in-lb"`, `"150-230 in-lb (17-26 N·m)"`, "stations[0].tighten.torque", torque.ErrTwoUnits},
	{"neither torque nor turn", `"torque": "150 to 230 in-lb", `, ``, "stations[0].tighten", errContradiction},
	{"density too low", `"840 kg/m³"`, `"84 kg/m³"`, "fuel.density", drain.ErrDensity},
	{"density too high", `"840 kg/m³"`, `"1200 kg/m³"`, "fuel.density", drain.ErrDensity},
	{"too cold", `"measuredAt": "60 °C"`, `"measuredAt": "-50.01 °C"`, "fuel.measuredAt", drain.ErrTemperature},
	{"too hot", `"caughtAt": "60 °C"`, `"caughtAt": "150.01 °C"`, "fuel.caughtAt", drain.ErrTemperature},
	{"pump without flow", `"low": "1.5 L/min"`, `"low": "0 L/min"`, "prime.pump", nil},
	{"no pump", pumpBlock + ",", "", "prime", errMissingField},
	{"newer version", `"version": 1`, `"version": 2, "novelty": true`, "version", ErrNewerVersion},
	{"version 0", `"version": 1`, `"version": 0`, "version", units.ErrRange},
	{"no such date", `"2026-03-09"`, `"2026-02-30"`, "date", units.ErrRange},
	{"no station", `"stations": [`, `"stations": [], "others": [`, "stations", units.ErrRange},
	{"same ID twice", `"id": "2"`, `"id": "1"`, "stations[1].id", errContradiction},
	{"prefill without how much", `"fill": "dry",
      "tighten": {"torque"`, `"fill": "prefill", "tighten": {"torque"`, "stations[0].prefillWith", errMissingField},
	{"efficiency above one", `"85 %"`, `"185 %"`, "prime.pump.efficiency", units.ErrRange},
	{"a pump on for milliseconds", `"onTime": "30 s"`, `"onTime": "30 ms"`, "prime.pump.onTime", units.ErrUnknownUnit},
	{"a pump on for no time", `"onTime": "30 s"`, `"onTime": "0 s"`, "prime.pump.onTime", units.ErrRange},
	{"a pump on for hours", `"onTime": "30 s"`, `"onTime": "2 h"`, "prime.pump.onTime", units.ErrRange},
	{"cranking for minutes", `"limit": "10 s"`, `"limit": "10 min"`, "prime.crank.limit", units.ErrRange},
	{"a rest of none", `"rest": "2 min"`, `"rest": "0 min"`, "prime.crank.rest", units.ErrRange},
	{"efficiency of nothing", `"85 %"`, `"0 %"`, "prime.pump.efficiency", units.ErrRange},
	{"efficiency without a unit", `"85 %"`, `"0.85"`, "prime.pump.efficiency", units.ErrNoUnit},
	{"no attempts", `"attempts": 2`, `"attempts": 0`, "prime.crank", drain.ErrMissing},
	{"attempts past counting", `"attempts": 2`, `"attempts": 2000000000`, "prime.crank", units.ErrRange},
	{"unknown torque unit", `"torqueUnit": "N·m"`, `"torqueUnit": "bar"`, "shop.torqueUnit", units.ErrOtherKind},
	{"broken JSON", `"waste": {`, `"waste": {{`, "", ErrJSON},
	{"something behind", `"waste": {"into": "drum"}
}`, `"waste": {"into": "drum"}
} {}`, "", ErrJSON},
	{"nested deeply", `"waste": {"into": "drum"}`, `"waste": ` + strings.Repeat("[", 10000) + strings.Repeat("]", 10000), "", ErrJSON},
}

func TestBadJobs(t *testing.T) {
	for _, c := range badJobs {
		require.Equal(t, 1, min(1, strings.Count(bench, c.old)), "%s: the edit finds its place", c.name)
		job, err := ReadJob([]byte(strings.Replace(bench, c.old, c.new, 1)))
		require.Error(t, err, c.name)
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
		assert.Empty(t, job.Stations, "%s: nothing comes back", c.name)
	}
}

// A job file names its own field for a limit in two units, not a function of the library.
func TestTorqueInTwoUnitsIsShownItsField(t *testing.T) {
	_, err := ReadJob([]byte(strings.Replace(bench, `"150 to 230 in-lb"`, `"150-230 in-lb (17-26 N·m)"`, 1)))
	require.ErrorIs(t, err, torque.ErrTwoUnits)
	assert.ErrorContains(t, err, `stations[0].tighten.torque: torque band "150-230 in-lb (17-26 N·m)"`)
	assert.ErrorContains(t, err, `want one unit; put a limit printed in two units in "printed" instead of "torque"`)
	assert.NotContains(t, err.Error(), "ParsePrinted")
}

func TestAllErrorsAtOnce(t *testing.T) {
	text := bench
	want := map[string]bool{}
	for _, name := range []string{"unknown field", "missing unit", "whose gallon", "low above high", "equal labels",
		"density too low", "no such date", "efficiency above one"} {
		for _, c := range badJobs {
			if c.name == name {
				text = strings.Replace(text, c.old, c.new, 1)
				want[c.path] = true
			}
		}
	}
	_, err := ReadJob([]byte(text))
	var all JobErrors
	require.ErrorAs(t, err, &all)
	got := map[string]bool{}
	for _, one := range all {
		got[one.Path] = true
	}
	assert.Equal(t, want, got)
	assert.Len(t, strings.Split(err.Error(), "\n"), len(all))
}

// What fills a MiB with brackets is refused before it fills memory, and what is listed too often
// before each is held against each.
func TestTooManyValues(t *testing.T) {
	repeat := func(head, each, tail string) string {
		return head + strings.Repeat(each, (maxJobBytes-len(head)-len(tail))/len(each)) + tail
	}
	for _, hostile := range hostileJobs {
		_, err := ReadJob([]byte(repeat(hostile.head, hostile.each, hostile.tail)))
		assert.ErrorIs(t, err, ErrSize, hostile.head)
		var all JobErrors
		require.ErrorAs(t, err, &all)
		assert.Len(t, all, 1, hostile.head)
	}
	var keys strings.Builder
	for i := range strictjson.MaxItems + 1 {
		fmt.Fprintf(&keys, `,"k%d":0`, i)
	}
	_, err := ReadJob([]byte("{" + keys.String()[1:] + "}"))
	assert.ErrorIs(t, err, ErrSize)

	for path, job := range map[string]func(*Job){
		"isolate":                 func(j *Job) { j.Isolate = make([]Isolation, maxListed+1) },
		"cautions":                func(j *Job) { j.Cautions = make([]string, maxListed+1) },
		"stations":                func(j *Job) { j.Stations = make([]Station, 41) },
		"shop.wrenches":           func(j *Job) { j.Shop.Wrenches = make([]Wrench, maxListed+1) },
		"waste.other":             func(j *Job) { j.Waste.Other = make([]WasteItem, maxListed+1) },
		"stations[0].seals":       func(j *Job) { j.Stations[0].Seals = make([]Seal, maxListed+1) },
		"stations[1].drain.steps": func(j *Job) { j.Stations[1].Drain.Steps = make([]string, maxListed+1) },
	} {
		j := benchPlan(t).Job
		job(&j)
		var all JobErrors
		require.ErrorAs(t, j.Check(), &all, path)
		assert.Equal(t, path, all[0].Path)
	}
	for path, spoil := range map[string]func(*AsDone){
		"remarks":  func(a *AsDone) { a.Remarks = make([]string, maxListed+1) },
		"stations": func(a *AsDone) { a.Stations = make([]StationDone, maxListed+1) },
		"weights":  func(a *AsDone) { a.Weights = make([]Weight, 3*maxListed+1) },
		"restored": func(a *AsDone) { a.Restored = make([]Restored, maxListed+1) },
		"cranks":   func(a *AsDone) { a.Cranks = make([]CrankDone, maxListed+1) },
	} {
		done := doneWith(t)
		spoil(&done)
		var all JobErrors
		require.ErrorAs(t, done.Check(), &all, path)
		require.Len(t, all, 1, path)
		assert.Equal(t, path, all[0].Path)
	}
}

func TestTextsThatSayNothing(t *testing.T) {
	twice := benchPlan(t).Job
	twice.Isolate[1].What = twice.Isolate[0].What
	assert.ErrorIs(t, twice.Check(), errContradiction, "two things known by one name would come back together")
	for path, empty := range map[string]func(*Job){
		"machine":                    func(j *Job) { j.Machine = "" },
		"source":                     func(j *Job) { j.Source = "  " },
		"place":                      func(j *Job) { j.Place = "\u3000" },
		"isolate[0].what":            func(j *Job) { j.Isolate[0].What = "" },
		"isolate[1].how":             func(j *Job) { j.Isolate[1].How = " " },
		"fuel.flashSource":           func(j *Job) { j.Fuel.FlashSource = "" },
		"stations[0].name":           func(j *Job) { j.Stations[0].Name = "" },
		"stations[0].element.part":   func(j *Job) { j.Stations[0].Element.Part = "" },
		"stations[0].seals[0].wet":   func(j *Job) { j.Stations[0].Seals[0].Wet = "" },
		"stations[1].drain.steps[0]": func(j *Job) { j.Stations[1].Drain.Steps[0] = " " },
		"waste.into":                 func(j *Job) { j.Waste.Into = "" },
	} {
		job := benchPlan(t).Job
		empty(&job)
		var all JobErrors
		require.ErrorAs(t, job.Check(), &all, path)
		require.Len(t, all, 1, path)
		assert.Equal(t, path, all[0].Path)
	}
	done := doneWith(t)
	done.By, done.Remarks = "\t", []string{""}
	var all JobErrors
	require.ErrorAs(t, done.Check(), &all)
	require.Len(t, all, 2)
	assert.Equal(t, []string{"by", "remarks[0]"}, []string{all[0].Path, all[1].Path})
}

var hostileJobs = []struct{ head, each, tail string }{
	{`{"stations":[{}`, `,{}`, `]}`},
	{`{"shop":{"wrenches":[0`, `,0`, `]}}`},
	{`{"a":0`, `,"a":0`, `}`},
	{`{"isolate":[[0`, `],[0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0`, `]]}`},
}

func BenchmarkRefuse(b *testing.B) {
	for _, hostile := range hostileJobs {
		text := []byte(hostile.head + strings.Repeat(hostile.each, (maxJobBytes-200)/len(hostile.each)) + hostile.tail)
		b.Run(hostile.head, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ReadJob(text); err == nil {
					b.Fatal("a job of nothing but brackets")
				}
			}
		})
	}
}

func TestThousandErrorsAreCutShort(t *testing.T) {
	text := strings.Replace(bench, `["N", "E", "S", "W"]`, `[`+strings.Repeat("1,", 900)+`1]`, 1)
	_, err := ReadJob([]byte(text))
	var all JobErrors
	require.ErrorAs(t, err, &all)
	assert.LessOrEqual(t, len(all), maxErrors+40)
	assert.Less(t, len(err.Error()), 32<<10)
}

// A job written by encoding/json is the job that is read.
func TestJobRoundTrip(t *testing.T) {
	demo, err := os.ReadFile("../examples/servicesheet/demo.json")
	require.NoError(t, err)
	for _, text := range [][]byte{[]byte(bench), demo} {
		job, err := ReadJob(text)
		require.NoError(t, err)
		comesBack(t, job)
	}
}

func BenchmarkPlan(b *testing.B) {
	job, err := ReadJob([]byte(bench))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewPlan(job, Rules{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadJob(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadJob([]byte(bench)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkText(b *testing.B) {
	plan := benchPlan(b)
	b.ReportAllocs()
	for b.Loop() {
		plan.Text()
	}
}

// 40 stations of 360 marks each, with nothing known of contact: as many places as a job can ask for.
func BenchmarkPlanOfManyMarks(b *testing.B) {
	job := manyMarks(b, 40, 360)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewPlan(job, Rules{}); err != nil {
			b.Fatal(err)
		}
	}
}

// manyMarks is a job of so many canisters with so many marks.
func manyMarks(tb testing.TB, stations, marks int) Job {
	job := benchPlan(tb).Job
	canister := job.Stations[1]
	printed := *canister.Tighten.Marks
	printed.Labels, printed.AtContact = nil, ""
	for i := range marks {
		printed.Labels = append(printed.Labels, fmt.Sprint(i+1))
	}
	canister.Tighten.Marks = &printed
	job.Stations = nil
	for i := range stations {
		canister.ID = fmt.Sprint(i + 1)
		job.Stations = append(job.Stations, canister)
	}
	return job
}
