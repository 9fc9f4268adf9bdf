package sheet_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

// One model, three readers. A program goes by codes and values; words are for people.
func ExampleFor() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	laid := sheet.For(plan)
	for _, section := range laid.Sections {
		for _, item := range section.Items {
			if item.Code == "torque.tighten" || item.Code == "turn.further" {
				fmt.Printf("%s %s | %s | %s\n", section.Code, section.Station, item.Code, item.Words)
			}
			if item.Kind == service.Grid.String() {
				var table sheet.Table = *item.Table
				for i, head := range table.Heads {
					fmt.Println(" ", head, table.Columns[0][i])
				}
			}
		}
	}
	page, err := laid.HTML()
	fmt.Println("page:", bytes.HasPrefix(page, []byte("<!DOCTYPE html>")), err)
	data, err := laid.JSON()
	fmt.Println("json:", bytes.HasPrefix(data, []byte("{")), err)
	text, _, _ := strings.Cut(laid.Text(), " job ")
	fmt.Println("text:", strings.Trim(text, "=\n"))
	// Output:
	// station 1 | torque.tighten | tighten: 16.95 to 25.98 N·m
	// station 2 | turn.further | then further: 3/4 turn after gasket contact (270°)
	//   contact at S
	//   stop at W
	// page: true <nil>
	// json: true <nil>
	// text: FUEL FILTER SERVICE
}

// A server sends it with the page: nothing is loaded, nothing runs.
func ExamplePolicy() {
	policy, _, _ := strings.Cut(sheet.Policy(), " 'sha256-")
	fmt.Println(policy)
	// Output: default-src 'none'; style-src
}

// The schema is for programs that read the sheet's JSON.
func ExampleSchema() {
	var s struct{ Title string }
	fmt.Println(json.Unmarshal(sheet.Schema(), &s), s.Title)
	// Output: <nil> Work sheet of a fuel-filter service
}

func invented() []byte {
	text, err := os.ReadFile("../testdata/bench.json")
	if err != nil {
		panic(err)
	}
	return text
}
