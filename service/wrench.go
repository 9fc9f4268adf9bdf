package service

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// check tries the wrench on a band as wide as its scale, so that package torque judges its figures.
func (w Wrench) check(path string, errs *JobErrors) {
	errs.when(w.Name == "", path+".id", "empty", "the shop's number for the wrench", units.ErrSyntax)
	errs.when(w.Highest.Less(w.Lowest) || w.Lowest.Sign() < 0, path, fmt.Sprintf("a scale from %v to %v", w.Lowest, w.Highest),
		"lowest to highest, zero or more", units.ErrRange)
	checkWritten(path+".deviationBasis", w.DeviationBasis, errs)
	switch {
	case errs.faulty(path + ".deviationBasis"):
	case w.DeviationBasis == torque.Absolute:
		errs.when(w.AbsoluteDeviation.Sign() == 0, path+".absoluteDeviation", w.AbsoluteDeviation.String(), "more than zero", units.ErrRange)
		errs.when(given(w.Deviation), path+".deviation", "given with an absolute one", "one of the two", errContradiction)
	case !given(w.Deviation):
		errs.when(true, path+".deviation", "missing", "the most its calibration allows, such as 4 %", errMissingField)
	default:
		checkShare(path+".deviation", w.Deviation, errs)
		errs.when(given(w.AbsoluteDeviation), path+".absoluteDeviation", "given with a deviation "+w.DeviationBasis.String(), "the field omitted, or the basis absolute", errContradiction)
	}
}

// shows reports whether a unit is on its scale.
func (w Wrench) shows(unit units.TorqueUnit) bool {
	return unit == w.Lowest.Unit() || slices.Contains(w.AlsoShows, unit)
}

// offScale says why a wrench can't have shown a torque, no message where it can.
func (w Wrench) offScale(t units.Torque) Message {
	switch {
	case !w.shows(t.Unit()):
		return message("why.off-scale/unit", "wrench", w.Name, "shows", w.Lowest.Unit(), "unit", t.Unit())
	case w.Highest.Less(t):
		return message("why.off-scale/above", "torque", t, "wrench", w.Name, "end", w.Highest)
	case t.Less(w.Lowest):
		return message("why.off-scale/below", "torque", t, "wrench", w.Name, "end", w.Lowest)
	}
	return Message{}
}

// check refuses an adapter without a lever, or with one where it can have none.
func (a Adapter) check(path string, errs *JobErrors) {
	switch {
	case a.Kind != 0:
		errs.when(a.Lever != nil, path+".lever", "given for a "+a.Kind.String(), "the field omitted: where it grips is different each time", errContradiction)
	case a.Lever == nil:
		errs.when(true, path+".lever", "missing", "offset and angle, or for a strap or chain wrench its kind", errMissingField)
	default:
		for _, l := range []struct {
			name   string
			length units.Length
		}{{".offset", a.Lever.Offset}, {".offsetTolerance", a.Lever.OffsetTolerance}} {
			errs.when(l.length.Sign() < 0, path+".lever"+l.name, l.length.String(), "zero or more, with an angle above 90° where it shortens the lever", units.ErrRange)
		}
	}
}

// tool is the wrench as package torque chooses among.
func (w Wrench) tool() torque.Wrench {
	tool := w.Wrench
	tool.CalibratedUntil = midnight(w.CalibratedUntil)
	return tool
}

func (a *Adapter) lever() torque.Adapter {
	if a == nil || a.Lever == nil {
		return torque.Adapter{}
	}
	return *a.Lever
}

// grips reports whether it has no fixed lever, as a strap or a chain.
func (a *Adapter) grips() bool { return a != nil && a.Kind != 0 }

// leverKnown reports whether a review can work out what every wrench of the job shows through an
// adapter; see [TorqueReading].
func (p *Plan) leverKnown(a *Adapter) bool {
	works := func(length units.Length) bool {
		_, err := torque.Delivered(units.NewtonMetre.Of(1), length, a.lever())
		return err == nil && !a.grips()
	}
	wrenches := p.Job.Shop.Wrenches
	if len(wrenches) == 0 {
		return works(units.Length{})
	}
	return !slices.ContainsFunc(wrenches, func(w Wrench) bool { return !works(w.tool().Length) })
}

// outOfDate says which tools and adapters may not be used on the planned day.
func (p *Plan) outOfDate() {
	late := func(code, where, name string, until waste.Date) {
		if until.Compare(p.Job.Date) < 0 {
			p.say(Caution, code+".out-of-calibration", where, nil, code, name, "until", until, "date", p.Job.Date)
		}
	}
	for i, w := range p.Job.Shop.Wrenches {
		late("wrench", fmt.Sprintf("shop.wrenches[%d]", i), w.Name, w.CalibratedUntil)
	}
	for i, g := range p.Job.Shop.Gauges {
		late("gauge", fmt.Sprintf("shop.gauges[%d]", i), g.ID, g.CalibratedUntil)
	}
	for i, s := range p.Job.Stations {
		if a := s.Tighten.Adapter; a != nil && given(a.CalibratedUntil) {
			late("adapter", fmt.Sprintf("stations[%d].tighten.adapter", i), a.Name, a.CalibratedUntil)
		}
	}
}

// chooser chooses a wrench for a station.
type chooser struct {
	plan    *Plan
	i       int // of the station
	station *StationPlan
	tools   []torque.Wrench
}

// choose takes for each band the wrench whose setting stays farthest inside it, and says why none
// serves where none does.
func (p *Plan) choose() {
	var tools []torque.Wrench
	for _, w := range p.Job.Shop.Wrenches {
		tools = append(tools, w.tool())
	}
	for i := range p.Stations {
		s := &p.Stations[i]
		s.way().choose(chooser{p, i, s, tools})
	}
}

// band chooses the wrench for a band. The level says how grave it is that there is none: a part that
// meets its stop may do without.
func (c chooser) band(t *TorquePlan, level Level) {
	if c.serves(level) {
		band := t.Stated
		choose := torque.Choose
		if level == Caution {
			choose = torque.ChooseToStop
		}
		best, choices := choose(c.tools, band, c.adapter().lever(), midnight(c.plan.Job.Date))
		t.Set = c.set(best, choices, band.Low(), band.High(), level)
	}
}

// nearest chooses the wrench that can be set nearest to a torque that has no tolerance; nil where none
// is listed or none reaches so far.
func (c chooser) nearest(t units.Torque) *WrenchSet {
	if !c.serves(Stop) {
		return nil
	}
	best, choices := torque.ChooseNearest(c.tools, t, c.adapter().lever(), midnight(c.plan.Job.Date))
	return c.set(best, choices, t, t, Stop)
}

func (c chooser) adapter() *Adapter { return c.station.Station.Tighten.Adapter }

// serves reports whether any wrench can be set, and says where it can't through what has no fixed
// lever.
func (c chooser) serves(level Level) bool {
	a := c.adapter()
	if !a.grips() {
		return len(c.tools) > 0
	}
	c.plan.tell(level, "adapter.no-lever", c.i, ".adapter", by(practice), "adapter", a.Name, "kind", a.Kind)
	return false
}

// set is the choice that was made, or nil and why there is none.
func (c chooser) set(best int, choices []torque.Choice, low, high units.Torque, level Level) *WrenchSet {
	if best < 0 {
		c.plan.refused(level, c.i, choices)
		c.slip(choices, low, high)
		return nil
	}
	return &WrenchSet{Wrench: c.plan.Job.Shop.Wrenches[best], Adapter: c.adapter(), Setting: choices[best].Setting}
}

// refused says why no wrench serves: each one's name, and what is wrong with it.
func (p *Plan) refused(level Level, station int, choices []torque.Choice) {
	var values []any
	for i, c := range choices {
		name, why := fmt.Sprintf("wrench-%d", i+1), fmt.Sprintf("why-%d", i+1)
		values = append(values, name, c.Wrench.Name, why, p.Job.Shop.Wrenches[i].refused(c.Err))
	}
	p.tell(level, "wrench.none-fits", station, "", nil, values...)
}

// refused is what package torque found wrong with a wrench.
func (w Wrench) refused(err error) Message {
	var none *torque.SettingError
	switch {
	case errors.Is(err, torque.ErrCalibration):
		return message("why.no-wrench/calibration", "until", w.CalibratedUntil)
	case errors.Is(err, torque.ErrNotAccurate) && w.DeviationBasis == torque.Absolute:
		return message("why.no-wrench/deviation", "deviation", w.AbsoluteDeviation)
	case errors.Is(err, torque.ErrNotAccurate):
		return message("why.no-wrench/deviation", "deviation", w.Deviation)
	case errors.As(err, &none):
		return message("why.no-wrench/"+either(errors.Is(err, torque.ErrTooCoarse), "step", "scale")+either(none.From.Equal(none.To), "-one", ""),
			"lowest", w.Lowest, "highest", w.Highest, "step", w.Step, "from", none.From, "to", none.To)
	}
	return message("why.no-wrench/lever")
}

// midnight is a civil date as package torque takes it: both dates of a comparison in one zone.
func midnight(d waste.Date) time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }
