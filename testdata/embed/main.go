// Embedding is somebody else's program: a shop's parts list keeps quantities in its own records,
// reads them from JSON and asks each package of the library one thing. The figures are invented.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// part is a record of the program's own.
type part struct {
	Name   string       `json:"name"`
	Torque units.Torque `json:"torque"`
	Holds  units.Volume `json:"holds"`
}

func main() {
	for _, show := range []func() error{quantities, tightening, turning, draining, refusing} {
		if err := show(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

func quantities() error {
	var parts []part
	if err := json.Unmarshal([]byte(`[
		{"name": "bowl (invented)", "torque": {"value": "145", "unit": "in-lb"}, "holds": "0.50 L"},
		{"name": "lid (invented)", "torque": "25.0 N·m", "holds": "1.2 US qt"}
	]`), &parts); err != nil {
		return err
	}
	for _, p := range parts {
		fmt.Println(p.Name, p.Torque, p.Torque.RoundIn(units.NewtonMetre, 2, units.ToNearestEven), p.Holds)
	}
	fmt.Println("tighter:", units.Max(parts[0].Torque, parts[1].Torque))
	return nil
}

func tightening() error {
	band, err := torque.ParseBand("145 to 190 in-lb")
	if err != nil {
		return err
	}
	inward, err := band.Inward(units.NewtonMetre, 2)
	if err != nil {
		return err
	}
	fmt.Println(band, "is", inward)
	return nil
}

func turning() error {
	ring, err := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	if err != nil {
		return err
	}
	contact, err := ring.At("2")
	if err != nil {
		return err
	}
	end, err := ring.Tighten(contact, turn.MustParse("2/3 turn"), turn.RightHand)
	if err != nil {
		return err
	}
	fmt.Println("2/3 turn from 2 ends at", end.Mark)
	return nil
}

func draining() error {
	fuel, err := drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.MustParseTemperature("15 °C"))
	if err != nil {
		return err
	}
	mass, err := fuel.Mass(units.MustParseVolume("1.5 L"), units.MustParseTemperature("60 °C"))
	if err != nil {
		return err
	}
	fmt.Println("1.5 L at 60 °C is", mass.RoundIn(units.Kilogram, 3, units.ToNearestEven))
	fmt.Println("two days after 27 February 2026:", waste.MustParseDate("2026-02-27").AddDays(2))
	return nil
}

// refusing looks into errors as a program does that has wrapped them.
func refusing() error {
	_, err := units.ParseVolume("5 gal")
	var parse *units.ParseError
	if !errors.As(fmt.Errorf("reading the list: %w", err), &parse) || !errors.Is(err, units.ErrAmbiguous) {
		return fmt.Errorf("5 gal: %v", err)
	}
	fmt.Printf("5 gal could be %q\n", parse.Candidates)

	_, err = service.ReadJob([]byte(`{"version": 1, "colour": "red"}`))
	var all service.JobErrors
	if !errors.As(err, &all) || !slices.ContainsFunc(all, func(e *service.JobError) bool { return e.Path == "colour" && e.Code() == "unknown-field" }) {
		return fmt.Errorf("a job with a colour: %v", err)
	}
	fmt.Println("a job with a colour is refused")
	return nil
}
