package service_test

import (
	"bytes"
	"encoding/json"
	"fmt"

	"example.com/snugturn/service"
)

// What is written down, kept and shown has a schema each.
func ExampleAsDoneSchema() {
	for _, schema := range [][]byte{service.MachineSchema(), service.AsDoneSchema(), service.RecordSchema()} {
		var s struct{ Title string }
		fmt.Println(json.Unmarshal(schema, &s), s.Title)
	}
	// Output:
	// <nil> Machine card of a fuel-filter service, or a job laid over one
	// <nil> As-done readings of a fuel-filter service
	// <nil> Record of a fuel-filter service
}

// The schema is for editors and for programs that write job files.
func ExampleJobSchema() {
	fmt.Println(bytes.Contains(service.JobSchema(), []byte(`"https://json-schema.org/draft/2020-12/schema"`)))
	// Output: true
}
