package usfederal_test

import (
	"errors"
	"fmt"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
)

// Everything here is invented: the shop and the masses.

// must is for examples: every figure in them is a constant.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func onScale(text string) drain.Estimate[units.MassUnit] {
	return must(drain.Exactly(units.MustParseMass(text), drain.Weighed))
}

func assumed(low, best, high string) drain.Estimate[units.MassUnit] {
	return must(drain.NewEstimate(units.MustParseMass(low), units.MustParseMass(best), units.MustParseMass(high), drain.Assumed))
}

// A line prints whole units; what it was rounded from stays next to it.
func ExampleNewManifestLine() {
	elements := waste.Batch{
		Description: "used fuel-filter elements, drained",
		Stream:      waste.DrainedElement,
		Containers:  []waste.Container{{ID: "drum 3"}},
		Mass:        assumed("40.4 kg", "41.6 kg", "43.2 kg"),
		Codes:       []string{"D018"},
	}
	fmt.Println(must(usfederal.NewManifestLine(elements, usfederal.MetalDrums, usfederal.Kilograms)))

	_, err := usfederal.NewManifestLine(elements, usfederal.MetalDrums, usfederal.Gallons)
	fmt.Println(err)
	// Output:
	// used fuel-filter elements, drained
	//   containers 1 DM (metal drums), quantity 42 K (kilograms)
	//   nearest whole unit to 41.6 kg (40.4 kg to 43.2 kg, assumed); a tie goes up
	//   waste codes: D018
	//   note: the estimate leaves room for 40 to 43 K
	// determination is the generator's; state and local rules may differ
	// manifest line: unit "G": for liquids only, and drained element is none; want K or P
}

// Something that prints as nothing.
func ExampleManifestLine() {
	rings := waste.Batch{Description: "O-rings", Stream: waste.Gaskets,
		Containers: []waste.Container{{}}, Mass: onScale("0.20 kg")}
	line := must(usfederal.NewManifestLine(rings, usfederal.Bags, usfederal.Kilograms))
	fmt.Println(line.Quantity, line.Unit, line.Zero)
	fmt.Println(line.Notes[0])

	rings.Mass = onScale("0.30 kg")
	fmt.Println(must(usfederal.NewManifestLine(rings, usfederal.Bags, usfederal.Kilograms)).Notes[0])
	// Output:
	// 0 K true
	// rounds to 0 although it isn't zero, and no finer unit exists: combine it with more of the same waste, or ask who takes it
	// rounds to 0 although it isn't zero: it would be 1 P
}

func ExampleManifestLine_String() {
	fuel := waste.Batch{Description: "drained diesel fuel", Stream: waste.DrainedFuel,
		Containers: []waste.Container{{Capacity: units.USGallon.Of(15)}},
		Volume:     must(drain.Exactly(units.USGallon.Of(15), drain.Assumed))}
	_, err := usfederal.NewManifestLine(fuel, usfederal.FiberDrums, usfederal.Gallons)
	fmt.Println(errors.Is(err, units.ErrRange), err)

	fuel.Volume = must(drain.Exactly(units.MustParseVolume("11.5 US gal"), drain.Measured))
	fmt.Println(must(usfederal.NewManifestLine(fuel, usfederal.FiberDrums, usfederal.Gallons)).String())
	// Output:
	// true batch: quantity "15 US gal": is the size of the containers, which is no estimate of the waste; want what is in them
	// drained diesel fuel
	//   containers 1 DF (fiberboard or plastic drums), quantity 12 G (gallons)
	//   nearest whole unit to 11.5 US gal (measured); a tie goes up
	//   waste codes: the generator's to give
	//   note: exactly between two whole units: a tie goes up
	// determination is the generator's; state and local rules may differ
}

func ExampleRuleSet() {
	for _, c := range usfederal.RuleSet().Categories {
		fmt.Println(c.Name, c.UpTo, c.Including, c.Open, c.Days, c.FarDays)
	}
	// Output:
	// VSQG 100 kg true false 0 0
	// SQG 1000 kg false false 180 270
	// LQG 0 kg false true 90 0
}

func ExampleContainerCode() {
	var c usfederal.ContainerCode
	fmt.Println(c.UnmarshalText([]byte("tp")), c.String(), string(must(c.MarshalText())))
	fmt.Println(c.UnmarshalText([]byte("drum")))
	// Output:
	// <nil> TP TP
	// container code "drum": unknown; want DM, DW, DF, TP, TT, TC, DT, CY, CM, CW, CF, BA or HG
}

func ExampleUnitCode() {
	for u := usfederal.Kilograms; u <= usfederal.Gallons; u++ {
		fmt.Println(u.String())
	}
	text := must(usfederal.Pounds.MarshalText())
	var back usfederal.UnitCode
	fmt.Println(string(text), back.UnmarshalText(text), back.String())
	// Output:
	// K
	// P
	// L
	// G
	// P <nil> P
}
