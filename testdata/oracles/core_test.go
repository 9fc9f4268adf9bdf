// Package oracles asks the library and a program that shares nothing with it, in another language and other
// arithmetic, the same questions: 10,000 of each kind, or as many as ORACLE_CASES says. The seed is printed, and
// ORACLE_SEED chooses another; ORACLE_RUN chooses kinds for the script run, as -run does.
package oracles

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/torque"
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
// what differs. Wrong answers are sent, too, one in the place of each that is named, and must be found.
func ask(t *testing.T, program string, question func(*rand.Rand) map[string]any, spoilt ...string) {
	t.Helper()
	i := 0
	wrong := func(rng *rand.Rand) map[string]any {
		name := spoilt[i]
		i++
		q := question(rng)
		for q[name] == nil || (q["refused"] == true || q["refused"] != nil && q["refused"] != false && q["refused"] != "") && name != "refused" {
			q = question(rng)
		}
		q[name] = spoil(q[name])
		return q
	}
	out, err := run(t, program, len(spoilt), wrong, "each")
	said := strings.Fields(out)
	for i, name := range spoilt {
		if err != nil || i >= len(said) || said[i] != "differs" {
			t.Errorf("%v; a wrong answer isn't found: %s; it says\n%s", err, name, out)
		}
	}
	cases := int(setting("ORACLE_CASES", 10000))
	begin := time.Now()
	out, err = run(t, program, cases, question)
	if want := fmt.Sprintf("%d agree\n", cases); err != nil || out != want {
		t.Errorf("%v; it says\n%s", err, out)
	}
	t.Logf("%d cases in %.0f s", cases, time.Since(begin).Seconds())
}

// spoil makes a wrong answer of a right one.
func spoil(answer any) any {
	switch answer := answer.(type) {
	case string:
		number, unit, _ := strings.Cut(answer, " ")
		if number = "123456"; unit != "" {
			number += " "
		}
		return number + unit
	case bool:
		return !answer
	case int:
		return 123456
	case []string:
		return []string{"123456", "123456", "123456"}
	}
	return []int{1, 2, 123456}
}

func run(t *testing.T, program string, cases int, question func(*rand.Rand) map[string]any, more ...string) (string, error) {
	t.Helper()
	seed := setting("ORACLE_SEED", 20261127)
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	c := exec.Command("python3", append([]string{program, t.Name()}, more...)...)
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

// printf are forms in which a quantity is printed.
var printf = []string{"%.0f", "%.1f", "%.3f", "%+.2f", "% .2f", "%14.1f", "%-14.1f", "%014.2f", "%+014.2f"}

func conversion[U units.Unit](rng *rand.Rand, kind string) map[string]any {
	list := all[U]()
	from, to := one(rng, list), one(rng, list)
	places, mode, value := rng.IntN(12)-3, one(rng, modes), number(rng, 15, true)
	if rng.IntN(4) == 0 { // half way between two roundings
		to = from
		value = decimal.New(rng.Int64N(1e6)*10+5, int32(-places-1))
	}
	q, err := units.New(value, from)
	must(err)
	form := one(rng, printf)
	return map[string]any{"kind": kind, "value": q.Magnitude().String(), "from": from.String(), "to": to.String(), "exact": q.RatIn(to).String(),
		"in": q.In(to).String(), "places": places, "mode": int(mode), "rounded": q.RoundIn(to, places, mode).String(),
		"form": form, "printed": fmt.Sprintf(form, q)}
}

func temperature(rng *rand.Rand) map[string]any {
	scales := []units.TemperatureScale{units.Celsius, units.Fahrenheit, units.Kelvin}
	from, to, scale := one(rng, scales), one(rng, scales), one(rng, scales)
	value := number(rng, 6, true)
	if rng.IntN(4) == 0 { // next to absolute zero
		value = one(rng, []decimal.Decimal{decimal.New(-27315, -2), decimal.New(-45967, -2), {}}).Add(decimal.New(rng.Int64N(3)-1, -3))
	}
	told := map[string]any{"kind": "temperature", "value": value.String(), "from": from.String(), "to": to.String()}
	t, err := units.NewTemperature(value, from)
	if told["refused"] = err != nil; err != nil {
		return told
	}
	places, mode := rng.IntN(7)-1, one(rng, modes)
	other, err := units.NewTemperature(number(rng, 4, false), scale)
	must(err)
	if rng.IntN(4) == 0 {
		other = t.In(scale)
	}
	warmer, _ := t.Sub(other)
	told["exact"], told["places"], told["mode"], told["rounded"] = t.RatIn(to).String(), places, int(mode), t.RoundIn(to, places, mode).String()
	told["other"], told["otherScale"], told["order"], told["warmer"] = other.Degrees().String(), other.Scale().String(), t.Compare(other), warmer.String()
	return told
}

// spellings are how units are written in a shop, by kind and symbol; those of no symbol are refused.
var spellings = func() (kinds map[string]map[string][]string) {
	data, err := os.ReadFile("spellings.json")
	must(err)
	must(json.Unmarshal(data, &kinds))
	return kinds
}()

func spelling(rng *rand.Rand, kind string) string {
	list := slices.Sorted(maps.Keys(spellings[kind]))
	return one(rng, spellings[kind][one(rng, list)])
}

// written is a number as somebody may write it, or what only looks like one.
func written(rng *rand.Rand) string {
	n := func(most int) string { return strconv.Itoa(rng.IntN(most)) }
	digits := func(most int) string {
		text := ""
		for range 1 + rng.IntN(most) {
			text += n(10)
		}
		return text
	}
	fraction := func() string {
		if rng.IntN(3) == 0 {
			return string(one(rng, []rune("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞")))
		}
		den := one(rng, []string{"2", "4", "8", "16", "32", "64", "3", "5", "10", "25", "128"})
		return n(12) + one(rng, []string{"/", "⁄"}) + den
	}
	switch rng.IntN(12) {
	case 0, 1:
		return fraction()
	case 2, 3, 4:
		return n(20) + one(rng, []string{" ", "-", "\u00a0", ""}) + fraction()
	case 5:
		return digits(3) + one(rng, []string{",", " ", "'", "_", "."}) + n(10) + n(10) + n(10) + one(rng, []string{"", "", ".5", ",5"})
	case 6:
		return digits(3) + one(rng, []string{".", "e3", "E+3", "e-2", "..5", ",", ",5", ".5.5", " .5", "+5"})
	case 7:
		return digits(36) // thirty-four may be too many for the unit
	case 8:
		return digits(30) + "." + digits(64)
	case 9:
		return "." + digits(6)
	}
	return digits(6) + one(rng, []string{"", "." + digits(6)})
}

// reading is a quantity as text, and what was read of it.
func reading(rng *rand.Rand) map[string]any {
	blanks := []string{" ", " ", " ", "", "-", "  ", "\u00a0", "\t", "- "}
	kind := one(rng, slices.Sorted(maps.Keys(parsers)))
	text := one(rng, []string{"", "", "", "+", "-", "−", "--", " "}) + written(rng) + one(rng, blanks) + spelling(rng, kind) + one(rng, []string{"", "", "", " "})
	read, err := parsers[kind](text)
	return map[string]any{"kind": kind, "text": text, "refused": err != nil, "written": read}
}

func parser[U units.Unit](text string) (string, error) {
	q, err := units.Parse[U](text)
	return q.String(), err
}

var parsers = map[string]func(string) (string, error){
	"torque": parser[units.TorqueUnit], "length": parser[units.LengthUnit], "volume": parser[units.VolumeUnit], "mass": parser[units.MassUnit],
	"density": parser[units.DensityUnit], "flow": parser[units.FlowUnit], "pressure": parser[units.PressureUnit], "angle": parser[units.AngleUnit],
	"temperature": func(text string) (string, error) {
		t, err := units.ParseTemperature(text)
		return t.String(), err
	},
}

// Conversions between all units, exact, to 34 digits, rounded and printed, from the definitions of the units; temperatures down
// to absolute zero; and quantities as a shop writes them. Source: nist-sp811-b8.
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
		temperature, temperature, reading, reading, reading, reading, reading,
	}
	ask(t, "core.py", func(rng *rand.Rand) map[string]any { return one(rng, kinds)(rng) },
		"exact", "in", "rounded", "printed", "order", "warmer", "refused", "written")
}

// band is one whose low limit is now and then zero.
func band(rng *rand.Rand) torque.Band {
	for {
		u := one(rng, all[units.TorqueUnit]())
		low := mustTorque(number(rng, 5, false), u)
		if rng.IntN(5) == 0 {
			low = mustTorque(decimal.Decimal{}, u)
		}
		high, ok := low.Add(mustTorque(number(rng, 4, false), u))
		if b, err := torque.Between(low, high); ok && err == nil {
			return b
		}
	}
}

func mustTorque(d decimal.Decimal, u units.TorqueUnit) units.Torque {
	q, err := units.New(d, u)
	must(err)
	return q
}

// limits is a torque's limits as a sheet may print them, or what only looks like that.
func limits(rng *rand.Rand) map[string]any {
	n := func() string { return decimalText(rng, one(rng, []int{1, 2, 2, 2, 3})) }
	unit := func() string { return one(rng, []string{" ", " ", ""}) + spelling(rng, "torque") }
	maybe := func() string {
		if rng.IntN(3) > 0 {
			return ""
		}
		return unit()
	}
	usual := func() string { return " " + one(rng, []string{"N·m", "Nm", "in-lb", "ft-lbs", "kgf·m"}) }
	percent := func() string {
		return one(rng, []string{n(), n(), strconv.Itoa(90 + rng.IntN(20))}) + one(rng, []string{"", " "}) + one(rng, []string{"%", "percent", "pct"})
	}
	slash := func() string { return one(rng, []string{"/", " / ", ", ", " "}) }
	plusMinus := func() string { return one(rng, []string{" ± ", "±", " +/- ", " +- "}) }
	low := rng.IntN(40)
	up := strconv.Itoa(low + rng.IntN(30))
	text := ""
	switch rng.IntN(14) {
	case 0, 1, 2:
		text = strconv.Itoa(low) + maybe() + one(rng, []string{" to ", " TO ", "-", " - ", " – ", " through ", " thru ", "...", "…", " ~ ", " ", ", ", " and ", " or "}) + up + usual()
	case 3:
		text = n() + usual() + one(rng, []string{" to ", "-", " — "}) + n() + unit()
	case 4:
		text = "from " + n() + maybe() + one(rng, []string{" to ", " - ", " and "}) + n() + unit()
	case 5:
		text = "between " + n() + maybe() + one(rng, []string{" and ", " to "}) + n() + unit()
	case 6:
		text = n() + usual() + plusMinus() + n() + maybe()
	case 7:
		text = n() + maybe() + plusMinus() + n() + unit()
	case 8:
		text = n() + usual() + one(rng, []string{plusMinus() + percent(), " (±" + percent() + ")", " (± " + n() + ")"})
	case 9:
		text = n() + usual() + " +" + n() + maybe() + slash() + "-" + n() + maybe()
	case 10:
		text = n() + usual() + one(rng, []string{" -" + n() + slash() + "+" + n(), " (+" + n() + slash() + "-" + n() + ")", " +" + n() + slash() + "0", " +" + n() + slash() + n()})
	case 11:
		text = n() + usual() + " +" + one(rng, []string{n(), percent()}) + slash() + "-" + one(rng, []string{n(), percent()})
	case 12:
		text = one(rng, []string{"max ", "max. ", "maximum ", "Up to ", "at most ", "not more than ", "≤ ", "min ", "at least ", "≥ ", "< ", "about ", "-", ""}) + n() + usual()
	case 13:
		text = n() + unit() + one(rng, []string{" max", " max.", " maximum", " MAX", " min", " minimum", "", " nominal", " + 3"})
	}
	b, err := torque.ParseBand(text)
	return map[string]any{"text": text, "refused": err != nil, "readLow": b.Low().String(), "readHigh": b.High().String(), "written": b.String()}
}

// Bands in another unit: the limits are the outermost decimals that are still within, and a reading is within the limits;
// and bands as a sheet prints them.
func TestBands(t *testing.T) {
	list := all[units.TorqueUnit]()
	ask(t, "core.py", func(rng *rand.Rand) map[string]any {
		if rng.IntN(2) == 0 {
			return limits(rng)
		}
		b, unit, places := band(rng), one(rng, list), rng.IntN(5)
		reading := one(rng, []units.Torque{b.Low(), b.High()}) // on a limit, or next to it where it has no exact value
		if reading = reading.In(one(rng, list)); rng.IntN(2) == 0 {
			reading = reading.Round(rng.IntN(4), units.ToNearestEven)
		}
		asked := map[string]any{"low": b.Low().String(), "high": b.High().String(), "unit": unit.String(), "places": places,
			"reading": reading.String(), "contains": b.Contains(reading)}
		in, err := b.Inward(unit, places)
		if asked["none"] = err != nil; err == nil {
			asked["inward"] = in.String()
		}
		return asked
	}, "contains", "none", "inward", "refused", "readLow", "readHigh", "written")
}

var bases = []torque.DeviationBasis{torque.EitherBasis, torque.OfDial, torque.OfReference, torque.OfFullScale, torque.Absolute}

// wrench is one with its adapter, and how both are told.
func wrench(rng *rand.Rand, unit units.TorqueUnit) (torque.Wrench, torque.Adapter, map[string]any) {
	step := decimal.New(1+rng.Int64N(20), -1)
	lowest := step.Mul(decimal.New(max(0, rng.Int64N(25)-5), 0))
	highest := lowest.Add(step.Mul(decimal.New(1+rng.Int64N(60), 0)).Add(step.Mul(decimal.New(rng.Int64N(2), -1))))
	deviation := decimal.New(1+rng.Int64N(80), -1) // percent
	w := torque.Wrench{Name: "W", Lowest: mustTorque(lowest, unit), Highest: mustTorque(highest, unit), Step: mustTorque(step, unit),
		Deviation: units.MustParse[units.ShareUnit](deviation.String() + " %"), DeviationBasis: one(rng, bases)}
	told := map[string]any{"dialUnit": unit.String(), "lowest": lowest.String(), "highest": highest.String(), "step": step.String(),
		"deviation": deviation.String(), "basis": w.DeviationBasis.String(), "length": "0", "hand": "0", "offset": "0", "doubt": "0", "angle": "0"}
	if w.DeviationBasis == torque.Absolute {
		w.AbsoluteDeviation = mustTorque(decimal.New(1+rng.Int64N(30), -2), unit).In(one(rng, []units.TorqueUnit{unit, units.NewtonMetre, units.InchPound}))
		told["absolute"] = w.AbsoluteDeviation.String()
	}
	var a torque.Adapter
	if rng.IntN(2) == 0 {
		return w, a, told
	}
	tell := func(name string, n int64) units.Length {
		told[name] = strconv.FormatInt(n, 10)
		return units.Millimetre.Of(n)
	}
	w.Length, a.Offset = tell("length", 200+rng.Int64N(300)), tell("offset", rng.Int64N(300)-100)
	if rng.IntN(2) == 0 {
		w.LengthTolerance, a.OffsetTolerance = tell("hand", rng.Int64N(one(rng, []int64{4, 20}))), tell("doubt", rng.Int64N(4))
	}
	angle := decimal.New(30*(rng.Int64N(25)-12), 0)
	if rng.IntN(2) == 0 {
		angle = decimal.New(rng.Int64N(7200)-3600, -1)
	}
	told["angle"] = angle.String()
	a.Angle = units.MustParse[units.AngleUnit](angle.String() + "°")
	return w, a, told
}

// Settings: of all marks of the scale the one whose deliveries stay deepest within the band, the lower of two; none where none
// does, and never zero; what it delivers, how far that is from the limits, and whether a click shows what was asked for.
func TestSettings(t *testing.T) {
	list := []units.TorqueUnit{units.NewtonMetre, units.FootPound, units.InchPound}
	ask(t, "core.py", func(rng *rand.Rand) map[string]any {
		unit := one(rng, list)
		w, a, asked := wrench(rng, unit)
		if rng.IntN(8) == 0 { // a torque without a tolerance
			wanted := mustTorque(w.Step.Magnitude().Mul(decimal.New(rng.Int64N(130), 0)).Add(w.Lowest.Magnitude()).Mul(decimal.New(5, -1)), unit).In(one(rng, list))
			w.CalibratedUntil = time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC)
			_, choices := torque.ChooseNearest([]torque.Wrench{w}, wanted, a, w.CalibratedUntil)
			asked["wanted"], asked["refused"], asked["dial"] = wanted.String(), choices[0].Err != nil, choices[0].Setting.Dial.String()
			return asked
		}
		b := settingBand(rng, w, one(rng, list))
		asked["low"], asked["high"] = b.Low().String(), b.High().String()
		s, err := w.Set(b, a)
		if asked["refused"] = err != nil; err != nil {
			return asked
		}
		low, high := s.Delivers(units.NewtonMetre, 12) // all that it may deliver, and most often no more
		switch nothing := units.NewtonMetre.Of(0); rng.IntN(4) {
		case 0:
			low = nothing
		case 1:
			low, high = nothing, low
		case 2:
			low, high = high, units.KilogramForceMetre.Of(1000)
		}
		stated, err := torque.Between(low, high)
		if err != nil {
			stated = b
		}
		asked["dial"], asked["delivered"], asked["least"], asked["most"] = s.Dial.String(), s.Delivered.String(), s.Least.String(), s.Most.String()
		asked["aboveLow"], asked["belowHigh"] = s.AboveLow.String(), s.BelowHigh.String()
		asked["stated"], asked["accepts"] = []string{stated.Low().String(), stated.High().String()}, stated.AcceptsSetting(s).String()
		return asked
	}, "dial", "delivered", "least", "most", "aboveLow", "belowHigh", "accepts", "refused")
}

// settingBand is a band about a mark of a wrench's scale, a maximum, or one in which two marks are equally good.
func settingBand(rng *rand.Rand, w torque.Wrench, unit units.TorqueUnit) torque.Band {
	lowest, step := w.Lowest.Magnitude(), w.Step.Magnitude()
	mark := lowest.Add(step.Mul(decimal.New(rng.Int64N(60), 0)))
	middle := mustTorque(mark, w.Step.Unit()).In(unit).Round(1, units.ToNearestEven).Magnitude()
	half := middle.Mul(decimal.New(1+rng.Int64N(20), -2)).Round(2)
	low, high := middle.Sub(half), middle.Add(half)
	switch rng.IntN(6) {
	case 0:
		if low = (decimal.Decimal{}); rng.IntN(3) == 0 { // no more than the first marks
			high = step.Mul(decimal.New(1+rng.Int64N(30), -1))
		}
	case 1: // below one mark by as much as above the next
		unit = w.Step.Unit()
		sum := mark.Add(mark).Add(step)
		if w.DeviationBasis == torque.OfDial {
			sum = sum.Add(step.Mul(w.Deviation.Magnitude()).Mul(decimal.New(1, -2)))
		}
		low = mark.Mul(decimal.New(80+rng.Int64N(20), -2))
		high = sum.Sub(low)
	}
	b, err := torque.Between(mustTorque(low, unit), mustTorque(high, unit))
	if err != nil {
		return torque.MustParseBand("20 ± 5 N·m")
	}
	return b
}

var rules = []torque.Rule{torque.SimpleAcceptance, torque.GuardedByU, torque.Guarded95, torque.NonBinary}

// measured is a band and a measurement, often next to where the rules change their mind.
func measured(rng *rand.Rand) (torque.Band, torque.Measurement) {
	unit := one(rng, []units.TorqueUnit{units.NewtonMetre, units.NewtonMetre, units.FootPound})
	low, high := decimal.New(10+rng.Int64N(10), 0), decimal.New(21+rng.Int64N(10), 0)
	if rng.IntN(4) == 0 {
		low = decimal.Decimal{}
	}
	value := decimal.New(8000+rng.Int64N(24000), -3)
	expanded := decimal.New(1+rng.Int64N(one(rng, []int64{100, 1000, 6000})), -2) // at k = 2
	edge := one(rng, []decimal.Decimal{low, high})
	switch rng.IntN(8) {
	case 0: // so well known that floats lose their digits
		expanded = decimal.New(1+rng.Int64N(100), -6)
		value = edge.Add(expanded.Mul(decimal.New(rng.Int64N(3e6)-15e5, -6)))
	case 1, 2, 3:
		value = edge.Add(expanded.Mul(one(rng, []decimal.Decimal{decimal.New(1, 0), decimal.New(-1, 0), {}, decimal.New(822427, -6), decimal.New(-822427, -6)})))
	case 4: // U is half the band, or all of it
		expanded = high.Sub(low).Mul(one(rng, []decimal.Decimal{decimal.New(5, -1), decimal.New(1, 0)}))
		value = one(rng, []decimal.Decimal{low, low.Add(high).Mul(decimal.New(5, -1)), high})
	case 5:
		if rng.IntN(4) == 0 {
			expanded = decimal.Decimal{} // not known
		}
	}
	m := torque.Measurement{Value: mustTorque(value, unit)}
	if rng.IntN(2) == 0 {
		m.CoverageFactor = one(rng, []decimal.Decimal{decimal.New(1, 0), decimal.New(196, -2), decimal.New(2, 0), decimal.New(25, -1), decimal.New(3, 0),
			decimal.New(10, 0), decimal.New(9, -1), decimal.New(1001, -2)})
		expanded = expanded.Mul(m.CoverageFactor).Mul(decimal.New(5, -1))
	}
	m.Expanded = mustTorque(expanded, unit)
	b, err := torque.Between(mustTorque(low, unit), mustTorque(high, unit))
	must(err)
	return b, m
}

// Verdicts: the probability that the torque is within the band, with the normal distribution to fifty digits, what each rule
// says of it, and which values it accepts. Source: mpmath.
func TestVerdicts(t *testing.T) {
	list := all[units.TorqueUnit]()
	ask(t, "core.py", func(rng *rand.Rand) map[string]any {
		b, m := measured(rng)
		rule := one(rng, rules)
		asked := map[string]any{"low": b.Low().String(), "high": b.High().String(), "expanded": m.Expanded.String(), "rule": rule.String()}
		kind := rng.IntN(32)
		if kind == 0 || kind < 4 && rule != torque.Guarded95 {
			unit, places := one(rng, list), rng.IntN(5)
			zone, err := b.AcceptanceZone(m.Expanded, rule, unit, places)
			asked["unit"], asked["places"], asked["refused"], asked["zone"] = unit.String(), places, err != nil, zone.String()
			return asked
		}
		if kind == 4 { // where the zone begins or ends, or a billionth beyond
			if zone, err := b.AcceptanceZone(m.Expanded, rule, b.Low().Unit(), 9); err == nil {
				billionth := mustTorque(decimal.New(rng.Int64N(3)-1, -9), b.Low().Unit())
				m.Value, _ = one(rng, []units.Torque{zone.Low(), zone.High()}).Add(billionth)
				m.CoverageFactor = decimal.Decimal{}
			}
		}
		asked["value"] = m.Value.String()
		if !m.CoverageFactor.IsZero() {
			asked["k"] = m.CoverageFactor.String()
		}
		d, err := b.Decide(m, rule)
		if asked["refused"] = err != nil; err == nil {
			asked["acceptance"], asked["conformance"], asked["noZone"] = d.Acceptance.String(), "", d.NoZone
			if d.Conformance.Valid {
				asked["conformance"] = d.Conformance.Decimal.String()
			}
		}
		return asked
	}, "acceptance", "conformance", "noZone", "zone", "refused")
}
