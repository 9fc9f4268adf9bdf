package service

import (
	"errors"
	"slices"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// What can be read in two ways and was written by somebody who meant one. None of it is corrected:
// a finding names both readings, and who answers for the job decides.

// ring says where the marks don't show which of two turns was made. The turn as such is always
// known: it has a datum, and where it passes a full turn it has to be counted.
func (p *Plan) ring(i int) {
	s := p.Stations[i]
	if s.Turn.Instruction.Datum() == turn.FingerTight {
		p.tell(Caution, "turn.loose-datum", i, ".turn", by(practice))
	}
	least, most := s.Turn.Window.Least(), s.Turn.Window.Most()
	marks := s.Station.Tighten.Marks
	switch {
	case most.Compare(oneTurn) < 0:
	case marks == nil:
		p.tell(Note, "turn.full-turns", i, "", by(practice))
	default:
		short, _ := most.Sub(oneTurn) // of a turn that is one or more
		if width, _ := most.Sub(least); width.Compare(oneTurn) >= 0 {
			p.tell(Caution, "turn.ambiguous/whole", i, ".marks", by(practice), "least", least, "most", most)
		} else {
			p.tell(Caution, "turn.ambiguous", i, ".marks", by(practice), "most", most, "short", short)
		}
	}
	if marks == nil {
		return
	}
	if one, other := plain.Alike(marks.Labels); one != "" {
		p.tell(Note, "turn.labels-alike", i, ".marks.labels", by(practice), "one", one, "other", other)
	}
}

// tradeUnits are those that the scales of most wrenches are in: common practice, no source.
var tradeUnits = []units.TorqueUnit{units.NewtonMetre, units.FootPound, units.InchPound}

// slip says where no wrench reaches a torque and one would, had its figures been meant in another
// unit of the trade: a sheet that was typed in with the wrong one.
func (c chooser) slip(choices []torque.Choice, low, high units.Torque) {
	outside := slices.ContainsFunc(choices, func(choice torque.Choice) bool { return errors.Is(choice.Err, torque.ErrOutOfScale) })
	if !outside || low.Unit() != high.Unit() {
		return
	}
	for _, unit := range tradeUnits {
		least, err := units.New(low.Magnitude(), unit)
		most, err2 := units.New(high.Magnitude(), unit)
		if unit == low.Unit() || err != nil || err2 != nil {
			continue
		}
		if tool := c.reaches(least, most); tool != "" {
			c.plan.tell(Caution, "torque.unit-slip", c.i, "", by(practice), "torque", high, "wrench", tool, "unit", unit)
			return
		}
	}
}

// reaches names a wrench that serves from least to most, or for the one torque that both are.
func (c chooser) reaches(least, most units.Torque) string {
	lever, day := c.adapter().lever(), midnight(c.plan.Job.Date)
	best := -1
	if least.Equal(most) {
		best, _ = torque.ChooseNearest(c.tools, most, lever, day)
	} else if band, err := torque.Between(least, most); err == nil {
		best, _ = torque.Choose(c.tools, band, lever, day)
	}
	if best < 0 {
		return ""
	}
	return c.tools[best].Name
}
