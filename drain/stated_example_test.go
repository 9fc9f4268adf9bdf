package drain_test

import (
	"encoding/json"
	"fmt"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

func ExampleParseStatedDensity() {
	var note drain.StatedDensity
	note, err := drain.ParseStatedDensity("35.2 deg API")
	fmt.Println(note, note.At60F(), err)
	fmt.Println(note.Density().RoundIn(units.KilogramPerCubicMetre, 2, units.ToNearestEven))
	fuel, err := note.Fuel(units.Temperature{}) // degrees API are at 60 °F
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(fuel.Density())
	_, err = drain.ParseStatedDensity("0.845 relative")
	fmt.Println(err)
	// Output:
	// 35.2 °API true <nil>
	// 847.99 kg/m³
	// 847.994985002999400119976004799040 kg/m³ 60 °F
	// density "0.845 relative": doesn't say at which temperatures it is relative to water; it could be 60/60 °F or 15/4 °C or 20/4 °C; want "0.845 (60/60 °F)", or a density in kg/m³ with its temperature
}

func ExampleStateDensity() {
	stated := drain.StateDensity(units.MustParseDensity("0.84 kg/L"))
	text, err := json.Marshal(stated)
	fmt.Println(stated, string(text), err)
	// Output: 0.84 kg/L {"value":"0.84","unit":"kg/L"} <nil>
}
