package service

import (
	"cmp"
	"fmt"
	"math/big"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Torque then angle: a snug torque, then turns counted from a line that is drawn there. The torque
// only brings the parts together; what follows is a turn, and no torque read at its end says how
// tight it is. So the two are planned, shown and judged apart.

// SequencePlan says what to set for the snug torque, and which way and how far to turn after it.
type SequencePlan struct {
	Sequence turn.Sequence
	Snug     units.Torque // its torque in the shop's unit, to nearest
	Nearby   units.Torque // the same in another unit for a second wrench
	Band     *TorquePlan  // what the job allows the torque to be, and the wrench set for that; nil where it doesn't say
	// Nearest is the wrench set to what is nearest to the torque, where there is no Band to stay in;
	// nil where no wrench is listed or none reaches so far.
	Nearest *WrenchSet
	Stages  []StagePlan
	Whole   turn.Instruction // all stages from snug; one turn and no range where the job states no tolerance
}

// StagePlan is one turn of a sequence.
type StagePlan struct {
	Turn        turn.Turn // from where the stage before it ended
	Total       turn.Turn // from the line drawn at the snug torque
	Least, Most turn.Turn // what the job allows Turn to be; both Turn itself where it states no tolerance
}

// bySequence is a way to tighten: to a snug torque, and by turns after it.
type bySequence Tighten

func (bySequence) name() string     { return "sequence" }
func (t bySequence) stated() bool   { return given(t.Sequence) }
func (bySequence) beside() []string { return []string{"adapter", "snug", "within", "view"} }
func (bySequence) how() string      { return "by a torque and turns after it" }
func (bySequence) takes() []string  { return []string{"torque", "angle"} }

func (bySequence) band(sp *StationPlan) *TorquePlan { return sp.Sequence.Band }

// choose takes the wrench for the band of the snug torque, or one that is set nearest to it.
func (bySequence) choose(c chooser) {
	s := c.station.Sequence
	if s.Band != nil {
		c.band(s.Band, Stop)
		return
	}
	s.Nearest = c.nearest(s.Sequence.Torque())
}

func (bySequence) find(p *Plan, i int) {
	p.toTolerance(i)
	if p.Stations[i].Sequence.Whole.Most().Compare(oneTurn) >= 0 {
		p.tell(Note, "turn.full-turns/after-snug", i, "", by(practice))
	}
}

func (bySequence) run(w *writer, sp *StationPlan) { w.byHand(sp.Station.Kind) }

func (bySequence) match(r *reviewer, path string, done StationDone, plan *StationPlan) {
	if done.Angle != nil {
		r.matchAngle(path+".angle", *done.Angle, plan.Sequence)
	}
}

func (bySequence) says(Rules) []Clause { return []Clause{says(message("sequence"), theJob)} }

func (t bySequence) check(path string, errs *JobErrors) {
	before := len(*errs)
	checkWritten(path+".sequence", t.Sequence, errs)
	if given(t.Snug) {
		checkWritten(path+".snug", t.Snug, errs)
	}
	if len(*errs) > before {
		return
	}
	if given(t.Snug) && !t.Snug.Contains(t.Sequence.Torque()) {
		errs.add(path+".snug", fmt.Sprintf("%v, in which the torque of the sequence, %v, doesn't lie", t.Snug, t.Sequence.Torque()),
			"a band around it", errContradiction)
	}
	if w := t.Within; w != nil {
		if *w == (TurnTolerance{}) {
			errs.add(path+".within", "nothing less and nothing more", "a tolerance, or the field omitted where the paper states none", units.ErrRange)
		}
		for i, stage := range t.Sequence.Stages() {
			if stage.Compare(w.Less) <= 0 {
				errs.add(path+".within.less", fmt.Sprintf("%v, which leaves nothing of stage %d, %v", w.Less, i+1, stage), "less than every stage", units.ErrRange)
				return
			}
		}
		_, _, err := Tighten(t).stages()
		errs.value(path+".within", err)
	}
}

// stages works out how far each turn goes and how far all of them go. The tolerance is that of
// each stage; the whole may be out by as much as all of them together.
func (t Tighten) stages() (stages []StagePlan, whole turn.Instruction, err error) {
	within := TurnTolerance{}
	if t.Within != nil {
		within = *t.Within
	}
	each, whole, err := t.Sequence.Widen(within.Less, within.More)
	turns, totals := t.Sequence.Stages(), t.Sequence.Cumulative()
	for i, in := range each {
		stages = append(stages, StagePlan{Turn: turns[i], Total: totals[i], Least: in.Least(), Most: in.Most()})
	}
	return stages, whole, err
}

// plan works out the stages and brings the snug torque into the shop's unit.
func (t bySequence) plan(p *Plan, sp *StationPlan, path string, errs *JobErrors) {
	s := &SequencePlan{Sequence: t.Sequence}
	snug := t.Sequence.Torque()
	s.Snug = nearest(snug, p.Job.Shop.TorqueUnit, p.Job.Shop.TorquePlaces)
	s.Nearby = nearest(snug, nearbyUnit(p.Job.Shop.TorqueUnit), nil)
	if given(t.Snug) {
		if s.Band = p.torque(t.Snug, path+".snug", errs); s.Band.Wrench.Valid() {
			s.Snug = units.Min(units.Max(s.Snug, s.Band.Wrench.Low()), s.Band.Wrench.High()) // a band may be narrower than the places
		}
	}
	var err error
	s.Stages, s.Whole, err = Tighten(t).stages()
	errs.value(path+".sequence", err)
	sp.Sequence = s
}

// nearest is a torque without a tolerance in another unit: at the places of the shop, or else at
// the fewest that change it by less than half a per cent.
func nearest(t units.Torque, unit units.TorqueUnit, places *int) units.Torque {
	if t.Unit() == unit {
		return t
	}
	if places != nil {
		return t.RoundIn(unit, *places, units.ToNearestEven)
	}
	exact := t.RatIn(unit)
	for places := 0; ; places++ {
		rounded := t.RoundIn(unit, places, units.ToNearestEven)
		off := rounded.RatIn(unit)
		off.Sub(off, exact).Abs(off)
		if places == 6 || off.Mul(off, twoHundred).Cmp(exact) < 0 {
			return rounded
		}
	}
}

var twoHundred = big.NewRat(200, 1)

// toTolerance says what a job leaves open that has to be known before a reading can pass.
func (p *Plan) toTolerance(i int) {
	s, t := p.Stations[i].Sequence, p.Stations[i].Station.Tighten
	if !given(t.Snug) {
		p.tell(Caution, "sequence.snug-without-tolerance", i, "", by(practice), "torque", s.Sequence.Torque())
	}
	if t.Within == nil {
		p.tell(Caution, "sequence.turn-without-tolerance", i, "", by(practice))
	} else if !given(t.Within.Less) || !given(t.Within.More) {
		p.tell(Caution, "sequence.turn-one-sided", i, "", by(practice), "less", t.Within.Less.Degrees(), "more", t.Within.More.Degrees())
	}
}

// shownTo reports whether the turns as stated, read in all to so much either way, are shown to be in their
// tolerance.
func (s *SequencePlan) shownTo(out turn.Turn) bool {
	total := s.Stages[len(s.Stages)-1].Total
	least, err1 := s.Whole.Least().Add(out)
	most, err2 := total.Add(out)
	return err1 == nil && err2 == nil && least.Compare(total) <= 0 && most.Compare(s.Whole.Most()) <= 0
}

func (bySequence) sheet(w *writer, sp StationPlan) {
	s, t := sp.Sequence, sp.Station.Tighten
	w.way(t, t.View)
	w.snug(s, t, sp.set())
	w.do("sequence.line")
	if !s.shownTo(w.rules.eye()) {
		w.tell("sequence.gauge")
	}
	for i, stage := range s.Stages {
		w.figure("sequence.stage", "angle", stage.Turn.Degrees(), "stage", i+1, "stages", len(s.Stages), "total", stage.Total.Degrees())
	}
	if within := t.Within; within != nil {
		w.tell("sequence.within", "less", within.Less.Degrees(), "more", within.More.Degrees(), "least", s.Whole.Least().Degrees(), "most", s.Whole.Most().Degrees())
	} else {
		w.tell("sequence.turn-open")
	}
	w.do("sequence.turn-alone")
	w.blank("record.angle")
	w.alarm("sequence.start-over")
}

// snug is the torque that the turns are counted from.
func (w *writer) snug(s *SequencePlan, t Tighten, set *WrenchSet) {
	stated := s.Sequence.Torque()
	if set != nil {
		w.setting(set)
		w.blankTorque("record.snug", t, set, set.Setting.Dial.Unit())
	} else {
		w.figure("sequence.snug", "torque", s.Snug)
		w.pull(t.Adapter, false)
		w.blankTorque("record.snug", t, nil, s.Snug.Unit())
	}
	w.why("sequence.snug-stated", "torque", s.Snug, "stated", stated, "exact", exactTorque(stated, s.Snug.Unit()))
	w.why("sequence.nearby", "unit", s.Nearby.Unit(), "torque", s.Nearby)
	if s.Band == nil {
		w.tell("sequence.snug-open")
	} else {
		w.why("sequence.snug-band", "band", s.Band.Wrench, "stated", s.Band.Stated)
	}
}

// way says which way to turn, from where the technician stands: the only direction on the card.
func (w *writer) way(t Tighten, seen turn.View) {
	seen = cmp.Or(seen, turn.FacingClosedEnd)
	sense, variant := t.goes(seen), ""
	switch sense {
	case turn.LeftToRight:
		variant = "right"
	case turn.RightToLeft:
		variant = "left"
	}
	w.figure("turn.sense/"+variant, "sense", sense)
	w.tell("turn.seen", "view", seen)
	w.why("turn.senses", "closed-end", t.goes(turn.FacingClosedEnd), "head-side", t.goes(turn.FromHeadSide))
}

// AngleDone is what was turned after a snug torque: stage by stage, or in all. One of the two is given.
type AngleDone struct {
	Stages []turn.Turn `json:"stages,omitempty"` // each from where the one before it ended
	Total  *turn.Turn  `json:"total,omitempty"`  // from the line drawn at the snug torque
	Tool   string      `json:"tool,omitempty"`   // the shop's number for the angle gauge; left out where it was read by eye
	// Within is how far one reading of Tool may be out. Left out it isn't known, which is not zero;
	// an eye is as good as the rules say.
	Deviation turn.Turn `json:"deviation,omitzero"`
}

func (a AngleDone) check(path string, errs *JobErrors) {
	errs.when((len(a.Stages) == 0) == (a.Total == nil), path, "both or neither of stages and total", "one of them", errContradiction)
	if !given(a.Deviation) || errs.faulty(path+".deviation") {
		return
	}
	switch {
	case a.Tool == "":
		errs.add(path+".deviation", "given without a tool", "the field omitted: how far an eye may be out is agreed on in the rules", errContradiction)
	case a.Deviation.Compare(turn.MustOf(1, 2)) >= 0:
		errs.add(path+".deviation", a.Deviation.String(), "less than half a turn", units.ErrRange)
	}
}

// matchAngle refuses more stages than the job has, and what no judge takes.
func (r *reviewer) matchAngle(path string, a AngleDone, plan *SequencePlan) {
	if n := len(plan.Stages); len(a.Stages) > n {
		r.errs.add(path+".stages", fmt.Sprintf("%d stages, the job has %d", len(a.Stages), n), "those of the job, or the total of all", errContradiction)
	}
	turned := a.Stages
	if a.Total != nil {
		turned = []turn.Turn{*a.Total}
	}
	for _, t := range turned {
		_, err := plan.Whole.Judge(t, r.rules.Eye)
		r.errs.value(path, err)
	}
}

// judge judges the snug torque, then the turns.
func (bySequence) judge(r *reviewer, path string, done StationDone, plan *StationPlan) {
	r.snug(plan, done, path)
	s := plan.Sequence
	where, whole := path+".angle", message("want.angle", "angle", angles(s.Whole))
	a := done.Angle
	switch {
	case a == nil:
		r.angle(Line{Where: where, Code: "angle", Want: whole}, s.Whole, nil, done)
	case a.Total != nil:
		r.angle(Line{Where: where + ".total", Code: "angle", Want: whole}, s.Whole, a.Total, done)
	default:
		for i, stage := range s.Stages {
			var turned *turn.Turn
			if i < len(a.Stages) {
				turned = &a.Stages[i]
			}
			in, err := turn.NewInstruction(stage.Least, stage.Most, turn.Snug)
			l := Line{Where: fmt.Sprintf("%s.stages[%d]", where, i), Code: "angle.stage", Want: message("want.angle/stage", "stage", i+1, "angle", angles(in))}
			r.errs.value(l.Where, err)
			r.angle(l, in, turned, done)
		}
	}
}

// snug judges the torque that the turns are counted from. Where the job states no tolerance a
// reading shows neither that it was kept nor that it wasn't.
func (r *reviewer) snug(plan *StationPlan, done StationDone, path string) {
	s := plan.Sequence
	l := Line{Where: path + ".torque", Code: "snug", Needed: true, Want: message("want.snug/open", "torque", s.Sequence.Torque()), Sources: []string{theJob}}
	if s.Band != nil {
		l.Want, l.Sources = message("want.snug", "torque", s.Sequence.Torque(), "band", s.Band.Stated), r.rules.sources()
	}
	switch at, ok := r.read(&l, done.Torque, plan); {
	case !ok:
	case s.Band == nil:
		l.is(Undecided, "why.no-tolerance/torque")
	default:
		l.Verdict, l.Reasons, _ = r.decide(s.Band.Stated, at)
	}
	switch {
	case l.Verdict == Fail:
		l.is(Fail, "why.next/snug")
	case l.Verdict == Pass && dragged(done):
		l.overrule(Undecided, "why.dragged/torque")
	}
	r.say(l)
}

// angle judges one turn against its window. The tolerance is that of the job alone: one that was
// agreed on for a canister's gasket says nothing of parts that are clamped.
func (r *reviewer) angle(l Line, in turn.Instruction, turned *turn.Turn, done StationDone) {
	l.Needed, l.Sources = true, []string{theJob}
	if turned == nil {
		r.say(l)
		return
	}
	a, out, unfit := done.Angle, r.rules.Eye, Message{}
	l.Found = message("found.angle", "angle", turned.Degrees())
	if a.Tool != "" {
		l.Found = message("found.angle/tool", "angle", turned.Degrees(), "tool", a.Tool)
		out, unfit = a.Deviation, r.unfitGauge(a.Tool)
	}
	switch {
	case unfit.Code != "":
		l.Verdict, l.Reasons = Undecided, []Message{unfit}
	case !given(out):
		l.is(Undecided, "why.gauge-unknown")
	default:
		found, err := in.Judge(*turned, out)
		r.errs.value(l.Where, err)
		r.reach(&l, in, found, out, done, "")
	}
	r.say(l)
}

// unfitGauge says why what a gauge shows can't be judged; no message where it can, or where the job lists no
// gauges to find it among. A wrench may show angles too.
func (r *reviewer) unfitGauge(id string) Message {
	g, unfit := listed(r, "gauge", id, r.plan.Job.Shop.Gauges, func(g Gauge) (string, waste.Date) { return g.ID, g.CalibratedUntil })
	if w, lapsed := r.wrench(id); g == nil && w != nil {
		return lapsed
	}
	return unfit
}

// wrench is a wrench of the job by its number, nil where the job doesn't list it, and why what it shows can't be
// judged.
func (r *reviewer) wrench(id string) (w *Wrench, unfit Message) {
	return listed(r, "wrench", id, r.plan.Job.Shop.Wrenches, func(w Wrench) (string, waste.Date) { return w.Name, w.CalibratedUntil })
}

// listed is a tool of a job among all of its kind, nil where it isn't one of them, and why what it shows can't be
// judged: no message where it can, or where the job lists none.
func listed[T any](r *reviewer, kind, id string, all []T, of func(T) (id string, until waste.Date)) (found *T, unfit Message) {
	var ids []string
	for i := range all {
		name, until := of(all[i])
		if name == id {
			return &all[i], r.lapsed(id, until)
		}
		ids = append(ids, name)
	}
	if len(ids) > 0 {
		unfit = message("why.not-listed/"+kind, "tool", id, "tools", ids)
	}
	return nil, unfit
}

// lapsed says that something was out of calibration on the day of the work, no message where it wasn't.
func (r *reviewer) lapsed(tool string, until waste.Date) Message {
	if !given(until) || until.Compare(r.done.Date) >= 0 {
		return Message{}
	}
	return message("why.out-of-calibration", "tool", tool, "until", until)
}
