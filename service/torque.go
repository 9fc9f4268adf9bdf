package service

import (
	"cmp"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// TorquePlan is a band in the unit of the shop's wrenches.
type TorquePlan struct {
	Stated torque.Band // as the job says
	Wrench torque.Band // rounded inward, in the shop's unit
	Nearby torque.Band // the same in another unit for a second wrench
	Set    *WrenchSet  // the wrench to take and its setting; nil where none is listed or none serves
}

// WrenchSet is a wrench of the shop and what to set on its scale.
type WrenchSet struct {
	Wrench  Wrench
	Adapter *Adapter // nil where it goes straight on
	Setting torque.Setting
}

// byTorque is a way to tighten: to a torque in a band, or where the job says so until it is seated.
type byTorque Tighten

func (byTorque) name() string     { return "torque" }
func (t byTorque) stated() bool   { return given(t.Torque) }
func (byTorque) beside() []string { return []string{"adapter", "orSeated"} }
func (byTorque) how() string      { return "by torque" }
func (byTorque) takes() []string  { return []string{"torque", "seated", "pastStop"} }

func (byTorque) check(string, *JobErrors) {}

func (t byTorque) plan(p *Plan, sp *StationPlan, path string, errs *JobErrors) {
	sp.Torque = p.torque(t.Torque, path, errs)
}

func (byTorque) band(sp *StationPlan) *TorquePlan { return sp.Torque }

func (byTorque) choose(c chooser)                                   { c.band(c.station.Torque, Stop) }
func (byTorque) find(*Plan, int)                                    {}
func (byTorque) run(w *writer, sp *StationPlan)                     { w.byHand(sp.Station.Kind) }
func (byTorque) sheet(w *writer, sp StationPlan)                    { w.torque(sp) }
func (byTorque) match(*reviewer, string, StationDone, *StationPlan) {}

func (t byTorque) judge(r *reviewer, path string, done StationDone, plan *StationPlan) {
	atStop := t.OrSeated && done.Seated != nil && *done.Seated
	r.torque(plan.Torque.Stated, atStop, plan, done, path)
	r.seat(done, path, "")
}

func (byTorque) says(r Rules) []Clause {
	return []Clause{says(message("torque/"+variantOf(r.Torque)), r.sources()...),
		says(message("torque.unknown-uncertainty"), "ILAC-G8:09/2019", fromMemory), says(message("torque.click"), practice), says(message("torque.tool"), practice)}
}

// blankTorque leaves room for a torque, unless the adapter lets none be read: for a click where a wrench is
// set, else for a reading, with its U where the rules need it.
func (w *writer) blankTorque(code string, t Tighten, set *WrenchSet, unit units.TorqueUnit) {
	as := ""
	switch a := t.Adapter; {
	case a.grips():
		return
	case set != nil:
		as = "set"
	case a != nil && !w.plan.leverKnown(a):
		as = "corrected"
	case w.rules.Torque == torque.SimpleAcceptance:
		as = "alone"
	}
	w.blank(code+"/"+as, "unit", unit)
}

// torque brings a band into the shop's unit, inward.
func (p *Plan) torque(stated torque.Band, path string, errs *JobErrors) *TorquePlan {
	t := &TorquePlan{Stated: stated}
	var err error
	if places := p.Job.Shop.TorquePlaces; places != nil {
		t.Wrench, err = stated.Inward(p.Job.Shop.TorqueUnit, *places)
	} else {
		t.Wrench, err = inward(stated, p.Job.Shop.TorqueUnit)
	}
	errs.value(path, err)
	t.Nearby, err = inward(stated, nearbyUnit(p.Job.Shop.TorqueUnit))
	errs.value(path, err)
	return t
}

// nearbyUnit is what a second wrench of the shop may read.
func nearbyUnit(shop units.TorqueUnit) units.TorqueUnit {
	if shop == units.FootPound {
		return units.NewtonMetre
	}
	return units.FootPound
}

// inward rounds a band inward at the fewest places that keep nine tenths of its width; the last
// of six places is taken for a band so narrow that none does.
func inward(band torque.Band, unit units.TorqueUnit) (torque.Band, error) {
	width := func(b torque.Band) units.Torque {
		w, _ := b.High().Sub(b.Low())
		return w
	}
	full := width(band)
	for places := 0; ; places++ {
		b, err := band.Inward(unit, places)
		if places == 6 {
			return b, err
		}
		if err != nil {
			continue
		}
		if full.Sign() == 0 {
			return b, nil
		}
		if kept := width(b).Ratio(full); kept.Cmp(nineTenths) >= 0 {
			return b, nil
		}
	}
}

func (w *writer) torque(sp StationPlan) {
	t, tighten := sp.Torque, sp.Station.Tighten
	w.way(tighten, turn.FacingClosedEnd)
	w.band(t, tighten.Adapter)
	w.blankTorque("record.torque", tighten, t.Set, t.unit())
	if tighten.OrSeated {
		w.alarm("torque.or-seated")
	} else {
		w.alarm("torque.gap")
	}
	w.blank("record.gap")
	w.rounded(t, tighten.Adapter)
}

// unit is that of the dial.
func (t *TorquePlan) unit() units.TorqueUnit {
	if t.Set != nil {
		return t.Set.Setting.Dial.Unit()
	}
	return t.Wrench.Low().Unit()
}

// band is the setting of the wrench, or where none is listed the band that it has to stay in.
func (w *writer) band(t *TorquePlan, a *Adapter) {
	if t.Set != nil {
		w.setting(t.Set)
		return
	}
	low, high := t.Wrench.Low(), t.Wrench.High()
	switch {
	case low.Equal(high):
		w.figure("torque.tighten/one", "high", number(high), "unit", high.Unit(), "band", t.Wrench)
	case low.Sign() == 0:
		w.figure("torque.tighten/most", "high", number(high), "unit", high.Unit(), "band", t.Wrench)
	default:
		w.figure("torque.tighten", "low", number(low), "high", number(high), "unit", high.Unit(), "band", t.Wrench)
	}
	w.pull(a, false)
	if low.Sign() > 0 && !low.Equal(high) {
		w.tell("torque.aim", "middle", middle(t.Wrench))
	}
}

// middle is in the places of the band, so that a wrench can be set to it.
func middle(b torque.Band) units.Torque {
	low, high := b.Low(), b.High()
	sum := low.RatIn(high.Unit())
	sum.Add(sum, high.RatIn(high.Unit())).Quo(sum, big.NewRat(2, 1))
	m, err := units.FromRat(sum, high.Unit(), max(low.Places(), high.Places()), units.ToNearestEven)
	if err != nil { // of two that are there
		return high
	}
	return m
}

// number is a quantity without its unit, which stands beside it in smaller type.
func number[U units.Unit](q units.Quantity[U]) Value {
	return Value{Value: Word(strings.TrimSuffix(q.String(), " "+q.Unit().String()))}
}

// setting is what to set, and how to pull.
func (w *writer) setting(set *WrenchSet) {
	dial := set.Setting.Dial
	w.figure("torque.set", "dial", number(dial), "unit", dial.Unit(), "wrench", set.Wrench.Name)
	w.pull(set.Adapter, true)
	least, most := set.Setting.Delivers(dial.Unit(), 3)
	w.why("torque.delivers", "wrench", set.Wrench.Name, "dial", dial, "least", least, "most", most, "until", set.Wrench.CalibratedUntil)
}

// pull tells what stands between the wrench and the part: nothing, unless it was reckoned with.
func (w *writer) pull(a *Adapter, set bool) {
	switch {
	case a == nil:
		w.do("torque.pull")
	case a.grips():
		w.know("torque.no-lever", "adapter", a.Name, "kind", a.Kind)
	case set:
		w.picture("picture.adapter")
		w.do("torque.pull/"+either(a.Lever.Angle.Sign() == 0, "straight", "adapter"), "adapter", a.Name, "angle", a.Lever.Angle)
		w.why("torque.with-adapter", "adapter", a.Name, "offset", a.Lever.Offset, "angle", a.Lever.Angle)
	default:
		w.know("torque.adapter-unset", "adapter", a.Name)
	}
}

// byHand says what is run up where a word for it is known.
func (w *writer) byHand(kind Kind) {
	what, known := map[Kind]Word{ScrewOnBowl: "bowl", SpinOnCanister: "canister", DropInElement: "cap or cover"}[kind]
	if !known {
		what = "what you unscrewed"
	}
	w.do("torque.by-hand", "what", what)
	w.drags()
}

// rounded tells what a band was rounded from, and what it is on another wrench.
func (w *writer) rounded(t *TorquePlan, adapter *Adapter) {
	at := either(adapter == nil, "", "at-fastener")
	w.why("torque.stated/"+at, "band", t.Wrench, "stated", t.Stated,
		"low", exactTorque(t.Stated.Low(), t.Wrench.Low().Unit()), "high", exactTorque(t.Stated.High(), t.Wrench.High().Unit()))
	w.why("torque.nearby/"+at, "unit", t.Nearby.Low().Unit(), "band", t.Nearby, "stated", t.Stated)
	w.workings().add(Drawing, "picture.band", nil)
}

// exactTorque has all the digits there are, or as many as are kept.
func exactTorque(t units.Torque, unit units.TorqueUnit) Value {
	converted, exact := t.Exact(unit)
	return Value{Value: converted, Reckoned: !exact}
}

// torque judges a reading; where that gives no pass and the high limit isn't in doubt, a part that
// was seen at its stop is seated, if the job gives it one.
func (r *reviewer) torque(band torque.Band, atStop bool, plan *StationPlan, done StationDone, path string) {
	l := Line{Where: path + ".torque", Code: "torque", Needed: true, WantText: band.String(), Sources: r.rules.sources()}
	at, read := r.read(&l, done.Torque, plan)
	fit, usable := read || done.Torque == nil, false
	if read {
		l.Sources = r.sourceOf(*done.Torque)
		l.Verdict, l.ReasonText, usable = r.decide(band, at)
	}
	dragged := dragged(done)
	switch {
	case done.PastStop:
		l.Verdict, l.ReasonText, l.Sources = Fail, "turned on past its stop: take it off, look at thread and housing, and fit new seals as the manufacturer instructs", []string{practice}
	case dragged && l.Verdict != Fail && l.Verdict != NotRecorded:
		l.Verdict, l.ReasonText, l.Sources = Undecided, wrenchAfterDrag, []string{practice}
	case dragged:
	case done.Seated != nil && !*done.Seated && l.Verdict == Pass:
		l.Verdict, l.Sources = Undecided, []string{practice}
		l.ReasonText = "in the band with the gap not closed all round: a crossed thread and a rolled seal stop a wrench too"
	case l.Verdict != Pass && fit && atStop && r.highKept(band.High(), at, usable):
		l.ReasonText = "the gap was seen closed all round; by the torque alone it would be " + l.Verdict.String() + ": " + l.ReasonText
		l.Verdict, l.Sources = Seated, append([]string{practice}, r.rules.sources()...)
	}
	if l.Verdict == Fail && read && !done.PastStop {
		l.ReasonText += r.nextAfter(band, at.nominal(), done)
	}
	r.say(l)
}

const wrenchAfterDrag = "it dragged while it was run up, so that what the wrench showed proves nothing"

// read is a torque at the fastener, and whether it can be judged; where it can't, the line says why.
func (r *reviewer) read(l *Line, t *TorqueReading, plan *StationPlan) (at reached, ok bool) {
	if t == nil {
		l.Verdict, l.ReasonText = NotRecorded, "no torque was written down"
		return at, false
	}
	if at, l.ReasonText = r.atFastener(*t, plan); l.ReasonText != "" {
		l.Verdict, l.FoundText = Undecided, t.String()
		return at, false
	}
	l.FoundText = at.found(*t)
	return at, true
}

// nextAfter tells what to do about a torque that fails. Common practice, no source.
func (r *reviewer) nextAfter(band torque.Band, value units.Torque, done StationDone) string {
	switch {
	case band.High().Less(value):
		return "; never back off into the band: take it off, look at thread, seal and housing, and fit it anew as the manufacturer instructs"
	case !value.Less(band.Low()):
		return "; it isn't tightened further for that: ask who answers for the job, or start over with a wrench of a smaller U"
	}
	if doubt := r.noTurningOn(done, ""); doubt != "" {
		return "; " + doubt + notTurnedOn
	}
	return "; engine off, cold, pressure off: whether it may be tightened on from there is for the manufacturer's instructions"
}

// highKept reports whether a reading that is fit to be judged leaves no doubt of the high limit: there
// is none, or it passes with the high limit alone. An unfit one, such as one through a strap wrench,
// would leave it in doubt.
func (r *reviewer) highKept(high units.Torque, at reached, usable bool) bool {
	if !usable {
		return !slices.ContainsFunc(at.read, func(t TorqueReading) bool { return high.Less(t.Value) })
	}
	below, err := torque.Between(high.Unit().Of(0), high)
	if err != nil {
		return false
	}
	verdict, _, _ := r.decide(below, at)
	return verdict == Pass
}

// reached is what is known of the torque at the fastener: what was read, or all that a wrench delivers
// that clicked. A reading whose digits don't end in as many as are kept is given twice, a little below
// and a little above, and both have to pass.
type reached struct {
	read  []TorqueReading
	click *torque.Setting
}

// nominal is about what arrived.
func (at reached) nominal() units.Torque {
	if at.click != nil {
		return at.click.Delivered
	}
	return at.read[0].Value
}

// found is a reading in words, with what it is at the fastener where that was worked out.
func (at reached) found(t TorqueReading) string {
	if at.click != nil {
		least, most := at.click.Delivers(t.Value.Unit(), 3)
		return fmt.Sprintf("%v: %v to %v at the fastener", t, least, most)
	}
	value := at.read[0].Value
	if value.Equal(t.Value) {
		return t.String()
	}
	return fmt.Sprintf("%v, about %v at the fastener", t, value.RoundIn(value.Unit(), 3, units.ToNearestEven))
}

// sourceOf is by what a reading is judged.
func (r *reviewer) sourceOf(t TorqueReading) []string {
	if t.Clicked {
		return []string{practice}
	}
	return r.rules.sources()
}

// atFastener is a reading as the torque at the fastener, or why it can't be judged at all. What a
// wrench showed through an adapter is worked out by the lever.
func (r *reviewer) atFastener(t TorqueReading, plan *StationPlan) (at reached, unfit string) {
	a := plan.Station.Tighten.Adapter
	if a.grips() {
		return reached{}, fmt.Sprintf("read with %s, a %v, whose lever isn't fixed: nothing it shows is the torque at the fastener", plain.Cut(a.Name), a.Kind)
	}
	if a != nil && given(a.CalibratedUntil) {
		if late := r.lapsed(a.Name, a.CalibratedUntil); late != "" {
			return reached{}, late
		}
	}
	wrench, listed := r.wrench(t.Tool)
	switch {
	case listed:
		if late := r.lapsed(t.Tool, wrench.CalibratedUntil); late != "" {
			return reached{}, late
		}
	case len(r.plan.Job.Shop.Wrenches) > 0:
		var ids []string
		for _, w := range r.plan.Job.Shop.Wrenches {
			ids = append(ids, w.Name)
		}
		return reached{}, noneOf(t.Tool, "wrenches", ids)
	}
	if a != nil && t.Corrected {
		return reached{read: []TorqueReading{t}}, "" // no longer what a scale showed
	}
	if listed {
		if off := wrench.offScale(t.Value); off != "" {
			return reached{}, off
		}
	}
	if t.Clicked {
		return clicked(t, wrench, listed, a)
	}
	if a == nil {
		return reached{read: []TorqueReading{t}}, ""
	}
	at.read, unfit = throughLever(t, wrench.tool().Length, a)
	return at, unfit
}

// clicked is what a wrench may have delivered that was set and clicked.
func clicked(t TorqueReading, w Wrench, listed bool, a *Adapter) (at reached, unfit string) {
	switch unit := w.Lowest.Unit(); {
	case !listed:
		return at, fmt.Sprintf("the job lists no wrench %s, so that nothing is known of what it delivers when it clicks", plain.Cut(t.Tool))
	case t.Value.Unit() != unit:
		return at, fmt.Sprintf("the settings of %s are listed in %v: write down what was set in %v", plain.Cut(t.Tool), unit, unit)
	}
	s, err := w.tool().At(t.Value, a.lever())
	if errors.Is(err, torque.ErrTooCoarse) {
		return at, fmt.Sprintf("%v is no setting of %s, which has %v to %v in steps of %v: ask what was set", t.Value, plain.Cut(t.Tool), w.Lowest, w.Highest, w.Step)
	} else if err != nil {
		return at, err.Error()
	}
	return reached{click: &s}, ""
}

// throughLever works a reading out by the lever.
func throughLever(t TorqueReading, length units.Length, a *Adapter) (at []TorqueReading, unfit string) {
	value, err := torque.Delivered(t.Value, length, a.lever())
	if err != nil {
		return nil, fmt.Sprintf("read with %s, and the torque at the fastener can't be worked out: %v", plain.Cut(a.Name), err)
	}
	if value.Equal(t.Value) { // the adapter leaves the lever as it is
		return []TorqueReading{t}, ""
	}
	const places = 18
	u := t.Expanded
	if given(u) {
		if u, err = torque.Delivered(u, length, a.lever()); err != nil {
			return nil, err.Error()
		}
		u = u.RoundIn(u.Unit(), places, units.ToPositiveInf)
	}
	for _, mode := range []units.Rounding{units.ToNegativeInf, units.ToPositiveInf} {
		at = append(at, TorqueReading{Value: value.RoundIn(value.Unit(), places, mode), Tool: t.Tool, Expanded: u, K: t.K})
	}
	return at, ""
}

// wrench is a wrench of the job by its number, and whether the job lists it.
func (r *reviewer) wrench(id string) (w Wrench, listed bool) {
	wrenches := r.plan.Job.Shop.Wrenches
	if i := slices.IndexFunc(wrenches, func(w Wrench) bool { return w.Name == id }); i >= 0 {
		return wrenches[i], true
	}
	return Wrench{}, false
}

// decide puts what a reading may be at the fastener under the rule: where that is two torques, both
// have to come to the same. Usable is false where the reading lacks what the rule needs.
func (r *reviewer) decide(band torque.Band, at reached) (v Verdict, reason string, usable bool) {
	if at.click != nil {
		v, reason = decideClick(band, *at.click)
		return v, reason, true
	}
	v, reason, usable = r.decideOne(band, at.read[0])
	for _, t := range at.read[1:] {
		if other, _, _ := r.decideOne(band, t); other != v {
			return Undecided, "a limit lies where the digits of the lever's arithmetic end", usable
		}
	}
	return v, reason, usable
}

// decideClick goes by all that the wrench may have delivered.
func decideClick(band torque.Band, s torque.Setting) (Verdict, string) {
	switch band.AcceptsSetting(s) {
	case torque.Accepted:
		return Pass, "all that the wrench may deliver at that setting lies in the band"
	case torque.Rejected:
		return Fail, "all that the wrench may deliver at that setting is " + outside(band, s.Delivered)
	}
	return Undecided, "a part of what the wrench may deliver at that setting lies outside the band"
}

// decideOne puts one torque under the rule.
// The probability of conformance that package torque gives beside its verdict is left out: the
// record holds nothing that a float had a part in.
func (r *reviewer) decideOne(band torque.Band, t TorqueReading) (v Verdict, reason string, usable bool) {
	m := torque.Measurement{Value: t.Value}
	if given(t.Expanded) {
		m.Expanded = t.Expanded
		m.CoverageFactor, _ = t.coverage() // checked
	} else if r.rules.Torque != torque.SimpleAcceptance {
		if r.rules.Torque != torque.NonBinary && !band.Contains(t.Value) {
			return Fail, outside(band, t.Value) + ", whatever the uncertainty", true
		}
		return Undecided, fmt.Sprintf("the uncertainty isn't known, which is not zero, and the rule (%v) needs it", r.rules.Torque), false
	}
	d, err := band.Decide(m, r.rules.Torque)
	if err != nil { // a rule, a band and a reading that are checked
		return Undecided, err.Error(), false
	}
	switch d.Acceptance {
	case torque.Accepted:
		return Pass, fmt.Sprintf("passes by the rule (%v)", r.rules.Torque), true
	case torque.Rejected:
		if band.Contains(t.Value) {
			return Fail, fmt.Sprintf("in the band, and not far enough inside it for the rule (%v)", r.rules.Torque), true
		}
		return Fail, outside(band, t.Value), true
	}
	reason = d.Acceptance.String() + fmt.Sprintf(" by the rule (%v)", r.rules.Torque)
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
	var slips []string
	for _, unit := range band.UnitSlips(value) {
		slips = append(slips, unit.String())
	}
	if len(slips) > 0 {
		side += fmt.Sprintf("; was it read in %s? Ask who read it, and correct nothing unasked", strings.Join(slips, ", or in "))
	}
	return side
}

// String is the reading with what is known of it, or "set to 20.5 N·m, clicked, with W-1".
func (t TorqueReading) String() string {
	if t.Clicked {
		return fmt.Sprintf("set to %v, clicked, with %s", t.Value, t.Tool)
	}
	u := "uncertainty not known"
	if given(t.Expanded) {
		u = fmt.Sprintf("U = %v at k = %s", t.Expanded, cmp.Or(t.K, "2"))
	}
	return fmt.Sprintf("%v, %s, with %s", t.Value, u, t.Tool)
}
