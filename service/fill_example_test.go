package service_test

import (
	"fmt"

	"example.com/snugturn/service"
)

func ExampleParseFillPart() {
	part, err := service.ParseFillPart("two thirds of the canister")
	fmt.Println(part, err)
	var none service.FillPart
	none, err = service.ParseFillPart("3/2")
	fmt.Println(none.String() == part.String(), err)
	// Output:
	// 2/3 of the canister <nil>
	// false part to fill "3/2": nothing, or more than all; want more than zero and no more than all, such as "50 %", "2/3" or "half of the bowl"
}
