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

// TurnPlan tells which way and how far, and where to stop so that a reading by the rules passes.
type TurnPlan struct {
	Instruction turn.Instruction // as the job states it
	// Window is what a reading is judged by: the instruction, with the tolerance of the rules where it
	// states one turn and no range. It says by itself what it allows the eye.
	Window    turn.Instruction
	Aim       turn.Turn     // the middle of Window, where to stop
	Eye       turn.Turn     // that of the rules; without rules 15°, and no pass is promised
	ClosedEnd turn.Rotation // the way to tighten, facing the closed end
	HeadSide  turn.Rotation // the same, seen from the head side
	// Marks tells for each place that may stand at the index at contact where to stop: for each mark in
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
	if t.Marks == nil || errs.spoilt(path+".marks") {
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
		errs.when(t.Marks.AtContact != "", path+".marks.drawnAt", "given beside atContact", "one of them: an index that is drawn at contact has its mark there", errContradiction)
		_, err := ring.At(t.Marks.DrawnAt)
		errs.value(path+".marks.drawnAt", err)
	}
}

func (t byTurn) plan(p *Plan, sp *StationPlan, path string, errs *JobErrors) {
	sp.Turn = p.turn(Tighten(t), path, errs)
}

func (byTurn) band(*StationPlan) *TorquePlan { return nil }

func (byTurn) choose(chooser) {}

func (t byTurn) find(p *Plan, i int) {
	p.toAim(i)
	if t.Marks == nil {
		p.say(Note, "turn.no-marks", fmt.Sprintf("stations[%d].tighten", i), practice, "station", p.Stations[i].Station.ID)
	}
	p.ring(i)
}

func (byTurn) sheet(w *writer, sp StationPlan) { w.turn(sp) }

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
		r.errs.add(path, "given, though the station has no printed marks", "it left out", errContradiction)
		return
	}
	ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Order) // checked
	done.Marks.Before.match(path+".before", ring, t.Thread, &r.errs)
	done.Marks.After.match(path+".after", ring, t.Thread, &r.errs)
	if len(r.errs) == 0 {
		seen, err := done.Marks.reading(ring, t.Thread, r.rules.Eye)
		r.errs.value(path, err)
		_, err = ring.Judge(t.Turn, seen, t.Thread)
		r.errs.value(path, err)
	}
}

func (t byTurn) judge(r *reviewer, path string, done StationDone, _ *StationPlan) {
	doubt := r.contact(Tighten(t), done, path)
	r.turn(Tighten(t), done, path, doubt)
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

// noRulesEye is how far an eye is taken to be out where no rules are agreed on: what a bench expects
// (common practice, no source). A review never goes by it.
var noRulesEye = turn.MustOf(15, 360)

// turn works out where to stop.
func (p *Plan) turn(t Tighten, path string, errs *JobErrors) *TurnPlan {
	plan := &TurnPlan{
		Instruction: t.Turn,
		Window:      p.Rules.widen(t.Turn),
		Eye:         p.Rules.Eye,
		ClosedEnd:   t.goes(turn.FacingClosedEnd),
		HeadSide:    t.goes(turn.FromHeadSide),
	}
	if p.Rules == (Rules{}) {
		plan.Eye = noRulesEye
	}
	var err error
	plan.Aim, err = plan.Window.Aim()
	errs.value(path+".turn", err)
	if t.Marks == nil || err != nil {
		return plan
	}
	plan.DrawnAt = plan.drawn(t.Marks)
	ring, contacts, err := t.contacts(plan.DrawnAt)
	errs.value(path+".marks", err)
	plan.Marks = make([]turn.Window, 0, len(contacts))
	for _, at := range contacts {
		window, err := ring.Window(at, plan.Window, t.Thread)
		errs.value(path+".turn", err)
		plan.Marks = append(plan.Marks, window)
	}
	return plan
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

// contacts are the places that may stand at the index at contact.
func (t Tighten) contacts(drawn string) (ring turn.Ring, places []turn.Position, err error) {
	m := t.Marks
	if ring, err = turn.NewRing(m.Labels, m.Order); err != nil {
		return ring, nil, err
	}
	if known := cmp.Or(drawn, m.AtContact); known != "" {
		at, err := ring.At(known)
		return ring, []turn.Position{at}, err
	}
	between, err := ring.Between(m.Labels[0], m.Labels[1], turn.Part{}, t.Thread)
	if err != nil {
		return ring, nil, err
	}
	places = make([]turn.Position, 0, 2*len(m.Labels))
	for i, label := range m.Labels {
		at := turn.Position{Mark: label}
		places = append(places, at)
		// The gaps are equal: as far past the one of the two marks that passes first as it is in the first gap.
		at.Past = between.Past
		if between.Mark != m.Labels[0] {
			at.Mark = m.Labels[(i+1)%len(m.Labels)]
		}
		places = append(places, at)
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
		p.tell(Caution, "turn.without-tolerance", i, ".turn", practice,
			"turn", t.Instruction)
		return
	}
	p.tell(Caution, "turn.narrower-than-eye", i, ".turn", practice,
		"window", t.Window, "eye", t.Eye.Degrees())
}

// toDatum is where counting starts, and what stands at the index there.
func (w *writer) toDatum(sp *StationPlan) {
	t, marks := sp.Turn, sp.Station.Tighten.Marks
	switch t.Instruction.Datum() {
	case turn.GasketContact:
		w.do("turn.to-contact")
	case turn.FingerTight:
		w.do("turn.to-finger-tight")
	default:
		w.do("turn.to-snug")
	}
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

func (w *writer) turn(sp StationPlan) {
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
	least, most := fraction(t.Window.Least()), fraction(t.Window.Most())
	_, unit, _ := cutLast(t.Window.Most())
	switch {
	case sp.Station.Tighten.Marks == nil && t.Window.Most().Compare(oneTurn) > 0:
		w.figure("turn.further/one", "most", fraction(t.Aim), "unit", Word(unit))
		w.tell("turn.count", "times", t.Aim.Rat().Num().Int64()/t.Aim.Rat().Denom().Int64())
	case least == most:
		w.figure("turn.further/one", "most", most, "unit", Word(unit))
	default:
		w.figure("turn.further", "least", least, "most", most, "unit", Word(unit))
	}
	w.tell("turn.datum/" + variantOf(t.Instruction.Datum()))
}

// stop is the one answer where contact is known.
func (w *writer) stop(sp StationPlan) {
	t, tighten := sp.Turn, sp.Station.Tighten
	ring, _ := turn.NewRing(tighten.Marks.Labels, tighten.Marks.Order) // planned
	window := t.Marks[0]
	aim, most := window.Aim, window.Most
	next, err := ring.Passing(turn.Position{Mark: aim.Mark}, oneTurn, tighten.Thread)
	half := aim.Past.Rat()
	half.Add(half, half)
	switch gap := (turn.Turn{}); {
	case err == nil && len(next) > 0:
		if gap = next[0].At; aim.Past == (turn.Turn{}) {
			w.figure("turn.further/at", "mark", aim.Mark)
			w.tell("turn.stop/at")
		} else if half.Cmp(gap.Rat()) == 0 && len(tighten.Marks.Labels) > 2 {
			w.figure("turn.further/between", "mark", aim.Mark, "next", next[0].Label)
			w.tell("turn.stop/between")
		} else {
			w.figure("turn.further/one", "most", fraction(t.Aim), "unit", Word("turn"))
			aim.Passes = 0
			place, _ := ring.Describe(aim, tighten.Thread) // planned
			w.tell("turn.stop/share", "place", place)
		}
	}
	if n := window.Aim.Passes; n > 0 {
		w.know("turn.rounds", "mark", window.From.Mark, "times", n)
	}
	if t.Window.Least() != t.Window.Most() {
		passes := most.Passes
		most.Passes = 0
		place, _ := ring.Describe(most, tighten.Thread) // planned
		w.know("turn.never/"+either(passes > 0, "round", ""), "place", strings.TrimPrefix(place, "at "))
	}
}

// fraction is a turn without the word, "1 1/4".
func fraction(t turn.Turn) Word {
	number, _, _ := cutLast(t)
	return Word(number)
}

// cutLast cuts the word off.
func cutLast(t turn.Turn) (number, unit string, found bool) {
	text := t.String()
	i := strings.LastIndexByte(text, ' ')
	return text[:i], text[i+1:], true
}

// aim tells where to stop, and whether that will pass.
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

// count tells how far a count may be out, where that is agreed on.
func (w *writer) count() {
	if w.rules != (Rules{}) {
		w.tell("count.within", "count", w.rules.Count)
	}
}

// drags tells what to do with a part that drags while it is run up by hand.
func (w *writer) drags() {
	w.alarm("drag.remedy")
	w.blank("record.dragged")
}

// What a bench does about a thread that drags and about a click before the gap is closed. Common
// practice, no source.
const (
	dragRemedy  = "back off by hand; look at thread and seal; damaged: new part; start again; drags again: stop and ask"
	clickRemedy = "stop, take it off, look at thread and seal"
)

// howFar is an instruction in degrees.
func howFar(i turn.Instruction) string {
	if i.Least().Compare(i.Most()) == 0 {
		return degrees(i.Least())
	}
	return degrees(i.Least()) + " to " + degrees(i.Most())
}

func degrees(t turn.Turn) string {
	d := t.Degrees()
	if d.Places() > 2 {
		return "about " + d.Round(2, units.ToNearestEven).String()
	}
	return d.String()
}

// angles are the ends of an instruction in degrees, or the one angle where it has no range.
func angles(i turn.Instruction) any {
	if i.Least().Compare(i.Most()) == 0 {
		return i.Least().Degrees()
	}
	return []units.Angle{i.Least().Degrees(), i.Most().Degrees()}
}

// contact audits the count to gasket contact where the job says what it expects, and says why contact
// is in doubt after that; "" where it isn't.
func (r *reviewer) contact(t Tighten, done StationDone, path string) (doubt string) {
	thread := t.Canister
	if !given(thread) {
		thread = t.Stud
	}
	switch {
	case !given(t.ContactTurns):
		return ""
	case !given(thread) || !given(t.Gasket): // nothing but the count
		return r.countOff(t.ContactTurns, done.ContactTurns)
	}
	l := Line{Where: path + ".contactTurns", Code: "contact", Needed: true, Verdict: NotRecorded, Sources: []string{practice},
		WantText: fmt.Sprintf("%v from the first thread to contact, give or take %v", t.ContactTurns, r.rules.Count), ReasonText: notCounted}
	if doubt = l.ReasonText; done.ContactTurns != nil {
		l.FoundText = done.ContactTurns.String()
		count, err := thread.JudgeContact(t.ContactTurns, *done.ContactTurns, r.rules.Count, t.Gasket)
		r.errs.value(l.Where, err)
		l.Verdict, l.ReasonText, doubt = Pass, count.String(), ""
		if count.Contact != turn.ContactExpected {
			l.Verdict, doubt = Fail, offCount
		}
	}
	r.say(l)
	return doubt
}

const (
	notCounted = "nobody counted the turns to contact"
	offCount   = "the turns to contact were not those expected, so that it may not have been contact"
)

// countOff says what is wrong with a count to contact; "" where nothing is.
func (r *reviewer) countOff(expected turn.Turn, counted *turn.Turn) string {
	if counted == nil {
		return notCounted
	}
	off := counted.Rat()
	off.Sub(off, expected.Rat())
	if off.Abs(off).Cmp(r.rules.Count.Rat()) > 0 {
		return offCount
	}
	return ""
}

// noTurningOn says why a part that reads short is not simply turned on; "" where nothing speaks
// against it. Contact is what the job's marks and the count to it say of it.
func (r *reviewer) noTurningOn(done StationDone, contact string) string {
	any := func(is func(LeakCheck) bool) bool {
		return slices.ContainsFunc(r.done.Stations, func(s StationDone) bool { return is(s.Leaks) })
	}
	switch {
	case dragged(done):
		return "it dragged while it was run up"
	case contact != "":
		return contact
	case done.Dragged == nil:
		return "nobody wrote down whether it dragged"
	case any(LeakCheck.found):
		return "a leak was found"
	case len(r.done.Cranks) > 0, any(LeakCheck.ran):
		return "the engine has been cranked or has run since"
	}
	return ""
}

// notTurnedOn stands behind the reason why not.
const notTurnedOn = "; it reads short, and isn't tightened further before that is cleared by the manufacturer's instructions"

func (m MarksSeen) reading(ring turn.Ring, hand turn.Hand, eye turn.Turn) (turn.Reading, error) {
	before, err := m.Before.position(ring, hand)
	if err != nil {
		return turn.Reading{}, err
	}
	after, err := m.After.position(ring, hand)
	s := turn.Reading{From: before, To: after, Eye: eye}
	if m.Passes != nil {
		s.Passes, s.Counted = *m.Passes, true
	}
	return s, err
}

// StopFrom says in words where to stop, from what stood at the index at contact: "stop midway between 4 and
// 3; never past 3".
//
// Errors: *units.ParseError as [turn.Ring.At], [turn.Ring.Between] and [turn.Ring.Window]; units.ErrSyntax
// for a station without marks.
func (s *StationPlan) StopFrom(contact MarkSeen) (string, error) {
	t := s.Station.Tighten
	if s.Turn == nil || t.Marks == nil {
		return "", &units.ParseError{What: "contact", Input: plain.Cut(contact.String()), Problem: "the station has no marks to read it from",
			Want: "a station that is tightened by a turn, with marks", Err: units.ErrSyntax}
	}
	ring, err := turn.NewRing(t.Marks.Labels, t.Marks.Order)
	if err != nil {
		return "", err
	}
	from, err := contact.position(ring, t.Thread)
	if err != nil {
		return "", err
	}
	window, err := ring.Window(from, s.Turn.Window, t.Thread)
	if err != nil {
		return "", err
	}
	aim, err := ring.Describe(window.Aim, t.Thread)
	if err != nil || window.Least == window.Most {
		return "stop " + aim, err
	}
	most, err := ring.Describe(window.Most, t.Thread)
	return "stop " + aim + "; never past " + strings.TrimPrefix(most, "at "), err
}

// position is the place on a ring that was seen.
func (m MarkSeen) position(ring turn.Ring, hand turn.Hand) (turn.Position, error) {
	if len(m.Between) == 2 {
		share := turn.Part{}
		if m.Share != nil {
			share = *m.Share
		}
		return ring.Between(m.Between[0], m.Between[1], share, hand)
	}
	p, err := ring.At(m.Mark)
	if err == nil && m.Past != nil {
		p.Past = *m.Past
		_, err = ring.Describe(p, hand)
	}
	return p, err
}

// String is "A", "1/16 turn past A", "between A and D" or "1/3 of the way from A to D".
func (m MarkSeen) String() string {
	switch {
	case len(m.Between) == 2 && m.Share != nil:
		return fmt.Sprintf("%v of the way from %s to %s", m.Share, m.Between[0], m.Between[1])
	case len(m.Between) == 2:
		return "between " + m.Between[0] + " and " + m.Between[1]
	case m.Past != nil:
		return turn.Position{Mark: m.Mark, Past: *m.Past}.String()
	}
	return m.Mark
}

func (m MarkSeen) check(path string, errs *JobErrors) {
	const both = `one of them: "mark": "A", or "between": ["A", "D"]`
	switch {
	case errs.spoilt(path):
	case (m.Mark == "") == (len(m.Between) == 0):
		errs.add(path, "both or neither of mark and between", both, errContradiction)
	case len(m.Between) != 0 && len(m.Between) != 2:
		errs.add(path+".between", fmt.Sprintf("%d marks", len(m.Between)), "the two neighbours on either side of the index", errContradiction)
	case m.Past != nil && len(m.Between) != 0:
		errs.add(path+".past", "given beside between", `"share", how far from the first mark towards the second, as a part of their gap`, errContradiction)
	case m.Share != nil && len(m.Between) == 0:
		errs.add(path+".share", "given without between", `"between" with two neighbours, or "past" with a turn`, errContradiction)
	}
}

// match refuses a place that the ring doesn't have. Who writes half a turn past a mark may mean half
// of the gap: the error says how that is written.
func (m MarkSeen) match(path string, ring turn.Ring, hand turn.Hand, errs *JobErrors) {
	_, err := m.position(ring, hand)
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

// twoMarks stands in for the marks of a canister that has none: a line drawn at the datum.
var twoMarks, _ = turn.NewRing([]string{"the line", "opposite the line"}, turn.Clockwise)

// turn judges what was turned; contact says why contact is in doubt already, "" where it isn't.
func (r *reviewer) turn(t Tighten, done StationDone, path, contact string) {
	in := r.rules.widen(t.Turn)
	another := ""
	l := Line{Where: path + ".marks", Code: "turn", Needed: true, WantText: in.String(), Sources: r.rules.turnSources(t.Turn)}
	var found turn.Judgment
	var err error
	switch {
	case done.Marks != nil:
		ring, _ := turn.NewRing(t.Marks.Labels, t.Marks.Order) // checked
		l.FoundText = fmt.Sprintf("%v at the index before, %v after", done.Marks.Before, done.Marks.After)
		seen, _ := done.Marks.reading(ring, t.Thread, r.rules.Eye) // matched
		if another = t.anotherMark(ring, seen.From); another != "" && contact == "" {
			contact = "another mark stood at the index at contact than the job expects"
		}
		found, err = ring.Judge(in, seen, t.Thread)
	case done.Turned != nil:
		l.Where, l.FoundText = path+".turned", done.Turned.String()
		found, err = judgeTurned(in, *done.Turned, r.rules.Eye)
	default:
		l.Verdict, l.ReasonText = NotRecorded, "no turn was written down"
		r.say(l)
		return
	}
	r.errs.value(l.Where, err)
	l.ReasonText = found.Reason
	switch found.Reach {
	case turn.InWindow:
		l.Verdict = Pass
	case turn.Short, turn.Over:
		l.Verdict = Fail
	default:
		l.Verdict = Undecided
	}
	switch doubt := r.noTurningOn(done, contact); {
	case found.Reach == turn.Short && doubt != "":
		l.ReasonText, l.Sources = doubt+notTurnedOn, []string{practice}
	case l.Verdict == Pass && dragged(done):
		l.Verdict, l.ReasonText = Undecided, "it dragged while it was run up, so that contact may not have been contact"
	case l.Verdict == Pass && done.ContactTurns != nil && contact != "":
		l.Verdict, l.ReasonText = Undecided, contact
	}
	l.ReasonText += another
	r.say(l)
}

// anotherMark says that contact was more than a quarter of a gap from the mark that the job expects
// there; "" where it wasn't, or where it expects none.
func (t Tighten) anotherMark(ring turn.Ring, seen turn.Position) string {
	mark := cmp.Or(t.Marks.DrawnAt, t.Marks.AtContact)
	if mark == "" {
		return ""
	}
	n := int64(len(t.Marks.Labels))
	quarter, _ := turn.Of(1, 4*n) // at most 360 marks
	expected := turn.Position{Mark: mark}
	for _, pair := range [2][2]turn.Position{{expected, seen}, {seen, expected}} {
		if off, err := ring.Turned(pair[0], pair[1], t.Thread); err == nil && off.Compare(quarter) <= 0 {
			return ""
		}
	}
	return fmt.Sprintf("; the job expected %s at the index at contact: see that the part is the right one", mark)
}

// judgeTurned judges a turn that was counted and not read off printed marks.
func judgeTurned(in turn.Instruction, turned, eye turn.Turn) (turn.Judgment, error) {
	from, err := twoMarks.At("the line")
	if err != nil {
		return turn.Judgment{}, err
	}
	to, err := twoMarks.Tighten(from, turned, turn.RightHand)
	if err != nil {
		return turn.Judgment{}, err
	}
	return twoMarks.Judge(in, turn.Reading{From: from, To: to, Eye: eye, Passes: to.Passes, Counted: true}, turn.RightHand)
}
