package service

import (
	"math/big"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// NextService says when the next service is due, counted from the day of this one.
type NextService struct {
	Date          waste.Date   // the earlier of the two that follow; zero where neither is known
	ByCalendar    *waste.Date  // nil where no months are stated
	ByUse         *waste.Date  // by hours or by distance, whichever is earlier; nil without recent use to forecast from
	AfterHours    int          // on the meter from now; 0 where no hours are stated
	AfterDistance units.Length // on the meter from now; zero where no distance is stated
}

var (
	mostDistance        = units.Kilometre.Of(10_000_000)
	mostDistancePerWeek = units.Kilometre.Of(100_000)
)

func (n Interval) check(path string, errs *JobErrors) {
	for _, f := range []struct {
		name string
		far  units.Length
		most units.Length
	}{{"distance", n.Distance, mostDistance}, {"distancePerWeek", n.DistancePerWeek, mostDistancePerWeek}} {
		bad := given(f.far) && (!f.far.Valid() || f.far.Sign() <= 0 || f.most.Less(f.far))
		errs.when(bad, path+"."+f.name, f.far.String(), "more than zero, at most "+f.most.String(), units.ErrRange)
	}
	errs.when(n.Hours == 0 && n.Months == 0 && !given(n.Distance), path, "neither hours nor distance nor months", "at least one of them", errMissingField)
}

// due forecasts in whole days, the last day on which the interval still holds.
func (p *Plan) due() {
	n := p.Job.Interval
	if n == nil {
		return
	}
	due := NextService{AfterHours: n.Hours, AfterDistance: n.Distance}
	earlier := func(of **waste.Date, d waste.Date) {
		if *of == nil || d.Compare(**of) < 0 {
			*of = &d
		}
		if !given(due.Date) || d.Compare(due.Date) < 0 {
			due.Date = d
		}
	}
	if n.Months > 0 {
		earlier(&due.ByCalendar, p.Job.Date.AddMonths(n.Months))
	}
	if n.Hours > 0 && n.HoursPerWeek > 0 {
		earlier(&due.ByUse, p.Job.Date.AddDays(n.Hours*7/n.HoursPerWeek))
	}
	if given(n.Distance) && given(n.DistancePerWeek) {
		if days, ok := wholeDays(n.Distance, n.DistancePerWeek); ok {
			earlier(&due.ByUse, p.Job.Date.AddDays(days))
		}
	}
	p.Due = &due
}

// wholeDays is how many days a distance lasts, and whether that is less than three centuries: a
// machine that moves less is forecast by nothing.
func wholeDays(far, perWeek units.Length) (int, bool) {
	weeks := far.Ratio(perWeek)
	days := weeks.Mul(weeks, big.NewRat(7, 1))
	whole := new(big.Int).Quo(days.Num(), days.Denom())
	const most = 300 * 365
	return int(whole.Int64()), whole.IsInt64() && whole.Int64() <= most
}

// renewed are the parts that a station uses up: its element, and every seal that doesn't come with it.
func (s Station) renewed() []string {
	parts := []string{numbered(s.Element.PartNo, s.Element.Part)}
	for _, seal := range s.Seals {
		if !seal.WithElement {
			parts = append(parts, numbered(seal.PartNo, seal.Part))
		}
	}
	return parts
}

// drum is the drum with how far it may be filled by the rules that the job names, and which rule that
// is. Where it names none, or these have none, it is the closer of the two known here.
func (j Job) drum(fuel drain.Fuel, sets []waste.RuleSet) (drain.Filling, waste.Source, error) {
	fill := fillByDefault()
	if m := j.Waste.Month; m != nil {
		if rules, err := ruleSet(m.Rules, sets); err == nil && rules.Fill != (waste.FillRule{}) {
			fill = rules.Fill
		}
	}
	limit, err := fill.Limit(fuel, j.Waste.Drum.Capacity, j.Waste.Drum.FilledAt)
	return drain.Filling{Limit: limit, Inside: j.Waste.Drum.Inside}, fill.Source, err
}
