package drain

import (
	"cmp"
	"math/big"
	"strconv"
	"time"

	"example.com/snugturn/internal/clock"
	"example.com/snugturn/units"
)

// maxCount is the most cycles or strokes that are counted; beyond it an input is in a wrong unit.
const maxCount = 1_000_000

// KeyCycles is how often the key is to be turned on for an electric pump to fill a void:
// void / (flow · on · efficiency), rounded up, since a part of a cycle is a cycle. Least goes with
// the smallest void and the strongest flow, most with the largest and the weakest. Efficiency is the
// share of the pump's flow that arrives, above 0 and at most 100 %. Nothing is assumed for any of them:
// take them from the manufacturer's instructions, or measure.
//
// Errors: *InputError, ErrMissing for a flow, an on-time or an efficiency of zero, ErrNegative below
// zero, units.ErrRange for an efficiency above 100 % or more than a million cycles; as [Estimate.Check].
func KeyCycles(void Estimate[units.VolumeUnit], flow Estimate[units.FlowUnit], on time.Duration, efficiency units.Share) (least, best, most int, err error) {
	perCycle, err := delivered(flow, on, efficiency)
	if err != nil {
		return 0, 0, 0, err
	}
	return countsUp("void", void, perCycle)
}

// delivered is what a pump moves in a time, low, best and high, in cubic metres.
func delivered(flow Estimate[units.FlowUnit], on time.Duration, efficiency units.Share) ([3]*big.Rat, error) {
	share, err := fraction("efficiency", efficiency)
	if err != nil {
		return [3]*big.Rat{}, err
	}
	if err := cmp.Or(checkEstimate("pump flow", flow), positive("pump flow", flow.Low), positiveTime("on-time", on)); err != nil {
		return [3]*big.Rat{}, err
	}
	v := ends(flow, units.LitrePerMinute)
	minutes := product(big.NewRat(int64(on), int64(time.Minute)), big.NewRat(1, 1000)) // and m³ of L
	for i := range v {
		v[i] = product(v[i], minutes, share)
	}
	return v, nil
}

// fraction admits what is above 0 and at most the whole.
func fraction(what string, s units.Share) (*big.Rat, error) {
	const want = "more than 0, at most 100 %"
	x := s.Ratio(units.Percent.Of(100))
	switch {
	case x == nil:
		return nil, refuse(what, s.String(), "the unit is not one of its kind's", want, ErrMissing)
	case x.Sign() < 0:
		return nil, refuse(what, s.String(), "below zero", want, ErrNegative)
	case x.Sign() == 0:
		return nil, refuse(what, s.String(), "zero, or not given", want, ErrMissing)
	case x.Cmp(big.NewRat(1, 1)) > 0:
		return nil, refuse(what, s.String(), "more than the whole", want, units.ErrRange)
	}
	return x, nil
}

func positiveTime(what string, d time.Duration) error {
	switch {
	case d < 0:
		return refuse(what, d.String(), "below zero", "more than zero", ErrNegative)
	case d == 0:
		return refuse(what, d.String(), "zero, or not given", "more than zero", ErrMissing)
	}
	return nil
}

// countsUp is whole / part, rounded up, for the best and the two extremes.
func countsUp(what string, whole volumes, part [3]*big.Rat) (least, best, most int, err error) {
	if err := checkEstimate(what, whole); err != nil {
		return 0, 0, 0, err
	}
	w := ends(whole, units.CubicMetre)
	counts := [3]int{}
	for i := range counts {
		n := new(big.Rat).Quo(w[i], part[2-i])
		ceil := new(big.Int).Add(n.Num(), new(big.Int).Sub(n.Denom(), big.NewInt(1)))
		ceil.Quo(ceil, n.Denom())
		if ceil.Cmp(big.NewInt(maxCount)) > 0 {
			return 0, 0, 0, refuse(what, whole.String(), "takes more than "+strconv.Itoa(maxCount)+" times what is moved at once",
				"the flow and the volume in the units they were given in", units.ErrRange)
		}
		counts[i] = int(ceil.Int64())
	}
	return counts[0], counts[1], counts[2], nil
}

// VoidLeft is what is still to be filled after a number of key cycles; zero once they suffice. It is
// the figure to look at when the engine doesn't start: see [PrimingChecklist].
//
// Errors: as [KeyCycles]; *InputError (ErrNegative) for a number of cycles below zero.
func VoidLeft(void Estimate[units.VolumeUnit], flow Estimate[units.FlowUnit], on time.Duration, efficiency units.Share, cycles int) (Estimate[units.VolumeUnit], error) {
	perCycle, err := delivered(flow, on, efficiency)
	if err == nil {
		err = checkEstimate("void", void)
	}
	if err != nil {
		return volumes{}, err
	}
	if cycles < 0 {
		return volumes{}, refuse("key cycles", strconv.Itoa(cycles), "below zero", "zero or more", ErrNegative)
	}
	return leftAfter(void, flow.From, perCycle, cycles)
}

func leftAfter(void volumes, from Provenance, perCycle [3]*big.Rat, cycles int) (volumes, error) {
	n := big.NewRat(int64(cycles), 1)
	v := ends(void, units.CubicMetre)
	for i := range v {
		v[i] = larger(new(big.Rat), new(big.Rat).Sub(v[i], product(n, perCycle[2-i])))
	}
	return litres(v, Weakest(void.From, from))
}

// HandStrokes is how many strokes of a hand primer fill a void: void / (stroke · efficiency),
// rounded up.
//
// Errors: as [KeyCycles], with the stroke in place of the flow.
func HandStrokes(void, stroke Estimate[units.VolumeUnit], efficiency units.Share) (least, best, most int, err error) {
	share, err := fraction("efficiency", efficiency)
	if err != nil {
		return 0, 0, 0, err
	}
	if err := cmp.Or(checkEstimate("stroke", stroke), positive("stroke", stroke.Low)); err != nil {
		return 0, 0, 0, err
	}
	part := ends(stroke, units.CubicMetre)
	for i := range part {
		part[i] = product(part[i], share)
	}
	return countsUp("void", void, part)
}

// Refill is how a filter is filled by hand before it is fitted, and what that leaves to the pump.
type Refill struct {
	Pour units.Volume               // clean fuel to pour in, in litres
	Void Estimate[units.VolumeUnit] // what is left to be primed
}

// PrefillPlan is the pour for a share of what the filter holds. The share is taken of the least it may
// hold, so that it can't run over, and the pour rounded down to a number of places of a litre.
//
// Where a manufacturer allows it at all, it is filtered fuel into the dirty side, never into the clean
// outlet (common practice, no source); the manufacturer's instructions go before this.
//
// Errors: *InputError, ErrNegative for a share below 0, units.ErrRange for one above 100 %; as
// [Estimate.Check]. A share of 0 % is no prefill and leaves everything to the pump.
func PrefillPlan(holds Estimate[units.VolumeUnit], share units.Share, places int) (Refill, error) {
	x, err := new(big.Rat), error(nil)
	if share.Sign() != 0 {
		x, err = fraction("share", share)
	}
	if err == nil {
		err = checkEstimate("what the filter holds", holds)
	}
	if err != nil {
		return Refill{}, err
	}
	pour, err := units.FromRat(x.Mul(x, holds.Low.RatIn(units.Litre)), units.Litre, places, units.ToNegativeInf)
	if err != nil {
		return Refill{}, err
	}
	void, err := less("void left", holds, volumes{pour, pour, pour, holds.From})
	return Refill{Pour: pour, Void: void}, err
}

// Cranking is how long a starter may run, how long it then rests, and after how many attempts to
// stop and look for the cause. All three are the manufacturer's to state:
// they differ from starter to starter.
type Cranking struct {
	Limit    Duration `json:"limit"`    // of one attempt
	Rest     Duration `json:"rest"`     // between two
	Attempts int      `json:"attempts"` // then stop and look for the cause
}

// A plan is bounded; nobody cranks a hundred times, or for a day.
const (
	maxAttempts = 100
	maxTime     = clock.Day
)

// CrankStep is one attempt of a plan.
type CrankStep struct {
	Attempt int           // from 1
	Rest    time.Duration // before this attempt
	Crank   time.Duration // at most
	Cranked time.Duration // cumulative, with this attempt
	Elapsed time.Duration // since the first attempt began, at the end of this one
}

// Plan is the attempts in their order. Behind the last stands no rest but the search for the cause:
// see [PrimingChecklist].
//
// Errors: *InputError, ErrMissing for a limit, a rest or a number of attempts of zero, ErrNegative
// below zero, units.ErrRange for more than a hundred attempts or more than a day.
func (c Cranking) Plan() ([]CrankStep, error) {
	if err := cmp.Or(positiveTime("crank limit", time.Duration(c.Limit)), positiveTime("rest", time.Duration(c.Rest))); err != nil {
		return nil, err
	}
	switch given := strconv.Itoa(c.Attempts); {
	case c.Attempts < 0:
		return nil, refuse("attempts", given, "below zero", "1 to 100", ErrNegative)
	case c.Attempts == 0:
		return nil, refuse("attempts", given, "zero, or not given", "1 to 100", ErrMissing)
	case c.Attempts > maxAttempts:
		return nil, refuse("attempts", given, "too many", "1 to 100", units.ErrRange)
	case max(c.Limit, c.Rest) > Duration(maxTime):
		return nil, refuse("cranking", c.Limit.String()+", rest "+c.Rest.String(), "longer than a day", "seconds and minutes", units.ErrRange)
	}
	steps := make([]CrankStep, c.Attempts)
	var at CrankStep
	for i := range steps {
		at.Attempt, at.Crank = i+1, time.Duration(c.Limit)
		at.Cranked += at.Crank
		at.Elapsed += at.Rest + at.Crank
		steps[i] = at
		at.Rest = time.Duration(c.Rest)
	}
	return steps, nil
}

// PrimingChecklist is what to look for when a filter doesn't prime in the cycles computed or the engine
// doesn't start in the attempts allowed (common practice, no source), as codes:
//
//   - "no-fuel": a closed fuel cock, or an empty tank
//   - "suction-air": air drawn in on the suction side; such a joint stays dry, so look for bubbles in the return or a clear line
//   - "gasket-left": a gasket left on the head, or two of them
//   - "waxed-fuel": fuel near its cloud point, waxing the new element
//   - "pump-supply": a pump without its supply or its relay
func PrimingChecklist() []string {
	return []string{"no-fuel", "suction-air", "gasket-left", "waxed-fuel", "pump-supply"}
}
