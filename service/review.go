package service

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/deep"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
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
	Unchanged // what is no test of the work stays as it was: the month's category
)

// Line is one thing judged.
type Line struct {
	Where   string    `json:"where"`  // the path in the as-done readings: "stations[0].torque"
	Code    string    `json:"code"`   // what is judged, the same in every language: "torque"; see [Codes], more may be added
	Needed  bool      `json:"needed"` // the job isn't complete before this passes, or is seated
	Verdict Verdict   `json:"verdict"`
	Found   Message   `json:"found,omitzero"` // what was read
	Want    Message   `json:"want,omitzero"`  // what the job wants, or the plan expects
	Reasons []Message `json:"reasons"`
	// Sources are those of the rule it is judged by: what is published, a text of the job or the rules, or a code such
	// as "common-practice", "job" or "from-memory" (see [Codes]), which package sheet puts into words.
	Sources []string `json:"sources,omitempty"`
}

// String is one line of codes, "stations[0].dragged: pass: why.run-up/no; want.run-up"; package sheet has the words.
func (l Line) String() string {
	text := fmt.Sprintf("%s: %v: ", l.Where, l.Verdict)
	for _, reason := range l.Reasons {
		text += reason.String() + "; "
	}
	return text + l.Want.String()
}

// is gives a line its verdict and a reason for it; code and list are as for [message].
func (l *Line) is(verdict Verdict, code string, list ...any) {
	l.Verdict = verdict
	l.Reasons = append(l.Reasons, message(code, list...))
}

// overrule puts a rule of the trade in the place of what was said of a line.
func (l *Line) overrule(verdict Verdict, code string) {
	l.Sources, l.Reasons = []string{practice}, nil
	l.is(verdict, code)
}

// done reports whether the line leaves nothing to do.
func (l Line) done() bool {
	return l.Verdict == Pass || l.Verdict == Seated || l.Verdict == Unchanged
}

// Review is what was done, judged against what was planned. It is made by [Plan.Review].
type Review struct {
	Job      Job
	Done     AsDone
	Rules    Rules
	Clauses  []Clause // what Rules and this package judge by
	Lines    []Line
	Complete bool // every line that is needed passes or is seated
	// AsPlanned says that every line does, whether it is needed or not. A job may be complete although
	// the pump ran too often or twice the fuel came out; that it went as planned is another matter.
	AsPlanned bool
	Totals    []WasteTotal
	// WasteRules are the rules that the month was counted by; nil where the job counts none.
	WasteRules *waste.RuleSet
}

// Open lists the lines that keep the job from being complete.
func (r Review) Open() []Line { return r.undone(true) }

// Departures lists the lines besides those of [Review.Open] that aren't a pass: they keep the job from
// having gone as planned, and not from being complete.
func (r Review) Departures() []Line { return r.undone(false) }

func (r Review) undone(needed bool) (lines []Line) {
	for _, l := range r.Lines {
		if l.Needed == needed && !l.done() {
			lines = append(lines, l)
		}
	}
	return lines
}

// reviewer collects the lines.
type reviewer struct {
	plan  *Plan
	done  AsDone
	rules Rules
	errs  JobErrors
	lines []Line
}

// Review judges what was done, line by line, by the rules that the plan was made with. Nothing is
// rounded before it is judged, and what can't be judged is undecided or not recorded, never a pass.
// What comes back shares nothing with the plan or the readings.
//
// The error is a [JobErrors]: a plan made without rules, what is wrong with the readings by themselves, readings
// of another job or revision, of a station, a mark, an isolation or a waste that the job doesn't
// have, or of a way to tighten that isn't the station's: a torque where the job wants a turn.
func (p *Plan) Review(done AsDone) (Review, error) {
	r := &reviewer{plan: p, done: done, rules: p.Rules}
	if p.Rules == (Rules{}) {
		r.errs.add("rules", "the plan was made without any", "a plan made with the rules that are agreed on", errMissingField)
	} else {
		p.Rules.check("rules.", &r.errs)
	}
	done.check(&r.errs)
	if len(r.errs) == 0 {
		r.match()
	}
	if len(r.errs) > 0 {
		return Review{}, r.errs
	}
	r.judge()
	totals := r.totals()
	if len(r.errs) > 0 {
		return Review{}, r.errs
	}
	r.month(totals)
	review := Review{Job: deep.Copy(p.Job), Done: deep.Copy(done), Rules: deep.Copy(p.Rules), Clauses: p.Rules.says(), Lines: r.lines, Totals: totals, WasteRules: deep.Copy(p.WasteRules)}
	review.Complete = len(review.Open()) == 0
	review.AsPlanned = review.Complete && len(review.Departures()) == 0
	return review, nil
}

// judge judges every line of the work but the month.
func (r *reviewer) judge() {
	for i := range r.plan.Stations {
		r.station(&r.plan.Stations[i])
	}
	r.priming()
	for _, s := range r.plan.Stations {
		r.leaks(r.reading(s.Station.ID))
	}
	r.papers()
	r.restored()
	r.weights()
}

// Wants lists what a review will want recorded, so that a program can ask for it: the lines of a review
// of readings that name every station and say nothing else. Each is [NotRecorded]; Where is the path in
// the readings, Code what is asked for, Want what the job wants there, and Needed whether the job stays
// open without it. A plan made without rules wants nothing, for it judges nothing.
func (p *Plan) Wants() []Line {
	if p.Rules == (Rules{}) {
		return nil
	}
	r := &reviewer{plan: p, rules: p.Rules, done: AsDone{Date: p.Job.Date}}
	for _, s := range p.Job.Stations {
		r.done.Stations = append(r.done.Stations, StationDone{ID: s.ID})
	}
	r.judge()
	return r.lines
}

// match refuses readings that belong to no line of this plan.
func (r *reviewer) match() {
	job := r.plan.Job
	r.errs.when(r.done.Job != job.ID, "job", "of job "+plain.Quote(r.done.Job), "readings of job "+plain.Quote(job.ID), errContradiction)
	r.errs.when(r.done.Revision != job.Revision, "revision", fmt.Sprintf("of revision %d", r.done.Revision), fmt.Sprintf("readings to revision %d", job.Revision), errContradiction)
	r.errs.when(!sameClocks(r.done.Zone, job.Zone), "zone", fmt.Sprintf("a day by other clocks than the job's: %s, not %s", r.done.Zone, job.Zone),
		"the day of the work by the clocks of the site, with its zone as the job has it or without", errContradiction)
	var ids, things []string
	for _, s := range job.Stations {
		ids = append(ids, s.ID)
	}
	for _, s := range job.Isolate {
		things = append(things, s.What)
	}
	for i, s := range r.done.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		at := slices.Index(ids, s.ID)
		r.errs.when(at < 0, path+".id", fmt.Sprintf("no station %s in the job", plain.Quote(s.ID)), "one of "+strings.Join(ids, ", "), errContradiction)
		if at >= 0 {
			r.matchWay(path, s, &r.plan.Stations[at])
		}
	}
	for i, back := range r.done.Restored {
		r.errs.when(!slices.Contains(things, back.What), fmt.Sprintf("restored[%d].what", i),
			plain.Quote(back.What)+" was not isolated", "one of "+strings.Join(things, ", "), errContradiction)
	}
	for i, w := range r.done.Weights {
		r.matchWeight(fmt.Sprintf("weights[%d]", i), w, r.done.Weights[:i])
	}
	if jug := job.Shop.JugDeviation; given(jug) {
		for i, s := range r.done.Stations {
			for _, v := range s.volumes() {
				if v.taken != nil && given(v.taken.Read) && !given(v.taken.Deviation) {
					v.taken.checkSum(fmt.Sprintf("stations[%d].%s.read", i, v.name), jug, &r.errs)
				}
			}
		}
	}
	r.errs.when(r.done.KeyCycles != nil && job.Prime.Pump == nil, "keyCycles", "given, though the job has no lift pump", "the field omitted", errContradiction)
	r.errs.when(r.done.Strokes != nil && job.Prime.HandPrimer == nil, "strokes", "given, though the job has no hand primer", "the field omitted", errContradiction)
}

// of reports whether it was the waste of a line that was weighed.
func (w Weight) of(line WasteLine) bool {
	return w.Stream == line.Stream && w.Station == line.Station && (w.What == "" || w.What == line.known())
}

// matchWeight finds the one waste of the plan that was weighed, and that nobody weighed before.
func (r *reviewer) matchWeight(path string, w Weight, before []Weight) {
	var wastes, meant []string
	for _, line := range r.wastes() {
		wastes = append(wastes, strings.TrimSpace(fmt.Sprintf("%v %s %s", line.Stream, line.Station, line.What)))
		if !w.of(line) {
			continue
		}
		meant = append(meant, line.known())
		if slices.ContainsFunc(before, func(other Weight) bool { return other.of(line) }) {
			r.errs.add(path, plain.Quote(line.known())+" is given twice", "it once", errContradiction)
		}
	}
	switch n := len(meant); {
	case n == 0:
		r.errs.add(path, "not in the plan: "+quoted(strings.TrimSpace(fmt.Sprintf("%v %s %s", w.Stream, w.Station, w.What))),
			"stream, station and what of one of "+strings.Join(wastes, ", "), errContradiction)
	case n > 1:
		r.errs.add(path+".what", "missing, where the plan has more than one such waste", "one of "+strings.Join(meant, ", "), errContradiction)
	}
}

// reading gives the readings of a station and where they are; where nothing was written of it,
// the place where it would be.
func (r *reviewer) reading(id string) (StationDone, string) {
	for i, s := range r.done.Stations {
		if s.ID == id {
			return s, strictjson.At("stations", i)
		}
	}
	return StationDone{ID: id}, fmt.Sprintf("stations[id=%s]", id)
}

// say adds a line; one that nothing was said of wasn't recorded.
func (r *reviewer) say(l Line) {
	if l.Verdict == 0 {
		l.is(NotRecorded, "why.not-recorded")
	}
	r.lines = append(r.lines, l)
}

// Sources that are no publication and no text of the job, as codes.
const (
	practice     = "common-practice" // a rule of the trade that nobody published
	theJob       = "job"
	agreed       = "rules"          // those agreed on
	byDensity    = "density"        // a volume times the density at its temperature
	byVoid       = "void"           // what is to fill by what arrives at a time, rounded up
	likeWithLike = "like-with-like" // a mass against a mass, a scale's reading against a scale's reading
	byAnalogy    = "by-analogy"     // next to the rule for another thing
	fromMemory   = "from-memory"    // beside what was cited without a copy at hand
	copySeen     = "copy-seen"      // or from a copy
	textSeen     = "text-seen"      // or from the text itself
	byArithmetic = "by-arithmetic"  // or follows from it
	thePlan      = "plan"
	theMonth     = "month" // the rules that a month is counted by
)

func (r *reviewer) station(plan *StationPlan) {
	done, path := r.reading(plan.Station.ID)
	r.runUp(done, path)
	plan.way().judge(r, path, done, plan)
	r.volume("out", path+".out", done.Out, plan.Out.Volume, r.plan.fuel.DensityAt)
	r.hot(path+".out.at", done.Out)
	if d := plan.Station.Drain; d.hasWater() {
		r.volume("water", path+".water", done.Water, d.Water, waterDensity)
	} else if done.Water != nil {
		r.unexpectedWater(path+".water", *done.Water)
	}
}

// unexpectedWater judges water of a station for which the job lists none.
func (r *reviewer) unexpectedWater(path string, taken VolumeTaken) {
	l := Line{Where: path, Code: "water", Want: message("want.no-water"), Found: taken.message(units.Volume{}), Sources: []string{practice}}
	if taken.found() {
		l.is(Fail, "why.water/found")
	} else {
		l.is(Pass, "why.water/none")
	}
	r.say(l)
}

// wastes are those of the plan and, behind them, the water that was found where none was expected.
func (r *reviewer) wastes() []WasteLine {
	lines := slices.Clip(r.plan.Waste)
	for _, s := range r.plan.Stations {
		done, path := r.reading(s.Station.ID)
		if s.Station.Drain.hasWater() || done.Water == nil || !done.Water.found() {
			continue
		}
		lines = append(lines, waterLine(s.Station.ID, r.bracket(*done.Water), done.Water.At, path+".water", &r.errs))
	}
	return lines
}

func (r *reviewer) runUp(done StationDone, path string) {
	l := Line{Where: path + ".dragged", Code: "run-up", Want: message("want.run-up"), Sources: []string{practice}}
	r.seen(l, done.Dragged, "found.run-up", "why.run-up", Fail, Pass)
}

// seen judges what has to be written down as yes or no: found and why are codes with these two variants.
func (r *reviewer) seen(l Line, is *bool, found, why string, yes, no Verdict) {
	l.Needed = true
	if is != nil {
		verdict, variant := no, "/no"
		if *is {
			verdict, variant = yes, "/yes"
		}
		l.Found = message(found + variant)
		l.is(verdict, why+variant)
	}
	r.say(l)
}

func dragged(done StationDone) bool { return done.Dragged != nil && *done.Dragged }

// volume compares what came out with what the plan expects, as masses, so that neither
// temperature is lost: a litre of warm fuel is less than a litre of cold.
func (r *reviewer) volume(code, path string, taken *VolumeTaken, plan drain.Estimate[units.VolumeUnit], density func(units.Temperature) (units.Density, error)) {
	at := r.plan.Job.Fuel.MeasuredAt
	l := Line{Where: path, Code: code, Want: message("want.unknown"), Sources: []string{byDensity}}
	if given(plan) {
		l.Want = message("want.volume", "volume", plan, "at", at)
	}
	switch {
	case taken == nil:
	case !given(plan):
		l.Found = taken.message(units.Volume{})
		l.is(Undecided, "why.no-estimate")
	default:
		all, known := taken.bracket(r.plan.Job.Shop.JugDeviation)
		then, err := density(taken.At)
		r.errs.value(path+".at", err)
		planned, err := density(at)
		r.errs.value("fuel.measuredAt", err)
		weigh := func(v units.Volume, d units.Density) *big.Rat {
			x := v.RatIn(units.Litre)
			return x.Mul(x, d.RatIn(units.KilogramPerCubicMetre))
		}
		verdict, why := expected(weigh(all.Low, then), weigh(all.High, then), weigh(plan.Low, planned), weigh(plan.High, planned))
		l.Found = taken.message(r.plan.Job.Shop.JugDeviation)
		if !known {
			verdict = Undecided
			l.is(verdict, "why.jug-unknown")
		}
		l.is(verdict, why)
	}
	r.say(l)
}

// hot holds the temperature at which fuel was read against the flash point of its grade. It was no
// colder when it was caught. What was caught hot can't be uncaught, so that it keeps no job open.
func (r *reviewer) hot(path string, taken *VolumeTaken) {
	if taken == nil {
		return // its volume isn't recorded either, and a line says so
	}
	fuel := r.plan.Job.Fuel
	l := Line{Where: path, Code: "flash", Found: message("found.temperature", "at", taken.At), Sources: []string{fuel.FlashSource},
		Want: message("want.flash", "margin", hotMargin, "grade", fuel.Grade, "flash", fuel.LeastFlashPoint)}
	flash, err := drain.FlashGuard(fuel.LeastFlashPoint, taken.At, hotMargin)
	r.errs.value(path, err)
	switch flash.Guard {
	case drain.FlashClear:
		l.is(Pass, "why.flash/clear")
	case drain.FlashCaution:
		l.is(Undecided, "why.flash/near")
	default:
		l.is(Fail, "why.flash/above")
	}
	r.say(l)
}

// bracket is all that a volume may be. Of a figure whose error isn't known it is the figure.
func (r *reviewer) bracket(v VolumeTaken) drain.Estimate[units.VolumeUnit] {
	all, _ := v.bracket(r.plan.Job.Shop.JugDeviation)
	return all
}

// expected says how what was found, from low to high, lies to what was expected. It is a hint and
// no limit: the plan's figure may be the wrong one.
func expected(low, high, least, most *big.Rat) (Verdict, string) {
	switch {
	case low.Cmp(least) >= 0 && high.Cmp(most) <= 0:
		return Pass, "why.expected/within"
	case high.Cmp(least) < 0:
		return Fail, "why.expected/less"
	case low.Cmp(most) > 0:
		return Fail, "why.expected/more"
	}
	return Undecided, "why.expected/partly"
}

// leaks judges the joints of a station at each stage. That of the running engine is asked for where the
// rules say so; a leak that was seen counts whether it was asked for or not.
func (r *reviewer) leaks(done StationDone, path string) {
	for _, c := range []struct {
		stage string
		leak  *bool
		asked bool
	}{{"priming", done.Leaks.Priming, true}, {"running", done.Leaks.Running, r.rules.Needs.LeakRunning}, {"hot", done.Leaks.Hot, true}} {
		if c.leak == nil && !c.asked {
			continue
		}
		l := Line{Where: path + ".leaks." + c.stage, Code: "leak." + c.stage, Want: message("want.no-leak"), Sources: []string{practice}}
		r.seen(l, c.leak, "found.leak", "why.leak", Fail, Pass)
	}
}

// papers judges what the rules want written down of the job as a whole and of each new part. Another part
// than the job names is told of whether it was asked for or not.
func (r *reviewer) papers() {
	needs, done := r.rules.Needs, r.done
	doubt := ""
	if done.CheckedBy == done.By {
		doubt = "why.same-person"
	}
	r.paper(needs.Meter, "meter", "meter", done.Meter.message(), "")
	r.paper(needs.CheckedBy, "checkedBy", "checkedBy", noted(done.CheckedBy), doubt)
	for _, s := range r.plan.Job.Stations {
		done, path := r.reading(s.ID)
		other := done.Fitted.Part != "" && !strings.HasPrefix(s.Element.Part+" ", done.Fitted.Part+" ")
		if doubt = ""; other {
			doubt = "why.other-part"
		}
		r.paper(needs.Part || other, path+".fitted.part", "part", noted(done.Fitted.Part), doubt, "part", s.Element.Part)
		r.paper(needs.Batch, path+".fitted.batch", "batch", noted(done.Fitted.Batch), "")
	}
}

// noted is a text that was written down; the zero Message where none was.
func noted(text string) Message {
	return either(text == "", Message{}, message("found.text", "text", text))
}

// paper judges one thing that has to be written down; doubt is the reason why what was isn't enough, list are the values
// of what is wanted.
func (r *reviewer) paper(needed bool, where, code string, found Message, doubt string, list ...any) {
	if !needed {
		return
	}
	l := Line{Where: where, Code: "paper." + code, Needed: true, Found: found, Want: message("want.paper/"+code, list...), Sources: []string{agreed}}
	switch {
	case found.Code == "":
	case doubt != "":
		l.is(Undecided, doubt)
	default:
		l.is(Pass, "why.recorded")
	}
	if doubt == "why.other-part" {
		l.Sources = []string{theJob}
	}
	r.say(l)
}

// restored holds the isolation to be undone, last taken out first back.
func (r *reviewer) restored() {
	for _, step := range r.plan.Isolation.Back {
		where, back := "restored", (*bool)(nil)
		if i := slices.IndexFunc(r.done.Restored, func(b Restored) bool { return b.What == step.What }); i >= 0 {
			where, back = fmt.Sprintf("restored[%d]", i), &r.done.Restored[i].Restored
		}
		l := Line{Where: where, Code: "isolation", Want: message("want.back", "what", step.What), Sources: []string{theJob}}
		r.seen(l, back, "found.back", "why.back", Pass, Fail)
	}
}

// weights compares masses with masses and readings of a scale with readings of a scale.
func (r *reviewer) weights() {
	for _, plan := range r.wastes() {
		l := Line{Where: "weights", Code: "weight", Want: message("want.mass", "waste", plan.name(), "mass", plan.Mass), Sources: []string{likeWithLike}}
		if !given(plan.Mass) {
			l.Want = message("want.mass/unknown", "waste", plan.name())
		}
		at := slices.IndexFunc(r.done.Weights, func(w Weight) bool { return w.of(plan) })
		if at >= 0 {
			l.Where = fmt.Sprintf("weights[%d]", at)
			l.weigh(plan, r.done.Weights[at])
		}
		r.say(l)
	}
}

// weigh judges a weight by what the plan expects.
func (l *Line) weigh(plan WasteLine, w Weight) {
	switch {
	case given(w.Mass):
		l.Found = message("found.mass", "mass", w.Mass)
		l.is(expectedMass(w.Mass, plan.Mass))
	case given(w.Density):
		l.Found = message("found.scale/corrected", "mass", w.Scale, "density", w.Density)
		mass, _ := massFromScale(w.Scale, w.Density) // checked
		l.is(expectedMass(mass, plan.Mass))
	case plan.Scale != nil:
		if l.Found = message("found.scale", "mass", w.Scale); given(*plan.Scale) {
			l.Want = message("want.scale", "waste", plan.name(), "mass", *plan.Scale)
		}
		l.is(expectedMass(w.Scale, *plan.Scale))
	default:
		mass, _ := massOfAnything(w.Scale) // checked
		l.Found = message("found.scale/any", "mass", w.Scale, "low", lightest, "high", heaviest, "is", mass)
		if l.is(expectedMass(mass, plan.Mass)); l.Verdict == Undecided {
			l.is(Undecided, "why.lift-unknown")
		}
	}
}

// month says what the totals do to the month's generator category. It keeps no job open, and
// determines nothing: it says what would follow if all of it were determined hazardous.
func (r *reviewer) month(totals []WasteTotal) {
	planned := 0
	wastes := slices.Clone(r.wastes())
	for i, total := range totals {
		if wastes[i].Mass = total.Mass; total.Basis != NotStated {
			wastes[i].Unknown = nil
		}
		if total.Basis == AsPlanned {
			planned++
		}
	}
	c, ok := r.plan.monthWith(wastes)
	if !ok {
		return
	}
	rules, before, after := r.plan.WasteRules, c.before, c.after
	l := Line{Where: "totals", Code: "month.category"}
	if c.unknown != nil {
		l.Found, l.Want = message("found.month/unknown"), message("want.month/unknown", "rules", quoted(rules.Name), "as-of", rules.AsOf)
		l.is(Undecided, "why.month/unknown", "unknown", c.unknown)
		r.say(l)
		return
	}
	l.Found = message("found.month", "mass", c.total)
	l.Want = message("want.month", "category", quoted(before.Name), "rules", quoted(rules.Name), "as-of", rules.AsOf)
	l.Sources = cited(after.Source)
	if planned > 0 {
		l.is(Undecided, "why.month-planned"+either(planned == len(totals), "/all", ""), "planned", planned, "all", len(totals))
	}
	if after.Name == before.Name {
		l.is(Unchanged, "why.month/stays", "rules", quoted(rules.Name), "category", quoted(before.Name), "title", quoted(before.Title))
	} else {
		l.is(Undecided, "why.month/moves", "rules", quoted(rules.Name), "before", quoted(before.Name), "after", quoted(after.Name), "title", quoted(after.Title))
	}
	switch {
	case planned == len(totals):
		l.Verdict = NotRecorded
	case planned > 0:
		l.Verdict = Undecided
	}
	r.say(l)
}

// cited is a source of a rule set: where it is published, and how that is known.
func cited(s waste.Source) []string {
	return []string{quoted(s.Cite), map[string]string{"S": textSeen, "S2": copySeen, "D": byArithmetic, "M": fromMemory}[s.Grade]}
}

// quoted is a text of a rule set as a line of a record can hold it: in one line, and not long. The
// set itself is in the record as it is.
func quoted(text string) string {
	const most = 100
	text = plain.Clean(strings.ReplaceAll(strings.ToValidUTF8(text, "?"), "\uFFFD", "?"))
	if len(text) > most {
		return plain.Cut(text)
	}
	return text
}

func expectedMass(found, plan drain.Estimate[units.MassUnit]) (verdict Verdict, code string) {
	if !given(plan) {
		return Undecided, "why.no-estimate"
	}
	kg := func(m units.Mass) *big.Rat { return m.RatIn(units.Kilogram) }
	return expected(kg(found.Low), kg(found.High), kg(plan.Low), kg(plan.High))
}

// sameClocks reports whether two zones are known to mean the same clocks: one of them is none, both are
// written alike, or both are an offset of nothing. Others differ: that Europe/Vienna is +01:00 on some
// days takes a zone database, and a day without its hour can't be brought from one to the other by any.
func sameClocks(one, other waste.Zone) bool {
	zero := func(z waste.Zone) bool { return z == "UTC" || z == "+00:00" }
	return one == "" || other == "" || one == other || zero(one) && zero(other)
}
