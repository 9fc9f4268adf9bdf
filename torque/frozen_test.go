package torque

import (
	"encoding"
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/testdata/frozen"
	"example.com/snugturn/units"
)

var frozenCalls = frozen.Of(frozen.Calls{
	"Delivered": Delivered, "Indicated": Indicated, "Between": Between, "ParseBand": ParseBand, "PlusMinus": PlusMinus,
	"PlusMinusPercent": PlusMinusPercent, "Choose": Choose, "ChooseNearest": ChooseNearest, "ChooseToStop": ChooseToStop, "ParsePrintedLimit": ParsePrintedLimit,
	"Compare": func(text string) (string, error) {
		p, err := ParsePrintedLimit(text)
		f := p.Compare()
		return fmt.Sprintf("%v (%d): %v, %v is %v, gap %v, third %v %v, shop %t", f, f.Agreement, f.First, f.Second, f.Converted, f.Gap, f.Third, f.ThirdValues, f.Shop), err
	},
	"PrintedBand": func(text string) (Band, error) {
		p, err := ParsePrintedLimit(text)
		if err != nil {
			return Band{}, err
		}
		return p.Band()
	},
	"StrayUnit": func(which string, unit units.TorqueUnit, b Band) (any, error) {
		stray, good := unit.Of(5), units.NewtonMetre.Of(20)
		switch which {
		case "low":
			return Between(stray, good)
		case "high":
			return Between(good, stray)
		case "nominal":
			return PlusMinus(stray, good)
		case "tolerance":
			return PlusMinus(good, stray)
		case "percent":
			return PlusMinusPercent(stray, units.Percent.Of(3))
		case "share":
			return PlusMinusPercent(good, units.ShareUnit(unit).Of(3))
		case "indicated":
			return Indicated(stray, units.Metre.Of(1), Adapter{})
		case "value":
			return b.Decide(Measurement{Value: stray, Expanded: good}, GuardedByU)
		case "expanded":
			return b.Decide(Measurement{Value: good, Expanded: stray}, GuardedByU)
		case "factor":
			return b.Decide(Measurement{Value: good, Expanded: stray, CoverageFactor: decimal.New(3, 0)}, GuardedByU)
		case "zone":
			return b.AcceptanceZone(stray, GuardedByU, units.NewtonMetre, 1)
		case "deviation", "basis":
			w := Wrench{Lowest: units.NewtonMetre.Of(5), Highest: units.NewtonMetre.Of(50), Step: units.NewtonMetre.Of(1), DeviationBasis: Absolute, AbsoluteDeviation: stray}
			if which == "basis" {
				w.Deviation, w.DeviationBasis = units.Percent.Of(4), 99
			}
			return w.Set(b, Adapter{})
		case "lowest":
			return Wrench{Lowest: stray, Highest: stray, Step: stray}.Set(b, Adapter{})
		case "slips":
			return b.UnitSlips(stray), nil
		}
		return nil, errors.New("no such place")
	},
	"StrayLength": func(which string) (units.Torque, error) {
		length, a := units.Metre.Of(1), Adapter{Offset: units.Millimetre.Of(50)}
		stray := units.LengthUnit(99).Of(1)
		switch which {
		case "length":
			length = stray
		case "offset":
			a.Offset = stray
		case "tolerance":
			a.OffsetTolerance = stray
		case "angle":
			a.Angle = units.AngleUnit(99).Of(1)
		}
		return Delivered(units.NewtonMetre.Of(20), length, a)
	},
	"Set": func(w shortWrench, b Band, a shortAdapter) (string, error, error) { return short(w.Set(b, a.Adapter)) },
	"At": func(w shortWrench, dial units.Torque, a shortAdapter) (string, error, error) {
		return short(w.At(dial, a.Adapter))
	},
	"Nearest": func(w shortWrench, wanted units.Torque, a shortAdapter) (string, error, error, string) {
		s, margin, err := w.nearest(wanted, a.Adapter)
		text, err, sentinel := short(s, err)
		return text, err, sentinel, fmt.Sprint(margin)
	},
	"DeliversIn": func(w shortWrench, dial units.Torque, unit units.TorqueUnit, places int) (least, most units.Torque) {
		s, err := w.At(dial, Adapter{})
		if err != nil {
			panic(err)
		}
		return s.Delivers(unit, places)
	},
	"newLever": func(length, tolerance units.Length, a shortAdapter) (string, error) {
		k, err := newLever(length, tolerance, a.Adapter)
		if err != nil {
			return "", err
		}
		lo, hi := shown(k.stated, 64)
		least, most := shown(k.possible, 64)
		return strings.Join([]string{lo, hi, least, most}, " "), nil
	},
	"Levered": func(q units.Torque, length units.Length, a shortAdapter) (string, error, string, error) {
		indicated, err := Indicated(q, length, a.Adapter)
		delivered, other := Delivered(q, length, a.Adapter)
		return indicated.String(), err, delivered.String(), other
	},
	"AcceptsSetting": func(w shortWrench, dial units.Torque, b Band) (Acceptance, error) {
		s, err := w.At(dial, Adapter{})
		return b.AcceptsSetting(s), err
	},
	// The wrenches with the day until which each is calibrated behind it.
	"ChooseOn": func(how, list string, b Band, job time.Time) string {
		var wrenches []Wrench
		for text := range strings.SplitSeq(list, " | ") {
			var w shortWrench
			if err := w.UnmarshalText([]byte(text)); err != nil {
				return err.Error()
			}
			wrenches = append(wrenches, w.Wrench)
		}
		var best int
		var choices []Choice
		switch how {
		case "nearest":
			best, choices = ChooseNearest(wrenches, b.high, Adapter{}, job)
		case "stop":
			best, choices = ChooseToStop(wrenches, b, Adapter{}, job)
		default:
			best, choices = Choose(wrenches, b, Adapter{}, job)
		}
		out := fmt.Sprint(best)
		for _, c := range choices {
			text, err, sentinel := short(c.Setting, c.Err)
			out += fmt.Sprint(" | ", c.Wrench.Name, " ", text, " ", err, " ", sentinel)
		}
		return out
	},
	"cosine":    func(degrees string) (lo, hi string) { return shown(cosine(rat(degrees)), 70) },
	"upperTail": func(z string) (lo, hi string) { return shown(encloseUpperTail(rat(z)), 110) },
	"twoDigits": func(lo, hi string) (units.Torque, bool) {
		return twoDigits(interval{rat(lo), rat(hi)}, units.NewtonMetre)
	},
	"guess": func(b Band, value, expanded units.Torque) string {
		g := b.guess(Measurement{Value: value, Expanded: expanded})
		return fmt.Sprintf("%.7f %t", g.p, g.ok) // more digits are the machine's
	},
	// guessed is what is made of a guess, right or not.
	"guessed": func(b Band, value, expanded units.Torque, p float64) (bool, int64) {
		m := Measurement{Value: value, Expanded: expanded}
		return b.atLeast95(m, guess{p, true}), b.tenThousandths(m, guess{p, true})
	},
}, Acceptance(0), Agreement(0), Band{}, DeviationBasis(0), Rule(0), PrintedLimit{}, Setting{}, Wrench{})

func rat(text string) *big.Rat {
	x, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("no fraction: " + text)
	}
	return x
}

func shown(i interval, places int) (lo, hi string) {
	return i.lo.FloatString(places), i.hi.FloatString(places)
}

// shortWrench is a wrench as few words: lowest; highest; step; deviation; its basis; the absolute one;
// length; its tolerance; name; the time until which it is calibrated.
type shortWrench struct{ Wrench }

func (w *shortWrench) UnmarshalText(text []byte) error {
	return fields(text, &w.Lowest, &w.Highest, &w.Step, &w.Deviation, &w.DeviationBasis, &w.AbsoluteDeviation, &w.Length, &w.LengthTolerance, &w.Name, &w.CalibratedUntil)
}

// shortAdapter is the offset; the angle; the offset's tolerance.
type shortAdapter struct{ Adapter }

func (a *shortAdapter) UnmarshalText(text []byte) error {
	return fields(text, &a.Offset, &a.Angle, &a.OffsetTolerance)
}

func fields(text []byte, into ...any) error {
	for i, part := range strings.Split(string(text), ";") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		if name, ok := into[i].(*string); ok {
			*name = part
		} else if err := into[i].(encoding.TextUnmarshaler).UnmarshalText([]byte(part)); err != nil {
			return err
		}
	}
	return nil
}

// short is a setting in few words, or why there is none and which of the sentinels it is.
func short(s Setting, err error) (string, error, error) {
	var parse *units.ParseError
	if errors.As(err, &parse) {
		return s.Dial.String(), err, parse.Err
	}
	least, most := s.Delivers(units.InchPound, 5)
	return fmt.Sprintf("%v gives %v, %v to %v, margins %v and %v, %v to %v", s.Dial, s.Delivered, s.Least, s.Most, s.AboveLow, s.BelowHigh, least, most), err, nil
}

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
