package sheet_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/turn"
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

// A turn by itself, for a file or a page.
func ExampleDrawTurn() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	in := turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact")
	svg, err := sheet.DrawTurn(ring, turn.Position{Mark: "2"}, in, turn.RightHand, turn.FacingClosedEnd)
	_, rest, _ := strings.Cut(string(svg), "<desc>")
	words, _, _ := strings.Cut(rest, " Too far")
	fmt.Println(words, err)
	// Output:
	// Tighten 2/3 to 5/6 turn after gasket contact, clockwise facing the closed end. Rings with the index at the top. From contact the canister turns clockwise by 3/4 turn, and never by more than 5/6 turn, to 3 at the index. <nil>
}

func invented() []byte {
	text, err := os.ReadFile("../testdata/bench.json")
	if err != nil {
		panic(err)
	}
	return text
}
