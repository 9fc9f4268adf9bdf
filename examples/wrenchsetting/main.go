// Command wrenchsetting says what to set on a torque wrench for a printed limit, or why no setting
// of that wrench will do. The limit and the wrench it takes when none is given are invented.
//
// The idea: a setting is good when all that the tool may deliver, adapter and deviation included,
// lies inside the limit, and best where it stays farthest from both ends.
//
//	wrenchsetting -band "145 to 190 in-lb" -length "350 mm" -offset "50 mm"
//
// The manufacturer's instructions for the machine and for the wrench govern.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

const invented = "150 to 190 in-lb"

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the program: 0 with a setting, 1 without one, 2 where it wasn't asked properly.
func run(args []string, out, complaints io.Writer) int {
	var limit string
	var w torque.Wrench
	var a torque.Adapter
	f := flag.NewFlagSet("wrenchsetting", flag.ContinueOnError)
	f.SetOutput(complaints)
	f.StringVar(&limit, "band", invented, `the limit as printed, in one unit or two: "145-190 in-lb (16-21 N·m)"`)
	f.TextVar(&w.Lowest, "lowest", units.NewtonMetre.Of(10), "lowest setting on the scale")
	f.TextVar(&w.Highest, "highest", units.NewtonMetre.Of(100), "highest setting on the scale")
	f.TextVar(&w.Step, "step", units.MustParseTorque("0.5 N·m"), "step of the scale")
	f.TextVar(&w.Deviation, "deviation", units.Percent.Of(4), "permissible deviation, from the tool's certificate")
	f.TextVar(&w.Length, "length", units.Length{}, "middle of the grip to the drive")
	f.TextVar(&a.Offset, "offset", units.Length{}, "drive to fastener, for an adapter")
	f.TextVar(&a.Angle, "angle", units.Angle{}, "between wrench and adapter; 0° makes the lever longer")
	if err := f.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if f.NArg() > 0 {
		fmt.Fprintf(complaints, "%q belongs to no flag; a value with blanks needs quotes\n", f.Arg(0))
		return 2
	}
	if limit == invented {
		fmt.Fprintln(out, "An invented limit; give yours with -band, the wrench and adapter with the other flags (-h).")
	}
	band, err := read(limit)
	if err != nil {
		fmt.Fprintln(complaints, err)
		return 2
	}
	s, err := w.Set(band, a)
	if err != nil {
		fmt.Fprintln(out, "No setting:", err)
		return 1
	}
	report(out, band, s)
	return 0
}

// read takes a limit in one unit, or in two that agree; the first stated then governs.
func read(limit string) (torque.Band, error) {
	band, err := torque.ParseBand(limit)
	if !errors.Is(err, torque.ErrTwoUnits) {
		return band, err
	}
	printed, err := torque.ParsePrintedLimit(limit)
	if err != nil {
		return torque.Band{}, err
	}
	return printed.Band()
}

func report(out io.Writer, band torque.Band, s torque.Setting) {
	fmt.Fprintf(out, "Limit       %v\n", band)
	fmt.Fprintf(out, "Set to      %v\n", s.Dial)
	fmt.Fprintf(out, "Delivers    %v, or %v to %v at the tool's deviation\n", s.Delivered, s.Least, s.Most)
	fmt.Fprintf(out, "Room        %v above the low limit, %v below the high one\n", s.AboveLow, s.BelowHigh)
}
