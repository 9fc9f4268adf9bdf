package europe_test

import (
	"fmt"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
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

func ExampleConsign() {
	pads := waste.Batch{Description: "oily pads", Stream: waste.Absorbents,
		Containers: []waste.Container{{}, {}}, Mass: onScale("3.149 kg"), Codes: []string{"15 02 02*"}}
	fmt.Println(must(europe.Consign(pads, "bags", 1)).String())
	// Output:
	// oily pads
	//   2 × bags, 3.1 kg, nearest to 3.149 kg (weighed); a tie goes up
	//   codes: 15 02 02*
	// determination is the generator's; state and local rules may differ
}

func ExampleRuleSet() {
	rules := europe.RuleSet()
	for _, c := range must(rules.Ask(waste.DrainedElement)).Candidates {
		fmt.Println(c.Code, c.Title)
	}
	// Output:
	// 15 02 02* contaminated absorbents, filter materials, cloths, clothing
	// 16 01 07* oil filters
	// 16 01 21* hazardous components other than those of 16 01 07 to 16 01 11, 16 01 13 and 16 01 14
}

// Something that prints as nothing: more places show it.
func ExampleConsignment() {
	rings := waste.Batch{Description: "O-rings", Stream: waste.Gaskets, Containers: []waste.Container{{}}, Mass: onScale("0.2 kg")}
	fmt.Println(must(europe.Consign(rings, "bag", 0)).Zero, must(europe.Consign(rings, "bag", 1)).Kilograms)
	_, err := europe.Consign(rings, "bag", 4)
	fmt.Println(err)
	// Output:
	// true 0.2 kg
	// consignment: places "4": too few or too many; want 0 to 3
}
