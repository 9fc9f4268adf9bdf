package service

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// jobPlan is the plan of one of the invented jobs.
func jobPlan(t *testing.T, name string, edits ...string) *Plan {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "jobs", name+".json"))
	require.NoError(t, err)
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, string(text), edits[i])
	}
	job, err := ReadJob([]byte(strings.NewReplacer(edits...).Replace(string(text))))
	require.NoError(t, err)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	return plan
}

// inOrder holds that the sheet's items of these codes come in this order; "code=text" asks for an
// item whose words hold the text.
func inOrder(t *testing.T, s Sheet, steps ...string) {
	t.Helper()
	var items []Item
	for _, part := range s.Sections {
		items = append(items, part.Items...)
	}
	at := -1
	for _, step := range steps {
		code, text, _ := strings.Cut(step, "=")
		next := slices.IndexFunc(items[at+1:], func(it Item) bool { return it.Code == code && strings.Contains(it.Words, text) })
		if !assert.GreaterOrEqual(t, next, 0, "%s, after what comes before it", step) {
			return
		}
		at += 1 + next
	}
}

// A starter that is locked out can't be cranked, and a job that doesn't say how the engine is started
// leaves somebody to find out (common practice, no source).
func TestIsolationAgreesWithStarting(t *testing.T) {
	const (
		automatic = `"how": "off", "forStart": "to MANUAL, automatic still off"`
		battery   = `"stopsStart": true, "forPriming": true`
	)
	for name, c := range map[string]struct {
		edits []string
		want  []string
		where string
	}{
		"as it should be":                     {nil, nil, ""},
		"the selector stays at OFF":           {[]string{automatic, `"how": "off", "stopsStart": true`, battery, battery + `, "forStart": "connected"`}, []string{"start.locked-out"}, "isolate[0]"},
		"the battery stays off":               {[]string{battery, `"stopsStart": true`}, []string{"start.locked-out", "prime.no-supply"}, "isolate[1]"},
		"the battery comes back for starting": {[]string{battery, `"stopsStart": true, "forStart": "connected"`}, []string{"prime.no-supply"}, "isolate"},
		"nothing says how":                    {[]string{automatic, `"how": "off"`}, []string{"start.not-stated"}, "isolate"},
		"nothing says how, no pump": {[]string{automatic, `"how": "off"`, battery, `"stopsStart": true`, pumpBlock,
			`"handPrimer": {"stroke": {"low": "60 mL", "best": "60 mL", "high": "60 mL", "from": "stated"}, "efficiency": "100 %"}`}, []string{"start.locked-out", "start.not-stated"}, "isolate[1]"},
	} {
		plan := benchPlan(t, c.edits...)
		var got []string
		for _, f := range plan.Findings {
			if strings.HasPrefix(f.Code, "start.") || f.Code == "prime.no-supply" {
				if len(got) == 0 {
					assert.Equal(t, c.where, f.Where, name)
				}
				got = append(got, f.Code)
				assert.Equal(t, f.Code != "prime.no-supply", f.Level == Stop, name)
			}
		}
		assert.Equal(t, c.want, got, name)
	}
	stop := finding(benchPlan(t, automatic, `"how": "off", "stopsStart": true`), "start.locked-out")
	require.NotNil(t, stop)
	assert.Equal(t, Texts{"what": "automatic start"}, stop.Values)
}

// Start, idle and stop are steps, in the order in which they come; what comes back for them says in
// which state, and everything comes back at the end.
func TestStartIdleAndStopAreSteps(t *testing.T) {
	for _, name := range []string{"two-stations", "cartridge", "three-stations"} {
		plan := jobPlan(t, name)
		inOrder(t, plan.Sheet(), either(plan.Job.Prime.Pump == nil, "run.restore=for the start: batteries", "prime.restore=back for priming: batteries"))
		inOrder(t, plan.Sheet(), "prime.leaks", "run.clear", "run.restore=remote start: to LOCAL, remote still off", "prime.crank", "run.idle", "leaks.pressure", "leaks.found=take out of service again", "run.stop", "restore.clear", "restore.step=remote start")
		assert.Equal(t, "to LOCAL, remote still off", plan.Isolation.Starting[0].ForStart)
		assert.Equal(t, "A", plan.Isolation.Starting[0].Letter)
		assert.Nil(t, finding(plan, "start.locked-out"))
		assert.Nil(t, finding(plan, "start.not-stated"))
	}
	both := jobPlan(t, "cover-and-cap")
	assert.Empty(t, both.Isolation.Starting, "it came back for priming")
	inOrder(t, both.Sheet(), "run.clear", "run.restore=batteries: switch closed; started at the machine", "prime.crank")
	assert.NotContains(t, benchPlan(t).Text(), "automatic start above all", "which comes back for the start")
}

// Plugs and hoses come off when the job says, and go on in reverse.
func TestConnectorsComeOffWhenTheJobSays(t *testing.T) {
	plan := benchPlan(t, `"side": "suction",`, `"side": "suction", "connectors": ["heater plug", "sensor plug"], "connectorsAfterDrain": ["return hose", "vent hose"],`)
	inOrder(t, plan.Sheet(), "connector.off=off, before draining: heater plug", "connector.off=sensor plug", "drain.step",
		"connector.off=off, after draining: return hose", "connector.off=vent hose", "old.part=bowl off",
		"connector.on=vent hose", "connector.on=return hose", "connector.on=sensor plug", "connector.on=heater plug")
	inOrder(t, jobPlan(t, "cartridge").Sheet(), "drain.step=loosen the cap", "connector.off=off, after draining: return hose", "old.part")
	_, err := ReadJob([]byte(strings.Replace(bench, `"side": "suction",`, `"side": "suction", "connectorsAfterDrain": [" "],`, 1)))
	assert.ErrorContains(t, err, "stations[0].connectorsAfterDrain[0]")
}

// Under a cap: nothing is lifted before it is unscrewed; the wrench is set before anything is screwed on,
// and turns are counted from the first thread.
func TestUnderACap(t *testing.T) {
	cap := jobPlan(t, "cover-and-cap")
	inOrder(t, cap.Sheet(), "parts.wrench", "old.part=unscrewed all the way, then lifted", "torque.by-hand", "torque.set", "sequence.stage",
		"old.part=unscrewed", "torque.by-hand", "seat.turns=from first thread", "seat.until", "torque.set")
	for _, it := range section(jobPlan(t, "cartridge").Sheet(), "station", "1").Items {
		if it.Code == "old.part" {
			break
		}
		assert.NotContains(t, it.Words, "lift", "before the cap is unscrewed")
	}
	inOrder(t, benchPlan(t, withWrenches(wide)...).Sheet(), "parts.wrench=set to", "torque.by-hand", "torque.set")
}

// Into what the fuel is poured depends on the kind, and never into the clean side (common practice, no
// source). A shipping plug comes out whether it is filled or not.
func TestPrefillByKind(t *testing.T) {
	with := func(kind, more string) Sheet {
		return benchPlan(t, `"kind": "screw-on bowl"`, `"kind": "`+kind+`"`, `"fill": "dry",
      "tighten": {"torque"`, `"fill": "prefill", `+more+`, "tighten": {"torque"`).Sheet()
	}
	for kind, c := range map[string]struct {
		volume, share, into string
		steps               []string
	}{
		"screw-on bowl": {"0.4 L of clean fuel into the bowl", "clean fuel up to 50 % of what it holds into the bowl", "bowl",
			[]string{"old.part=bowl", "fill.element", "fill.prefill", "torque.by-hand"}},
		"spin-on canister": {"fill with 0.4 L of clean fuel, through the dirty side", "fill with clean fuel up to 50 % of what it holds, through the dirty side", "canister",
			[]string{"old.part=canister", "fill.plug=shipping plug", "fill.prefill", "torque.by-hand"}},
		"drop-in element": {"0.4 L of clean fuel into the housing, round the element", "clean fuel up to 50 % of what it holds into the housing", "housing",
			[]string{"old.part=cap", "fill.element", "fill.prefill=never into its middle", "torque.by-hand"}},
		"in-line": {"fill with 0.4 L of clean fuel, through the dirty side (inlet)", "fill with clean fuel up to 50 %", "filter",
			[]string{"old.part=opened", "fill.prefill", "torque.by-hand"}},
	} {
		for more, words := range map[string]string{`"prefillWith": "0.4 L"`: c.volume, `"prefillShare": "50 %"`: c.share} {
			sheet := with(kind, more)
			inOrder(t, sheet, c.steps...)
			for _, it := range section(sheet, "station", "1").Items {
				assert.NotEqual(t, "fill.dry", it.Code, kind)
				if it.Code == "fill.prefill" {
					assert.Contains(t, it.Words, words, kind)
					assert.Equal(t, c.into, it.Values["into"])
					assert.Equal(t, map[bool]string{true: "0.4 L", false: ""}[strings.Contains(more, "With")], it.Values["volume"])
					assert.Equal(t, map[bool]string{true: "50 %", false: ""}[strings.Contains(more, "Share")], it.Values["share"])
				}
			}
		}
	}
	inOrder(t, benchPlan(t).Sheet(), "old.part=canister", "fill.plug", "fill.dry=stays dry", "turn.to")
	assert.Equal(t, 1, strings.Count(flat(benchPlan(t).Text()), "shipping plug"), "a bowl has none")
	inOrder(t, jobPlan(t, "cartridge").Sheet(), "fill.element", "fill.prefill=0,3 L of clean fuel into the housing")
}

func TestPrefillIsAVolumeOrAShare(t *testing.T) {
	for more, c := range map[string]struct {
		path string
		want error
	}{
		`"fill": "prefill"`: {"stations[0].prefillWith", errMissingField},
		`"fill": "prefill", "prefillWith": "0.4 L", "prefillShare": "50 %"`: {"stations[0].prefillShare", errContradiction},
		`"fill": "prefill", "prefillShare": "0 %"`:                          {"stations[0].prefillShare", units.ErrRange},
		`"fill": "prefill", "prefillShare": "101 %"`:                        {"stations[0].prefillShare", units.ErrRange},
		`"fill": "prefill", "prefillShare": "0/3"`:                          {"stations[0].prefillShare", units.ErrRange},
		`"fill": "prefill", "prefillShare": "4/3 of the bowl"`:              {"stations[0].prefillShare", units.ErrRange},
		`"fill": "prefill", "prefillShare": "-1/2"`:                         {"stations[0].prefillShare", units.ErrRange},
		`"fill": "prefill", "prefillShare": "half full"`:                    {"stations[0].prefillShare", units.ErrSyntax},
		`"fill": "prefill", "prefillShare": "half of the gap"`:              {"stations[0].prefillShare", units.ErrSyntax},
		`"fill": "prefill", "prefillShare": "of the bowl"`:                  {"stations[0].prefillShare", units.ErrSyntax},
		`"fill": "prefill", "prefillShare": "0,5"`:                          {"stations[0].prefillShare", units.ErrAmbiguous},
		`"fill": "prefill", "prefillShare": ""`:                             {"stations[0].prefillShare", units.ErrSyntax},
		`"fill": "prefill", "prefillShare": 0.5`:                            {"stations[0].prefillShare", errType},
		`"fill": "prefill", "prefillShare": "2/3 of the canister"`:          {"stations[0].prefillShare", errContradiction},
		`"fill": "prefill", "prefillWith": "0 L"`:                           {"stations[0].prefillWith", units.ErrRange},
		`"fill": "dry", "prefillShare": "50 %"`:                             {"stations[0].prefillShare", errContradiction},
		`"fill": "dry", "prefillWith": "1 L"`:                               {"stations[0].prefillWith", errContradiction},
	} {
		_, err := ReadJob([]byte(strings.Replace(bench, `"fill": "dry"`, more, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, more)
		assert.Equal(t, c.path, all[0].Path, err)
		assert.ErrorIs(t, err, c.want, more)
		assert.Len(t, all, 1, err)
	}
}

// A part is read as people say it, exactly, and is on the sheet as it was meant.
func TestPrefillInParts(t *testing.T) {
	for text, want := range map[string]string{
		"50 %": "50 %", "1/2": "1/2", "half": "1/2", "2/3": "2/3", "1/2 of the bowl": "1/2", "Two thirds of the Bowl": "2/3", "33.3 %": "33.3 %",
		"three quarters of the bowl": "3/4", "80 % of the bowl": "80 %", "100 %": "100 %", "all": "100 %", "0.25": "1/4",
	} {
		plan := benchPlan(t, `"fill": "dry",
      "tighten": {"torque"`, `"fill": "prefill", "prefillShare": "`+text+`", "tighten": {"torque"`)
		again, err := parseFillPart(plan.Job.Stations[0].PrefillShare.String())
		require.NoError(t, err, text)
		assert.Equal(t, plan.Job.Stations[0].PrefillShare, again, text)
		for _, it := range section(plan.Sheet(), "station", "1").Items {
			if it.Code == "fill.prefill" {
				assert.Equal(t, want, it.Values["share"], text)
				assert.Contains(t, it.Words, "up to "+want+" of what it holds", text)
			}
		}
	}
	job := benchPlan(t).Job
	job.Stations[0].Fill, job.Stations[0].PrefillShare = FitFilled, FillPart{}
	var all JobErrors
	require.ErrorAs(t, job.Check(), &all)
	assert.Equal(t, "stations[0].prefillWith", all[0].Path)
	_, err := parseFillPart(strings.Repeat("1", 300))
	assert.ErrorIs(t, err, units.ErrRange)
}

// Every sheet names what kills beside an engine, with signal words (Source: ansi-z535) and the gravest
// first: WARNING where it may kill or injure, CAUTION for minor injury or damage.
func TestHazardsByGravity(t *testing.T) {
	for name, plan := range map[string]*Plan{"bench": benchPlan(t), "two": jobPlan(t, "two-stations"), "three": jobPlan(t, "three-stations"),
		"cartridge": jobPlan(t, "cartridge"), "cover": jobPlan(t, "cover-and-cap")} {
		text := flat(plan.Text())
		for _, words := range []string{"fan and belts", "hot exhaust", "parking brake on", "chocked", "Never crack a high-pressure line, not even to bleed it"} {
			assert.Contains(t, text, words, name)
		}
		sheet := plan.Sheet()
		levels, last := map[string]int{}, "warning"
		for _, it := range section(sheet, "start", "").Items {
			if it.Level != "" {
				assert.True(t, it.Level == last || it.Level == "caution", "%s: %s after a %s", name, it.Words, last)
				last = it.Level
				levels[it.Level]++
				assert.Contains(t, text, strings.ToUpper(it.Level)+": "+flat(it.Words), name)
				assert.Contains(t, htmlOf(t, plan), `<strong>`+strings.ToUpper(it.Level)+`</strong>`, name)
			}
		}
		assert.Equal(t, 9, levels["warning"], name)
		assert.Equal(t, 1, levels["caution"], name)
		inOrder(t, sheet, "run.clear=clear of fan, belts and exhaust", "prime.crank") // and again where the engine is started
		inOrder(t, sheet, "prime.no-cracking", "prime.crank")
	}

	// Findings too: fire comes before what only spills.
	plan := benchPlan(t, `"caughtAt": "60 °C"`, `"caughtAt": "40 °C"`, `"measuredAt": "60 °C"`, `"measuredAt": "30 °C"`, "10 L", "2.4 L")
	var order []string
	for _, f := range plan.Sheet().Findings {
		if f.Code == "fuel.near-flash-point" || f.Code == "pan.fills" {
			order = append(order, f.Level+" "+f.Code)
		}
	}
	assert.Equal(t, []string{"warning fuel.near-flash-point", "caution pan.fills"}, order)
}
