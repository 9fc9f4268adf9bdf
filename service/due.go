package service

import (
	"fmt"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// Due tells when the next service is due, counted from the day of this one.
type Due struct {
	Date       Date  // the earlier of the two
	ByCalendar *Date // nil where no months are stated
	ByUse      *Date // nil where no hours are stated, or no recent use to forecast from
	AfterHours int   // on the meter from now; 0 where no hours are stated
}

func (n Interval) check(path string, errs *JobErrors) {
	if errs.spoilt(path) {
		return
	}
	const most = 100_000
	for _, f := range []struct {
		name string
		n    int
	}{{"hours", n.Hours}, {"hoursPerWeek", n.HoursPerWeek}, {"months", n.Months}} {
		if f.n < 0 || f.n > most {
			errs.add(path+"."+f.name, fmt.Sprint(f.n), "0 to 100000", units.ErrRange)
		}
	}
	switch {
	case n.Hours == 0 && n.Months == 0:
		errs.add(path, "neither hours nor months", "at least one of them", ErrMissingField)
	case n.Months > 240:
		errs.add(path+".months", fmt.Sprint(n.Months), "at most 240", units.ErrRange)
	case n.HoursPerWeek > 168:
		errs.add(path+".hoursPerWeek", fmt.Sprint(n.HoursPerWeek), "at most 168", units.ErrRange)
	}
}

// due forecasts in whole days, the last day on which the interval still holds.
func (p *Plan) due() {
	n := p.Job.Interval
	if n == nil {
		return
	}
	due := Due{AfterHours: n.Hours}
	if n.Months > 0 {
		d := addMonths(p.Job.Date, n.Months)
		due.ByCalendar, due.Date = &d, d
	}
	if n.Hours > 0 && n.HoursPerWeek > 0 {
		d := p.Job.Date.AddDays(n.Hours * 7 / n.HoursPerWeek)
		if due.ByUse = &d; due.ByCalendar == nil || d.Compare(due.Date) < 0 {
			due.Date = d
		}
	}
	p.Due = &due
}

// addMonths keeps the day of the month, or takes the month's last: 31 January and a month is 28 or
// 29 February.
func addMonths(d Date, n int) Date {
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return Date{Year: first.Year(), Month: first.Month(), Day: min(d.Day, last)}
}

// restock lists what the service uses up: every element, and every seal that doesn't come with one.
func (p *Plan) restock() {
	for _, s := range p.Job.Stations {
		p.Restock = append(p.Restock, s.Element.Part)
		for _, seal := range s.Seals {
			if !seal.WithElement {
				p.Restock = append(p.Restock, seal.Part)
			}
		}
	}
}

// drum is the drum with how far it may be filled: ADR 4.1.1.4 (b), so that it isn't full of liquid
// at 55 °C.
func (j Job) drum() (drain.Container, error) {
	fuel, err := drain.FuelAt(j.Fuel.Density, j.Fuel.DensityAt)
	if err != nil {
		return drain.Container{}, err
	}
	limit, err := drain.FillLimit(fuel, j.Waste.Drum.Capacity, j.Waste.Drum.FilledAt)
	return drain.Container{Limit: limit, Inside: j.Waste.Drum.Inside}, err
}
