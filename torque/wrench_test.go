package torque

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

func percent(text string) units.Share { return units.MustParseShare(text + " %") }

// shopWrench is invented.
func shopWrench() Wrench {
	return Wrench{
		Lowest: units.NewtonMetre.Of(10), Highest: units.NewtonMetre.Of(100), Step: units.MustParseTorque("0.5 N·m"),
		Deviation: percent("4"), Length: units.Millimetre.Of(350),
	}
}

func TestPiAgainstMachin(t *testing.T) {
	// Machin 1706: π = 16·atan(1/5) - 4·atan(1/239), summed in exact fractions; the alternating
	// series stays within its first omitted term.
	atan := func(k int64) (lo, hi *big.Rat) {
		sum := new(big.Rat)
		power := big.NewRat(1, k)
		square := big.NewRat(1, k*k)
		for n := int64(0); n < 50; n++ {
			term := new(big.Rat).Quo(power, big.NewRat(2*n+1, 1))
			if n%2 == 1 {
				term.Neg(term)
			}
			sum.Add(sum, term)
			power = new(big.Rat).Mul(power, square)
		}
		next := new(big.Rat).Quo(power, big.NewRat(101, 1))
		return sum, new(big.Rat).Add(sum, next)
	}
	aLo, aHi := atan(5)
	bLo, bHi := atan(239)
	lo := new(big.Rat).Sub(new(big.Rat).Mul(big.NewRat(16, 1), aLo), new(big.Rat).Mul(big.NewRat(4, 1), bHi))
	hi := new(big.Rat).Sub(new(big.Rat).Mul(big.NewRat(16, 1), aHi), new(big.Rat).Mul(big.NewRat(4, 1), bLo))
	from := new(big.Rat).Mul(degree.lo, straight)
	to := new(big.Rat).Mul(degree.hi, straight)
	if from.Cmp(lo) > 0 || to.Cmp(hi) < 0 {
		t.Errorf("π in [%s, %s] is not in [%s, %s]", lo.FloatString(65), hi.FloatString(65), from.FloatString(65), to.FloatString(65))
	}
}

func TestCosineIsExactWhereItCanBe(t *testing.T) {
	for degrees, want := range map[int64]*big.Rat{
		0: big.NewRat(1, 1), 60: big.NewRat(1, 2), 90: new(big.Rat), 120: big.NewRat(-1, 2), 180: big.NewRat(-1, 1),
		240: big.NewRat(-1, 2), 270: new(big.Rat), 300: big.NewRat(1, 2), 360: big.NewRat(1, 1), -60: big.NewRat(1, 2),
		-90: new(big.Rat), -120: big.NewRat(-1, 2), 720: big.NewRat(1, 1), 780: big.NewRat(1, 2),
	} {
		c := cosine(big.NewRat(degrees, 1))
		if c.lo.Cmp(want) != 0 || c.hi.Cmp(want) != 0 {
			t.Errorf("cos %d° in [%v, %v], want %v", degrees, c.lo, c.hi, want)
		}
	}
}

// The enclosure must satisfy what is known of cosines without computing one: cos 45° and cos 30°
// square to 1/2 and 3/4, and cos 2x = 2·cos² x - 1.
func TestCosineEnclosure(t *testing.T) {
	width := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(55), nil))
	for degrees, square := range map[int64]*big.Rat{45: big.NewRat(1, 2), 30: big.NewRat(3, 4), 135: big.NewRat(1, 2), 150: big.NewRat(3, 4)} {
		c := cosine(big.NewRat(degrees, 1))
		lo, hi := new(big.Rat).Mul(c.lo, c.lo), new(big.Rat).Mul(c.hi, c.hi)
		if degrees > 90 {
			lo, hi = hi, lo
		}
		if lo.Cmp(square) >= 0 || hi.Cmp(square) <= 0 {
			t.Errorf("cos² %d° in [%s, %s]", degrees, lo.FloatString(60), hi.FloatString(60))
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		x := big.NewRat(r.Int64N(720_000_000)-360_000_000, 1_000_000)
		c := cosine(x)
		if w := new(big.Rat).Sub(c.hi, c.lo); w.Sign() < 0 || w.Cmp(width) > 0 {
			t.Fatalf("cos %v is known to %s only", x, w.FloatString(60))
		}
		f, _ := x.Float64()
		lo, _ := c.lo.Float64()
		if math.Abs(lo-math.Cos(f*math.Pi/180)) > 1e-14 {
			t.Fatalf("cos %v = %v, math.Cos says %v", x, lo, math.Cos(f*math.Pi/180))
		}
		twice := cosine(new(big.Rat).Mul(x, two))
		a, b := new(big.Rat).Mul(c.lo, c.lo), new(big.Rat).Mul(c.hi, c.hi)
		low, high := a, b
		if a.Cmp(b) > 0 {
			low, high = b, a
		}
		low.Mul(low, two).Sub(low, one)
		high.Mul(high, two).Sub(high, one)
		if low.Cmp(twice.hi) > 0 || high.Cmp(twice.lo) < 0 {
			t.Fatalf("2·cos² %v - 1 in [%s, %s] misses cos 2x in [%s, %s]", x, low.FloatString(60), high.FloatString(60), twice.lo.FloatString(60), twice.hi.FloatString(60))
		}
	}
}

// The published examples, and others worked by the formula of one of them, which has the angle.
// Sources: ac-43-13-fig, tm-9-2350-277, tm-5-3805-274, tm-9-254, tm-1-1500-204, tm-5-3810-305.
func TestIndicated(t *testing.T) {
	for _, c := range []struct {
		wanted, length, offset, angle string
		places                        int
		want, source                  string
	}{
		{"135 in-lb", "10 in", "1.5 in", "0°", 2, "117.39 in-lb", "ac-43-13-fig"},
		{"135 in-lb", "10 in", "-1.5 in", "0°", 2, "158.82 in-lb", "ac-43-13-fig"},
		{"135 in-lb", "10 in", "1.5 in", "180°", 2, "158.82 in-lb", "the same, turned round"},
		{"40 lb-ft", "12 in", "4 in", "0°", 4, "30.0000 ft-lb", "tm-9-2350-277"},
		{"19 lb-ft", "22 in", "3 in", "0°", 0, "17 ft-lb", "tm-5-3805-274, to the whole lb-ft it prints"},
		{"300 in-lb", "10 in", "4 in", "0°", 0, "214 in-lb", "tm-1-1500-204, to the whole in-lb it prints"},
		{"300 ft-lb", "18 in", "6 in", "0°", 4, "225.0000 ft-lb", "tm-5-3810-305"},
		{"70 in-lb", "12 in", "2 in", "0°", 4, "60.0000 in-lb", "a published example, the other way round"},
		{"19 lb-ft", "22 in", "3 in", "0°", 2, "16.72 ft-lb", "computed: 19·22/25"},
		{"25.8 N·m", "22 in", "3 in", "0°", 1, "22.7 N·m", "computed: 25.8·22/25; tm-5-3805-274 prints 23.0, which is 17 lb-ft converted"},
		{"100 ft-lb", "12 in", "6 in", "0°", 3, "66.667 ft-lb", "computed by the formula of tm-9-254"},
		{"100 ft-lb", "12 in", "6 in", "45°", 3, "73.880 ft-lb", "the same"},
		{"100 ft-lb", "12 in", "6 in", "60°", 3, "80.000 ft-lb", "the same"},
		{"100 ft-lb", "12 in", "6 in", "90°", 3, "100.000 ft-lb", "the same"},
		{"100 ft-lb", "12 in", "6 in", "180°", 3, "200.000 ft-lb", "the same"},
		{"100 ft-lb", "12 in", "6 in", "-60°", 3, "80.000 ft-lb", "either side alike"},
		{"100 ft-lb", "12 in", "6 in", "0.5 rev", 3, "200.000 ft-lb", "half a turn"},
		{"100 ft-lb", "0 in", "0 in", "37°", 0, "100 ft-lb", "a concentric extension changes nothing (common practice, no source)"},
		{"100 ft-lb", "0 in", "6 in", "90°", 0, "100 ft-lb", "no lever needed at 90°"},
	} {
		a := Adapter{Offset: units.MustParseLength(c.offset), Angle: units.MustParse[units.AngleUnit](c.angle)}
		got, err := Indicated(units.MustParseTorque(c.wanted), units.MustParseLength(c.length), a)
		if err != nil || got.Round(c.places, units.ToNearestEven).String() != c.want {
			t.Errorf("%v: %v, %v; want %v (%s)", c.wanted, got, err, c.want, c.source)
			continue
		}
		back, err := Delivered(got, units.MustParseLength(c.length), a)
		if err != nil || !back.Round(25, units.ToNearestEven).Equal(units.MustParseTorque(c.wanted)) {
			t.Errorf("%v delivers %v, %v", got, back, err)
		}
	}
	exact, err := Indicated(units.FootPound.Of(40), units.Inch.Of(12), Adapter{Offset: units.Inch.Of(4)})
	if err != nil || exact.String() != "30 ft-lb" {
		t.Errorf("%v %v", exact, err)
	}
}

func TestIndicatedRefuses(t *testing.T) {
	mm, nm := units.Millimetre.Of, units.NewtonMetre.Of
	for _, c := range []struct {
		wanted units.Torque
		length units.Length
		a      Adapter
		want   error
		says   string
	}{
		{nm(30), mm(0), Adapter{Offset: mm(50)}, units.ErrRange, "strap and chain"},
		{nm(30), mm(100), Adapter{Offset: mm(-100)}, units.ErrRange, "vanishes"},
		{nm(30), mm(100), Adapter{Offset: mm(-200)}, units.ErrRange, "vanishes"},
		{nm(30), mm(100), Adapter{Offset: mm(200), Angle: units.Degree.Of(120)}, units.ErrRange, "vanishes"},
		{nm(30), mm(-100), Adapter{Offset: mm(20)}, units.ErrRange, "below zero"},
		{nm(30), units.LengthUnit(99).Of(3), Adapter{}, units.ErrUnknownUnit, "no unit"},
		{nm(30), mm(100), Adapter{Offset: mm(3), Angle: units.AngleUnit(99).Of(3)}, units.ErrUnknownUnit, "no unit"},
		{nm(-30), mm(100), Adapter{Offset: mm(3)}, units.ErrRange, "below zero"},
		{units.TorqueUnit(99).Of(1), mm(100), Adapter{Offset: mm(3)}, units.ErrUnknownUnit, "no unit"},
	} {
		for _, f := range []func(units.Torque, units.Length, Adapter) (units.Torque, error){Indicated, Delivered} {
			got, err := f(c.wanted, c.length, c.a)
			if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) || got.Sign() != 0 {
				t.Errorf("%v %+v: %v, %v", c.wanted, c.a, got, err)
			}
		}
	}
}

// 220 to 310 in-lb: common practice, no source; the settings are worked by hand.
func TestSet(t *testing.T) {
	b := MustParseBand("220 to 310 in-lb")
	s, err := shopWrench().Set(b, Adapter{})
	if err != nil {
		t.Fatal(err)
	}
	// By hand: 220 in-lb = 24.8567 N·m, 310 in-lb = 35.0253 N·m. 0.96·d - 24.8567 = 35.0253 - d/0.96
	// at d = 29.917; at 30: 28.80 to 31.25 N·m = 254.901 to 276.586 in-lb.
	for what, got := range map[string][2]string{
		"dial":       {s.Dial.String(), "30.0 N·m"},
		"delivered":  {s.Delivered.String(), "265.522 in-lb"},
		"least":      {s.Least.String(), "254.901 in-lb"},
		"most":       {s.Most.String(), "276.586 in-lb"},
		"above low":  {s.AboveLow.String(), "34.901 in-lb"},
		"below high": {s.BelowHigh.String(), "33.414 in-lb"},
	} {
		if got[0] != got[1] {
			t.Errorf("%s %s, want %s", what, got[0], got[1])
		}
	}
}

func TestSetBases(t *testing.T) {
	b := MustParseBand("27 to 33 N·m")
	for _, c := range []struct {
		basis             DeviationBasis
		least, most, dial string
	}{
		{EitherBasis, "28.800 N·m", "31.250 N·m", "30.0 N·m"},
		{OfDial, "28.800 N·m", "31.200 N·m", "30.0 N·m"},
		{OfReference, "28.846 N·m", "31.250 N·m", "30.0 N·m"},
		{Absolute, "28.000 N·m", "32.000 N·m", "30.0 N·m"},
	} {
		w := shopWrench()
		w.DeviationBasis, w.AbsoluteDeviation = c.basis, units.NewtonMetre.Of(2)
		s, err := w.Set(b, Adapter{})
		if err != nil || s.Dial.String() != c.dial || s.Least.String() != c.least || s.Most.String() != c.most {
			t.Errorf("%v: %+v %v", c.basis, s, err)
		}
	}
	w := shopWrench()
	w.DeviationBasis, w.Deviation = OfFullScale, percent("2")
	if s, err := w.Set(b, Adapter{}); err != nil || s.Least.String() != "28.000 N·m" || s.Most.String() != "32.000 N·m" {
		t.Errorf("%+v %v", s, err)
	}
}

// 220 to 310 in-lb: common practice, no source; the settings are worked by hand.
func TestSetWithAdapter(t *testing.T) {
	w, b := shopWrench(), MustParseBand("220 to 310 in-lb")
	crowfoot := Adapter{Offset: units.Millimetre.Of(50)}
	s, err := w.Set(b, crowfoot)
	// 30/(400/350) = 26.2, so the step below or above; 26.0 delivers 29.714 N·m = 262.993 in-lb.
	if err != nil || s.Dial.String() != "26.0 N·m" || s.Delivered.String() != "262.994 in-lb" {
		t.Errorf("%+v %v", s, err)
	}
	crowfoot.Angle = units.Degree.Of(90)
	square, err := w.Set(b, crowfoot)
	if err != nil || square.Dial.String() != "30.0 N·m" {
		t.Errorf("%+v %v", square, err)
	}
	crowfoot.Angle = units.Degree.Of(0)
	w.LengthTolerance = units.Millimetre.Of(20)
	loose, err := w.Set(b, crowfoot)
	if err != nil || !loose.Least.Less(s.Least) || !s.Most.Less(loose.Most) {
		t.Errorf("a hand that may slip widens what is delivered: %+v %v", loose, err)
	}
}

// 40 lb-ft through a 12 in wrench and a 4 in adapter straight on reads 30. Source: tm-9-2350-277.
// The rest is worked by hand: 117.39 of a scale in fives is 115, 30.25 of one in halves the lower of
// 30.0 and 30.5; ±4 % of dial or reference at 30 is 28.8 to 31.25.
func TestNearest(t *testing.T) {
	lbft := Wrench{Lowest: units.FootPound.Of(10), Highest: units.FootPound.Of(60), Step: units.FootPound.Of(1),
		Deviation: percent("4"), Length: units.MustParseLength("12 in")}
	inlb := Wrench{Lowest: units.InchPound.Of(50), Highest: units.InchPound.Of(250), Step: units.InchPound.Of(5),
		Deviation: percent("4"), Length: units.MustParseLength("10 in")}
	for _, c := range []struct {
		wrench            Wrench
		wanted            string
		adapter           Adapter
		dial, least, most string
	}{
		{lbft, "40 ft-lb", Adapter{Offset: units.MustParseLength("4 in")}, "30 ft-lb", "38.40 ft-lb", "41.67 ft-lb"},
		{inlb, "135 in-lb", Adapter{Offset: units.MustParseLength("1.5 in")}, "115 in-lb", "126.96 in-lb", "137.77 in-lb"},
		{shopWrench(), "30.25 N·m", Adapter{}, "30.0 N·m", "28.8000 N·m", "31.2500 N·m"},
		{shopWrench(), "30.251 N·m", Adapter{}, "30.5 N·m", "29.28000 N·m", "31.77084 N·m"},
		{shopWrench(), "100 N·m", Adapter{}, "100.0 N·m", "96.000 N·m", "104.167 N·m"},
	} {
		s, _, err := c.wrench.nearest(units.MustParseTorque(c.wanted), c.adapter)
		if err != nil || s.Dial.String() != c.dial || s.Least.String() != c.least || s.Most.String() != c.most {
			t.Errorf("%s: %v %v %v %v", c.wanted, s.Dial, s.Least, s.Most, err)
		}
		if s.AboveLow.Sign() > 0 || s.BelowHigh.Sign() > 0 {
			t.Errorf("%s: no tool is sure to reach and not to pass one value: %+v", c.wanted, s)
		}
	}
	for wanted, want := range map[string]error{"100.01 N·m": ErrOutOfScale, "9.99 N·m": ErrOutOfScale, "0 N·m": units.ErrRange, "-1 N·m": units.ErrRange} {
		if _, _, err := shopWrench().nearest(units.MustParseTorque(wanted), Adapter{}); !errors.Is(err, want) {
			t.Errorf("%s: %v", wanted, err)
		}
	}
}

func TestSetSaysThatTheLeverIsToBlame(t *testing.T) {
	w := shopWrench()
	w.LengthTolerance = units.Millimetre.Of(150)
	_, err := w.Set(MustParseBand("145 to 190 in-lb"), Adapter{Offset: units.Millimetre.Of(200), OffsetTolerance: units.Millimetre.Of(5)})
	if !errors.Is(err, ErrNotAccurate) || !strings.Contains(err.Error(), "the grip known to ±150 mm, the adapter to ±5 mm") {
		t.Error(err)
	}
}

func TestSetTakesTheLowerOfTwo(t *testing.T) {
	// With an absolute deviation the margins at 29 and 30 of the band 20 to 39 mirror each other.
	w := Wrench{Lowest: units.NewtonMetre.Of(10), Highest: units.NewtonMetre.Of(100), Step: units.NewtonMetre.Of(1),
		DeviationBasis: Absolute, AbsoluteDeviation: units.NewtonMetre.Of(2)}
	s, err := w.Set(MustParseBand("20 to 39 N·m"), Adapter{})
	if err != nil || s.Dial.String() != "29 N·m" {
		t.Errorf("%+v %v", s, err)
	}
}

func TestSetAcceptsTheLimitItself(t *testing.T) {
	w := Wrench{Lowest: units.NewtonMetre.Of(0), Highest: units.NewtonMetre.Of(100), Step: units.NewtonMetre.Of(10),
		DeviationBasis: OfDial, Deviation: percent("10")}
	s, err := w.Set(MustParseBand("27 to 33 N·m"), Adapter{})
	if err != nil || s.Dial.String() != "30 N·m" || s.AboveLow.Sign() != 0 || s.BelowHigh.Sign() != 0 {
		t.Errorf("%+v %v", s, err)
	}
	for _, band := range []string{"27.001 to 33 N·m", "27 to 32.999 N·m"} {
		if _, err := w.Set(MustParseBand(band), Adapter{}); !errors.Is(err, ErrNotAccurate) {
			t.Errorf("%v: %v", band, err)
		}
	}
}

// 220 to 310 in-lb: common practice, no source; the settings are worked by hand.
func TestSetRefuses(t *testing.T) {
	b := MustParseBand("220 to 310 in-lb")
	nm := units.NewtonMetre.Of
	with := func(change func(*Wrench)) Wrench {
		w := shopWrench()
		change(&w)
		return w
	}
	for _, c := range []struct {
		wrench Wrench
		band   Band
		want   error
		says   string
	}{
		{with(func(w *Wrench) { w.Lowest = nm(40) }), b, ErrOutOfScale, "the wrench covers 40 N·m to 100 N·m in steps of 0.5 N·m; want a dial value between 25.893 N·m and 33.624 N·m"},
		{with(func(w *Wrench) { w.Lowest, w.Highest = nm(2), nm(20) }), b, ErrOutOfScale, "covers 2 N·m to 20 N·m"},
		{with(func(w *Wrench) { w.Highest, w.Step = nm(26), nm(15) }), b, ErrOutOfScale, "in steps of 15 N·m"},
		{with(func(w *Wrench) { w.Step = nm(25) }), b, ErrTooCoarse, "of which none serves; want a dial value between 25.90 N·m and 33.62 N·m"},
		// It delivers nothing where it is set to nothing, which is no more than the most; but nothing clicks there.
		{with(func(w *Wrench) { w.Lowest, w.Step = nm(0), nm(10) }), MustParseBand("max 5 N·m"), ErrTooCoarse, "of which none serves"},
		{with(func(w *Wrench) { w.Deviation = percent("25") }), b, ErrNotAccurate, "±16.9 % of its middle and the wrench is ±25 % of dial or reference"},
		{with(func(w *Wrench) { w.DeviationBasis, w.AbsoluteDeviation = Absolute, nm(9) }), b, ErrNotAccurate, "±9 N·m"},
		{with(func(w *Wrench) {}), Band{}, units.ErrRange, "zero Band"},
		{with(func(w *Wrench) { w.Deviation = units.Share{} }), b, units.ErrRange, "isn't known is not zero"},
		{with(func(w *Wrench) { w.Deviation = percent("100") }), b, units.ErrRange, "100 %"},
		{with(func(w *Wrench) { w.Deviation = units.ShareUnit(9).Of(4) }), b, units.ErrRange, "ShareUnit(9)"},
		{with(func(w *Wrench) { w.DeviationBasis = Absolute }), b, units.ErrRange, "isn't stated"},
		{with(func(w *Wrench) { w.DeviationBasis = 9 }), b, units.ErrRange, "unknown basis"},
		{with(func(w *Wrench) { w.Step = nm(0) }), b, units.ErrRange, "step"},
		{with(func(w *Wrench) { w.Step = units.InchPound.Of(1) }), b, units.ErrRange, "one unit"},
		{with(func(w *Wrench) { w.Highest = units.FootPound.Of(74) }), b, units.ErrRange, "one unit"},
		{with(func(w *Wrench) { w.Lowest = units.FootPound.Of(7) }), b, units.ErrRange, "one unit"},
		{with(func(w *Wrench) {
			w.Lowest, w.Highest, w.Step = units.TorqueUnit(99).Of(1), units.TorqueUnit(99).Of(9), units.TorqueUnit(99).Of(1)
		}), b, units.ErrRange, "one unit"},
		{with(func(w *Wrench) { w.Lowest = nm(-1) }), b, units.ErrRange, "below zero"},
		{with(func(w *Wrench) { w.Highest = nm(1) }), b, units.ErrRange, "below its lowest"},
		{with(func(w *Wrench) { w.Lowest, w.Highest, w.Step = nm(0), nm(5), nm(10) }), b, units.ErrRange, "no setting above zero"},
		{Wrench{}, b, units.ErrRange, "step"},
	} {
		s, err := c.wrench.Set(c.band, Adapter{})
		if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) || s.Dial.Sign() != 0 {
			t.Errorf("want %v saying %q: %v", c.want, c.says, err)
		}
	}
	if _, err := (Wrench{Lowest: nm(10), Highest: nm(100), Step: nm(1), Deviation: percent("4")}).Set(b, Adapter{Offset: units.Inch.Of(2)}); !errors.Is(err, units.ErrRange) {
		t.Error(err)
	}
}

// A dial value that Set chose is accepted when the wrench clicks there, and what it may deliver is what
// Set said of it; what is beyond the scale or between two settings is none. With ±4 % of either kind a
// wrench set to D delivers D·0.96 to D/0.96: by arithmetic.
func TestAt(t *testing.T) {
	w := shopWrench() // 10 to 100 N·m by 0.5 N·m, ±4 %
	for _, c := range []struct {
		dial, band string
		want       Acceptance
	}{
		{"30 N·m", "28.8 to 31.25 N·m", Accepted}, // the limits themselves
		{"30.0 N·m", "28.8000000000000001 to 31.25 N·m", Inconclusive},
		{"30 N·m", "28.8 to 31.2499999999999999 N·m", Inconclusive},
		{"30 N·m", "29 to 31 N·m", Inconclusive},
		{"30 N·m", "31.25 to 40 N·m", Inconclusive},
		{"30 N·m", "31.2500000000000001 to 40 N·m", Rejected},
		{"30 N·m", "20 to 28.8 N·m", Inconclusive},
		{"30 N·m", "20 to 28.7999999999999999 N·m", Rejected},
		{"30 N·m", "max 31.25 N·m", Accepted},
		{"10 N·m", "9.6 to 11 N·m", Accepted},
		{"100 N·m", "96 to 105 N·m", Accepted},
	} {
		s, err := w.At(units.MustParseTorque(c.dial), Adapter{})
		if err != nil {
			t.Fatal(c.dial, err)
		}
		if got := MustParseBand(c.band).AcceptsSetting(s); got != c.want {
			t.Errorf("%s, %s: %v, want %v", c.dial, c.band, got, c.want)
		}
	}
	for dial, want := range map[string]error{"30.25 N·m": ErrTooCoarse, "9.5 N·m": ErrOutOfScale, "100.5 N·m": ErrOutOfScale, "22 ft-lb": ErrTooCoarse, "-1 N·m": units.ErrRange} {
		if _, err := w.At(units.MustParseTorque(dial), Adapter{}); !errors.Is(err, want) {
			t.Errorf("%s: %v", dial, err)
		}
	}
	w.Length = units.Length{}
	if _, err := w.At(units.NewtonMetre.Of(30), Adapter{Offset: units.Millimetre.Of(40)}); !errors.Is(err, units.ErrRange) {
		t.Error("a lever that isn't known:", err)
	}
	if got := MustParseBand("1 to 100 N·m").AcceptsSetting(Setting{}); got != Inconclusive {
		t.Error(got)
	}
	if s, _ := shopWrench().At(units.NewtonMetre.Of(30), Adapter{}); (Band{}).AcceptsSetting(s) != Inconclusive {
		t.Error("no band accepts nothing")
	}
}
