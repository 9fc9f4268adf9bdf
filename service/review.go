package service

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Verdict is what a review says of one line of the work. The zero value is none.
type Verdict uint8

// The verdicts.
const (
	Pass        Verdict = iota + 1
	Seated              // not shown to be in its band, and seen to be at its stop, the gap closed all round
	Undecided           // what was read can't show either
	NotRecorded         // nothing was read; never taken for a pass
	Fail
)

var verdictNames = []string{Pass: "pass", Seated: "seated", Undecided: "undecided", NotRecorded: "not recorded", Fail: "fail"}

// String is the verdict in words, "not recorded".
func (v Verdict) String() string { return enumName("Verdict", verdictNames, v) }

// MarshalText writes the words; an error for a value that is none of the constants.
func (v Verdict) MarshalText() ([]byte, error) { return writeEnum("verdict", verdictNames, v) }

// UnmarshalText reads the words; on an error (*units.ParseError) v stays as it was.
func (v *Verdict) UnmarshalText(text []byte) error { return readEnum(v, "verdict", verdictNames, text) }

// Line is one thing judged.
type Line struct {
	Where   string  `json:"where"`  // the path in the as-done readings: "stations[0].torque"
	Code    string  `json:"code"`   // what is judged, the same in every language: "torque"
	Needed  bool    `json:"needed"` // the job isn't complete before this passes, or is seated
	Verdict Verdict `json:"verdict"`
	Found   string  `json:"found,omitempty"` // what was read
	Want    string  `json:"want,omitempty"`  // what the job wants, or the plan expects
	Reason  string  `json:"reason"`
	Source  string  `json:"source,omitempty"` // of the rule it is judged by
}

// String is one line, "stations[0].torque: pass: the reading is in the band".
func (l Line) String() string { return fmt.Sprintf("%s: %v: %s", l.Where, l.Verdict, l.Reason) }

// done reports whether the line leaves nothing to do.
func (l Line) done() bool { return l.Verdict == Pass || l.Verdict == Seated }

// Review is what was done, judged against what was planned. It is made by [Plan.Review].
type Review struct {
	Job      Job
	Done     AsDone
	Rules    Rules
	Lines    []Line
	Complete bool // every line that is needed passes or is seated
	Totals   []Total
	// WasteRules are the rules that the month was counted by; nil where the job counts none.
	WasteRules *waste.RuleSet
}

// Open lists the lines that keep the job from being complete.
func (r Review) Open() []Line {
	var open []Line
	for _, l := range r.Lines {
		if l.Needed && !l.done() {
			open = append(open, l)
		}
	}
	return open
}

// reviewer collects the lines.
type reviewer struct {
	plan  *Plan
	fuel  drain.Fuel
	done  AsDone
	rules Rules
	errs  JobErrors
	lines []Line
}

// Review judges what was done, line by line. Nothing is rounded before it is judged, and what
// can't be judged is undecided or not recorded, never a pass.
//
// The error is a [JobErrors]: what is wrong with the rules or the readings by themselves, readings
// of another job or revision, of a station, a mark, an isolation or a waste that the job doesn't
// have, or of a torque where the job wants a turn.
func (p *Plan) Review(done AsDone, rules Rules) (Review, error) {
	r := &reviewer{plan: p, done: done, rules: rules}
	rules.check(&r.errs)
	done.check(&r.errs)
	if len(r.errs) == 0 {
		r.match()
	}
	if len(r.errs) > 0 {
		return Review{}, r.errs
	}
	r.fuel, _ = drain.FuelAt(p.Job.Fuel.Density, p.Job.Fuel.DensityAt) // checked
	for i := range p.Stations {
		r.station(&p.Stations[i])
	}
	r.priming()
	r.leaks()
	r.restored()
	r.weights()
	totals := r.totals()
	if len(r.errs) > 0 {
		return Review{}, r.errs
	}
	r.month(totals)
	review := Review{Job: p.Job, Done: done, Rules: rules, Lines: r.lines, Totals: totals, WasteRules: p.WasteRules}
	review.Complete = len(review.Open()) == 0
	return review, nil
}

// match refuses readings that belong to no line of this plan.
func (r *reviewer) match() {
	unless := func(ok bool, path, problem, want string) {
		if !ok {
			r.errs.add(path, problem, want, ErrContradiction)
		}
	}
	job := r.plan.Job
	unless(r.done.Job == job.ID, "job", fmt.Sprintf("of job %q", units.Cut(r.done.Job)), fmt.Sprintf("readings of job %q", job.ID))
	unless(r.done.Revision == job.Revision, "revision", fmt.Sprintf("of revision %d", r.done.Revision), fmt.Sprintf("readings to revision %d", job.Revision))
	var ids, things, wastes []string
	for _, s := range job.Stations {
		ids = append(ids, s.ID)
	}
	for _, s := range job.Isolate {
		things = append(things, s.What)
	}
	for _, w := range r.plan.Waste {
		wastes = append(wastes, w.What)
	}
	for i, s := range r.done.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		at := slices.Index(ids, s.ID)
		unless(at >= 0, path+".id", fmt.Sprintf("no station %q in the job", units.Cut(s.ID)), "one of "+strings.Join(ids, ", "))
		if at >= 0 {
			r.matchStation(path, s, r.plan.Stations[at])
		}
	}
	for i, back := range r.done.Restored {
		unless(slices.Contains(things, back.What), fmt.Sprintf("restored[%d].what", i), fmt.Sprintf("%q was not isolated", units.Cut(back.What)), "one of "+strings.Join(things, ", "))
	}
	for i, w := range r.done.Weights {
		unless(slices.Contains(wastes, w.What), fmt.Sprintf("weights[%d].what", i), fmt.Sprintf("no waste %q in the plan", units.Cut(w.What)), "one of "+strings.Join(wastes, ", "))
	}
	unless(r.done.KeyCycles == nil || r.plan.Prime.Cycles != nil, "keyCycles", "given, though the job has no lift pump", "it left out")
	unless(r.done.Strokes == nil || r.plan.Prime.Strokes != nil, "strokes", "given, though the job has no hand primer", "it left out")
	_, suction := r.side(Suction)
	_, pressure := r.side(Pressure)
	unless(r.done.Suction == nil || suction, "suction", "given, though no station is on the suction side", "it left out")
	unless(r.done.Pressure == nil || pressure, "pressure", "given, though no station is on the pressure side", "it left out")
}

func (r *reviewer) matchStation(path string, s StationDone, plan StationPlan) {
	no := func(given bool, name, why string) {
		if given {
			r.errs.add(path+name, "given, though the station "+why, "it left out", ErrContradiction)
		}
	}
	how := "is tightened " + plan.how()
	byTurn, bySequence, bySeat := plan.Turn != nil, plan.Sequence != nil, plan.Seat != nil
	no(s.Torque != nil && (byTurn || bySeat && plan.Seat.Limit == nil), ".torque", how)
	no(s.Seated != nil && (byTurn || bySequence), ".seated", how)
	no(s.PastStop && (byTurn || bySequence), ".pastStop", how)
	no(s.Marks != nil && !byTurn, ".marks", how)
	no(s.Marks != nil && byTurn && plan.Station.Tighten.Marks == nil, ".marks", "has no printed marks")
	no(s.Turned != nil && !byTurn, ".turned", how)
	no(s.ContactTurns != nil && !byTurn, ".contactTurns", how)
	no(s.Angle != nil && !bySequence, ".angle", how)
	no(s.StopTurns != nil && !bySeat, ".stopTurns", how)
	if s.Angle != nil && bySequence && len(r.errs) == 0 {
		r.matchAngle(path+".angle", *s.Angle, plan.Sequence)
	}
	no(s.Water != nil && plan.Station.Drain.Water == nil, ".water", "has no water to drain")
	if marks := plan.Station.Tighten.Marks; marks != nil && s.Marks != nil && len(r.errs) == 0 {
		ring, _ := turn.NewRing(marks.Labels, marks.Printed) // checked
		_, err := ring.At(s.Marks.Before.Mark)
		r.errs.value(path+".marks.before.mark", err)
		_, err = ring.At(s.Marks.After.Mark)
		r.errs.value(path+".marks.after.mark", err)
		if len(r.errs) == 0 {
			_, err := ring.Judge(*plan.Station.Tighten.Turn, s.Marks.sighting(r.rules.Eye), plan.Station.Tighten.Thread)
			r.errs.value(path+".marks", err)
		}
	}
}

// reading gives the readings of a station and where they stand; where nothing was written of it,
// the place where it would be.
func (r *reviewer) reading(id string) (StationDone, string) {
	for i, s := range r.done.Stations {
		if s.ID == id {
			return s, fmt.Sprintf("stations[%d]", i)
		}
	}
	return StationDone{ID: id}, fmt.Sprintf("stations[id=%s]", id)
}

// say adds a line. Its texts are put together from those of the job and may be longer than a record
// can be read back with.
func (r *reviewer) say(l Line) {
	for _, text := range []*string{&l.Want, &l.Found, &l.Reason, &l.Source} {
		*text = shortened(*text)
	}
	r.lines = append(r.lines, l)
}

func shortened(text string) string {
	if len(text) <= maxString {
		return text
	}
	end := maxString - len("…")
	for !utf8.RuneStart(text[end]) {
		end--
	}
	return text[:end] + "…"
}

// practice marks a rule of the trade that nobody published.
const practice = "common practice, no source"

func (r *reviewer) station(plan *StationPlan) {
	done, path := r.reading(plan.Station.ID)
	r.runUp(done, path)
	switch {
	case plan.Turn != nil:
		r.contact(plan.Station.Tighten, done, path)
		r.turn(plan.Station.Tighten, done, path)
	case plan.Sequence != nil:
		r.sequence(plan, done, path)
	case plan.Seat != nil:
		r.seated(plan, done, path)
	case plan.Torque == nil:
		r.unplanned(plan, done, path)
		r.seat(done, path, "")
	default:
		r.torque(plan, done, path)
		r.seat(done, path, "")
	}
	fuel := func(t units.Temperature) (units.Density, error) { return r.fuel.DensityAt(t) }
	r.volume("out", path+".out", done.Out, plan.Out.Volume, fuel)
	if water := plan.Station.Drain.Water; water != nil {
		r.volume("water", path+".water", done.Water, *water, drain.WaterDensityAt)
	}
}

func (r *reviewer) runUp(done StationDone, path string) {
	l := Line{Where: path + ".dragged", Code: "run-up", Needed: true, Verdict: NotRecorded, Want: "run up by hand without drag",
		Reason: "nobody wrote down whether it dragged", Source: practice}
	switch {
	case done.Dragged == nil:
	case *done.Dragged:
		l.Verdict, l.Found = Fail, "dragged"
		l.Reason = "cross-threaded, or the seal has rolled: take it off and look; drag is never added to a torque"
	default:
		l.Verdict, l.Found, l.Reason = Pass, "ran free", "it ran up free"
	}
	r.say(l)
}

func dragged(done StationDone) bool { return done.Dragged != nil && *done.Dragged }

// unplanned is a torque that nothing can be held against.
func (r *reviewer) unplanned(plan *StationPlan, done StationDone, path string) {
	l := Line{Where: path + ".torque", Code: "torque", Needed: true, Verdict: NotRecorded, Want: plan.Station.Tighten.Printed,
		Reason: "no torque was written down", Source: "the job"}
	if t := done.Torque; t != nil {
		l.Verdict, l.Found, l.Reason = Undecided, t.String(), "the units of the printed limit disagree, so that there is no band to judge by"
	}
	r.say(l)
}

// torque judges a reading; where that gives no pass and the high limit isn't in doubt, a bowl that
// was seen at its stop is seated.
func (r *reviewer) torque(plan *StationPlan, done StationDone, path string) {
	l := Line{Where: path + ".torque", Code: "torque", Needed: true, Want: plan.band().Stated.String(), Source: r.rules.source()}
	usable := false
	if t := done.Torque; t == nil {
		l.Verdict, l.Reason = NotRecorded, "no torque was written down"
	} else if l.Found = t.String(); r.unfit(*t, plan) != "" {
		l.Verdict, l.Reason = Undecided, r.unfit(*t, plan)
	} else {
		l.Verdict, l.Reason, usable = r.decide(plan.band().Stated, *t)
	}
	dragged := dragged(done)
	switch {
	case done.PastStop:
		l.Verdict, l.Reason, l.Source = Fail, "turned on past its stop: take it off, look at thread and housing, and fit new seals as the maker instructs", practice
	case dragged && l.Verdict != Fail && l.Verdict != NotRecorded:
		l.Verdict, l.Reason, l.Source = Undecided, "it dragged while it was run up, so that what the wrench showed proves nothing", practice
	case dragged:
	case done.Seated != nil && !*done.Seated && l.Verdict == Pass:
		l.Verdict, l.Source = Undecided, practice
		l.Reason = "in the band with the gap not closed all round: a crossed thread and a rolled seal stop a wrench too"
	case l.Verdict != Pass && r.atStop(plan, done) && r.highKept(plan, done.Torque, usable):
		l.Reason = "the gap was seen closed all round; by the torque alone it would be " + l.Verdict.String() + ": " + l.Reason
		l.Verdict, l.Source = Seated, practice+"; "+r.rules.source()
	}
	r.say(l)
}

// highKept reports whether a reading leaves no doubt of the high limit: there is none, or it passes
// with the high limit alone. One that can't be judged at all, such as one through an adapter that
// nobody reckoned with, leaves it in doubt.
func (r *reviewer) highKept(plan *StationPlan, reading *TorqueReading, usable bool) bool {
	if reading == nil {
		return true
	}
	if r.unfit(*reading, plan) != "" {
		return false
	}
	high := plan.band().Stated.High()
	if !usable {
		return !high.Less(reading.Value)
	}
	below, err := torque.Between(high.Unit().Of(0), high)
	if err != nil {
		return false
	}
	verdict, _, _ := r.decide(below, *reading)
	return verdict == Pass
}

// unfit says why a reading can't be judged at all, "" where it can.
func (r *reviewer) unfit(t TorqueReading, plan *StationPlan) string {
	if a := plan.Station.Tighten.Adapter; a != nil {
		if !t.Corrected {
			return fmt.Sprintf("read with %s, and nothing says that the torque is the one at the fastener", units.Cut(a.Name))
		}
		if a.CalibratedUntil != nil && r.lapsed(a.Name, *a.CalibratedUntil) != "" {
			return r.lapsed(a.Name, *a.CalibratedUntil)
		}
	}
	wrenches := r.plan.Job.Shop.Wrenches
	if len(wrenches) == 0 {
		return ""
	}
	if i := slices.IndexFunc(wrenches, func(w Wrench) bool { return w.ID == t.Tool }); i >= 0 {
		return r.lapsed(t.Tool, wrenches[i].CalibratedUntil)
	}
	return fmt.Sprintf("%s is none of the job's wrenches, so that nothing is known of its calibration", units.Cut(t.Tool))
}

// decide puts a reading under the rule. The probability of conformance that package torque gives
// beside its verdict is left out: the record holds nothing that a float had a part in.
func (r *reviewer) decide(band torque.Band, t TorqueReading) (v Verdict, reason string, usable bool) {
	m := torque.Measurement{Value: t.Value}
	if t.Expanded != nil {
		m.Expanded = *t.Expanded
	} else if r.rules.Torque != torque.SimpleAcceptance {
		if r.rules.Torque != torque.FourWay && !band.Contains(t.Value) {
			return Fail, outside(band, t.Value) + ", whatever the uncertainty", true
		}
		return Undecided, fmt.Sprintf("the uncertainty isn't known, which is not zero, and the rule (%v) needs it", r.rules.Torque), false
	}
	d, err := band.Decide(m, r.rules.Torque)
	if err != nil { // a rule, a band and a reading that are checked
		return Undecided, err.Error(), false
	}
	switch d.Verdict {
	case torque.Pass:
		return Pass, fmt.Sprintf("passes by the rule (%v)", r.rules.Torque), true
	case torque.Fail:
		if band.Contains(t.Value) {
			return Fail, fmt.Sprintf("in the band, and not far enough inside it for the rule (%v)", r.rules.Torque), true
		}
		return Fail, outside(band, t.Value), true
	}
	reason = d.Verdict.String() + fmt.Sprintf(" by the rule (%v)", r.rules.Torque)
	if d.Reason != "" {
		reason += ": " + d.Reason
	}
	return Undecided, reason, true
}

func outside(band torque.Band, value units.Torque) string {
	side := "below the band"
	if band.High().Less(value) {
		side = "above the band"
	}
	if slips := tradeSlips(band, value); len(slips) > 0 {
		side += fmt.Sprintf("; was it read in %s? Ask who read it, and correct nothing unasked", strings.Join(slips, ", or in "))
	}
	return side
}

// tradeSlips are the units that wrenches read, in which a reading would fit its band; others only
// where none of these does.
func tradeSlips(band torque.Band, value units.Torque) (names []string) {
	slips := band.UnitSlips(value)
	for _, unit := range tradeUnits {
		if slices.Contains(slips, unit) {
			names = append(names, unit.String())
		}
	}
	if len(names) == 0 && len(slips) > 0 {
		names = []string{slips[0].String()}
	}
	return names
}

// String is the reading with what is known of it.
func (t TorqueReading) String() string {
	u := "uncertainty not known"
	if t.Expanded != nil {
		u = fmt.Sprintf("U = %v at k = 2", *t.Expanded)
	}
	return fmt.Sprintf("%v, %s, with %s", t.Value, u, t.Tool)
}

// seat judges what was seen of the gap; doubt says what speaks against a gap that was seen closed.
func (r *reviewer) seat(done StationDone, path, doubt string) {
	l := Line{Where: path + ".seated", Code: "seat", Needed: true, Want: "the gap closed all round", Source: practice}
	switch {
	case done.PastStop:
		l.Verdict, l.Found, l.Reason = Fail, "turned past its stop", "turned on past its stop"
	case done.Seated == nil:
		l.Verdict, l.Reason = NotRecorded, "nobody wrote down whether the gap closed"
	case !*done.Seated:
		l.Verdict, l.Found, l.Reason = Undecided, "gap not closed", "stopped, and not shown to be seated: look for a crossed thread or a rolled seal"
	case dragged(done):
		l.Verdict, l.Found, l.Reason = Undecided, "gap closed all round", "it dragged while it was run up, so that the closed gap alone proves nothing"
	case doubt != "":
		l.Verdict, l.Found, l.Reason = Undecided, "gap closed all round", doubt
	default:
		l.Verdict, l.Found, l.Reason = Seated, "gap closed all round", "the gap was seen closed all round"
	}
	r.say(l)
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

// volume compares what came out with what the plan expects, as masses, so that neither
// temperature is lost: a litre of warm fuel is less than a litre of cold.
func (r *reviewer) volume(code, path string, taken *VolumeTaken, plan Volumes, density func(units.Temperature) (units.Density, error)) {
	at := r.plan.Job.Fuel.MeasuredAt
	l := Line{Where: path, Code: code, Verdict: NotRecorded, Want: fmt.Sprintf("%v at %v", plan, at),
		Reason: "no volume was written down", Source: "volume times density at its temperature"}
	if taken != nil {
		l.Found = fmt.Sprintf("%v at %v", taken.Volume, taken.At)
		then, err := density(taken.At)
		if err != nil {
			r.errs.value(path+".at", err)
			return
		}
		planned, err := density(at)
		r.errs.value("fuel.measuredAt", err)
		weigh := func(v units.Volume, d units.Density) *big.Rat {
			x := v.RatIn(units.Litre)
			return x.Mul(x, d.RatIn(units.KilogramPerCubicMetre))
		}
		l.Verdict, l.Reason = expected(weigh(taken.Volume.Low, then), weigh(taken.Volume.High, then), weigh(plan.Low, planned), weigh(plan.High, planned))
	}
	r.say(l)
}

// expected says how what was found, from low to high, lies to what was expected. It is a hint and
// no limit: the plan's figure may be the wrong one.
func expected(low, high, least, most *big.Rat) (Verdict, string) {
	switch {
	case low.Cmp(least) >= 0 && high.Cmp(most) <= 0:
		return Pass, "within what the plan expects"
	case high.Cmp(least) < 0:
		return Fail, "less than the plan expects: look whether all of it was caught and read, and at the plan's figure"
	case low.Cmp(most) > 0:
		return Fail, "more than the plan expects: look for water, for a line that ran empty, and at the plan's figure"
	}
	return Undecided, "partly outside what the plan expects"
}

func (r *reviewer) priming() {
	if c := r.plan.Prime.Cycles; c != nil {
		r.count("keyCycles", r.done.KeyCycles, *c)
	}
	if c := r.plan.Prime.Strokes; c != nil {
		r.count("strokes", r.done.Strokes, *c)
	}
	limits := r.plan.Job.Prime.Crank
	l := Line{Where: "cranks", Code: "crank.attempts", Want: fmt.Sprintf("at most %d", limits.Attempts), Source: "the job"}
	switch n := len(r.done.Cranks); {
	case n == 0:
		l.Verdict, l.Reason = NotRecorded, "no attempt to start was written down"
	case n > limits.Attempts:
		l.Verdict, l.Found, l.Reason = Fail, fmt.Sprint(n), "more than the job allows: "+lookAtStarter
	default:
		l.Verdict, l.Found, l.Reason = Pass, fmt.Sprint(n), "no more than the job allows"
	}
	r.say(l)
	for i, c := range r.done.Cranks {
		path := fmt.Sprintf("cranks[%d]", i)
		r.crank(path+".crank", "crank.time", &c.Crank, limits.Limit, c.Crank <= limits.Limit, "at most")
		if i > 0 {
			r.crank(path+".rest", "crank.rest", c.Rest, limits.Rest, c.Rest != nil && *c.Rest >= limits.Rest, "at least")
		}
	}
}

const lookAtStarter = "have starter and cables looked at as the maker instructs"

// crank isn't needed for the job to be complete: a starter that was run too long can't be unrun.
func (r *reviewer) crank(path, code string, read *Duration, limit Duration, ok bool, most string) {
	l := Line{Where: path, Code: code, Want: fmt.Sprintf("%s %v", most, limit), Source: "the job"}
	if read == nil {
		l.Verdict, l.Reason = NotRecorded, "no time was written down"
	} else if l.Found = read.String(); ok {
		l.Verdict, l.Reason = Pass, "keeps the job's limit"
	} else {
		l.Verdict, l.Reason = Fail, "doesn't keep the job's limit: "+lookAtStarter
	}
	r.say(l)
}

// count compares a number of cycles or strokes with the reckoned one.
func (r *reviewer) count(path string, n *int, plan Counts) {
	l := Line{Where: path, Code: path, Verdict: NotRecorded, Want: fmt.Sprintf("%d to %d", plan.Least, plan.Most),
		Reason: "no count was written down", Source: "void / what arrives at a time, rounded up"}
	if n != nil {
		l.Found = fmt.Sprint(*n)
		switch {
		case *n > plan.Most:
			l.Verdict, l.Reason = Fail, "more than fill the void even where nothing goes well: look for "+strings.Join(drain.LookFor(), "; ")
		case *n < plan.Least:
			l.Verdict, l.Reason = Undecided, "fewer than fill the void even where all goes well: air may be left"
		default:
			l.Verdict, l.Reason = Pass, "as reckoned"
		}
	}
	r.say(l)
}

// side tells what was written of a side and whether the job has a station there.
func (r *reviewer) side(side Side) (check LeakCheck, has bool) {
	has = slices.ContainsFunc(r.plan.Job.Stations, func(s Station) bool { return s.Side == side })
	written := r.done.Suction
	if side == Pressure {
		written = r.done.Pressure
	}
	if written != nil {
		check = *written
	}
	return check, has
}

func (r *reviewer) leaks() {
	for _, side := range []Side{Suction, Pressure} {
		check, has := r.side(side)
		if !has {
			continue
		}
		for _, c := range []struct {
			name, code string
			leak       *bool
		}{{"coldLeak", "leak.cold", check.ColdLeak}, {"hotLeak", "leak.hot", check.HotLeak}} {
			l := Line{Where: side.String() + "." + c.name, Code: c.code, Needed: true, Verdict: NotRecorded, Want: "no leak",
				Reason: "nobody wrote down whether it leaks", Source: practice}
			switch {
			case c.leak == nil:
			case *c.leak:
				l.Verdict, l.Found, l.Reason = Fail, "a leak", "it leaks: out of service until the cause is found"
			default:
				l.Verdict, l.Found, l.Reason = Pass, "none seen", "no leak was seen"
			}
			r.say(l)
		}
	}
}

// restored holds the isolation to be undone, last taken out first back.
func (r *reviewer) restored() {
	for _, step := range r.plan.Isolation.Back {
		l := Line{Where: "restored", Code: "isolation", Needed: true, Verdict: NotRecorded, Want: "back in service: " + step.What,
			Reason: "nobody wrote down whether it is back in service: " + step.What, Source: "the job"}
		for i, back := range r.done.Restored {
			if back.What != step.What {
				continue
			}
			l.Where = fmt.Sprintf("restored[%d]", i)
			if back.Restored {
				l.Verdict, l.Found, l.Reason = Pass, "back", "back in service: "+step.What
			} else {
				l.Verdict, l.Found, l.Reason = Fail, "not back", "not back in service: "+step.What
			}
		}
		r.say(l)
	}
}

// weights compares masses with masses and readings of a scale with readings of a scale.
func (r *reviewer) weights() {
	for _, plan := range r.plan.Waste {
		l := Line{Where: "weights", Code: "weight", Verdict: NotRecorded, Want: fmt.Sprintf("%s: mass %s", plan.What, kilograms(plan.Mass)),
			Reason: plan.What + " was not weighed", Source: "mass against mass, a scale's reading against a scale's reading"}
		for i, w := range r.done.Weights {
			if w.What != plan.What {
				continue
			}
			l.Where = fmt.Sprintf("weights[%d]", i)
			switch {
			case w.Mass != nil:
				l.Found = "mass " + kilograms(*w.Mass)
				l.Verdict, l.Reason = expectedMass(*w.Mass, plan.Mass)
			case w.Density != nil:
				l.Found = fmt.Sprintf("scale shows %s, corrected for the air with %v", kilograms(*w.Scale), *w.Density)
				mass, _ := massFromScale(*w.Scale, *w.Density) // checked
				l.Verdict, l.Reason = expectedMass(mass, plan.Mass)
			case plan.Scale != nil:
				l.Want = fmt.Sprintf("%s: scale shows %s", plan.What, kilograms(*plan.Scale))
				l.Found = "scale shows " + kilograms(*w.Scale)
				l.Verdict, l.Reason = expectedMass(*w.Scale, *plan.Scale)
			default:
				l.Found = "scale shows " + kilograms(*w.Scale)
				l.Verdict, l.Reason = Undecided, "a scale's reading in air is no mass, and without a density it isn't compared with one"
			}
		}
		r.say(l)
	}
}

// month tells what the totals do to the month's generator category. It keeps no job open, and
// determines nothing: it says what would follow if all of it were determined hazardous.
func (r *reviewer) month(totals []Total) {
	more := make([]Masses, len(totals))
	for i, t := range totals {
		more[i] = t.Mass
	}
	total, before, after, ok := r.plan.monthWith(more)
	if !ok {
		return
	}
	rules := r.plan.WasteRules
	l := Line{Where: "totals", Code: "month.category", Verdict: Pass, Found: "the month with this job: " + kilograms(total),
		Want:   fmt.Sprintf("the month stays %s by the rules named %s, as of %v", quoted(before.Name), quoted(rules.Name), rules.AsOf),
		Source: quoted(after.Source.String())}
	says := fmt.Sprintf("stays %s, %s, even", quoted(before.Name), quoted(before.Title))
	if after.Name != before.Name {
		l.Verdict, says = Undecided, fmt.Sprintf("may move from %s to %s, %s,", quoted(before.Name), quoted(after.Name), quoted(after.Title))
	}
	l.Reason = "the site " + says + " if all of it is determined hazardous"
	planned := 0
	for _, t := range totals {
		if t.Basis == AsPlanned {
			planned++
		}
	}
	switch {
	case planned == len(totals):
		l.Verdict, l.Reason = NotRecorded, "nothing of it was weighed or measured; as planned, "+l.Reason
	case planned > 0:
		l.Verdict, l.Reason = Undecided, fmt.Sprintf("%d of %d wastes counted as planned; with these %s", planned, len(totals), l.Reason)
	}
	l.Reason += "; " + waste.Caution
	r.say(l)
}

// quoted is a text of a rule set as a line of a record can hold it: in one line, and not long. The
// set itself stands in the record as it is.
func quoted(text string) string {
	const most = 100
	text = clean(strings.ReplaceAll(strings.ToValidUTF8(text, "?"), "\uFFFD", "?"))
	if len(text) > most {
		return units.Cut(text)
	}
	return text
}

func expectedMass(found, plan Masses) (Verdict, string) {
	kg := func(m units.Mass) *big.Rat { return m.RatIn(units.Kilogram) }
	return expected(kg(found.Low), kg(found.High), kg(plan.Low), kg(plan.High))
}

// kilograms prints a range to the gram, outward: a record's text rounds the same way everywhere,
// and its inputs keep every digit.
func kilograms(m Masses) string { return m.RoundIn(units.Kilogram, 3).String() }
