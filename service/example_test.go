package service_test

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

// An invented job.
func invented() []byte {
	text, err := os.ReadFile("testdata/bench.json")
	if err != nil {
		panic(err)
	}
	return text
}

// A job file in; what the technician needs, out.
func ExampleNewPlan() {
	job, err := service.ReadJob(invented())
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := service.NewPlan(job, service.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	bowl, canister := plan.Stations[0], plan.Stations[1]
	fmt.Println("sheet:   ", bowl.Torque.Stated)
	fmt.Println("wrench:  ", bowl.Torque.Wrench)
	fmt.Println("turn:    ", canister.Turn.Instruction)
	fmt.Println("at index:", canister.Turn.Marks[0].From, "then", canister.Turn.Marks[0].Aim)
	fmt.Println("cycles:  ", plan.Prime.Cycles)
	for _, f := range plan.Findings {
		fmt.Println(f.Level, f.Code, "from", f.Where)
	}
	// Output:
	// sheet:    150 to 230 in-lb
	// wrench:   16.95 to 25.98 N·m
	// turn:     3/4 turn after gasket contact
	// at index: S then W
	// cycles:   3 (2 to 4)
	// STOP fuel.above-flash-point from fuel.caughtAt
	// STOP fuel.above-flash-point from fuel.measuredAt
	// CAUTION turn.without-tolerance from stations[1].tighten.turn
}

// The sheet is plain text of 80 columns; here is how the bowl is tightened.
func ExamplePlan_Text() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	_, part, _ := strings.Cut(sheet.English().Sheet(plan, false).Text(), "TIGHTEN")
	part, _, _ = strings.Cut(part, "DONE")
	fmt.Print("TIGHTEN", part)
	// Output:
	// TIGHTEN
	//    >>> CLOCKWISE
	//        seen facing the closed end
	//    >>> 16.95 to 25.98 N·m
	//    [ ] straight on, no adapter, no strap; pull once to the click
	//        Aim for 21.46 N·m: the wrench's error comes off each end.
	//          wrench __________ read ______ N·m U ______
	//    !!  CLICK, BUT A GAP? Stop. Take it off, look at thread and seal.
	//          gap closed [ ] yes [ ] no
}

// Everything that is wrong comes at once, each with its place and what would do.
func ExampleReadJob() {
	text := strings.NewReplacer(
		`"150 to 230 in-lb"`, `"230 to 150 in-lb"`,
		`"panHolds": "10 L"`, `"panHolds": "2 gal"`,
		`"840 kg/m³"`, `"84 kg/m³"`,
	).Replace(string(invented()))
	_, err := service.ReadJob([]byte(text))
	var all service.JobErrors
	if errors.As(err, &all) {
		for _, one := range all {
			fmt.Println(one.Path)
		}
	}
	// Output:
	// shop.panHolds
	// stations[0].tighten.torque
	// fuel.density
}

// A job made in Go is checked like one that was read.
func ExampleJob_Check() {
	job, _ := service.ReadJob(invented())
	job.Stations[1].Tighten.Marks.AtContact = "F"
	fmt.Println(job.Check() != nil)
	// Output: true
}

// A sheet for another country: its units, and its decimal mark in what people read.
func ExampleJob_PrintIn() {
	job, _ := service.ReadJob(invented())
	for _, unit := range []string{"US gal", "N·m"} {
		if err := job.PrintIn(unit); err != nil {
			fmt.Println(err)
		}
	}
	job.Preferences.DecimalComma = true
	plan, _ := service.NewPlan(job, service.Rules{})
	pages := sheet.English().Sheet(plan, true).Pages
	for _, item := range pages[len(pages)-1].Sections[0].Items {
		if item.Code == "drain.fuel" {
			fmt.Println(item.Words)
			fmt.Println(item.Values.Get("volume"))
		}
	}
	fmt.Println(job.PrintIn("gal"))
	// Output:
	// Fuel out, low / best / high: 0,39 / 0,40 / 0,40 US gal, rounded from 1,5 L (measured).
	// 1.5 L (1.5 L to 1.5 L, measured)
	// volume unit "gal": "gal" doesn't say whose gallon; it could be US gal or imp gal
}

// The small values of a job file read and write the words that stand in it.
func ExampleKind() {
	var kind service.Kind
	var side service.Side
	var fill service.Fit
	var time drain.Duration
	var adapter service.AdapterKind
	fmt.Println(kind.UnmarshalText([]byte("screw-on bowl")), side.UnmarshalText([]byte("suction")), fill.UnmarshalText([]byte("dry")),
		time.UnmarshalText([]byte("2.5 min")), adapter.UnmarshalText([]byte("strap wrench")))
	fmt.Println(kind.String(), side.String(), fill.String(), time.String(), adapter.String())
	for _, marshal := range []func() ([]byte, error){kind.MarshalText, side.MarshalText, fill.MarshalText, time.MarshalText, adapter.MarshalText} {
		text, err := marshal()
		fmt.Println(string(text), err)
	}
	// Output:
	// <nil> <nil> <nil> <nil> <nil>
	// screw-on bowl suction dry 2 min 30 s strap wrench
	// screw-on bowl <nil>
	// suction <nil>
	// dry <nil>
	// 2min30s <nil>
	// strap wrench <nil>
}

// What comes back, in which order, and what comes back early.
func ExampleLedger() {
	job, err := service.ReadJob(invented())
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := service.NewPlan(job, service.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var ledger service.Isolations = plan.Isolation
	for _, step := range ledger.Out {
		fmt.Println("out: ", step.Letter, step.What)
	}
	for _, step := range ledger.Priming {
		fmt.Println("back for priming:", step.Letter, step.What)
	}
	for _, step := range ledger.Back {
		fmt.Println("back:", step.Letter, step.What)
	}
	// Output:
	// out:  A automatic start
	// out:  B battery
	// back for priming: B battery
	// back: B battery
	// back: A automatic start
}

// A program that speaks another language goes by the path and the code.
func ExampleJobError_Code() {
	_, err := service.ReadRules([]byte(`{"version": 1, "name": "shop rules", "torque": "guarded by luck", "eye": "15", "cuont": "1/4 turn"}`))
	var all service.JobErrors
	errors.As(err, &all)
	for _, one := range all {
		fmt.Println(one.Path, one.Code())
	}
	// Output:
	// torque syntax
	// eye no-unit
	// count missing-field
	// cuont unknown-field
}
