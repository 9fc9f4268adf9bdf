// Package oracles asks the library and a program that shares nothing with it, in another language and other
// arithmetic, the same questions: 10,000 of each kind, or as many as ORACLE_CASES says. The seed is printed, and
// ORACLE_SEED chooses another.
package oracles

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

func setting(name string, usual uint64) uint64 {
	n, err := strconv.ParseUint(os.Getenv(name), 10, 64)
	if err != nil {
		return usual
	}
	return n
}

// ask sends questions with the library's answers to a program, which recomputes them and says how many it saw and
// what differs. A wrong answer is sent, too, in the place of the one spoilt, and must be found.
func ask(t *testing.T, program, spoilt string, question func(*rand.Rand) map[string]any) {
	t.Helper()
	wrong := func(rng *rand.Rand) map[string]any {
		q := question(rng)
		for q["refused"] == true {
			q = question(rng)
		}
		switch q[spoilt].(type) {
		case string:
			q[spoilt] = "123456"
		case int:
			q[spoilt] = 123456
		case []string:
			q[spoilt] = []string{"123456", "123456", "123456"}
		default:
			q[spoilt] = []int{1, 2, 123456}
		}
		return q
	}
	if out, err := run(t, program, 1, wrong); err == nil {
		t.Errorf("a wrong answer isn't found; it says\n%s", out)
	}
	cases := int(setting("ORACLE_CASES", 10000))
	begin := time.Now()
	out, err := run(t, program, cases, question)
	if want := fmt.Sprintf("%d agree\n", cases); err != nil || out != want {
		t.Errorf("%v; it says\n%s", err, out)
	}
	t.Logf("%d cases in %.0f s", cases, time.Since(begin).Seconds())
}

func run(t *testing.T, program string, cases int, question func(*rand.Rand) map[string]any) (string, error) {
	t.Helper()
	seed := setting("ORACLE_SEED", 20261127)
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	c := exec.Command("python3", program, t.Name())
	c.Env = append(os.Environ(), "PYTHONDONTWRITEBYTECODE=1") // nothing is left in the folder
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, os.Stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	encoder := json.NewEncoder(in)
	for range cases {
		if err := encoder.Encode(question(rng)); err != nil {
			break // it ended at a difference, and says so
		}
	}
	in.Close()
	err = c.Wait()
	return out.String(), err
}

// number is a decimal of up to so many digits, now and then a small whole one.
func number(rng *rand.Rand, digits int, sign bool) decimal.Decimal {
	n := rng.Int64N(int64pow(10, 1+rng.IntN(digits)))
	if sign && rng.IntN(4) == 0 {
		n = -n
	}
	return decimal.New(n, int32(-rng.IntN(6)))
}

func int64pow(b, n int) int64 {
	p := int64(1)
	for range n {
		p *= int64(b)
	}
	return p
}

func one[T any](rng *rand.Rand, list []T) T { return list[rng.IntN(len(list))] }

func all[U units.Unit]() (list []U) {
	for u := range units.All[U]() {
		list = append(list, u)
	}
	return list
}

var modes = []units.Rounding{units.ToNearestEven, units.ToPositiveInf, units.ToNegativeInf}

func conversion[U units.Unit](rng *rand.Rand, kind string) map[string]any {
	list := all[U]()
	from, to := one(rng, list), one(rng, list)
	q, err := units.New(number(rng, 15, true), from)
	if err != nil {
		panic(err)
	}
	places, mode := rng.IntN(9), one(rng, modes)
	return map[string]any{"kind": kind, "value": q.Magnitude().String(), "from": from.String(), "to": to.String(), "exact": q.RatIn(to).String(),
		"places": places, "mode": int(mode), "rounded": q.RoundIn(to, places, mode).Magnitude().String()}
}

// Conversions between all units, exact and rounded, from the definitions of the units. Source: nist-sp811-b8.
func TestConversions(t *testing.T) {
	kinds := []func(*rand.Rand) map[string]any{
		func(r *rand.Rand) map[string]any { return conversion[units.TorqueUnit](r, "torque") },
		func(r *rand.Rand) map[string]any { return conversion[units.LengthUnit](r, "length") },
		func(r *rand.Rand) map[string]any { return conversion[units.VolumeUnit](r, "volume") },
		func(r *rand.Rand) map[string]any { return conversion[units.MassUnit](r, "mass") },
		func(r *rand.Rand) map[string]any { return conversion[units.DensityUnit](r, "density") },
		func(r *rand.Rand) map[string]any { return conversion[units.FlowUnit](r, "flow") },
		func(r *rand.Rand) map[string]any { return conversion[units.PressureUnit](r, "pressure") },
		func(r *rand.Rand) map[string]any { return conversion[units.AngleUnit](r, "angle") },
		func(r *rand.Rand) map[string]any { return conversion[units.TemperatureDifferenceUnit](r, "difference") },
		func(r *rand.Rand) map[string]any {
			scales := []units.TemperatureScale{units.Celsius, units.Fahrenheit}
			from, to := one(r, scales), one(r, scales)
			temperature, err := units.NewTemperature(number(r, 4, false), from)
			if err != nil {
				panic(err)
			}
			places, mode := r.IntN(5), one(r, modes)
			return map[string]any{"kind": "temperature", "value": temperature.Degrees().String(), "from": from.String(), "to": to.String(),
				"exact": temperature.RatIn(to).String(), "places": places, "mode": int(mode), "rounded": temperature.RoundIn(to, places, mode).Degrees().String()}
		},
	}
	ask(t, "core.py", "rounded", func(rng *rand.Rand) map[string]any { return one(rng, kinds)(rng) })
}

func band(rng *rand.Rand) torque.Band {
	for {
		list := all[units.TorqueUnit]()
		u := one(rng, list)
		low, err := units.New(number(rng, 5, false), u)
		if err != nil {
			continue
		}
		high, ok := low.Add(mustTorque(number(rng, 4, false), u))
		if !ok {
			continue
		}
		b, err := torque.Between(low, high)
		if err == nil {
			return b
		}
	}
}

func mustTorque(d decimal.Decimal, u units.TorqueUnit) units.Torque {
	q, err := units.New(d, u)
	if err != nil {
		panic(err)
	}
	return q
}

func write(q units.Torque) []string { return []string{q.Magnitude().String(), q.Unit().String()} }

// Bands in another unit: the limits are the outermost decimals that are still within.
func TestBands(t *testing.T) {
	list := all[units.TorqueUnit]()
	ask(t, "core.py", "inHigh", func(rng *rand.Rand) map[string]any {
		b, unit, places := band(rng), one(rng, list), rng.IntN(5)
		asked := map[string]any{"low": write(b.Low()), "high": write(b.High()), "unit": unit.String(), "places": places}
		in, err := b.Inward(unit, places)
		asked["refused"] = err != nil
		if err == nil {
			asked["inLow"], asked["inHigh"] = in.Low().Magnitude().String(), in.High().Magnitude().String()
		}
		return asked
	})
}

var bases = []torque.DeviationBasis{torque.EitherBasis, torque.OfDial, torque.OfReference, torque.OfFullScale}

// Settings: of all marks of the scale the one whose deliveries stay deepest within the band; none where none does.
func TestSettings(t *testing.T) {
	list := []units.TorqueUnit{units.NewtonMetre, units.FootPound, units.InchPound}
	ask(t, "core.py", "dial", func(rng *rand.Rand) map[string]any {
		unit := one(rng, list)
		step := decimal.New(1+rng.Int64N(20), -1)
		lowest := step.Mul(decimal.New(rng.Int64N(20), 0))
		highest := lowest.Add(step.Mul(decimal.New(1+rng.Int64N(60), 0)))
		deviation := decimal.New(1+rng.Int64N(80), -1) // percent
		w := torque.Wrench{Name: "W", Lowest: mustTorque(lowest, unit), Highest: mustTorque(highest, unit), Step: mustTorque(step, unit),
			Deviation: units.MustParse[units.ShareUnit](deviation.String() + " %"), DeviationBasis: one(rng, bases)}
		var a torque.Adapter
		length, offset, angle := 200+rng.Int64N(300), int64(0), 0
		if rng.IntN(2) == 0 {
			offset, angle = 20+rng.Int64N(100), one(rng, []int{0, 90, 180})
			w.Length = units.MustParse[units.LengthUnit](fmt.Sprintf("%d mm", length))
			a = torque.Adapter{Offset: units.MustParse[units.LengthUnit](fmt.Sprintf("%d mm", offset)), Angle: units.MustParse[units.AngleUnit](fmt.Sprintf("%d°", angle))}
		}
		inUnit := one(rng, list) // a band about a mark of the scale
		middle := mustTorque(lowest.Add(step.Mul(decimal.New(rng.Int64N(60), 0))), unit).In(inUnit).Round(1, units.ToNearestEven)
		half := mustTorque(middle.Magnitude().Mul(decimal.New(1+rng.Int64N(20), -2)).Round(2), inUnit)
		low, ok1 := middle.Sub(half)
		high, ok2 := middle.Add(half)
		b, err := torque.Between(low, high)
		if !ok1 || !ok2 || err != nil {
			b = torque.MustParseBand("20 ± 5 N·m")
		}
		asked := map[string]any{"low": write(b.Low()), "high": write(b.High()), "unit": unit.String(), "lowest": lowest.String(), "highest": highest.String(),
			"step": step.String(), "deviation": deviation.String(), "basis": w.DeviationBasis.String(), "length": length, "offset": offset, "angle": angle}
		s, err := w.Set(b, a)
		asked["refused"] = err != nil
		if err == nil {
			asked["dial"] = s.Dial.Magnitude().String()
			asked["least"], asked["most"] = write(s.Least), write(s.Most)
		}
		return asked
	})
}

// Rings: what is at the index after a turn, by a disc that is turned.
func TestRings(t *testing.T) {
	hands, orders := []turn.Hand{turn.RightHand, turn.LeftHand}, []turn.Rotation{turn.Clockwise, turn.Counterclockwise}
	ask(t, "core.py", "passes", func(rng *rand.Rand) map[string]any {
		n := 3 + rng.IntN(14)
		var labels []string
		for i := range n {
			labels = append(labels, "m"+strconv.Itoa(i))
		}
		order, hand := one(rng, orders), one(rng, hands)
		ring, err := turn.NewRing(labels, order)
		if err != nil {
			panic(err)
		}
		i := rng.IntN(n)
		from, err := ring.At(labels[i])
		share := [2]int64{0, 1}
		if rng.IntN(2) == 0 {
			share = [2]int64{1, 2 + rng.Int64N(5)}
			var part turn.Part
			if part, err = turn.ParsePart(fmt.Sprintf("%d/%d", share[0], share[1])); err == nil {
				from, err = ring.Between(labels[i], labels[(i+1)%n], part, hand)
			}
		}
		if err != nil {
			panic(err)
		}
		amount := [2]int64{rng.Int64N(40), 1 + rng.Int64N(24)}
		to, err := ring.Tighten(from, turn.MustOf(amount[0], amount[1]), hand)
		asked := map[string]any{"labels": labels, "order": order.String(), "hand": hand.String(), "at": i, "share": share, "turn": amount}
		if err != nil {
			panic(err)
		}
		place, err := ring.Place(to, hand)
		if err != nil {
			panic(err)
		}
		asked["mark"], asked["next"], asked["part"], asked["passes"] = place.Mark, place.Next, "", place.Passes
		if place.Next != "" {
			asked["part"] = "1/2"
			if place.Share != (turn.Part{}) {
				asked["part"] = place.Share.String()
			}
		}
		return asked
	})
}

var rules = []torque.Rule{torque.SimpleAcceptance, torque.GuardedByU, torque.Guarded95, torque.NonBinary}

// Verdicts: the probability that the torque is within the band, with the normal distribution to fifty digits. Source: mpmath.
func TestVerdicts(t *testing.T) {
	ask(t, "core.py", "conformance", func(rng *rand.Rand) map[string]any {
		b := torque.MustParseBand(fmt.Sprintf("%d to %d N·m", 10+rng.IntN(10), 21+rng.IntN(10)))
		value := decimal.New(8000+rng.Int64N(24000), -3)
		expanded := decimal.New(1+rng.Int64N(one(rng, []int64{100, 1000, 6000})), -2)
		m := torque.Measurement{Value: mustTorque(value, units.NewtonMetre), Expanded: mustTorque(expanded, units.NewtonMetre)}
		if rng.IntN(3) == 0 { // next to where the rules change their mind
			edge := one(rng, []units.Torque{b.Low(), b.High()}).Magnitude()
			value = edge.Add(expanded.Mul(one(rng, []decimal.Decimal{decimal.New(1, 0), decimal.New(-1, 0), decimal.New(0, 0), decimal.New(822427, -6), decimal.New(-822427, -6)})))
			m.Value = mustTorque(value, units.NewtonMetre)
		}
		rule := one(rng, rules)
		asked := map[string]any{"low": b.Low().Magnitude().String(), "high": b.High().Magnitude().String(), "value": value.String(), "expanded": expanded.String(), "rule": rule.String()}
		d, err := b.Decide(m, rule)
		asked["refused"] = err != nil
		if err == nil {
			asked["acceptance"], asked["conformance"], asked["noZone"] = d.Acceptance.String(), d.Conformance.Decimal.String(), d.NoZone
		}
		return asked
	})
}
