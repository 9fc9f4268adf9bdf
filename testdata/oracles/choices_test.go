package oracles

import (
	"math/rand/v2"
	"strconv"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// cabinet is a few wrenches, all used with one adapter, and how they are told. Some are calibrated until the day of the job, some until
// another, and some nobody knows.
func cabinet(rng *rand.Rand, job time.Time) ([]torque.Wrench, torque.Adapter, []map[string]any) {
	var wrenches []torque.Wrench
	var told []map[string]any
	var adapter torque.Adapter
	for i := range 1 + rng.IntN(3) {
		w, a, t := wrench(rng, one(rng, []units.TorqueUnit{units.NewtonMetre, units.NewtonMetre, units.FootPound, units.InchPound}))
		if i == 0 {
			adapter = a
		} else {
			for _, name := range []string{"offset", "doubt", "angle"} {
				t[name] = told[0][name]
			}
			if rng.IntN(8) > 0 { // else its length isn't known, perhaps
				w.Length, t["length"] = units.Millimetre.Of(300), "300"
			}
		}
		w.Name, t["until"] = "W"+strconv.Itoa(i), ""
		if rng.IntN(12) > 0 {
			until := job.AddDate(0, 0, one(rng, []int{0, 0, 1, 30, 400, -1})).In(one(rng, []*time.Location{time.UTC, time.FixedZone("", -9*3600), time.FixedZone("", 12*3600)}))
			w.CalibratedUntil, t["until"] = until, until.Format(time.DateOnly)
		}
		if i > 0 && rng.IntN(8) == 0 { // as good as the one before
			w, t = wrenches[i-1], told[i-1]
		}
		wrenches, told = append(wrenches, w), append(told, t)
	}
	return wrenches, adapter, told
}

// Choices: which of a few wrenches, to which mark, and why not the others; for a band, for a torque without a tolerance, and
// for a part that is tightened to its stop. Source: oracle-core.
func TestChoices(t *testing.T) {
	ask(t, "choices.py", func(rng *rand.Rand) map[string]any {
		job := time.Date(2026, time.Month(1+rng.IntN(12)), 1+rng.IntN(28), 12, 0, 0, 0, time.UTC)
		wrenches, adapter, told := cabinet(rng, job)
		unit := one(rng, []units.TorqueUnit{units.NewtonMetre, units.FootPound, units.InchPound})
		b := settingBand(rng, one(rng, wrenches), unit)
		best, choices, asked := 0, []torque.Choice(nil), map[string]any{"wrenches": told, "job": job.Format(time.DateOnly), "asked": ""}
		switch rng.IntN(4) {
		case 0:
			w := one(rng, wrenches)
			wanted := mustTorque(w.Step.Magnitude().Mul(decimal.New(rng.Int64N(130), 0)).Add(w.Lowest.Magnitude()).Mul(decimal.New(5, -1)).Add(decimal.New(1, -1)), w.Step.Unit()).In(unit)
			best, choices = torque.ChooseNearest(wrenches, wanted, adapter, job)
			asked["asked"], asked["wanted"] = "nearest", wanted.String()
		case 1:
			best, choices = torque.Choose(wrenches, b, adapter, job)
		default:
			if rng.IntN(3) > 0 {
				var err error
				b, err = torque.Between(b.High().Unit().Of(0), b.High())
				must(err)
			}
			best, choices = torque.ChooseToStop(wrenches, b, adapter, job)
			asked["asked"] = "to stop"
			if best >= 0 {
				asked["aboveLow"] = choices[best].Setting.AboveLow.String()
			}
		}
		said, dials := []string{}, []string{}
		for _, c := range choices {
			dial := ""
			if c.Err == nil {
				dial = c.Setting.Dial.String()
			}
			said, dials = append(said, why(c.Err)), append(dials, dial)
		}
		asked["low"], asked["high"], asked["best"], asked["choices"], asked["dials"] = b.Low().String(), b.High().String(), best, said, dials
		return asked
	}, "best", "choices", "dials", "aboveLow")
}
