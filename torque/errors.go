package torque

import (
	"errors"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// What a caller may want to do something about; all else matches the sentinels of package units. The
// errors are *units.ParseError, of values too that were read from no text, or hold one.
var (
	// ErrOrder: the low limit is above the high limit.
	ErrOrder = errors.New("limits in the wrong order")
	// ErrNoTolerance: a nominal value stands alone; see PlusMinusPercent.
	ErrNoTolerance = errors.New("no tolerance")
	// ErrNothingLeft: rounding inward leaves nothing.
	ErrNothingLeft = errors.New("nothing left between the limits")
	// ErrTwoUnits: a limit is printed in two units or more and only one can govern; see ParsePrintedLimit.
	ErrTwoUnits = errors.New("printed in two units")
	// ErrDisagree: the units of a printed limit contradict each other.
	ErrDisagree = errors.New("the units disagree")
	// ErrNoUncertainty: a rule needs the uncertainty of a measurement and it isn't known.
	ErrNoUncertainty = errors.New("no uncertainty")
	// ErrCalibration: a tool's calibration doesn't cover the day of the job.
	ErrCalibration = errors.New("out of calibration")
	// ErrOutOfScale: the dial value that a band needs is not on the wrench's scale.
	ErrOutOfScale = errors.New("off the wrench's scale")
	// ErrTooCoarse: no step of the scale falls where the band needs one.
	ErrTooCoarse = errors.New("scale too coarse")
	// ErrNotAccurate: the tool's deviation is wider than the band.
	ErrNotAccurate = errors.New("wrench not accurate enough")
)

// refuse is what is wrong with a value, in the shape of what is wrong with a text.
func refuse(what, value, problem, want string, err error) error {
	return misread.Error(what, value, 0, problem, want, err)
}

// refuseBand is what is wrong with two limits.
func refuseBand(low, high units.Torque, problem, want string, err error) error {
	return refuse(bandWhat, low.String()+" to "+high.String(), problem, want, err)
}

// noUnit is the error for a torque whose unit is none.
func noUnit(q units.Torque) error {
	return refuse("torque", q.String(), "no unit of torque", "units.InchPound and the like", units.ErrUnknownUnit)
}
