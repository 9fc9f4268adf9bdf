package units

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"example.com/snugturn/internal/rational"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func drawTorque(t *rapid.T, label string) Torque {
	unit := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, label+" unit"))
	n := drawNumber(t, label)
	if !torqueKind.inRange(n, uint8(unit)) {
		n.places = 60
	}
	return quantity(n, unit)
}

func exactly(t require.TestingT, q Torque) *big.Rat {
	x := q.RatIn(NewtonMetre)
	require.NotNil(t, x)
	return x
}

// 220 to 310 in-lb: common practice, no source; the arithmetic follows from the inch, the pound
// and standard gravity.
func TestInwardRounding(t *testing.T) {
	low, high := InchPound.Of(220), InchPound.Of(310)
	assert.Equal(t, "24.856662386075674 N·m", low.In(NewtonMetre).String())
	assert.Equal(t, "35.025296998561177 N·m", high.In(NewtonMetre).String())
	for _, c := range []struct {
		unit                TorqueUnit
		places              int
		least, most         string
		nearLeast, nearMost string
	}{
		{NewtonMetre, 2, "24.86 N·m", "35.02 N·m", "24.86 N·m", "35.03 N·m"},
		{FootPound, 1, "18.4 ft-lb", "25.8 ft-lb", "18.3 ft-lb", "25.8 ft-lb"},
		{FootPound, 0, "19 ft-lb", "25 ft-lb", "18 ft-lb", "26 ft-lb"},
	} {
		assert.Equal(t, c.least, low.RoundIn(c.unit, c.places, ToPositiveInf).String())
		assert.Equal(t, c.most, high.RoundIn(c.unit, c.places, ToNegativeInf).String())
		assert.Equal(t, c.nearLeast, low.RoundIn(c.unit, c.places, ToNearestEven).String())
		assert.Equal(t, c.nearMost, high.RoundIn(c.unit, c.places, ToNearestEven).String())
	}
	// 11 ± 0.3 mm in inches, for which .421 and .445 are printed as the wrong, nearest values; .422 and
	// .444 follow from the rule. Source: ieee-268.
	least, most := MustParseLength("10.7 mm"), MustParseLength("11.3 mm")
	assert.Equal(t, "0.422 in", least.RoundIn(Inch, 3, ToPositiveInf).String())
	assert.Equal(t, "0.444 in", most.RoundIn(Inch, 3, ToNegativeInf).String())
	assert.Equal(t, "0.421 in", least.RoundIn(Inch, 3, ToNearestEven).String())
	assert.Equal(t, "0.445 in", most.RoundIn(Inch, 3, ToNearestEven).String())
}

func TestRoundedHalvesGoToEven(t *testing.T) {
	for _, c := range []struct {
		text   string
		places int
		want   string
	}{
		{"6.9749515 N·m", 6, "6.974952 N·m"}, // Source: nist-sp811-b7.
		{"6.9749505 N·m", 6, "6.974950 N·m"},
		{"6.9749515 N·m", 2, "6.97 N·m"},
		{"6.9749515 N·m", 4, "6.9750 N·m"},
		{"45.7500 N·m", 1, "45.8 N·m"}, // Source: astm-e29.
		{"45.4500 N·m", 1, "45.4 N·m"},
		{"45.45001 N·m", 1, "45.5 N·m"},
		{"3.015 N·m", 2, "3.02 N·m"},
		{"3.045 N·m", 2, "3.04 N·m"},
		{"3.04501 N·m", 2, "3.05 N·m"},
		{"-3.045 N·m", 2, "-3.04 N·m"},
		{"15 N·m", -1, "20 N·m"},
		{"25 N·m", -1, "20 N·m"},
		{"3 N·m", 2, "3.00 N·m"},
		{"0.4 N·m", 0, "0 N·m"},
		{"-0.4 N·m", 0, "0 N·m"},
		{"3 N·m", math.MaxInt, "3.000000000000000000000000000000000 N·m"},
		{"3 N·m", math.MinInt, "0 N·m"},
	} {
		assert.Equal(t, c.want, MustParseTorque(c.text).Round(c.places, ToNearestEven).String(), c.text)
	}
	q := MustParseTorque("1 N·m")
	assert.Equal(t, "1"+"00000000000000000000000 N·m", q.Round(math.MinInt, ToPositiveInf).String())
	assert.Equal(t, "2 N·m", MustParseTorque("1.5 N·m").Round(0, Rounding(77)).String(), "an unknown rounding is half-even")
	assert.Equal(t, "-1 N·m", MustParseTorque("-1.5 N·m").Round(0, ToPositiveInf).String())
	assert.Equal(t, "-2 N·m", MustParseTorque("-1.5 N·m").Round(0, ToNegativeInf).String())
}

func TestPlacesAreKept(t *testing.T) {
	q := MustParseTorque("12.50 N·m")
	assert.Equal(t, 2, q.Places())
	assert.Equal(t, "12.50 N·m", q.In(NewtonMetre).String())
	assert.Equal(t, "125 dN·m", q.In(DecinewtonMetre).String())
	assert.Equal(t, int32(-2), q.Magnitude().Exponent())
	assert.True(t, q.Equal(MustParseTorque("12.5 N·m")))
}

func TestZeroValue(t *testing.T) {
	var q Torque
	assert.Equal(t, "0 N·m", q.String())
	assert.True(t, q.Valid())
	assert.True(t, q.Equal(InchPound.Of(0)))
	assert.Zero(t, q.Sign())
	assert.Nil(t, InchPound.Of(1).Ratio(q))
}

func TestNewRefuses(t *testing.T) {
	for _, d := range []decimal.Decimal{
		decimal.New(1, 1e8), decimal.New(1, -1e8), decimal.New(1, 24), decimal.New(1, -61),
		decimal.RequireFromString("12345678901234567890123456789012345"),
	} {
		_, err := New(d, NewtonMetre)
		var magnitude *ParseError
		require.ErrorAs(t, err, &magnitude)
		assert.ErrorIs(t, err, ErrRange)
		assert.Less(t, len(err.Error()), 300)
		_, err = NewTemperature(d, Celsius)
		assert.ErrorIs(t, err, ErrRange)
	}
	_, err := New(decimal.New(1, 0), TorqueUnit(99))
	var unit *ParseError
	require.ErrorAs(t, err, &unit)
	assert.ErrorIs(t, err, ErrUnknownUnit)
	assert.Equal(t, "TorqueUnit(99)", unit.Input)
	_, err = NewTemperature(decimal.New(1, 0), TemperatureScale(9))
	assert.ErrorIs(t, err, ErrUnknownUnit)
	_, err = NewTemperature(decimal.New(-300, 0), Celsius)
	assert.ErrorIs(t, err, ErrRange)
	_, err = FromRat(nil, NewtonMetre, 2, ToNearestEven)
	assert.ErrorIs(t, err, ErrRange)
	_, err = FromRat(nil, NewtonMetre, rational.Places(nil), ToNearestEven)
	assert.ErrorIs(t, err, ErrRange)
	_, err = FromRat(new(big.Rat).SetInt(pow10big(24)), NewtonMetre, 0, ToNearestEven)
	assert.ErrorIs(t, err, ErrRange)
	_, err = FromRat(big.NewRat(1, 3), TorqueUnit(99), 2, ToNearestEven)
	assert.ErrorIs(t, err, ErrUnknownUnit)
}

// A unit out of range prints as what it is, compares above everything valid, and panics nowhere.
func TestUnitOutOfRange(t *testing.T) {
	bad := TorqueUnit(99).Of(5)
	assert.Equal(t, "5 TorqueUnit(99)", bad.String())
	assert.False(t, bad.Valid())
	assert.Equal(t, +1, bad.Compare(NewtonMetre.Of(1000)))
	assert.Equal(t, -1, NewtonMetre.Of(1000).Compare(bad))
	assert.Equal(t, +1, bad.Compare(TorqueUnit(98).Of(5)))
	assert.Zero(t, bad.Compare(bad))
	assert.Nil(t, bad.RatIn(NewtonMetre))
	assert.Nil(t, bad.Ratio(NewtonMetre.Of(1)))
	assert.Nil(t, Factor(NewtonMetre, TorqueUnit(99)))
	assert.True(t, math.IsNaN(bad.Float64(NewtonMetre)))
	_, exact := bad.Exact(NewtonMetre)
	assert.False(t, exact)
	_, exact = NewtonMetre.Of(1).Add(bad)
	assert.False(t, exact)
	_, exact = Sum(NewtonMetre, bad)
	assert.False(t, exact)
	assert.Equal(t, "0 TorqueUnit(99)", NewtonMetre.Of(1).RoundIn(TorqueUnit(99), 2, ToNearestEven).String())
}

func TestWholeNumbersOfUnits(t *testing.T) {
	assert.Equal(t, "-9223372036854775808 N·m", NewtonMetre.Of(math.MinInt64).String())
	assert.Equal(t, "9223372036854775807 N·m", NewtonMetre.Of(math.MaxInt64).String())
	assert.Equal(t, "-5 in-lb", InchPound.Of(-5).String())
}

// Equal quantities in two units, and their neighbours by one digit, are where a comparison can go wrong.
func TestCompareNearlyEqualQuantities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "unit")).Of(rapid.Int64Range(-1e6, 1e6).Draw(t, "n"))
		unit := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "other unit"))
		near := whole.RoundIn(unit, rapid.IntRange(0, 18).Draw(t, "places"), drawMode(t))
		require.Equal(t, exactly(t, whole).Cmp(exactly(t, near)), whole.Compare(near))
		require.Equal(t, whole.compare(near), whole.Compare(near))
	})
}

func TestCompareAcrossUnits(t *testing.T) {
	assert.True(t, FootPound.Of(1).Equal(InchPound.Of(12)))
	assert.True(t, InchPound.Of(1).Equal(InchOunce.Of(16)))
	assert.True(t, Revolution.Of(1).Equal(Degree.Of(360)))
	assert.True(t, USGallon.Of(1).Equal(CubicInch.Of(231)))
	assert.True(t, ImperialGallon.Of(1).Equal(ImperialFluidOunce.Of(160)))
	assert.True(t, NewtonMetre.Of(-5).Less(NewtonMetre.Of(5)))
	assert.Equal(t, -1, NewtonMetre.Of(-5).Compare(InchPound.Of(5)))
	assert.Equal(t, +1, NewtonMetre.Of(5).Compare(InchPound.Of(-5)))
	rapid.Check(t, func(t *rapid.T) {
		p, q, r := drawTorque(t, "p"), drawTorque(t, "q"), drawTorque(t, "r")
		require.Equal(t, exactly(t, p).Cmp(exactly(t, q)), p.Compare(q))
		require.Equal(t, p.compare(q), p.Compare(q), "the short way and the long one")
		require.Equal(t, -q.Compare(p), p.Compare(q), "antisymmetric")
		if p.Compare(q) <= 0 && q.Compare(r) <= 0 {
			require.LessOrEqual(t, p.Compare(r), 0, "transitive")
		}
		require.Zero(t, Min(p, q, r).Compare(Min(r, q, p)))
		require.Zero(t, Max(p, q, r).Compare(Max(r, q, p)))
	})
}

func TestConversionThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawTorque(t, "q")
		unit := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "unit"))
		there, exact := q.Exact(unit)
		back, backExact := there.Exact(q.Unit())
		require.Equal(t, exact, there.Equal(q))
		if exact {
			require.True(t, backExact)
			require.True(t, back.Equal(q))
			return
		}
		// Within 6 units of the 34th digit, unless 60 places of kN·m or of in-oz end before it.
		gap := exactly(t, back)
		gap.Sub(gap, exactly(t, q)).Abs(gap)
		unitOfLast := new(big.Rat).Quo(new(big.Rat).Abs(exactly(t, q)), new(big.Rat).SetInt(pow10big(maxDigits-1)))
		floor := new(big.Rat).SetFrac(big.NewInt(1000), pow10big(maxPlaces))
		bound := unitOfLast.Mul(unitOfLast, big.NewRat(6, 1))
		if bound.Cmp(floor) < 0 {
			bound = floor
		}
		require.LessOrEqual(t, gap.Cmp(bound), 0)
	})
}

func TestRoundingInwardNeverLeavesTheBand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low, unit := drawTorque(t, "low"), TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "unit"))
		places := rapid.IntRange(-5, 20).Draw(t, "places")
		require.GreaterOrEqual(t, low.RoundIn(unit, places, ToPositiveInf).Compare(low), 0)
		require.LessOrEqual(t, low.RoundIn(unit, places, ToNegativeInf).Compare(low), 0)
		exact, err := FromRat(low.RatIn(unit), unit, places, ToPositiveInf)
		if err == nil {
			require.Equal(t, low.RoundIn(unit, places, ToPositiveInf).num(), exact.num())
		}
	})
}

// FromRat gives back the digits a quantity has, without its spare zeros, and goes no farther than one
// unit of the 34th digit where no decimal is exact.
func TestFromRatTakesAsManyPlacesAsItNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, mode := drawTorque(t, "q"), drawMode(t)
		x := q.RatIn(q.Unit())
		exact, err := FromRat(x, q.Unit(), rational.Places(x), mode)
		require.NoError(t, err)
		require.Equal(t, q.num().trim(), exact.num())

		x.Quo(x, big.NewRat(rapid.Int64Range(1, 1e6).Draw(t, "parts"), 1))
		near, err := FromRat(x, q.Unit(), rational.Places(x), mode)
		require.NoError(t, err)
		asked, err := FromRat(x, q.Unit(), maxPlaces, mode)
		require.NoError(t, err)
		require.True(t, near.Equal(asked), "%s and %s", near, asked)
		if places, ends := x.FloatPrec(); ends && near.RatIn(q.Unit()).Cmp(x) == 0 {
			require.Equal(t, places, near.Places())
		}
	})
}

func TestSumsTellExactnessTruly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawTorque(t, "p"), drawTorque(t, "q")
		want := exactly(t, p)
		want.Add(want, exactly(t, q))
		sum, exact := p.Add(q)
		require.Equal(t, exact, exactly(t, sum).Cmp(want) == 0)
		require.Equal(t, p.Unit(), sum.Unit())
		total, exact := Sum(p.Unit(), p, q)
		require.Equal(t, exact, exactly(t, total).Cmp(want) == 0)
		require.Zero(t, total.Compare(sum))
		want = exactly(t, p)
		want.Sub(want, exactly(t, q))
		difference, exact := p.Sub(q)
		require.Equal(t, exact, exactly(t, difference).Cmp(want) == 0)
		if q.Sign() != 0 {
			require.Zero(t, p.Ratio(q).Cmp(new(big.Rat).Quo(exactly(t, p), exactly(t, q))))
		}
	})
}

// Doubling for ever stays within the bounds, says that it is no longer exact, and still converts.
// Text that is written reads back, at the ends of the range too; and a rounding that finds no room
// where it was sent keeps its direction.
func TestRoundingsStayInRange(t *testing.T) {
	const top = "999999999999999999999999.5 N·m"
	q := MustParseTorque(top)
	assert.Equal(t, top, q.Round(0, ToPositiveInf).String())
	assert.Equal(t, "-"+top, q.Neg().Round(0, ToNegativeInf).String())
	assert.Equal(t, "999999999999999999999999 N·m", q.Round(0, ToNegativeInf).String())
	assert.Equal(t, top, q.Round(0, ToNearestEven).String(), "the even neighbour is 10^24")
	for u := range All[TorqueUnit]() {
		there := MustParseTorque("999999999999999999999999.9999999999 N·m").In(u)
		assert.Equal(t, there.String(), MustParseTorque(there.String()).String())
		back := there.In(NewtonMetre)
		assert.Equal(t, back.String(), MustParseTorque(back.String()).String())
	}
	assert.Equal(t, "999999999999999999 MPa", megapascal.Of(math.MaxInt64).String())
	assert.Equal(t, "-999999999999999999 MPa", megapascal.Of(math.MinInt64).String())
	assert.Equal(t, "-9223372036854775808 bar", Bar.Of(math.MinInt64).String())
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.StringMatching(`-?(9{20,24}|[1-9][0-9]{20,25})(\.(9{1,10}|[0-9]{1,10}))?`).Draw(t, "digits")
		unit, to := rapid.Custom(torqueUnit).Draw(t, "unit"), rapid.Custom(torqueUnit).Draw(t, "to")
		q, err := ParseTorque(digits + " " + unit.String())
		if err != nil {
			return
		}
		places, mode := rapid.IntRange(-30, 12).Draw(t, "places"), Rounding(rapid.IntRange(0, 2).Draw(t, "mode"))
		for _, r := range []Torque{q.In(to), q.In(to).In(unit), q.Round(places, mode), q.RoundIn(to, places, mode)} {
			back, err := ParseTorque(r.String())
			require.NoError(t, err)
			require.Equal(t, r.num(), back.num())
		}
		if r := q.Round(places, mode); mode == ToPositiveInf {
			require.GreaterOrEqual(t, r.Compare(q), 0)
		} else if mode == ToNegativeInf {
			require.LessOrEqual(t, r.Compare(q), 0)
		}
	})
}

func torqueUnit(t *rapid.T) TorqueUnit {
	return TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "row"))
}

// A temperature that nobody took is none: it isn't 0 °C, and lies above all that were taken.
func TestZeroTemperatureIsNone(t *testing.T) {
	none, stray := Temperature{}, TemperatureScale(9).Of(5)
	for _, bad := range []Temperature{none, stray} {
		assert.False(t, bad.Valid())
		assert.Nil(t, bad.RatIn(Celsius))
		assert.Equal(t, none, bad.In(Celsius))
		assert.Equal(t, none, bad.RoundIn(Fahrenheit, 1, ToNearestEven))
		for _, valid := range []Temperature{Celsius.Of(0), Kelvin.Of(0), MustParseTemperature("999999999999999999999999 °F")} {
			assert.Equal(t, +1, bad.Compare(valid))
			assert.Equal(t, -1, valid.Compare(bad))
			assert.False(t, bad.Less(valid))
			_, exact := valid.Sub(bad)
			assert.False(t, exact)
			_, exact = bad.Sub(valid)
			assert.False(t, exact)
		}
		warmer, exact := bad.Add(KelvinDifference.Of(5))
		assert.False(t, exact)
		assert.False(t, warmer.Valid())
		_, err := bad.MarshalText()
		assert.ErrorIs(t, err, ErrUnknownUnit)
		_, err = bad.MarshalJSON()
		assert.ErrorIs(t, err, ErrUnknownUnit)
	}
	assert.True(t, none.Equal(Temperature{}))
	assert.Nil(t, Celsius.Of(1).RatIn(TemperatureScale(9)))
	assert.Equal(t, "no temperature, no temperature, units.Temperature{}", fmt.Sprintf("%v, %.2f, %#v", none, none, none))
}

// The fast ways to compare and to see absolute zero answer as fractions do, near ties too.
func TestTemperaturesCompareAsFractionsDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scale := func(label string) TemperatureScale { return TemperatureScale(rapid.IntRange(0, 2).Draw(t, label)) }
		a := temperature(drawNumber(t, "a"), scale("scale of a"))
		b := temperature(drawNumber(t, "b"), scale("scale of b"))
		near := a.RoundIn(b.Scale(), rapid.IntRange(0, 60).Draw(t, "places"), drawMode(t))
		for _, u := range []Temperature{b, near} {
			require.Equal(t, a.absolute().Cmp(u.absolute()), a.Compare(u), "%s and %s", a, u)
			require.Equal(t, u.absolute().Sign() < 0, u.belowZero(), "%s", u)
		}
		require.Equal(t, a.absolute().Sign() < 0, a.belowZero(), "%s", a)
	})
}

func TestTemperaturesStayInRange(t *testing.T) {
	for _, mode := range []Rounding{ToNearestEven, ToPositiveInf, ToNegativeInf} {
		assert.Equal(t, "-273 °C", Kelvin.Of(0).RoundIn(Celsius, 0, mode).String())
		assert.Equal(t, "-459 °F", Kelvin.Of(0).RoundIn(Fahrenheit, 0, mode).String())
		assert.Equal(t, "-273.15 °C", Kelvin.Of(0).RoundIn(Celsius, 2, mode).String())
	}
	assert.Equal(t, "-273 °C", MustParseTemperature("0.4 K").RoundIn(Celsius, 0, ToNegativeInf).String(), "-272.75 °C, as asked")
	assert.Equal(t, "999999999999999999999999 °F", MustParseTemperature("999999999999999999999999 °C").In(Fahrenheit).String())
	assert.Equal(t, "999999999999999999999999 °F", MustParseTemperature("999999999999999999999999 °C").RoundIn(Fahrenheit, 0, ToPositiveInf).String())
	assert.False(t, TemperatureScale(9).Of(5).In(TemperatureScale(9)).Valid())
}

func TestSumsStayInRange(t *testing.T) {
	for _, unit := range []MassUnit{Tonne, LongTon, Kilogram, Ounce} {
		for _, q := range []Mass{unit.Of(math.MaxInt64), unit.Of(math.MinInt64)} {
			exact := true
			for range 200 {
				q, exact = q.Add(q)
			}
			assert.False(t, exact)
			assert.True(t, massKind.inRange(q.num(), uint8(q.unit)))
			for to := range All[MassUnit]() {
				assert.True(t, q.In(to).num().coef.less(pow10wide[maxDigits]))
				assert.Equal(t, q.Sign(), q.In(to).Sign())
			}
			sum, exact := Sum(Ounce, q, q)
			assert.False(t, exact)
			assert.True(t, massKind.inRange(sum.num(), uint8(Ounce)))
		}
	}
}

func TestFloat64(t *testing.T) {
	// 220 in-lb: common practice, no source; the double is computed.
	assert.Equal(t, 24.856662386075674, InchPound.Of(220).Float64(NewtonMetre))
	assert.Equal(t, -0.5, MustParseTorque("-0.5 N·m").Float64(NewtonMetre))
	rapid.Check(t, func(t *rapid.T) {
		q, unit := drawTorque(t, "q"), TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "unit"))
		want, _ := q.RatIn(unit).Float64()
		require.Equal(t, want, q.Float64(unit))
	})
}

// Pairs by t/°C = (t/°F - 32)/1.8. Source: nist-sp811-b8.
func TestTemperature(t *testing.T) {
	for _, c := range []struct{ a, b string }{
		{"32 °F", "0 °C"}, {"212 °F", "100 °C"}, {"-40 °F", "-40 °C"}, {"0 °C", "273.15 K"},
		{"-459.67 °F", "0 K"}, {"-273.15 °C", "0 K"}, {"60 °C", "140 °F"},
	} {
		a, b := MustParseTemperature(c.a), MustParseTemperature(c.b)
		assert.True(t, a.Equal(b), c.a)
		assert.Equal(t, c.b, a.In(b.Scale()).String())
		assert.Equal(t, c.a, b.In(a.Scale()).String())
	}
	sixty := MustParseTemperature("60 °F")
	assert.Equal(t, "15.56 °C", sixty.RoundIn(Celsius, 2, ToNearestEven).String())
	assert.Equal(t, "15.55 °C", sixty.RoundIn(Celsius, 2, ToNegativeInf).String())
	assert.Equal(t, "140/9", sixty.RatIn(Celsius).String())
	warmer, exact := sixty.Add(MustParse[TemperatureDifferenceUnit]("5 °C"))
	assert.True(t, exact)
	assert.Equal(t, "69 °F", warmer.String())
	gap, exact := MustParseTemperature("100 °C").Sub(MustParseTemperature("32 °F"))
	assert.True(t, exact)
	assert.Equal(t, "100 °C", gap.String())
	gap, exact = MustParseTemperature("300 K").Sub(MustParseTemperature("32 °F"))
	assert.True(t, exact)
	assert.Equal(t, "26.85 K", gap.String())
	_, exact = sixty.Add(TemperatureDifferenceUnit(9).Of(1))
	assert.False(t, exact)
	for _, c := range []struct{ from, by, want string }{
		{"0 °C", "-273.15 K", "-273.15 °C true"},
		{"0 °C", "-273.16 K", "-273.15 °C false"},
		{"60 °F", "-1000 °C", "-459.67 °F false"},
		{"1 K", "-1 K", "0 K true"},
		{"999999999999999999999999 °C", "1 K", "999999999999999999999999 °C false"},
	} {
		sum, exact := MustParseTemperature(c.from).Add(MustParse[TemperatureDifferenceUnit](c.by))
		assert.Equal(t, c.want, fmt.Sprint(sum, exact), "%s and %s", c.from, c.by)
	}
	assert.True(t, Celsius.Of(15).Less(sixty))
	assert.Equal(t, "-300 °C", Celsius.Of(-300).String())
	assert.Equal(t, "5 TemperatureScale(9)", TemperatureScale(9).Of(5).String())
}
