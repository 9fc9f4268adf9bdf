package torque

import (
	"cmp"
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// Measurement is a torque that was measured, and how well.
type Measurement struct {
	Value units.Torque
	// Expanded is the expanded uncertainty U = k·u, where u is the standard uncertainty. Zero
	// means that it isn't known; an uncertainty that isn't known is not zero.
	Expanded units.Torque
	// CoverageFactor is the k of Expanded, from 1 to 10; zero stands for 2, which most certificates
	// state. The rules go by U at k = 2: of another k it is worked out, and rounded up where 34
	// digits don't hold it.
	CoverageFactor decimal.Decimal
}

// atTwo is the measurement with its uncertainty at k = 2.
func (m Measurement) atTwo() (Measurement, error) {
	if m.CoverageFactor.IsZero() {
		return m, nil
	}
	k, err := units.New(m.CoverageFactor, units.Degree) // the size is looked at before the digits
	if err != nil || k.Less(units.Degree.Of(1)) || units.Degree.Of(10).Less(k) {
		return m, refuseReading(m, "no coverage factor of an uncertainty", "k from 1 to 10", units.ErrRange)
	}
	m.CoverageFactor = decimal.Decimal{}
	x := m.Expanded.RatIn(m.Expanded.Unit())
	if x == nil {
		return m, nil // refused for its unit
	}
	x.Mul(x, two).Quo(x, k.RatIn(units.Degree))
	m.Expanded, err = units.FromRat(x, m.Expanded.Unit(), rational.Places(x), units.ToPositiveInf)
	return m, err
}

// Rule says what is done with the uncertainty of a measurement. The zero Rule is none: which rule
// holds is for the parties to agree on before anything is measured.
//
// With every rule the acceptance limit itself passes, as the limits of a band do; the text of
// ILAC-G8 says "below". A low limit of zero is no limit to be guarded: nothing is below it.
type Rule uint8

// The rules.
const (
	// SimpleAcceptance passes a value in the band; the probability of being wrong is below 50 %
	// (ILAC-G8:09/2019, 4.2.1). It needs no uncertainty.
	SimpleAcceptance Rule = iota + 1
	// GuardedByU passes a value that is in the band by U or more; a wrong pass has less than
	// 2.5 % (ILAC-G8:09/2019, 4.2.2, with w = U).
	GuardedByU
	// Guarded95 passes a value for which the torque lies in the band with a probability of 95 %
	// or more, the uncertainty taken as normal. In a wide band that is a guard of 1.645·u; in one
	// narrower than about 4.9·u the other limit counts too, and a fixed 1.65·u would fall short.
	Guarded95
	// NonBinary passes as GuardedByU does, and tells apart what is in the band by less than U, and what is
	// outside by U or less; ILAC calls them conditional pass and conditional fail
	// (ILAC-G8:09/2019, 4.2.3, seen in a copy).
	NonBinary
)

func (r Rule) valid() bool { return rules.Has(r) }

// Acceptance is what a rule says of a measurement, in the words of JCGM 106:2012; ILAC-G8 says pass and
// fail. The zero Acceptance is none.
type Acceptance uint8

// The acceptances.
const (
	noAcceptance Acceptance = iota
	Accepted
	ConditionallyAccepted // NonBinary: in the band, by less than U
	ConditionallyRejected // NonBinary: outside the band, by U or less
	Rejected
	Inconclusive // see Decision.NoZone
)

// Decision is an acceptance with what it rests on.
type Decision struct {
	Acceptance Acceptance
	Rule       Rule
	// Conformance is the probability that the torque lies in the band, the uncertainty taken as
	// normal around the value (JCGM 106:2012, 7, from memory), rounded down to four places, so that 0.9999 is
	// the most it says. It isn't Valid where the uncertainty isn't known.
	Conformance decimal.NullDecimal
	// NoZone says that the guard bands leave no acceptance zone: no torque would pass, and a better instrument is
	// needed.
	NoZone bool
}

// Decide judges a measurement by a rule. Values are compared exactly. Only Guarded95 and the
// reported conformance rest on the normal distribution, and what floats can't tell apart safely
// is worked out again with a proven enclosure; were even that not enough (1e-32), it doesn't pass.
//
// Errors: *units.ParseError: ErrNoUncertainty (every rule but SimpleAcceptance), units.ErrUnknownUnit, or
// units.ErrRange (no rule, an uncertainty below zero, an invalid coverage factor, the zero Band).
func (b Band) Decide(m Measurement, rule Rule) (Decision, error) {
	m, err := m.atTwo()
	if err != nil {
		return Decision{}, err
	}
	if err := b.mayDecide(m, rule); err != nil {
		return Decision{}, err
	}
	d := Decision{Rule: rule}
	if m.Expanded.Sign() == 0 {
		d.Acceptance = acceptedIf(b.Contains(m.Value))
		return d, nil
	}
	g := b.guess(m)
	d.Conformance = decimal.NullDecimal{Decimal: decimal.New(b.tenThousandths(m, g), -4), Valid: true}
	inside := b.Contains(m.Value)
	switch rule {
	case SimpleAcceptance:
		d.Acceptance = acceptedIf(inside)
		return d, nil
	case Guarded95:
		d.Acceptance = acceptedIf(inside && b.atLeast95(m, g))
	default:
		d.Acceptance = acceptedIf(inside && b.clearOf(m))
	}
	if d.Acceptance == Accepted {
		return d, nil
	}
	if rule == NonBinary {
		d.Acceptance = ConditionallyAccepted
		if !inside {
			d.Acceptance = Rejected
			if b.touches(m) {
				d.Acceptance = ConditionallyRejected
			}
		}
	}
	if inside && b.noZone(m, rule) {
		d.NoZone = true
		if rule != NonBinary {
			d.Acceptance = Inconclusive
		}
	}
	return d, nil
}

func acceptedIf(pass bool) Acceptance {
	if pass {
		return Accepted
	}
	return Rejected
}

func (b Band) mayDecide(m Measurement, rule Rule) error {
	if err := b.usable(); err != nil {
		return err
	}
	problem, want := "", ""
	var sentinel error
	switch {
	case !rule.valid():
		problem, want, sentinel = "no decision rule", "SimpleAcceptance, GuardedByU, Guarded95 or NonBinary, as agreed beforehand", units.ErrRange
	case !m.Value.Valid() || !m.Expanded.Valid():
		problem, want, sentinel = "no unit of torque", "units.InchPound and the like", units.ErrUnknownUnit
	case m.Expanded.Sign() < 0:
		problem, want, sentinel = "the uncertainty is below zero", "U at k = 2, above zero", units.ErrRange
	case m.Expanded.Sign() == 0 && rule != SimpleAcceptance:
		problem, want, sentinel = "the uncertainty isn't known, which is not zero, and the rule ("+rule.String()+") needs it", "U at k = 2, or SimpleAcceptance", ErrNoUncertainty
	default:
		return nil
	}
	return refuseReading(m, problem, want, sentinel)
}

func refuseReading(m Measurement, problem, want string, err error) error {
	return refuse("torque reading", m.Value.String(), problem, want, err)
}

// clearOf reports whether low+U <= value <= high-U, with no low limit where it is zero.
func (b Band) clearOf(m Measurement) bool {
	return (b.low.Sign() == 0 || compareSum(m.Value, m.Expanded.Neg(), b.low) >= 0) &&
		compareSum(m.Value, m.Expanded, b.high) <= 0
}

// touches reports whether low-U <= value <= high+U.
func (b Band) touches(m Measurement) bool {
	return compareSum(m.Value, m.Expanded, b.low) >= 0 && compareSum(m.Value, m.Expanded.Neg(), b.high) <= 0
}

// compareSum compares a+b with c, exactly.
func compareSum(a, b, c units.Torque) int {
	if sum, exact := a.Add(b); exact {
		return sum.Compare(c)
	}
	unit := c.Unit()
	x := a.RatIn(unit)
	return x.Add(x, b.RatIn(unit)).Cmp(c.RatIn(unit))
}

// noZone reports whether the rule passes nothing at all with this uncertainty: not even the
// middle of the band.
func (b Band) noZone(m Measurement, rule Rule) bool {
	if b.low.Sign() == 0 {
		if rule == Guarded95 { // one limit: zero itself stands farthest from it
			m.Value = b.low
			return !b.conformance(m).atLeast95() // not often: no guess
		}
		return b.high.Less(m.Expanded)
	}
	unit := units.NewtonMetre
	width := b.high.RatIn(unit)
	width.Sub(width, b.low.RatIn(unit))
	if rule == Guarded95 {
		u := m.Expanded.RatIn(unit)
		z := width.Quo(width, u) // half the width over half of U
		return !between(z, z).atLeast95()
	}
	return width.Cmp(new(big.Rat).Mul(two, m.Expanded.RatIn(unit))) < 0
}

// guess is the probability that the torque lies in the band, 1 less the tails beyond each limit,
// as a float: good to 1e-8, or not ok.
type guess struct {
	p  float64
	ok bool
}

// The factors from any unit to N·m as floats, for guesses only.
var inNewtonMetres = func() (f [256]float64) {
	for u := range units.All[units.TorqueUnit]() {
		f[u], _ = units.Factor(u, units.NewtonMetre).Float64()
	}
	return f
}()

func asFloat(q units.Torque) float64 { return q.Float64(q.Unit()) * inNewtonMetres[q.Unit()] }

func (b Band) guess(m Measurement) guess {
	low, high, y, u := asFloat(b.low), asFloat(b.high), asFloat(m.Value), asFloat(m.Expanded)/2
	if u < 1e-6*(math.Abs(y)+high) {
		return guess{} // the differences below would lose too many digits
	}
	p := 1 - tail((high-y)/u)
	if b.low.Sign() > 0 {
		p -= tail((y - low) / u)
	}
	return guess{p, true}
}

// tail is upperTail where it counts: from 7 on it is less than 2e-12, next to the 1e-8 a guess is
// held to, and an everyday reading is that far from one limit or from both.
func tail(z float64) float64 {
	if z > 7 {
		return 0
	}
	return upperTail(z)
}

// conformance encloses the same probability, proven.
func (b Band) conformance(m Measurement) interval {
	unit := units.NewtonMetre
	y, u := m.Value.RatIn(unit), m.Expanded.RatIn(unit)
	u.Mul(u, half)
	above := b.high.RatIn(unit)
	above.Sub(above, y).Quo(above, u)
	if b.low.Sign() == 0 {
		return between(nil, above)
	}
	below := new(big.Rat).Sub(y, b.low.RatIn(unit))
	return between(below.Quo(below, u), above)
}

// between encloses the probability of a normal value that has below·u to the low limit, nil where
// there is none, and above·u to the high one.
func between(below, above *big.Rat) interval {
	tail := encloseUpperTail(above)
	p := interval{new(big.Rat).Sub(one, tail.hi), new(big.Rat).Sub(one, tail.lo)}
	if below != nil {
		tail = encloseUpperTail(below)
		p.lo.Sub(p.lo, tail.hi)
		p.hi.Sub(p.hi, tail.lo)
	}
	return p
}

var ninetyFive = big.NewRat(95, 100)

func (i interval) atLeast95() bool { return i.lo.Cmp(ninetyFive) >= 0 }

// atLeast95 asks the enclosure only where the guess doesn't settle it.
func (b Band) atLeast95(m Measurement, g guess) bool {
	if g.ok && math.Abs(g.p-0.95) > 1e-7 {
		return g.p > 0.95
	}
	return b.conformance(m).atLeast95()
}

// tenThousandths is the probability times 10000, rounded down. It is never 1 and never below 0.
func (b Band) tenThousandths(m Measurement, g guess) int64 {
	const most = 9999
	if g.ok {
		x := g.p * 1e4
		if nearest := math.Round(x); math.Abs(x-nearest) > 1e-3 || nearest <= 0 || nearest > most {
			return int64(min(max(math.Floor(x), 0), most))
		}
	}
	p := new(big.Rat).Mul(b.conformance(m).lo, big.NewRat(1e4, 1))
	return min(max(floor(p).Int64(), 0), most)
}

// AcceptanceZone is the band of values that the rule passes for an expanded uncertainty U at k = 2,
// in a unit at a number of places, rounded inward. A low limit of zero stays zero.
//
// Errors: as [Band.Decide]; ErrNothingLeft where the guard bands leave no acceptance zone or no value of so
// few places.
func (b Band) AcceptanceZone(expanded units.Torque, rule Rule, unit units.TorqueUnit, places int) (Band, error) {
	m := Measurement{Value: b.low, Expanded: expanded}
	if err := b.mayDecide(m, rule); err != nil {
		return Band{}, err
	}
	if !unit.Of(0).Valid() {
		return Between(unit.Of(0), unit.Of(0))
	}
	low, high := b.low.RatIn(unit), b.high.RatIn(unit)
	guard := new(big.Rat)
	switch {
	case rule == SimpleAcceptance:
	case b.noZone(m, rule):
		return Band{}, refuse(bandWhat, b.String(), "the guard bands leave no acceptance zone: a better instrument is needed", "U below half the band", ErrNothingLeft)
	case rule == Guarded95:
		guard = b.guard95(new(big.Rat).Mul(expanded.RatIn(unit), half), low, high)
	default:
		guard = expanded.RatIn(unit)
	}
	if low.Sign() > 0 {
		low.Add(low, guard)
	}
	high.Sub(high, guard)
	from, err1 := units.FromRat(low, unit, places, units.ToPositiveInf) // may pass what a torque holds
	to, err2 := units.FromRat(high, unit, places, units.ToNegativeInf)
	if cmp.Or(err1, err2) != nil || to.Less(from) || to.Sign() <= 0 {
		return Band{}, refuse(bandWhat, b.String(), "no value with so few decimal places is accepted", "more places", ErrNothingLeft)
	}
	return Band{low: from, high: to}, nil
}

// guard95 is the distance from a limit at which the probability reaches 95 %, by halving, never
// too small and too large by no more than 2^-80 of the band. The middle is known to pass.
func (b Band) guard95(u, low, high *big.Rat) *big.Rat {
	fails, passes := new(big.Rat), new(big.Rat).Sub(high, low)
	width := new(big.Rat).Set(passes)
	twoSided := low.Sign() > 0
	if twoSided {
		passes.Mul(passes, half)
	}
	for range 80 {
		g := midpoint(interval{fails, passes})
		var below *big.Rat
		if twoSided {
			below = new(big.Rat).Sub(width, g)
			below.Quo(below, u)
		}
		if between(below, new(big.Rat).Quo(g, u)).atLeast95() {
			passes = g
		} else {
			fails = g
		}
	}
	return passes
}
