// Package sheet lays a plan of package service out as a work sheet: as text, as a page that prints,
// and as JSON, with pictures. What stands on it comes from [service.Plan.Steps] as codes and values;
// the sentences stand here, in one table, and here numbers are rounded for print.
//
//	plan, err := service.NewPlan(job, rules)
//	fmt.Print(sheet.For(plan, false).Text())
package sheet

import (
	"cmp"
	"slices"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/service"
)

// version is the version of the JSON form of a [Sheet]: it rises when a field or a code
// changes its meaning or goes away, not when one is added.
const version = 1

// Sheet is the work sheet as data: what [Sheet.Text], [Sheet.HTML] and [Sheet.JSON] show. It is
// made by [For]. Numbers in it are rounded for print; the plan holds the exact ones.
type Sheet struct {
	Version  int        `json:"version"`
	Job      string     `json:"job"`
	Revision int        `json:"revision"`
	Date     waste.Date `json:"date"`
	Zone     waste.Zone `json:"zone,omitempty"` // of the date
	Machine  string     `json:"machine"`
	Place    string     `json:"place,omitempty"`
	Invented bool       `json:"invented,omitempty"`
	Pages    []Page     `json:"pages"` // in the order of the work
}

// Page is what one person needs at one place, on paper of its own. Code says which, the same in every
// language: "start" before the work, "card" at a station, "prime" from priming until all is back in service,
// "office", and "numbers" for where the numbers come from.
type Page struct {
	Number   int       `json:"number"`
	Code     string    `json:"code"`
	Station  string    `json:"station,omitempty"` // the ID of the station that a card is for
	Name     string    `json:"name,omitempty"`    // of that station
	Title    string    `json:"title"`
	Sections []Section `json:"sections"`
}

// Section is a part of a page. Code says which: those of [service.Phase], and "findings".
type Section struct {
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

// For puts a plan into the order of the work and into words: a page for before the work, a card for each
// station, a page for priming until all is back in service, and one for the office. Estimates are
// rounded outward, bands inward, everything else to nearest even. Characters that don't print, as only a job
// made in Go can hold, become "?". With numbers there is one page more, for who asks where they come from:
// exact values, second units, deviations, rules and sources.
func For(plan *service.Plan, numbers bool) Sheet {
	j, print := plan.Job, printerOf(plan.Job.Preferences)
	s := Sheet{Version: version, Job: plain.Clean(j.ID), Revision: j.Revision, Date: j.Date, Zone: j.Zone,
		Machine: plain.Clean(j.Machine), Place: plain.Clean(j.Place), Invented: j.Invented}
	for _, phase := range plan.Steps() {
		if phase.Page == "numbers" && !numbers {
			continue
		}
		page := s.page(print, phase)
		page.Sections = append(page.Sections, print.part(phase))
		switch phase.Code {
		case "notice":
			page.findings(print, plan.Findings, "findings", service.Stop, service.Warning, service.Caution)
		case "record":
			page.findings(print, plan.Findings, "notes", service.Note)
		}
	}
	return s
}

// page is the last page, or a new one where the phase begins one.
func (s *Sheet) page(p printer, phase service.Phase) *Page {
	id, names := "", service.Values(nil)
	if phase.Page == "card" {
		id = plain.Clean(phase.Station.Station.ID)
		names = station(phase)
	}
	if last := len(s.Pages) - 1; last >= 0 && s.Pages[last].Code == phase.Page && s.Pages[last].Station == id {
		return &s.Pages[last]
	}
	title, _ := p.words("page", phase.Page, names)
	s.Pages = append(s.Pages, Page{Number: len(s.Pages) + 1, Code: phase.Page, Station: id, Title: title})
	page := &s.Pages[len(s.Pages)-1]
	if id != "" {
		page.Name = plain.Clean(phase.Station.Station.Name)
	}
	return page
}

// station names the station of a phase, for a title.
func station(phase service.Phase) service.Values {
	if phase.Station == nil {
		return nil
	}
	return service.Values{{Name: "station", Value: phase.Station.Station.ID}, {Name: "name", Value: phase.Station.Station.Name}}
}

// part puts a phase into words.
func (p printer) part(phase service.Phase) Section {
	part := Section{Code: phase.Code}
	if phase.Station != nil {
		part.Station = plain.Clean(phase.Station.Station.ID)
	}
	part.Title, _ = p.words("title", phase.Code, station(phase))
	for _, step := range phase.Steps {
		if it, shown := p.item(step, phase.Station); shown {
			part.Items = append(part.Items, it)
		}
	}
	return part
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
		return it, true
	case service.Drawing:
		it.Picture = p.picture(step.Code, *station)
		return it, it.Picture != nil
	}
	it.Words, it.Values = p.words(step.Code, step.Variant, step.Values)
	if step.Code == "turn.sense" {
		it.Words = strings.ToUpper(it.Words)
	}
	return it, true
}

// findings of some levels stand with the gravest first.
func (page *Page) findings(p printer, all []service.Finding, code string, levels ...service.Level) {
	part := Section{Code: code}
	part.Title, _ = p.words("title", code, nil)
	for _, level := range levels {
		for _, f := range all {
			if f.Level == level {
				it := Item{Kind: "finding", Code: f.Code, Level: strings.ToLower(level.String()), Where: f.Where, Source: plain.Clean(sources(f.Sources))}
				it.Words, it.Values = p.words(f.Code, f.Variant, f.Values)
				part.Items = append(part.Items, it)
			}
		}
	}
	if len(part.Items) > 0 {
		page.Sections = append(page.Sections, part)
	}
}

// sources are codes in words, and labels as they are.
func sources(all []string) string {
	said := slices.Clone(all)
	for i, source := range said {
		said[i] = cmp.Or(sentences["source/"+source], source)
	}
	return strings.Join(said, "; ")
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
