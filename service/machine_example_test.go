package service_test

import (
	_ "embed"
	"fmt"

	"example.com/snugturn/service"
)

//go:embed testdata/machine.json
var harvester []byte

// The card of a machine is written once; a job says what is different today.
func ExampleReadJobOn() {
	today := `{
		"version": 1, "id": "FIELD-0101", "revision": 1, "date": "2027-03-08",
		"card": "Harvester 4, 2nd state",
		"fuel": {"density": "7.02 lb/US gal", "caughtAt": "9 °C", "measuredAt": "9 °C"},
		"stations": {"A": {"drain": {"water": {"low": "0 mL", "best": "0 mL", "high": "20 mL", "from": "assumed"}}}},
		"waste": {
			"drum": {"inside": {"low": "12 US gal", "best": "12 US gal", "high": "13 US gal", "from": "measured"}},
			"month": {"soFar": {"low": "3 kg", "best": "3 kg", "high": "4 kg", "from": "weighed"}}
		}
	}`
	job, err := service.ReadJobOn(harvester, []byte(today))
	fmt.Println(err, job.Machine, job.Date, job.Fuel.Grade, job.Fuel.Density, len(job.Stations))

	_, err = service.ReadJobOn(harvester, []byte(`{"version": 1, "id": "FIELD-0102", "revision": 1, "date": "8 March"}`))
	fmt.Println(err.(service.JobErrors)[0].Path)
	// Output:
	// <nil> Harvester 4 2027-03-08 No. 2-D 7.02 lb/US gal 2
	// job.date
}
