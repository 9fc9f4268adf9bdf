package service

import (
	"cmp"
	"errors"
	"math/big"
	"slices"

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
	return either(shop == units.FootPound, units.NewtonMetre, units.FootPound)
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
		if places == 6 || err == nil && (full.Sign() == 0 || width(b).Ratio(full).Cmp(nineTenths) >= 0) {
			return b, err
		}
	}
}

func (byTorque) sheet(w *writer, sp StationPlan) {
	t, tighten := sp.Torque, sp.Station.Tighten
	w.way(tighten, turn.FacingClosedEnd)
	w.band(t, tighten.Adapter)
	w.blankTorque("record.torque", tighten, t.Set, t.unit())
	w.alarm(either(tighten.OrSeated, "torque.or-seated", "torque.gap"))
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
		w.figure("torque.tighten/one", "high", high, "band", t.Wrench)
	case low.Sign() == 0:
		w.figure("torque.tighten/most", "high", high, "band", t.Wrench)
	default:
		w.figure("torque.tighten", "low", low, "high", high, "band", t.Wrench)
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
	m, _ := units.FromRat(sum, high.Unit(), max(low.Places(), high.Places()), units.ToNearestEven) // of two that are there
	return m
}

// setting is what to set, and how to pull.
func (w *writer) setting(set *WrenchSet) {
	dial := set.Setting.Dial
	w.figure("torque.set", "dial", dial, "wrench", set.Wrench.Name)
	w.pull(set.Adapter, true)
	least, most := set.Setting.Delivers(dial.Unit(), 3)
	w.why("torque.delivers", "wrench", set.Wrench.Name, "dial", dial, "least", least, "most", most, "until", set.Wrench.CalibratedUntil)
}

// pull says what is between the wrench and the part: nothing, unless it was computed with.
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

// byHand is the part run up by hand.
func (w *writer) byHand(kind Kind) {
	w.do("torque.by-hand/" + oldPart[kind])
	w.drags()
}

// rounded says what a band was rounded from, and what it is on another wrench.
func (w *writer) rounded(t *TorquePlan, adapter *Adapter) {
	at := either(adapter == nil, "", "at-fastener")
	w.why("torque.stated/"+at, "band", t.Wrench, "stated", t.Stated,
		"low", exactTorque(t.Stated.Low(), t.Wrench.Low().Unit()), "high", exactTorque(t.Stated.High(), t.Wrench.High().Unit()))
	w.why("torque.nearby/"+at, "unit", t.Nearby.Low().Unit(), "band", t.Nearby, "stated", t.Stated)
}

// exactTorque has all the digits there are, or as many as are kept.
func exactTorque(t units.Torque, unit units.TorqueUnit) Value {
	converted, exact := t.Exact(unit)
	return Value{Value: converted, Computed: !exact}
}

// torque judges a reading; where that gives no pass and the high limit isn't in doubt, a part that
// was seen at its stop is seated, if the job gives it one.
func (r *reviewer) torque(band torque.Band, atStop bool, plan *StationPlan, done StationDone, path string) {
	l := Line{Where: path + ".torque", Code: "torque", Needed: true, Want: message("want.torque", "band", band), Sources: r.rules.sources()}
	at, read := r.read(&l, done.Torque, plan)
	fit, usable := read || done.Torque == nil, false
	if read {
		l.Verdict, l.Reasons, usable = r.decide(band, at)
		if at.click != nil {
			l.Sources = []string{practice}
		}
	}
	dragged := dragged(done)
	switch {
	case done.PastStop:
		l.overrule(Fail, "why.past-stop/torque")
	case dragged && l.Verdict != Fail && l.Verdict != NotRecorded:
		l.overrule(Undecided, "why.dragged/torque")
	case dragged:
	case done.Seated != nil && !*done.Seated && l.Verdict == Pass:
		l.overrule(Undecided, "why.gap-open/torque")
	case l.Verdict != Pass && fit && atStop && r.highKept(band.High(), at, usable):
		l.Reasons = append([]Message{message("why.seated/torque", "verdict", l.Verdict)}, l.Reasons...)
		l.Verdict, l.Sources = Seated, append([]string{practice}, r.rules.sources()...)
	}
	if l.Verdict == Fail && read && !done.PastStop {
		r.nextAfter(&l, band, at.nominal(), done)
	}
	r.say(l)
}

// read is a torque at the fastener, and whether it can be judged; where it can't, the line says why.
func (r *reviewer) read(l *Line, t *TorqueReading, plan *StationPlan) (at reached, ok bool) {
	if t == nil {
		l.is(NotRecorded, "why.not-recorded")
		return at, false
	}
	at, unfit := r.atFastener(*t, plan)
	if unfit.Code != "" {
		l.Verdict, l.Found, l.Reasons = Undecided, t.message(), []Message{unfit}
		return at, false
	}
	l.Found = at.found(*t)
	return at, true
}

// nextAfter says what to do about a torque that fails. Common practice, no source.
func (r *reviewer) nextAfter(l *Line, band torque.Band, value units.Torque, done StationDone) {
	doubt := r.noTurningOn(done, "")
	switch {
	case band.High().Less(value):
		l.is(Fail, "why.next/over")
	case !value.Less(band.Low()):
		l.is(Fail, "why.next/guarded")
	case doubt != "":
		l.is(Fail, doubt)
		l.is(Fail, "why.not-turned-on")
	default:
		l.is(Fail, "why.next/short")
	}
}

// highKept reports whether a reading that is fit to be judged leaves no doubt of the high limit: there
// is none, or it passes with the high limit alone. An unfit one, such as one through a strap wrench,
// would leave it in doubt.
func (r *reviewer) highKept(high units.Torque, at reached, usable bool) bool {
	if !usable {
		return !slices.ContainsFunc(at.read, func(t TorqueReading) bool { return t.Clicked || high.Less(t.Value) })
	}
	below, _ := torque.Between(high.Unit().Of(0), high) // of a band
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

// found is a reading, with what it is at the fastener where that was worked out.
func (at reached) found(t TorqueReading) Message {
	if at.click != nil {
		least, most := at.click.Delivers(t.Value.Unit(), 3)
		return message("found.at-fastener", "read", t.message(), "least", least, "most", most)
	}
	if value := at.read[0].Value; !value.Equal(t.Value) {
		return message("found.at-fastener/about", "read", t.message(), "torque", value.RoundIn(value.Unit(), 3, units.ToNearestEven))
	}
	return t.message()
}

// atFastener is a reading as the torque at the fastener, or why it can't be judged at all. What a
// wrench showed through an adapter is worked out by the lever.
func (r *reviewer) atFastener(t TorqueReading, plan *StationPlan) (at reached, unfit Message) {
	a := plan.Station.Tighten.Adapter
	if a.grips() {
		return at, message("why.no-lever", "adapter", a.Name, "kind", a.Kind)
	}
	if a != nil {
		if unfit = r.lapsed(a.Name, a.CalibratedUntil); unfit.Code != "" {
			return at, unfit
		}
	}
	wrench, unfit := r.wrench(t.Tool)
	if unfit.Code != "" {
		return at, unfit
	}
	if a != nil && t.Corrected {
		return reached{read: []TorqueReading{t}}, unfit // no longer what a scale showed
	}
	if wrench != nil {
		if unfit = wrench.offScale(t.Value); unfit.Code != "" {
			return at, unfit
		}
	}
	switch {
	case t.Clicked && wrench != nil:
		return clicked(t, wrench, a)
	case a == nil:
		return reached{read: []TorqueReading{t}}, unfit
	case wrench == nil:
		wrench = &Wrench{}
	}
	return throughLever(t, wrench.tool().Length, a)
}

// clicked is what a wrench of the job may have delivered that was set and clicked.
func clicked(t TorqueReading, w *Wrench, a *Adapter) (at reached, unfit Message) {
	if unit := w.Lowest.Unit(); t.Value.Unit() != unit {
		return at, message("why.no-setting/unit", "wrench", t.Tool, "unit", unit)
	}
	s, err := w.tool().At(t.Value, a.lever())
	switch {
	case err == nil:
		return reached{click: &s}, unfit
	case a == nil || errors.Is(err, torque.ErrTooCoarse):
		return at, message("why.no-setting", "set", t.Value, "wrench", t.Tool, "lowest", w.Lowest, "highest", w.Highest, "step", w.Step)
	}
	return at, message("why.lever-unknown", "adapter", a.Name)
}

// throughLever works a reading out by the lever.
func throughLever(t TorqueReading, length units.Length, a *Adapter) (at reached, unfit Message) {
	value, err := torque.Delivered(t.Value, length, a.lever())
	if err != nil {
		return at, message("why.lever-unknown", "adapter", a.Name)
	}
	if value.Equal(t.Value) { // the adapter leaves the lever as it is
		return reached{read: []TorqueReading{t}}, unfit
	}
	const places = 18
	if given(t.Expanded) {
		u, _ := torque.Delivered(t.Expanded, length, a.lever()) // the same lever
		t.Expanded = u.RoundIn(u.Unit(), places, units.ToPositiveInf)
	}
	for _, mode := range []units.Rounding{units.ToNegativeInf, units.ToPositiveInf} {
		t.Value = value.RoundIn(value.Unit(), places, mode)
		at.read = append(at.read, t)
	}
	return at, unfit
}

// decide puts what a reading may be at the fastener under the rule: where that is two torques, both
// have to come to the same. Usable is false where the reading lacks what the rule needs.
func (r *reviewer) decide(band torque.Band, at reached) (v Verdict, why []Message, usable bool) {
	if at.click != nil {
		v, why = decideClick(band, *at.click)
		return v, why, true
	}
	v, why, usable = r.decideOne(band, at.read[0])
	for _, t := range at.read[1:] {
		if other, _, _ := r.decideOne(band, t); other != v {
			return Undecided, []Message{message("why.lever-digits")}, usable
		}
	}
	return v, why, usable
}

// decideClick goes by all that the wrench may have delivered.
func decideClick(band torque.Band, s torque.Setting) (Verdict, []Message) {
	switch band.AcceptsSetting(s) {
	case torque.Accepted:
		return Pass, []Message{message("why.click/inside")}
	case torque.Rejected:
		return Fail, outside("why.click", band, s.Delivered)
	}
	return Undecided, []Message{message("why.click/partly")}
}

// decideOne puts one torque under the rule.
// The probability of conformance that package torque gives next to its verdict is left out: the
// record holds nothing that a float had a part in.
func (r *reviewer) decideOne(band torque.Band, t TorqueReading) (v Verdict, why []Message, usable bool) {
	rule, m := r.rules.Torque, torque.Measurement{Value: t.Value}
	switch {
	case given(t.Expanded):
		m.Expanded = t.Expanded
		m.CoverageFactor, _ = t.coverage() // checked
	case rule == torque.SimpleAcceptance && !t.Clicked:
	case rule != torque.NonBinary && !band.Contains(t.Value):
		return Fail, outside("why.outside-whatever-U", band, t.Value), true
	case t.Clicked: // by a wrench that isn't listed
		return Undecided, []Message{message("why.no-setting/unlisted", "wrench", t.Tool)}, false
	default:
		return Undecided, []Message{message("why.torque/no-uncertainty", "rule", rule)}, false
	}
	d, _ := band.Decide(m, rule) // a rule, a band and a reading that are checked
	if d.Acceptance == torque.Rejected && !band.Contains(t.Value) {
		return Fail, outside("why.outside", band, t.Value), true
	}
	v = map[torque.Acceptance]Verdict{torque.Accepted: Pass, torque.Rejected: Fail}[d.Acceptance]
	why = []Message{message("why.torque/"+variantOf(d.Acceptance), "rule", rule)}
	if d.NoZone {
		why = append(why, message("why.no-acceptance-zone"))
	}
	return cmp.Or(v, Undecided), why, true
}

// outside says on which side of the band, and where another unit would put it inside, asks for the unit.
func outside(code string, band torque.Band, value units.Torque) []Message {
	why := []Message{message(code + either(band.High().Less(value), "/above", "/below"))}
	if slips := band.UnitSlips(value); len(slips) > 0 {
		why = append(why, message("why.unit-slip", "units", slips))
	}
	return why
}

// message is the reading with what is known of it.
func (t TorqueReading) message() Message {
	switch {
	case t.Clicked:
		return message("found.torque/clicked", "torque", t.Value, "wrench", t.Tool)
	case given(t.Expanded):
		return message("found.torque", "torque", t.Value, "U", t.Expanded, "k", cmp.Or(t.K, "2"), "wrench", t.Tool)
	}
	return message("found.torque/no-U", "torque", t.Value, "wrench", t.Tool)
}
