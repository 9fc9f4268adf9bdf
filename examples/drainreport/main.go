// Drainreport prints what the draining of one fuel filter comes to: what was caught and what it
// weighs, the room left in the drum, and what it takes to prime the new filter.
//
//	go run ./examples/drainreport -volume "1.5 L" -water "60 mL" -read "30 °C" -density "840 kg/m³" -density-at "15 °C"
//
// Fuel that is as hot as its least flash point, or hotter, is to cool first: nothing is planned for it.
//
// Machine, filter and pump are invented. Where a manufacturer's instructions say otherwise, they govern.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// called is what was wrong with how the program was called.
type called struct{ error }

func main() { os.Exit(ended(os.Args[1:], os.Stdout, os.Stderr)) }

// ended is the program: 0 where all went well and with -h, 1 where something didn't, 2 where it was
// called wrongly. What it prints comes out whole or not at all.
func ended(args []string, out, problems io.Writer) int {
	var whole bytes.Buffer
	err := run(args, &whole)
	if err == nil || errors.Is(err, flag.ErrHelp) {
		_, err = out.Write(whole.Bytes())
	}
	if err == nil {
		return 0
	}
	fmt.Fprintln(problems, "drainreport:", err)
	if errors.As(err, new(called)) {
		return 2
	}
	return 1
}

// caught is what is in the pan.
type caught struct {
	volume, water   units.Volume
	read, densityAt units.Temperature
	density         drain.StatedDensity
}

func run(args []string, out io.Writer) error {
	var c caught
	flags := flag.NewFlagSet("drainreport", flag.ContinueOnError)
	flags.SetOutput(out) // which is thrown away but with -h
	flags.TextVar(&c.volume, "volume", units.MustParseVolume("1.5 L"), "fuel in the pan, without the water under it")
	flags.TextVar(&c.water, "water", units.MustParseVolume("60 mL"), "water under the fuel")
	flags.TextVar(&c.read, "read", units.Celsius.Of(30), "their temperature when the volumes were read")
	flags.TextVar(&c.density, "density", drain.StateDensity(units.MustParseDensity("840 kg/m³")), "density of the fuel, from its delivery note; °API and 60/60 °F as well")
	flags.TextVar(&c.densityAt, "density-at", units.Celsius.Of(15), "the temperature that density belongs to; of °API and 60/60 °F it is 60 °F")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return called{err}
	}
	if flags.NArg() > 0 {
		return called{fmt.Errorf("%q: no arguments wanted, only flags", flags.Arg(0))}
	}
	said := false
	flags.Visit(func(f *flag.Flag) { said = said || f.Name == "density-at" })
	if c.density.At60F() && !said {
		c.densityAt = units.Temperature{}
	}
	r := report{out: out}
	fuel := get(c.density.Fuel(c.densityAt))(&r)
	get(fuel.DensityAt(c.read))(&r) // what can't be is refused before anything is said of it
	pan := get(drain.PlusMinus(c.volume, units.MustParseVolume("50 mL"), drain.Measured))(&r)
	if r.mayGoOn(c.read) {
		r.inPan(c, fuel, pan)
		r.drum(fuel, pan)
		r.primed()
	}
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

// margin is how near the flash point fuel is told to cool; the shop's to choose.
var margin = units.CelsiusDifference.Of(10)

// mayGoOn says whether the fuel is cold enough for anything to be planned with it.
func (r *report) mayGoOn(read units.Temperature) bool {
	no2 := drain.Grades()[1]
	found := get(drain.FlashGuard(no2.LeastFlash, read, margin))(r)
	r.line("Catch", "%v", found)
	if found.Guard != drain.FlashClear {
		r.line("First", "let it cool to more than %v below the least flash point, the pan covered, no spark or hot surface near", margin)
	}
	if found.Guard == drain.FlashStop {
		r.line("", "then read volume and temperature again; nothing is planned before that")
	}
	return r.err == nil && found.Guard != drain.FlashStop
}

// inPan is what was caught and what it weighs: the fuel, and the water, which goes elsewhere.
func (r *report) inPan(c caught, fuel drain.Fuel, pan drain.Estimate[units.VolumeUnit]) {
	r.line("In the pan", "%v at %v", pan, c.read)
	cold := get(fuel.Volume(c.volume, drain.VolumeAt{Temperature: c.read, Base: units.Celsius.Of(20)}))(r)
	r.line("The same at 20 °C", "%v", cold.RoundIn(units.Litre, 4, units.ToNearestEven))
	mass := get(fuel.MassOf(pan, c.read))(r)
	r.line("Mass", "%v", mass.RoundIn(units.Kilogram, 3))
	shown := get(drain.ScaleReading(mass.Best, get(fuel.DensityAt(c.read))(r)))(r)
	r.line("A scale in air shows", "%v", shown.RoundIn(units.Kilogram, 4, units.ToNearestEven))
	water := get(drain.Exactly(c.water, drain.Measured))(r)
	wet := get(drain.WaterMass(water, c.read))(r)
	r.line("Water", "%v, %v: into a container of its own; more than last time: have the tank checked", c.water, wet.Best.RoundIn(units.Kilogram, 4, units.ToNearestEven))
}

func (r *report) drum(fuel drain.Fuel, pan drain.Estimate[units.VolumeUnit]) {
	limit := get(drain.FillLimit(fuel, units.USGallon.Of(55), units.Celsius.Of(20)))(r)
	drum := drain.Filling{Limit: limit, Inside: get(drain.PlusMinus(units.Litre.Of(171), units.Litre.Of(1), drain.Measured))(r)}
	least, _, most, err := drum.Services(pan)
	r.line("Drum", "room for %v below the fill limit of ADR 2013, 4.1.1.4 (b)", get(drum.Left())(r).RoundIn(units.Litre, 0))
	r.line("", "%d to %d such services until it is full", get(least, err)(r), most)
}

func (r *report) primed() {
	holds := get(drain.NewEstimate(units.MustParseVolume("1.6 L"), units.MustParseVolume("1.7 L"), units.MustParseVolume("1.9 L"), drain.Stated))(r)
	refill := get(drain.PrefillPlan(holds, units.Percent.Of(50), 2))(r)
	r.line("Prefill", "pour in %v, which leaves %v to prime", refill.Pour, refill.Void)
	flow := get(drain.PlusMinus(units.MustParseFlow("1.5 L/min"), units.MustParseFlow("0.5 L/min"), drain.Stated))(r)
	least, best, most, err := drain.KeyCycles(refill.Void, flow, 30*time.Second, units.Percent.Of(80))
	r.line("Key cycles of 30 s", "%d (%d to %d)", get(best, err)(r), least, most)
	for _, step := range get(drain.Cranking{Limit: drain.Duration(10 * time.Second), Rest: drain.Duration(2 * time.Minute), Attempts: 2}.Plan())(r) {
		r.line(fmt.Sprint("Crank, attempt ", step.Attempt), "after %.0f s of rest at most %.0f s; that makes %.0f s", step.Rest.Seconds(), step.Crank.Seconds(), step.Elapsed.Seconds())
	}
	what := "Else look for"
	for _, cause := range drain.PrimingChecklist() {
		r.line(what, "%s", causes[cause])
		what = ""
	}
}

// causes are the codes of [drain.PrimingChecklist] in words.
var causes = map[string]string{
	"no-fuel":     "a closed fuel cock, or an empty tank",
	"suction-air": "air drawn in on the suction side: such a joint stays dry; look for bubbles in the return or a clear line",
	"gasket-left": "a gasket left on the head, or two of them",
	"waxed-fuel":  "fuel near its cloud point, waxing the new element",
	"pump-supply": "a pump without its supply or its relay",
}
