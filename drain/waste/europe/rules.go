package europe

import (
	"time"

	"example.com/snugturn/drain/waste"
)

// RuleSet is a set for countries that class waste by the European List of Waste (Decision
// 2000/532/EC) and weigh it in kilograms. It has codes to choose from and no generator categories:
// those, and the terms of storage, are each country's own. Each call returns a fresh copy.
func RuleSet() waste.RuleSet {
	list := source("List of Waste, Decision 2000/532/EC, as in the Dutch text BWBR0013549; GOV.UK, vehicle and oily wastes", "S")
	other := source("List of Waste, Decision 2000/532/EC", "M")
	filter := source(list.Cite+"; that a fuel filter falls here is a reading", "M")
	return waste.RuleSet{
		Name: "European List of Waste, metric",
		AsOf: waste.Date{Year: 2026, Month: time.November, Day: 25},
		Fill: waste.FillRule{By: "degree of filling", Source: source("ADR 2013, 4.1.1.4 (b)", "S")},
		Questions: []waste.Question{
			{Streams: []waste.Stream{waste.DrainedFuel, waste.FuelWaterMix, waste.SpentCleaner}, Code: "HP 3", Text: "Is the liquid's flash point below 60 °C, or, for gas oil, diesel and light heating oil, above 55 °C and up to 75 °C?",
				Source: source("Directive 2008/98/EC, Annex III, HP 3, as ECHA's list of hazardous waste properties gives it", "S2")},
			{Streams: []waste.Stream{waste.WetElement, waste.DrainedElement}, Text: "Which code does whoever takes it use? A fuel filter is not literally an oil filter.",
				Source: source("reading of the List of Waste", "M")},
			{Streams: []waste.Stream{waste.SpentCleaner, waste.OtherWaste}, Text: "Which code does its safety data sheet and its origin lead to? None is suggested here.",
				Source: source("reading of the List of Waste", "M")},
		},
		Candidates: []waste.Candidate{
			{Stream: waste.DrainedFuel, Code: "13 07 01*", Title: "fuel oil and diesel", Source: list},
			{Stream: waste.DrainedFuel, Code: "13 07 03*", Title: "other fuels, mixtures included", Source: list},
			{Stream: waste.FuelWaterMix, Code: "13 07 03*", Title: "other fuels, mixtures included", Source: list},
			{Stream: waste.FuelWaterMix, Code: "13 08 02*", Title: "other emulsions", Source: list},
			{Stream: waste.WetElement, Code: "15 02 02*", Title: "contaminated absorbents, filter materials, cloths, clothing", Source: list},
			{Stream: waste.WetElement, Code: "16 01 07*", Title: "oil filters", Source: filter},
			{Stream: waste.DrainedElement, Code: "15 02 02*", Title: "contaminated absorbents, filter materials, cloths, clothing", Source: list},
			{Stream: waste.DrainedElement, Code: "16 01 07*", Title: "oil filters", Source: filter},
			{Stream: waste.WetElement, Code: "16 01 21*", Title: "hazardous components other than those of 16 01 07 to 16 01 11, 16 01 13 and 16 01 14", Source: other},
			{Stream: waste.DrainedElement, Code: "16 01 21*", Title: "hazardous components other than those of 16 01 07 to 16 01 11, 16 01 13 and 16 01 14", Source: other},
			{Stream: waste.Gaskets, Code: "15 02 02*", Title: "contaminated absorbents, filter materials, cloths, clothing", Source: source(list.Cite+"; that gaskets fall here is a reading", "M")},
			{Stream: waste.Absorbents, Code: "15 02 02*", Title: "contaminated absorbents, filter materials, cloths, clothing", Source: list},
		},
		Notes: []waste.Remark{
			{Text: "In England every movement of hazardous waste has a consignment note, kept in a register for three years.", Source: source("GOV.UK, hazardous waste", "S")},
			{Text: "That a consignment note gives its quantities in kilograms is from memory.", Source: source("none seen", "M")},
		},
	}
}

// source is a citation and how well it is known: see [waste.Source].
func source(cite, grade string) waste.Source { return waste.Source{Cite: cite, Grade: grade} }
