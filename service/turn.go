package service

import (
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// TurnPlan tells which way and how far.
type TurnPlan struct {
	Instruction turn.Instruction
	ClosedEnd   turn.Rotation // the way to tighten, facing the closed end
	HeadSide    turn.Rotation // the same, seen from the head side
	Marks       []MarkPair    // for each label that may stand at the index at contact
}

// MarkPair tells what stands at the index before and after the turn.
type MarkPair struct {
	AtContact   string
	Least, Most turn.Position // the same where the instruction is no range
}

// goes is the way to tighten, as seen from somewhere.
func (t Tighten) goes(seen turn.View) turn.Rotation {
	return turn.Sense(t.Thread, turn.Tightening, seen)
}

// plan tells for each mark at contact which mark ends up at the index.
func (t Tighten) plan(path string, errs *JobErrors) *TurnPlan {
	p := &TurnPlan{
		Instruction: *t.Turn,
		ClosedEnd:   t.goes(turn.FacingClosedEnd),
		HeadSide:    t.goes(turn.FromHeadSide),
	}
	if t.Marks == nil {
		return p
	}
	ring, err := turn.NewRing(t.Marks.Labels, t.Marks.Printed)
	errs.value(path+".marks.labels", err)
	labels := t.Marks.Labels
	if t.Marks.AtContact != "" {
		labels = []string{t.Marks.AtContact}
	}
	for _, label := range labels {
		from, err := ring.At(label)
		errs.value(path+".marks.atContact", err)
		pair := MarkPair{AtContact: label}
		pair.Least, err = ring.Tighten(from, t.Turn.Least(), t.Thread)
		errs.value(path+".turn", err)
		pair.Most, err = ring.Tighten(from, t.Turn.Most(), t.Thread)
		errs.value(path+".turn", err)
		p.Marks = append(p.Marks, pair)
	}
	return p
}

func (w *writer) turn(sp StationPlan) {
	t, marks := sp.Turn, sp.Station.Tighten.Marks
	if n := sp.Station.Tighten.Expected; n != nil {
		w.do("turn.count-to-contact", "count the turns from the first thread to contact: {turns} are expected", "turns", n)
	}
	switch t.Instruction.Datum() {
	case turn.GasketContact:
		w.do("turn.to-contact", "screw it on by hand until the gasket just touches: counting starts there, not at hand-tight; if it drags before, stop: it is cross-threaded")
	case turn.FingerTight:
		w.do("turn.to-finger-tight", "screw it on as far as fingers turn it, no tool: counting starts there")
	default:
		w.do("turn.to-snug", "draw it into firm contact: counting starts there")
	}
	if marks == nil {
		w.do("turn.line", "draw one line across the part and its head: what is turned is counted from it")
	}
	w.do("turn.further", "then further: {turn} ({angle})", "turn", t.Instruction, "angle", howFar(t.Instruction))
	w.sense(t.ClosedEnd, t.HeadSide, sp.Station.Tighten)
	if marks != nil {
		w.tell("turn.index", "From where you stand, {view}, it goes {sense}. Index: {index}. A mark counts when it stands at the index, not when it comes in sight.",
			"view", marks.Seen, "sense", sp.Station.Tighten.goes(marks.Seen), "index", marks.Index)
		w.marks(t.Marks)
	}
	w.picture(ringPicture(sp))
	w.know("turn.too-far", "Too far is too far: don't turn back to the mark; take it off, fit a new gasket, begin again.")
}

// marks tells for each label at contact which one is at the index at the end.
func (w *writer) marks(pairs []MarkPair) {
	table := &Table{Heads: []string{"at the index at contact", "turn until it is"}}
	if slices.ContainsFunc(pairs, func(m MarkPair) bool { return m.Least != m.Most }) {
		table.Heads = append(table.Heads, "and no further than")
	}
	for _, m := range pairs {
		column := []string{clean(m.AtContact), cell(m.Least), cell(m.Most)}
		table.Columns = append(table.Columns, column[:len(table.Heads)])
	}
	w.add(Item{Kind: Grid, Code: "turn.marks", Table: table})
}

// cell is a position in few words: "N", "1/8 turn past N", "N, once round".
func cell(p turn.Position) string {
	round := ""
	switch p.Passes {
	case 0:
	case 1:
		round = ", once round"
	case 2:
		round = ", twice round"
	default:
		round = fmt.Sprintf(", %d times round", p.Passes)
	}
	p.Passes = 0
	return clean(p.String() + round)
}

// howFar is an instruction in degrees.
func howFar(i turn.Instruction) numbers {
	if i.Least().Compare(i.Most()) == 0 {
		return degrees(i.Least())
	}
	return degrees(i.Least()) + " to " + degrees(i.Most())
}

func degrees(t turn.Turn) numbers {
	d := t.Degrees()
	if d.Places() > 2 {
		return numbers("about " + d.Round(2, units.ToNearestEven).String())
	}
	return numbers(d.String())
}

// contact audits the count to gasket contact where the job says what it expects.
func (r *reviewer) contact(t Tighten, done StationDone, path string) {
	thread := t.Canister
	if thread == nil {
		thread = t.Stud
	}
	if thread == nil || t.Expected == nil || t.Gasket == nil {
		return
	}
	l := Line{Where: path + ".contactTurns", Code: "contact", Needed: true, Verdict: NotRecorded, Source: practice,
		Want: fmt.Sprintf("%v from the first thread to contact, give or take %v", t.Expected, r.rules.Count), Reason: "nobody counted the turns to contact"}
	if done.ContactTurns != nil {
		l.Found = done.ContactTurns.String()
		audit, err := thread.AuditContact(*t.Expected, *done.ContactTurns, r.rules.Count, *t.Gasket)
		r.errs.value(l.Where, err)
		l.Verdict, l.Reason = Pass, audit.String()
		if audit.Stop() {
			l.Verdict = Fail
		}
	}
	r.say(l)
}

func (m MarksSeen) sighting(eye turn.Turn) turn.Sighting {
	s := turn.Sighting{From: m.Before.position(), To: m.After.position(), Within: eye}
	if m.Passes != nil {
		s.Passes, s.Counted = *m.Passes, true
	}
	return s
}

func (m MarkSeen) position() turn.Position {
	p := turn.Position{Mark: m.Mark}
	if m.Past != nil {
		p.Past = *m.Past
	}
	return p
}

// String is "A" or "1/16 turn past A".
func (m MarkSeen) String() string { return m.position().String() }

// twoMarks stands in for the marks of a canister that has none: a line drawn at the datum.
var twoMarks, _ = turn.NewRing([]string{"the line", "opposite the line"}, turn.Clockwise)

func (r *reviewer) turn(t Tighten, done StationDone, path string) {
	in := r.rules.widen(*t.Turn)
	l := Line{Where: path + ".marks", Code: "turn", Needed: true, Want: in.String(), Source: r.rules.turnSource(*t.Turn)}
	var found turn.Finding
	var err error
	switch {
	case done.Marks != nil:
		ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Printed) // checked
		l.Found = fmt.Sprintf("%v at the index before, %v after", done.Marks.Before, done.Marks.After)
		found, err = ring.Judge(in, done.Marks.sighting(r.rules.Eye), t.Thread)
	case done.Turned != nil:
		l.Where, l.Found = path+".turned", done.Turned.String()
		found, err = judgeTurned(in, *done.Turned, r.rules.Eye)
	default:
		l.Verdict, l.Reason = NotRecorded, "no turn was written down"
		r.say(l)
		return
	}
	r.errs.value(l.Where, err)
	l.Reason = strings.TrimPrefix(strings.TrimPrefix(found.Reason, "pass: "), "undecided: ") // the verdict says so
	switch found.Verdict {
	case turn.Pass:
		l.Verdict = Pass
	case turn.Short, turn.Over:
		l.Verdict = Fail
	default:
		l.Verdict = Undecided
	}
	if dragged(done) && l.Verdict == Pass {
		l.Verdict, l.Reason = Undecided, "it dragged while it was run up, so that contact may not have been contact"
	}
	if done.Marks != nil && t.Marks.AtContact != "" && !strings.EqualFold(t.Marks.AtContact, done.Marks.Before.Mark) {
		l.Reason += fmt.Sprintf("; the job expected %s at the index at contact: see that the part is the right one", t.Marks.AtContact)
	}
	r.say(l)
}

// judgeTurned judges a turn that was counted and not read off printed marks.
func judgeTurned(in turn.Instruction, turned, eye turn.Turn) (turn.Finding, error) {
	from, err := twoMarks.At("the line")
	if err != nil {
		return turn.Finding{}, err
	}
	to, err := twoMarks.Tighten(from, turned, turn.RightHand)
	if err != nil {
		return turn.Finding{}, err
	}
	return twoMarks.Judge(in, turn.Sighting{From: from, To: to, Within: eye, Passes: to.Passes, Counted: true}, turn.RightHand)
}
