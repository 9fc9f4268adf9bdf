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
	// adapter 4 in at 0°
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
	case p.Ring != nil:
		var ring sheet.RingPicture = *p.Ring
		fmt.Println("ring", ring.View, "turning", ring.Sense)
		var first sheet.RingMark = ring.Marks[0]
		fmt.Println("  stop after", ring.Aim, "with the mark", first.Label, first.At, "clockwise from the index")
	case p.Adapter != nil:
		fmt.Println("adapter", p.Adapter.Offset, "at", p.Adapter.Angle)
	}
}
