package service_test

import (
	"fmt"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// about is an estimate somebody made, in low, best and high.
func about[U interface {
	units.Unit
	Of(int64) units.Quantity[U]
}](unit U, low, best, high int64) drain.Estimate[U] {
	return drain.Estimate[U]{Low: unit.Of(low), Best: unit.Of(best), High: unit.Of(high), From: drain.Assumed}
}

// made is an invented job of one bowl, made in Go as a program does that has its own form: what a
// job file says in JSON, field by field. NewPlan checks it as ReadJob checks a file.
func made() service.Job {
	wrench := service.Wrench{
		Wrench: torque.Wrench{Name: "TW-1", Lowest: units.NewtonMetre.Of(5), Highest: units.NewtonMetre.Of(25), Step: units.MustParseTorque("0.5 N·m"),
			Deviation: units.Percent.Of(4)},
		CalibratedUntil: waste.Date{Year: 2027, Month: time.June, Day: 30},
	}
	bowl := service.Station{
		ID: "1", Name: "separator", Kind: service.ScrewOnBowl, Side: service.SuctionSide, Fill: service.FitDry,
		Drain: service.Drain{
			Steps: []string{"open the cock below the bowl"},
			Housing: &service.Housing{
				Diameter: about(units.Millimetre, 95, 96, 97), Height: about(units.Millimetre, 140, 142, 144),
				Displaced: about(units.Millilitre, 150, 180, 200), Retained: about(units.Millilitre, 50, 80, 120),
			},
		},
		Element: service.Element{Part: "element (invented no. 7)", Dry: about(units.Gram, 150, 160, 170), Retains: about(units.Millilitre, 40, 60, 90)},
		Seals:   []service.Seal{{Part: "O-ring (invented no. 8)", Where: "groove of the bowl", Wet: "clean fuel"}},
		Tighten: service.Tighten{Torque: torque.MustParseBand("130 to 175 in-lb"), OrSeated: true, Thread: turn.RightHand},
	}
	return service.Job{
		Version: service.JobVersion, ID: "ROPEWAY-3", Revision: 1, Date: waste.Date{Year: 2026, Month: time.December, Day: 1},
		Machine: "rescue drive of an invented ropeway", Invented: true, Source: "an invented service card",
		Shop: service.Shop{TorqueUnit: units.NewtonMetre, PanHolds: units.Litre.Of(5), Wrenches: []service.Wrench{wrench},
			Gauges: []service.Gauge{{ID: "AG-1", CalibratedUntil: waste.Date{Year: 2027, Month: time.June, Day: 30}}}},
		Isolate: []service.Isolation{{What: "starter battery", How: "negative lead off first", StopsStart: true, ForPriming: true, ForStart: "connected; started at the panel"}},
		Fuel: service.Fuel{
			Grade: "EN 590", Density: drain.StateDensity(units.MustParseDensity("0.835 kg/L")), DensityAt: units.Celsius.Of(15), LeastFlashPoint: units.Celsius.Of(55),
			FlashSource: "EN 590", CaughtAt: units.Celsius.Of(5), MeasuredAt: units.Celsius.Of(5),
		},
		Stations: []service.Station{bowl},
		Prime: service.Prime{
			Void:       about(units.Millilitre, 800, 900, 1100),
			Pump:       &service.Pump{Flow: about(units.MillilitrePerMinute, 1200, 1500, 1800), OnTime: drain.Duration(20 * time.Second), Efficiency: units.Percent.Of(80)},
			HandPrimer: &service.HandPrimer{Stroke: about(units.Millilitre, 20, 25, 30), Efficiency: units.Percent.Of(70)},
			Crank:      drain.Cranking{Limit: drain.Duration(10 * time.Second), Rest: drain.Duration(2 * time.Minute), Attempts: 3},
		},
		Waste: service.Waste{
			Into:  "closed steel drum, labelled",
			Other: []service.WasteItem{{What: "wipes", Mass: about(units.Gram, 100, 200, 300)}},
			Drum:  &service.Drum{Capacity: units.Litre.Of(60), Inside: about(units.Litre, 18, 20, 22), FilledAt: units.Celsius.Of(5)},
			Month: &service.Month{Rules: "US federal", SoFar: about(units.Kilogram, 2, 3, 4)},
		},
		Interval: &service.Interval{Hours: 400, HoursPerWeek: 20, Months: 12},
	}
}

// A job made in Go, and what the plan makes of it.
func ExampleJob() {
	plan, err := service.NewPlan(made(), service.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var out service.FuelOut = plan.Stations[0].Out
	fmt.Println("comes out:", out.Volume.RoundIn(units.Litre, 2))
	fmt.Println("set:      ", plan.Stations[0].Torque.Set.Wrench.Name, "to", plan.Stations[0].Torque.Set.Setting.Dial)
	for _, line := range plan.Waste {
		var w service.WasteLine = line
		fmt.Println("waste:    ", w.Stream, w.Station, w.What, w.Mass.RoundIn(units.Kilogram, 2))
	}
	var due *service.NextService = plan.Due
	fmt.Println("due:      ", due.Date, "by use", due.ByUse, "by calendar", due.ByCalendar)
	// Output:
	// comes out: 0.77 L (0.67 L to 0.87 L, assumed)
	// set:       TW-1 to 17.0 N·m
	// waste:     drained fuel   0.65 kg (0.56 kg to 0.73 kg, assumed)
	// waste:     wet element 1  0.21 kg (0.18 kg to 0.25 kg, assumed)
	// waste:     other waste  wipes 0.20 kg (0.10 kg to 0.30 kg, assumed)
	// due:       2027-04-20 by use 2027-04-20 by calendar 2027-12-01
}
