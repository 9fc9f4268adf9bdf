// Embedding is somebody else's program: a shop's parts list keeps quantities in its own records,
// reads them from JSON and asks the library about them. The figures are invented.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"example.com/snugturn/units"
)

// part is a record of the program's own.
type part struct {
	Name   string       `json:"name"`
	Torque units.Torque `json:"torque"`
	Holds  units.Volume `json:"holds"`
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	var parts []part
	if err := json.Unmarshal([]byte(`[
		{"name": "bowl (invented)", "torque": {"value": "220", "unit": "in-lb"}, "holds": "0.50 L"},
		{"name": "lid (invented)", "torque": "25.0 N·m", "holds": "1.2 US qt"}
	]`), &parts); err != nil {
		return err
	}
	for _, p := range parts {
		fmt.Println(p.Name, p.Torque, p.Torque.RoundIn(units.NewtonMetre, 2, units.ToNearestEven), p.Holds)
	}
	fmt.Println("tighter:", units.Max(parts[0].Torque, parts[1].Torque))

	_, err := units.ParseVolume("5 gal")
	var parse *units.ParseError
	if !errors.As(fmt.Errorf("reading the list: %w", err), &parse) || !errors.Is(err, units.ErrAmbiguous) {
		return fmt.Errorf("5 gal: %v", err)
	}
	fmt.Println(parse)
	return nil
}
