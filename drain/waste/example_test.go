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

// From a wet element to a line of the form.
func Example() {
	element := must(drain.WetMass(
		onScale("1.42 kg"),
		must(drain.NewEstimate(units.Millilitre.Of(50), units.Millilitre.Of(120), units.Millilitre.Of(250), drain.Assumed)),
		must(drain.Exactly(units.MustParseDensity("833 kg/m³"), drain.Stated))))
	fmt.Println(element)

	var month waste.Ledger
	err := month.Add(waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedElement, Determination: waste.Undetermined, Mass: element})
	fmt.Println(err)

	s := must(month.Statement(2026, time.March, usfederal.RuleSet()))
	fmt.Println(s.Lowest, s.Highest, s.Decided())
	fmt.Println(s.Caveat)
	// Output:
	// 1.519960000000 kg (1.461650000000 kg to 1.628250000000 kg, assumed)
	// <nil>
	// VSQG VSQG true
	// determination is the generator's; state and local rules may differ
}

// A drum on the scale: the like of it differ by kilograms, so a tare that wasn't weighed is a range.
func ExampleContainer_Net() {
	drum := waste.Container{ID: "drum 3", Capacity: units.USGallon.Of(55),
		FillLimit: units.MustParseVolume("52 US gal"), Tare: assumed("15.4 kg", "17.2 kg", "19.1 kg")}
	fmt.Println(drum.Check())

	net := must(drum.Net(onScale("141.0 kg")))
	fmt.Println(net)
	fmt.Println(must(drum.Gross(onScale("120 kg"))))

	_, err := drum.Net(onScale("14.1 kg"))
	fmt.Println(err)
	// Output:
	// <nil>
	// 123.8 kg (121.9 kg to 125.6 kg, assumed)
	// 137.2 kg (135.4 kg to 139.1 kg, assumed)
	// container: gross "14.1 kg": less than the tare; want at least 17.2 kg
}

func ExampleContainer_Gross() {
	box := waste.Container{ID: "box 1", Tare: onScale("0.8 kg")}
	fmt.Println(box.Check(), must(box.Gross(onScale("11.5 kg"))).Best)
	// Output:
	// <nil> 12.3 kg
}

// A drum of 55 US gal can't hold 206 kg of diesel fuel: the label or the scale was read wrong.
func ExampleContainer_Takes() {
	drum := waste.Container{ID: "drum 1", Capacity: units.USGallon.Of(55)}
	entry := waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"), Stream: waste.DrainedFuel,
		Determination: waste.Undetermined, Mass: onScale("206 kg")}
	fmt.Println(drum.Takes(entry))
	// Output: false <nil>
}

// The same entry twice counts once, a superseded one not at all.
func ExampleLedger_Add() {
	entry := waste.Entry{Job: "2026-0117", Revision: 0, Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: onScale("1.3 kg")}
	var l waste.Ledger
	fmt.Println(entry.Check(), l.Add(entry), l.Add(entry), len(l.Entries()))

	entry.Mass = onScale("1.2 kg")
	fmt.Println(l.Add(entry))

	entry.Revision = 1
	fmt.Println(l.Add(entry), l.Entries()[0].Mass.Best)
	fmt.Println(l.Months())

	fmt.Println(l.Withdraw("2026-0117", 2), len(l.Entries()))
	// Output:
	// <nil> <nil> <nil> 1
	// entry: job "2026-0117": line 1 of revision 0 is already there with other contents; want the same contents, or a higher revision
	// <nil> 1.2 kg
	// [2026-03-01]
	// <nil> 0
}

// Two vans keep a ledger each; together they are the site's.
func ExampleLedger_Merge() {
	var van, shop waste.Ledger
	entry := waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: onScale("1.3 kg")}
	fmt.Println(van.Add(entry), shop.Add(entry))
	entry.Job = "2026-0118"
	fmt.Println(van.Add(entry), shop.Merge(&van), shop.Merge(&van))
	fmt.Println(must(shop.Statement(2026, time.March, usfederal.RuleSet())).Hazardous.Best)
	// Output:
	// <nil> <nil>
	// <nil> <nil> <nil>
	// 2.6 kg
}

// What isn't determined makes the answer "either", and says what to determine.
func ExampleLedger_Statement() {
	var l waste.Ledger
	add := func(line int, stream waste.Stream, d waste.Determination, m drain.Estimate[units.MassUnit]) {
		if err := l.Add(waste.Entry{Job: "2026-0117", Line: line, Date: waste.MustParseDate("2026-03-04"), Stream: stream, Determination: d, Mass: m}); err != nil {
			fmt.Println(err)
		}
	}
	add(1, waste.DrainedFuel, waste.Hazardous, onScale("91 kg"))
	add(2, waste.DrainedElement, waste.Undetermined, assumed("8 kg", "9 kg", "12 kg"))

	s := must(l.Statement(2026, time.March, usfederal.RuleSet()))
	fmt.Println(s.Lowest, s.Highest, s.Decided())
	for _, todo := range s.ToDo {
		fmt.Println(todo)
	}
	for _, item := range s.Batches() {
		fmt.Println(item.Description, item.Mass)
	}
	// Output:
	// VSQG SQG false
	// determine whether this is hazardous waste: drained element, 9 kg (8 kg to 12 kg, assumed)
	// drained fuel (hazardous) 91 kg (91 kg to 91 kg, weighed)
	// drained element (undetermined) 9 kg (8 kg to 12 kg, assumed)
}

// The stream that weighs most, with the drums it went into.
func ExampleStreamTotal() {
	var l waste.Ledger
	add := func(line int, stream waste.Stream, drum string, m drain.Estimate[units.MassUnit]) {
		if err := l.Add(waste.Entry{Job: "2026-0117", Line: line, Date: waste.MustParseDate("2026-03-04"), Stream: stream,
			Determination: waste.Undetermined, Mass: m, Container: drum}); err != nil {
			fmt.Println(err)
		}
	}
	add(1, waste.DrainedFuel, "drum 1", onScale("31 kg"))
	add(2, waste.DrainedFuel, "drum 2", onScale("12 kg"))
	add(3, waste.DrainedElement, "drum 3", assumed("8 kg", "9 kg", "12 kg"))

	s := must(l.Statement(2026, time.March, usfederal.RuleSet()))
	most := slices.MaxFunc(s.Streams, func(a, b waste.StreamTotal) int { return a.Mass.High.Compare(b.Mass.High) })
	fmt.Println(most.Stream, most.Determination, most.Mass.Best, most.Containers)
	// Output: drained fuel undetermined 43 kg [drum 1 drum 2]
}

// A statement for reading, under the list that has codes and no categories.
func ExampleStatement_String() {
	var l waste.Ledger
	fmt.Println(l.Add(waste.Entry{Job: "2026-0117", Line: 1, Date: waste.MustParseDate("2026-03-04"),
		Stream: waste.Absorbents, Determination: waste.Hazardous, Mass: onScale("2.4 kg")}))
	rules := waste.RuleSet{Name: "invented", AsOf: waste.MustParseDate("2026-01-01")}
	fmt.Println(must(l.Statement(2026, time.March, rules)))
	// Output:
	// <nil>
	// Generated in 2026-03, under invented as of 2026-01-01
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

	clock := must(site.MoveBy(waste.MustParseDate("2026-12-07")))
	fmt.Println(clock.Last)
	asked := must(site.Ask(waste.DrainedFuel)).Questions
	fmt.Println(asked[len(asked)-1].Text)
	// Output:
	// 2026-12-07
	// Did the tank ever hold petrol?
}

func ExampleParseRuleSet() {
	_, err := waste.ParseRuleSet([]byte(`{"name":"Invented State","asOf":"2026-12-01","limit":"100 kg"}`))
	fmt.Println(err)
	r, err := waste.ParseRuleSet([]byte(`{"name":"Invented State","asOf":"2026-12-01"}`))
	fmt.Println(r.Name, r.AsOf, err)
	// Output:
	// rule set: limit: unknown field; want one of name, asOf, based, categories, satellite, fill, questions, candidates, notes
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

// Clocks run on civil dates; the first day counts.
func ExampleRuleSet_OffSiteBy() {
	clock := must(usfederal.RuleSet().OffSiteBy("SQG", waste.MustParseDate("2026-01-01"), false))
	fmt.Println(clock)
	fmt.Println(waste.MustParseDate("2026-06-29").DaysUntil(clock.Last), waste.MustParseDate("2026-07-01").DaysUntil(clock.Last))
	// Output:
	// SQG on site: 180 days from 2026-01-01, last day 2026-06-29 (40 CFR 262.16(b) and (c), copy seen)
	// determination is the generator's; state and local rules may differ
	// 0 -2
}

func ExampleClock() {
	clock := must(usfederal.RuleSet().OffSiteBy("LQG", waste.MustParseDate("2026-01-01"), false))
	fmt.Println(clock.String())
	fmt.Println(clock.Last, waste.MustParseDate("2026-03-01").DaysUntil(clock.Last))
	// Output:
	// LQG on site: 90 days from 2026-01-01, last day 2026-03-31 (40 CFR 262.17(a), from memory)
	// determination is the generator's; state and local rules may differ
	// 2026-03-31 30
}

func ExampleRuleSet_MoveBy() {
	friday := waste.MustParseDate("2026-03-06")
	fmt.Println(must(usfederal.RuleSet().MoveBy(friday)).Last)
	// Output:
	// 2026-03-08
}

func ExampleRuleSet_OnSite() {
	rules := usfederal.RuleSet()
	fmt.Println(must(rules.OnSite("SQG", onScale("6000 kg"))))
	fmt.Println(must(rules.OnSite("SQG", assumed("5900 kg", "5950 kg", "6050 kg"))).Within)
	// Output:
	// at most 6000 kg on site: yes (40 CFR 262.16(b)(1), copy seen)
	// determination is the generator's; state and local rules may differ
	// undecided
}

func ExampleHolding() {
	h := must(usfederal.RuleSet().OnSite("VSQG", onScale("1000 kg")))
	fmt.Println(h.Within, h.Exactly)
	fmt.Println(h.String())
	// Output:
	// no false
	// less than 1000 kg on site: no (40 CFR 262.14(a)(4), from memory)
	// determination is the generator's; state and local rules may differ
}

func ExampleRuleSet_Due() {
	drums := []waste.Container{
		{ID: "drum 3", Started: waste.MustParseDate("2026-01-15")},
		{ID: "drum 2", Started: waste.MustParseDate("2025-12-01")},
		{ID: "at the bench", Satellite: true},
	}
	today := waste.MustParseDate("2026-06-20")
	for _, clock := range must(usfederal.RuleSet().Due("SQG", false, today, 30, drums)) {
		fmt.Println(clock.Container, "by", clock.Last, "days left:", today.DaysUntil(clock.Last))
	}
	// Output:
	// drum 2 by 2026-05-29 days left: -22
	// drum 3 by 2026-07-13 days left: 23
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

func ExampleStreams() {
	for _, s := range waste.Streams() {
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
