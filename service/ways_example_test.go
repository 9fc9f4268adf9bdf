package service_test

import (
	"fmt"

	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
)

// Torque then angle: what to set, where the line stands after each stage, and what will pass.
func ExampleSequencePlan() {
	job, _ := service.ReadJob(file("jobs/cover-and-cap.json"))
	plan, err := service.NewPlan(job, service.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var s *service.SequencePlan = plan.Stations[0].Sequence
	fmt.Println("snug:", s.Snug, "within", s.Band.Wrench, "set", s.Band.Set.Setting.Dial, "through the", s.Band.Set.Adapter.Name)
	for _, stage := range s.Stages {
		fmt.Println(stage.Turn.Degrees(), "further,", stage.Total.Degrees(), "in all")
	}
	fmt.Println("passes:", s.Whole.Least().Degrees(), "to", s.Whole.Most().Degrees())

	// Where the paper states no tolerance, nobody makes one up.
	job.Stations[0].Tighten.Snug, job.Stations[0].Tighten.Within = torque.Band{}, nil
	plan, _ = service.NewPlan(job, service.Rules{})
	fmt.Println("nearest:", plan.Stations[0].Sequence.Nearest.Setting.Dial)
	for _, f := range plan.Findings {
		fmt.Println(f.Level, f.Code)
	}
	// Output:
	// snug: 29.5 ft-lb within 26.6 to 32.4 ft-lb set 22.0 ft-lb through the cover key
	// 45° further, 45° in all
	// 45° further, 90° in all
	// 45° further, 135° in all
	// 30° further, 165° in all
	// passes: 157° to 185°
	// nearest: 22.0 ft-lb
	// CAUTION sequence.snug-without-tolerance
	// CAUTION sequence.turn-without-tolerance
}

// A part that meets its stop: the gap is what shows it.
func ExampleSeatPlan() {
	job, _ := service.ReadJob(file("jobs/cover-and-cap.json"))
	rules, _ := service.ReadRules(file("rules.json"))
	plan, err := service.NewPlan(job, rules)
	if err != nil {
		fmt.Println(err)
		return
	}
	var stated *service.Seat = job.Stations[1].Tighten.Seat
	fmt.Println("stated:", stated.Torque)
	var s *service.SeatPlan = plan.Stations[1].Seat
	fmt.Println("until the gap", s.Gap, "is closed,", s.Turns, "from the first thread, no more than", plan.Stations[1].Band().Wrench.High())
	yes := true
	five := turn.MustOf(5, 1)
	total := turn.MustOf(165, 360)
	done := service.AsDone{Version: service.AsDoneVersion, Job: job.ID, Revision: 1, Date: job.Date, By: "invented", Source: "invented",
		Stations: []service.StationDone{
			{ID: "cover", Angle: &service.AngleDone{Total: &total}}, // read by eye, off the line
			{ID: "cap", Seated: &yes, StopTurns: &five},
		}}
	review, err := plan.Review(done)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range review.Lines {
		switch l.Code {
		case "angle", "stop-turns", "seat":
			fmt.Println(l)
		}
	}
	// Output:
	// stated: 0 to 25 N·m
	// until the gap between cap and housing is closed, 5 1/2 turns from the first thread, no more than 18 ft-lb
	// stations[0].angle.total: undecided: why.turn/unclear out=15°; want.angle angle=[157° 185°]
	// stations[1].stopTurns: fail: why.stop-turns/early; want.stop-turns turns=5 1/2 turns count=1/4 turn
	// stations[1].seated: undecided: why.in-doubt/stop-turns; want.seat
}
