package torque

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/snugturn/units"
)

// Tails of the normal distribution: those of the guard bands that are in use, and of the z of one-sided limits,
// which are from memory; the further digits are computed, and testdata/oracles has them to 50.
// Sources: ilac-g8-table, jcgm-106, go-erfc, oracle-core.
func TestNormalTails(t *testing.T) {
	for _, c := range []struct {
		z        *big.Rat
		want     float64
		relative float64
	}{
		{big.NewRat(0, 1), 0.5, 0},
		{big.NewRat(2, 1), 0.02275, 1e-4},        // U at k = 2: "< 2.5 %"
		{big.NewRat(3, 1), 0.00135, 1e-3},        // 1.5 U
		{big.NewRat(6, 1), 9.9e-10, 1e-2},        // 3 U: "< 1 ppm"
		{big.NewRat(166, 100), 0.0485, 1e-3},     // 0.83 U: "< 5 %"
		{big.NewRat(14, 10), 1 - 0.919243, 1e-5}, // a worked example: 0.9192
		{big.NewRat(-14, 10), 0.919243, 1e-6},    // the other side
		{big.NewRat(1644854, 1e6), 0.05, 1e-6},   // z of 95 %
		{big.NewRat(309023, 1e5), 0.001, 1e-5},   // z of 99.9 %
		{big.NewRat(11999, 1000), 1.8e-33, 5e-2}, // at the end of the series
	} {
		i := encloseUpperTail(c.z)
		lo, _ := i.lo.Float64()
		hi, _ := i.hi.Float64()
		if i.lo.Cmp(i.hi) > 0 || math.Abs(lo-c.want) > c.relative*c.want || math.Abs(hi-c.want) > c.relative*c.want {
			t.Errorf("1-Φ(%v) in [%v, %v], want %v", c.z, lo, hi, c.want)
		}
	}
	far := encloseUpperTail(big.NewRat(13, 1))
	if far.lo.Sign() != 0 || far.hi.Cmp(farTailBound) != 0 {
		t.Errorf("%v", far)
	}
	for z := int64(-8000); z <= 8000; z += 37 { // math.Erfc is another's work
		i := encloseUpperTail(big.NewRat(z, 1000))
		f := upperTail(float64(z) / 1000)
		lo, _ := i.lo.Float64()
		if math.Abs(lo-f) > 1e-13*f+1e-30 {
			t.Fatalf("1-Φ(%d/1000) = %v, math.Erfc says %v", z, lo, f)
		}
		if width := new(big.Rat).Sub(i.hi, i.lo); width.Cmp(tenth(32)) > 0 {
			t.Fatalf("1-Φ(%d/1000) is known to %v only", z, width.FloatString(40))
		}
	}
}

// The series is alternating: once its terms fall, two partial sums in a row have its value between
// them. Summed without any rounding they lie in the enclosure, whose ends are rounded.
func TestNormalSeriesEnclosesItsPartialSums(t *testing.T) {
	for _, z := range []*big.Rat{big.NewRat(0, 1), big.NewRat(1, 8), big.NewRat(1, 1), big.NewRat(13, 8), big.NewRat(3, 1), big.NewRat(7, 2)} {
		scaled := scaleUp(z, false)
		x := new(big.Rat).SetFrac(scaled, normalUnit)
		square := new(big.Rat).Mul(x, x)
		term, sum, before := new(big.Rat).Set(x), new(big.Rat).Set(x), new(big.Rat)
		for n := int64(1); n <= 151; n++ { // the last term is below 2^-320
			before.Set(sum)
			term.Mul(term, square).Quo(term, big.NewRat(-2*n, 1))
			sum.Add(sum, new(big.Rat).Quo(term, big.NewRat(2*n+1, 1)))
		}
		lo, hi := normalSeries(scaled)
		low, high := new(big.Rat).SetFrac(lo, normalUnit), new(big.Rat).SetFrac(hi, normalUnit)
		if sum.Cmp(before) > 0 {
			sum, before = before, sum
		}
		if low.Cmp(sum) > 0 || high.Cmp(before) < 0 {
			t.Errorf("z = %v: [%v, %v] doesn't hold [%v, %v]", z, low.FloatString(99), high.FloatString(99), sum.FloatString(99), before.FloatString(99))
		}
	}
}

func nm(text string) units.Torque { return units.MustParseTorque(text + " N·m") }

func TestDecide(t *testing.T) {
	const some = "20 to 30 N·m"
	for _, c := range []struct {
		band, value, expanded string
		rule                  Rule
		want                  Acceptance
		conformance           string // "" for unknown
		noZone                bool
	}{
		{some, "20", "0", SimpleAcceptance, Accepted, "", false},
		{some, "19.999", "0", SimpleAcceptance, Rejected, "", false},
		// One half, less what lies beyond the far limit, rounded down.
		{some, "20", "1", SimpleAcceptance, Accepted, "0.4999", false},
		{some, "30", "1", SimpleAcceptance, Accepted, "0.4999", false},
		{some, "30.001", "1", SimpleAcceptance, Rejected, "0.4992", false},
		{some, "25", "1", SimpleAcceptance, Accepted, "0.9999", false},
		{some, "60", "1", SimpleAcceptance, Rejected, "0", false},
		// On the acceptance limit itself it passes; 1-Φ(2) = 2.275 %.
		{some, "21", "1", GuardedByU, Accepted, "0.9772", false},
		{some, "29", "1", GuardedByU, Accepted, "0.9772", false},
		{some, "20.999", "1", GuardedByU, Rejected, "0.9771", false},
		{some, "29.001", "1", GuardedByU, Rejected, "0.9771", false},
		{some, "25", "5", GuardedByU, Accepted, "0.9544", false},
		{some, "25", "5.001", GuardedByU, Inconclusive, "0.9544", true},
		{some, "31", "6", GuardedByU, Rejected, "0.3693", false},
		// z = 1.644 854, from memory and computed: 0.8224 of U. Source: jcgm-106.
		{some, "20.8225", "1", Guarded95, Accepted, "0.95", false},
		{some, "20.8224", "1", Guarded95, Rejected, "0.9499", false},
		{some, "29.1775", "1", Guarded95, Accepted, "0.95", false},
		{some, "29.1776", "1", Guarded95, Rejected, "0.9499", false},
		// A band of 4.8 u: 1.65 u from a limit is not enough, for the other limit counts too.
		{"20 to 29.6 N·m", "23.3", "4", Guarded95, Rejected, "0.9497", false},
		{"20 to 30 N·m", "23.3", "4", Guarded95, Accepted, "0.9501", false},
		{some, "25", "5.2", Guarded95, Inconclusive, "0.9455", true},
		{some, "25", "5", NonBinary, Accepted, "0.9544", false},
		{some, "20.5", "1", NonBinary, ConditionallyAccepted, "0.8413", false},
		{some, "20", "1", NonBinary, ConditionallyAccepted, "0.4999", false},
		{some, "19.5", "1", NonBinary, ConditionallyRejected, "0.1586", false},
		{some, "19", "1", NonBinary, ConditionallyRejected, "0.0227", false},
		{some, "18.999", "1", NonBinary, Rejected, "0.0226", false},
		{some, "31", "1", NonBinary, ConditionallyRejected, "0.0227", false},
		{some, "31.001", "1", NonBinary, Rejected, "0.0226", false},
		{some, "25", "6", NonBinary, ConditionallyAccepted, "0.9044", true},
		// A worked example, its inputs from memory, Φ(1.4) = 0.919243 computed (Source: jcgm-106): an upper
		// limit 0.07 above the value, u = 0.05. Its volts below zero are moved up here.
		{"max 4.60 N·m", "4.53", "0.10", SimpleAcceptance, Accepted, "0.9192", false},
		{"max 4.60 N·m", "4.53", "0.10", Guarded95, Rejected, "0.9192", false},
		{"max 4.60 N·m", "0.01", "0.10", GuardedByU, Accepted, "0.9999", false},
		{"max 4.60 N·m", "1", "5", GuardedByU, Inconclusive, "0.925", true},
		{"max 4.60 N·m", "1", "6", Guarded95, Inconclusive, "0.8849", true},
		// Below a maximum nothing is guarded: U may be up to the whole of it (one guard band to
		// the one limit, from memory); Φ(0.9) = 0.8159, Φ(1.8) = 0.9640 (computed).
		{"max 4.60 N·m", "1", "4", GuardedByU, Rejected, "0.964", false},
		{"max 4.60 N·m", "0.6", "4", GuardedByU, Accepted, "0.9772", false},
		{"max 4.60 N·m", "0", "4.6", GuardedByU, Accepted, "0.9772", false},
		{"max 4.60 N·m", "0", "4.601", GuardedByU, Inconclusive, "0.9772", true},
		{"max 4.60 N·m", "1", "5", Guarded95, Rejected, "0.925", false}, // but 0.4 would pass
		{"max 4.60 N·m", "0.4", "5", Guarded95, Accepted, "0.9535", false},
		// A reading below zero is in no band, however far it is from the maximum.
		{"max 4.60 N·m", "-0.01", "0", SimpleAcceptance, Rejected, "", false},
		{"max 4.60 N·m", "-0.01", "1", SimpleAcceptance, Rejected, "0.9999", false},
		{"max 4.60 N·m", "-0.01", "1", GuardedByU, Rejected, "0.9999", false},
		{"max 4.60 N·m", "-0.01", "1", Guarded95, Rejected, "0.9999", false},
		{"max 4.60 N·m", "-0.01", "1", NonBinary, ConditionallyRejected, "0.9999", false},
		{"max 4.60 N·m", "-1.01", "1", NonBinary, Rejected, "0.9999", false},
		// So small an uncertainty that floats lose the difference.
		{some, "20.0000000000000001", "0.0000000000000001", GuardedByU, Accepted, "0.9772", false},
		{some, "20.0000000000000001", "0.0000000000000002", Guarded95, Rejected, "0.8413", false},
	} {
		d, err := MustParseBand(c.band).Decide(Measurement{Value: nm(c.value), Expanded: nm(c.expanded)}, c.rule)
		if err != nil {
			t.Errorf("%s in %s: %v", c.value, c.band, err)
			continue
		}
		got := ""
		if d.Conformance.Valid {
			got = d.Conformance.Decimal.String()
		}
		if d.Acceptance != c.want || got != c.conformance || d.NoZone != c.noZone || d.Rule != c.rule {
			t.Errorf("%s ± %s in %s, %v: %v, conformance %q, %v; want %v, %q", c.value, c.expanded, c.band, c.rule, d.Acceptance, got, d.NoZone, c.want, c.conformance)
		}
	}
}

func TestDecideAcrossUnits(t *testing.T) {
	// 220 in-lb = 24.856662386075674 N·m (common practice, no source; computed): U of 1 N·m guards
	// up to 25.856662386075674.
	b := MustParseBand("220 to 310 in-lb")
	for value, want := range map[string]Acceptance{"25.856662386075674": Accepted, "25.856662386075673": Rejected} {
		d, err := b.Decide(Measurement{Value: nm(value), Expanded: nm("1")}, GuardedByU)
		if err != nil || d.Acceptance != want {
			t.Errorf("%s: %v %v", value, d, err)
		}
	}
	d, err := b.Decide(Measurement{Value: units.InchPound.Of(230), Expanded: nm("1")}, GuardedByU) // 8.85 in-lb
	if err != nil || d.Acceptance != Accepted {
		t.Errorf("%v %v", d, err)
	}
}

func TestDecideRefuses(t *testing.T) {
	b := MustParseBand("20 to 30 N·m")
	for _, c := range []struct {
		band Band
		m    Measurement
		rule Rule
		want error
	}{
		{b, Measurement{Value: nm("25"), Expanded: nm("1")}, 0, units.ErrRange},
		{b, Measurement{Value: nm("25"), Expanded: nm("1")}, NonBinary + 1, units.ErrRange},
		{b, Measurement{Value: nm("25"), Expanded: nm("1")}, 77, units.ErrRange},
		{b, Measurement{Value: nm("25"), Expanded: nm("0")}, GuardedByU, ErrNoUncertainty},
		{b, Measurement{Value: nm("25"), Expanded: nm("0")}, Guarded95, ErrNoUncertainty},
		{b, Measurement{Value: nm("25"), Expanded: nm("0")}, NonBinary, ErrNoUncertainty},
		{b, Measurement{Value: nm("25"), Expanded: nm("-1")}, NonBinary, units.ErrRange},
		{b, Measurement{Value: units.TorqueUnit(99).Of(1), Expanded: nm("1")}, NonBinary, units.ErrUnknownUnit},
		{b, Measurement{Value: nm("25"), Expanded: units.TorqueUnit(99).Of(1)}, NonBinary, units.ErrUnknownUnit},
		{Band{}, Measurement{Value: nm("25"), Expanded: nm("1")}, NonBinary, units.ErrRange},
	} {
		d, err := c.band.Decide(c.m, c.rule)
		if !errors.Is(err, c.want) || d.Acceptance != 0 {
			t.Errorf("%+v: %v, %v", c.m, d, err)
		}
	}
}

func TestAcceptance(t *testing.T) {
	for _, c := range []struct {
		band, expanded string
		rule           Rule
		places         int
		want           string
	}{
		{"20 to 30 N·m", "1", SimpleAcceptance, 0, "20 to 30 N·m"},
		{"20 to 30 N·m", "1", GuardedByU, 1, "21.0 to 29.0 N·m"},
		{"20 to 30 N·m", "1", NonBinary, 1, "21.0 to 29.0 N·m"},
		{"20 to 30 N·m", "1", Guarded95, 4, "20.8225 to 29.1775 N·m"},
		{"20 to 30 N·m", "5", GuardedByU, 0, "25 to 25 N·m"},
		{"max 30 N·m", "1", Guarded95, 4, "0.0000 to 29.1775 N·m"},
		{"max 30 N·m", "1", GuardedByU, 0, "0 to 29 N·m"},
	} {
		a, err := MustParseBand(c.band).AcceptanceZone(nm(c.expanded), c.rule, units.NewtonMetre, c.places)
		if err != nil || a.String() != c.want {
			t.Errorf("%s, U %s, %v: %v, %v; want %s", c.band, c.expanded, c.rule, a, err, c.want)
		}
	}
	huge := "999999999999999999999999 N·m" // no torque is larger, nor is one rounded up to 10^24
	if _, err := MustParseBand(huge+" to "+huge).AcceptanceZone(nm("1"), SimpleAcceptance, units.NewtonMetre, -1); !errors.Is(err, ErrNothingLeft) {
		t.Errorf("%v", err)
	}
	b := MustParseBand("20 to 30 N·m")
	for rule, want := range map[Rule]error{0: units.ErrRange, 77: units.ErrRange, GuardedByU: ErrNoUncertainty} {
		if a, err := b.AcceptanceZone(nm("0"), rule, units.NewtonMetre, 1); !errors.Is(err, want) || a.Valid() {
			t.Errorf("%v: %v, %v", rule, a, err)
		}
	}
	for _, u := range []string{"5.001", "5.3"} {
		if _, err := b.AcceptanceZone(nm(u), GuardedByU, units.NewtonMetre, 2); !errors.Is(err, ErrNothingLeft) {
			t.Errorf("%v", err)
		}
	}
	if _, err := b.AcceptanceZone(nm("4.9"), GuardedByU, units.NewtonMetre, -1); !errors.Is(err, ErrNothingLeft) {
		t.Errorf("%v", err)
	}
	if _, err := b.AcceptanceZone(nm("1"), GuardedByU, 99, 1); !errors.Is(err, units.ErrUnknownUnit) {
		t.Errorf("%v", err)
	}
}

// A value at the acceptance limit passes and one 1e-23 N·m outward fails: no float tells the two
// apart, the proven enclosure does.
func TestNearNinetyFivePercentTheEnclosureDecides(t *testing.T) {
	const places = 32
	step := nm("0.00000000000000000000001") // 2^-80 of the band, rounded up
	for _, c := range []struct{ band, expanded string }{{"20 to 30 N·m", "1"}, {"20 to 30 N·m", "0.37"}, {"20 to 30 N·m", "5"}, {"max 30 N·m", "1"}} {
		b := MustParseBand(c.band)
		a, err := b.AcceptanceZone(nm(c.expanded), Guarded95, units.NewtonMetre, places)
		if err != nil {
			t.Fatal(err)
		}
		below, _ := a.low.Sub(step)
		above, _ := a.high.Add(step)
		for _, v := range []struct {
			value units.Torque
			want  Acceptance
		}{{a.low, Accepted}, {a.high, Accepted}, {below, Rejected}, {above, Rejected}} {
			d, err := b.Decide(Measurement{Value: v.value, Expanded: nm(c.expanded)}, Guarded95)
			if err != nil || d.Acceptance != v.want {
				t.Errorf("%s, U %s: %v: %v, %v, want %v", c.band, c.expanded, v.value, d.Acceptance, err, v.want)
			}
		}
	}
}

// The limits themselves are inside, whatever unit they are read in; 12 in to the foot.
func TestContainsItsLimits(t *testing.T) {
	b := MustParseBand("20 to 30 ft-lb")
	for reading, want := range map[string]bool{"240 in-lb": true, "20 ft-lb": true, "239 in-lb": false, "30 ft-lb": true, "360.001 in-lb": false} {
		q := units.MustParseTorque(reading)
		if b.Contains(q) != want || (Band{}).Contains(q) {
			t.Errorf("%s: %v", reading, !want)
		}
	}
}

func TestNamesOfValues(t *testing.T) {
	for got, want := range map[string]string{
		Rule(0).String(): "Rule(0)", Guarded95.String(): "guarded for 95 %", Rule(99).String(): "Rule(99)",
		Acceptance(0).String(): "Acceptance(0)", ConditionallyAccepted.String(): "conditionally accepted", Acceptance(99).String(): "Acceptance(99)",
		DeviationBasis(99).String(): "DeviationBasis(99)", OfFullScale.String(): "of full scale",
		SharesThirdUnit.String(): "shares a third unit", Disagrees.String(): "disagrees",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A risk of 0.0080 and a limit of 1.672 are printed (Source: jcgm-106-risk), further digits computed: parts
// distributed as gamma with shape 4 and rate 4, an upper limit of 2, u = 0.25. The consumer's
// global risk is the integral, over the parts beyond the limit, of the probability that a
// measured value falls below the acceptance limit A: the normal distribution used here, asked from
// the other side. Its micrometres are newton metres here.
func TestNormalAgainstGlobalRisk(t *testing.T) {
	density := func(x float64) float64 { return 256 * x * x * x * math.Exp(-4*x) / 6 }
	integral := func(f func(x float64) float64) float64 { // Simpson, 2 to 10
		const n = 1600
		sum := f(2) + f(10)
		for i := 1; i < n; i++ {
			sum += float64(2+2*(i%2)) * f(2+8*float64(i)/n)
		}
		return sum * 8 / n / 3
	}
	if p := integral(density); math.Abs(p-0.042380) > 1e-6 {
		t.Errorf("nonconforming: %v", p)
	}
	for limit, want := range map[string]float64{"2": 0.008019, "1.6718": 0.0009998} {
		band := MustParseBand("max " + limit + " N·m")
		risk := integral(func(x float64) float64 {
			value, err := units.New(decimal.NewFromFloat(x), units.NewtonMetre)
			if err != nil {
				t.Fatal(err)
			}
			g := band.guess(Measurement{Value: value, Expanded: nm("0.5")})
			if !g.ok {
				t.Fatalf("no guess at %v", value)
			}
			return density(x) * g.p
		})
		if math.Abs(risk-want) > 1e-6 {
			t.Errorf("A = %s: risk %v, want %v", limit, risk, want)
		}
	}
}

// U = k·u (Source: jcgm-100): 1.5 N·m at k = 3 is 1 N·m at k = 2, and so is 0.5 N·m at k = 1.
func TestCoverageFactor(t *testing.T) {
	b := MustParseBand("20 to 24 N·m")
	for _, value := range []string{"20.9 N·m", "21 N·m", "22 N·m", "23 N·m", "23.1 N·m"} {
		for _, rule := range []Rule{SimpleAcceptance, GuardedByU, Guarded95, NonBinary} {
			want, err := b.Decide(Measurement{Value: units.MustParseTorque(value), Expanded: nm("1")}, rule)
			if err != nil {
				t.Fatal(err)
			}
			for k, expanded := range map[string]string{"3": "1.5 N·m", "1": "0.5 N·m", "2": "1 N·m", "2.00": "1 N·m"} {
				got, err := b.Decide(Measurement{units.MustParseTorque(value), units.MustParseTorque(expanded), decimal.RequireFromString(k)}, rule)
				if err != nil || got.Acceptance != want.Acceptance || !got.Conformance.Decimal.Equal(want.Conformance.Decimal) {
					t.Errorf("%s, %v, k = %s: %v, %v; want %v", value, rule, k, got, err, want)
				}
			}
		}
	}
	for _, k := range []decimal.Decimal{decimal.New(-2, 0), decimal.New(5, -1), decimal.New(11, 0), decimal.New(1, 1<<30), decimal.New(1, -(1 << 30))} {
		_, err := b.Decide(Measurement{nm("22"), nm("1"), k}, GuardedByU)
		var e *units.ParseError
		if !errors.As(err, &e) || !errors.Is(err, units.ErrRange) {
			t.Errorf("%v", err)
		}
	}
}
