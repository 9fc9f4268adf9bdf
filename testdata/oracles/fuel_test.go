package oracles

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
)

func density(rng *rand.Rand, low, span int64) units.Density {
	q, err := units.New(decimal.New(low*10+rng.Int64N(span*10), -1), units.KilogramPerCubicMetre)
	if err != nil {
		panic(err)
	}
	return q
}

func celsius(rng *rand.Rand, low, span int64) units.Temperature {
	t, err := units.NewTemperature(decimal.New(low*10+rng.Int64N(span*10), -1), units.Celsius)
	if err != nil {
		panic(err)
	}
	return t
}

// Fuel: its density at one temperature from that at another, the density at 60 °F found by bisection.
func TestFuel(t *testing.T) {
	ask(t, "fuel.py", func(rng *rand.Rand) map[string]any {
		for {
			d, at, to := density(rng, 700, 300), celsius(rng, -20, 100), celsius(rng, -20, 100)
			if rng.IntN(5) == 0 {
				d = density(rng, one(rng, []int64{765, 782, 833}), 10) // next to where groups meet
			}
			f, err := drain.FuelAt(d, at)
			if err != nil {
				continue // off the standard's range, or between two groups
			}
			there, err := f.DensityAt(to)
			if err != nil {
				continue
			}
			factor, err := f.VolumeFactor(drain.VolumeAt{Temperature: at, Base: to})
			if err != nil {
				continue
			}
			return map[string]any{"density": d.Magnitude().String(), "at": at.Degrees().String(), "to": to.Degrees().String(),
				"there": there.In(units.KilogramPerCubicMetre).Magnitude().String(), "factor": factor.String()}
		}
	}, "there", "factor")
}

// Water: by the equation of another author, who agrees to ten parts in a million.
func TestWater(t *testing.T) {
	ask(t, "fuel.py", func(rng *rand.Rand) map[string]any {
		at := celsius(rng, 1, 39)
		d, err := drain.WaterDensityAt(at)
		if err != nil {
			panic(err)
		}
		return map[string]any{"at": at.Degrees().String(), "density": d.In(units.KilogramPerCubicMetre).Magnitude().String()}
	}, "density")
}

func length(rng *rand.Rand, low, span int64) drain.Estimate[units.LengthUnit] {
	best := low + rng.Int64N(span)
	mm := func(n int64) units.Length { return units.Millimetre.Of(n) }
	e, err := drain.NewEstimate(mm(best-rng.Int64N(3)), mm(best), mm(best+rng.Int64N(3)), drain.Measured)
	if err != nil {
		panic(err)
	}
	return e
}

func ends[U units.Unit](e drain.Estimate[U], unit U) []string {
	return []string{e.Low.In(unit).Magnitude().String(), e.Best.In(unit).Magnitude().String(), e.High.In(unit).Magnitude().String()}
}

// Vessels: cylinders and cones by adding up thin slices.
func TestVessels(t *testing.T) {
	ask(t, "fuel.py", func(rng *rand.Rand) map[string]any {
		for {
			bottom, top, height := length(rng, 40, 200), length(rng, 40, 200), length(rng, 60, 300)
			level := length(rng, 5, 300)
			var v drain.Vessel = drain.ConeFrustum{Bottom: bottom, Top: top, Height: height}
			if rng.IntN(2) == 0 {
				v, top = drain.Cylinder{Diameter: bottom, Height: height}, bottom
			}
			filled, err := v.Filled(level)
			if err != nil {
				continue // above the rim
			}
			return map[string]any{"bottom": ends(bottom, units.Millimetre), "top": ends(top, units.Millimetre), "height": ends(height, units.Millimetre),
				"level": ends(level, units.Millimetre), "filled": ends(filled, units.Millilitre)}
		}
	}, "filled")
}

// Priming: key cycles by letting the pump run until the void is full.
func TestKeyCycles(t *testing.T) {
	ask(t, "fuel.py", func(rng *rand.Rand) map[string]any {
		for {
			void, err1 := drain.PlusMinus(units.Millilitre.Of(200+rng.Int64N(2000)), units.Millilitre.Of(rng.Int64N(150)), drain.Assumed)
			flow, err2 := drain.PlusMinus(units.LitrePerHour.Of(40+rng.Int64N(200)), units.LitrePerHour.Of(rng.Int64N(20)), drain.Stated)
			on, share := time.Duration(5+rng.IntN(60))*time.Second, 20+rng.Int64N(81)
			least, best, most, err3 := drain.KeyCycles(void, flow, on, units.Percent.Of(share))
			if err1 != nil || err2 != nil || err3 != nil {
				continue
			}
			return map[string]any{"void": ends(void, units.Millilitre), "flow": ends(flow, units.LitrePerHour), "on": on.Seconds(), "share": share,
				"cycles": []int{least, best, most}}
		}
	}, "cycles")
}

// Ledgers: a month of postings in any order, told twice, corrected and withdrawn, replayed one by one.
func TestLedgers(t *testing.T) {
	federal := usfederal.RuleSet()
	ask(t, "fuel.py", func(rng *rand.Rand) map[string]any {
		var l waste.Ledger
		var lines []map[string]any
		jobs, month := 1+rng.IntN(8), 1+rng.IntN(12)
		type key struct {
			job      string
			revision int
		}
		withdrawn := map[key]bool{}
		entered := map[key]bool{}
		add := func(p waste.Posting, line map[string]any) {
			for range 1 + rng.IntN(2) { // now and then twice
				if _, err := l.Add(p); err != nil {
					panic(err)
				}
			}
			lines = append(lines, line)
		}
		for range 2 + rng.IntN(20) {
			k := key{fmt.Sprintf("J%d", rng.IntN(jobs)), rng.IntN(3)}
			at := time.Date(2026, 12, 31, 12, 0, 0, 0, time.UTC)
			if rng.IntN(8) == 0 {
				if entered[k] || withdrawn[k] {
					continue
				}
				withdrawn[k] = true
				add(waste.Posting{At: at, By: "invented", Withdrawal: &waste.Withdrawal{Job: k.job, Revision: k.revision}},
					map[string]any{"job": k.job, "revision": k.revision, "withdrawn": true})
				continue
			}
			if withdrawn[k] || entered[k] {
				continue
			}
			entered[k] = true
			for n := range 1 + rng.IntN(3) {
				best := decimal.New(1+rng.Int64N(60000), -2)
				low, high := best.Sub(decimal.New(rng.Int64N(2), -2)), best.Add(decimal.New(rng.Int64N(400), -2))
				day := waste.Date{Year: 2026, Month: time.Month(max(1, min(12, month-1+rng.IntN(3)))), Day: 1 + rng.IntN(28)}
				determination := waste.Determination(rng.IntN(3))
				kg := func(d decimal.Decimal) units.Mass {
					q, err := units.New(d, units.Kilogram)
					if err != nil {
						panic(err)
					}
					return q
				}
				e := waste.Entry{Job: k.job, Revision: k.revision, Line: n + 1, Date: day, Stream: waste.Stream(1 + rng.IntN(8)), Determination: determination}
				e.Mass.Low, e.Mass.Best, e.Mass.High, e.Mass.From = kg(low), kg(best), kg(high), drain.Assumed
				add(waste.Posting{At: at, By: "invented", Entry: &e}, map[string]any{"job": k.job, "revision": k.revision, "month": int(day.Month),
					"determination": determination.String(), "mass": []string{low.String(), best.String(), high.String()}})
			}
		}
		s, err := l.Statement(waste.Date{Year: 2026, Month: time.Month(month), Day: 15}, federal)
		if err != nil {
			panic(err)
		}
		mass := func(e drain.Estimate[units.MassUnit]) []string { return ends(e, units.Kilogram) }
		return map[string]any{"lines": lines, "month": month, "hazardous": mass(s.Hazardous), "undetermined": mass(s.Undetermined), "notCounted": mass(s.NotCounted),
			"lowest": s.Lowest, "highest": s.Highest, "said": strings.Contains(s.String(), "2026")}
	}, "hazardous", "undetermined", "notCounted", "lowest", "highest")
}
