package service

import (
	"encoding/json"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// planBy is the plan of a job with one canister that is tightened so.
func planBy(t require.TestingT, job Job, tighten Tighten, rules Rules) *Plan {
	job.Stations = slices.Clone(job.Stations[1:2])
	job.Stations[0].Tighten = tighten
	plan, err := NewPlan(job, rules)
	require.NoError(t, err)
	return plan
}

// seenAs reads a cell of the sheet as a technician would write it down.
func seenAs(t require.TestingT, cell string) (seen MarkSeen, passes int) {
	words := strings.Replace(cell, " of the way", "", 1)
	if before, rounds, found := strings.Cut(words, ", "); found {
		n, _, _ := strings.Cut(rounds, " ")
		var err error
		passes, err = strconv.Atoi(n)
		require.NoError(t, err, cell)
		words = before
	} else if before, again := strings.CutSuffix(words, " again"); again {
		words, passes = before, 1
	}
	if one, other, between := strings.Cut(words, " and "); between {
		return MarkSeen{Between: []string{one, other}}, passes
	}
	if share, pair, found := strings.Cut(words, " from "); found {
		s, err := turn.ParsePart(share)
		require.NoError(t, err, cell)
		return MarkSeen{Between: strings.Split(pair, " to "), Share: &s}, passes
	}
	if past, mark, found := strings.Cut(words, " past "); found {
		return MarkSeen{Mark: mark, Past: ptr(turn.MustParse(past))}, passes
	}
	return MarkSeen{Mark: words}, passes
}

// onTheCard is the one answer that a card gives, as a cell of the table would say it.
func onTheCard(plan *Plan) (where string) {
	rounds := ""
	for _, it := range section(plan.Sheet(), "station", "2").Items {
		v := it.Values
		switch {
		case it.Code == "turn.further" && v["next"] != "":
			where = v["mark"] + " and " + v["next"]
		case it.Code == "turn.further" && v["mark"] != "":
			where = v["mark"]
		case it.Code == "turn.stop" && v["place"] != "":
			where = strings.TrimSuffix(strings.TrimPrefix(it.Words, "Stop "), ".")
		case it.Code == "turn.rounds":
			rounds = ", " + v["times"] + " times round"
		}
	}
	return where + rounds
}

// Whoever stops where the sheet says, at any contact that it lists, passes by the rules that it was
// made with wherever they let a reading show it; where they don't, the sheet says so before the work.
// Past the limit nothing passes. The readings go through JSON.
func TestDoneAsPrintedPasses(t *testing.T) {
	job, rules := benchPlan(t).Job, rulesWith(t)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "marks")
		var labels []string
		for i := range n {
			labels = append(labels, string(rune('A'+i)))
		}
		hand := rapid.SampledFrom([]turn.Hand{turn.RightHand, turn.LeftHand}).Draw(t, "hand")
		marks := &Marks{Labels: labels, Index: "rib",
			Order: rapid.SampledFrom([]turn.Rotation{turn.Clockwise, turn.Counterclockwise}).Draw(t, "order"),
			View:  rapid.SampledFrom([]turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.BesideClosedEndDown, turn.BesideClosedEndUp.Mirrored()}).Draw(t, "view")}
		least := rapid.Int64Range(1, 60).Draw(t, "least")
		most := least + rapid.Int64Range(0, 24).Draw(t, "width")
		in, err := turn.NewInstruction(turn.MustOf(least, 48), turn.MustOf(most, 48), turn.GasketContact)
		require.NoError(t, err)
		rules := rules
		rules.Eye = turn.MustOf(rapid.Int64Range(1, 8).Draw(t, "eye"), 72)
		plan := planBy(t, job, Tighten{Turn: in, Thread: hand, Marks: marks}, rules)
		p := plan.Stations[0].Turn

		verdict := func(before, after MarkSeen, passes int) Verdict {
			done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x",
				Stations: []StationDone{{ID: "2", Dragged: ptr(false), Marks: &MarksSeen{Before: before, After: after, Passes: &passes}}}}
			text, err := json.Marshal(done)
			require.NoError(t, err)
			done, err = ReadAsDone(text)
			require.NoError(t, err)
			review, err := plan.Review(done)
			require.NoError(t, err)
			return lineOf(t, review, "stations[0].marks").Verdict
		}
		warned := finding(plan, "turn.narrower-than-eye") != nil || finding(plan, "turn.without-tolerance") != nil
		assert.Equal(t, warned, !p.Window.Allows(p.Eye), "the sheet says so before the work")

		var table Table
		for _, it := range section(plan.Sheet(), "station", "2").Items {
			if it.Kind == "table" {
				table = *it.Table
			}
		}
		if p.DrawnAt != "" { // one answer, from the mark that the index is drawn at
			require.Empty(t, table.Columns)
			table.Columns = [][]string{{p.DrawnAt, onTheCard(plan)}}
		} else {
			require.Len(t, table.Columns, 2*n, "each mark, and each place between two")
			assert.LessOrEqual(t, n, 6)
			assert.False(t, warned)
		}
		ring, err := turn.NewRing(labels, marks.Order)
		require.NoError(t, err)
		for i, column := range table.Columns {
			before, _ := seenAs(t, column[0])
			after, passes := seenAs(t, column[1])
			assert.Equal(t, !warned, verdict(before, after, passes) == Pass, "%v", column)
			over, err := ring.Tighten(p.Marks[i].Most, turn.MustOf(1, 4800), hand)
			require.NoError(t, err)
			late := MarkSeen{Mark: over.Mark, Past: &over.Past}
			if over.Past == (turn.Turn{}) {
				late.Past = nil
			}
			assert.NotEqual(t, Pass, verdict(before, late, over.Passes), "past the limit, %v", column)
		}
	})
}

func TestPlanAimsByTheRules(t *testing.T) {
	job := benchPlan(t).Job
	for _, c := range []struct {
		name, how string
		rules     Rules
		says      []string
		finding   string
	}{
		{"a range", "1/2 to 3/4 turn", rulesWith(t), []string{"From 1/2 turn to 3/4 turn (270°); aim 5/8 turn (225°), the middle.",
			"Stopped there and read to 15° either way, it passes by the rules named invented shop rules.",
			"touched S: stop at N and W; never past W", "touched S and E: stop at W; never past W and S"}, ""},
		{"a tolerance of the rules", "3/4 turn", rulesWith(t), []string{"From 2/3 turn to 5/6 turn (300°); aim 3/4 turn (270°), the middle.",
			"The job gives a single figure; its tolerance is that of the rules: invented.",
			"E", "Stop with it at the index.", "Never past 1/3 of the way from E to N"}, ""},
		{"a better eye", "1/2 to 3/4 turn", rulesWith(t, "15°", "5°"), []string{"read to 5° either way"}, ""},
		{"too poor an eye", "1/2 to 3/4 turn", rulesWith(t, "15°", "46°"), []string{"aim 5/8 turn", "1/2 to 3/4 turn after gasket contact is narrower than twice what the eye may be out, 46° either way"}, "turn.narrower-than-eye"},
		{"no rules", "1/2 to 3/4 turn", Rules{}, []string{"aim 5/8 turn", "Written for an eye good to 15° either way (common practice, no source). No rules are agreed on: no pass is promised."}, ""},
		{"no rules, no tolerance", "3/4 turn", Rules{}, []string{"ask before you start how far off is still good", "No reading can show that it was kept", "no pass is promised"}, "turn.without-tolerance"},
	} {
		marks := *job.Stations[1].Tighten.Marks
		marks.AtContact = ""
		in := turn.MustParseInstruction(c.how + " after gasket contact")
		plan := planBy(t, job, Tighten{Turn: in, Thread: turn.RightHand, Marks: &marks, ContactTurns: turn.MustOf(4, 1)}, c.rules)
		text := flat(plan.Text())
		for _, words := range c.says {
			assert.Contains(t, text, words, c.name)
		}
		assert.Equal(t, c.rules == (Rules{}), strings.Contains(text, "no pass is promised"), c.name)
		assert.Equal(t, c.rules != (Rules{}), strings.Contains(text, "More than 1/4 turn early or late: stop"), c.name)
		assert.Equal(t, c.finding != "" || c.rules == (Rules{}), !strings.Contains(text, "it passes by the rules"), c.name)
		assert.Equal(t, c.name == "a tolerance of the rules", strings.Contains(text, "that of the rules: invented"), c.name)
		for _, code := range []string{"turn.narrower-than-eye", "turn.without-tolerance"} {
			f := finding(plan, code)
			require.Equal(t, c.finding == code, f != nil, "%s: %s", c.name, code)
			if f != nil {
				assert.Equal(t, Caution, f.Level)
				assert.Equal(t, "stations[0].tighten.turn", f.Where)
			}
		}
	}
}

// The nearest contact on the sheet is right to a quarter of a gap. Where that and the eye don't both fit, the
// sheet doesn't ask for the nearest.
func TestNearestContactOnlyWhereItHolds(t *testing.T) {
	job := benchPlan(t).Job
	for how, nearest := range map[string]bool{"1/2 to 19/24 turn": false, "1/2 to 5/6 turn": true} { // half of it is 52.5° and 60°
		marks := *job.Stations[1].Tighten.Marks
		marks.AtContact = ""
		in := turn.MustParseInstruction(how + " after gasket contact")
		text := flat(planBy(t, job, Tighten{Turn: in, Thread: turn.RightHand, Marks: &marks}, rulesWith(t, "15°", "30.5°")).Text())
		assert.Equal(t, nearest, strings.Contains(text, "Take the nearest."), how)
		assert.Equal(t, !nearest, strings.Contains(text, "draw a line on the head exactly at N: your index"), how)
	}
}

func TestPlacesThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		name, after string
		path, says  string
		err         error
	}{
		{"nothing", `{}`, ".marks.after", "both or neither", errContradiction},
		{"both", `{"mark": "W", "between": ["W", "S"]}`, ".marks.after", "both or neither", errContradiction},
		{"one of two", `{"between": ["W"]}`, ".marks.after.between", "the two neighbours", errContradiction},
		{"three", `{"between": ["W", "S", "E"]}`, ".marks.after.between", "the two neighbours", errContradiction},
		{"past beside between", `{"between": ["W", "S"], "past": "15°"}`, ".marks.after.past", "share", errContradiction},
		{"share of nothing", `{"mark": "W", "share": "1/3"}`, ".marks.after.share", "between", errContradiction},
		{"all of the gap", `{"between": ["W", "S"], "share": "1"}`, ".marks.after.share", "not between nothing and the whole gap", units.ErrRange},
		{"a turn as a share", `{"between": ["W", "S"], "share": "1/8 turn"}`, ".marks.after.share", "has no unit", units.ErrSyntax},
		{"no such mark", `{"mark": "Q"}`, ".marks.after.mark", "no such mark", turn.ErrUnknownMark},
		{"no such neighbour", `{"between": ["W", "Q"]}`, ".marks.after.between", "no such mark", turn.ErrUnknownMark},
		{"no neighbours", `{"between": ["W", "E"]}`, ".marks.after.between", "no neighbours", turn.ErrUnknownMark},
		{"half of the gap as half a turn", `{"mark": "W", "past": "1/2 turn"}`, ".marks.after.past", `did you mean half of the gap? Write "between W and S"; between marks write "between": ["W", "S"]`, units.ErrRange},
		{"up to the next mark", `{"mark": "W", "past": "1/4 turn"}`, ".marks.after.past", "reaches S, the next mark", units.ErrRange},
	} {
		text := strings.Replace(benchDone, `"after": {"mark": "W"}`, `"after": `+c.after, 1)
		require.NotEqual(t, benchDone, text)
		done, err := ReadAsDone([]byte(text))
		if err == nil {
			_, err = benchPlan(t).reviewBy(done, rulesWith(t))
		}
		require.ErrorIs(t, err, c.err, c.name)
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		require.Len(t, all, 1, c.name)
		assert.Equal(t, "stations[1]"+c.path, all[0].Path, c.name)
		assert.Contains(t, err.Error(), c.says, c.name)
	}
}

// A turn that reads short is never simply turned on where something else is wrong, or where the engine
// has run; and where it may be, not before what has to be so by then. Common practice, no source.
func TestShortIsNotSimplyTurnedOn(t *testing.T) {
	job := benchPlan(t).Job
	thread, gasket, expected := turn.MustParseThread("1-14 UNS"), units.MustParseLength("4 mm"), turn.MustOf(9, 2)
	in := turn.MustParseInstruction("3/4 to 1 turn after gasket contact")
	tighten := Tighten{Turn: in, Thread: turn.RightHand, Marks: job.Stations[1].Tighten.Marks, Canister: thread, Gasket: gasket, ContactTurns: expected}
	sequence, err := turn.ParseSequence("50 N·m then 60°")
	require.NoError(t, err)
	clamped := Tighten{Sequence: sequence, Within: &TurnTolerance{Less: turn.MustOf(5, 360), More: turn.MustOf(5, 360)}, Thread: turn.RightHand}
	no, yes := ptr(false), ptr(true)
	for _, c := range []struct {
		name   string
		edit   func(*AsDone, *StationDone)
		reason string
		always bool // also where there is no contact
	}{
		{"nothing else is wrong", func(*AsDone, *StationDone) {}, "", false},
		{"dragged", func(_ *AsDone, s *StationDone) { s.Dragged = yes }, "why.in-doubt/dragged", true},
		{"nobody wrote whether it dragged", func(_ *AsDone, s *StationDone) { s.Dragged = nil }, "why.in-doubt/drag-not-recorded", true},
		{"contact early", func(_ *AsDone, s *StationDone) { s.ContactTurns = ptr(turn.MustOf(9, 4)) }, "why.in-doubt/contact", false},
		{"contact not counted", func(_ *AsDone, s *StationDone) { s.ContactTurns = nil }, "why.in-doubt/contact-not-counted", false},
		{"contact at another mark", func(_ *AsDone, s *StationDone) {
			s.Marks.Before, s.Marks.After = MarkSeen{Mark: "N"}, MarkSeen{Mark: "S"}
		}, "why.in-doubt/other-mark", false},
		{"leak, priming", func(_ *AsDone, s *StationDone) { s.Leaks = LeakCheck{Priming: yes} }, "why.in-doubt/leak", true},
		{"leak, hot", func(_ *AsDone, s *StationDone) { s.Leaks = LeakCheck{Hot: yes} }, "why.in-doubt/leak", true},
		{"cranked", func(d *AsDone, _ *StationDone) { d.Cranks = []CrankDone{{Crank: 8e9}} }, "why.in-doubt/ran", true},
		{"looked at hot", func(_ *AsDone, s *StationDone) { s.Leaks = LeakCheck{Hot: no} }, "why.in-doubt/ran", true},
	} {
		for _, way := range []Tighten{tighten, clamped} {
			s := StationDone{ID: "2", Dragged: no}
			if given(way.Turn) {
				s.ContactTurns = ptr(expected)
				s.Marks = &MarksSeen{Before: MarkSeen{Mark: "S"}, After: MarkSeen{Mark: "N"}, Passes: ptr(0)}
			} else {
				s.Angle = &AngleDone{Total: ptr(turn.MustOf(1, 24))}
				if c.reason != "" && !c.always {
					continue // nothing of it is read there
				}
			}
			done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x"}
			c.edit(&done, &s)
			done.Stations = []StationDone{s}
			review, err := planBy(t, job, way, rulesWith(t)).Review(done)
			require.NoError(t, err, c.name)
			for _, l := range review.Lines {
				if l.Code != "turn" && l.Code != "angle" {
					continue
				}
				if c.reason == "" {
					assert.Equal(t, Fail, l.Verdict, c.name)
					assert.Equal(t, "why.turn/short", l.Reasons[0].String(), c.name)
					continue
				}
				assert.Equal(t, Fail, l.Verdict, "%s: %v", c.name, l)
				assert.Equal(t, c.reason, l.Reasons[0].String(), c.name)
				assert.Equal(t, "why.not-turned-on", l.Reasons[1].String(), c.name)
			}
		}
	}
}

// A count to contact that isn't as expected takes its ground from the turn, however well it reads.
func TestTurnFromAContactInDoubtDoesNotPass(t *testing.T) {
	job := benchPlan(t).Job
	thread, gasket, expected := turn.MustParseThread("1-14 UNS"), units.MustParseLength("4 mm"), turn.MustOf(9, 2)
	in := turn.MustParseInstruction("1/2 to 1 turn after gasket contact")
	tighten := Tighten{Turn: in, Thread: turn.RightHand, Marks: job.Stations[1].Tighten.Marks, Canister: thread, Gasket: gasket, ContactTurns: expected}
	counted := tighten
	counted.Canister, counted.Gasket = turn.Thread{}, units.Length{} // nothing to hold the count against but the count expected
	for _, tighten := range []Tighten{tighten, counted} {
		turnAfterContact(t, planBy(t, job, tighten, rulesWith(t)))
	}
}

func turnAfterContact(t *testing.T, plan *Plan) {
	job := plan.Job
	for counted, want := range map[string]Verdict{"4 1/2 turns": Pass, "4 3/4 turns": Pass, "2 1/4 turns": Undecided, "4.751 turns": Undecided} {
		done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x",
			Stations: []StationDone{{ID: "2", Dragged: ptr(false), ContactTurns: ptr(turn.MustParse(counted)),
				Marks: &MarksSeen{Before: MarkSeen{Mark: "S"}, After: MarkSeen{Mark: "W"}, Passes: ptr(0)}}}}
		review, err := plan.Review(done)
		require.NoError(t, err)
		assert.Equal(t, want, lineOf(t, review, "stations[0].marks").Verdict, counted)
	}
}

// Turns to a stop are judged by the count of the rules, and the sheet says how far that goes.
func TestTurnsToTheStopByTheRules(t *testing.T) {
	job := benchPlan(t).Job
	way := Tighten{Seat: &Seat{Gap: "under the cap", StopTurns: turn.MustOf(4, 1)}, Thread: turn.RightHand}
	for rules, want := range map[Rules]bool{rulesWith(t): true, {}: false} {
		assert.Equal(t, want, strings.Contains(flat(planBy(t, job, way, rules).Text()), "More than 1/4 turn early or late: stop, take it off and look."))
	}
}

// What went wrong has a way out, on the sheet before and in the verdict after. Common practice, no source.
func TestRemedies(t *testing.T) {
	const sheet = "DRAGS? STOP. Back off by hand. Look at thread and seal. Damaged: new part. Start again. Drags again: ask."
	for name, way := range ways() {
		plan, done := oneStation(t, way.tighten, way.done)
		text := flat(plan.Text())
		assert.Equal(t, 1, strings.Count(text, sheet), name)
		gap := given(way.tighten.Torque) || way.tighten.Printed != "" || way.tighten.Seat != nil
		assert.Equal(t, gap, regexp.MustCompile(`CLICK.*BUT A GAP\?( Stop\.)? Take it off, look at thread and seal|Click, but a gap\? Take it off, look at thread and seal`).MatchString(text), name)
		assert.Equal(t, given(way.tighten.Turn), strings.Contains(text, "TOO FAR? Never turn back. Take it off, new gasket, start again."), name)
		done.Stations[0].Dragged = ptr(true)
		if done.Stations[0].Seated != nil {
			done.Stations[0].Seated = ptr(false)
		}
		review, err := plan.reviewBy(done, rulesWith(t))
		require.NoError(t, err, name)
		for _, l := range review.Lines {
			switch l.Code {
			case "run-up":
				assert.Equal(t, "why.run-up/yes", l.Reasons[0].String(), name)
			case "seat":
				if l.Verdict != NotRecorded {
					assert.Equal(t, "why.gap-open/seat", l.Reasons[0].String(), name)
				}
			}
		}
	}
}
