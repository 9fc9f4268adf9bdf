package service_test

import (
	"fmt"

	"example.com/snugturn/service"
)

func ExampleFillPart_UnmarshalText() {
	var part service.FillPart
	fmt.Println(part.UnmarshalText([]byte("two thirds of the canister")), part)
	fmt.Println(part.UnmarshalText([]byte("3/2")))
	fmt.Println(part)
	// Output:
	// <nil> 2/3 of the canister
	// part to fill "3/2": nothing, or more than all; want more than zero and no more than all, such as "50 %", "2/3" or "half of the bowl"
	// 2/3 of the canister
}
