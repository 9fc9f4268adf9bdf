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
