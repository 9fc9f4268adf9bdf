package waste_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
)

// Everything here is invented: the shop, the jobs, the masses.

// must is for examples: every figure in them is a constant.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func onScale(text string) drain.Estimate[units.MassUnit] {
	return must(drain.Exactly(units.MustParseMass(text), drain.Weighed))
}

func assumed(low, best, high string) drain.Estimate[units.MassUnit] {
	return must(drain.NewEstimate(units.MustParseMass(low), units.MustParseMass(best), units.MustParseMass(high), drain.Assumed))
}

// byAnn is an entry as it is put down: who and when are invented.
func byAnn(e waste.Entry) waste.Posting {
	return waste.Posting{At: time.Date(2026, 3, 4, 16, 30, 0, 0, time.UTC), By: "Ann", Entry: &e}
}

// From a wet element to a line of the form.
func Example() {
	element := must(drain.WetMass(
		onScale("1.42 kg"),
		must(drain.NewEstimate(units.Millilitre.Of(50), units.Millilitre.Of(120), units.Millilitre.Of(250), drain.Assumed)),
		must(drain.Exactly(units.MustParseDensity("833 kg/m³"), drain.Stated))))
	fmt.Println(element)

	var month waste.Ledger
	fmt.Println(month.Add(byAnn(waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedElement, Determination: waste.Undetermined, Mass: element})))

	s := must(month.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet()))
	fmt.Println(s.Lowest, s.Highest)
	fmt.Println(s.Caveat)
	// Output:
	// 1.519960000000 kg (1.461650000000 kg to 1.628250000000 kg, assumed)
	// true <nil>
	// VSQG VSQG
	// determination is the generator's; state and local rules may differ
}

// A drum on the scale: the like of it differ by kilograms, so a tare that wasn't weighed is a range.
func ExampleContainer_Net() {
	drum := waste.Container{ID: "drum 3", Capacity: units.USGallon.Of(55),
		FillLimit: units.MustParseVolume("52 US gal"), Tare: assumed("15.4 kg", "17.2 kg", "19.1 kg")}

	net := must(drum.Net(onScale("141.0 kg")))
	fmt.Println(net)

	_, err := drum.Net(onScale("14.1 kg"))
	fmt.Println(err)
	// Output:
	// 123.8 kg (121.9 kg to 125.6 kg, assumed)
	// container: gross "14.1 kg": less than the tare; want at least 17.2 kg
}

// A posting is a line of JSON, and reads itself from it.
func ExamplePosting() {
	p := byAnn(waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: onScale("1.3 kg"), Container: "D-07"})
	line := must(p.MarshalJSON())
	fmt.Println(string(line))
	var back waste.Posting
	fmt.Println(back.UnmarshalJSON(line), back.String())

	fmt.Println(back.UnmarshalJSON([]byte(`{"version":2,"at":"2026-03-04T16:30:00Z","by":"Ann","spill":{}}`)))
	// Output:
	// {"version":1,"at":"2026-03-04T16:30:00Z","by":"Ann","entry":{"job":"2026-0117","revision":0,"line":1,"date":"2026-03-04","stream":"drained fuel","determination":"hazardous","mass":{"low":{"value":"1.3","unit":"kg"},"best":{"value":"1.3","unit":"kg"},"high":{"value":"1.3","unit":"kg"},"from":"weighed"},"container":"D-07"}}
	// <nil> 2026-0117 revision 0 line 1, 1.3 kg drained fuel (hazardous), by Ann at 2026-03-04T16:30:00Z
	// posting: version "2": written by a later version; want version 1
}

// The same posting twice counts once. A correction has a higher revision and takes the place of all that the
// lower ones said; a withdrawal takes the job out.
func ExampleLedger_Add() {
	entry := waste.Entry{Job: "2026-0117", Revision: 0, Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: onScale("1.3 kg")}
	var l waste.Ledger
	fmt.Println(entry.Check())
	fmt.Println(l.Add(byAnn(entry)))
	fmt.Println(l.Add(byAnn(entry)))

	entry.Revision, entry.Mass = 1, onScale("1.2 kg")
	fmt.Println(l.Add(byAnn(entry)))
	for entry := range l.Entries() {
		fmt.Println(entry.Mass.Best)
	}
	withdrawal := waste.Posting{At: time.Date(2026, 3, 5, 8, 0, 0, 0, time.UTC), By: "Bo", Withdrawal: &waste.Withdrawal{Job: "2026-0117", Revision: 2}}
	fmt.Println(l.Add(withdrawal))
	fmt.Println(len(slices.Collect(l.Entries())))
	// Output:
	// <nil>
	// true <nil>
	// false <nil>
	// true <nil>
	// 1.2 kg
	// true <nil>
	// 0
}

// Of two entries that differ the higher mass counts. What doesn't count, and what took its place, is a report.
func ExampleLedger_Changes() {
	entry := waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: onScale("1.3 kg")}
	var l waste.Ledger
	for _, mass := range []string{"1.3 kg", "1.2 kg"} {
		entry.Mass = onScale(mass)
		if _, err := l.Add(byAnn(entry)); err != nil {
			fmt.Println(err)
		}
	}
	for _, n := range l.Changes() {
		fmt.Println(n.Code, n.About.Entry.Mass.Best, n.Other.Entry.Mass.Best)
	}
	// Output:
	// change.conflict 1.2 kg 1.3 kg
}

// Two vans keep a ledger each; together they are the site's, however often they are added.
func ExampleLedger_Postings() {
	var van, shop waste.Ledger
	entry := waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: onScale("1.3 kg")}
	fmt.Println(shop.Add(byAnn(entry)))
	entry.Job = "2026-0118"
	fmt.Println(van.Add(byAnn(entry)))
	for range 2 {
		for p := range van.Postings() {
			fmt.Println(shop.Add(p))
		}
	}
	fmt.Println(must(shop.Statement(entry.Date, usfederal.RuleSet())).Hazardous.Best)

	var again waste.Ledger // after a restart
	fmt.Println(again.UnmarshalText(must(shop.MarshalText())))
	fmt.Println(must(again.Statement(entry.Date, usfederal.RuleSet())).Hazardous.Best)
	// Output:
	// true <nil>
	// true <nil>
	// true <nil>
	// false <nil>
	// 2.6 kg
	// <nil>
	// 2.6 kg
}

// A drum from its opening on: how much room is left, how long it has been there, what has to be done by when.
func ExampleLedger_Drums() {
	var l waste.Ledger
	happened := func(event, date string, c waste.Container) {
		day := waste.MustParseDate(date)
		_, err := l.Add(waste.Posting{At: time.Date(day.Year, day.Month, day.Day, 12, 0, 0, 0, time.UTC), By: "Ann",
			Drum: &waste.DrumEvent{Event: event, Date: day, Container: c}})
		if err != nil {
			fmt.Println(err)
		}
	}
	happened("opened", "2026-08-16", waste.Container{ID: "D-07", Kind: "DM", Capacity: units.Litre.Of(208), FillLimit: units.Litre.Of(200), Tare: onScale("17.5 kg")})
	volume := must(drain.Exactly(units.MustParseVolume("31.5 L"), drain.Measured))
	fuel := must(drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.Celsius.Of(15)))
	fmt.Println(l.Add(byAnn(waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-08-20"), Stream: waste.DrainedFuel,
		Determination: waste.Hazardous, Mass: must(fuel.MassOf(volume, units.Celsius.Of(25))), Volume: volume, VolumeAt: units.Celsius.Of(25), Container: "D-07"})))

	today := waste.MustParseDate("2026-09-01")
	for _, d := range l.Drums() {
		fmt.Println(d.Container.ID, d.Days(today), d.Room.Best, d.Mass.Best.Round(1, units.ToNearestEven))
	}
	// Output:
	// true <nil>
	// D-07 17 168.5 L 26.2 kg
}

// What the office has to do, by when: an invented shop whose fuel alone is more than 100 kg in August.
func ExampleLedger_ToDo() {
	var l waste.Ledger
	opening := waste.DrumEvent{Event: "opened", Date: waste.MustParseDate("2026-08-16"), Container: waste.Container{ID: "D-07"}}
	fmt.Println(l.Add(waste.Posting{At: time.Date(2026, 8, 16, 8, 0, 0, 0, time.UTC), By: "Ann", Drum: &opening}))
	for line, d := range []waste.Determination{waste.Hazardous, waste.Undetermined} {
		entry := waste.Entry{Job: "2026-0117", Line: line + 1, Date: waste.MustParseDate("2026-08-20"), Stream: waste.DrainedFuel,
			Determination: d, Mass: onScale("120 kg"), Container: "D-07"}
		fmt.Println(l.Add(waste.Posting{At: time.Date(2026, 8, 20, 8, 0, 0, 0, time.UTC), By: "Ann", Entry: &entry}))
	}
	for _, n := range must(l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-09-01"))) {
		fmt.Println(n)
	}
	// Output:
	// true <nil>
	// true <nil>
	// true <nil>
	// do.determine drained fuel 120 kg (120 kg to 120 kg, weighed) by 2027-02-11
	// do.ship D-07 by 2027-02-11
}

// A set may count by another period than a month: an invented one by quarters.
func ExampleLedger_Periods() {
	rules := must(usfederal.RuleSet().Derive("Invented State", waste.MustParseDate("2026-12-01")))
	rules.Period = waste.Period{Months: 3}
	var l waste.Ledger
	for n, date := range []string{"2026-01-31", "2026-03-31", "2026-04-01"} {
		fmt.Println(l.Add(byAnn(waste.Entry{Job: "2026-0117", Line: n + 1, Date: waste.MustParseDate(date), Stream: waste.DrainedFuel,
			Determination: waste.Hazardous, Mass: onScale("60 kg")})))
	}
	for _, first := range must(l.Periods(rules)) {
		s := must(l.Statement(first, rules))
		fmt.Println(s.First, s.Last, s.Hazardous.Best, s.Lowest)
	}
	// Output:
	// true <nil>
	// true <nil>
	// true <nil>
	// 2026-01-01 2026-03-31 120 kg SQG
	// 2026-04-01 2026-06-30 60 kg VSQG
}

// What isn't determined makes the answer "either", and says what to determine.
func ExampleLedger_Statement() {
	var l waste.Ledger
	add := func(line int, stream waste.Stream, d waste.Determination, m drain.Estimate[units.MassUnit]) {
		if _, err := l.Add(byAnn(waste.Entry{Job: "2026-0117", Line: line, Date: waste.MustParseDate("2026-03-04"), Stream: stream, Determination: d, Mass: m})); err != nil {
			fmt.Println(err)
		}
	}
	add(1, waste.DrainedFuel, waste.Hazardous, onScale("91 kg"))
	add(2, waste.DrainedElement, waste.Undetermined, assumed("8 kg", "9 kg", "12 kg"))

	s := must(l.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet()))
	fmt.Println(s.Lowest, s.Highest)
	for _, todo := range s.ToDo {
		fmt.Println(todo)
	}
	for _, total := range s.Streams {
		fmt.Println(total.Stream, total.Determination, total.Mass)
	}
	// Output:
	// VSQG SQG
	// do.determine drained element 9 kg (8 kg to 12 kg, assumed)
	// drained fuel hazardous 91 kg (91 kg to 91 kg, weighed)
	// drained element undetermined 9 kg (8 kg to 12 kg, assumed)
}

// The stream that weighs most, with the drums it went into.
func ExampleStreamTotal() {
	var l waste.Ledger
	add := func(line int, stream waste.Stream, drum string, m drain.Estimate[units.MassUnit]) {
		if _, err := l.Add(byAnn(waste.Entry{Job: "2026-0117", Line: line, Date: waste.MustParseDate("2026-03-04"), Stream: stream,
			Determination: waste.Undetermined, Mass: m, Container: drum})); err != nil {
			fmt.Println(err)
		}
	}
	add(1, waste.DrainedFuel, "drum 1", onScale("31 kg"))
	add(2, waste.DrainedFuel, "drum 2", onScale("12 kg"))
	add(3, waste.DrainedElement, "drum 3", assumed("8 kg", "9 kg", "12 kg"))

	s := must(l.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet()))
	most := slices.MaxFunc(s.Streams, func(a, b waste.StreamTotal) int { return a.Mass.High.Compare(b.Mass.High) })
	fmt.Println(most.Stream, most.Determination, most.Mass.Best, most.Containers)
	// Output: drained fuel undetermined 43 kg [drum 1 drum 2]
}

// A statement for reading, under the list that has codes and no categories.
func ExampleStatement_String() {
	var l waste.Ledger
	fmt.Println(l.Add(byAnn(waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.Absorbents, Determination: waste.Hazardous, Mass: onScale("2.4 kg")})))
	rules := waste.RuleSet{Name: "invented", AsOf: waste.MustParseDate("2026-01-01")}
	fmt.Println(must(l.Statement(waste.MustParseDate("2026-03-01"), rules)))
	// Output:
	// true <nil>
	// Generated from 2026-03-01 to 2026-03-31, under invented as of 2026-01-01
	//   rules sha256:68d8c27f3faef5f34eb30b004dc4e44496da92f3af54218193091939899e0249
	//   absorbents      hazardous    entries 1, 2.4 kg (weighed)
	// Hazardous as determined: 2.4 kg (weighed)
	// Undetermined: nothing entered
	// Not counted, as determined by the generator: nothing entered
	// Generator category: none under invented
	// determination is the generator's; state and local rules may differ
}

// Limits are exact, in kilograms: printed pounds are rounded.
func ExampleRuleSet_CategoryOf() {
	rules := usfederal.RuleSet()
	for _, text := range []string{"100 kg", "100.001 kg", "220 lb", "1000 kg"} {
		fmt.Println(text, must(rules.CategoryOf(units.MustParseMass(text))).Name)
	}
	small := must(rules.Category("SQG"))
	fmt.Println(small.Title, small.Days, small.Source)
	// Output:
	// 100 kg VSQG
	// 100.001 kg SQG
	// 220 lb VSQG
	// 1000 kg LQG
	// small quantity generator 180 EPA, "Categories of Hazardous Waste Generators"; 40 CFR 260.10, text seen
}

func ExampleRuleSet_Category() {
	_, err := usfederal.RuleSet().Category("MQG")
	fmt.Println(err)
	fmt.Println(must(usfederal.RuleSet().Category("LQG")).String())
	// Output:
	// category "MQG": not in US federal; want VSQG, SQG, LQG
	// LQG, large quantity generator (EPA, "Categories of Hazardous Waste Generators"; 40 CFR 260.10, text seen)
	// determination is the generator's; state and local rules may differ
}

// A state's rules on the federal ones: an invented state without the smallest category.
func ExampleRuleSet_Derive() {
	federal := usfederal.RuleSet()
	state := must(federal.Derive("Invented State", waste.MustParseDate("2026-12-01")))
	state.Categories = state.Categories[1:]
	state.Notes = append(state.Notes, waste.Remark{Text: "This state knows no very small generators.",
		Source: waste.Source{Cite: "invented", Grade: "M"}})
	fmt.Println(state.Check())
	fmt.Println(state.Based == must(federal.Hash()), must(state.Hash()) == must(federal.Hash()))
	fmt.Println(must(state.CategoryOf(units.Kilogram.Of(1))).Name)

	stored := must(json.Marshal(state))
	again := must(waste.ParseRuleSet(stored))
	fmt.Println(must(again.Hash()) == must(state.Hash()))
	// Output:
	// <nil>
	// true false
	// SQG
	// true
}

// A site's own rule and its own question, on the federal set. The rule is invented, and a rule of a
// site may ask for more than the law but never for less.
func ExampleSatellite() {
	site := must(usfederal.RuleSet().Derive("Invented Site", waste.MustParseDate("2026-12-01")))
	handbook := waste.Source{Cite: "the site's handbook (invented)", Grade: "M"}
	site.Satellite = waste.Satellite{Limit: units.USGallon.Of(30), Days: 1, Source: handbook}
	site.Questions = append(site.Questions, waste.Question{
		Streams: []waste.Stream{waste.DrainedFuel},
		Text:    "Did the tank ever hold petrol?", Source: handbook})

	fmt.Println(site.Check())
	asked := must(site.Ask(waste.DrainedFuel)).Questions
	fmt.Println(asked[len(asked)-1].Text)
	// Output:
	// <nil>
	// Did the tank ever hold petrol?
}

func ExampleParseRuleSet() {
	_, err := waste.ParseRuleSet([]byte(`{"name":"Invented State","asOf":"2026-12-01","limit":"100 kg"}`))
	fmt.Println(err)
	r, err := waste.ParseRuleSet([]byte(`{"name":"Invented State","asOf":"2026-12-01"}`))
	fmt.Println(r.Name, r.AsOf, err)
	// Output:
	// rule set: limit: unknown field; want one of name, asOf, based, period, categories, satellite, fill, questions, candidates, notes
	// Invented State 2026-12-01 <nil>
}

func ExampleRuleSet_Hash() {
	one, two := usfederal.RuleSet(), usfederal.RuleSet()
	fmt.Println(must(one.Hash()) == must(two.Hash()))
	two.Categories[0].UpTo = units.Kilogram.Of(99)
	fmt.Println(must(one.Hash()) == must(two.Hash()), one.Check(), two.Check())
	// Output:
	// true
	// false <nil> <nil>
}

// Hazard hints are questions; candidates are choices.
func ExampleRuleSet_Ask() {
	fmt.Println(must(usfederal.RuleSet().Ask(waste.SpentCleaner)).String())
	fmt.Println(must(europe.RuleSet().Ask(waste.Absorbents)).Candidates[0].Code)
	// Output:
	// spent cleaner, under US federal as of 2026-11-25
	//   ? D001 possible: Is the liquid's flash point, closed cup, below 60 °C (140 °F)? Exactly 60 °C is not below. (40 CFR 261.21(a)(1), text seen)
	//   ? F001 to F005 possible: Which solvents does its safety data sheet name, and are they listed? (40 CFR 261.31, from memory)
	// determination is the generator's; state and local rules may differ
	// 15 02 02*
}

// The last day, on civil dates; the first day counts.
func ExampleRuleSet_OffSiteBy() {
	last := must(usfederal.RuleSet().OffSiteBy("SQG", waste.MustParseDate("2026-01-01"), false))
	fmt.Println(last, must(usfederal.RuleSet().Category("SQG")).DaysFrom)
	fmt.Println(waste.MustParseDate("2026-06-29").DaysUntil(last), waste.MustParseDate("2026-07-01").DaysUntil(last))
	// Output:
	// 2026-06-29 40 CFR 262.16(b) and (c), copy seen
	// 0 -2
}

func ExampleDate() {
	d := must(waste.ParseDate("2026-02-28"))
	fmt.Println(d.AddDays(1), d.AddMonths(1), d.DaysUntil(waste.MustParseDate("2026-03-31")), d.Compare(waste.MustParseDate("2026-03-01")))
	_, err := waste.ParseDate("2026-02-29")
	fmt.Println(err)

	text := must(d.MarshalText())
	var back waste.Date
	fmt.Println(string(text), back.UnmarshalText(text), back.String())
	// Output:
	// 2026-03-01 2026-03-28 31 -1
	// date "2026-02-29": no such day; want a date such as 2026-03-31
	// 2026-02-28 <nil> 2026-02-28
}

// The same instant counts in March on one site and in April on another.
func ExampleDateIn() {
	instant := time.Date(2026, 4, 1, 0, 30, 0, 0, time.UTC)
	fmt.Println(must(waste.DateIn(instant, time.UTC)), must(waste.DateIn(instant, time.FixedZone("site", -6*60*60))))
	// Output:
	// 2026-04-01 2026-03-31
}

func ExampleMustParseDate() {
	fmt.Println(waste.MustParseDate("2026-03-31"))
	// Output:
	// 2026-03-31
}

func ExampleStream_Liquid() {
	for s := waste.DrainedFuel; s <= waste.OtherWaste; s++ {
		fmt.Println(s, s.Liquid())
	}
	// Output:
	// drained fuel true
	// fuel-water mix true
	// wet element false
	// drained element false
	// gaskets false
	// absorbents false
	// spent cleaner true
	// other waste false
}

func ExampleStream() {
	var s waste.Stream
	fmt.Println(s.UnmarshalText([]byte("Fuel-water mix")), s.String(), s.Liquid(), string(must(s.MarshalText())))
	fmt.Println(s.UnmarshalText([]byte("filters")))
	// Output:
	// <nil> fuel-water mix true fuel-water mix
	// stream "filters": unknown; want drained fuel, fuel-water mix, wet element, drained element, gaskets, absorbents, spent cleaner or other waste
}

func ExampleDetermination() {
	var d waste.Determination
	fmt.Println(d.UnmarshalText([]byte("not counted")), d.String(), string(must(d.MarshalText())))
	fmt.Println(d.UnmarshalText(nil)) // who has not determined says so
	// Output:
	// <nil> not counted not counted
	// determination "": unknown; want undetermined, hazardous or not counted
}

func ExampleError() {
	_, err := usfederal.RuleSet().OffSiteBy("VSQG", waste.MustParseDate("2026-01-01"), false)
	var e *waste.Error
	if errors.As(err, &e) {
		fmt.Println(e.Field, e.Input, errors.Is(e.Unwrap(), waste.ErrNotCovered))
		fmt.Println(e.Error())
	}
	// Output:
	// category VSQG true
	// clock: category "VSQG": US federal sets no days for it; a state may; want a category with a time on site
}

func ExampleSource() {
	fmt.Println(waste.Source{Cite: "40 CFR 262.16(b)", Grade: "S"}.String())
	// Output:
	// 40 CFR 262.16(b), text seen
}

// How far a drum may be filled differs between the rules for the road.
func ExampleFillRule_Limit() {
	fuel, err := drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.Celsius.Of(15))
	if err != nil {
		panic(err)
	}
	for _, rules := range []waste.RuleSet{usfederal.RuleSet(), europe.RuleSet()} {
		limit, err := rules.Fill.Limit(fuel, units.USGallon.Of(55), units.Celsius.Of(15))
		fmt.Println(rules.Fill.By, limit.Round(1, units.ToNegativeInf), err)
	}
	// Output:
	// not full of liquid at 55 °C 53.1 US gal <nil>
	// degree of filling 52.2 US gal <nil>
}

// A volume that nobody measured and that is the size of the drum says nothing of what is in it.
func ExampleBatch_Check() {
	fuel := waste.Batch{Description: "drained diesel fuel", Stream: waste.DrainedFuel,
		Containers: []waste.Container{{ID: "drum 1", Capacity: units.USGallon.Of(15)}},
		Volume:     must(drain.Exactly(units.USGallon.Of(15), drain.Assumed))}
	fmt.Println(fuel.Check())
	fuel.Volume.From = drain.Measured
	fmt.Println(fuel.Check())
	// Output:
	// batch: quantity "15 US gal": is the size of the containers, which is no estimate of the waste; want what is in them
	// <nil>
}

// A zone is kept as written; an abbreviation that means several is refused.
func ExampleZone() {
	zone := waste.Zone("Europe/Vienna")
	fmt.Println(zone.UnmarshalText([]byte("+01:00")), zone)
	fmt.Println(errors.Is(zone.UnmarshalText([]byte("CST")), units.ErrAmbiguous))
	// Output:
	// <nil> +01:00
	// true
}
