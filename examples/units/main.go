// Units shows a first few conversions, and why 0.1 + 0.2 is fine here.
//
// The idea: a quantity is a decimal number as it was written and a unit, never a binary fraction.
// Sums and comparisons are exact; a number is rounded once, at the end, where you say, and the
// kind of quantity is part of its type, so that a torque can't be added to a mass.
package main

import (
	"fmt"
	"io"
	"os"

	"example.com/snugturn/units"
)

func main() { run(os.Stdout) }

func run(out io.Writer) {
	say := func(what string, answer any) { fmt.Fprintf(out, "%-44s %v\n", what, answer) }

	// In binary neither 0.1 nor 0.2 has an end, and their sum isn't the number nearest to 0.3.
	a, b := 0.1, 0.2
	say("float64: 0.1 + 0.2", a+b)
	say("float64: is that 0.3?", a+b == 0.3)

	// Here they are the decimals that were written.
	sum, exact := units.MustParseVolume("0.1 L").Add(units.MustParseVolume("0.2 L"))
	say("units: 0.1 L + 0.2 L", sum)
	say("units: nothing was rounded off?", exact)
	say("units: is that 300 mL?", sum.Compare(units.MustParseVolume("300 mL")) == 0)

	// A conversion that has an end is exact to the last digit; one that hasn't is rounded, and the
	// second result tells.
	torque := units.MustParseTorque("145 in-lb")
	newtonMetres, exact := torque.Exact(units.NewtonMetre)
	say("145 in-lb, all its digits", newtonMetres)
	say("is that exact?", exact)
	say("in foot-pounds, to a hundredth", torque.RoundIn(units.FootPound, 2, units.ToNearestEven))

	// The nearest number may lie outside a limit. A high limit is rounded down, a low one up.
	high := units.MustParseTorque("190 in-lb")
	say("190 in-lb to a hundredth", high.RoundIn(units.NewtonMetre, 2, units.ToNearestEven))
	say("as a high limit", high.RoundIn(units.NewtonMetre, 2, units.ToNegativeInf))

	// Temperatures start at different zeros.
	say("52 °C", units.MustParseTemperature("52 °C").In(units.Fahrenheit))

	// What can be read in two ways is refused, and the error says what would be taken.
	for _, text := range []string{"2 gal", "1,5 L", "145", "30 N·m"} {
		_, err := units.ParseVolume(text)
		say("a volume of "+text, err)
	}
}
