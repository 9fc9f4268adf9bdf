package service

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// TurnPlan says which way and how far, and where to stop so that a reading by the rules passes.
type TurnPlan struct {
	Instruction turn.Instruction // as the job states it
	// Window is what a reading is judged by: the instruction, with the tolerance of the rules where it
	// states one turn and no range. It says by itself what it allows the eye.
	Window turn.Instruction
	Aim    turn.Turn // the middle of Window, where to stop
	Eye    turn.Turn // that of the rules; without rules 15°, and no pass is promised
	// Marks says for each place that may be at the index at contact where to stop: for each mark in
	// the order of the job, and behind it for the place midway to the next. Where contact is known, for
	// that one alone.
	Marks []turn.Window
	// DrawnAt is the mark against which the index is drawn on the head at contact: where the job says so,
	// and where contact isn't known and no table of it would hold.
	DrawnAt string
}

// byTurn is a way to tighten: by a turn counted from contact, or from another datum.
type byTurn Tighten

func (byTurn) name() string     { return "turn" }
func (t byTurn) stated() bool   { return given(t.Turn) }
func (byTurn) beside() []string { return []string{"marks", "contactTurns", "gasket"} }
func (byTurn) how() string      { return "by a turn" }
func (byTurn) takes() []string  { return []string{"marks", "turned", "contactTurns"} }

func (t byTurn) check(path string, errs *JobErrors) {
	if t.Marks == nil || errs.faulty(path+".marks") {
		return
	}
	ring, err := turn.NewRing(t.Marks.Labels, t.Marks.Order)
	if err != nil {
		errs.value(path+".marks.labels", err)
		return
	}
	if t.Marks.AtContact != "" {
		_, err := ring.At(t.Marks.AtContact)
		errs.value(path+".marks.atContact", err)
	}
	if t.Marks.DrawnAt != "" {
		errs.when(t.Marks.AtContact != "", path+".marks.drawnAt", "given with atContact", "one of them: an index that is drawn at contact has its mark there", errContradiction)
		_, err := ring.At(t.Marks.DrawnAt)
		errs.value(path+".marks.drawnAt", err)
	}
}

func (byTurn) band(*StationPlan) *TorquePlan { return nil }

func (byTurn) choose(chooser) {}

func (t byTurn) find(p *Plan, i int) {
	p.toAim(i)
	if t.Marks == nil {
		p.say(Note, "turn.no-marks", fmt.Sprintf("stations[%d].tighten", i), by(practice), "station", p.Stations[i].Station.ID)
	}
	p.ring(i)
}

func (t byTurn) run(w *writer, sp *StationPlan) {
	if given(t.ContactTurns) {
		w.do("turn.count-to-contact", "turns", t.ContactTurns)
		w.blank("record.turns-to-contact")
		w.count()
	}
	w.toDatum(sp)
	w.drags()
}

func (t byTurn) match(r *reviewer, path string, done StationDone, _ *StationPlan) {
	path += ".marks"
	switch {
	case done.Marks == nil:
		return
	case t.Marks == nil:
		r.errs.add(path, "given, though the station has no printed marks", "the field omitted", errContradiction)
		return
	}
	ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Order) // checked
	done.Marks.Before.match(path+".before", ring, t.Thread, &r.errs)
	done.Marks.After.match(path+".after", ring, t.Thread, &r.errs)
	if len(r.errs) == 0 {
		_, err := ring.Judge(t.Turn, done.Marks.reading(ring, t.Thread, r.rules.Eye), t.Thread)
		r.errs.value(path, err)
	}
}

func (t byTurn) judge(r *reviewer, path string, done StationDone, _ *StationPlan) {
	r.turn(Tighten(t), done, path, r.contact(Tighten(t), done, path))
}

func (byTurn) says(r Rules) []Clause {
	tolerance := says(message("turn.tolerance/none"), theJob)
	if t := r.Turn; t != nil {
		tolerance = says(message("turn.tolerance", "less", t.Less, "more", t.More), t.Source)
	}
	return []Clause{says(message("turn", "eye", r.Eye), agreed), says(message("turn.short"), practice), tolerance,
		says(message("contact", "count", r.Count), practice), says(message("turn.over"), practice)}
}

// goes is the way to tighten, as seen from somewhere.
func (t Tighten) goes(seen turn.View) turn.Rotation {
	return turn.Sense(t.Thread, turn.Tightening, seen)
}

// eye is how far an eye may be out. Where no rules are agreed on it is what a bench expects (common practice, no source);
// a review never goes by that.
func (r Rules) eye() turn.Turn {
	return either(r == (Rules{}), turn.MustOf(15, 360), r.Eye)
}

// plan works out where to stop.
func (t byTurn) plan(p *Plan, sp *StationPlan, path string, errs *JobErrors) {
	plan := &TurnPlan{Instruction: t.Turn, Window: p.Rules.widen(t.Turn), Eye: p.Rules.eye()}
	var err error
	plan.Aim, err = plan.Window.Aim()
	errs.value(path+".turn", err)
	sp.Turn = plan
	if t.Marks == nil || err != nil {
		return
	}
	plan.DrawnAt = plan.drawn(t.Marks)
	ring, contacts, err := Tighten(t).contacts(plan.DrawnAt)
	errs.value(path+".marks", err)
	plan.Marks = make([]turn.Window, 0, len(contacts))
	for _, at := range contacts {
		window, err := ring.Window(at, plan.Window, t.Thread)
		errs.value(path+".turn", err)
		plan.Marks = append(plan.Marks, window)
	}
}

// mostMarks is how many a table of contacts may have to be read at arm's length. Common practice, no source.
const mostMarks = 6

// drawn is the mark at which the index is drawn, "" where it is there already. A table of contacts holds
// where the nearest of them, which is right to a quarter of a gap, and the eye together stay in the window.
func (p *TurnPlan) drawn(m *Marks) string {
	n := len(m.Labels)
	if m.DrawnAt != "" || m.AtContact != "" {
		return m.DrawnAt
	}
	quarter, _ := turn.Of(1, 4*int64(n)) // at most 360 marks
	if out, err := p.Eye.Add(quarter); err == nil && p.Window.Allows(out) && n > 2 && n <= mostMarks {
		return ""
	}
	return m.Labels[0]
}

// contacts are the places that may be at the index at contact.
func (t Tighten) contacts(drawn string) (ring turn.Ring, places []turn.Position, err error) {
	m := t.Marks
	ring, _ = turn.NewRing(m.Labels, m.Order) // checked
	if known := cmp.Or(drawn, m.AtContact); known != "" {
		at, err := ring.At(known)
		return ring, []turn.Position{at}, err
	}
	for i, label := range m.Labels {
		between, err := ring.Between(label, m.Labels[(i+1)%len(m.Labels)], turn.Part{}, t.Thread)
		if err != nil {
			return ring, nil, err
		}
		places = append(places, turn.Position{Mark: label}, between)
	}
	return ring, places, nil
}

// toAim says before the work where no reading can show afterwards that a turn was kept.
func (p *Plan) toAim(i int) {
	t := p.Stations[i].Turn
	if t == nil || t.Window.Allows(t.Eye) {
		return
	}
	if t.Window.Least() == t.Window.Most() {
		p.tell(Caution, "turn.without-tolerance", i, ".turn", by(practice), "turn", t.Instruction)
	} else {
		p.tell(Caution, "turn.narrower-than-eye", i, ".turn", by(practice), "window", t.Window, "eye", t.Eye.Degrees())
	}
}

// toDatum is where counting starts, and what is at the index there.
func (w *writer) toDatum(sp *StationPlan) {
	t, marks := sp.Turn, sp.Station.Tighten.Marks
	w.do("turn.to/" + variantOf(t.Instruction.Datum()))
	switch {
	case marks == nil:
		w.do("turn.line")
	case t.DrawnAt != "":
		w.do("turn.draw", "mark", t.DrawnAt)
	case marks.AtContact != "":
		w.know("turn.contact", "mark", marks.AtContact, "index", marks.Index)
	default:
		w.know("turn.index", "index", marks.Index)
		w.blank("record.contact")
	}
}

func (byTurn) sheet(w *writer, sp StationPlan) {
	t, tighten := sp.Turn, sp.Station.Tighten
	seen := turn.FacingClosedEnd
	if tighten.Marks != nil {
		seen = tighten.Marks.View
	}
	w.way(tighten, seen)
	w.further(sp)
	w.aim(t)
	if len(t.Marks) <= 1 {
		w.picture("picture.ring")
	} else {
		w.add(Grid, "turn.marks", nil)
		w.tell("turn.nearest")
	}
	if tighten.Marks != nil {
		w.blank("record.marks" + either(t.Window.Most().Compare(oneTurn) >= 0, "/rounds", ""))
	} else {
		w.blank("record.turned")
	}
	w.alarm("turn.too-far")
}

// further is how far, or where contact is known the mark to stop at.
func (w *writer) further(sp StationPlan) {
	t := sp.Turn
	w.why("turn.stated", "turn", t.Instruction, "angle", angles(t.Instruction))
	if len(t.Marks) == 1 {
		w.stop(sp)
		return
	}
	switch least, most := t.Window.Least(), t.Window.Most(); {
	case sp.Station.Tighten.Marks == nil && most.Compare(oneTurn) > 0:
		w.figure("turn.further/one", "most", t.Aim)
		w.tell("turn.count", "times", t.Aim.Rat().Num().Int64()/t.Aim.Rat().Denom().Int64())
	case least == most:
		w.figure("turn.further/one", "most", most)
	default:
		w.figure("turn.further", "least", least, "most", most)
	}
	w.tell("turn.datum/" + variantOf(t.Instruction.Datum()))
}

// stop is the one answer where contact is known.
func (w *writer) stop(sp StationPlan) {
	t, window := sp.Turn, sp.Turn.Marks[0]
	switch aim := sp.place(window.Aim); {
	case aim.Past != (turn.Turn{}) || aim.Share != (turn.Part{}):
		w.figure("turn.further/one", "most", t.Aim)
		w.tell("turn.stop", "place", aim)
	case aim.Next == "":
		w.figure("turn.further/mark", "mark", aim.Mark)
		w.tell("turn.stop/mark")
	default:
		w.figure("turn.further/midway", "mark", aim.Mark, "next", aim.Next)
		w.tell("turn.stop/midway")
	}
	if n := window.Aim.Passes; n > 0 {
		w.know("turn.rounds", "mark", window.From.Mark, "times", n)
	}
	if t.Window.Least() != t.Window.Most() {
		w.know("turn.never"+either(window.Most.Passes > 0, "/round", ""), "place", sp.place(window.Most))
	}
}

// place is where a planned position is on the ring of a station, however often the start comes round.
func (s *StationPlan) place(p turn.Position) turn.Place {
	t := s.Station.Tighten
	ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Order) // planned
	p.Passes = 0
	place, _ := ring.Place(p, t.Thread)
	return place
}

// aim says where to stop, and whether that will pass.
func (w *writer) aim(t *TurnPlan) {
	if t.Window.Least() == t.Window.Most() {
		w.know("turn.open")
	} else {
		if len(t.Marks) == 0 {
			w.know("turn.aim", "aim", t.Aim, "most", t.Window.Most())
		}
		w.why("turn.window", "least", t.Window.Least(), "aim", t.Aim, "angle", t.Aim.Degrees(), "most", t.Window.Most(), "most-angle", t.Window.Most().Degrees())
	}
	if t.Window != t.Instruction && w.rules.Turn != nil {
		w.why("turn.tolerance", "source", w.rules.Turn.Source)
	}
	switch {
	case w.rules == (Rules{}):
		w.why("turn.eye-without-rules", "eye", t.Eye.Degrees())
	case t.Window.Allows(t.Eye):
		w.why("turn.eye", "eye", t.Eye.Degrees(), "rules", w.rules.Name)
	}
}

// count says how far a count may be out, where that is agreed on.
func (w *writer) count() {
	if w.rules != (Rules{}) {
		w.tell("count.within", "count", w.rules.Count)
	}
}

// drags says what to do with a part that drags while it is run up by hand.
func (w *writer) drags() {
	w.alarm("drag.remedy")
	w.blank("record.dragged")
}

// angles are the ends of an instruction in degrees, or the one angle where it has no range.
func angles(i turn.Instruction) any {
	if i.Least().Compare(i.Most()) == 0 {
		return i.Least().Degrees()
	}
	return []units.Angle{i.Least().Degrees(), i.Most().Degrees()}
}

// contact audits the count to gasket contact where the job says what it expects, and gives the code of why contact
// is in doubt after that; "" where it isn't.
func (r *reviewer) contact(t Tighten, done StationDone, path string) (doubt string) {
	thread, counted := either(given(t.Canister), t.Canister, t.Stud), done.ContactTurns
	switch {
	case !given(t.ContactTurns):
		return ""
	case counted == nil:
		doubt = "why.in-doubt/contact-not-counted"
	case r.off(*counted, t.ContactTurns) != 0:
		doubt = "why.in-doubt/contact"
	}
	if !given(thread) || !given(t.Gasket) { // nothing but the count
		return doubt
	}
	l := Line{Where: path + ".contactTurns", Code: "contact", Needed: true, Sources: []string{practice},
		Want: message("want.contact", "turns", t.ContactTurns, "count", r.rules.Count)}
	if counted != nil {
		l.Found = message("found.turn", "turn", *counted)
		found, err := thread.JudgeContact(t.ContactTurns, *counted, r.rules.Count, t.Gasket)
		r.errs.value(l.Where, err)
		verdict := Fail
		if found.Contact == turn.ContactExpected {
			verdict = Pass
		}
		l.is(verdict, "why.contact/"+variantOf(found.Contact), "turns", found.Turns, "advance", computed(Value{Value: found.Advance}))
	}
	r.say(l)
	return doubt
}

// off says on which side of the turns expected a count is by more than the rules allow: -1, 0 or +1.
func (r *reviewer) off(counted, expected turn.Turn) int {
	off := counted.Rat()
	off.Sub(off, expected.Rat())
	if side := off.Sign(); off.Abs(off).Cmp(r.rules.Count.Rat()) > 0 {
		return side
	}
	return 0
}

// noTurningOn is the code of why a part that reads short is not simply turned on; "" where nothing speaks
// against it. Contact is what the job's marks and the count to it say of it.
func (r *reviewer) noTurningOn(done StationDone, contact string) string {
	any := func(is func(LeakCheck) bool) bool {
		return slices.ContainsFunc(r.done.Stations, func(s StationDone) bool { return is(s.Leaks) })
	}
	switch {
	case dragged(done):
		return "why.in-doubt/dragged"
	case contact != "":
		return contact
	case done.Dragged == nil:
		return "why.in-doubt/drag-not-recorded"
	case any(LeakCheck.found):
		return "why.in-doubt/leak"
	case len(r.done.Cranks) > 0, any(LeakCheck.ran):
		return "why.in-doubt/ran"
	}
	return ""
}

// reading is what was seen on a ring that has both places.
func (m MarksSeen) reading(ring turn.Ring, hand turn.Hand, eye turn.Turn) turn.Reading {
	before, _ := ring.Position(m.Before.place(), hand)
	after, _ := ring.Position(m.After.place(), hand)
	s := turn.Reading{From: before, To: after, Eye: eye}
	if m.Passes != nil {
		s.Passes, s.Counted = *m.Passes, true
	}
	return s
}

// StopFrom says where to stop, from what was at the index at contact: "turn.stop-from" with the places to aim for and
// never to pass, each a [turn.Place]; with the variant "open" where the instruction has no range.
//
// Errors: *units.ParseError as [turn.Ring.At], [turn.Ring.Between] and [turn.Ring.Window]; units.ErrSyntax
// for a station without marks.
func (s *StationPlan) StopFrom(contact MarkSeen) (Message, error) {
	t := s.Station.Tighten
	if s.Turn == nil || t.Marks == nil {
		return Message{}, &units.ParseError{What: "contact", Input: plain.Cut(contact.String()), Problem: "the station has no marks to read it from",
			Want: "a station that is tightened by a turn, with marks", Err: units.ErrSyntax}
	}
	ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Order) // planned
	for _, mark := range contact.Between {
		if _, err := ring.At(mark); err != nil {
			return Message{}, err
		}
	}
	from, err := ring.Position(contact.place(), t.Thread)
	if err != nil {
		return Message{}, err
	}
	window, err := ring.Window(from, s.Turn.Window, t.Thread)
	if err != nil {
		return Message{}, err
	}
	aim, _ := ring.Place(window.Aim, t.Thread) // where the window is
	if window.Least == window.Most {
		return message("turn.stop-from/open", "aim", aim), nil
	}
	most, _ := ring.Place(window.Most, t.Thread)
	return message("turn.stop-from", "aim", aim, "most", most), nil
}

// String is "A", "1/16 turn past A", "midway between A and D" or "1/3 of the way from A to D".
func (m MarkSeen) String() string { return strings.TrimPrefix(m.place().String(), "at ") }

// place is the same for a sentence; a share is from the first mark that was written towards the second.
func (m MarkSeen) place() turn.Place {
	switch {
	case len(m.Between) == 2 && m.Share != nil:
		return turn.Place{Mark: m.Between[0], Next: m.Between[1], Share: *m.Share}
	case len(m.Between) == 2:
		return turn.Place{Mark: m.Between[0], Next: m.Between[1]}
	case m.Past != nil:
		return turn.Place{Mark: m.Mark, Past: *m.Past}
	}
	return turn.Place{Mark: m.Mark}
}

func (m MarkSeen) check(path string, errs *JobErrors) {
	const both = `one of them: "mark": "A", or "between": ["A", "D"]`
	switch {
	case errs.faulty(path):
	case (m.Mark == "") == (len(m.Between) == 0):
		errs.add(path, "both or neither of mark and between", both, errContradiction)
	case len(m.Between) != 0 && len(m.Between) != 2:
		errs.add(path+".between", fmt.Sprintf("%d marks", len(m.Between)), "the two neighbours on either side of the index", errContradiction)
	case m.Past != nil && len(m.Between) != 0:
		errs.add(path+".past", "given with between", `"share", how far from the first mark towards the second, as a part of their gap`, errContradiction)
	case m.Share != nil && len(m.Between) == 0:
		errs.add(path+".share", "given without between", `"between" with two neighbours, or "past" with a turn`, errContradiction)
	}
}

// match refuses a place that the ring doesn't have. Who writes half a turn past a mark may mean half
// of the gap: the error says how that is written.
func (m MarkSeen) match(path string, ring turn.Ring, hand turn.Hand, errs *JobErrors) {
	_, err := ring.Position(m.place(), hand)
	switch {
	case err == nil:
	case len(m.Between) == 2:
		errs.value(path+".between", err)
	case m.Past == nil || !errors.Is(err, units.ErrRange):
		errs.value(path+".mark", err)
	default:
		want := ""
		if next, passErr := ring.Passing(turn.Position{Mark: m.Mark}, oneTurn, hand); passErr == nil && len(ring.Labels()) > 2 {
			want = fmt.Sprintf("; between marks write %q: [%q, %q]", "between", m.Mark, next[0].Label)
		}
		errs.add(path+".past", err.Error()+want, "", err)
	}
}

// turn judges what was turned; contact is the code of why contact is in doubt already, "" where it isn't.
func (r *reviewer) turn(t Tighten, done StationDone, path, contact string) {
	in := r.rules.widen(t.Turn)
	l := Line{Where: path + ".marks", Code: "turn", Needed: true, Want: message("want.turn", "turn", in), Sources: r.rules.turnSources(t.Turn)}
	var found turn.Judgment
	var err error
	another := ""
	switch {
	case done.Marks != nil:
		ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Order) // checked
		l.Found = message("found.marks", "before", done.Marks.Before.place(), "after", done.Marks.After.place())
		seen := done.Marks.reading(ring, t.Thread, r.rules.Eye) // matched
		if another = t.anotherMark(ring, seen.From); another != "" {
			contact = cmp.Or(contact, "why.in-doubt/other-mark")
		}
		found, err = ring.Judge(in, seen, t.Thread)
	case done.Turned != nil:
		l.Where, l.Found = path+".turned", message("found.turn", "turn", *done.Turned)
		found, err = in.Judge(*done.Turned, r.rules.Eye)
	default:
		r.say(l)
		return
	}
	r.errs.value(l.Where, err)
	r.reach(&l, in, found, r.rules.Eye, done, contact)
	if another != "" {
		l.is(l.Verdict, "why.other-mark", "mark", another)
	}
	r.say(l)
}

// reach judges a line by how far a turn came, read to so much either way.
func (r *reviewer) reach(l *Line, in turn.Instruction, found turn.Judgment, out turn.Turn, done StationDone, contact string) {
	doubt := r.noTurningOn(done, contact)
	switch {
	case found.Reach == turn.Short && doubt != "":
		l.overrule(Fail, doubt)
		l.is(Fail, "why.not-turned-on")
	case found.Reach == turn.Short:
		l.is(Fail, "why.turn/short")
	case found.Reach == turn.Over:
		l.is(Fail, "why.turn/over"+either(in.Datum() == turn.GasketContact, "-gasket", ""))
	case found.Reach == turn.InWindow && dragged(done):
		l.overrule(Undecided, "why.dragged/"+variantOf(in.Datum()))
	case found.Reach == turn.InWindow && done.ContactTurns != nil && contact != "":
		l.is(Undecided, contact)
	case found.Reach == turn.InWindow:
		l.is(Pass, "why.turn/in-the-window")
	case found.ByPasses != nil:
		var values []any
		for n, reach := range found.ByPasses {
			values = append(values, fmt.Sprintf("times-%d", n+1), n, fmt.Sprintf("reach-%d", n+1), reach)
		}
		l.is(Undecided, "why.rounds-not-counted", values...)
	case in.Least() == in.Most():
		l.is(Undecided, "why.no-tolerance/turn")
	default:
		l.is(Undecided, "why.turn/unclear", "out", out.Degrees())
	}
}

// anotherMark is the mark that the job expects at contact, where what was seen there was more than a quarter of a gap
// from it; "" where it wasn't, or where it expects none.
func (t Tighten) anotherMark(ring turn.Ring, seen turn.Position) string {
	mark := cmp.Or(t.Marks.DrawnAt, t.Marks.AtContact)
	if mark == "" {
		return ""
	}
	quarter, _ := turn.Of(1, 4*int64(len(t.Marks.Labels))) // at most 360 marks
	expected := turn.Position{Mark: mark}
	for _, pair := range [2][2]turn.Position{{expected, seen}, {seen, expected}} {
		if off, err := ring.Turned(pair[0], pair[1], t.Thread); err == nil && off.Compare(quarter) <= 0 {
			return ""
		}
	}
	return mark
}
