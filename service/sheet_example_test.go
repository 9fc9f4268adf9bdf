package service_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"example.com/snugturn/service"
)

// One model, three readers. A program goes by codes and values; words are for people.
func ExamplePlan_Sheet() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	sheet := plan.Sheet()
	for _, section := range sheet.Sections {
		for _, item := range section.Items {
			if item.Code == "torque.tighten" || item.Code == "turn.further" {
				fmt.Printf("%s %s | %s | %s\n", section.Code, section.Station, item.Code, item.Words)
			}
			if item.Kind == service.Grid.String() {
				var table service.Table = *item.Table
				for i, head := range table.Heads {
					fmt.Println(" ", head, table.Columns[0][i])
				}
			}
		}
	}
	page, err := sheet.HTML()
	fmt.Println("page:", bytes.HasPrefix(page, []byte("<!DOCTYPE html>")), err)
	data, err := sheet.JSON()
	fmt.Println("json:", bytes.HasPrefix(data, []byte("{")), err)
	fmt.Println("text:", sheet.Text() == plan.Text())
	// Output:
	// station 1 | torque.tighten | tighten: 16.95 to 25.98 N·m
	// station 2 | turn.further | then further: 3/4 turn after gasket contact (270°)
	//   contact at S
	//   stop at W
	// page: true <nil>
	// json: true <nil>
	// text: true
}

// A server sends it with the page: nothing is loaded, nothing runs.
func ExampleSheetPolicy() {
	policy, _, _ := strings.Cut(service.SheetPolicy(), " 'sha256-")
	fmt.Println(policy)
	// Output: default-src 'none'; style-src
}

// What is written down, kept and shown has a schema each.
func ExampleAsDoneSchema() {
	for _, schema := range [][]byte{service.MachineSchema(), service.AsDoneSchema(), service.RecordSchema(), service.SheetSchema()} {
		var s struct{ Title string }
		fmt.Println(json.Unmarshal(schema, &s), s.Title)
	}
	// Output:
	// <nil> Machine card of a fuel-filter service, or a job laid over one
	// <nil> As-done readings of a fuel-filter service
	// <nil> Record of a fuel-filter service
	// <nil> Work sheet of a fuel-filter service
}

// The schema is for editors and for programs that write job files.
func ExampleJobSchema() {
	fmt.Println(bytes.Contains(service.JobSchema(), []byte(`"https://json-schema.org/draft/2020-12/schema"`)))
	// Output: true
}
