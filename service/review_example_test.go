package service_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// file is a file of invented test data.
func file(name string) []byte {
	text, err := os.ReadFile("testdata/" + name)
	if err != nil {
		panic(err)
	}
	return text
}

func inventedReview() service.Review {
	job, _ := service.ReadJob(invented())
	rules, _ := service.ReadRules(file("rules.json"))
	plan, _ := service.NewPlan(job, rules)
	done, _ := service.ReadAsDone(file("asdone.json"))
	review, err := plan.Review(done)
	if err != nil {
		panic(err)
	}
	return review
}

// Readings in, verdicts out: what was not written down keeps the job open.
func ExamplePlan_Review() {
	job, _ := service.ReadJob(invented())
	rules, err := service.ReadRules(file("rules.json"))
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, _ := service.NewPlan(job, rules)
	text := strings.NewReplacer(
		`, "expanded": "1.2 N·m"`, ``, // nobody knows how good the wrench is
		`"seated": true,`, ``,
		`{"what": "battery", "restored": true},`, ``,
	).Replace(string(file("asdone.json")))
	done, err := service.ReadAsDone([]byte(text))
	if err != nil {
		fmt.Println(err)
		return
	}
	review, err := plan.Review(done)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("complete:", review.Complete)
	for _, line := range review.Open() {
		fmt.Println(line)
	}
	// Output:
	// complete: false
	// stations[0].torque: undecided: why.torque/no-uncertainty rule=guarded by U; want.torque band=150 to 230 in-lb
	// stations[0].seated: not recorded: why.not-recorded; want.seat
	// restored: not recorded: why.not-recorded; want.back what=battery
}

// What keeps no job open is told all the same.
func ExampleReview_Departures() {
	job, _ := service.ReadJob(invented())
	rules, _ := service.ReadRules(file("rules.json"))
	plan, _ := service.NewPlan(job, rules)
	done, _ := service.ReadAsDone([]byte(strings.Replace(string(file("asdone.json")), `"keyCycles": 3`, `"keyCycles": 1`, 1)))
	review, err := plan.Review(done)
	fmt.Println(review.Complete, review.AsPlanned, len(review.Open()), err)
	for _, line := range review.Departures() {
		fmt.Println(line)
	}
	// Output:
	// true false 0 <nil>
	// stations[0].out.at: fail: why.flash/above; want.flash margin=30 °F grade=No. 2-D flash=52 °C
	// stations[1].out.at: fail: why.flash/above; want.flash margin=30 °F grade=No. 2-D flash=52 °C
	// keyCycles: undecided: why.count/less; want.count least=2 most=4
	// weights: not recorded: why.not-recorded; want.mass waste=waste.name/element stream=wet element station=2 mass=0.980776576041 kg (0.900000000000 kg to 1.061553152083 kg, assumed)
}

// A line says what was found, what was wanted, and by which rule it was judged.
func ExampleLine() {
	for _, line := range inventedReview().Lines[:3] {
		fmt.Printf("%s: found %s, want %s: %v [%s]\n", line.Code, line.Found.String(), line.Want.String(), line.Verdict, strings.Join(line.Sources, "; "))
	}
	// Output:
	// run-up: found found.run-up/no, want want.run-up: pass [common-practice]
	// torque: found found.torque torque=21 N·m U=1.2 N·m k=2 wrench=W-1, want want.torque band=150 to 230 in-lb: pass [ILAC-G8:09/2019, 4.2.2, w = U]
	// seat: found found.seat/closed, want want.seat: seated [common-practice]
}

// Every error in the readings comes at once, each with its place.
func ExampleReadAsDone() {
	text := strings.NewReplacer(`"21 N·m"`, `"21"`, `"expanded": "1.2 N·m"`, `"expanded": "0 N·m"`).Replace(string(file("asdone.json")))
	_, err := service.ReadAsDone([]byte(text))
	fmt.Println(err)
	// Output:
	// stations[0].torque.value: torque "21" at byte 2: no unit; want a unit such as N·m, in-lb, ft-lb
	// stations[0].torque.expanded: 0 N·m; want more than zero, or the field omitted
}

// Readings may be put together in Go as well.
func ExampleAsDone_Check() {
	yes, no, cycles, passes := true, false, 3, 0
	u := units.MustParse[units.TorqueUnit]("1.2 N·m")
	past := turn.MustOf(1, 48)
	litre, _ := drain.Exactly(units.Litre.Of(1), drain.Measured)
	weighed, _ := drain.Exactly(units.Kilogram.Of(2), drain.Weighed)
	done := service.AsDone{
		Version: service.AsDoneVersion, Job: "T-1", Revision: 1, Date: waste.Date{Year: 2026, Month: 3, Day: 9}, By: "invented", Source: "invented",
		Stations: []service.StationDone{
			{ID: "1", Dragged: &no, Seated: &yes, Leaks: service.LeakCheck{Priming: &no, Hot: &no},
				Torque: &service.TorqueReading{Value: units.MustParse[units.TorqueUnit]("21 N·m"), Tool: "W-1", Expanded: u},
				Out:    &service.VolumeTaken{Volume: litre, At: units.MustParseTemperature("20 °C")}},
			{ID: "2", Dragged: &no,
				Marks: &service.MarksSeen{Before: service.MarkSeen{Mark: "S"}, After: service.MarkSeen{Mark: "W", Past: &past}, Passes: &passes}},
		},
		KeyCycles: &cycles,
		Cranks:    []service.CrankDone{{Crank: drain.Duration(8e9)}},
		Weights:   []service.Weight{{Stream: waste.DrainedFuel, Scale: weighed}},
		Restored:  []service.Restored{{What: "battery", Restored: true}},
	}
	fmt.Println(done.Check())
	fmt.Println(done.Stations[0].Torque.Value)
	fmt.Println(done.Stations[1].Marks.After)
	done.Weights[0].Mass = weighed
	fmt.Println(done.Check())
	// Output:
	// <nil>
	// 21 N·m
	// 1/48 turn past W
	// weights[0]: both or neither of mass and scale; want one of them: a scale in air shows less than the mass
}

// Rules are agreed on before anything is judged; none has a default.
func ExampleRules_Check() {
	rules := service.Rules{Version: service.RulesVersion, Name: "invented shop rules", Torque: torque.GuardedByU, Eye: turn.MustOf(1, 24), Count: turn.MustOf(1, 4)}
	fmt.Println(rules.Check())
	rules.Eye = turn.Turn{}
	fmt.Println(rules.Check())
	// Output:
	// <nil>
	// eye: 0 turns; want above zero and below half a turn: an eye that is never out isn't known
}

// Rules go out as they come in.
func ExampleReadRules() {
	rules, err := service.ReadRules([]byte(`{"version": 1, "name": "invented", "torque": "non-binary", "eye": "15°", "count": "1/4 turn"}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	text, _ := json.Marshal(rules)
	fmt.Println(string(text))
	rules.Turn = &service.TurnTolerance{Less: turn.MustOf(1, 12), More: turn.MustOf(1, 12), Source: "the shop"}
	fmt.Println(rules.Name, rules.Turn.More)
	// Output:
	// {"version":1,"name":"invented","torque":"non-binary","eye":"1/24 turn","count":"1/4 turn"}
	// invented 1/12 turn
}

// A month counted by a state's own rules: the record holds them whole, and is judged again by them
// and not by what the library knows under any name.
func ExampleNewPlan_rules() {
	state, err := usfederal.RuleSet().Derive("Invented State", waste.MustParseDate("2026-12-01"))
	if err != nil {
		fmt.Println(err)
		return
	}
	state.Categories[0].UpTo = units.Kilogram.Of(50)
	state.Categories[0].Source = waste.Source{Cite: "invented", Grade: "M"}

	month := `"waste": {"month": {"rules": "Invented State", "soFar": {"low": "49 kg", "best": "49 kg", "high": "49 kg", "from": "weighed"}},`
	job, err := service.ReadJob([]byte(strings.Replace(string(invented()), `"waste": {`, month, 1)), state)
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, _ := service.NewPlan(job, inventedReview().Rules, state)
	for _, f := range plan.Findings {
		if f.Code == "month.category" {
			fmt.Println(f.Values.Get("before"), "to", f.Values.Get("after"), "by the rules named", f.Values.Get("rules"))
		}
	}
	review, _ := plan.Review(inventedReview().Done)
	text, _ := review.Record()
	record, err := service.ReadRecord(text)
	fmt.Println(record.WasteRules.Name, record.WasteRules.Categories[0].UpTo, err)
	// Output:
	// VSQG to SQG by the rules named Invented State
	// Invented State 50 kg <nil>
}

// The totals go into the month's ledger, each with what it rests on.
func ExampleReview_Entries() {
	review := inventedReview()
	for _, total := range review.Totals {
		fmt.Printf("%d %v: %v (%v)\n", total.Line, total.Stream, total.Mass.Best.RoundIn(units.Kilogram, 2, units.ToNearestEven), total.Basis)
	}
	var ledger waste.Ledger
	for _, entry := range review.Entries() {
		entry.Determination = waste.Hazardous // its generator's, not this package's
		posting := waste.Posting{At: time.Date(2026, 3, 9, 17, 0, 0, 0, time.UTC), By: "Ann", Entry: &entry}
		if _, err := ledger.Add(posting); err != nil {
			fmt.Println(err)
		}
	}
	month, _ := ledger.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet())
	fmt.Println(month.Hazardous.Best.RoundIn(units.Kilogram, 2, units.ToNearestEven), "this month:", month.Lowest)
	// Output:
	// 1 drained fuel: 1.82 kg (scale, corrected)
	// 2 wet element: 0.28 kg (mass)
	// 3 wet element: 0.98 kg (planned)
	// 3.08 kg this month: VSQG
}

// Verdicts and bases are words in JSON.
func ExampleVerdict() {
	text, _ := json.Marshal([]any{service.NotRecorded, service.ByVolume})
	fmt.Println(string(text))
	var verdict service.Verdict
	var basis service.Basis
	fmt.Println(json.Unmarshal([]byte(`"seated"`), &verdict), verdict)
	fmt.Println(json.Unmarshal([]byte(`"partly planned"`), &basis), basis)
	fmt.Println(verdict.UnmarshalText([]byte("fine")))
	// Output:
	// ["not recorded","volume"]
	// <nil> seated
	// <nil> partly planned
	// verdict "fine": unknown; want pass, seated, undecided, not recorded, fail or unchanged
}

// A program asks for what a review will want.
func ExamplePlan_Wants() {
	job, _ := service.ReadJob(file("bench.json"))
	rules, _ := service.ReadRules(file("rules.json"))
	plan, _ := service.NewPlan(job, rules)
	for _, want := range plan.Wants()[:3] {
		fmt.Println(want.Where, want.Code, want.Needed, want.Want.String())
	}
	// Output:
	// stations[0].dragged run-up true want.run-up
	// stations[0].torque torque true want.torque band=150 to 230 in-lb
	// stations[0].seated seat true want.seat
}

// What the rules need is asked for and nothing else. One figure off a jug is as good as the jug.
func ExampleNeeds() {
	job, _ := service.ReadJob(invented())
	rules, _ := service.ReadRules(file("rules.json"))
	rules.Needs = service.Needs{Meter: true, Batch: true}
	plan, _ := service.NewPlan(job, rules)
	done, _ := service.ReadAsDone(file("asdone.json"))
	hours := 4512
	done.Meter = service.Meter{Hours: &hours}
	done.Stations[0].Fitted = service.Fitted{Part: "element", Batch: "B-17"}
	done.Stations[1].Out = &service.VolumeTaken{Read: units.MustParseVolume("0.75 L"), Deviation: units.MustParseVolume("20 mL"), At: units.MustParseTemperature("60 °C")}
	review, err := plan.Review(done)
	fmt.Println(review.Open(), err)
	// Output:
	// [stations[1].fitted.batch: not recorded: why.not-recorded; want.paper/batch] <nil>
}
