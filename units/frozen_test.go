package units

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/snugturn/testdata/frozen"
)

var frozenCalls = frozen.Of(frozen.Calls{
	"ParseAngle": ParseAngle, "ParseDensity": ParseDensity, "ParseFlow": ParseFlow, "ParseLength": ParseLength, "ParseMass": ParseMass,
	"ParsePressure": ParsePressure, "ParseShare": ParseShare, "NewTemperature": NewTemperature, "ParseTemperature": ParseTemperature,
	"ParseTorque": ParseTorque, "ParseVolume": ParseVolume,
	"ParseTorqueUnit": ParseUnit[TorqueUnit], "ParseVolumeUnit": ParseUnit[VolumeUnit], "ParsePressureUnit": ParseUnit[PressureUnit],
	"ParseTemperatureDifference": Parse[TemperatureDifferenceUnit],
	"FromRec20Torque":            FromRec20[TorqueUnit], "FromUCUMVolume": FromUCUM[VolumeUnit], "FromUCUMPressure": FromUCUM[PressureUnit],
	"FromRec20Volume": FromRec20[VolumeUnit], "FromRec20Pressure": FromRec20[PressureUnit], "FromUCUMTorque": FromUCUM[TorqueUnit], "FromUCUMFlow": FromUCUM[FlowUnit],
	"FromUCUMDensity": FromUCUM[DensityUnit],
	"FactorLength":    Factor[LengthUnit], "FactorVolume": Factor[VolumeUnit], "NewTorque": New[TorqueUnit], "NewLength": New[LengthUnit],
	"MaxMass": Max[MassUnit], "MinMass": Min[MassUnit], "SumVolume": Sum[VolumeUnit], "SumTorque": Sum[TorqueUnit],
	"FromRatLength": func(num, den int64, unit LengthUnit, places int, mode Rounding) (Length, error) {
		if den == 0 {
			return FromRat(nil, unit, places, mode)
		}
		return FromRat(decimal.New(num, 0).Rat().Quo(decimal.New(num, 0).Rat(), decimal.New(den, 0).Rat()), unit, places, mode)
	},
	"FromRatTorque": func(x string, unit TorqueUnit, places int, mode Rounding) (Torque, error) {
		return FromRat(rat(x), unit, places, mode)
	},
	// The row of a table: how its unit is printed, and what is known of it.
	"row": func(kindOf string, i int) string {
		for _, k := range allKinds() {
			if k.name == kindOf {
				r := k.rows[i]
				return fmt.Sprint(r.symbol, " | ", r.name, " | ", r.usual, " | ", r.num, "/", r.den, " | ", r.ucum, " | ", r.rec20, " | ", r.caveat[ucum], " | ", r.caveat[rec20])
			}
		}
		return "no such kind"
	},
	"ratio": func(a, b uint64, c, d uint64) string {
		return fmt.Sprint(newRatio(row{num: a, den: b}, row{num: c, den: d}))
	},
	"format":            func(format string, q Torque) string { return fmt.Sprintf(format, q) },
	"formatLength":      func(format string, q Length) string { return fmt.Sprintf(format, q) },
	"formatAngle":       func(format string, q Angle) string { return fmt.Sprintf(format, q) },
	"formatTemperature": func(format string, t Temperature) string { return fmt.Sprintf(format, t) },
	"formatWide":        func(format string, width, places int, q Torque) string { return fmt.Sprintf(format, width, places, q) },
	"foldUnit":          foldUnit,
	"startsFraction":    startsFraction,
	"scanNumber": func(text string, at int) string {
		n, end, problem := scanNumber(text, at)
		if problem != nil {
			return problem.Error() + fmt.Sprint(" ", problem.Offset, " ", problem.Err)
		}
		return fmt.Sprint(shown(n), " to ", end)
	},
	"scanDigits": func(text string, i int) string {
		coef, point, end, fits := scanDigits(text, i)
		return fmt.Sprint(coef.big(), " ", point, " ", end, " ", fits)
	},
	"words":  func(op, a, b string) string { return onWords(op, whole(a), whole(b)) },
	"number": func(op, a, b string) string { return onNumbers(op, num(a), num(b)) },
	"scaled": func(a string, num, den uint64, exp10 int8, places int, mode Rounding) string {
		return onScale(numberOf(a), ratio{num, den, exp10}, places, mode)
	},
	"roundRat": func(x string) string { n, exact := roundRat(rat(x)); return fmt.Sprint(shown(n), " ", exact) },
	"roundRatTo": func(x string, places int, mode Rounding) string {
		n, ok := roundRatTo(rat(x), places, mode)
		return fmt.Sprint(shown(n), " ", ok)
	},
	"fromDecimal": func(text string) string {
		n, ok := fromDecimal(decimal.RequireFromString(text))
		return fmt.Sprint(shown(n), " ", ok, " ", digitsOf(decimal.RequireFromString(text)))
	},
	"cmpWords": func(a, num, b, den uint64, shift int) int { return cmpWords(a, b, &ratio{num: num, den: den}, shift) },
	"twoDoubles": func(num, den uint64, exp10 int8) string {
		high, low := ratio{num, den, exp10}.twoDoubles()
		return hex(high, low)
	},
	"ConvertFloat64s": func(from, to PressureUnit, list string) string {
		var src []float64
		for text := range strings.FieldsSeq(list) {
			x, err := strconv.ParseFloat(text, 64)
			if err != nil {
				return err.Error()
			}
			src = append(src, x)
		}
		dst := make([]float64, len(src))
		ConvertFloat64s(dst, src, from, to)
		return hex(dst...)
	},
	"exact":      func(q Torque, unit TorqueUnit) string { return said(q.Exact(unit)) },
	"sum":        func(q, r Torque) string { return said(q.Add(r)) },
	"difference": func(q, r Torque) string { return said(q.Sub(r)) },
	"compare":    func(q, r Torque) string { return fmt.Sprint(q.Compare(r), q.Less(r), q.Equal(r)) },
	"round":      func(q Torque, places int, mode Rounding) string { return q.Round(places, mode).String() },
	"roundIn": func(q Torque, unit TorqueUnit, places int, mode Rounding) string {
		return q.RoundIn(unit, places, mode).String()
	},
	"of": func(unit TorqueUnit, n int64) string { return unit.Of(n).String() },
	"parts": func(q Torque) string {
		return fmt.Sprint(q.SortKey(), q.Sign(), q.Neg(), q.Abs(), hex(q.Float64(q.Unit()), q.Float64(InchPound)), q.Magnitude(), q.Places(), q.RatIn(InchPound))
	},
	"inScale": func(t Temperature, scale TemperatureScale) string { return t.In(scale).String() },
	"roundInScale": func(t Temperature, scale TemperatureScale, places int, mode Rounding) string {
		return t.RoundIn(scale, places, mode).String()
	},
	"warmer": func(t, u Temperature) string { return said(t.Sub(u)) },
	"warmed": func(t Temperature, d TemperatureDifference) string { return said(t.Add(d)) },
	"degrees": func(t Temperature) string {
		text, err := t.MarshalText()
		return fmt.Sprint(t.SortKey(), t.Valid(), t.Degrees(), string(text), err, t.RatIn(Kelvin))
	},
	"ScanWhat": func(what string) (Torque, error) {
		var q Torque
		column, ok := map[string]any{"null": nil, "int": int64(3), "float": 1.5, "bool": true, "other": struct{}{}, "text": "3 N·m", "object": `{"value":"3","unit":"N·m"}`}[what]
		if !ok {
			return q, errors.New("no such column")
		}
		return q, q.Scan(column)
	},
	"Stray": func(unit TorqueUnit) string {
		stray, good := unit.Of(5), NewtonMetre.Of(20)
		sum, exact := good.Add(stray)
		other, too := stray.Add(good)
		both, all := Sum(NewtonMetre, good, stray)
		none, of := Sum(unit, good)
		last, first := Sum(NewtonMetre, stray, good)
		twice, same := stray.Add(stray)
		in, as := stray.Exact(InchPound)
		text, err := stray.MarshalText()
		_, wrong := New(decimal.New(3, 0), unit)
		_, worse := FromRat(big.NewRat(1, 1), unit, 1, ToNearestEven)
		return fmt.Sprint(stray, stray.Valid(), stray.SortKey(), sum, exact, other, too, both, all, none, of, last, first, twice, same, in, as, string(text), err, wrong, worse,
			stray.Compare(good), good.Compare(stray), stray.Compare(stray), stray.Compare(TorqueUnit(200).Of(1)), stray.RoundIn(InchPound, 1, 0), good.RoundIn(unit, 1, 0),
			stray.Round(-1, ToPositiveInf), stray.RatIn(InchPound), stray.Ratio(good), stray.Float64(InchPound), Factor(unit, InchPound), Factor(InchPound, unit))
	},
}, Angle{}, Density{}, Flow{}, Length{}, Mass{}, Pressure{}, Share{}, Temperature{}, TemperatureDifference{}, Torque{}, Volume{},
	AngleUnit(0), DensityUnit(0), FlowUnit(0), LengthUnit(0), MassUnit(0), PressureUnit(0), ShareUnit(0), TemperatureDifferenceUnit(0), TorqueUnit(0), VolumeUnit(0),
	Rounding(0), TemperatureScale(0))

func rat(text string) *big.Rat {
	x, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("no fraction: " + text)
	}
	return x
}

func said(v fmt.Stringer, exact bool) string { return fmt.Sprint(v, exact) }

func hex(list ...float64) string {
	var out []string
	for _, x := range list {
		out = append(out, strconv.FormatFloat(x, 'x', -1, 64))
	}
	return strings.Join(out, " ")
}

// whole is three words at the most: a whole number, or 2^64 and the like.
func whole(text string) u192 {
	if text == "" {
		return u192{}
	}
	n, ok := new(big.Int), true
	if base, power, found := strings.Cut(text, "^"); found {
		b, _ := new(big.Int).SetString(base, 10)
		power, less, _ := strings.Cut(power, "-")
		p, _ := new(big.Int).SetString(power, 10)
		n.Exp(b, p, nil)
		if l, is := new(big.Int).SetString(less, 10); is {
			n.Sub(n, l)
		}
	} else {
		n, ok = n.SetString(text, 10)
	}
	if !ok || n.BitLen() > 192 {
		panic("no whole number: " + text)
	}
	low := u128of(new(big.Int).And(n, new(big.Int).Sub(new(big.Int).Lsh(big.NewInt(1), 128), big.NewInt(1))))
	return u192{new(big.Int).Rsh(n, 128).Uint64(), low.hi, low.lo}
}

func (a u192) String() string {
	n := new(big.Int).Lsh(new(big.Int).SetUint64(a.hi), 128)
	return n.Or(n, a.low128().big()).String()
}

// numberOf reads "-1250e-2", with any number of digits that two words hold.
func numberOf(text string) number {
	text, neg := strings.CutPrefix(text, "-")
	digits, places, _ := strings.Cut(text, "e-")
	p, _ := strconv.Atoi(places)
	return number{coef: whole(digits).low128(), places: uint8(p), neg: neg}
}

func num(text string) number { return numberOf(text) }

func shown(n number) string { return string(n.appendTo(nil)) }

func onWords(op string, a, b u192) string {
	x, y := a.low128(), b.low128()
	switch op {
	case "compare":
		return fmt.Sprint(x.cmp(y), x.less(y), a.cmp(b), x.isZero())
	case "plus":
		sum, ok := x.plus(y)
		return fmt.Sprint(sum.big(), ok)
	case "minus":
		return fmt.Sprint(x.minus(y).big())
	case "times":
		wide, ok := a.times(y.lo)
		return fmt.Sprint(x.times(y.lo), wide, ok)
	case "over":
		q, r := x.over(y.lo)
		return fmt.Sprint(q.big(), " ", r)
	case "wide over":
		q, r := a.over(y.lo)
		return fmt.Sprint(q, " ", r)
	case "shift":
		p, ok := x.shift10(int(y.lo))
		return fmt.Sprint(p.big(), ok)
	case "size":
		return fmt.Sprint(x.bitLen(), x.digits(), a.bitLen(), u128of(x.big()) == x)
	case "lowest":
		p, q := lowest(x.lo, y.lo)
		rest, tens := withoutTens(x.lo)
		return fmt.Sprint(p, q, rest, tens)
	case "remnant":
		return fmt.Sprint(remnantOf(x.lo, y.lo), remnantOfBig(x.big(), y.big()))
	}
	return "no such operation"
}

func onNumbers(op string, a, b number) string {
	switch op {
	case "compare":
		return fmt.Sprint(a.cmp(b), a.cmpScaled(b, ratio{num: 3, den: 7, exp10: 2}), a.cmpScaled(b, ratio{num: 1 << 62, den: 1 << 61, exp10: -20}), a.sign())
	case "plus":
		sum, exact := a.plus(b)
		slow, too := a.plusSlow(b)
		return fmt.Sprint(shown(sum), " ", exact, " ", shown(slow), " ", too)
	case "trim":
		return fmt.Sprint(shown(a.trim()), " ", a.trim().places, " ", a.decimal(), " ", hex(a.float64()), " ", a.rat().RatString())
	}
	return "no such operation"
}

func onScale(a number, r ratio, places int, mode Rounding) string {
	n, exact := a.scaledTo(r, places, mode)
	slow, too := a.scaledSlow(r, clampPlaces(places), mode)
	trimmed, all := a.scaled(r)
	q, lost, ok := a.quotient(r, clampPlaces(places))
	quotient := "no quotient"
	if ok {
		quotient = fmt.Sprint(q.big(), " ", lost)
	}
	return fmt.Sprint(shown(n), " ", exact, " ", shown(slow), " ", too, " ", shown(trimmed), " ", all, " ", quotient)
}

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
