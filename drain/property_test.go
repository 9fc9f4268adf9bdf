package drain

import (
	"math/big"
	"testing"
	"time"

	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// thousandths draws a whole number of thousandths of a unit.
func thousandths[U units.Unit](t *rapid.T, unit U, low, high int, label string) units.Quantity[U] {
	n := rapid.IntRange(low, high).Draw(t, label)
	return must(units.New(decimal.New(int64(n), -3), unit))
}

func drawTemperature(t *rapid.T, label string) units.Temperature {
	if rapid.Bool().Draw(t, label+" in °F") {
		n := rapid.IntRange(-5800, 30200).Draw(t, label)
		return must(units.NewTemperature(decimal.New(int64(n), -2), units.Fahrenheit))
	}
	n := rapid.IntRange(-5000, 15000).Draw(t, label)
	return must(units.NewTemperature(decimal.New(int64(n), -2), units.Celsius))
}

// drawFuel draws a density at 60 °F, often one close to an edge between groups, and restates it at
// another temperature.
func drawFuel(t *rapid.T) Fuel {
	micro := rapid.Int64Range(610_600_000, 1_163_500_000)
	if rapid.Bool().Draw(t, "near an edge") {
		edge := rapid.SampledFrom([]int64{770_352_000, 787_519_500, 838_312_700}).Draw(t, "edge")
		micro = rapid.Int64Range(edge-200, edge+200)
	}
	rho := must(units.New(decimal.New(micro.Draw(t, "µg/L"), -6), units.KilogramPerCubicMetre))
	return must(FuelAt(rho, sixty))
}

func drawEstimate[U units.Unit](t *rapid.T, unit U, low, high int, label string) Estimate[U] {
	a, b, c := thousandths(t, unit, low, high, label+" a"), thousandths(t, unit, low, high, label+" b"), thousandths(t, unit, low, high, label+" c")
	least, most := units.Min(a, b, c), units.Max(a, b, c)
	sum, _ := units.Sum(unit, a, b, c)
	best, _ := sum.Sub(least)
	best, _ = best.Sub(most)
	return must(NewEstimate(least, best, most, rapid.SampledFrom([]Provenance{Weighed, Measured, Stated, Assumed}).Draw(t, label+" from")))
}

// off is |a - b| / b.
func off[U units.Unit](a, b units.Quantity[U]) *big.Rat {
	x := a.Ratio(b)
	return x.Abs(x.Sub(x, big.NewRat(1, 1)))
}

func TestDensityFallsAsItGetsWarmer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFuel(t)
		a, b := drawTemperature(t, "a"), drawTemperature(t, "b")
		cold, warm := must(f.DensityAt(a)), must(f.DensityAt(b))
		if a.Less(b) && !warm.Less(cold) {
			t.Fatalf("%s at %s, %s at %s", cold, a, warm, b)
		}
	})
}

// The factor jumps by up to 9.1e-8 between groups, at 150 °C, and by no more.
func TestObservedToBaseAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFuel(t)
		at := drawTemperature(t, "observed at")
		observed := must(f.DensityAt(at))
		g, err := FuelAt(observed, at)
		if err != nil { // at the ends of the tables twelve places can fall outside
			rho, _ := f.Density()
			if edge := off(rho, density("1163.5 kg/m³")); edge.Cmp(big.NewRat(1, 1000)) > 0 && rho.RatIn(units.KilogramPerCubicMetre).Cmp(big.NewRat(611, 1)) > 0 {
				t.Fatalf("%s at %s: %v", observed, at, err)
			}
			return
		}
		if back := must(g.DensityAt(at)); !back.Equal(observed) {
			t.Fatalf("%s at %s is given back as %s", observed, at, back)
		}
		before, after := must(f.DensityAt(sixty)), must(g.DensityAt(sixty))
		tolerance := big.NewRat(1, 1e14)
		if f.group != g.group {
			tolerance = big.NewRat(1, 1e7)
		}
		if off(after, before).Cmp(tolerance) > 0 {
			t.Fatalf("%s at 60 °F comes back from %s as %s", before, at, after)
		}
	})
}

// What the solver finds is a solution: taken back to where it was observed it is what was given.
func TestSolutionSolves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFuel(t)
		at := drawTemperature(t, "observed at")
		observed := must(f.DensityAt(at))
		g, err := FuelAt(observed, at)
		if err != nil {
			return
		}
		ctl, _ := groups[g.group].ctl(g.rho60, tStar(at))
		given := fixedRat(observed.RatIn(units.KilogramPerCubicMetre))
		if rest := g.rho60.mul(ctl).sub(given); !at.Equal(sixty) && !rest.within(fixedText("1e-24")) {
			t.Fatalf("%s at %s: off by %s", observed, at, rest.rat().FloatString(30))
		}
	})
}

func TestFactorThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFuel(t)
		a, b := drawTemperature(t, "a"), drawTemperature(t, "b")
		there, back := must(f.VolumeFactor(VolumeAt{a, b})), must(f.VolumeFactor(VolumeAt{b, a}))
		if there.Mul(back).Sub(decimal.New(1, 0)).Abs().GreaterThan(number("2e-18")) {
			t.Fatalf("%s · %s = %s", there, back, there.Mul(back))
		}
		rounded := must(f.volumeFactor(VolumeAt{a, b}, 5))
		if rounded.Sub(there).Abs().GreaterThan(number("0.000005000000000001")) {
			t.Fatalf("%s rounded to %s", there, rounded)
		}
		// the mass is the same whichever way the volume is stated
		v := thousandths(t, units.Litre, 1, 1_000_000, "volume")
		m, n := must(f.Mass(v, a)), must(f.Mass(must(f.Volume(v, VolumeAt{a, b})), b))
		diff, _ := m.Sub(n)
		if mass("0.00000000001 kg").Less(diff.Abs()) {
			t.Fatalf("%s at %s, %s at %s", m, a, n, b)
		}
	})
}

func TestScaleReadingAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := thousandths(t, units.Kilogram, 0, 1_000_000, "mass")
		rho := thousandths(t, units.KilogramPerCubicMetre, 500_000, 20_000_000, "density")
		shown := must(ScaleReading(m, rho))
		if lighter := rho.Less(density("8000 kg/m³")); m.Less(shown) && lighter {
			t.Fatalf("%s shows %s", m, shown)
		}
		back := must(MassFromScale(shown, rho))
		if diff, _ := back.Sub(m); mass("0.000000000002 kg").Less(diff.Abs()) {
			t.Fatalf("%s comes back as %s", m, back)
		}
	})
}

func TestEstimatesStayInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]units.VolumeUnit{units.Litre, units.USGallon, units.CubicInch, units.ImperialPint})
		a := drawEstimate(t, unit.Draw(t, "unit a"), 0, 5000, "a")
		b := drawEstimate(t, unit.Draw(t, "unit b"), 0, 5000, "b")
		factor := decimal.New(rapid.Int64Range(0, 1e15).Draw(t, "factor"), -rapid.Int32Range(0, 30).Draw(t, "places"))
		sum, difference, scaled := must(a.Add(b)), must(a.Sub(b)), must(a.Scale(factor))
		total := must(Sum(unit.Draw(t, "unit"), a, b))
		f := drawFuel(t)
		m := must(f.MassOf(a, drawTemperature(t, "at")))
		for name, err := range map[string]error{
			"sum": sum.Check(), "difference": difference.Check(), "scaled": scaled.Check(), "total": total.Check(),
			"mass": m.Check(), "rounded": total.RoundIn(unit.Draw(t, "unit"), 1).Check(),
		} {
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		if sum.From != Weakest(a.From, b.From) || total.From != sum.From || m.From != a.From {
			t.Fatalf("%v and %v give %v, %v; mass %v", a.From, b.From, sum.From, total.From, m.From)
		}
		// the true sum is inside
		low, _ := units.Sum(units.CubicInch, a.Low, b.Low)
		if exactSum := new(big.Rat).Add(a.Low.RatIn(units.Litre), b.Low.RatIn(units.Litre)); exactSum.Cmp(sum.Low.RatIn(units.Litre)) < 0 {
			t.Fatalf("low %s is above the exact sum, %s", sum.Low, low)
		}
		if exactSum := new(big.Rat).Add(a.High.RatIn(units.Litre), b.High.RatIn(units.Litre)); exactSum.Cmp(sum.High.RatIn(units.Litre)) > 0 {
			t.Fatalf("high %s is below the exact sum", sum.High)
		}
	})
}

func TestTotalsDontDependOnOrderOrGrouping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []volumes
		for range rapid.IntRange(1, 8).Draw(t, "how many") {
			all = append(all, drawEstimate(t, units.Litre, 0, 5000, "e"))
		}
		want := must(Sum(units.Litre, all...)).String()
		split := rapid.IntRange(0, len(all)-1).Draw(t, "split")
		tail := must(Sum(units.Litre, all[split:]...))
		grouped := must(Sum(units.Litre, append(append([]volumes{}, all[:split]...), tail)...))
		if grouped.String() != want {
			t.Fatalf("%s, grouped %s", want, grouped)
		}
		shuffled := rapid.Permutation(all).Draw(t, "order")
		if got := must(Sum(units.Litre, shuffled...)).String(); got != want {
			t.Fatalf("%s, in another order %s", want, got)
		}
	})
}

// Whatever the true dimensions within the estimates are, the true volume is within the estimate.
func TestVesselsHoldTheTrueVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inside := func(e lengths, label string) lengths {
			span, _ := e.High.Sub(e.Low)
			x := rapid.Int64Range(0, 1000).Draw(t, label)
			part := must(units.FromRat(new(big.Rat).Mul(span.RatIn(units.Centimetre), big.NewRat(x, 1000)), units.Centimetre, 12, units.ToNegativeInf))
			q, _ := e.Low.Add(part)
			return must(Exactly(q, Measured))
		}
		draw := func(label string) lengths { return drawEstimate(t, units.Centimetre, 100, 30_000, label) }
		lower := ConeFrustum{draw("bottom"), draw("top"), draw("height")}
		upper := Cylinder{draw("diameter"), draw("height above")}
		trueLower := ConeFrustum{inside(lower.Bottom, "b"), inside(lower.Top, "t"), inside(lower.Height, "h")}
		trueUpper := Cylinder{inside(upper.Diameter, "d"), inside(upper.Height, "ha")}
		level := drawEstimate(t, units.Centimetre, 0, 30_000, "level")
		trueLevel := inside(level, "l")
		for _, pair := range [][2]Vessel{{lower, trueLower}, {upper, trueUpper}, {Stack{lower, upper}, Stack{trueLower, trueUpper}}} {
			checkInside(t, must(pair[0].Capacity()), must(pair[1].Capacity()))
			below, err := pair[0].Filled(level)
			trueBelow, trueErr := pair[1].Filled(trueLevel)
			if err != nil || trueErr != nil {
				continue // a level above the rim
			}
			checkInside(t, below, trueBelow)
		}
	})
}

// checkInside allows for the twelve places at which both are rounded outward.
func checkInside(t *rapid.T, e, truth volumes) {
	if err := e.Check(); err != nil {
		t.Fatal(err)
	}
	if truth.High.Less(e.Low) || e.High.Less(truth.Low) {
		t.Fatalf("%s is outside %s", truth, e)
	}
}

// n cycles fill the void and n-1 don't.
func TestKeyCyclesAreJustEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		void := drawEstimate(t, units.Litre, 0, 20_000, "void")
		flow := drawEstimate(t, units.LitrePerMinute, 1, 10_000, "flow")
		on := time.Duration(rapid.Int64Range(int64(time.Second), int64(time.Minute)).Draw(t, "on"))
		efficiency := units.Percent.Of(rapid.Int64Range(1, 100).Draw(t, "efficiency"))
		least, best, most, err := KeyCycles(void, flow, on, efficiency)
		if err != nil {
			return // more than a million
		}
		if least > best || best > most {
			t.Fatalf("%d, %d, %d", least, best, most)
		}
		left := func(cycles int) volumes { return must(VoidLeft(void, flow, on, efficiency, cycles)) }
		if left(least).Low.Sign() != 0 || left(best).Best.Sign() != 0 || left(most).High.Sign() != 0 {
			t.Fatalf("%d, %d, %d cycles leave %s, %s, %s", least, best, most, left(least), left(best), left(most))
		}
		if most > 0 && left(most-1).High.Sign() == 0 { // high is rounded up: the least drop shows
			t.Fatalf("%d cycles of %d already fill it", most-1, most)
		}
	})
}

// anything draws a quantity with up to 34 digits and 60 places, of either sign, now and then with a
// unit that isn't one.
func anything[U units.Unit](t *rapid.T, label string) units.Quantity[U] {
	digits := rapid.StringMatching(`-?[1-9][0-9]{0,33}`).Draw(t, label)
	q, err := units.New(number(digits).Shift(-rapid.Int32Range(0, 60).Draw(t, label+" places")), U(rapid.Uint8Range(0, 4).Draw(t, label+" unit")))
	if err != nil {
		return units.Quantity[U]{}.In(U(rapid.Uint8().Draw(t, label+" stray")))
	}
	return q
}

// Whatever comes in, an answer or an error comes out, and with an error nothing else.
func TestNothingPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, err := units.NewTemperature(number(rapid.StringMatching(`-?[0-9]{1,3}(\.[0-9]{1,30})?`).Draw(t, "at")), units.TemperatureScale(rapid.Uint8Range(0, 2).Draw(t, "scale")))
		if err != nil {
			return
		}
		rho, v, m := anything[units.DensityUnit](t, "density"), anything[units.VolumeUnit](t, "volume"), anything[units.MassUnit](t, "mass")
		a := Estimate[units.VolumeUnit]{v, anything[units.VolumeUnit](t, "best"), anything[units.VolumeUnit](t, "high"), Provenance(rapid.Uint8Range(0, 5).Draw(t, "from"))}
		l := Estimate[units.LengthUnit]{anything[units.LengthUnit](t, "low length"), anything[units.LengthUnit](t, "length"), anything[units.LengthUnit](t, "high length"), Measured}
		q := Estimate[units.FlowUnit]{anything[units.FlowUnit](t, "low flow"), anything[units.FlowUnit](t, "flow"), anything[units.FlowUnit](t, "high flow"), Stated}
		if rapid.Bool().Draw(t, "without spread") {
			a.Best, a.High, l.Best, l.High, q.Best, q.High = a.Low, a.Low, l.Low, l.Low, q.Low, q.Low
		}
		f, err := FuelAt(rho, at)
		if err != nil {
			f = must(FuelAt(density("840 kg/m³"), fifteen))
		}
		refused := func(err error, zero bool) {
			if err != nil && !zero {
				t.Fatalf("a result beside %v", err)
			}
		}
		mass, err := f.Mass(v, at)
		refused(err, mass.Sign() == 0)
		masses, err := f.MassOf(a, at)
		refused(err, masses.From == 0)
		shown, err := ScaleReading(m, rho)
		refused(err, shown.Sign() == 0)
		weighed, err := MassFromScale(m, rho)
		refused(err, weighed.Sign() == 0)
		filled, err := Stack{Cylinder{l, l}, ConeFrustum{l, l, l}}.Filled(l)
		refused(err, filled.From == 0)
		out, err := Draining{a, a, a}.Out()
		refused(err, out.From == 0)
		water, err := WaterMass(a, at)
		refused(err, water.From == 0)
		_, _, most, err := KeyCycles(a, q, time.Second, units.Percent.Of(10))
		refused(err, most == 0)
		left, err := Filling{Limit: v, Inside: a}.Left()
		refused(err, left.From == 0)
		limit, err := FillLimit(f, v, at)
		refused(err, limit.Sign() == 0)
		total, err := Sum(units.VolumeUnit(rapid.Uint8().Draw(t, "total in")), a, a)
		refused(err, total.From == 0)
	})
}
