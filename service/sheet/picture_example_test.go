package sheet_test

import (
	"fmt"
	"os"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

// What a program needs to draw the sheet's pictures itself.
func ExamplePicture() {
	for _, job := range []service.Job{read("../testdata/bench.json"), read("../testdata/jobs/cover-and-cap.json")} {
		plan, err := service.NewPlan(job, service.Rules{})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, page := range sheet.English().Sheet(plan, true).Pages {
			for _, part := range page.Sections {
				for _, item := range part.Items {
					if item.Kind == service.Drawing.String() {
						show(*item.Picture)
					}
				}
			}
		}
	}
	// Output:
	// ring facing the closed end turning clockwise
	//   stop after 3/4 turn with the mark S 3/4 turn clockwise from the index
	// band 16.95 N·m to 25.98 N·m
	// adapter 4 in at 0°
	// stages from the head side turning counterclockwise
	//   the line after 1/8 turn
	//   the line after 1/4 turn
	//   the line after 3/8 turn
	//   the line after 11/24 turn
	// band 0 ft-lb to 18 ft-lb
	//   set 16.5 ft-lb delivers 15.840 ft-lb to 17.188 ft-lb
}

func read(file string) service.Job {
	text, err := os.ReadFile(file)
	if err != nil {
		panic(err)
	}
	job, err := service.ReadJob(text)
	if err != nil {
		panic(err)
	}
	return job
}

func show(p sheet.Picture) {
	switch {
	case p.Band != nil:
		var band sheet.BandPicture = *p.Band
		fmt.Println("band", band.Low, "to", band.High)
		if band.Set != nil {
			fmt.Println("  set", *band.Set, "delivers", *band.Least, "to", *band.Most)
		}
	case p.Ring != nil:
		var ring sheet.RingPicture = *p.Ring
		fmt.Println("ring", ring.View, "turning", ring.Sense)
		var first sheet.RingMark = ring.Marks[0]
		fmt.Println("  stop after", ring.Aim, "with the mark", first.Label, first.At, "clockwise from the index")
	case p.Adapter != nil:
		fmt.Println("adapter", p.Adapter.Offset, "at", p.Adapter.Angle)
	case p.Stages != nil:
		var stages sheet.StagesPicture = *p.Stages
		fmt.Println("stages", stages.View, "turning", stages.Sense)
		for _, stage := range stages.Stages {
			var mark sheet.RingMark = stage
			fmt.Println("  the line after", mark.Turned)
		}
	}
}
