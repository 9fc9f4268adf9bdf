package main

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"html/template"
	"io"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/units"
)

//go:embed page.tmpl
var pageText string

//go:embed label.tmpl
var labelText string

var (
	pageTemplate  = template.Must(template.New("page").Parse(pageText))
	labelTemplate = template.Must(template.New("label").Parse(labelText))
)

// lines are those that a row takes, of at most 80 columns.
func lines(r row) []string {
	var t wrap.Text
	lead := "  "
	if r.More {
		lead = "      "
	}
	t.Line(lead, r.Text)
	return strings.SplitAfter(strings.TrimSuffix(t.String(), "\n"), "\n")
}

func (p page) text(out io.Writer) error {
	var t wrap.Text
	t.Line("", p.Title)
	if p.Invented != "" {
		t.Line("", p.Invented)
	}
	for _, s := range p.Sections {
		t.WriteString("\n")
		t.Line("", s.Title)
		for _, r := range s.Rows {
			t.WriteString(strings.Join(lines(r), "") + "\n")
		}
	}
	_, err := io.WriteString(out, t.String())
	return err
}

func (p page) html(out io.Writer, language string) error {
	return pageTemplate.Execute(out, struct {
		page
		Language string
	}{p, language})
}

// csv writes the rows as a table: what is a number has a column of its own, exactly, in kilograms. A spreadsheet
// takes no field for a formula.
func (p page) csv(out io.Writer) error {
	w := csv.NewWriter(out)
	w.Write([]string{"section", "code", "by", "drum", "low kg", "best kg", "high kg", "text"})
	if p.Invented != "" {
		w.Write([]string{"", "invented", "", "", "", "", "", safe(p.Invented)})
	}
	for _, s := range p.Sections {
		for _, r := range s.Rows {
			fields := []string{s.Code, r.Code, "", safe(r.Drum), "", "", "", safe(r.Text)}
			if r.By != (waste.Date{}) {
				fields[2] = r.By.String()
			}
			if r.Mass.From != 0 {
				for i, m := range []units.Mass{r.Mass.Low, r.Mass.Best, r.Mass.High} {
					fields[4+i] = m.In(units.Kilogram).Magnitude().String()
				}
			}
			w.Write(fields)
		}
	}
	w.Flush()
	return w.Error()
}

// safe keeps a field from being a formula: of a spreadsheet's own signs none is left at its start.
func safe(field string) string {
	if strings.IndexAny(field, "=+-@\t\r\n") == 0 || strings.HasPrefix(field, "＝") || strings.HasPrefix(field, "＋") || strings.HasPrefix(field, "－") || strings.HasPrefix(field, "＠") {
		return "'" + field
	}
	return field
}

// label is what is stuck to a drum. What is in it is said in words, and whether that is hazardous waste only as
// its generator determined it.
func (o *office) label(w words, drum, ask, language string, out io.Writer) error {
	for _, d := range o.Drums {
		if d.Container.ID == drum {
			return labelTemplate.Execute(out, o.labelOf(w, d, ask, language))
		}
	}
	return fmt.Errorf("-label %.64q: no such drum", drum)
}

// labelled is a label's contents.
type labelled struct {
	Language, Invented, Title string
	Rows                      []labelRow
	Caveat, Printed           string
}

type labelRow struct {
	Code, Head string
	Lines      []string
}

func (o *office) labelOf(w words, d waste.Drum, ask, language string) labelled {
	l := labelled{Language: language, Title: w.say("label.title", "drum", d.Container.ID), Caveat: w.say("caveat"), Printed: w.say("label.print", "on", o.On)}
	if o.Invented {
		l.Invented = w.say("invented")
	}
	add := func(code string, lines ...string) {
		if len(lines) > 0 {
			l.Rows = append(l.Rows, labelRow{code, w.say("label." + code), lines})
		}
	}
	contents := w.streams(d.Contents)
	if contents == "" {
		contents = w.say("label.empty")
	}
	add("contents", contents)
	started := d.Container.Started
	if d.Container.Satellite || started == (waste.Date{}) {
		started = d.Opened
	}
	if started == (waste.Date{}) {
		add("started", w.say("label.started/none"))
	} else {
		add("started", started.String())
	}
	if d.Closed != (waste.Date{}) {
		add("closed", d.Closed.String())
	}
	var determined, questions []string
	for _, t := range d.Contents {
		code := map[waste.Determination]string{waste.Undetermined: "label.undetermined", waste.Hazardous: "label.hazardous", waste.NotCounted: "label.other"}[t.Determination]
		determined = append(determined, w.say(code, "stream", t.Stream))
		if t.Determination == waste.Undetermined {
			questions = append(questions, o.questions(t.Stream)...)
		}
	}
	for _, n := range d.Notices {
		if n.Code == "ask.mixed" {
			questions = append(questions, o.notice(w, n).Text)
		}
	}
	if len(questions) == 0 {
		questions = []string{w.say("label.questions.none")}
	}
	add("determination", determined...)
	add("questions", unique(questions)...)
	if ask == "" {
		ask = w.say("label.ask.nobody")
	}
	add("ask", ask)
	return l
}

func unique(texts []string) (once []string) {
	seen := map[string]bool{}
	for _, text := range texts {
		if !seen[text] {
			seen[text], once = true, append(once, text)
		}
	}
	return once
}
