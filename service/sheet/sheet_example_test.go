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
	"example.com/snugturn/units"
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

// Where the numbers come from is on a page more.
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
	// Tighten 2/3 to 5/6 turn after gasket contact, clockwise facing the closed end. The ring as it looks when the turn is done, the index at the top. From contact the canister turns clockwise by 3/4 turn. At contact 2 is at the index; in the end 4 is past it and 3 not yet there. No less than 2/3 turn, never more than 5/6 turn. <nil>
}

// What keeps no job open is said all the same.
func ExampleWords_Review() {
	job, _ := service.ReadJob(invented())
	rules, _ := service.ReadRules(file("rules.json"))
	plan, _ := service.NewPlan(job, rules)
	done, _ := service.ReadAsDone([]byte(strings.Replace(string(file("asdone.json")), `"keyCycles": 3`, `"keyCycles": 1`, 1)))
	review, err := plan.Review(done)
	fmt.Println(review.Complete, review.AsPlanned, err)
	fmt.Print(sheet.English().Review(review))
	fmt.Println(sheet.English().Say(review.Departures()[2].Want))
	// Output:
	// true false <nil>
	// Job T-1, revision 1, done 2026-03-09: complete, NOT AS PLANNED
	// These are not as planned:
	//    -   stations[0].out.at: fail: At its least flash point or above: it gave off
	//        vapour that a spark lights. Close it, keep sparks and hot surfaces away,
	//        ventilate, and let it cool. Find out why it was caught so hot.
	//        found: 60 °C; wanted: more than 30 °F (16.7 °C) below the least flash
	//        point of No. 2-D, 52 °C
	//    -   stations[1].out.at: fail: At its least flash point or above: it gave off
	//        vapour that a spark lights. Close it, keep sparks and hot surfaces away,
	//        ventilate, and let it cool. Find out why it was caught so hot.
	//        found: 60 °C; wanted: more than 30 °F (16.7 °C) below the least flash
	//        point of No. 2-D, 52 °C
	//    -   keyCycles: undecided: Fewer than it takes to fill the system even in the
	//        best case: air may be left.
	//        found: 1; wanted: 2 to 4
	//    -   weights: not recorded: It is not in the readings.
	//        wanted: used element of station 2, wet: mass 0.900 / 0.981 / 1.062 kg,
	//        rounded from 0.98077657… kg (assumed); rounded from that,
	//        1.98 / 2.16 / 2.35 lb
	// 2 to 4
}

// A tag with a region is that of its language; a language that isn't there is refused with those that are.
func ExampleIn() {
	words, err := sheet.In("en-GB")
	fmt.Println(words.Say(turn.MustParse("1 1/4 turns")), err)
	_, err = sheet.In("qaa")
	fmt.Println(err)
	// Output:
	// 1 + 1/4 turns <nil>
	// language "qaa": no words in it; want en or es
}

// A program has sentences of its own, in the same form.
func ExampleWords_With() {
	words, err := sheet.English().With(`
language: en
plural: one-other

drum.full: Drum {drum} is full: {count} {count|filter|filters} in it, {mass}.
`)
	fmt.Println(err)
	fmt.Println(words.Say(service.Message{Code: "drum.full", Values: service.Values{
		{Name: "drum", Value: "D-2"}, {Name: "count", Value: 1}, {Name: "mass", Value: units.MustParseMass("0.8 kg")}}}))
	// Output:
	// <nil>
	// Drum D-2 is full: 1 filter in it, 0.8 kg.
}

func invented() []byte { return file("bench.json") }

func file(name string) []byte {
	text, err := os.ReadFile("../testdata/" + name)
	if err != nil {
		panic(err)
	}
	return text
}
