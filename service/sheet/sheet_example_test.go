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
func ExampleEnglish() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	laid := sheet.English().Sheet(plan, false)
	for _, page := range laid.Pages {
		for _, part := range page.Sections {
			for _, item := range part.Items {
				if item.Kind == service.Figure.String() {
					fmt.Printf("%d %s %s | %s %s\n", page.Number, page.Code, page.Station, item.Code, item.Words)
				}
			}
		}
	}
	page, err := laid.HTML()
	fmt.Println("page:", bytes.HasPrefix(page, []byte("<!DOCTYPE html>")), err)
	data, err := laid.JSON()
	fmt.Println("json:", bytes.HasPrefix(data, []byte("{")), err)
	text, _, _ := strings.Cut(laid.Text(), "job ")
	fmt.Println("text:", strings.Trim(text, "=\n"))
	// Output:
	// 2 card 1 | turn.sense CLOCKWISE
	// 2 card 1 | torque.tighten 16.95 to 25.98 N·m
	// 3 card 2 | turn.sense CLOCKWISE
	// 3 card 2 | turn.further W
	// page: true <nil>
	// json: true <nil>
	// text: BEFORE YOU START
}

// Where the numbers come from stands on a page more.
func ExampleSheet() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	pages := sheet.English().Sheet(plan, true).Pages
	var last sheet.Page = pages[len(pages)-1]
	var part sheet.Section = last.Sections[0]
	fmt.Println(len(pages), last.Title)
	fmt.Println(part.Title)
	fmt.Println(part.Items[0].Words)
	fmt.Println(strings.Contains(sheet.English().Sheet(plan, false).Text(), "°C"), strings.Contains(sheet.English().Sheet(plan, false).ASCII(), "degC"))
	// Output:
	// 6 Where the numbers come from
	// Station 1: bowl
	// Fuel out, low / best / high: 1.5 / 1.5 / 1.5 L (measured); rounded from that, 0.39 / 0.40 / 0.40 US gal.
	// true true
}

// Where nothing is known of contact before, a card has a table of all there may be.
func ExampleTable() {
	plan, _ := service.NewPlan(read("../../examples/servicesheet/demo.json"), service.Rules{})
	for _, part := range sheet.English().Sheet(plan, false).Pages[2].Sections {
		for _, item := range part.Items {
			if item.Table != nil {
				var table sheet.Table = *item.Table
				fmt.Println(table.Heads[1], table.Columns[0][1])
			}
		}
	}
	// Output: stop at 4 and 3
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
	// Output: <nil> Sheet
}

// A turn by itself, for a file or a page.
func ExampleWords_DrawTurn() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	in := turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact")
	svg, err := sheet.English().DrawTurn(ring, turn.Position{Mark: "2"}, in, turn.RightHand, turn.FacingClosedEnd)
	_, rest, _ := strings.Cut(string(svg), "<desc>")
	words, _, _ := strings.Cut(rest, " Too far")
	fmt.Println(words, err)
	// Output:
	// Tighten 2/3 to 5/6 turn after gasket contact, clockwise facing the closed end. A ring with the index at the top. From contact the canister turns clockwise by 3/4 turn. No less than 2/3 turn, never more than 5/6 turn. <nil>
}

func invented() []byte {
	text, err := os.ReadFile("../testdata/bench.json")
	if err != nil {
		panic(err)
	}
	return text
}
