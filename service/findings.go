package service

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
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

// find compares the figures of the plan with each other.
func (p *Plan) find() {
	say := func(level Level, code, where, source, format string, args ...any) {
		p.Findings = append(p.Findings, Finding{level, code, where, fmt.Sprintf(format, args...), source})
	}
	job := p.Job
	for _, hot := range []struct {
		where string
		at    units.Temperature
		when  string
	}{{"fuel.caughtAt", job.Fuel.CaughtAt, "caught"}, {"fuel.measuredAt", job.Fuel.MeasuredAt, "measured"}} {
		flash, err := drain.FlashGuard(job.Fuel.LeastFlashPoint, hot.at, hotMargin)
		switch {
		case err != nil: // a margin and two scales that are what they are
			say(Stop, "fuel.flash-unknown", hot.where, "", "%v", err)
		case flash.Guard == drain.Stop:
			say(Stop, "fuel.above-flash-point", hot.where, job.Fuel.FlashSource,
				"The fuel is to be %s at %v; the least flash point of %s is %v. Let it cool before a housing is opened or fuel stands in an open pan.",
				hot.when, hot.at, job.Fuel.Grade, job.Fuel.LeastFlashPoint)
		case flash.Guard == drain.Caution:
			say(Caution, "fuel.near-flash-point", hot.where, "margin as in 29 CFR 1910.106(a)(19); "+job.Fuel.FlashSource,
				"The fuel is to be %s at %v, less than 30 °F (16.7 °C) below the least flash point of %s, %v. Let it cool.",
				hot.when, hot.at, job.Fuel.Grade, job.Fuel.LeastFlashPoint)
		}
	}
	pan := job.Shop.PanHolds
	for i, s := range p.Stations {
		out := s.Out.Volume.High
		if w := s.Station.Drain.Water; w != nil {
			out, _ = out.Add(w.High)
		}
		if pan.Less(out) {
			say(Stop, "pan.too-small", fmt.Sprintf("stations[%d].drain", i), "",
				"Up to %s may come out of station %s; the pan holds %v. Take a larger one.",
				outward(out), s.Station.ID, pan)
		}
	}
	if all := p.allOut(); pan.Less(all) {
		say(Caution, "pan.fills", "stations", "",
			"Up to %s may come out in all; the pan holds %v. Empty it between stations.", outward(all), pan)
	}
	if job.Waste.Drum != nil {
		drum, _ := job.drum() // checked
		if takes, err := drum.Takes(p.FuelOut.Volume); err != nil || takes != drain.Yes {
			level, may := Caution, "may pass"
			if takes == drain.No {
				level, may = Stop, "would pass"
			}
			say(level, "drum.over-limit", "waste.drum", "ADR 4.1.1.4 (b)",
				"The drained fuel %s the drum's fill limit, %v of %v, beyond which warmth can make it liquid-full. Have another drum at hand.",
				may, drum.Limit.RoundIn(job.Waste.Drum.Capacity.Unit(), 1, units.ToNegativeInf), job.Waste.Drum.Capacity)
		}
	}
	p.month()
	for i, s := range p.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		if text := s.Station.Tighten.Printed; text != "" {
			print, _ := torque.ReadPrint(text) // checked
			if found := print.Check(); found.Verdict == torque.SharesThirdUnit {
				say(Note, "torque.third-unit", path+".tighten.printed", "16 CFR 1211.3",
					"The two units of %q were rounded from a third: %v. The first stated governs.", units.Cut(text), found)
			}
		}
		p.thread(s.Station, path+".tighten")
		p.toTolerance(i)
		if s.Station.Fill == Prefill && job.Prime.Pump != nil {
			say(Caution, "fill.with-lift-pump", path+".fill", "common practice, no source",
				"Station %s is filled before it is fitted although a lift pump primes the system. Many makers forbid that: what is poured in past the element is not filtered. Ask the maker's instruction.", s.Station.ID)
		}
		if s.Turn != nil && s.Station.Tighten.Marks == nil {
			say(Note, "turn.no-marks", path+".tighten", "common practice, no source",
				"Station %s has no printed marks. At gasket contact draw one line across canister and head, then count from it.", s.Station.ID)
		}
		p.ring(i)
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

// ruleSet finds a rule set by its name, among those given and then in package waste.
func ruleSet(name string, given []waste.RuleSet) (waste.RuleSet, error) {
	var names []string
	for _, r := range append(slices.Clip(given), waste.USFederal(), waste.EuropeanList()) {
		if r.Name == name {
			return r, r.Check()
		}
		names = append(names, r.Name)
	}
	return waste.RuleSet{}, units.NewParseError("rule set", name, 0, "not known here", strings.Join(names, " or "), units.ErrSyntax)
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
	p.Findings = append(p.Findings, Finding{Caution, "month.category", "waste.month",
		fmt.Sprintf("With this job the month may come to %v. If all of it is determined hazardous, the site may move from %s to %s under the rules named %s. The %s.",
			total.High.RoundIn(units.Kilogram, 1, units.ToPositiveInf), before.Name, after.Name, p.WasteRules.Name, waste.Caution),
		after.Source.String()})
}

// thread holds the new canister against the stud on the head.
func (p *Plan) thread(s Station, path string) {
	for _, th := range []*turn.Thread{s.Tighten.Stud, s.Tighten.Canister} {
		if th != nil && th.Note() != "" {
			p.Findings = append(p.Findings, Finding{Note, "thread.misnamed", path, fmt.Sprintf("Station %s: %s.", s.ID, th.Note()), "ASME B1.1"})
		}
	}
	if s.Tighten.Stud == nil || s.Tighten.Canister == nil {
		return
	}
	if fit := s.Tighten.Canister.On(*s.Tighten.Stud); fit != turn.Fits {
		p.Findings = append(p.Findings, Finding{Stop, "thread.mismatch", path + ".canister",
			fmt.Sprintf("Station %s: a canister of %v on a stud of %v: %v. Get the right one.", s.ID, s.Tighten.Canister, s.Tighten.Stud, fit),
			"common practice, no source"})
	}
}
