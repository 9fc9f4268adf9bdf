// Package sheet lays a plan of package service out as a work sheet: as text, as a page that prints,
// and as JSON, with pictures. What stands on it comes from [service.Plan.Steps] as codes and values;
// the sentences stand here, in one table, and here numbers are rounded for print.
//
//	plan, err := service.NewPlan(job, rules)
//	fmt.Print(sheet.For(plan).Text())
package sheet

import (
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/service"
)

// Version is the version of the JSON form of a [Sheet]: it rises when a field or a code
// changes its meaning or goes away, not when one is added.
const Version = 1

// Sheet is the work sheet as data: what [Sheet.Text], [Sheet.HTML] and [Sheet.JSON] show. It is
// made by [For]. Numbers in it are rounded for print; the plan holds the exact ones.
type Sheet struct {
	Version  int          `json:"version"`
	Job      string       `json:"job"`
	Revision int          `json:"revision"`
	Date     waste.Date   `json:"date"`
	Zone     service.Zone `json:"zone,omitempty"` // of the date
	Machine  string       `json:"machine"`
	Place    string       `json:"place,omitempty"`
	Invented bool         `json:"invented,omitempty"`
	Notices  []Item       `json:"notices"` // what the reader must know of the sheet as a whole
	Findings []Item       `json:"findings"`
	Sections []Section    `json:"sections"` // in the order of the work
}

// Section is a part of the sheet. Code says which, the same in every language: "start", "isolate",
// "parts", "station", "prime", "run", "leaks", "restore", "waste", "record", "next", "sources", or one added later.
type Section struct {
	Number  int    `json:"number"`
	Code    string `json:"code"`
	Station string `json:"station,omitempty"` // the ID of the station that it is about
	Title   string `json:"title"`
	Items   []Item `json:"items"`
}

// Item is one thing on the sheet. A program goes by Code and Values, which are the same in every
// language; Words say the same in English, with a decimal comma where the job asks for one.
type Item struct {
	Kind   string            `json:"kind"` // of the [service.StepKind], or "finding"
	Code   string            `json:"code"`
	Letter string            `json:"letter,omitempty"` // of a thing taken out of service: "A"
	Words  string            `json:"words,omitempty"`
	Values map[string]string `json:"values,omitempty"` // what Words are filled in with, and what goes with it

	Level  string `json:"level,omitempty"`  // of a finding or a hazard: "note", "caution", "warning", "stop"
	Where  string `json:"where,omitempty"`  // of a finding: the path in the job file
	Source string `json:"source,omitempty"` // of a finding: the rule

	Table   *Table   `json:"table,omitempty"`
	Picture *Picture `json:"picture,omitempty"`
}

// Table has a heading for each figure and a column of figures for each case.
type Table struct {
	Heads   []string   `json:"heads"`
	Columns [][]string `json:"columns"` // each as long as Heads
}

// For puts a plan into the order of the work and into words. Estimates are rounded outward,
// bands inward, everything else to nearest even; beside a rounded number stands what it was
// rounded from. Characters that don't print, as only a job made in Go can hold, become "?".
func For(plan *service.Plan) Sheet {
	j, print := plan.Job, printerOf(plan.Job.Preferences)
	s := Sheet{Version: Version, Job: plain.Clean(j.ID), Revision: j.Revision, Date: j.Date, Zone: j.Zone,
		Machine: plain.Clean(j.Machine), Place: plain.Clean(j.Place), Invented: j.Invented, Findings: print.findings(plan.Findings)}
	for _, part := range plan.Steps() {
		section := Section{Number: len(s.Sections) + 1, Code: part.Code}
		title := service.Values(nil)
		if part.Station != nil {
			section.Station = plain.Clean(part.Station.Station.ID)
			title = service.Values{{Name: "station", Value: part.Station.Station.ID}, {Name: "name", Value: part.Station.Station.Name}}
		}
		section.Title, _ = print.words("title", part.Code, title)
		for _, step := range part.Steps {
			if it, shown := print.item(step, part.Station); shown {
				section.Items = append(section.Items, it)
			}
		}
		if part.Code == "notice" {
			s.Notices = section.Items
		} else {
			s.Sections = append(s.Sections, section)
		}
	}
	return s
}

// item puts a step into words, or into the table or picture that it stands for. A picture isn't shown
// where there is nothing to draw.
func (p printer) item(step service.Step, station *service.StationPlan) (it Item, shown bool) {
	it = Item{Kind: step.Kind.String(), Code: step.Code, Letter: step.Letter}
	if step.Level != 0 {
		it.Level = strings.ToLower(step.Level.String())
	}
	switch step.Kind {
	case service.Grid:
		it.Table = marksTable(*station)
	case service.Drawing:
		it.Picture = p.picture(step.Code, *station)
		return it, it.Picture != nil
	default:
		it.Words, it.Values = p.words(step.Code, step.Variant, step.Values)
	}
	return it, true
}

// findings stand with the gravest first.
func (p printer) findings(all []service.Finding) []Item {
	items := []Item{}
	for _, level := range []service.Level{service.Stop, service.Warning, service.Caution, service.Note} {
		for _, f := range all {
			if f.Level == level {
				it := Item{Kind: "finding", Code: f.Code, Level: strings.ToLower(level.String()), Where: f.Where, Source: plain.Clean(f.Source)}
				it.Words, it.Values = p.words(f.Code, f.Variant, f.Values)
				items = append(items, it)
			}
		}
	}
	return items
}

// fill puts values in the place of their names, in one pass: a value that looks like a name stays
// as it is.
func fill(words string, values map[string]string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(words, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, after, _ := strings.Cut(rest, "}")
		b.WriteString(values[name])
		words = after
	}
}
