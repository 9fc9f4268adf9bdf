package service

import (
	"fmt"
	"math/big"
	"slices"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// hotMargin is how near the flash point fuel is treated as if it were above it: 30 °F, the margin
// within which 29 CFR 1910.106(a)(19) treats a heated liquid as one of a lower flash point.
var hotMargin = units.FahrenheitDifference.Of(30)

var (
	nineTenths = big.NewRat(9, 10)
	tenth      = big.NewRat(1, 10)
	oneTurn    = turn.MustOf(1, 1)
)

// say adds a finding; words and values are as for [printer.words].
func (p *Plan) say(level Level, code, where, source, words string, values ...any) {
	f := Finding{Level: level, Code: code, Where: where, Source: source}
	f.Words, f.Values = p.Job.printer().words(words, values...)
	p.Findings = append(p.Findings, f)
}

// tell adds a finding on how a station is tightened: of the field there, or of all of it.
func (p *Plan) tell(level Level, code string, station int, field, source, words string, values ...any) {
	p.say(level, code, fmt.Sprintf("stations[%d].tighten%s", station, field), source, "Station {station}: "+words,
		append([]any{"station", p.Stations[station].Station.ID}, values...)...)
}

// find compares the figures of the plan with each other.
func (p *Plan) find() {
	p.flash()
	p.start()
	p.pan()
	p.drum()
	p.ice()
	p.month()
	for i := range p.Stations {
		p.station(i)
	}
}

// flash holds the fuel's temperatures against its flash point.
func (p *Plan) flash() {
	job, prefer := p.Job, p.Job.printer()
	for _, hot := range []struct {
		where string
		at    units.Temperature
		when  string
	}{{"fuel.caughtAt", job.Fuel.CaughtAt, "caught"}, {"fuel.measuredAt", job.Fuel.MeasuredAt, "measured"}} {
		at, least := prefer.temperature(hot.at, units.ToPositiveInf), prefer.temperature(job.Fuel.LeastFlashPoint, units.ToNegativeInf)
		flash, err := drain.FlashGuard(job.Fuel.LeastFlashPoint, hot.at, hotMargin)
		switch {
		case err != nil: // a margin and two scales that are what they are
			p.say(Stop, "fuel.flash-unknown", hot.where, "", "{problem}", "problem", numbers(err.Error()))
		case flash.Guard == drain.Stop:
			p.say(Stop, "fuel.above-flash-point", hot.where, job.Fuel.FlashSource,
				"The fuel is to be {when} at {at}; the least flash point of {grade} is {flash}. Let it cool before a housing is opened or fuel stands in an open pan.",
				"when", hot.when, "at", at, "grade", job.Fuel.Grade, "flash", least)
		case flash.Guard == drain.Caution:
			p.say(Warning, "fuel.near-flash-point", hot.where, "margin as in 29 CFR 1910.106(a)(19), copy seen; "+job.Fuel.FlashSource,
				"The fuel is to be {when} at {at}, within {margin} of the least flash point of {grade}, {flash}. Let it cool.",
				"when", hot.when, "at", at, "margin", numbers("30 °F (16.7 °C)"), "grade", job.Fuel.Grade, "flash", least)
		}
	}
}

// start holds what is isolated against what has to run while most of it still is: the lift pump at
// key-on, and the starter.
func (p *Plan) start() {
	for i, step := range p.Job.Isolate {
		if step.StopsStart && !step.ForPriming && step.ForStart == "" {
			p.say(Stop, "start.locked-out", fmt.Sprintf("isolate[%d]", i), practice,
				"Cranking is planned, and nobody can crank while {what} is out of service. Say how it comes back for the start, and in which state.", "what", step.What)
		}
	}
	if !slices.ContainsFunc(p.Job.Isolate, func(s Isolation) bool { return s.ForStart != "" }) {
		p.say(Stop, "start.not-stated", "isolate", practice,
			"Cranking is planned, and the job doesn't say how the engine can be started: what comes back for it, and in which state.")
	}
	if p.Job.Prime.Pump != nil && len(p.Isolation.Priming) == 0 {
		p.say(Caution, "prime.no-supply", "isolate", practice,
			"Key cycles are planned, and nothing that is isolated comes back for priming: see that the lift pump has its supply.")
	}
}

// pan tells where the catch pan is too small for a station, or for all of them.
func (p *Plan) pan() {
	prefer := p.Job.printer()
	pan := p.Job.Shop.PanHolds
	for i, s := range p.Stations {
		out := s.Out.Volume.High
		if w := s.Station.Drain.Water; w != nil {
			out, _ = out.Add(w.High)
		}
		if pan.Less(out) {
			p.say(Stop, "pan.too-small", fmt.Sprintf("stations[%d].drain", i), "",
				"Up to {out} may come out of station {station}; the pan holds {pan}. Take a larger one.",
				"out", prefer.outward(out), "station", s.Station.ID, "pan", prefer.aVolume(pan, units.ToNegativeInf))
		}
	}
	if all := p.allOut(); pan.Less(all) {
		p.say(Caution, "pan.fills", "stations", "",
			"Up to {out} may come out in all; the pan holds {pan}. Empty it between stations.",
			"out", prefer.outward(all), "pan", prefer.aVolume(pan, units.ToNegativeInf))
	}
}

// drum tells where the drained fuel may not go into the job's drum. What comes out is brought to the
// temperature at which the drum is filled: a warm litre leaves room, a cold one takes more.
func (p *Plan) drum() {
	job, prefer := p.Job, p.Job.printer()
	if job.Waste.Drum == nil {
		return
	}
	var own []waste.RuleSet
	if p.WasteRules != nil {
		own = append(own, *p.WasteRules)
	}
	drum, source, _ := job.drum(own) // checked
	fuel := job.Fuel.measured()
	out, err := fuel.VolumeOf(p.FuelOut.Volume, drain.VolumeAt{Temperature: fuel.at, Base: job.Waste.Drum.FilledAt})
	var takes drain.Answer
	if err == nil {
		takes, err = drum.Takes(out)
	}
	if err != nil || takes != drain.Yes {
		level, may := Caution, "may pass"
		if takes == drain.No {
			level, may = Stop, "would pass"
		}
		p.say(level, "drum.over-limit", "waste.drum", source.String(),
			"The drained fuel {may} the drum's fill limit, {limit} of {capacity}, beyond which warmth can make it liquid-full. Have another drum at hand.",
			"may", may, "limit", prefer.inward(drum.Limit, job.Waste.Drum.Capacity.Unit()), "capacity", prefer.aVolume(job.Waste.Drum.Capacity, units.ToNegativeInf))
	}
}

// ice tells where water is to be measured below its freezing point.
func (p *Plan) ice() {
	at := p.Job.Fuel.MeasuredAt
	if !at.Less(freezing) {
		return
	}
	for i, s := range p.Job.Stations {
		if s.Drain.Water != nil {
			p.say(Caution, "water.frozen", fmt.Sprintf("stations[%d].drain.water", i), practice,
				"The water of station {station} is to be measured at {at}, where water freezes: ice blocks a drain and damages what it forms in. Let the filter warm up first, by the manufacturer's instructions. The water is counted as it is at {freezing}.",
				"station", s.ID, "at", p.Job.printer().temperature(at, units.ToNearestEven), "freezing", p.Job.printer().temperature(freezing, units.ToNearestEven))
		}
	}
}

var freezing = units.Celsius.Of(0)

// thawed is a temperature at which water is liquid: the nearest to one that is colder.
func thawed(at units.Temperature) units.Temperature {
	if at.Less(freezing) {
		return freezing
	}
	return at
}

// waterDensity is that of water at a temperature, and below 0 °C that at 0 °C.
func waterDensity(at units.Temperature) (units.Density, error) {
	return drain.WaterDensityAt(thawed(at))
}

// station tells what to know of one station before it is tightened.
func (p *Plan) station(i int) {
	s := p.Stations[i]
	path := fmt.Sprintf("stations[%d]", i)
	p.thread(s.Station, path+".tighten")
	s.way().find(p, i)
	if s.Station.Fill == Prefill && p.Job.Prime.Pump != nil {
		p.say(Caution, "fill.with-lift-pump", path+".fill", practice,
			"Station {station} is filled before it is fitted although a lift pump primes the system. Many makers forbid that: what is poured in past the element is not filtered. Ask the maker's instruction.",
			"station", s.Station.ID)
	}
}

// allOut is the most that can stand in the pan.
func (p *Plan) allOut() units.Volume {
	all := p.FuelOut.Volume.High
	for _, s := range p.Stations {
		if w := s.Station.Drain.Water; w != nil {
			all, _ = all.Add(w.High)
		}
	}
	return all
}

// monthWith is what the month comes to with more waste, should all of it be determined hazardous,
// and the categories before and after; ok only where the job counts a month by categories.
func (p *Plan) monthWith(more []Masses) (total Masses, before, after waste.Category, ok bool) {
	m, rules := p.Job.Waste.Month, p.WasteRules
	if m == nil || len(rules.Categories) == 0 {
		return
	}
	total, err := drain.Total(units.Kilogram, append([]Masses{m.SoFar}, more...)...)
	if err != nil {
		return // each was checked
	}
	if before, err = rules.CategoryOf(m.SoFar.Low); err != nil {
		return
	}
	after, err = rules.CategoryOf(total.High)
	return total, before, after, err == nil
}

// month tells where this job's waste, should all of it be determined hazardous, may bring the
// site into another generator category.
func (p *Plan) month() {
	more := make([]Masses, len(p.Waste))
	for i, w := range p.Waste {
		more[i] = w.Mass
	}
	total, before, after, ok := p.monthWith(more)
	if !ok || before.Name == after.Name {
		return
	}
	p.say(Caution, "month.category", "waste.month", after.Source.String(),
		"With this job the month may come to {mass}. By what is entered here, under {rules}, the site may move from {before} to {after} if all of it is determined hazardous. The {caution}.",
		"mass", p.Job.printer().month(total.High), "before", before.Name, "after", after.Name, "rules", p.WasteRules.Name, "caution", waste.Caution)
}

// thread holds the new canister against the stud on the head.
func (p *Plan) thread(s Station, path string) {
	for _, th := range []*turn.Thread{s.Tighten.Stud, s.Tighten.Canister} {
		if th != nil && th.Note() != "" {
			p.say(Note, "thread.misnamed", path, "ASME B1.1, from memory", "Station {station}: {note}.", "station", s.ID, "note", th.Note())
		}
	}
	if s.Tighten.Stud == nil || s.Tighten.Canister == nil {
		return
	}
	if fit := s.Tighten.Canister.On(*s.Tighten.Stud); fit != turn.Fits {
		p.say(Stop, "thread.mismatch", path+".canister", practice,
			"Station {station}: a canister of {canister} on a stud of {stud}: {fit}. Get the right one.",
			"station", s.ID, "canister", s.Tighten.Canister, "stud", s.Tighten.Stud, "fit", fit)
	}
}
