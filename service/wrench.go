package service

import (
	"fmt"
	"strings"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// band is the torque band of a station, nil where it is tightened by turn. Of a limit printed in
// two units it is the first.
func (t Tighten) band() (*torque.Band, error) {
	if t.Printed == "" {
		return t.Torque, nil
	}
	print, err := torque.ReadPrint(t.Printed)
	if err != nil {
		return nil, err
	}
	band, err := print.Band()
	return &band, err
}

// check tries the wrench on a band as wide as its scale, so that package torque judges its figures.
func (w Wrench) check(path string, errs *JobErrors) {
	if errs.spoilt(path) {
		return
	}
	if w.ID == "" {
		errs.add(path+".id", "empty", "the shop's number for the wrench", units.ErrSyntax)
	}
	if w.Highest.Less(w.Lowest) || w.Lowest.Sign() < 0 {
		errs.add(path, fmt.Sprintf("a scale from %v to %v", w.Lowest, w.Highest), "lowest to highest, zero or more", units.ErrRange)
	}
	if w.Step.Sign() <= 0 {
		errs.add(path+".step", w.Step.String(), "more than nothing", units.ErrRange)
	}
	if w.Deviation.Value.IsZero() {
		errs.add(path+".deviation", "none", "what its calibration allows, such as 4 %", ErrMissingField)
	}
	if w.Length != nil {
		checkPositive(path+".length", *w.Length, errs)
	}
}

// tool is the wrench as package torque knows it. The deviation's basis isn't asked for, so the
// envelope of both conventions holds.
func (w Wrench) tool() torque.Wrench {
	t := torque.Wrench{Lowest: w.Lowest, Highest: w.Highest, Step: w.Step, DeviationPercent: w.Deviation.Value.Shift(2)}
	if w.Length != nil {
		t.Length = *w.Length
	}
	return t
}

func (a *Adapter) lever() torque.Adapter {
	if a == nil {
		return torque.Adapter{}
	}
	return torque.Adapter{Offset: a.Offset, Angle: a.Angle}
}

// choose takes for each band the wrench whose setting stays farthest inside it, and tells why the
// others don't serve. A wrench past its calibration is never chosen.
func (p *Plan) choose() {
	for i := range p.Stations {
		s := &p.Stations[i]
		if s.Torque == nil || len(p.Job.Shop.Wrenches) == 0 {
			continue
		}
		var refusals []string
		adapter := s.Station.Tighten.Adapter
		for _, w := range p.Job.Shop.Wrenches {
			if w.CalibratedUntil.Compare(p.Job.Date) < 0 {
				refusals = append(refusals, fmt.Sprintf("%s: calibrated until %v only", w.ID, w.CalibratedUntil))
				continue
			}
			setting, err := w.tool().Set(s.Torque.Stated, adapter.lever())
			if err != nil {
				refusals = append(refusals, fmt.Sprintf("%s: %v", w.ID, err))
				continue
			}
			if best := s.Torque.Set; best == nil || margin(best.Setting).Less(margin(setting)) {
				s.Torque.Set = &WrenchSet{Wrench: w, Adapter: adapter, Setting: setting}
			}
		}
		if s.Torque.Set == nil {
			p.Findings = append(p.Findings, Finding{Stop, "wrench.none-fits", fmt.Sprintf("stations[%d].tighten", i),
				fmt.Sprintf("No wrench of the shop serves for station %s. %s.", s.Station.ID, strings.Join(refusals, ". ")), ""})
		}
	}
	for i, w := range p.Job.Shop.Wrenches {
		if w.CalibratedUntil.Compare(p.Job.Date) < 0 {
			p.Findings = append(p.Findings, Finding{Caution, "wrench.out-of-calibration", fmt.Sprintf("shop.wrenches[%d]", i),
				fmt.Sprintf("Wrench %s is calibrated until %v; the job is planned for %v. Don't use it.", w.ID, w.CalibratedUntil, p.Job.Date), ""})
		}
	}
}

// margin is the smaller distance to a limit.
func margin(s torque.Setting) units.Torque { return units.Min(s.AboveLow, s.BelowHigh) }
