// Drainreport prints what the draining of one fuel filter comes to: what was caught and what it
// weighs, the room left in the drum, and what it takes to prime the new filter.
//
//	go run ./examples/drainreport -volume "1.5 L" -read "60 °C" -density "840 kg/m³"
//
// Machine, filter and pump are invented. Where a maker's instructions say otherwise, they govern.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "drainreport:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	var volume units.Volume
	var density units.Density
	var read units.Temperature
	flags := flag.NewFlagSet("drainreport", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.TextVar(&volume, "volume", units.MustParseVolume("1.5 L"), "fuel in the pan")
	flags.TextVar(&read, "read", units.Celsius.Of(60), "its temperature when the volume was read")
	flags.TextVar(&density, "density", units.MustParseDensity("840 kg/m³"), "its density at 15 °C")
	if err := flags.Parse(args); err != nil {
		return err
	}
	r := report{out: out}
	r.caught(volume, read, density)
	r.primed()
	return r.err
}

// report keeps the first error, so that the steps read one after the other.
type report struct {
	out io.Writer
	err error
}

func (r *report) line(what, format string, args ...any) {
	if r.err == nil {
		_, r.err = fmt.Fprintf(r.out, "%-20s "+format+"\n", append([]any{what}, args...)...)
	}
}

// get notes an error and hands on the value.
func get[T any](value T, err error) func(*report) T {
	return func(r *report) T {
		if r.err == nil {
			r.err = err
		}
		return value
	}
}

func (r *report) caught(volume units.Volume, read units.Temperature, density units.Density) {
	fuel := get(drain.FuelAt(density, units.Celsius.Of(15)))(r)
	no2 := drain.Grades()[1]
	r.line("Catch", "%v", get(drain.FlashGuard(no2.LeastFlash, read, units.CelsiusDifference.Of(10)))(r))
	pan := get(drain.Within(volume, units.MustParseVolume("50 mL"), drain.Measured))(r)
	r.line("In the pan", "%v at %v", pan, read)
	cold := get(fuel.Volume(volume, drain.VolumeAt{Temperature: read, Base: units.Celsius.Of(20)}))(r)
	r.line("The same at 20 °C", "%v", cold.RoundIn(units.Litre, 4, units.ToNearestEven))
	mass := get(fuel.MassOf(pan, read))(r)
	r.line("Mass", "%v", mass.RoundIn(units.Kilogram, 3))
	shown := get(drain.ScaleReading(mass.Best, get(fuel.DensityAt(read))(r)))(r)
	r.line("A scale in air shows", "%v", shown.RoundIn(units.Kilogram, 4, units.ToNearestEven))

	limit := get(drain.FillLimit(fuel, units.USGallon.Of(55), units.Celsius.Of(20)))(r)
	drum := drain.Container{Limit: limit, Inside: get(drain.Within(units.Litre.Of(171), units.Litre.Of(1), drain.Measured))(r)}
	least, _, most, err := drum.Services(pan)
	r.line("Drum", "room for %v below the fill limit of ADR 4.1.1.4 (b)", get(drum.Left())(r).RoundIn(units.Litre, 0))
	r.line("", "%d to %d such services until it is full", get(least, err)(r), most)
}

func (r *report) primed() {
	holds := get(drain.NewEstimate(units.MustParseVolume("1.6 L"), units.MustParseVolume("1.7 L"), units.MustParseVolume("1.9 L"), drain.Stated))(r)
	refill := get(drain.Prefill(holds, units.Percent.Of(50), 2))(r)
	r.line("Prefill", "pour in %v, which leaves %v to prime", refill.Pour, refill.Void)
	flow := get(drain.Within(units.MustParseFlow("1.5 L/min"), units.MustParseFlow("0.5 L/min"), drain.Stated))(r)
	least, best, most, err := drain.KeyCycles(refill.Void, flow, 30*time.Second, units.Percent.Of(80))
	r.line("Key cycles of 30 s", "%d (%d to %d)", get(best, err)(r), least, most)
	for _, step := range get(drain.Cranking{Limit: 10 * time.Second, Rest: 2 * time.Minute, Attempts: 2}.Plan())(r) {
		r.line(fmt.Sprint("Crank, attempt ", step.Attempt), "after %.0f s of rest at most %.0f s; that makes %.0f s", step.Rest.Seconds(), step.Crank.Seconds(), step.Elapsed.Seconds())
	}
	r.line("Else look for", "%s", drain.LookFor()[0])
}
