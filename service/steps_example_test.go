package service_test

import (
	"fmt"

	"example.com/snugturn/service"
	"example.com/snugturn/turn"
)

// A program of one's own shows the steps in its own way: codes and typed values, no sentence.
func ExamplePlan_Steps() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	for _, phase := range plan.Steps() {
		var step service.Step
		for _, step = range phase.Steps {
			if step.Code == "turn.sense" {
				way, _ := step.Values.Get("sense").(turn.Rotation)
				fmt.Println(phase.Code, phase.Station.Station.ID, step.Code, way == turn.Clockwise)
			}
			if step.Code == "prime.look-for" {
				var values service.Values = step.Values
				var value service.Value = values[0]
				causes, _ := value.Value.([]service.Word)
				fmt.Println(step.Kind, step.Code, causes[0])
			}
		}
	}
	var phase service.Phase = plan.Steps()[0]
	fmt.Println(phase.Code, phase.Steps[0].Kind == service.ToKnow)
	var kind service.StepKind = service.Blank
	fmt.Println(service.ToDo, service.Detail, service.Grid, kind, service.Drawing, service.Alarm)
	// Output:
	// tighten 1 turn.sense true
	// tighten 2 turn.sense true
	// know prime.look-for no-fuel
	// notice true
	// do detail table blank picture alarm
}

// From the mark or gap that stood at the index at contact to where to stop.
func ExampleStationPlan_StopFrom() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	bowl, canister := plan.Stations[0], plan.Stations[1]
	fmt.Println(canister.StopFrom(service.MarkSeen{Mark: "S"}))
	fmt.Println(canister.StopFrom(service.MarkSeen{Between: []string{"N", "E"}}))
	_, err := bowl.StopFrom(service.MarkSeen{Mark: "S"})
	fmt.Println(err)
	// Output:
	// turn.stop-from/open aim=at W <nil>
	// turn.stop-from/open aim=midway between S and E <nil>
	// contact "S": the station has no marks to read it from; want a station that is tightened by a turn, with marks
}
