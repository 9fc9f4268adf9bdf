package service_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"example.com/snugturn/service"
)

// What is written down and kept has a schema each, for editors and for programs that write it.
func ExampleSchemas() {
	schemas := service.Schemas()
	for _, name := range slices.Sorted(maps.Keys(schemas)) {
		var s struct {
			Schema string `json:"$schema"`
			Title  string
		}
		fmt.Println(name, json.Unmarshal(schemas[name], &s), s.Schema, s.Title)
	}
	// Output:
	// asDone <nil> https://json-schema.org/draft/2020-12/schema AsDone
	// job <nil> https://json-schema.org/draft/2020-12/schema Job
	// machine <nil> https://json-schema.org/draft/2020-12/schema JobPart
	// record <nil> https://json-schema.org/draft/2020-12/schema Record
	// rules <nil> https://json-schema.org/draft/2020-12/schema Rules
}

// A program that shows a review in words of its own has a list of what it may meet.
func ExampleCodes() {
	var codes map[string]map[string]struct{ Means, Values map[string]string }
	err := json.Unmarshal(service.Codes(), &codes)
	code := codes["reason"]["why.count"]
	fmt.Println(err, code.Means["unknown"], code.Values)
	// Output:
	// <nil> How many it takes is unknown: the job doesn't state {unknown}. map[unknown:list of text]
}
