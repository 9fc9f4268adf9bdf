package units

import (
	"cmp"
	"iter"
	"math/big"
	"strconv"

	"github.com/shopspring/decimal"
)

// Quantity is a number as somebody wrote it next to the unit they wrote: 145 and in-lb, 12.50 and
// N·m. It is 24 bytes with no pointer in them, it can't be changed, and it never grows: at most
// 34 significant digits and 60 places, below 10^24 of the kind's first unit.
//
// The zero value is 0 of the kind's first unit. Quantities are compared with [Quantity.Compare]
// and [Quantity.Equal]; == does not compile, since "1 ft-lb" and "12 in-lb" are equal and their
// fields are not.
type Quantity[U Unit] struct {
	_     [0]func() // no more than four fields, or the compiler keeps it out of registers
	coef  u128      // the digits as one integer
	scale uint8     // places after the point, and negative in the top bit
	unit  U
}

const negative = 1 << 7 // in Quantity.scale; 60 places take 6 bits

// The kinds of quantity, by the names the trade uses.
type (
	Torque                = Quantity[TorqueUnit]
	Angle                 = Quantity[AngleUnit]
	Volume                = Quantity[VolumeUnit]
	Mass                  = Quantity[MassUnit]
	Density               = Quantity[DensityUnit]
	Length                = Quantity[LengthUnit]
	Flow                  = Quantity[FlowUnit]
	Pressure              = Quantity[PressureUnit]
	TemperatureDifference = Quantity[TemperatureDifferenceUnit]
	Share                 = Quantity[ShareUnit]
)

// Rounding says which way a number that doesn't fit is rounded. The words are those of math/big.
// A value that is not one of the three rounds to nearest even. It isn't stored: in JSON it is a number.
type Rounding uint8

// The roundings. A low limit is rounded ToPositiveInf and a high limit ToNegativeInf, so that
// rounding never widens a band; everything else ToNearestEven.
const (
	ToNearestEven Rounding = iota
	ToPositiveInf
	ToNegativeInf
)

// New makes a quantity of a decimal and a unit. The decimal's places are kept: 12.50 stays 12.50.
//
// Errors: *ParseError, ErrRange for more than 34 digits, more than 60 places or 10^24 of the
// kind's first unit; ErrUnknownUnit for a unit that is not one of the kind's.
func New[U Unit](magnitude decimal.Decimal, unit U) (Quantity[U], error) {
	k := unit.kind()
	if !k.has(uint8(unit)) {
		return Quantity[U]{}, k.unknown(uint8(unit))
	}
	n, ok := fromDecimal(magnitude)
	if !ok || !k.inRange(n, uint8(unit)) {
		return Quantity[U]{}, k.tooLarge(uint8(unit), magnitude)
	}
	return quantity(n, unit), nil
}

// of is the body of every unit's Of.
func of[U Unit](magnitude int64, unit U) Quantity[U] {
	q := Quantity[U]{coef: u128{0, uint64(magnitude)}, unit: unit}
	if magnitude < 0 {
		q.coef.lo, q.scale = -q.coef.lo, negative
	}
	if q.coef.lo >= 1e17 && q.Valid() { // only megapascals can pass 10^24 of their kind's first unit
		n, _ := unit.kind().within(q.num(), uint8(unit), true)
		return quantity(n, unit)
	}
	return q
}

// quantity packs a number and a unit.
func quantity[U Unit](n number, unit U) Quantity[U] {
	q := Quantity[U]{coef: n.coef, scale: n.places, unit: unit}
	if n.neg {
		q.scale |= negative
	}
	return q
}

// num is the quantity without its unit.
func (q Quantity[U]) num() number {
	return number{coef: q.coef, places: q.scale &^ negative, neg: q.scale&negative != 0}
}

// Magnitude is the number without its unit, with its places.
func (q Quantity[U]) Magnitude() decimal.Decimal { return q.num().decimal() }

// Unit is the unit as written.
func (q Quantity[U]) Unit() U { return q.unit }

// Places is the number of digits after the point, as written: 2 for 12.50.
func (q Quantity[U]) Places() int { return int(q.num().places) }

// Valid reports whether the unit is one of the kind's constants. Only a conversion of a stray
// number, such as TorqueUnit(99), makes a quantity that isn't; it prints as what it is, refuses
// to be encoded, and compares above everything valid.
func (q Quantity[U]) Valid() bool { return q.unit.kind().has(uint8(q.unit)) }

// In is the quantity in another unit, rounded half-even to at most 34 significant digits and 60
// places; [Quantity.Exact] also says whether that lost anything. In its own unit a quantity stays
// as written; in another it has no trailing zeros.
func (q Quantity[U]) In(unit U) Quantity[U] {
	q, _ = q.Exact(unit)
	return q
}

// Exact is In, and whether the result is exactly the same quantity.
func (q Quantity[U]) Exact(unit U) (Quantity[U], bool) {
	if unit == q.unit {
		return q, true
	}
	r, ok := q.unit.kind().ratio(uint8(q.unit), uint8(unit))
	if !ok {
		return Quantity[U]{unit: unit}, false
	}
	n, exact := q.num().scaled(r)
	if q.coef.hi != 0 { // near 10^24 the last digit may round up to it; a number of one word is never so near
		n, exact = unit.kind().within(n, uint8(unit), exact)
	}
	return quantity(n, unit), exact
}

// Round rounds to a number of places in the quantity's own unit; -1 rounds to tens. Fewer places
// than asked come out where the digits would pass 34, and more where the rounded number would pass
// the largest magnitude there is.
func (q Quantity[U]) Round(places int, mode Rounding) Quantity[U] {
	return rounded(q.num(), ratio{num: 1, den: 1}, q.unit, places, mode)
}

// rounded is a·r in a unit. Rounding up can lead past the bound of magnitudes: then as many more
// places are kept as it takes to stay below, and if 34 digits are too few for that, the result is
// the largest whole number of the unit.
func rounded[U Unit](a number, r ratio, unit U, places int, mode Rounding) Quantity[U] {
	k, u := unit.kind(), uint8(unit)
	n, _ := a.scaledTo(r, places, mode)
	for p := clampPlaces(places); k.has(u) && !k.inRange(n, u); p++ {
		if p > maxDigits {
			n, _ = k.within(n, u, false)
			break
		}
		n, _ = a.scaledTo(r, p+1, mode)
	}
	return quantity(n, unit)
}

// RoundIn converts and rounds in one step. Converting first and rounding afterwards would round
// twice, and two roundings can pass a limit that one respects. Places come out as from
// [Quantity.Round].
func (q Quantity[U]) RoundIn(unit U, places int, mode Rounding) Quantity[U] {
	r, ok := q.unit.kind().ratio(uint8(q.unit), uint8(unit))
	if !ok {
		return Quantity[U]{unit: unit}
	}
	return rounded(q.num(), r, unit, places, mode)
}

// Compare is -1, 0 or +1 as q is less than, equal to or greater than r, exactly, whatever the two
// units and however many digits a conversion would take.
func (q Quantity[U]) Compare(r Quantity[U]) int {
	switch {
	case q.coef.hi|r.coef.hi != 0 || (q.scale|r.scale)&negative != 0:
	case q.unit == r.unit && q.scale == r.scale:
		return cmp.Compare(q.coef.lo, r.coef.lo)
	default:
		if f := q.unit.kind().pair(uint8(q.unit), uint8(r.unit)); f != nil {
			if shift := int(r.scale) - int(q.scale) + int(f.exp10); uint(shift+19) < 2*uint(len(pow10))-1 {
				return cmpWords(q.coef.lo, r.coef.lo, f, shift)
			}
		}
	}
	return q.compare(r)
}

// compare is Compare for every size, sign and unit.
func (q Quantity[U]) compare(r Quantity[U]) int {
	factor, ok := q.unit.kind().ratio(uint8(q.unit), uint8(r.unit))
	if !ok {
		if order := -boolCompare(q.Valid(), r.Valid()); order != 0 || q.unit != r.unit {
			return cmp.Or(order, cmp.Compare(q.unit, r.unit))
		}
	}
	return q.num().cmpScaled(r.num(), factor)
}

func boolCompare(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return +1
	}
	return -1
}

// Equal reports whether the two are the same quantity: 1 ft-lb equals 12 in-lb, 12.50 equals 12.5.
func (q Quantity[U]) Equal(r Quantity[U]) bool { return q.Compare(r) == 0 }

// Less reports whether q is smaller than r; it suits slices.SortFunc's older cousins.
func (q Quantity[U]) Less(r Quantity[U]) bool { return q.Compare(r) < 0 }

// Sign is -1, 0 or +1.
func (q Quantity[U]) Sign() int {
	switch {
	case q.coef.isZero():
		return 0
	case q.scale&negative != 0:
		return -1
	}
	return +1
}

// Min is the smallest of one or more quantities, in its own unit; the first of equals.
func Min[U Unit](first Quantity[U], others ...Quantity[U]) Quantity[U] {
	for _, q := range others {
		if q.Less(first) {
			first = q
		}
	}
	return first
}

// Max is the largest of one or more quantities, in its own unit; the first of equals.
func Max[U Unit](first Quantity[U], others ...Quantity[U]) Quantity[U] {
	for _, q := range others {
		if first.Less(q) {
			first = q
		}
	}
	return first
}

// Neg is the quantity with the other sign.
func (q Quantity[U]) Neg() Quantity[U] {
	if !q.coef.isZero() {
		q.scale ^= negative
	}
	return q
}

// Abs is the quantity without its sign.
func (q Quantity[U]) Abs() Quantity[U] {
	q.scale &^= negative
	return q
}

// Add is q + r in q's unit, and whether it is exact. A sum of more than 34 digits is rounded
// half-even; one beyond the range is the largest quantity of its sign.
func (q Quantity[U]) Add(r Quantity[U]) (Quantity[U], bool) {
	if q.unit == r.unit {
		return q.withSum(q.num().plus(r.num()))
	}
	factor, ok := q.unit.kind().ratio(uint8(r.unit), uint8(q.unit))
	if !ok {
		return Quantity[U]{unit: q.unit}, false
	}
	if converted, exact := r.num().scaled(factor); exact {
		return q.withSum(q.num().plus(converted))
	}
	x := factor.rat() // rounded once: the exact sum, not the sum of a rounded part
	x.Mul(x, r.num().rat()).Add(x, q.num().rat())
	return q.withSum(roundRat(x))
}

// withSum keeps a sum within the bounds.
func (q Quantity[U]) withSum(sum number, exact bool) (Quantity[U], bool) {
	if k := q.unit.kind(); k.has(uint8(q.unit)) {
		sum, exact = k.within(sum, uint8(q.unit), exact)
	}
	return quantity(sum, q.unit), exact
}

// Sub is q - r in q's unit, and whether it is exact; see [Quantity.Add].
func (q Quantity[U]) Sub(r Quantity[U]) (Quantity[U], bool) { return q.Add(r.Neg()) }

// Sum adds any number of quantities into one of the given unit, rounding once at the end, and
// says whether the sum is exact.
func Sum[U Unit](unit U, quantities ...Quantity[U]) (Quantity[U], bool) {
	k := unit.kind()
	total, valid := new(big.Rat), k.has(uint8(unit))
	for _, q := range quantities {
		factor, ok := k.ratio(uint8(q.unit), uint8(unit))
		valid = valid && ok
		x := factor.rat()
		total.Add(total, x.Mul(x, q.num().rat()))
	}
	if !valid {
		return Quantity[U]{unit: unit}, false
	}
	return Quantity[U]{unit: unit}.withSum(roundRat(total))
}

// Ratio is q divided by r, exactly; nil where r is zero or a unit is not one of the kind's.
func (q Quantity[U]) Ratio(r Quantity[U]) *big.Rat {
	factor, ok := q.unit.kind().ratio(uint8(q.unit), uint8(r.unit))
	if !ok || r.Sign() == 0 {
		return nil
	}
	x := factor.rat()
	return x.Mul(x, q.num().rat()).Quo(x, r.num().rat())
}

// RatIn is the exact magnitude in a unit, for computations that must not round yet; nil where a
// unit is not one of the kind's.
func (q Quantity[U]) RatIn(unit U) *big.Rat {
	factor, ok := q.unit.kind().ratio(uint8(q.unit), uint8(unit))
	if !ok {
		return nil
	}
	num, den := q.num().fraction(factor, 0)
	if q.num().neg {
		num.Neg(num)
	}
	return new(big.Rat).SetFrac(num, den)
}

// FromRat is the quantity of x units rounded once to a number of places, the way back from
// [Quantity.RatIn]. Asked for more places than there is room for, it keeps what 34 digits and 60 places
// hold; big.Rat's FloatPrec says how many x takes.
//
// Errors: as [New].
func FromRat[U Unit](x *big.Rat, unit U, places int, mode Rounding) (Quantity[U], error) {
	k := unit.kind()
	if !k.has(uint8(unit)) {
		return Quantity[U]{}, k.unknown(uint8(unit))
	}
	if x == nil { // as RatIn gives for a unit that is not one of the kind's
		return Quantity[U]{}, k.unfit(uint8(unit), "nil", "no number", "a fraction")
	}
	n, ok := roundRatTo(x, places, mode)
	if !ok || !k.inRange(n, uint8(unit)) {
		return Quantity[U]{}, k.unfit(uint8(unit), about(x), "too large", k.bounds())
	}
	return quantity(n, unit), nil
}

// about is what an error quotes of a fraction.
func about(x *big.Rat) string {
	f, _ := x.Float64()
	return strconv.FormatFloat(f, 'g', 6, 64)
}

// Float64 is the magnitude in a unit as the nearest double, for plots and statistics; no verdict
// may rest on it. NaN where a unit is not one of the kind's.
func (q Quantity[U]) Float64(unit U) float64 {
	r, ok := q.unit.kind().ratio(uint8(q.unit), uint8(unit))
	if !ok {
		return nan()
	}
	if r == (ratio{num: 1, den: 1}) {
		return q.num().float64()
	}
	f, _ := q.RatIn(unit).Float64()
	return f
}

// All ranges over the units of a kind, in the order of their constants.
func All[U Unit]() iter.Seq[U] {
	return func(yield func(U) bool) {
		var first U
		for i := range first.kind().rows {
			if !yield(U(i)) {
				return
			}
		}
	}
}

// Factor is how many of unit to make one of unit from, exactly; nil where either isn't one of the
// kind's.
func Factor[U Unit](from, to U) *big.Rat {
	r, ok := from.kind().ratio(uint8(from), uint8(to))
	if !ok {
		return nil
	}
	return r.rat()
}

// String is the number and the unit's symbol: "145 in-lb".
func (q Quantity[U]) String() string {
	var buf [48]byte
	return string(q.append(buf[:0]))
}

func (q Quantity[U]) append(dst []byte) []byte {
	return appendSymbol(q.num().appendTo(dst), q.unit.String())
}
