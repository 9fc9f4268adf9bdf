package torque

import (
	"math/big"
	"time"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// DeviationBasis says what a tool's permissible deviation d is a part of.
type DeviationBasis uint8

// The bases.
const (
	// EitherBasis covers OfDial and OfReference: dial·(1-d) to dial/(1-d). It is for a tool whose
	// papers say only "± 4 %".
	EitherBasis DeviationBasis = iota
	// OfDial: the tool delivers dial·(1 ± d).
	OfDial
	// OfReference: d is a part of the torque delivered, so that the tool delivers dial/(1 ± d);
	// the relative deviation of ISO 6789 (from memory).
	OfReference
	// OfFullScale: the tool delivers dial ± d·Highest.
	OfFullScale
	// Absolute: the tool delivers dial ± Wrench.AbsoluteDeviation.
	Absolute
)

// Wrench is a torque wrench that is set on a scale. Its settings are Lowest, Lowest+Step and so
// on, up to Highest; the three are in one unit.
type Wrench struct {
	Name    string       `json:"id"` // by which [Choose] and its errors name it
	Lowest  units.Torque `json:"lowest"`
	Highest units.Torque `json:"highest"`
	Step    units.Torque `json:"step" bound:">0"`
	// Deviation is how far the torque delivered may lie from the dial, as the tool's
	// calibration allows; above 0 and below 100 %. A deviation that isn't known is not zero.
	Deviation      units.Share    `json:"deviation,omitzero"`
	DeviationBasis DeviationBasis `json:"deviationBasis,omitzero"`
	// AbsoluteDeviation takes the place of Deviation with the basis Absolute.
	AbsoluteDeviation units.Torque `json:"absoluteDeviation,omitzero" bound:">0"`
	// Length is the lever: from the middle of the grip to the drive. Without an adapter it isn't
	// needed.
	Length units.Length `json:"length,omitzero" bound:">0"`
	// LengthTolerance is how far from there the hand may pull; zero where that needs no thought.
	LengthTolerance units.Length `json:"lengthTolerance,omitzero" bound:">=0"`
	// CalibratedUntil is the last day on which its calibration holds, which [Choose] asks for and
	// [Wrench.Set] doesn't. The zero time is a calibration nobody knows of.
	CalibratedUntil time.Time `json:"-"`
}

// Setting is a dial value and what follows from it at the fastener.
type Setting struct {
	Dial      units.Torque // what to set on the scale, in the wrench's unit
	Delivered units.Torque // at the fastener, without any deviation, to nearest
	Least     units.Torque // the least the tool may deliver, rounded down, in the low limit's unit
	Most      units.Torque // the most the tool may deliver, rounded up, in the high limit's unit
	BelowHigh units.Torque // how far Most stays below the high limit, rounded down
	AboveLow  units.Torque // how far Least stays above the low limit, rounded down

	least, most *big.Rat // in newton metres
}

// Delivers is the least and the most that the tool may deliver, in a unit, at a number of places: rounded
// once, outward. Both are zero for the zero Setting and for a unit that is not one of its kind's.
func (s Setting) Delivers(unit units.TorqueUnit, places int) (least, most units.Torque) {
	if s.least == nil || !unit.Of(0).Valid() {
		return units.Torque{}, units.Torque{}
	}
	factor := units.Factor(units.NewtonMetre, unit)
	in := func(x *big.Rat, mode units.Rounding) units.Torque {
		q, _ := units.FromRat(new(big.Rat).Mul(x, factor), unit, places, mode) // what setting took
		return q
	}
	return in(s.least, units.ToNegativeInf), in(s.most, units.ToPositiveInf)
}

// SettingError says why a wrench has no setting for a band, and what would do.
type SettingError struct {
	*units.ParseError // with ErrOutOfScale, ErrTooCoarse or ErrNotAccurate
	// From and To are the dial values between which everything the tool may deliver stays in the
	// band, rounded inward; where no decimal of 30 places lies between them, both are the nearest.
	// Both are zero with ErrNotAccurate: there is no such dial value. For a torque without a
	// tolerance both are the dial value that would deliver it, to nearest.
	From, To units.Torque
}

// Unwrap gives the ParseError.
func (e *SettingError) Unwrap() error { return e.ParseError }

// refuse says why the wrench has no setting: with dial values that would do, or without any.
func (j job) refuse(from, to units.Torque, why error) error {
	what, value := bandWhat, j.band.String()
	problem, want := "the wrench covers "+j.wrench.scale(), "a dial value between "+from.String()+" and "+to.String()
	switch {
	case why == ErrNotAccurate:
		problem = "the band is ±" + j.band.halfWidthPercent() + " % of its middle and the wrench is " + j.wrench.deviation() +
			j.leverDoubt() + ", so no setting is possible"
		want = "a more accurate wrench"
	case why == ErrTooCoarse:
		problem += ", of which none serves"
	case j.band.low.Equal(j.band.high):
		what, value, want = "torque", j.band.low.String(), "a dial value of "+from.String()
	}
	return &SettingError{ParseError: misread.Error(what, value, 0, problem, want, why), From: from, To: to}
}

// leverDoubt says how well the lever is known, where that was stated.
func (j job) leverDoubt() string {
	text := ""
	if t := j.wrench.LengthTolerance; t.Sign() > 0 {
		text += ", the grip known to ±" + t.String()
	}
	if t := j.adapter.OffsetTolerance; t.Sign() > 0 {
		text += ", the adapter to ±" + t.String()
	}
	return text
}

// refuse is what is wrong with the description of a wrench.
func (w Wrench) refuse(problem, want string) error {
	return refuse("wrench", w.scale(), problem, want, units.ErrRange)
}

func (w Wrench) scale() string {
	return w.Lowest.String() + " to " + w.Highest.String() + " in steps of " + w.Step.String()
}

func (w Wrench) deviation() string {
	if w.DeviationBasis == Absolute {
		return "±" + w.AbsoluteDeviation.String()
	}
	return "±" + w.Deviation.String() + " " + w.DeviationBasis.String()
}

// halfWidthPercent is (high-low)/(high+low) in percent to one place, rounded down.
func (b Band) halfWidthPercent() string {
	unit := b.low.Unit()
	low, high := b.low.RatIn(unit), b.high.RatIn(unit)
	x := new(big.Rat).Sub(high, low)
	x.Quo(x, new(big.Rat).Add(high, low)).Mul(x, hundred)
	return roundedDown(x, unit, 1).Magnitude().String()
}

// deviation is what the tool may deliver at a dial value D in the wrench's unit: from
// lowFactor·D-lowShift to highFactor·D+highShift.
type deviation struct{ lowFactor, lowShift, highFactor, highShift *big.Rat }

// deviations checks the description of the tool's deviation.
func (w Wrench) deviations() (deviation, error) {
	refuse := func(problem, want string) (deviation, error) { return deviation{}, w.refuse(problem, want) }
	nothing := new(big.Rat)
	if w.DeviationBasis == Absolute {
		if !w.AbsoluteDeviation.Valid() || w.AbsoluteDeviation.Sign() <= 0 {
			return refuse("its deviation isn't stated", "a deviation above zero; a deviation that isn't known is not zero")
		}
		a := w.AbsoluteDeviation.RatIn(w.Lowest.Unit())
		return deviation{one, a, one, a}, nil
	}
	d := fraction(w.Deviation)
	if d == nil || d.Sign() <= 0 || d.Cmp(one) >= 0 {
		return refuse("its deviation is "+w.Deviation.String(), "more than 0 and less than 100 %; a deviation that isn't known is not zero")
	}
	less, more := new(big.Rat).Sub(one, d), new(big.Rat).Add(one, d)
	switch w.DeviationBasis {
	case EitherBasis:
		return deviation{less, nothing, new(big.Rat).Inv(less), nothing}, nil
	case OfDial:
		return deviation{less, nothing, more, nothing}, nil
	case OfReference:
		return deviation{new(big.Rat).Inv(more), nothing, new(big.Rat).Inv(less), nothing}, nil
	case OfFullScale:
		a := d.Mul(d, w.Highest.RatIn(w.Highest.Unit()))
		return deviation{one, a, one, a}, nil
	}
	return refuse("its deviation has an unknown basis", "one of the constants of DeviationBasis")
}

// check refuses a scale that can't be.
func (w Wrench) check() error {
	unit := w.Lowest.Unit()
	problem, want := "", ""
	switch {
	case !w.Lowest.Valid() || w.Highest.Unit() != unit || w.Step.Unit() != unit:
		problem, want = "its scale isn't in one unit", "lowest, highest and step in the unit on the scale"
	case w.Lowest.Sign() < 0:
		problem, want = "its lowest setting is below zero", "zero or more"
	case w.Step.Sign() <= 0:
		problem, want = "its step is zero or less", "a step above zero"
	case w.Highest.Less(w.Lowest):
		problem, want = "its highest setting is below its lowest", "the lowest setting first"
	case w.Lowest.Sign() == 0 && w.Highest.Less(w.Step):
		problem, want = "it has no setting above zero", "a highest setting of a step or more"
	default:
		return nil
	}
	return w.refuse(problem, want)
}

// Set chooses the dial value at which everything the tool may deliver lies inside the band and
// the smaller of the two margins to the limits is largest; of two equally good the lower. It
// never takes the end of the scale for a value beyond it.
//
// For a maximum alone the low limit is zero, and the setting comes to lie near half of it.
//
// With an adapter, what arrives at the fastener is the drive's torque times (L + E·cos θ)/L; see
// [Indicated]. All of it is worked in fractions and, away from whole multiples of 60° and 90°,
// with an enclosure of the cosine narrower than 1e-55 whose worse end counts: a dial value
// that passes has room, and one refused for the enclosure's width alone is nearer to the limit
// than any wrench can be set. A dial value at which the tool may deliver less than nothing is
// never taken, even where the low limit is zero, and never a dial value of zero: nothing clicks at nothing.
//
// Errors: *SettingError (ErrOutOfScale, ErrTooCoarse, ErrNotAccurate); *units.ParseError (units.ErrRange,
// units.ErrUnknownUnit) for a wrench, an adapter or a band that can't be.
func (w Wrench) Set(b Band, a Adapter) (Setting, error) {
	s, _, err := w.set(b, a)
	return s, err
}

// set is Set, and the smaller margin in newton metres.
func (w Wrench) set(b Band, a Adapter) (Setting, *big.Rat, error) {
	j, err := w.job(b, a)
	if err != nil {
		return Setting{}, nil, err
	}
	from, to := j.usable()
	if from.Cmp(to) > 0 {
		return Setting{}, nil, j.refuse(units.Torque{}, units.Torque{}, ErrNotAccurate)
	}
	dial, margin := j.best()
	if margin.Sign() < 0 {
		err := ErrTooCoarse
		if last := j.dial(j.steps()); to.Cmp(j.lowest) < 0 || from.Cmp(last) > 0 {
			err = ErrOutOfScale
		}
		low, high := j.between(from, to)
		return Setting{}, nil, j.refuse(low, high, err)
	}
	s, err := j.setting(dial)
	if err != nil {
		return Setting{}, nil, err
	}
	return s, margin.Mul(margin, units.Factor(j.unit, units.NewtonMetre)), nil
}

// nearest chooses the dial value at which the tool, free of its deviation, delivers what is nearest
// to a torque that is stated without a tolerance; of two equally near the lower, and never zero. It also gives the worst the
// tool may be out as a margin below zero, in newton metres.
func (w Wrench) nearest(wanted units.Torque, a Adapter) (Setting, *big.Rat, error) {
	b, err := Between(wanted, wanted)
	if err != nil {
		return Setting{}, nil, err
	}
	j, err := w.job(b, a)
	if err != nil {
		return Setting{}, nil, err
	}
	x := new(big.Rat).Quo(j.low, midpoint(j.lever.stated))
	if x.Cmp(j.lowest) < 0 || x.Cmp(j.dial(j.steps())) > 0 {
		at, _ := units.FromRat(x, j.unit, w.Step.Places()+2, units.ToNearestEven)
		return Setting{}, nil, j.refuse(at, at, ErrOutOfScale)
	}
	k := new(big.Rat).Sub(x, j.lowest)
	below := j.aboveZero(floor(k.Quo(k, j.step)))
	dial := j.dial(below)
	above := j.dial(new(big.Int).Add(below, big.NewInt(1))) // beyond the scale only where dial is x
	if new(big.Rat).Sub(above, x).Cmp(new(big.Rat).Sub(x, dial)) < 0 {
		dial = above
	}
	s, err := j.setting(dial)
	if err != nil {
		return Setting{}, nil, err
	}
	margin := j.margin(dial)
	return s, margin.Mul(margin, units.Factor(j.unit, units.NewtonMetre)), nil
}

// At says what a dial value comes to: what the tool, set to it, may deliver. The dial value has to be one
// that the tool has, and above zero: nothing clicks at nothing. As with [ChooseNearest] there is no band: AboveLow and BelowHigh are the margins to
// the dial value itself. [Band.AcceptsSetting] holds it against one.
//
// Errors: *SettingError (ErrOutOfScale) for a dial value beyond either end of the scale and
// (ErrTooCoarse) for one between its settings, with the dial value as From and To; otherwise as [Wrench.Set].
func (w Wrench) At(dial units.Torque, a Adapter) (Setting, error) {
	b, err := Between(dial, dial)
	if err != nil {
		return Setting{}, err
	}
	j, err := w.job(b, a)
	if err != nil {
		return Setting{}, err
	}
	k := new(big.Rat).Sub(j.low, j.lowest)
	k.Quo(k, j.step)
	switch {
	case k.Sign() < 0 || j.low.Cmp(j.dial(j.steps())) > 0:
		err = ErrOutOfScale
	case !k.IsInt():
		err = ErrTooCoarse
	default:
		return j.setting(j.low)
	}
	return Setting{}, &SettingError{ParseError: misread.Error("torque", dial.String(), 0, "no setting of this wrench", w.scale(), err), From: dial, To: dial}
}

// AcceptsSetting says what a click at a setting shows: Accepted where everything that the tool may have
// delivered lies in the band, both limits included, Rejected where all of it lies outside, on one side,
// and Inconclusive between. It is exact: it goes by the setting's figures before they were rounded. The
// zero Setting and the zero Band are Inconclusive.
func (b Band) AcceptsSetting(s Setting) Acceptance {
	if s.least == nil || b.usable() != nil {
		return Inconclusive
	}
	low, high := b.low.RatIn(units.NewtonMetre), b.high.RatIn(units.NewtonMetre)
	switch {
	case s.least.Cmp(low) >= 0 && s.most.Cmp(high) <= 0:
		return Accepted
	case s.most.Cmp(low) < 0 || s.least.Cmp(high) > 0:
		return Rejected
	}
	return Inconclusive
}

// job holds the numbers of one question, all in the wrench's unit.
type job struct {
	band         Band
	wrench       Wrench
	adapter      Adapter
	unit         units.TorqueUnit
	low, high    *big.Rat // the band
	lowest, step *big.Rat
	lever        lever
	deviation    deviation
}

func (w Wrench) job(b Band, a Adapter) (job, error) {
	if err := b.usable(); err != nil {
		return job{}, err
	}
	if err := w.check(); err != nil {
		return job{}, err
	}
	d, err := w.deviations()
	if err != nil {
		return job{}, err
	}
	k, err := newLever(w.Length, w.LengthTolerance, a)
	if err != nil {
		return job{}, err
	}
	unit := w.Lowest.Unit()
	return job{band: b, wrench: w, adapter: a, unit: unit, low: b.low.RatIn(unit), high: b.high.RatIn(unit),
		lowest: w.Lowest.RatIn(unit), step: w.Step.RatIn(unit), lever: k, deviation: d}, nil
}

// least is the least that may arrive at the fastener at a dial value, most the most.
func (j job) least(dial *big.Rat) *big.Rat {
	x := new(big.Rat).Mul(dial, j.deviation.lowFactor)
	x.Sub(x, j.deviation.lowShift)
	return x.Mul(x, j.lever.possible.lo)
}

func (j job) most(dial *big.Rat) *big.Rat {
	x := new(big.Rat).Mul(dial, j.deviation.highFactor)
	x.Add(x, j.deviation.highShift)
	return x.Mul(x, j.lever.possible.hi)
}

// usable is where least and most meet the limits: the dial values that would do.
func (j job) usable() (from, to *big.Rat) {
	from = new(big.Rat).Quo(j.low, j.lever.possible.lo)
	from.Add(from, j.deviation.lowShift).Quo(from, j.deviation.lowFactor)
	to = new(big.Rat).Quo(j.high, j.lever.possible.hi)
	to.Sub(to, j.deviation.highShift).Quo(to, j.deviation.highFactor)
	return from, to
}

// margin is the smaller distance to a limit; below zero where something may lie outside.
func (j job) margin(dial *big.Rat) *big.Rat {
	above := j.least(dial)
	above.Sub(above, j.low)
	below := j.most(dial)
	below.Sub(j.high, below)
	if above.Cmp(below) < 0 {
		return above
	}
	return below
}

// steps is the number of the last setting, counted from zero.
func (j job) steps() *big.Int {
	x := new(big.Rat).Sub(j.wrench.Highest.RatIn(j.unit), j.lowest)
	return floor(x.Quo(x, j.step))
}

// aboveZero is the number of a setting, or of the first above zero.
func (j job) aboveZero(k *big.Int) *big.Int {
	switch {
	case k.Sign() > 0:
		return k
	case j.lowest.Sign() == 0:
		return big.NewInt(1)
	}
	return new(big.Int)
}

func (j job) dial(k *big.Int) *big.Rat {
	x := new(big.Rat).SetInt(k)
	return x.Mul(x, j.step).Add(x, j.lowest)
}

// best is the setting with the largest smaller margin. One margin rises with the dial and the
// other falls, both evenly, so the best setting stands next to where they cross.
func (j job) best() (dial, margin *big.Rat) {
	d, k := j.deviation, j.lever.possible
	crossing := new(big.Rat).Add(j.low, j.high)
	crossing.Sub(crossing, new(big.Rat).Mul(d.highShift, k.hi))
	crossing.Add(crossing, new(big.Rat).Mul(d.lowShift, k.lo))
	slope := new(big.Rat).Mul(d.lowFactor, k.lo)
	slope.Add(slope, new(big.Rat).Mul(d.highFactor, k.hi))
	crossing.Quo(crossing, slope)

	crossing.Sub(crossing, j.lowest).Quo(crossing, j.step)
	below := floor(crossing)
	last := j.steps()
	for _, k := range [...]*big.Int{below, new(big.Int).Add(below, big.NewInt(1))} {
		if k = j.aboveZero(k); k.Cmp(last) > 0 { // a nearer setting only, its margin is judged like any other
			k = last
		}
		x := j.dial(k)
		if m := j.margin(x); margin == nil || m.Cmp(margin) > 0 {
			dial, margin = x, m
		}
	}
	return dial, margin
}

func floor(x *big.Rat) *big.Int {
	return new(big.Int).Div(x.Num(), x.Denom()) // Euclidean: rounds down for a positive divisor
}

// setting prints a dial value's consequences.
func (j job) setting(dial *big.Rat) (Setting, error) {
	d, exact := exactTorque(dial, j.unit)
	if !exact {
		return Setting{}, j.wrench.refuse("its settings have more than 34 digits", "a scale of fewer digits")
	}
	places := max(j.wrench.Lowest.Places(), j.wrench.Step.Places())
	s := Setting{Dial: d.Round(places, units.ToNearestEven)}
	places = max(places, j.band.low.Places(), j.band.high.Places()) + 2
	lowUnit, highUnit := j.band.low.Unit(), j.band.high.Unit()
	inLow, inHigh := units.Factor(j.unit, lowUnit), units.Factor(j.unit, highUnit)

	least, most := j.least(dial), j.most(dial)
	inNewtonMetres := units.Factor(j.unit, units.NewtonMetre)
	s.least, s.most = new(big.Rat).Mul(least, inNewtonMetres), new(big.Rat).Mul(most, inNewtonMetres)
	above, below := new(big.Rat).Sub(least, j.low), new(big.Rat).Sub(j.high, most)
	nominal := new(big.Rat).Mul(dial, midpoint(j.lever.stated))
	var err error
	round := func(x, factor *big.Rat, unit units.TorqueUnit, mode units.Rounding) units.Torque {
		q, e := units.FromRat(new(big.Rat).Mul(x, factor), unit, places, mode)
		if e != nil && err == nil {
			err = e
		}
		return q
	}
	s.Delivered = round(nominal, inLow, lowUnit, units.ToNearestEven)
	s.Least = round(least, inLow, lowUnit, units.ToNegativeInf)
	s.Most = round(most, inHigh, highUnit, units.ToPositiveInf)
	s.AboveLow = round(above, inLow, lowUnit, units.ToNegativeInf)
	s.BelowHigh = round(below, inHigh, highUnit, units.ToNegativeInf)
	if err != nil {
		return Setting{}, err
	}
	return s, nil
}

// between is what dial values would do, rounded inward to two places more than the step has, or to as
// many more as it takes to see them.
func (j job) between(from, to *big.Rat) (low, high units.Torque) {
	for places := min(j.wrench.Step.Places()+2, 30); places <= 30; places += 4 {
		low, _ = units.FromRat(from, j.unit, places, units.ToPositiveInf)
		high = roundedDown(to, j.unit, places)
		if low.Compare(high) <= 0 {
			return low, high
		}
	}
	low, _ = units.FromRat(from, j.unit, 30, units.ToNearestEven)
	return low, low
}

// roundedDown is x of the unit at a number of places; zero where x is out of range.
func roundedDown(x *big.Rat, unit units.TorqueUnit, places int) units.Torque {
	q, _ := units.FromRat(x, unit, places, units.ToNegativeInf)
	return q
}
