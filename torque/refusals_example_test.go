package torque_test

import (
	"errors"
	"fmt"
	"time"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// Every refusal says what, where, why, and what would do, in the one shape of a units.ParseError, whose
// fields a program can read. errors.Is finds the sentinel in it; that a wrench has no setting comes with
// the dial values that would do.
func ExampleSettingError() {
	band := torque.MustParseBand("145 to 190 in-lb")
	tool := torque.Wrench{
		Name:   "W-3",
		Lowest: units.NewtonMetre.Of(80), Highest: units.NewtonMetre.Of(400), Step: units.NewtonMetre.Of(5),
		Deviation: units.Percent.Of(4),
	}
	_, order := torque.Between(units.NewtonMetre.Of(30), units.NewtonMetre.Of(20))
	_, tolerance := torque.PlusMinusPercent(units.NewtonMetre.Of(30), units.Percent.Of(-1))
	_, inward := torque.MustParseBand("145 to 146 in-lb").Inward(units.NewtonMetre, 0)
	print, _ := torque.ParsePrintedLimit("1820-1840 lb-ft (2712-2740 N·m)")
	_, disagree := print.Band()
	_, scale := torque.Wrench{}.Set(band, torque.Adapter{})
	_, lever := torque.Indicated(units.FootPound.Of(40), units.Length{}, torque.Adapter{Offset: units.Inch.Of(4)})
	_, setting := tool.Set(band, torque.Adapter{})
	_, choices := torque.Choose([]torque.Wrench{tool}, band, torque.Adapter{}, time.Date(2026, 3, 9, 0, 0, 0, 0, time.UTC))
	_, rule := band.Decide(torque.Measurement{Value: units.InchPound.Of(170)}, 0)

	for _, err := range []error{order, tolerance, inward, disagree, scale, lever, setting, choices[0].Err, rule} {
		fmt.Println(errors.As(err, new(*units.ParseError)), err)
	}
	var dial *torque.SettingError
	fmt.Println(errors.As(setting, &dial), errors.Is(setting, torque.ErrOutOfScale), dial.From, "to", dial.To)
	// Output:
	// true torque band "30 N·m to 20 N·m": the low limit is above the high limit; want the lower limit first
	// true torque "30 N·m ± -1 %": the percentage is out of range; want 0 to 100 %
	// true torque band "145 to 146 in-lb": rounded inward its limits cross, 17 N·m and 16 N·m; want more places
	// true printed torque "1820 to 1840 ft-lb (2712 to 2740 N·m)": 1840 ft-lb is 2494.7 N·m, not 2740 N·m: apart by 244.12 N·m; want the right limit from whoever wrote the sheet
	// true wrench "0 N·m to 0 N·m in steps of 0 N·m": its step is zero or less; want a step above zero
	// true lever "unknown length, adapter of 4 in at 0°": the lever can't be worked out; want the distance from the middle of the grip to the drive; strap and chain wrenches have none that holds still
	// true torque band "145 to 190 in-lb": the wrench covers 80 N·m to 400 N·m in steps of 5 N·m; want a dial value between 17.07 N·m and 20.60 N·m
	// true wrench "W-3": no calibration date; want a calibration that covers the job
	// true torque reading "170 in-lb": no decision rule; want SimpleAcceptance, GuardedByU, Guarded95 or NonBinary, as agreed beforehand
	// true true 17.07 N·m to 20.60 N·m
}
