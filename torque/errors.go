package torque

import (
	"errors"

	"example.com/snugturn/units"
)

// What can be wrong, beside the sentinels of package units, which the errors of this package
// match too. Errors are pointers to exported types; errors.Is finds these in them.
var (
	// ErrNoBand: the zero Band, which has no limits, was used as if it had some.
	ErrNoBand = errors.New("no band")
	// ErrOrder: the low limit is above the high limit.
	ErrOrder = errors.New("limits in the wrong order")
	// ErrNoTolerance: a nominal value stands alone; see ParseBandWithin.
	ErrNoTolerance = errors.New("no tolerance")
	// ErrNothingLeft: rounding inward, or cutting two bands with each other, leaves nothing.
	ErrNothingLeft = errors.New("nothing left between the limits")
	// ErrTwoUnits: a limit is printed in two units or more and only one can govern; see ParsePrintedLimit.
	ErrTwoUnits = errors.New("printed in two units")
	// ErrDisagree: the units of a printed limit contradict each other.
	ErrDisagree = errors.New("the units disagree")
	// ErrNoRule: the zero Rule, or none of the constants.
	ErrNoRule = errors.New("no decision rule")
	// ErrNoUncertainty: a rule needs the uncertainty of a measurement and it isn't known.
	ErrNoUncertainty = errors.New("no uncertainty")
	// ErrCalibration: a tool's calibration doesn't cover the day of the job.
	ErrCalibration = errors.New("out of calibration")
	// ErrLever: the lever vanishes, or isn't known.
	ErrLever = errors.New("no lever")
	// ErrWrench: the description of a wrench can't be right.
	ErrWrench = errors.New("no such wrench")
	// ErrOutOfScale: the dial value that a band needs is not on the wrench's scale.
	ErrOutOfScale = errors.New("off the wrench's scale")
	// ErrTooCoarse: no step of the scale falls where the band needs one.
	ErrTooCoarse = errors.New("scale too coarse")
	// ErrNotAccurate: the tool's deviation is wider than the band.
	ErrNotAccurate = errors.New("wrench not accurate enough")
)

// BandError tells why two limits, or a nominal value and its tolerance, make no band.
type BandError struct {
	Low, High units.Torque // the limits as they came out
	Problem   string
	Want      string
	Err       error // one of the sentinels
}

// Error writes one line, such as:
//
//	torque band 190 in-lb to 145 in-lb: the low limit is above the high limit; want the lower limit first
func (e *BandError) Error() string {
	return "torque band " + e.Low.String() + " to " + e.High.String() + ": " + e.Problem + "; want " + e.Want
}

// Unwrap gives the sentinel.
func (e *BandError) Unwrap() error { return e.Err }

// ToleranceError tells why a nominal value and a tolerance make no band.
type ToleranceError struct {
	Nominal   string // as it prints
	Tolerance string // as it prints, cut short
	Problem   string
	Want      string
	Err       error
}

// Error writes one line.
func (e *ToleranceError) Error() string {
	return "torque " + e.Nominal + " ± " + e.Tolerance + ": " + e.Problem + "; want " + e.Want
}

// Unwrap gives the sentinel.
func (e *ToleranceError) Unwrap() error { return e.Err }

// InwardError tells that no value of the asked-for places lies inside a band.
type InwardError struct {
	Band      Band
	Low, High units.Torque // the limits rounded inward: Low is above High
}

// Error writes one line, such as:
//
//	torque band 145 to 146 in-lb: rounded inward its limits cross, 17 N·m and 16 N·m; want more places
func (e *InwardError) Error() string {
	return "torque band " + e.Band.String() + ": rounded inward its limits cross, " + e.Low.String() + " and " +
		e.High.String() + "; want more places"
}

// Unwrap gives ErrNothingLeft.
func (e *InwardError) Unwrap() error { return ErrNothingLeft }
