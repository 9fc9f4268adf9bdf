package drain

import (
	"cmp"
	"database/sql/driver"
	"encoding/json"
	"log/slog"
	"math/big"

	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/rational"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

// Provenance says where a figure comes from. The zero value says nothing and is invalid.
type Provenance uint8

// The provenances, the firmest first. What is put together from several figures is no firmer
// than the weakest of them.
const (
	Weighed  Provenance = iota + 1 // on a scale
	Measured                       // with a graduated vessel, a rule, a meter
	Stated                         // by a manufacturer, a label, a data sheet
	Assumed                        // by whoever writes it down
)

// Weakest is the least firm of two provenances; the zero Provenance is weaker than any.
func Weakest(p, q Provenance) Provenance {
	if !provenances.Has(p) || !provenances.Has(q) {
		return 0
	}
	return max(p, q)
}

// Estimate is a figure that isn't known exactly: the true value lies between Low and High, Best is
// the one to print, and From says where the three come from. The three may be in different
// units; they are compared exactly.
//
// The zero Estimate is invalid, since it comes from nowhere. An Estimate put together by hand is
// checked by [Estimate.Check], which every function that takes one calls.
type Estimate[U units.Unit] struct {
	Low  units.Quantity[U] `json:"low"`
	Best units.Quantity[U] `json:"best"`
	High units.Quantity[U] `json:"high"`
	From Provenance        `json:"from"`
}

// NewEstimate makes an estimate of its three figures.
//
// Errors: *InputError, ErrOrder unless low <= best <= high, ErrMissing for a provenance or a unit
// that isn't one of the constants.
func NewEstimate[U units.Unit](low, best, high units.Quantity[U], from Provenance) (Estimate[U], error) {
	e := Estimate[U]{Low: low, Best: best, High: high, From: from}
	if err := e.Check(); err != nil {
		return Estimate[U]{}, err
	}
	return e, nil
}

// Exactly is an estimate without a spread: low, best and high are the same. It suits a count, or
// a figure whose uncertainty is somebody else's to state.
//
// Errors: as [NewEstimate].
func Exactly[U units.Unit](value units.Quantity[U], from Provenance) (Estimate[U], error) {
	return NewEstimate(value, value, value, from)
}

// MustExactly is [Exactly] for constants in a program; it panics on an error.
func MustExactly[U units.Unit](value units.Quantity[U], from Provenance) Estimate[U] {
	e, err := Exactly(value, from)
	if err != nil {
		panic(err)
	}
	return e
}

// PlusMinus is best ± spread, such as a reading and half a graduation of the vessel. Where the sums
// have no 34 digits low goes down and high goes up.
//
// Errors: as [NewEstimate]; *InputError (ErrNegative) for a spread below zero; units.ErrRange for a result too large.
func PlusMinus[U units.Unit](best, spread units.Quantity[U], from Provenance) (Estimate[U], error) {
	_, err := Exactly(best, from)
	if err := cmp.Or(err, checked("spread", spread)); err != nil {
		return Estimate[U]{}, err
	}
	low, err1 := plus(best, spread.Neg(), units.ToNegativeInf)
	high, err2 := plus(best, spread, units.ToPositiveInf)
	return join(low, best, high, from, err1, err2)
}

// Check says what is wrong with an estimate; nil where nothing is.
//
// Errors: *InputError (ErrOrder, ErrMissing).
func (e Estimate[U]) Check() error {
	switch {
	case !provenances.Has(e.From):
		return refuse("estimate", e.Best.String(), "doesn't say where it comes from", provenances.List(), ErrMissing)
	case !e.Low.Valid() || !e.Best.Valid() || !e.High.Valid():
		return refuse("estimate", e.Best.String(), "a unit is not one of its kind's", "one of the unit constants", ErrMissing)
	case e.Best.Less(e.Low) || e.High.Less(e.Best):
		return refuse("estimate", e.Low.String()+", "+e.Best.String()+", "+e.High.String(),
			"not in order", "low <= best <= high", ErrOrder)
	}
	return nil
}

// MarshalJSON writes {"low", "best", "high", "from"}.
//
// Errors: as [Estimate.Check].
func (e Estimate[U]) MarshalJSON() ([]byte, error) {
	if err := e.Check(); err != nil {
		return nil, err
	}
	type fields Estimate[U] // without methods
	return json.Marshal(fields(e))
}

// MarshalBinary is MarshalJSON, for gob.
func (e Estimate[U]) MarshalBinary() ([]byte, error) { return e.MarshalJSON() }

// UnmarshalBinary is UnmarshalJSON, for gob.
func (e *Estimate[U]) UnmarshalBinary(data []byte) error { return e.UnmarshalJSON(data) }

// Value is the text of the JSON, for a database column.
func (e Estimate[U]) Value() (driver.Value, error) {
	return encode.Value(e.MarshalJSON())
}

// Scan reads a column's JSON as UnmarshalJSON does; NULL and all but text are refused.
func (e *Estimate[U]) Scan(column any) error {
	return encode.Scan(column, e.UnmarshalJSON, misread.NotText("estimate", `an object {"low", "best", "high", "from"}`))
}

// LogValue is the text.
func (e Estimate[U]) LogValue() slog.Value { return slog.StringValue(e.String()) }

// UnmarshalJSON reads the object that MarshalJSON writes, {"low", "best", "high",
// "from"}: all four, each once and none of them null, and nothing else. On an error e stays as it was.
//
// Errors: *InputError (units.ErrSyntax, and as [Estimate.Check]); *units.ParseError for a figure.
func (e *Estimate[U]) UnmarshalJSON(data []byte) error {
	const most, want = 4096, `{"low", "best", "high", "from"}`
	var fields estimateFields[U]
	if bad := (strictjson.Reader{Bytes: most, Text: most}).First(data, &fields); bad != nil && bad.Problem == "" {
		return bad.Cause
	} else if bad != nil {
		return refuse("estimate", string(data[:min(len(data), 64)]), bad.What(), want, units.ErrSyntax)
	}
	read := Estimate[U](fields)
	if err := read.Check(); err != nil {
		return err
	}
	*e = read
	return nil
}

// estimateFields is an Estimate without its methods.
type estimateFields[U units.Unit] Estimate[U]

// checkEstimate also refuses what reaches below zero.
func checkEstimate[U units.Unit](what string, e Estimate[U]) error {
	if err := e.Check(); err != nil {
		named := *err.(*InputError)
		named.What = what
		return &named
	}
	return checked(what, e.Low)
}

// Add is the sum of two estimates in e's units: low with low, high with high, from the weaker
// provenance. A sum that 34 digits don't hold is rounded outward, low down and high up.
//
// Errors: as [Estimate.Check], for either; units.ErrRange for a sum too large.
func (e Estimate[U]) Add(f Estimate[U]) (Estimate[U], error) {
	if err := cmp.Or(e.Check(), f.Check()); err != nil {
		return Estimate[U]{}, err
	}
	low, err1 := plus(e.Low, f.Low, units.ToNegativeInf)
	best, err2 := plus(e.Best, f.Best, units.ToNearestEven)
	high, err3 := plus(e.High, f.High, units.ToPositiveInf)
	return join(low, best, high, Weakest(e.From, f.From), err1, err2, err3)
}

// Sub is e less f: the lowest result is e's low less f's high. It may reach below zero; functions
// that need a volume or a mass refuse that.
//
// Errors: as [Estimate.Add].
func (e Estimate[U]) Sub(f Estimate[U]) (Estimate[U], error) {
	if err := cmp.Or(e.Check(), f.Check()); err != nil {
		return Estimate[U]{}, err
	}
	f.Low, f.Best, f.High = f.High.Neg(), f.Best.Neg(), f.Low.Neg()
	return e.Add(f)
}

// Scale is the estimate times an exact factor of zero or more. Results that 34 digits don't hold
// are rounded outward.
//
// Errors: as [Estimate.Check]; *InputError, ErrNegative for a factor below zero, units.ErrRange for
// one that doesn't fit.
func (e Estimate[U]) Scale(factor decimal.Decimal) (Estimate[U], error) {
	x, err := ratOf("factor", factor)
	if err == nil {
		err = e.Check()
	}
	if err != nil {
		return Estimate[U]{}, err
	}
	if x.Sign() < 0 {
		return Estimate[U]{}, refuse("factor", x.RatString(), "below zero", "zero or more", ErrNegative)
	}
	times := func(q units.Quantity[U]) *big.Rat { return new(big.Rat).Mul(x, q.RatIn(q.Unit())) }
	return outward(times(e.Low), e.Low.Unit(), times(e.Best), e.Best.Unit(), times(e.High), e.High.Unit(), e.From)
}

// Sum is the sum of any number of estimates in one unit. It is added exactly and rounded once,
// outward, so that neither order nor grouping changes it. The total of nothing is an exact zero,
// and measured: nothing was there to be seen.
//
// Errors: as [Estimate.Check], for each; *InputError (ErrMissing) for a unit that is not one of its kind's.
func Sum[U units.Unit](unit U, estimates ...Estimate[U]) (Estimate[U], error) {
	if !unitZero(unit).Valid() {
		return Estimate[U]{}, refuse("total", unit.String(), "the unit is not one of its kind's", "one of the unit constants", ErrMissing)
	}
	from := Measured
	for i, e := range estimates {
		if err := e.Check(); err != nil {
			return Estimate[U]{}, err
		}
		if i == 0 {
			from = e.From
		}
		from = Weakest(from, e.From)
	}
	ends := [...]func(*Estimate[U]) units.Quantity[U]{
		func(e *Estimate[U]) units.Quantity[U] { return e.Low },
		func(e *Estimate[U]) units.Quantity[U] { return e.Best },
		func(e *Estimate[U]) units.Quantity[U] { return e.High },
	}
	sums := [len(ends)]units.Quantity[U]{}
	for i, mode := range [...]units.Rounding{units.ToNegativeInf, units.ToNearestEven, units.ToPositiveInf} {
		var err error
		if sums[i], err = total(unit, estimates, ends[i], mode); err != nil {
			return Estimate[U]{}, err
		}
	}
	return NewEstimate(sums[0], sums[1], sums[2], from)
}

// total adds one end of every estimate. While every sum is exact no fraction is needed; where one
// isn't, all is added again as fractions and rounded once.
func total[U units.Unit](unit U, estimates []Estimate[U], end func(*Estimate[U]) units.Quantity[U], mode units.Rounding) (units.Quantity[U], error) {
	sum, exact := unitZero(unit), true
	for i := 0; i < len(estimates) && exact; i++ {
		sum, exact = sum.Add(end(&estimates[i]))
	}
	if exact {
		return sum, nil
	}
	x := new(big.Rat)
	for i := range estimates {
		x.Add(x, end(&estimates[i]).RatIn(unit))
	}
	return units.FromRat(x, unit, rational.Places(x), mode)
}

// unitZero is 0 of a unit.
func unitZero[U units.Unit](unit U) units.Quantity[U] {
	return units.Quantity[U]{}.In(unit)
}

// Agrees reports whether two estimates of one thing leave a value that both allow. Where a weighing and
// the estimate whose place it takes don't agree, look for a slip: a drum read in pounds and written down
// in kilograms.
//
// Errors: as [Estimate.Check].
func (e Estimate[U]) Agrees(f Estimate[U]) (bool, error) {
	if err := cmp.Or(e.Check(), f.Check()); err != nil {
		return false, err
	}
	return !e.High.Less(f.Low) && !f.High.Less(e.Low), nil
}

// RoundIn is the estimate in another unit at a number of places: low rounded down, best half-even,
// high up, each in one step. For printing; totals are taken before it.
func (e Estimate[U]) RoundIn(unit U, places int) Estimate[U] {
	return Estimate[U]{
		Low:  e.Low.RoundIn(unit, places, units.ToNegativeInf),
		Best: e.Best.RoundIn(unit, places, units.ToNearestEven),
		High: e.High.RoundIn(unit, places, units.ToPositiveInf),
		From: e.From,
	}
}

// String is "1.5 L (1.4 L to 1.6 L, measured)".
func (e Estimate[U]) String() string {
	return e.Best.String() + " (" + e.Low.String() + " to " + e.High.String() + ", " + e.From.String() + ")"
}

// plus adds in q's unit, exactly where 34 digits hold the sum, else rounded as mode says.
func plus[U units.Unit](q, r units.Quantity[U], mode units.Rounding) (units.Quantity[U], error) {
	if sum, exact := q.Add(r); exact {
		return sum, nil
	}
	x := q.RatIn(q.Unit())
	x.Add(x, r.RatIn(q.Unit()))
	return units.FromRat(x, q.Unit(), rational.Places(x), mode)
}

// join makes an estimate of what was computed, where nothing failed.
func join[U units.Unit](low, best, high units.Quantity[U], from Provenance, errs ...error) (Estimate[U], error) {
	if err := cmp.Or(errs...); err != nil {
		return Estimate[U]{}, err
	}
	return NewEstimate(low, best, high, from)
}

// outward rounds the three, low down and high up.
func outward[U units.Unit](low *big.Rat, lowUnit U, best *big.Rat, bestUnit U, high *big.Rat, highUnit U, from Provenance) (Estimate[U], error) {
	l, err1 := units.FromRat(low, lowUnit, rational.Places(low), units.ToNegativeInf)
	b, err2 := units.FromRat(best, bestUnit, rational.Places(best), units.ToNearestEven)
	h, err3 := units.FromRat(high, highUnit, rational.Places(high), units.ToPositiveInf)
	return join(l, b, h, from, err1, err2, err3)
}

// ratOf admits a decimal: what units.New refuses is refused here too, before it can cost anything.
func ratOf(what string, d decimal.Decimal) (*big.Rat, error) {
	q, err := units.New(d, units.CubicMetre)
	if err != nil {
		return nil, refuse(what, "", "too many digits or too large", "at most 34 digits, 60 places, and less than 10^24", units.ErrRange)
	}
	return q.RatIn(units.CubicMetre), nil
}
