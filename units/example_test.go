package units_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"math/big"
	"os"

	"github.com/shopspring/decimal"

	"example.com/snugturn/units"
)

func Example() {
	low := units.MustParseTorque("145 in-lb")
	high := units.MustParseTorque("190 in-lb")
	fmt.Println(low.In(units.NewtonMetre), "to", high.In(units.NewtonMetre))

	// On a wrench that reads whole foot-pounds: the low limit up, the high limit down.
	fmt.Println(low.RoundIn(units.FootPound, 0, units.ToPositiveInf), "to", high.RoundIn(units.FootPound, 0, units.ToNegativeInf))

	_, err := units.ParseVolume("5 gal")
	fmt.Println(err)
	// Output:
	// 16.3828002090044215 N·m to 21.467117515247173 N·m
	// 13 ft-lb to 15 ft-lb
	// volume "5 gal" at byte 2: "gal" doesn't say whose gallon; it could be US gal or imp gal
}

func ExampleParse() {
	for _, text := range []string{"145 in-lb", "12.50 Nm", "1½ ft-lb", "30 nm", "30", "1,5 N·m"} {
		q, err := units.Parse[units.TorqueUnit](text)
		fmt.Println(q, err)
	}
	// Output:
	// 145 in-lb <nil>
	// 12.50 N·m <nil>
	// 1.5 ft-lb <nil>
	// 0 N·m torque "30 nm" at byte 3: "nm" is ambiguous in these letters; it could be N·m (newton metre) or nanometre or nautical mile
	// 0 N·m torque "30" at byte 2: no unit; want a unit such as N·m, in-lb, ft-lb
	// 0 N·m torque "1,5 N·m" at byte 1: a comma in a number; it could be a decimal comma or a thousands separator; want plain digits with a point, such as 12.5
}

func ExampleMustParse() {
	fmt.Println(units.MustParse[units.VolumeUnit]("1.5 L"))
	// Output:
	// 1.5 L
}

func ExampleParseUnit() {
	unit, err := units.ParseUnit[units.TorqueUnit]("inch-pounds")
	fmt.Println(unit, err)
	// Output:
	// in-lb <nil>
}

func ExampleNew() {
	q, err := units.New(decimal.RequireFromString("12.50"), units.NewtonMetre)
	fmt.Println(q, q.Places(), err)
	_, err = units.New(decimal.New(1, 1_000_000), units.NewtonMetre)
	fmt.Println(err)
	// Output:
	// 12.50 N·m 2 <nil>
	// torque in N·m "…e1000000": too many digits or too large; want at most 34 digits, 60 places, and less than 10^24 N·m
}

func ExampleQuantity() {
	q := units.MustParseTorque("12.50 N·m")
	fmt.Println(q.String(), q.Magnitude().StringFixed(2), q.Unit(), q.Places(), q.Valid())
	fmt.Println(q.Sign(), q.Neg(), q.Neg().Abs())
	fmt.Println(q.Float64(units.InchPound))
	var generic units.Quantity[units.TorqueUnit] = q // Torque is an alias
	fmt.Println(generic)
	// Output:
	// 12.50 N·m 12.50 N·m 2 true
	// 1 -12.50 N·m 12.50 N·m
	// 110.6343223915898
	// 12.50 N·m
}

func ExampleQuantity_In() {
	fmt.Println(units.InchPound.Of(145).In(units.NewtonMetre))
	fmt.Println(units.NewtonMetre.Of(25).In(units.InchPound)) // doesn't end: 34 digits
	q, exact := units.NewtonMetre.Of(25).Exact(units.InchPound)
	fmt.Println(q.Equal(units.NewtonMetre.Of(25)), exact)
	// Output:
	// 16.3828002090044215 N·m
	// 221.2686447831796091634246194913164 in-lb
	// false false
}

func ExampleQuantity_RoundIn() {
	high := units.InchPound.Of(190)
	fmt.Println(high.RoundIn(units.NewtonMetre, 2, units.ToNearestEven), "lies above 190 in-lb")
	fmt.Println(high.RoundIn(units.NewtonMetre, 2, units.ToNegativeInf), "doesn't")
	fmt.Println(units.MustParseTorque("12.345 N·m").Round(2, units.ToNearestEven))
	var nearest units.Rounding // the zero value
	fmt.Println(nearest == units.ToNearestEven)
	// Output:
	// 21.47 N·m lies above 190 in-lb
	// 21.46 N·m doesn't
	// 12.34 N·m
	// true
}

func ExampleQuantity_Compare() {
	foot, inch := units.FootPound.Of(1), units.InchPound.Of(12)
	fmt.Println(foot.Compare(inch), foot.Equal(inch), foot.Less(units.NewtonMetre.Of(2)))
	fmt.Println(units.Min(foot, units.NewtonMetre.Of(1)), units.Max(foot, units.NewtonMetre.Of(1)))
	// Output:
	// 0 true true
	// 1 N·m 1 ft-lb
}

func ExampleQuantity_Add() {
	sum, exact := units.MustParseVolume("1.5 L").Add(units.MustParseVolume("250 mL"))
	fmt.Println(sum, exact)
	rest, exact := sum.Sub(units.USQuart.Of(1))
	fmt.Println(rest, exact)
	third, exact := units.USGallon.Of(1).Add(units.Litre.Of(1)) // a litre is no decimal number of gallons
	fmt.Println(third, exact)
	total, exact := units.Sum(units.Litre, units.USGallon.Of(1), units.ImperialGallon.Of(1))
	fmt.Println(total, exact)
	// Output:
	// 1.75 L true
	// 0.803647054 L true
	// 1.264172052358148415379899921609163 US gal false
	// 8.331501784 L true
}

func ExampleQuantity_RatIn() {
	// 120 % of 25 N·m in inch-pounds, rounded once at the end.
	x := units.NewtonMetre.Of(25).RatIn(units.InchPound)
	q, err := units.FromRat(x.Mul(x, big.NewRat(12, 10)), units.InchPound, 1, units.ToNegativeInf)
	fmt.Println(q, err)
	eighths := big.NewRat(5, 8)
	places, _ := eighths.FloatPrec() // as many as it takes
	fmt.Println(units.FromRat(eighths, units.Inch, places, units.ToNearestEven))
	fmt.Println(units.FromRat(big.NewRat(2, 3), units.Inch, 60, units.ToNegativeInf)) // as many as there is room for
	fmt.Println(units.FootPound.Of(1).Ratio(units.InchPound.Of(1)), units.Factor(units.USGallon, units.CubicInch))
	// Output:
	// 265.5 in-lb <nil>
	// 0.625 in <nil>
	// 0.6666666666666666666666666666666666 in <nil>
	// 12/1 231/1
}

func ExampleQuantity_MarshalJSON() {
	q := units.MustParseTorque("12.50 N·m")
	data, err := json.Marshal(q)
	fmt.Println(string(data), err)
	var back units.Torque
	fmt.Println(json.Unmarshal([]byte(`"145 in-lb"`), &back), back)
	fmt.Println(json.Unmarshal([]byte(`145`), &back), back)
	// Output:
	// {"value":"12.50","unit":"N·m"} <nil>
	// <nil> 145 in-lb
	// torque in JSON "145": a number without its unit, or something else that is neither string nor object; want a string "30 N·m" or an object {"value":"30","unit":"N·m"} 145 in-lb
}

func ExampleQuantity_AppendText() {
	q := units.MustParseTorque("12.50 N·m")
	line, err := q.AppendText([]byte("torque="))
	fmt.Println(string(line), err)
	text, _ := q.MarshalText()
	binary, _ := q.MarshalBinary()
	fmt.Println(string(text), string(binary))
	var back units.Torque
	fmt.Println(back.UnmarshalText(text), back, back.UnmarshalBinary(binary), back)
	// Output:
	// torque=12.50 N·m <nil>
	// 12.50 N·m 12.50 N·m
	// <nil> 12.50 N·m <nil> 12.50 N·m
}

func ExampleQuantity_UnmarshalText() {
	flags := flag.NewFlagSet("shop", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	var torque units.Torque
	flags.TextVar(&torque, "torque", units.InchPound.Of(145), "how tight")
	fmt.Println(flags.Parse([]string{"-torque", "25 Nm"}), torque)
	// Output:
	// <nil> 25 N·m
}

func ExampleQuantity_Scan() {
	stored, err := units.MustParseTorque("12.50 N·m").Value()
	fmt.Println(stored, err)
	var q units.Torque
	fmt.Println(q.Scan(stored), q)
	fmt.Println(q.Scan(nil))
	// Output:
	// 12.50 N·m <nil>
	// <nil> 12.50 N·m
	// torque in a column "": NULL is not accepted; use sql.Null; want text such as "30 N·m"
}

func ExampleQuantity_Format() {
	q := units.MustParseTorque("12.50 N·m")
	fmt.Printf("%v|%12v|%-12s|%.1f|%+v|%q\n", q, q, q, q, q, q)
	// Output:
	// 12.50 N·m|   12.50 N·m|12.50 N·m   |12.5 N·m|+12.50 N·m|"12.50 N·m"
}

func ExampleQuantity_LogValue() {
	log := slog.New(slog.NewTextHandler(os.Stdout, &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		if a.Key == slog.TimeKey {
			return slog.Attr{}
		}
		return a
	}}))
	log.Info("tightened", "torque", units.InchPound.Of(250), "at", units.Celsius.Of(20))
	fmt.Println(units.InchPound.Of(250).LogValue(), units.Celsius.Of(20).LogValue())
	// Output:
	// level=INFO msg=tightened torque="250 in-lb" at="20 °C"
	// 250 in-lb 20 °C
}

func ExampleTemperature() {
	warm := units.MustParseTemperature("60 °F")
	fmt.Println(warm.String(), warm.Degrees(), warm.Scale(), warm.Valid())
	fmt.Println(warm.RatIn(units.Celsius), warm.RoundIn(units.Celsius, 2, units.ToNearestEven), warm.In(units.Kelvin))
	cold := units.Celsius.Of(0)
	fmt.Println(warm.Compare(cold), cold.Less(warm), cold.Equal(units.Fahrenheit.Of(32)))
	fmt.Println(warm.Sub(cold)) // a difference, in degrees of the first one's scale
	fmt.Println(warm.Add(units.CelsiusDifference.Of(5)))
	// Output:
	// 60 °F 60 °F true
	// 140/9 15.56 °C 288.7055555555555555555555555555556 K
	// 1 true true
	// 28 °F true
	// 69 °F true
}

func ExampleNewTemperature() {
	t, err := units.NewTemperature(decimal.RequireFromString("15.0"), units.Celsius)
	fmt.Println(t, err)
	_, err = units.NewTemperature(decimal.RequireFromString("-300"), units.Celsius)
	fmt.Println(err)
	// Output:
	// 15.0 °C <nil>
	// temperature in °C "-300 °C": below absolute zero; want at least -273.15 °C
}

func ExampleTemperature_MarshalText() {
	t := units.MustParseTemperature("15.0 °C")
	text, _ := t.MarshalText()
	longer, _ := t.AppendText([]byte("at "))
	binary, _ := t.MarshalBinary()
	data, _ := json.Marshal(t)
	stored, _ := t.Value()
	fmt.Println(string(text), string(longer), string(binary), string(data), stored)
	var back units.Temperature
	fmt.Println(back.UnmarshalText(text), back.UnmarshalBinary(binary), json.Unmarshal(data, &back), back.Scan(stored), back)
	fmt.Printf("%8.2v|\n", t)
	// Output:
	// 15.0 °C at 15.0 °C 15.0 °C {"value":"15.0","unit":"°C"} 15.0 °C
	// <nil> <nil> <nil> <nil> 15.0 °C
	// 15.00 °C|
}

func ExampleAll() {
	for unit := range units.All[units.AngleUnit]() {
		fmt.Println(unit)
	}
	// Output:
	// °
	// rev
}

func ExampleUnit() {
	// A function for every kind of quantity.
	fmt.Println(widest(units.Inch.Of(1), units.Millimetre.Of(30)), widest(units.Litre.Of(1), units.USQuart.Of(1)))
	var _ = widest[units.TorqueUnit]
	// Output:
	// 30 mm 1 L
}

func widest[U units.Unit](a, b units.Quantity[U]) units.Quantity[U] { return units.Max(a, b) }

func ExampleFromRec20() {
	fmt.Println(units.FromRec20[units.TorqueUnit]("F21"))
	fmt.Println(units.FromRec20[units.TorqueUnit]("IA"))
	unit, err := units.FromRec20[units.TorqueUnit]("B38")
	fmt.Println(unit, errors.Is(err, units.ErrCaveat))
	_, err = units.KilogramForceCentimetre.Rec20()
	var problem *units.ParseError
	fmt.Println(errors.As(err, &problem), problem.Input, problem)
	// Output:
	// in-lb <nil>
	// N·m Recommendation 20 code "IA": is the inch pound in kg·m, a mass times a length; the torque is F21
	// kgf·m true
	// true kgf·cm Recommendation 20 code of the unit "kgf·cm": there is none
}

func ExampleFromUCUM() {
	fmt.Println(units.FromUCUM[units.VolumeUnit]("[gal_us]"))
	fmt.Println(units.FromUCUM[units.TorqueUnit]("J"))
	// Output:
	// US gal <nil>
	// N·m UCUM code "J": is the joule, a unit of energy; a torque is N.m
}

func ExampleConvertFloat64s() {
	readings := []float64{145, 190}
	units.ConvertFloat64s(readings, readings, units.InchPound, units.NewtonMetre)
	fmt.Println(readings)
	// Output:
	// [16.382800209004422 21.467117515247175]
}

func ExampleParseError() {
	_, err := units.ParseVolume("2 qt")
	var problem *units.ParseError
	if errors.As(err, &problem) && errors.Is(err, units.ErrAmbiguous) {
		fmt.Println(problem.Offset, problem.Candidates)
	}
	fmt.Println(err)
	// Output:
	// 2 [US qt imp qt]
	// volume "2 qt" at byte 2: "qt" doesn't say whose quart; it could be US qt or imp qt
}

func ExampleParseError_magnitude() {
	_, err := units.New(decimal.New(1, 30), units.NewtonMetre)
	var problem *units.ParseError
	fmt.Println(errors.As(err, &problem), errors.Is(err, units.ErrRange), problem.Want)
	// Output:
	// true true at most 34 digits, 60 places, and less than 10^24 N·m
}
