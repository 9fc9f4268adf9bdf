package oracles

import (
	"math/rand/v2"
	"strconv"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/drain"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// refusing are the questions, by name: each fills in what it asks and gives the library's error.
var refusing = []struct {
	name string
	ask  func(*rand.Rand, map[string]any) error
}{
	{"quantities", func(rng *rand.Rand, told map[string]any) error {
		q := reading(rng)
		told["kind"], told["text"] = q["kind"], q["text"]
		_, err := parsers[q["kind"].(string)](q["text"].(string))
		return err
	}},
	{"bands", func(rng *rand.Rand, told map[string]any) error {
		text := limits(rng)["text"].(string)
		if rng.IntN(12) == 0 {
			text += " (" + decimalText(rng, 2) + " " + one(rng, []string{"ft-lb", "N·m"}) + ")"
		}
		told["text"] = text
		_, err := torque.ParseBand(text)
		return err
	}},
	{"between", func(rng *rand.Rand, told map[string]any) error {
		list := all[units.TorqueUnit]()
		if rng.IntN(2) == 0 {
			b, unit, places := band(rng), one(rng, list), rng.IntN(5)-2
			told["low"], told["high"], told["unit"], told["places"] = b.Low().String(), b.High().String(), unit.String(), places
			_, err := b.Inward(unit, places)
			return err
		}
		low, high := mustTorque(near(rng), one(rng, list)), mustTorque(near(rng), one(rng, list))
		if rng.IntN(4) == 0 {
			high = low.In(one(rng, list)).Round(3, one(rng, modes))
		}
		told["low"], told["high"] = low.String(), high.String()
		_, err := torque.Between(low, high)
		return err
	}},
	{"percents", func(rng *rand.Rand, told map[string]any) error {
		nominal := mustTorque(near(rng), units.NewtonMetre)
		percent := one(rng, []decimal.Decimal{near(rng), decimal.New(100, 0), decimal.New(100001, -3), decimal.New(rng.Int64N(100), 0)})
		told["nominal"], told["percent"] = nominal.String(), percent.String()
		_, err := torque.PlusMinusPercent(nominal, mustShare(percent))
		return err
	}},
	{"decisions", func(rng *rand.Rand, told map[string]any) error {
		rule := one(rng, append([]torque.Rule{0}, rules...))
		m := torque.Measurement{Value: mustTorque(near(rng), units.NewtonMetre), Expanded: mustTorque(near(rng), units.NewtonMetre),
			CoverageFactor: one(rng, []decimal.Decimal{{}, decimal.New(2, 0), decimal.New(1, 0), decimal.New(10, 0), decimal.New(999, -3), decimal.New(10001, -3), decimal.New(-2, 0)})}
		told["expanded"], told["k"], told["rule"] = m.Expanded.String(), m.CoverageFactor.String(), ""
		if rule != 0 {
			told["rule"] = rule.String()
		}
		_, err := torque.MustParseBand("20 to 30 N·m").Decide(m, rule)
		return err
	}},
	{"dials", func(rng *rand.Rand, told map[string]any) error {
		w, _, about := wrench(rng, units.NewtonMetre)
		dial := w.Lowest.Magnitude().Add(w.Step.Magnitude().Mul(decimal.New(rng.Int64N(80)-10, 0)))
		if rng.IntN(2) == 0 {
			dial = dial.Add(decimal.New(rng.Int64N(3)-1, -3))
		}
		told["lowest"], told["highest"], told["step"], told["dial"] = about["lowest"], about["highest"], about["step"], dial.String()
		_, err := w.At(mustTorque(dial, units.NewtonMetre), torque.Adapter{})
		return err
	}},
	{"marks", func(rng *rand.Rand, told map[string]any) error {
		d := newDisc(rng)
		label := "m" + strconv.Itoa(rng.IntN(20))
		told["labels"], told["label"] = d.labels, label
		_, err := d.ring.At(label)
		return err
	}},
	{"sequences", func(rng *rand.Rand, told map[string]any) error {
		text := sequence(rng)["text"].(string)
		told["text"] = text
		_, err := turn.ParseSequence(text)
		return err
	}},
	{"estimates", func(rng *rand.Rand, told map[string]any) error {
		low, best, high, from := rng.Int64N(5), rng.Int64N(5), rng.Int64N(5), one(rng, []drain.Provenance{0, drain.Measured, drain.Stated})
		told["low"], told["best"], told["high"], told["from"] = strconv.FormatInt(low, 10), strconv.FormatInt(best, 10), strconv.FormatInt(high, 10), from != 0
		_, err := drain.NewEstimate(units.Litre.Of(low), units.Litre.Of(best), units.Litre.Of(high), from)
		return err
	}},
	{"spreads", func(rng *rand.Rand, told map[string]any) error {
		spread := rng.Int64N(5) - 2
		told["spread"] = strconv.FormatInt(spread, 10)
		_, err := drain.PlusMinus(units.Litre.Of(5), units.Litre.Of(spread), drain.Measured)
		return err
	}},
	{"fuels", func(rng *rand.Rand, told map[string]any) error {
		rho, celsius := one(rng, []int64{0, 200, 400, 800, 850, 1000, 1400}), edge(rng, -50, 150)
		told["density"], told["celsius"] = strconv.FormatInt(rho, 10), celsius.String()
		_, err := drain.FuelAt(units.KilogramPerCubicMetre.Of(rho), mustCelsius(celsius))
		return err
	}},
	{"waters", func(rng *rand.Rand, told map[string]any) error {
		celsius := edge(rng, 0, 100)
		told["celsius"] = celsius.String()
		_, err := drain.WaterDensityAt(mustCelsius(celsius))
		return err
	}},
	{"levels", func(rng *rand.Rand, told map[string]any) error {
		height, level := 100+rng.Int64N(5), one(rng, []int64{-1, 0, 1, 98 + rng.Int64N(8)})
		told["height"], told["level"] = strconv.FormatInt(height, 10), strconv.FormatInt(level, 10)
		mm := func(n int64) drain.Estimate[units.LengthUnit] {
			e, err := drain.NewEstimate(units.Millimetre.Of(n), units.Millimetre.Of(n), units.Millimetre.Of(n), drain.Measured)
			must(err)
			return e
		}
		_, err := drain.Cylinder{Diameter: mm(80), Height: mm(height)}.Filled(mm(level))
		return err
	}},
	{"pumps", func(rng *rand.Rand, told map[string]any) error {
		void, flow, on, share := 1+rng.Int64N(9000), one(rng, []int64{-1, 0, 1, 120, 120}), one(rng, []int64{-1, 0, 1, 30, 30}), one(rng, []int64{-1, 0, 1, 100, 101, 50})
		told["void"], told["flow"], told["on"], told["share"] = strconv.FormatInt(void*1000, 10), strconv.FormatInt(flow, 10), strconv.FormatInt(on, 10), strconv.FormatInt(share, 10)
		exactly, err1 := drain.PlusMinus(units.Litre.Of(void), units.Litre.Of(0), drain.Stated)
		pump, err2 := drain.PlusMinus(units.LitrePerHour.Of(flow), units.LitrePerHour.Of(0), drain.Stated)
		must(err1)
		must(err2)
		_, _, _, err := drain.KeyCycles(exactly, pump, time.Duration(on)*time.Second, units.Percent.Of(share))
		return err
	}},
}

// near is a number about zero, as often below as above or zero itself.
func near(rng *rand.Rand) decimal.Decimal { return decimal.New(rng.Int64N(9)-3, -int32(rng.IntN(3))) }

// edge is a temperature between two limits, on one of them, or just beyond.
func edge(rng *rand.Rand, low, high int64) decimal.Decimal {
	return one(rng, []decimal.Decimal{decimal.New(low, 0), decimal.New(low*1000-1, -3), decimal.New(high, 0), decimal.New(high*1000+1, -3), decimal.New(low+rng.Int64N(high-low), 0)})
}

func mustShare(d decimal.Decimal) units.Share {
	s, err := units.New(d, units.Percent)
	must(err)
	return s
}

func mustCelsius(d decimal.Decimal) units.Temperature {
	t, err := units.NewTemperature(d, units.Celsius)
	must(err)
	return t
}

// Refusals: with which sentinel an input is refused, if with any, by the rules that are documented. Source: api-11-1.
func TestRefusals(t *testing.T) {
	ask(t, "refusals.py", func(rng *rand.Rand) map[string]any {
		told, r := map[string]any{}, one(rng, refusing)
		if rng.IntN(2) == 0 { // texts have most to be wrong
			r = refusing[rng.IntN(2)]
		}
		told["asked"] = r.name
		told["refused"] = why(r.ask(rng, told))
		return told
	}, "refused")
}
