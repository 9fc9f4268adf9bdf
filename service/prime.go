package service

import (
	"fmt"
	"slices"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/clock"
	"example.com/snugturn/units"
)

// PrimePlan says how many cycles or strokes fill the void, and what the starter may do.
type PrimePlan struct {
	Cycles  *Counts           // key-on cycles of the lift pump; nil without one, and where they are unknown
	Strokes *Counts           // of the hand primer; nil without one, and where they are unknown
	Unknown []string          // what they would need and the job leaves out, as for FuelOut
	Crank   []drain.CrankStep // the attempts, with rests between, cumulative
}

// Counts is a whole number as a range: least where everything goes well, most where nothing does.
type Counts struct{ Least, Best, Most int }

// String is "3" or "3 (2 to 5)".
func (c Counts) String() string {
	if c.Least == c.Most {
		return fmt.Sprint(c.Best)
	}
	return fmt.Sprintf("%d (%d to %d)", c.Best, c.Least, c.Most)
}

// maxCrank bounds one attempt to start: no starter lasts that long, so more is in a wrong unit.
const maxCrank = 5 * time.Minute

func (p Prime) check(path string, errs *JobErrors) {
	checkStated(path+".void", p.Void, errs)
	errs.when(p.Pump == nil && p.HandPrimer == nil, path, "no pump to prime with", "pump or handPrimer", errMissingField)
	try := func(path string, err func() error) {
		if !errs.faulty(path) {
			errs.value(path, err())
		}
	}
	if p.Pump != nil {
		checkShare(path+".pump.efficiency", p.Pump.Efficiency, errs)
		checkTime(path+".pump.onTime", p.Pump.OnTime, time.Hour, errs)
	}
	if p.HandPrimer != nil {
		checkShare(path+".handPrimer.efficiency", p.HandPrimer.Efficiency, errs)
	}
	if !errs.faulty(path + ".void") {
		try(path+".pump", func() error { _, _, err := p.cycles(path); return err })
		try(path+".handPrimer", func() error { _, _, err := p.strokes(path); return err })
	}
	checkTime(path+".crank.limit", p.Crank.Limit, maxCrank, errs)
	checkTime(path+".crank.rest", p.Crank.Rest, clock.Day, errs)
	try(path+".crank", func() error { _, err := p.Crank.Plan(); return err })
}

// checkTime refuses what is no time above zero, or longer than such a thing ever takes.
func checkTime(path string, d drain.Duration, most time.Duration, errs *JobErrors) {
	errs.when(d <= 0 || time.Duration(d) > most, path, d.String(), "more than 0 s and at most "+drain.Duration(most).String(), units.ErrRange)
}

// prime works out how often the pump runs, or is worked, and how long the starter may turn.
func (p *Plan) prime(errs *JobErrors) {
	prime := p.Job.Prime
	steps, err := prime.Crank.Plan()
	errs.value("prime.crank", err)
	p.Prime.Crank = steps
	p.Prime.Cycles, p.Prime.Unknown, err = prime.cycles("prime")
	errs.value("prime.pump", err)
	strokes, unknown, err := prime.strokes("prime")
	errs.value("prime.handPrimer", err)
	p.Prime.Strokes, p.Prime.Unknown = strokes, with(p.Prime.Unknown, unknown...)
}

// cycles are those of the lift pump, nil without one, or what they would need and the job leaves out.
func (p Prime) cycles(path string) (c *Counts, unknown []string, err error) {
	if p.Pump == nil {
		return nil, nil, nil
	}
	if unknown = lacking(field{path + ".void", given(p.Void)}, field{path + ".pump.flow", given(p.Pump.Flow)}); unknown != nil {
		return nil, unknown, nil
	}
	least, best, most, err := drain.KeyCycles(p.Void, p.Pump.Flow, time.Duration(p.Pump.OnTime), p.Pump.Efficiency)
	return &Counts{least, best, most}, nil, err
}

// strokes are the same for the hand primer.
func (p Prime) strokes(path string) (c *Counts, unknown []string, err error) {
	if p.HandPrimer == nil {
		return nil, nil, nil
	}
	if unknown = lacking(field{path + ".void", given(p.Void)}, field{path + ".handPrimer.stroke", given(p.HandPrimer.Stroke)}); unknown != nil {
		return nil, unknown, nil
	}
	least, best, most, err := drain.HandStrokes(p.Void, p.HandPrimer.Stroke, p.HandPrimer.Efficiency)
	return &Counts{least, best, most}, nil, err
}

func (w *writer) priming(p *Plan) {
	prime := p.Job.Prime
	w.section("prime")
	if prime.Pump != nil { // a hand primer needs nothing of it
		for _, step := range p.Isolation.Priming {
			w.backAs(step, "prime.restore")
		}
	}
	if slices.ContainsFunc(p.Isolation.Out, func(s Isolated) bool { return !s.ForPriming || prime.Pump == nil }) {
		w.know("prime.rest-isolated")
	}
	w.warn(Warning, "prime.no-cracking")
	w.do("prime.open")
	if given(prime.Void) {
		w.why("prime.void", "volume", prime.Void)
	} else {
		w.why("prime.void/unknown", "unknown", []string{"prime.void"})
	}
	w.cycles(prime, p.Prime.Cycles)
	if prime.HandPrimer != nil && prime.Pump != nil {
		w.know("prime.either")
	}
	w.strokes(prime, p.Prime.Strokes)
	w.why("prime.look-for", "causes", causes())
	w.do("prime.leaks")
}

// cycles are those of the lift pump, where there is one.
func (w *writer) cycles(prime Prime, c *Counts) {
	switch {
	case prime.Pump == nil:
		return
	case c == nil:
		_, unknown, _ := prime.cycles("prime")
		w.do("prime.cycles/unknown", "time", prime.Pump.OnTime, "unknown", unknown)
		w.blank("record.cycles")
		return
	}
	w.do("prime.cycles", "time", prime.Pump.OnTime, "times", c.Best)
	w.blank("record.cycles")
	w.tell("prime.cycles-most", "most", c.Most)
	w.why("prime.cycles-from", "times", *c, "low", prime.Pump.Flow.Low, "high", prime.Pump.Flow.High, "share", prime.Pump.Efficiency)
}

// strokes are those of the hand primer, where there is one.
func (w *writer) strokes(prime Prime, c *Counts) {
	switch {
	case prime.HandPrimer == nil:
		return
	case c == nil:
		_, unknown, _ := prime.strokes("prime")
		w.do("prime.strokes/unknown", "unknown", unknown)
		w.blank("record.strokes")
		return
	}
	w.do("prime.strokes", "strokes", c.Best)
	w.blank("record.strokes")
	w.tell("prime.strokes-most", "most", c.Most)
	w.why("prime.strokes-from", "strokes", *c, "low", down(prime.HandPrimer.Stroke.Low),
		"high", up(prime.HandPrimer.Stroke.High), "share", prime.HandPrimer.Efficiency)
}

// running is the start, and what is done while the engine runs.
func (w *writer) running(p *Plan) {
	prime := p.Job.Prime
	w.section("run")
	w.do("run.clear")
	if prime.Pump == nil {
		for _, step := range p.Isolation.Priming {
			w.backAs(step, "run.restore")
		}
	}
	for _, step := range p.Isolation.Starting {
		w.backAs(step, "run.restore")
	}
	w.do("prime.crank", "time", prime.Crank.Limit, "rest", prime.Crank.Rest, "attempts", prime.Crank.Attempts)
	w.blank("record.crank")
	last := drain.CrankStep{}
	if n := len(p.Prime.Crank); n > 0 { // as in every plan that NewPlan made
		last = p.Prime.Crank[n-1]
	}
	w.why("prime.crank-total", "cranked", drain.Duration(last.Cranked), "elapsed", drain.Duration(last.Elapsed))
	w.do("run.idle")
}

// backAs is a step that comes back before all else does, with the state where the job says one.
func (w *writer) backAs(step Isolated, code string) {
	if step.ForStart == "" {
		w.lettered(step, code, "what", step.What)
	} else {
		w.lettered(step, code+"/state", "what", step.What, "state", step.ForStart)
	}
}

// causes are those of a system that doesn't prime.
func causes() (all []Word) {
	for _, cause := range drain.PrimingChecklist() {
		all = append(all, Word(cause))
	}
	return all
}

func (r *reviewer) priming() {
	prime := r.plan.Job.Prime
	if prime.Pump != nil {
		cycles, unknown, _ := prime.cycles("prime") // planned
		r.count("keyCycles", "key-cycles", r.done.KeyCycles, cycles, unknown)
	}
	if prime.HandPrimer != nil {
		strokes, unknown, _ := prime.strokes("prime")
		r.count("strokes", "strokes", r.done.Strokes, strokes, unknown)
	}
	limits := r.plan.Job.Prime.Crank
	l := Line{Where: "cranks", Code: "crank.attempts", Want: message("want.most", "most", limits.Attempts), Sources: []string{theJob}}
	if n := len(r.done.Cranks); n > 0 {
		l.Found = message("found.count", "count", n)
		l.limit(n <= limits.Attempts, "why.crank/often", "why.find-cause")
	}
	r.say(l)
	for i, c := range r.done.Cranks {
		path := fmt.Sprintf("cranks[%d]", i)
		r.crank(path+".crank", "time", message("want.most", "most", limits.Limit), &c.Crank, c.Crank <= limits.Limit, "why.crank/long", "why.find-cause")
		if i > 0 {
			r.crank(path+".rest", "rest", message("want.least", "least", limits.Rest), c.Rest, c.Rest != nil && *c.Rest >= limits.Rest, "why.crank/rest", "why.look-at-starter")
		}
	}
}

// crank isn't needed for the job to be complete: a starter that was run too long can't be unrun.
func (r *reviewer) crank(where, code string, want Message, read *drain.Duration, ok bool, otherwise, advice string) {
	l := Line{Where: where, Code: "crank." + code, Want: want, Sources: []string{theJob}}
	if read != nil {
		l.Found = message("found.time", "time", *read)
		l.limit(ok, otherwise, advice)
	}
	r.say(l)
}

// limit is a pass within a limit of the starter, and otherwise the code of what was wrong, with an advice.
func (l *Line) limit(within bool, otherwise, advice string) {
	if within {
		l.is(Pass, "why.within-limit")
		return
	}
	l.is(Fail, otherwise)
	l.is(Fail, advice)
}

// count compares a number of cycles or strokes with the computed one, if there is one.
func (r *reviewer) count(path, code string, n *int, plan *Counts, unknown []string) {
	l := Line{Where: path, Code: code, Want: message("want.unknown"), Sources: []string{byVoid}}
	if plan != nil {
		l.Want = message("want.count", "least", plan.Least, "most", plan.Most)
	}
	if n != nil {
		l.Found = message("found.count", "count", *n)
	}
	switch {
	case n == nil:
	case plan == nil:
		l.is(Undecided, "why.count/unknown", "unknown", unknown)
	case *n > plan.Most:
		l.is(Fail, "why.count/more")
		l.is(Fail, "why.look-for", "causes", causes())
	case *n < plan.Least:
		l.is(Undecided, "why.count/less")
	default:
		l.is(Pass, "why.count/within")
	}
	r.say(l)
}
