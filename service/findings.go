package service

import (
	"cmp"
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

const marginSource = "29 CFR 1910.106(a)(19)" // copy seen

var (
	nineTenths = big.NewRat(9, 10)
	oneTurn    = turn.MustOf(1, 1)
)

// say adds a finding; code and list are as for [writer.add].
func (p *Plan) say(level Level, code, where string, sources []string, list ...any) {
	p.Findings = append(p.Findings, Finding{Message: message(code, list...), Level: level, Where: where, Sources: sources})
}

// tell adds a finding on how a station is tightened: of the field there, or of all of it.
func (p *Plan) tell(level Level, code string, station int, field string, sources []string, list ...any) {
	p.say(level, code, fmt.Sprintf("stations[%d].tighten%s", station, field), sources,
		append([]any{"station", p.Stations[station].Station.ID}, list...)...)
}

// by are the sources of a finding or a line.
func by(sources ...string) []string { return sources }

// find compares the figures of the plan with each other.
func (p *Plan) find() {
	p.flash()
	p.start()
	p.pan()
	p.drum()
	p.ice()
	p.month()
	p.wordy()
	for i := range p.Stations {
		p.station(i)
	}
}

// flash holds the fuel's temperatures against its flash point.
func (p *Plan) flash() {
	job := p.Job
	for _, hot := range []struct {
		where string
		at    units.Temperature
		when  string
	}{{"fuel.caughtAt", job.Fuel.CaughtAt, "caught"}, {"fuel.measuredAt", job.Fuel.MeasuredAt, "measured"}} {
		at, least := up(hot.at), down(job.Fuel.LeastFlashPoint)
		flash, _ := drain.FlashGuard(job.Fuel.LeastFlashPoint, hot.at, hotMargin) // a margin, and two temperatures that were read
		switch flash.Guard {
		case drain.FlashStop:
			p.say(Stop, "fuel.above-flash-point/"+hot.when, hot.where, by(job.Fuel.FlashSource), "at", at, "grade", job.Fuel.Grade, "flash", least)
		case drain.FlashCaution:
			p.say(Warning, "fuel.near-flash-point/"+hot.when, hot.where, by(marginSource, job.Fuel.FlashSource),
				"at", at, "margin", hotMargin, "grade", job.Fuel.Grade, "flash", least)
		}
	}
}

// start holds what is isolated against what has to run while most of it still is: the lift pump at
// key-on, and the starter.
func (p *Plan) start() {
	for i, step := range p.Job.Isolate {
		if step.StopsStart && !step.ForPriming && step.ForStart == "" {
			p.say(Stop, "start.locked-out", fmt.Sprintf("isolate[%d]", i), by(practice), "what", step.What)
		}
	}
	if !slices.ContainsFunc(p.Job.Isolate, func(s Isolation) bool { return s.ForStart != "" }) {
		p.say(Stop, "start.not-stated", "isolate", by(practice))
	}
	if p.Job.Prime.Pump != nil && len(p.Isolation.Priming) == 0 {
		p.say(Caution, "prime.no-supply", "isolate", by(practice))
	}
}

// pan says where the catch pan is too small for a station, or for all of them.
func (p *Plan) pan() {
	pan := p.Job.Shop.PanHolds
	all, known := p.FuelOut.Volume.High, true
	for i, s := range p.Stations {
		path := fmt.Sprintf("stations[%d].drain", i)
		if unknown := s.Station.Drain.panUnknown(path); unknown != nil {
			p.say(Caution, "pan.unknown", path, nil, "station", s.Station.ID, "pan", down(pan), "unknown", unknown)
			known = false
			continue
		}
		out := s.Out.Volume.High
		if w := s.Station.Drain.Water; given(w) {
			out, _ = out.Add(w.High)
			all, _ = all.Add(w.High)
		}
		if pan.Less(out) {
			p.say(Stop, "pan.too-small", path, nil, "out", computed(up(out)), "station", s.Station.ID, "pan", down(pan))
		}
	}
	if known && pan.Less(all) {
		p.say(Caution, "pan.fills", "stations", nil, "out", computed(up(all)), "pan", down(pan))
	}
}

// drum says where the drained fuel may not go into the job's drum. What comes out is brought to the
// temperature at which the drum is filled: a warm litre leaves room, a cold one takes more.
func (p *Plan) drum() {
	job := p.Job
	if job.Waste.Drum == nil {
		return
	}
	var own []waste.RuleSet
	if p.WasteRules != nil {
		own = append(own, *p.WasteRules)
	}
	drum, source, _ := job.drum(p.fuel.Fuel, own) // checked
	unknown := p.FuelOut.Unknown
	if !given(job.Waste.Drum.Inside) {
		unknown = with(unknown, "waste.drum.inside")
	}
	if unknown != nil {
		p.say(Caution, "drum.unknown", "waste.drum", cited(source), "limit", computed(down(drum.Limit)), "capacity", down(job.Waste.Drum.Capacity), "unknown", unknown)
		return
	}
	out, err := p.fuel.VolumeOf(p.FuelOut.Volume, drain.VolumeAt{Temperature: p.fuel.at, Base: job.Waste.Drum.FilledAt})
	var takes drain.Answer
	if err == nil {
		takes, err = drum.Takes(out)
	}
	if err != nil || takes != drain.Yes {
		level, code := Caution, "drum.over-limit/may"
		if takes == drain.No {
			level, code = Stop, "drum.over-limit"
		}
		p.say(level, code, "waste.drum", cited(source), "limit", computed(down(drum.Limit)), "capacity", down(job.Waste.Drum.Capacity))
	}
}

// ice says where water is to be measured below its freezing point.
func (p *Plan) ice() {
	at := p.Job.Fuel.MeasuredAt
	if !at.Less(freezing) {
		return
	}
	for i, s := range p.Job.Stations {
		if s.Drain.hasWater() {
			p.say(Caution, "water.frozen", fmt.Sprintf("stations[%d].drain.water", i), by(practice), "station", s.ID, "at", at, "freezing", freezing)
		}
	}
}

var freezing = units.Celsius.Of(0)

// thawed is a temperature at which water is liquid: the nearest to one that is colder.
func thawed(at units.Temperature) units.Temperature {
	return either(at.Less(freezing), freezing, at)
}

// massOfWater is its mass by the volume that it has at a temperature, and below 0 °C by that at 0 °C.
func massOfWater(v drain.Estimate[units.VolumeUnit], at units.Temperature) (drain.Estimate[units.MassUnit], error) {
	return drain.WaterMass(v, thawed(at))
}

// waterDensity is that of water at a temperature, and below 0 °C that at 0 °C.
func waterDensity(at units.Temperature) (units.Density, error) {
	return drain.WaterDensityAt(thawed(at))
}

// station says what to know of one station before it is tightened.
func (p *Plan) station(i int) {
	s := p.Stations[i]
	path := fmt.Sprintf("stations[%d]", i)
	p.thread(s.Station, path+".tighten")
	s.way().find(p, i)
	if s.Station.Fill == FitFilled && p.Job.Prime.Pump != nil {
		p.say(Caution, "fill.with-lift-pump", path+".fill", by(practice), "station", s.Station.ID)
	}
}

// monthly is what a month comes to, should all of its waste be determined hazardous, and the categories before and after.
type monthly struct {
	total         drain.Estimate[units.MassUnit]
	before, after waste.Category
	unknown       []string // what they would need and the job leaves out; nil where they are known
}

// monthWith counts the month with the waste of a job; ok only where that counts one by categories.
func (p *Plan) monthWith(wastes []WasteLine) (c monthly, ok bool) {
	m, rules := p.Job.Waste.Month, p.WasteRules
	if m == nil || len(rules.Categories) == 0 {
		return c, false
	}
	masses := []drain.Estimate[units.MassUnit]{m.SoFar}
	for _, w := range wastes {
		masses = append(masses, w.Mass)
		c.unknown = with(c.unknown, w.Unknown...)
	}
	if !given(m.SoFar) {
		c.unknown = with(c.unknown, "waste.month.soFar")
	}
	if c.unknown != nil {
		return c, true
	}
	var errs [3]error
	c.total, errs[0] = drain.Sum(units.Kilogram, masses...)
	c.before, errs[1] = rules.CategoryOf(m.SoFar.Low)
	c.after, errs[2] = rules.CategoryOf(c.total.High)
	return c, cmp.Or(errs[:]...) == nil
}

// month says where this job's waste, should all of it be determined hazardous, may bring the
// site into another generator category.
func (p *Plan) month() {
	switch c, ok := p.monthWith(p.Waste); {
	case !ok:
	case c.unknown != nil:
		p.say(Caution, "month.unknown", "waste.month", nil, "rules", p.WasteRules.Name, "unknown", c.unknown)
	case c.before.Name != c.after.Name:
		p.say(Caution, "month.category", "waste.month", cited(c.after.Source),
			"mass", computed(up(c.total.High)), "before", c.before.Name, "after", c.after.Name, "rules", p.WasteRules.Name)
	}
}

// thread holds the new canister against the stud on the head.
func (p *Plan) thread(s Station, path string) {
	for _, th := range []turn.Thread{s.Tighten.Stud, s.Tighten.Canister} {
		if given(th) && th.Misnamed() != "" {
			p.say(Note, "thread.misnamed", path, by("ASME B1.1", fromMemory), "station", s.ID, "thread", th, "written", th.Misnamed())
		}
	}
	if !given(s.Tighten.Stud) || !given(s.Tighten.Canister) {
		return
	}
	if fit := s.Tighten.Canister.On(s.Tighten.Stud); fit != turn.Fits {
		p.say(Stop, "thread.mismatch/"+variantOf(fit), path+".canister", by(practice), "station", s.ID, "canister", s.Tighten.Canister, "stud", s.Tighten.Stud)
	}
}
