package oracles

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// sentinels are what a caller may ask errors.Is for; one that is another in a special case is before it.
var sentinels = []struct {
	err  error
	name string
}{
	{turn.ErrNoDatum, "no datum"}, {turn.ErrNoView, "no view"}, {turn.ErrUnknownMark, "unknown mark"},
	{torque.ErrOrder, "order"}, {torque.ErrNoTolerance, "no tolerance"}, {torque.ErrNothingLeft, "nothing left"},
	{torque.ErrTwoUnits, "two units"}, {torque.ErrDisagree, "disagree"}, {torque.ErrNoUncertainty, "no uncertainty"},
	{torque.ErrCalibration, "calibration"}, {torque.ErrOutOfScale, "out of scale"}, {torque.ErrTooCoarse, "too coarse"},
	{torque.ErrNotAccurate, "not accurate"},
	{drain.ErrMissing, "missing"}, {drain.ErrOrder, "drain order"}, {drain.ErrNegative, "negative"}, {drain.ErrDensity, "density"},
	{drain.ErrTemperature, "temperature"}, {drain.ErrFull, "full"}, {waste.ErrConflict, "conflict"}, {waste.ErrNotCovered, "not covered"},
	{units.ErrNoCode, "no code"}, {units.ErrCaveat, "caveat"}, {units.ErrSyntax, "syntax"}, {units.ErrRange, "range"},
	{units.ErrAmbiguous, "ambiguous"}, {units.ErrNoUnit, "no unit"}, {units.ErrUnknownUnit, "unknown unit"}, {units.ErrOtherKind, "other kind"},
}

// why is the sentinel an error matches; nothing where there is no error.
func why(err error) string {
	if err == nil {
		return ""
	}
	for _, s := range sentinels {
		if errors.Is(err, s.err) {
			return s.name
		}
	}
	return "no sentinel: " + err.Error()
}

// printUnits are the units in which sheets are printed.
var printUnits = []units.TorqueUnit{units.NewtonMetre, units.NewtonMetre, units.FootPound, units.FootPound, units.InchPound, units.KilogramForceMetre,
	units.KilogramForceCentimetre}

// print is a torque or a band as somebody prints it in several units: rounded one way or another, converted with the
// shop's factor, made from round values of another unit, with a slip, or what is none.
func print(rng *rand.Rand) string {
	n := one(rng, []int{2, 2, 2, 2, 3})
	form, from := rng.IntN(8), one(rng, printUnits)
	third := rng.IntN(4) == 0 // the unit they are from isn't printed
	shop := !third && rng.IntN(6) == 0
	if third {
		from = one(rng, []units.TorqueUnit{units.KilogramForceMetre, units.KilogramForceMetre, units.KilogramForceCentimetre, units.NewtonMetre})
	}
	base := mustTorque(decimal.New(10+rng.Int64N(90), -int32(rng.IntN(3))), from)
	if shop { // so many digits that its factor shows
		from = one(rng, []units.TorqueUnit{units.FootPound, units.InchPound})
		base = mustTorque(decimal.New(1000+rng.Int64N(90000), -2), from)
	}
	top := mustTorque(base.Magnitude().Mul(decimal.New(101+rng.Int64N(60), -2)).Round(int32(rng.IntN(3))), from)
	percent := one(rng, []string{"5", "10", "7.5", "15"})
	var texts []string
	used := map[units.TorqueUnit]bool{from: third}
	for i := range n {
		unit := from
		if i > 0 || third {
			for unit = one(rng, printUnits); used[unit] && rng.IntN(60) > 0; {
				unit = one(rng, printUnits)
			}
		}
		used[unit] = true
		places := one(rng, []int{0, 0, 1, 1, 2})
		if shop {
			places = 2
		}
		number := func(q units.Torque, mode units.Rounding) units.Torque {
			if unit == from {
				return q
			}
			if factor := map[units.TorqueUnit]int64{units.FootPound: 1356, units.InchPound: 113}[from]; factor > 0 && shop {
				q = mustTorque(q.Magnitude().Mul(decimal.New(factor, -3)), units.NewtonMetre)
			}
			r := q.RoundIn(unit, places, mode)
			if !third && rng.IntN(6) == 0 { // a slip
				r = mustTorque(r.Magnitude().Add(decimal.New(rng.Int64N(5)-2, int32(-places))).Abs(), unit)
			}
			return r
		}
		low, high := number(base, units.ToNearestEven), number(top, units.ToNearestEven)
		if rng.IntN(4) == 0 {
			low, high = number(base, units.ToPositiveInf), number(top, units.ToNegativeInf)
		}
		name, value := spellings["torque"][unit.String()][rng.IntN(2)], func(q units.Torque) string { return q.Magnitude().String() }
		text := ""
		switch form {
		case 0, 1, 2:
			text = value(low) + one(rng, []string{"-", " to ", " - ", " – "}) + value(high) + " " + name
		case 3:
			text = value(low) + " " + name
		case 4:
			text = one(rng, []string{"max ", "max. ", "up to "}) + value(high) + " " + name
			if i > 0 && rng.IntN(2) == 0 {
				text = value(high) + " " + name
			}
		case 5:
			text = value(high) + " ± " + value(mustTorque(decimal.New(1+rng.Int64N(3), int32(-places)), unit)) + " " + name
		case 6:
			text = value(high) + " " + name + " ± " + percent + " %"
		case 7:
			text = value(high) + " +" + value(number(base, units.ToNearestEven)) + one(rng, []string{"/-0 ", ", -1 ", "/-1 "}) + name
		}
		if rng.IntN(80) == 0 { // another form than the rest
			text = value(high) + " " + name
		}
		texts = append(texts, text)
	}
	marks := one(rng, []string{"()", "()", "()", "[]", "{}"})
	rest := ""
	if form == 3 {
		rest = one(rng, []string{"", "", "", " max", " max.", " maximum", " ± 3"})
	}
	switch rng.IntN(12) {
	case 0:
		return strings.Join(texts, " / ")
	case 1:
		text := texts[0]
		for _, t := range texts[1:] {
			text += " " + marks[:1] + t + marks[1:]
		}
		return text + rest
	case 2:
		if rng.IntN(6) == 0 {
			return one(rng, []string{texts[0], texts[0] + " (" + texts[1], texts[0] + " (" + texts[1] + ") 5"})
		}
	}
	return texts[0] + " " + marks[:1] + strings.Join(texts[1:], one(rng, []string{", ", "; ", " / "})) + marks[1:] + rest
}

// Limits printed in several units: whether some torque is printed as all of them, which two numbers say most, how far they are
// apart, and which band governs; and what is no such print. Source: oracle-core.
func TestPrints(t *testing.T) {
	ask(t, "printed.py", func(rng *rand.Rand) map[string]any {
		text := print(rng)
		p, err := torque.ParsePrintedLimit(text)
		told := map[string]any{"text": text, "refused": why(err)}
		if err != nil {
			return told
		}
		c := p.Compare()
		thirds := []string{}
		for _, q := range c.ThirdValues {
			thirds = append(thirds, q.String())
		}
		b, err := p.Band()
		told["printed"], told["agreement"], told["shop"], told["first"], told["second"] = p.String(), int(c.Agreement), c.Shop, c.First.String(), c.Second.String()
		told["converted"], told["gap"], told["thirds"], told["noBand"], told["band"] = c.Converted.String(), c.Gap.String(), thirds, why(err), b.String()
		return told
	}, "refused", "printed", "agreement", "shop", "first", "second", "converted", "gap", "thirds", "noBand", "band")
}
