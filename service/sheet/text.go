package sheet

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/wrap"
)

// Text is the sheet for a terminal or a line printer: 80 columns, no colour, a box before each
// thing to do. Pictures are left out; what they show is in the words next to them.
func (s Sheet) Text() string { return s.lines(false) }

// ASCII is [Sheet.Text] for what prints no other characters: "14.7 N.m", "35 degC", "4 um". A
// character of the job's own texts that has no such form becomes "?".
func (s Sheet) ASCII() string { return s.lines(true) }

func (s Sheet) lines(ascii bool) string {
	t := &text{ascii: ascii, printer: s.in().printer(nil)}
	for _, page := range s.Pages {
		t.Rule()
		t.Line("", page.heading())
		t.Line("", t.printer.code("frame/line", "job", s.Job, "revision", s.Revision, "date", dated(s.Date, s.Zone), "page", page.Number, "pages", len(s.Pages)))
		t.Line("", machine(s))
		if draft := t.printer.said.Draft; draft != "" {
			t.Line("", draft)
		}
		t.Rule()
		for _, part := range page.Sections {
			if part.Title != "" {
				t.WriteByte('\n')
				t.Line("", part.heading())
			}
			for _, item := range part.Items {
				t.item(item)
			}
		}
		t.WriteByte('\n')
	}
	return t.String()
}

// heading is the title in capitals, but for the station's name: µm would come out as ΜM.
func (p Page) heading() string {
	words := ""
	for _, part := range spans(p.Title, p.Name) {
		if !part.Own {
			part.Text = strings.ToUpper(part.Text)
		}
		words += part.Text
	}
	return words
}

func (p Section) heading() string {
	if p.Station != "" && p.Code == "station" {
		return p.Title
	}
	return strings.ToUpper(p.Title)
}

// machine is what is serviced and where it is.
func machine(s Sheet) string {
	return strings.Join(slices.DeleteFunc([]string{s.Machine, s.Place}, func(t string) bool { return t == "" }), ", ")
}

func withSource(finding Item) string {
	if finding.Source == "" {
		return finding.Words
	}
	return finding.Words + " (" + finding.Source + ")"
}

// text is a sheet in lines.
type text struct {
	wrap.Text
	ascii   bool
	printer printer
}

// Line is [wrap.Text.Line], in ASCII where that is wanted: before the words are wrapped, since they
// may grow.
func (t *text) Line(lead, words string) {
	if t.ascii {
		lead, words = toASCII(lead), toASCII(wrap.Together(words))
	}
	t.Text.Line(lead, words)
}

func toASCII(words string) string {
	return strings.Map(func(r rune) rune {
		if r > unicode.MaxASCII && r != noBreak {
			return '?'
		}
		return r
	}, asciiForms.Replace(words))
}

// asciiForms are written as package units reads them too.
var asciiForms = strings.NewReplacer("°C", "degC", "°F", "degF", " °", " deg", "°", " deg", "·", ".", "×", "x", "µ", "u", "μ", "u", "±", "+/-",
	"²", "2", "³", "3", "₂", "2", "…", "...", "–", "-", "—", "-", "−", "-", "‘", "'", "’", "'", "“", `"`, "”", `"`)

const noBreak = '\u00a0' // which package wrap writes as a blank

func (t *text) item(it Item) {
	switch it.Kind {
	case "do", "know", "detail", "alarm":
		lead := map[string]string{"do": "   [ ] ", "know": "   -   ", "detail": "       ", "alarm": "   !!  "}[it.Kind]
		t.Line(lead, t.lead(it)+it.Words)
	case "figure":
		t.Line("   >>> ", it.Words+strings.Repeat(" [ ]", strings.Count(it.Code, "stage")))
	case "finding":
		t.Line(fmt.Sprintf(" ! %-8s ", t.printer.word(strings.ToUpper(it.Level))), withSource(it))
	case "blank":
		t.Line("         ", blanks.Replace(it.Words))
	case "table":
		t.table(*it.Table)
	}
}

// blanks makes room to write and boxes to tick, as wide as a line printer's.
var blanks = strings.NewReplacer("____", strings.Repeat("_", 16), "___", strings.Repeat("_", 10), "__", strings.Repeat("_", 6), "☐ ", "[ ] ")

// lead is "A. " before a step that comes back, and "WARNING: " before what may kill or injure.
func (t *text) lead(it Item) string {
	switch {
	case it.Letter != "":
		return it.Letter + ". "
	case it.Level != "":
		return t.printer.word(strings.ToUpper(it.Level)) + ": "
	}
	return ""
}

// table writes a line for each case.
func (t *text) table(table Table) {
	for _, column := range table.Columns {
		words := table.Heads[0] + " " + column[0] + ":"
		for i := 1; i < len(column); i++ {
			words += strings.Repeat(";", min(1, i-1)) + " " + table.Heads[i] + " " + column[i]
		}
		t.Line("         ", words)
	}
}

// dated is a date with its zone, where one is known.
func dated(d waste.Date, z waste.Zone) printed {
	if z == "" {
		return printed(d.String())
	}
	return printed(d.String() + " (" + string(z) + ")")
}
