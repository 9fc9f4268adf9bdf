package waste

import (
	"cmp"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// Container is one drum, box or bag. Its sizes are limits, never quantities of waste. How much
// more goes in up to the fill limit is [drain.Filling.Left]'s to say.
type Container struct {
	ID        string                         `json:"id,omitempty"`        // its label, at most 64 bytes; may be empty
	Kind      string                         `json:"kind,omitempty"`      // what it is, as the papers call it, such as "DM"; at most 64 bytes
	Capacity  units.Volume                   `json:"capacity,omitzero"`   // to the brim; 0 where it isn't known
	FillLimit units.Volume                   `json:"fillLimit,omitzero"`  // the most liquid that may go in; 0 where it isn't known
	MostGross units.Mass                     `json:"mostGross,omitzero"`  // the most it may weigh with what is in it, as its mark says; 0 where it isn't known
	Tare      drain.Estimate[units.MassUnit] `json:"tare,omitzero"`       // the empty container: weigh it, the like differ by kilograms; the zero Estimate where unknown
	Started   Date                           `json:"started,omitzero"`    // the day from which its clock counts; the zero Date where none runs
	Satellite bool                           `json:"satellite,omitempty"` // stands where the waste arises (40 CFR 262.15): no clock until the area's limit is passed
}

// check says what is wrong with a container; nil where nothing is.
func (c Container) check() error {
	switch {
	case !c.Capacity.Valid() || c.Capacity.Sign() < 0:
		return refuse("container", "capacity", c.Capacity.String(), "no volume", "zero or more", units.ErrRange)
	case !c.FillLimit.Valid() || c.FillLimit.Sign() < 0:
		return refuse("container", "fill limit", c.FillLimit.String(), "no volume", "zero or more", units.ErrRange)
	case c.Capacity.Sign() > 0 && c.Capacity.Less(c.FillLimit):
		return refuse("container", "fill limit", c.FillLimit.String(), "above the capacity", "at most "+c.Capacity.String(), units.ErrRange)
	case !c.MostGross.Valid() || c.MostGross.Sign() < 0:
		return refuse("container", "most gross", c.MostGross.String(), "no mass", "zero or more", units.ErrRange)
	case c.Started != (Date{}) && !c.Started.valid():
		return refuse("container", "started", c.Started.String(), "no such day", "a day of the calendar", units.ErrRange)
	}
	if c.ID != "" {
		if err := checkLabel("container", "ID", c.ID); err != nil {
			return err
		}
	}
	if c.Kind != "" {
		if err := checkLabel("container", "kind", c.Kind); err != nil {
			return err
		}
	}
	if given(c.Tare) {
		return check("container", "tare", c.Tare)
	}
	return nil
}

// given tells an estimate from the zero one, which stands for none.
func given[U units.Unit](e drain.Estimate[U]) bool {
	return e.From != 0 || e.Low.Sign() != 0 || e.Best.Sign() != 0 || e.High.Sign() != 0
}

// withTare is check for what can't do without the tare.
func (c Container) withTare() error {
	if err := c.check(); err != nil {
		return err
	}
	if !given(c.Tare) {
		return refuse("container", "tare", c.ID, "not given", "the mass of the empty container", drain.ErrMissing)
	}
	return nil
}

// Net is what a scale shows less the tare: gross low less tare high, and the other way round. It
// doesn't go below zero: no net mass does. In kilograms; the weaker provenance.
//
// Errors: *Error (drain.ErrMissing, units.ErrRange, units.ErrSyntax) for an invalid container or one without a tare,
// *drain.InputError for a tare that is no estimate; *Error (units.ErrRange) where the best gross is below the best tare, which no content explains.
func (c Container) Net(gross drain.Estimate[units.MassUnit]) (drain.Estimate[units.MassUnit], error) {
	if err := cmp.Or(c.withTare(), check("container", "gross", gross)); err != nil {
		return drain.Estimate[units.MassUnit]{}, err
	}
	if gross.Best.Less(c.Tare.Best) {
		return drain.Estimate[units.MassUnit]{}, refuse("container", "gross", gross.Best.String(),
			"less than the tare", "at least "+c.Tare.Best.String(), units.ErrRange)
	}
	low := gross.Low.RatIn(units.Kilogram)
	if low.Sub(low, c.Tare.High.RatIn(units.Kilogram)); low.Sign() < 0 {
		low.SetInt64(0)
	}
	best := gross.Best.RatIn(units.Kilogram)
	best.Sub(best, c.Tare.Best.RatIn(units.Kilogram))
	high := gross.High.RatIn(units.Kilogram)
	high.Sub(high, c.Tare.Low.RatIn(units.Kilogram))
	return kilograms(low, best, high, drain.Weakest(gross.From, c.Tare.From))
}
