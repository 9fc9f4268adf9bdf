package oracles

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// figures are questions about single functions.
var figures = []func(*rand.Rand, map[string]any){askDays, askSums, askIndicated, askSlips, askArcs}

func askDays(rng *rand.Rand, told map[string]any) {
	day := func() waste.Date {
		year := one(rng, []int{1, 1900 + rng.IntN(200), 2000, 2024, 2026, 9999})
		month := time.Month(1 + rng.IntN(12))
		return waste.Date{Year: year, Month: month, Day: one(rng, []int{1, 1 + rng.IntN(28), time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC).Day()})}
	}
	written := func(d waste.Date) string {
		if d == (waste.Date{}) {
			return ""
		}
		return d.String()
	}
	d, other, days, months := day(), day(), rng.IntN(800)-400, rng.IntN(60)-30
	told["asked"], told["date"], told["other"], told["days"], told["months"] = "days", d.String(), other.String(), days, months
	told["after"], told["later"], told["between"] = written(d.AddDays(days)), written(d.AddMonths(months)), d.DaysUntil(other)
}

func askSums(rng *rand.Rand, told map[string]any) {
	list := all[units.TorqueUnit]()
	var quantities []units.Torque
	written, keys := []string{}, []string{}
	for range 2 + rng.IntN(4) {
		q := mustTorque(number(rng, 12, true), one(rng, list))
		if n := len(quantities); n > 0 && rng.IntN(4) == 0 { // the same, or nearly
			q = quantities[n-1].RoundIn(one(rng, list), 20, one(rng, modes))
		}
		quantities, written, keys = append(quantities, q), append(written, q.String()), append(keys, q.SortKey())
	}
	unit := one(rng, list)
	sum, exact := units.Sum(unit, quantities...)
	told["asked"], told["quantities"], told["keys"], told["unit"], told["sum"], told["exact"] = "sums", written, keys, unit.String(), sum.String(), exact
}

func askIndicated(rng *rand.Rand, told map[string]any) {
	wanted, length, offset := mustTorque(number(rng, 4, false), units.InchPound), 200+rng.Int64N(300), rng.Int64N(250)-100
	angle := decimal.New(rng.Int64N(720)-360, 0)
	a := torque.Adapter{Offset: units.Millimetre.Of(offset), Angle: units.MustParse[units.AngleUnit](angle.String() + "°")}
	indicated, err := torque.Indicated(wanted, units.Millimetre.Of(length), a)
	must(err)
	delivered, err := torque.Delivered(wanted, units.Millimetre.Of(length), a)
	must(err)
	told["asked"], told["wanted"], told["length"], told["offset"], told["angle"] = "indicated", wanted.String(), decimal.New(length, 0).String(), decimal.New(offset, 0).String(), angle.String()
	told["indicated"], told["delivered"] = indicated.String(), delivered.String()
}

func askSlips(rng *rand.Rand, told map[string]any) {
	b := band(rng)
	reading := one(rng, []units.Torque{b.Low(), b.High()}).RoundIn(one(rng, printUnits), rng.IntN(3), one(rng, modes))
	reading = mustTorque(reading.Magnitude(), one(rng, printUnits))
	slips := []string{}
	for _, u := range b.UnitSlips(reading) {
		slips = append(slips, u.String())
	}
	told["asked"], told["low"], told["high"], told["reading"], told["slips"] = "slips", b.Low().String(), b.High().String(), reading.String(), slips
}

func askArcs(rng *rand.Rand, told map[string]any) {
	diameter, err := units.New(decimal.New(1+rng.Int64N(20000), -int32(rng.IntN(3))), one(rng, all[units.LengthUnit]()))
	must(err)
	t := amount(rng)
	arc, err := turn.ArcLength(diameter, t)
	must(err)
	told["asked"], told["diameter"], told["turn"], told["arc"] = "arcs", diameter.String(), part(t), arc.String()
}

// Figures: days and months by another calendar, sums, keys that sort, what an adapter makes of a torque, units that were
// mistaken for others, and arcs around a canister. Source: mpmath.
func TestFigures(t *testing.T) {
	ask(t, "figures.py", func(rng *rand.Rand) map[string]any {
		told := map[string]any{}
		one(rng, figures)(rng, told)
		return told
	}, "after", "later", "between", "sum", "exact", "indicated", "delivered", "slips", "arc")
}
