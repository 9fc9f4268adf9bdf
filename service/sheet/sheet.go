// Package sheet puts what package service says as codes and values into words: a plan as a work sheet, as text, as a
// page that prints and as JSON, with pictures; a review; a finding. The sentences are in the catalogues under words, one
// a language, and here alone numbers are rounded for print.
//
//	plan, err := service.NewPlan(job, rules)
//	fmt.Print(sheet.English().Sheet(plan, false).Text())
package sheet

import (
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
// made by [Words.Sheet]. Numbers in its words are rounded for print; its values are exact.
type Sheet struct {
	Version  int        `json:"version"`
	Lang     string     `json:"lang"` // of its words, as a tag (BCP 47)
	Job      string     `json:"job"`
	Revision int        `json:"revision"`
	Date     waste.Date `json:"date"`
	Zone     waste.Zone `json:"zone,omitempty"` // of the date
	Machine  string     `json:"machine"`
	Place    string     `json:"place,omitempty"`
	Invented bool       `json:"invented,omitempty"`
	Pages    []Page     `json:"pages"` // in the order of the work

	words *Words
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
// language; Words say the same in that of the sheet, with a decimal comma where the job asks for one.
type Item struct {
	Kind   string         `json:"kind"`             // of the [service.StepKind], or "finding"
	Code   string         `json:"code"`             // of [service.Codes]; more may be added
	Letter string         `json:"letter,omitempty"` // of a thing taken out of service: "A"
	Words  string         `json:"words,omitempty"`
	Own    []string       `json:"own,omitempty"`    // what in Words and Source, in their order, is the job's or a source's own text
	Values service.Values `json:"values,omitempty"` // what Words are filled in with, and what goes with it

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

// Sheet puts a plan into the order of the work and into words: a page for before the work, a card for each
// station, a page for priming until all is back in service, and one for the office. Estimates are
// rounded outward, bands inward, everything else to nearest even. Characters that don't print, as only a job
// made in Go can hold, become "?". With numbers there is one page more, for who asks where they come from:
// exact values, second units, deviations, rules and sources.
func (w *Words) Sheet(plan *service.Plan, numbers bool) Sheet {
	j, p := plan.Job, w.printer(plan.Job.Preferences)
	s := Sheet{Version: version, Lang: w.said.Language, Job: plain.Clean(j.ID), Revision: j.Revision, Date: j.Date, Zone: j.Zone,
		Machine: plain.Clean(j.Machine), Place: plain.Clean(j.Place), Invented: j.Invented, words: w}
	for _, phase := range plan.Steps() {
		if phase.Page == "numbers" && !numbers {
			continue
		}
		page := s.page(p, phase)
		page.Sections = append(page.Sections, p.part(phase))
		switch phase.Code {
		case "notice":
			page.findings(p, plan.Findings, "findings", service.Stop, service.Warning, service.Caution)
		case "record":
			page.findings(p, plan.Findings, "notes", service.Note)
		}
	}
	return s
}

// in are the words that a sheet was made with, or those of its language where it was read.
func (s Sheet) in() *Words {
	if s.words != nil {
		return s.words
	}
	if w, err := In(s.Lang); err == nil {
		return w
	}
	return English()
}

// page is the last page, or a new one where the phase begins one.
func (s *Sheet) page(p printer, phase service.Phase) *Page {
	id, name := "", ""
	if phase.Page == "card" {
		id, name = plain.Clean(phase.Station.Station.ID), plain.Clean(phase.Station.Station.Name)
	}
	if last := len(s.Pages) - 1; last >= 0 && s.Pages[last].Code == phase.Page && s.Pages[last].Station == id {
		return &s.Pages[last]
	}
	s.Pages = append(s.Pages, Page{Number: len(s.Pages) + 1, Code: phase.Page, Station: id, Name: name, Title: p.title("page", phase.Page, phase)})
	return &s.Pages[len(s.Pages)-1]
}

// title is that of a page or of a part of one.
func (p printer) title(of, code string, phase service.Phase) string {
	if phase.Station == nil {
		return p.code(of + "/" + code)
	}
	return p.code(of+"/"+code, "station", phase.Station.Station.ID, "name", phase.Station.Station.Name)
}

// part puts a phase into words.
func (p printer) part(phase service.Phase) Section {
	part := Section{Code: phase.Code, Title: p.title("title", phase.Code, phase)}
	if phase.Station != nil {
		part.Station = plain.Clean(phase.Station.Station.ID)
	}
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
	switch step.Kind {
	case service.Grid:
		it.Table = p.marksTable(*station)
	case service.Drawing:
		if it.Picture = p.picture(step.Code, *station); it.Picture == nil {
			return it, false
		}
	default:
		it = p.saying(step.Message)
	}
	it.Kind, it.Code, it.Letter = step.Kind.String(), step.Code, step.Letter
	if step.Level != 0 {
		it.Level = strings.ToLower(step.Level.String())
	}
	if step.Code == "turn.sense" {
		it.Words = strings.ToUpper(it.Words)
	}
	return it, true
}

// saying is a message in words.
func (p printer) saying(m service.Message) Item {
	*p.own = nil
	it := Item{Code: m.Code, Words: p.say(m), Own: *p.own, Values: slices.Clone(m.Values)}
	for i, v := range it.Values {
		if text, is := v.Value.(string); is {
			it.Values[i].Value = plain.Clean(text)
		}
	}
	return it
}

// finding is a finding in words.
func (p printer) finding(f service.Finding) Item {
	it := p.saying(f.Message)
	it.Kind, it.Level, it.Where = "finding", strings.ToLower(f.Level.String()), f.Where
	*p.own = nil
	it.Source = p.sources(f.Sources)
	it.Own = append(it.Own, *p.own...)
	return it
}

// sources are codes in words, and labels as they are.
func (p printer) sources(all []string) string {
	said := make([]string, len(all))
	for i, source := range all {
		words, known := p.said.Sentences["source/"+source]
		if said[i] = words; !known {
			said[i] = p.print(service.Value{Value: source}, "")
		}
	}
	return strings.Join(said, "; ")
}

// findings of some levels are with the gravest first.
func (page *Page) findings(p printer, all []service.Finding, code string, levels ...service.Level) {
	part := Section{Code: code, Title: p.code("title/" + code)}
	for _, level := range levels {
		for _, f := range all {
			if f.Level == level {
				part.Items = append(part.Items, p.finding(f))
			}
		}
	}
	if len(part.Items) > 0 {
		page.Sections = append(page.Sections, part)
	}
}
