package torque

import (
	"encoding/json"
	"errors"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/snugturn/units"
)

// inside reports whether b allows everything a allows.
func inside(a, b Band) bool { return b.Contains(a.low) && b.Contains(a.high) }

// middle is halfway between the limits, in the low limit's unit.
func middle(b Band) units.Torque {
	unit := b.low.Unit()
	x := new(big.Rat).Add(b.low.RatIn(unit), b.high.RatIn(unit))
	m, _ := exactTorque(x.Mul(x, half), unit)
	return m
}

func anyUnit(t *rapid.T, label string) units.TorqueUnit {
	return rapid.SampledFrom([]units.TorqueUnit{units.NewtonMetre, units.InchPound, units.FootPound, units.KilogramForceMetre, units.InchOunce}).Draw(t, label)
}

func anyTorque(t *rapid.T, label string) units.Torque {
	q, err := units.New(decimal.New(rapid.Int64Range(0, 1_000_000).Draw(t, label), -rapid.Int32Range(0, 4).Draw(t, label+" places")), anyUnit(t, label+" unit"))
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func anyBand(t *rapid.T) Band {
	low, high := anyTorque(t, "low"), anyTorque(t, "high")
	if high.Less(low) {
		low, high = high, low
	}
	b, err := Between(low, high)
	if err != nil {
		t.Skip("nothing above zero")
	}
	return b
}

// near is a torque at, or a little off, one of the band's limits.
func near(t *rapid.T, b Band) units.Torque {
	limit := rapid.SampledFrom([]units.Torque{b.low, b.high, middle(b)}).Draw(t, "limit")
	q := limit.RoundIn(anyUnit(t, "reading unit"), rapid.IntRange(0, 20).Draw(t, "reading places"), units.Rounding(rapid.IntRange(0, 2).Draw(t, "mode")))
	return q
}

func TestPropertyContainsAgreesWithFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBand(t)
		q := near(t, b)
		x := q.RatIn(units.NewtonMetre)
		want := b.low.RatIn(units.NewtonMetre).Cmp(x) <= 0 && x.Cmp(b.high.RatIn(units.NewtonMetre)) <= 0
		if got := b.Contains(q); got != want {
			t.Fatalf("%v contains %v: %v", b, q, got)
		}
	})
}

func TestPropertyInwardIsASubset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBand(t)
		places := rapid.IntRange(-2, 12).Draw(t, "places")
		in, err := b.Inward(anyUnit(t, "unit"), places)
		if err != nil {
			return // nothing left is an answer too; what it takes is tested by table
		}
		if !inside(in, b) {
			t.Fatalf("%v is not within %v", in, b)
		}
		// And nothing was given away: the next value outward is outside.
		step, _ := units.FromRat(tenth(places), in.low.Unit(), max(places, 0), units.ToNearestEven)
		below, _ := in.low.Sub(step)
		above, _ := in.high.Add(step)
		if b.Contains(below) || b.Contains(above) {
			t.Fatalf("%v inward is %v, and %v or %v would do", b, in, below, above)
		}
	})
}

func TestPropertyTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBand(t)
		text, err := b.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var again Band
		if err := again.UnmarshalText(text); err != nil || again.String() != b.String() || !again.Equal(b) {
			t.Fatalf("%s reads as %v, %v", text, again, err)
		}
		data, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		stored, err := b.Value()
		if err != nil || stored != string(text) || b.LogValue().String() != string(text) {
			t.Fatalf("%s is stored as %v, %v, and logged as %v", text, stored, err, b.LogValue())
		}
		var read, scanned Band
		if err := json.Unmarshal(data, &read); err != nil || read.String() != b.String() {
			t.Fatalf("%s reads as %v, %v", data, read, err)
		}
		if err := scanned.Scan(stored); err != nil || scanned.String() != b.String() {
			t.Fatalf("%s is scanned as %v, %v", text, scanned, err)
		}
	})
}

func TestPropertyParsersDontPanic(t *testing.T) {
	pieces := []string{"145", "190", "1.5", ".5", "1,5", " ", "-", "–", "±", "+/-", "+", "/", "%", "to", "through", "max", "(", ")", "[", "]",
		"in-lb", "N·m", "ft-lb", "lb/in", "nm", "between", "and", "\xff", "İ", "\u00a0", "−", "percent", "e5"}
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, p := range rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 12).Draw(t, "pieces") {
			text += p
		}
		if b, err := ParseBand(text); (err == nil) != b.Valid() {
			t.Fatalf("%q: %v, %v", text, b, err)
		}
		if p, err := ParsePrintedLimit(text); (err == nil) != p.valid() || err == nil && p.Compare().Agreement == 0 {
			t.Fatalf("%q: %v, %v", text, p, err)
		}
	})
}

// slowCosine is the cosine by another way: a Taylor series at a 2^20th of the angle, doubled up
// with cos 2x = 2·cos² x - 1, in 400-bit floats. It is good to far more than 1e-60.
func slowCosine(degrees *big.Rat) *big.Float {
	const bits, halvings = 400, 20
	float := func() *big.Float { return new(big.Float).SetPrec(bits) }
	pi, _ := float().SetString("3.1415926535897932384626433832795028841971693993751058209749445923078164062862089986280348253421170679821480865132823")
	x := float().SetRat(degrees)
	x.Mul(x, pi).Quo(x, float().SetInt64(180<<halvings))
	sum, term := float().SetInt64(1), float().SetInt64(1)
	for n := int64(1); n < 40; n++ {
		term.Mul(term, x).Mul(term, x).Quo(term, float().SetInt64((2*n-1)*(2*n))).Neg(term)
		sum.Add(sum, term)
	}
	for range halvings {
		sum.Mul(sum, sum).Mul(sum, float().SetInt64(2)).Sub(sum, float().SetInt64(1))
	}
	return sum
}

// anyWrench is one of few enough settings to try them all.
func anyWrench(t *rapid.T) Wrench {
	unit := rapid.SampledFrom([]units.TorqueUnit{units.NewtonMetre, units.InchPound, units.FootPound}).Draw(t, "scale")
	lowest, step, count := rapid.Int64Range(0, 100).Draw(t, "lowest"), rapid.Int64Range(1, 60).Draw(t, "step"), rapid.Int64Range(0, 60).Draw(t, "settings")
	deviation, _ := units.New(decimal.New(rapid.Int64Range(1, 300).Draw(t, "deviation"), -1), anyUnit(t, "deviation unit"))
	return Wrench{
		Lowest: unit.Of(lowest), Step: unit.Of(step), Highest: unit.Of(lowest + count*step + rapid.Int64Range(0, step-1).Draw(t, "rest")),
		Deviation:      percent(decimal.New(rapid.Int64Range(1, 80).Draw(t, "percent"), -1).String()),
		DeviationBasis: DeviationBasis(rapid.IntRange(0, int(Absolute)).Draw(t, "basis")), AbsoluteDeviation: deviation,
		Length:          units.Millimetre.Of(rapid.Int64Range(100, 800).Draw(t, "length")),
		LengthTolerance: units.Millimetre.Of(rapid.Int64Range(0, 20).Draw(t, "length tolerance")),
	}
}

func anyAdapter(t *rapid.T) Adapter {
	degrees := rapid.Int64Range(-400, 400).Draw(t, "angle")
	if rapid.Bool().Draw(t, "an exact angle") {
		degrees = rapid.SampledFrom([]int64{0, 60, 90, 120, 180, 270}).Draw(t, "exact angle")
	}
	return Adapter{
		Offset: units.Millimetre.Of(rapid.Int64Range(-150, 150).Draw(t, "offset")), Angle: units.Degree.Of(degrees),
		OffsetTolerance: units.Millimetre.Of(rapid.Int64Range(0, 3).Draw(t, "offset tolerance")),
	}
}

// extremes are the least and the most torque in N·m that may arrive at the fastener, by trying
// every corner of what the description of tool and adapter allows.
func extremes(w Wrench, a Adapter, dial *big.Rat) (least, most *big.Float) {
	unit := w.Lowest.Unit()
	float := func(x *big.Rat) *big.Float { return new(big.Float).SetPrec(400).SetRat(x) }
	var drive []*big.Rat
	d := new(big.Rat).Quo(w.Deviation.RatIn(units.Percent), big.NewRat(100, 1))
	less, more := new(big.Rat).Sub(one, d), new(big.Rat).Add(one, d)
	plus := func(shift *big.Rat) {
		drive = append(drive, new(big.Rat).Sub(dial, shift), new(big.Rat).Add(dial, shift))
	}
	if w.DeviationBasis == EitherBasis || w.DeviationBasis == OfDial {
		drive = append(drive, new(big.Rat).Mul(dial, less), new(big.Rat).Mul(dial, more))
	}
	if w.DeviationBasis == EitherBasis || w.DeviationBasis == OfReference {
		drive = append(drive, new(big.Rat).Quo(dial, less), new(big.Rat).Quo(dial, more))
	}
	if w.DeviationBasis == OfFullScale {
		plus(new(big.Rat).Mul(d, w.Highest.RatIn(unit)))
	}
	if w.DeviationBasis == Absolute {
		plus(w.AbsoluteDeviation.RatIn(unit))
	}
	mm := units.Millimetre
	cos := slowCosine(a.Angle.RatIn(units.Degree))
	for _, s := range drive {
		s.Mul(s, units.Factor(unit, units.NewtonMetre))
		for _, l := range []int64{-1, 1} {
			for _, e := range []int64{-1, 1} {
				length := new(big.Rat).Mul(big.NewRat(l, 1), w.LengthTolerance.RatIn(mm))
				length.Add(length, w.Length.RatIn(mm))
				offset := new(big.Rat).Mul(big.NewRat(e, 1), a.OffsetTolerance.RatIn(mm))
				offset.Add(offset, a.Offset.RatIn(mm))
				x := float(offset)
				x.Mul(x, cos).Add(x, float(length)).Mul(x, float(s)).Quo(x, float(length))
				if least == nil || x.Cmp(least) < 0 {
					least = new(big.Float).Copy(x)
				}
				if most == nil || x.Cmp(most) > 0 {
					most = new(big.Float).Copy(x)
				}
			}
		}
	}
	return least, most
}

// What Set accepts keeps every torque the tool may deliver in the band, and no other step does
// better; where it refuses for want of a step, no step would do. The oracle's own error is far
// below the slack allowed here.
func TestPropertySet(t *testing.T) {
	slack := new(big.Float).SetPrec(400).SetRat(tenth(40))
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Int64Range(0, 400).Draw(t, "low")
		unit := rapid.SampledFrom([]units.TorqueUnit{units.NewtonMetre, units.InchPound}).Draw(t, "band unit")
		b, err := Between(unit.Of(low), unit.Of(low+rapid.Int64Range(1, 200).Draw(t, "width")))
		if err != nil {
			t.Fatal(err)
		}
		w, a := anyWrench(t), anyAdapter(t)
		s, err := w.Set(b, a)
		if _, leverErr := newLever(w.Length, w.LengthTolerance, a); leverErr != nil {
			if err == nil {
				t.Fatalf("no lever, and yet %+v", s)
			}
			return
		}
		float := func(x *big.Rat) *big.Float { return new(big.Float).SetPrec(400).SetRat(x) }
		margin := func(dial *big.Rat) *big.Float {
			least, most := extremes(w, a, dial)
			least.Sub(least, float(b.low.RatIn(units.NewtonMetre)))
			most.Sub(float(b.high.RatIn(units.NewtonMetre)), most)
			if least.Cmp(most) < 0 {
				return least
			}
			return most
		}
		var best *big.Float
		scale := w.Lowest.Unit()
		for q := w.Lowest; q.Compare(w.Highest) <= 0; q, _ = q.Add(w.Step) {
			if m := margin(q.RatIn(scale)); best == nil || m.Cmp(best) > 0 {
				best = m
			}
		}
		if err != nil {
			if best.Cmp(slack) > 0 {
				t.Fatalf("%v, yet a step has %v to spare", err, best)
			}
			return
		}
		got := margin(s.Dial.RatIn(scale))
		if new(big.Float).Add(got, slack).Sign() < 0 {
			t.Fatalf("%+v leaves the band by %v", s, got)
		}
		if new(big.Float).Add(got, slack).Cmp(best) < 0 {
			t.Fatalf("%+v has %v to spare, another step %v", s, got, best)
		}
		if s.Least.Less(b.low) || b.high.Less(s.Most) || s.AboveLow.Sign() < 0 || s.BelowHigh.Sign() < 0 {
			t.Fatalf("%+v prints as leaving the band", s)
		}
		least, most := extremes(w, a, s.Dial.RatIn(scale))
		if float(s.Least.RatIn(units.NewtonMetre)).Cmp(new(big.Float).Add(least, slack)) > 0 ||
			float(s.Most.RatIn(units.NewtonMetre)).Cmp(new(big.Float).Sub(most, slack)) < 0 {
			t.Fatalf("%+v is rounded the wrong way: %v to %v", s, least, most)
		}
	})
}

// measured is a band in N·m, a value near it and an uncertainty of like size.
func measured(t *rapid.T) (Band, Measurement) {
	low := rapid.Int64Range(0, 300).Draw(t, "low")
	b, err := Between(units.NewtonMetre.Of(low), units.NewtonMetre.Of(low+rapid.Int64Range(1, 100).Draw(t, "width")))
	if err != nil {
		t.Fatal(err)
	}
	value, _ := units.New(decimal.New(rapid.Int64Range(0, 420_000).Draw(t, "value"), -3), units.NewtonMetre)
	u, _ := units.New(decimal.New(rapid.Int64Range(1, 80_000).Draw(t, "U"), -3), units.NewtonMetre)
	return b, Measurement{Value: value, Expanded: u}
}

func decide(t *rapid.T, b Band, m Measurement, rule Rule) Decision {
	d, err := b.Decide(m, rule)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestPropertyStricterRulesPassLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m := measured(t)
		byU, by95, simple := decide(t, b, m, GuardedByU).Acceptance, decide(t, b, m, Guarded95).Acceptance, decide(t, b, m, SimpleAcceptance).Acceptance
		if byU == Accepted && by95 != Accepted || by95 == Accepted && simple != Accepted {
			t.Fatalf("%v in %v: by U %v, by 95 %% %v, simple %v", m, b, byU, by95, simple)
		}
		if four := decide(t, b, m, NonBinary).Acceptance; (four == Accepted) != (byU == Accepted) || (four == Accepted || four == ConditionallyAccepted) != (simple == Accepted) {
			t.Fatalf("%v in %v: non-binary %v, by U %v, simple %v", m, b, four, byU, simple)
		}
	})
}

func TestPropertyConformanceFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m := measured(t)
		width, _ := b.High().Sub(b.Low())
		inside, _ := units.New(decimal.New(rapid.Int64Range(0, width.Magnitude().IntPart()*1000).Draw(t, "above low"), -3), units.NewtonMetre)
		m.Value, _ = b.Low().Add(inside)
		p := decide(t, b, m, SimpleAcceptance).Conformance.Decimal
		wider := m
		wider.Expanded, _ = m.Expanded.Add(units.MustParseTorque("0.7 N·m"))
		if q := decide(t, b, wider, SimpleAcceptance).Conformance.Decimal; q.GreaterThan(p) {
			t.Fatalf("%v in %v conforms with %v, with a larger U %v", m, b, p, q)
		}
		step := units.MustParseTorque("0.05 N·m")
		if m.Value.Less(middle(b)) {
			step = step.Neg()
		}
		if b.low.Sign() == 0 {
			step = step.Abs() // there is only the upper limit
		}
		nearer := m
		nearer.Value, _ = m.Value.Add(step)
		if q := decide(t, b, nearer, SimpleAcceptance).Conformance.Decimal; q.GreaterThan(p) {
			t.Fatalf("%v in %v conforms with %v, nearer to the limit %v", m, b, p, q)
		}
	})
}

// The fast guess and the proven enclosure say the same.
func TestPropertyGuessIsGood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m := measured(t)
		g := b.guess(m)
		if !g.ok {
			t.Skip("not guessed")
		}
		i := b.conformance(m)
		lo, _ := i.lo.Float64()
		if d := g.p - lo; d > 1e-8 || d < -1e-8 {
			t.Fatalf("%v in %v: %v, proven %v", m, b, g.p, lo)
		}
		if exact := i.atLeast95(); exact != b.atLeast95(m, g) {
			t.Fatalf("%v in %v: %v", m, b, exact)
		}
		if b.tenThousandths(m, g) != b.tenThousandths(m, guess{}) {
			t.Fatalf("%v in %v: %d and %d", m, b, b.tenThousandths(m, g), b.tenThousandths(m, guess{}))
		}
	})
}

func TestPropertyAcceptanceAgreesWithDecide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m := measured(t)
		rule := Rule(rapid.IntRange(int(SimpleAcceptance), int(NonBinary)).Draw(t, "rule"))
		a, err := b.AcceptanceZone(m.Expanded, rule, units.NewtonMetre, 2)
		if err != nil {
			return
		}
		step := units.MustParseTorque("0.01 N·m")
		outLow, _ := a.low.Sub(step)
		outHigh, _ := a.high.Add(step)
		for _, c := range []struct {
			value units.Torque
			pass  bool
		}{{a.low, true}, {a.high, true}, {outLow, false}, {outHigh, false}} {
			m.Value = c.value
			if c.value.Sign() < 0 || b.low.Sign() == 0 && c.value.Sign() == 0 {
				continue
			}
			if d := decide(t, b, m, rule); (d.Acceptance == Accepted) != c.pass {
				t.Fatalf("%v accepts %v with U %v, and decides %v for %v", b, a, m.Expanded, d.Acceptance, c.value)
			}
		}
	})
}

// Whatever Band.Inward makes of a band, printed behind it, is no disagreement.
func TestPropertyInwardPrintAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBand(t)
		text := b.String()
		for i := range rapid.IntRange(1, 2).Draw(t, "units") {
			unit := rapid.SampledFrom([][]units.TorqueUnit{{units.DecinewtonMetre, units.NewtonMetre}, {units.KilogramForceCentimetre, units.InchPound}}[i]).Draw(t, "unit")
			inward, err := b.Inward(unit, rapid.IntRange(-3, 12).Draw(t, "places"))
			if err != nil || unit == b.low.Unit() || unit == b.high.Unit() {
				t.Skip("nothing left, or the same unit")
			}
			text += " (" + inward.String() + ")"
		}
		p, err := ParsePrintedLimit(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if f := p.Compare(); f.Agreement != Agrees {
			t.Fatalf("%s: %v, %v", text, f.Agreement, f)
		}
		if got, err := p.Band(); err != nil || !got.Equal(b) {
			t.Fatalf("%s: %v, %v", text, got, err)
		}
	})
}

// Where no dial value does, the limits named for one never cross, and what is named as inside is.
func TestPropertySettingErrorLimitsNeverCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, w, a := anyBand(t), anyWrench(t), anyAdapter(t)
		if rapid.Bool().Draw(t, "exact") {
			b.low = b.high
		}
		if rapid.Bool().Draw(t, "fine") {
			w.Deviation = percent("0." + strings.Repeat("0", rapid.IntRange(0, 50).Draw(t, "zeros")) + "1")
		}
		_, err := w.Set(b, a)
		var e *SettingError
		if !errors.As(err, &e) {
			return
		}
		if e.To.Less(e.From) {
			t.Fatalf("%v", err)
		}
		if errors.Is(err, ErrNotAccurate) && (e.From.Sign() != 0 || e.To.Sign() != 0) {
			t.Fatalf("%v to %v: %v", e.From, e.To, err)
		}
	})
}

// What a setting delivers is rounded once, whatever unit it is asked for in.
func TestPropertyDeliversRoundsOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, w := anyBand(t), anyWrench(t)
		s, err := w.Set(b, Adapter{})
		if err != nil {
			return
		}
		unit, places := anyUnit(t, "unit"), rapid.IntRange(-1, 8).Draw(t, "places")
		d, err := w.deviations()
		if err != nil {
			t.Fatal(err)
		}
		dial := s.Dial.RatIn(s.Dial.Unit())
		low := new(big.Rat).Sub(new(big.Rat).Mul(dial, d.lowFactor), d.lowShift)
		high := new(big.Rat).Add(new(big.Rat).Mul(dial, d.highFactor), d.highShift)
		in := units.Factor(s.Dial.Unit(), unit)
		least, most := s.Delivers(unit, places)
		wantLeast, _ := units.FromRat(low.Mul(low, in), unit, places, units.ToNegativeInf)
		wantMost, _ := units.FromRat(high.Mul(high, in), unit, places, units.ToPositiveInf)
		if !least.Equal(wantLeast) || !most.Equal(wantMost) {
			t.Fatalf("%v to %v, want %v to %v", least, most, wantLeast, wantMost)
		}
	})
}

// Whatever band, wrench and adapter: where Set finds a setting, a click there is accepted.
func TestSetIsAcceptedWhenItClicks(t *testing.T) {
	chosen := 0
	rapid.Check(t, func(t *rapid.T) {
		b, w, a := anyBand(t), anyWrench(t), anyAdapter(t)
		s, err := w.Set(b, a)
		if err != nil || s.Dial.Sign() == 0 {
			return // nothing clicks at nothing
		}
		chosen++
		at, err := w.At(s.Dial, a)
		if err != nil || b.AcceptsSetting(at) != Accepted || at.least.Cmp(s.least) != 0 || at.most.Cmp(s.most) != 0 {
			t.Fatalf("%v at %v: %v %v, chosen as %v", b, s.Dial, at, err, s)
		}
	})
	if chosen == 0 {
		t.Error("no case had a setting")
	}
}
