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
	// asDone <nil> https://json-schema.org/draft/2020-12/schema As-done readings of a fuel-filter service
	// job <nil> https://json-schema.org/draft/2020-12/schema Job file of a fuel-filter service
	// machine <nil> https://json-schema.org/draft/2020-12/schema Machine card of a fuel-filter service, or a job laid over one
	// record <nil> https://json-schema.org/draft/2020-12/schema Record of a fuel-filter service
}
