package usfederal

import (
	"time"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// fuelStreams are those that may hold fuel.
func fuelStreams() []waste.Stream {
	return []waste.Stream{waste.DrainedFuel, waste.FuelWaterMix, waste.WetElement, waste.DrainedElement, waste.Gaskets, waste.Absorbents}
}

// RuleSet is the United States' federal rules for generators, 40 CFR parts 260 to 262, for waste
// that isn't acute. States may be stricter, and most run their own programme: derive a set for
// yours with [waste.RuleSet.Derive]. Each call returns a fresh copy.
func RuleSet() waste.RuleSet {
	categories := source(`EPA, "Categories of Hazardous Waste Generators"; 40 CFR 260.10`, "S")
	elements := []waste.Stream{waste.WetElement, waste.DrainedElement}
	return waste.RuleSet{
		Name: "US federal",
		AsOf: waste.Date{Year: 2026, Month: time.November, Day: 25},
		Categories: []waste.Category{
			{Name: "VSQG", Title: "very small quantity generator",
				UpTo: units.Kilogram.Of(100), Including: true, Source: categories,
				// EPA's page says "not more than 1,000 kg", the rule that 1,000 kg or more ends
				// the category's terms: the stricter reading leaves exactly 1,000 kg outside.
				OnSite: units.Kilogram.Of(1000), LimitFrom: source("40 CFR 262.14(a)(4)", "M")},
			{Name: "SQG", Title: "small quantity generator",
				UpTo: units.Kilogram.Of(1000), Source: categories,
				Days: 180, FarDays: 270, Far: "200 miles or more to where it is taken", DaysFrom: source("40 CFR 262.16(b) and (c)", "S2"),
				OnSite: units.Kilogram.Of(6000), OnSiteIn: true, LimitFrom: source("40 CFR 262.16(b)(1)", "S2")},
			{Name: "LQG", Title: "large quantity generator", Open: true, Source: categories,
				Days: 90, DaysFrom: source("40 CFR 262.17(a)", "M")},
		},
		Satellite: waste.Satellite{Limit: units.USGallon.Of(55), Days: 3, Source: source("40 CFR 262.15(a), as in Utah R315-262-15; EPA RO 14703", "S")},
		Fill:      waste.FillRule{By: "not full of liquid at 55 °C", Source: source("49 CFR 173.24a(d)", "M")},
		Questions: []waste.Question{
			{Streams: []waste.Stream{waste.DrainedFuel, waste.FuelWaterMix}, Text: "Is it clean enough to be used as the fuel it is? What is used may not be waste at all.",
				Source: source("reading of 40 CFR 262.11", "M")},
			{Streams: []waste.Stream{waste.DrainedFuel, waste.FuelWaterMix, waste.SpentCleaner}, Code: "D001", Text: "Is the liquid's flash point, closed cup, below 60 °C (140 °F)? Exactly 60 °C is not below.",
				Source: source("40 CFR 261.21(a)(1)", "S")},
			{Streams: []waste.Stream{waste.WetElement, waste.DrainedElement, waste.Gaskets, waste.Absorbents}, Code: "D001", Text: "Could it, being no liquid, catch fire by friction, moisture or by itself and burn so as to be a hazard? The fuel's flash point alone doesn't answer that.",
				Source: source("40 CFR 261.21(a)(2)", "S")},
			{Streams: fuelStreams(), Code: "D018", Text: "Does its extract (TCLP) hold 0.5 mg/L of benzene or more?",
				Source: source("40 CFR 261.24, Table 1", "S")},
			{Streams: fuelStreams(), Code: "D004 to D008", Text: "Can it hold arsenic, barium, cadmium, chromium or lead at or above 5.0, 100, 1.0, 5.0 or 5.0 mg/L in its extract?",
				Source: source("40 CFR 261.24, Table 1", "S")},
			{Streams: elements, Text: "Has it been determined for itself? The exclusion for used oil filters names oil filters; it is not applied to fuel filters here.",
				Source: source("40 CFR 261.4(b)(13); 40 CFR 262.11", "S")},
			{Streams: []waste.Stream{waste.DrainedElement}, Text: "Drained, and recycled for its metal: does the scrap-metal route apply?",
				Source: source("reading of 40 CFR 261.6(a)(3)(ii)", "M")},
			{Streams: []waste.Stream{waste.DrainedFuel, waste.FuelWaterMix}, Text: "Was it kept out of the used oil? Mixing changes which rules apply to the whole.",
				Source: source("40 CFR 279.10(b), edition of 2007, and (d)", "M")},
			{Streams: []waste.Stream{waste.SpentCleaner}, Code: "F001 to F005", Text: "Which solvents does its safety data sheet name, and are they listed?",
				Source: source("40 CFR 261.31", "M")},
			{Streams: []waste.Stream{waste.OtherWaste}, Text: "Has every other waste of the site been determined, and is any of it acute? Acute waste has limits of its own, which this set doesn't hold.",
				Source: source("40 CFR 262.11; 40 CFR 260.10", "S")},
		},
		Notes: []waste.Remark{
			{Text: "All hazardous waste the site generates in the calendar month counts, not only that of these services.", Source: categories},
			{Text: "Acute hazardous waste has limits of its own, 1 kg in a month, and is not judged here.", Source: categories},
			{Text: "Counted is what was generated in the month, not what was shipped.", Source: source("EPA, frequent questions on hazardous waste generation", "S")},
			{Text: "Waste in satellite areas counts in the month.", Source: source("EPA RO 14703", "S")},
			{Text: "Limits are in kilograms. Printed pounds are rounded: 220 lb is 99.79 kg.", Source: source("arithmetic: 1 lb is 0.45359237 kg", "D")},
			{Text: "A very small quantity generator needs no manifest under the federal rules; states differ.", Source: source("40 CFR 262.14, in a summary", "S2")},
			{Text: "Lines follow the instructions to items 10 to 13 of EPA Form 8700-22, Rev. 12-17; whether later ones changed them was not checked.", Source: source("EPA Form 8700-22, instructions", "S")},
			{Text: "Containment of 10 % of all containers or all of the largest, whichever is greater, binds permitted facilities, not generators by itself.", Source: source("40 CFR 264.175(b)(3); whom it binds is from memory", "M")},
		},
	}
}

// source is a citation and how well it is known: see [waste.Source].
func source(cite, grade string) waste.Source { return waste.Source{Cite: cite, Grade: grade} }
