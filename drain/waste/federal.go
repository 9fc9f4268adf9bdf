package waste

import (
	"time"

	"example.com/snugturn/units"
)

// put is the day the two sets below were put together.
var put = Date{2026, time.November, 25}

// everything that may hold fuel.
func fuelStreams() []Stream {
	return []Stream{DrainedFuel, FuelWaterMix, WetElement, DrainedElement, Gaskets, Absorbents}
}

// USFederal is the United States' federal rules for generators, 40 CFR parts 260 to 262, for waste
// that isn't acute. States may be stricter, and most run their own programme: derive a set for
// yours with [RuleSet.Derive]. Each call returns a fresh copy.
func USFederal() RuleSet {
	categories := Source{`EPA, "Categories of Hazardous Waste Generators"; 40 CFR 260.10`, "S"}
	elements := []Stream{WetElement, DrainedElement}
	return RuleSet{
		Name: "US federal",
		AsOf: put,
		Categories: []Category{
			{Name: "VSQG", Title: "very small quantity generator",
				UpTo: units.Kilogram.Of(100), Including: true, Source: categories,
				// EPA's page says "not more than 1,000 kg", the rule that 1,000 kg or more ends
				// the category's terms: the stricter reading leaves exactly 1,000 kg outside.
				OnSite: units.Kilogram.Of(1000), LimitFrom: Source{"40 CFR 262.14(a)(4)", "M"}},
			{Name: "SQG", Title: "small quantity generator",
				UpTo: units.Kilogram.Of(1000), Source: categories,
				Days: 180, FarDays: 270, Far: "200 miles or more to where it is taken", DaysFrom: Source{"40 CFR 262.16(b) and (c)", "S2"},
				OnSite: units.Kilogram.Of(6000), OnSiteIn: true, LimitFrom: Source{"40 CFR 262.16(b)(1)", "S2"}},
			{Name: "LQG", Title: "large quantity generator", Open: true, Source: categories,
				Days: 90, DaysFrom: Source{"40 CFR 262.17(a)", "M"}},
		},
		Satellite: Satellite{Limit: units.USGallon.Of(55), Days: 3, Source: Source{"40 CFR 262.15(a), as in Utah R315-262-15; EPA RO 14703", "S"}},
		Fill:      Fill{NotFullAt55, Source{"49 CFR 173.24a(d)", "M"}},
		Questions: []Question{
			{Streams: []Stream{DrainedFuel, FuelWaterMix}, Text: "Is it clean enough to be used as the fuel it is? What is used may not be waste at all.",
				Source: Source{"reading of 40 CFR 262.11", "M"}},
			{Streams: []Stream{DrainedFuel, FuelWaterMix, SpentCleaner}, Code: "D001", Text: "Is the liquid's flash point, closed cup, below 60 °C (140 °F)? Exactly 60 °C is not below.",
				Source: Source{"40 CFR 261.21(a)(1)", "S"}},
			{Streams: []Stream{WetElement, DrainedElement, Gaskets, Absorbents}, Code: "D001", Text: "Could it, being no liquid, catch fire by friction, moisture or by itself and burn so as to be a hazard? The fuel's flash point alone doesn't answer that.",
				Source: Source{"40 CFR 261.21(a)(2)", "S"}},
			{Streams: fuelStreams(), Code: "D018", Text: "Does its extract (TCLP) hold 0.5 mg/L of benzene or more?",
				Source: Source{"40 CFR 261.24, Table 1", "S"}},
			{Streams: fuelStreams(), Code: "D004 to D008", Text: "Can it hold arsenic, barium, cadmium, chromium or lead at or above 5.0, 100, 1.0, 5.0 or 5.0 mg/L in its extract?",
				Source: Source{"40 CFR 261.24, Table 1", "S"}},
			{Streams: elements, Text: "Has it been determined for itself? The exclusion for used oil filters names oil filters; it is not applied to fuel filters here.",
				Source: Source{"40 CFR 261.4(b)(13); 40 CFR 262.11", "S"}},
			{Streams: []Stream{DrainedElement}, Text: "Drained, and recycled for its metal: does the scrap-metal route apply?",
				Source: Source{"reading of 40 CFR 261.6(a)(3)(ii)", "M"}},
			{Streams: []Stream{DrainedFuel, FuelWaterMix}, Text: "Was it kept out of the used oil? Mixing changes which rules apply to the whole.",
				Source: Source{"40 CFR 279.10(b), edition of 2007, and (d)", "M"}},
			{Streams: []Stream{SpentCleaner}, Code: "F001 to F005", Text: "Which solvents does its safety data sheet name, and are they listed?",
				Source: Source{"40 CFR 261.31", "M"}},
			{Streams: []Stream{OtherWaste}, Text: "Has every other waste of the site been determined, and is any of it acute? Acute waste has limits of its own, which this set doesn't hold.",
				Source: Source{"40 CFR 262.11; 40 CFR 260.10", "S"}},
		},
		Notes: []Note{
			{"All hazardous waste the site generates in the calendar month counts, not only that of these services.", categories},
			{"Acute hazardous waste has limits of its own, 1 kg in a month, and is not judged here.", categories},
			{"Counted is what was generated in the month, not what was shipped.", Source{"EPA, frequent questions on hazardous waste generation", "S"}},
			{"Waste in satellite areas counts in the month.", Source{"EPA RO 14703", "S"}},
			{"Limits are in kilograms. Printed pounds are rounded: 220 lb is 99.79 kg.", Source{"arithmetic: 1 lb is 0.45359237 kg", "D"}},
			{"A very small quantity generator needs no manifest under the federal rules; states differ.", Source{"40 CFR 262.14, in a summary", "S2"}},
			{"Lines follow the instructions to items 10 to 13 of EPA Form 8700-22, Rev. 12-17; whether later ones changed them was not checked.", Source{"EPA Form 8700-22, instructions", "S"}},
			{"Containment of 10 % of all containers or all of the largest, whichever is greater, binds permitted facilities, not generators by itself.", Source{"40 CFR 264.175(b)(3); whom it binds is from memory", "M"}},
		},
	}
}

// EuropeanList is a set for countries that class waste by the European List of Waste (Decision
// 2000/532/EC) and weigh it in kilograms. It has codes to choose from and no generator categories:
// those, and the terms of storage, are each country's own. Each call returns a fresh copy.
func EuropeanList() RuleSet {
	list := Source{"List of Waste, Decision 2000/532/EC, as in the Dutch text BWBR0013549; GOV.UK, vehicle and oily wastes", "S"}
	other := Source{"List of Waste, Decision 2000/532/EC", "M"}
	filter := Source{list.Cite + "; that a fuel filter falls here is a reading", "M"}
	r := RuleSet{
		Name: "European List of Waste, metric",
		AsOf: put,
		Fill: Fill{DegreeOfFilling, Source{"ADR 2013, 4.1.1.4 (b)", "S"}},
		Questions: []Question{
			{Streams: []Stream{DrainedFuel, FuelWaterMix, SpentCleaner}, Code: "HP 3", Text: "Is the liquid's flash point below 60 °C, or, for gas oil, diesel and light heating oil, above 55 °C and up to 75 °C?",
				Source: Source{"Directive 2008/98/EC, Annex III, HP 3, as ECHA's list of hazardous waste properties gives it", "S2"}},
			{Streams: []Stream{WetElement, DrainedElement}, Text: "Which code does whoever takes it use? A fuel filter is not literally an oil filter.",
				Source: Source{"reading of the List of Waste", "M"}},
			{Streams: []Stream{SpentCleaner, OtherWaste}, Text: "Which code does its safety data sheet and its origin lead to? None is suggested here.",
				Source: Source{"reading of the List of Waste", "M"}},
		},
		Candidates: []Candidate{
			{DrainedFuel, "13 07 01*", "fuel oil and diesel", list},
			{DrainedFuel, "13 07 03*", "other fuels, mixtures included", list},
			{FuelWaterMix, "13 07 03*", "other fuels, mixtures included", list},
			{FuelWaterMix, "13 08 02*", "other emulsions", list},
			{WetElement, "15 02 02*", "contaminated absorbents, filter materials, cloths, clothing", list},
			{WetElement, "16 01 07*", "oil filters", filter},
			{DrainedElement, "15 02 02*", "contaminated absorbents, filter materials, cloths, clothing", list},
			{DrainedElement, "16 01 07*", "oil filters", filter},
			{WetElement, "16 01 21*", "hazardous components other than those of 16 01 07 to 16 01 11, 16 01 13 and 16 01 14", other},
			{DrainedElement, "16 01 21*", "hazardous components other than those of 16 01 07 to 16 01 11, 16 01 13 and 16 01 14", other},
			{Gaskets, "15 02 02*", "contaminated absorbents, filter materials, cloths, clothing", Source{list.Cite + "; that gaskets fall here is a reading", "M"}},
			{Absorbents, "15 02 02*", "contaminated absorbents, filter materials, cloths, clothing", list},
		},
		Notes: []Note{
			{"In England every movement of hazardous waste has a consignment note, kept in a register for three years.", Source{"GOV.UK, hazardous waste", "S"}},
			{"That a consignment note gives its quantities in kilograms is from memory.", Source{"none seen", "M"}},
		},
	}
	return r
}
