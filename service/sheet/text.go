package sheet

import (
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/service"
)

// Text is the sheet for a terminal or a line printer: 80 columns, no colour, a box before each
// thing to do. Pictures are left out; what they show stands in the words beside them.
func (s Sheet) Text() string {
	var t text
	t.Rule()
	t.Line("", "FUEL FILTER SERVICE job "+s.Job+fmt.Sprintf(", revision %d, planned for %s", s.Revision, dated(s.Date, s.Zone)))
	t.Line("", machine(s))
	for _, notice := range s.Notices {
		t.Line("", notice.Words)
	}
	t.Rule()
	if len(s.Findings) > 0 {
		t.WriteByte('\n')
	}
	for _, f := range s.Findings {
		t.Line(fmt.Sprintf("! %-8s ", strings.ToUpper(f.Level)), withSource(f))
	}
	for _, section := range s.Sections {
		t.WriteByte('\n')
		t.Line("", fmt.Sprintf("%d. %s", section.Number, heading(section)))
		for _, item := range section.Items {
			t.item(item)
		}
	}
	t.Rule()
	return t.String()
}

// heading is a title in capitals, but for what the job says: µm would come out as ΜM.
func heading(section Section) string {
	if own, names, found := strings.Cut(section.Title, " "); found && section.Station != "" {
		return strings.ToUpper(own) + " " + names
	}
	return strings.ToUpper(section.Title)
}

// machine is what is serviced and where it stands.
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
type text struct{ wrap.Text }

func (t *text) item(it Item) {
	switch it.Kind {
	case "do":
		t.Line("   [ ] ", letter(it)+it.Words)
	case "know":
		t.Line("   -   ", signal(it)+it.Words)
	case "detail":
		t.Line("       ", it.Words)
	case "blank":
		t.Line("       ", it.Words+" "+strings.Repeat("_", max(4, 64-wrap.Columns(it.Words))))
	case "table":
		t.table(*it.Table)
	}
}

// signal is "WARNING: " before what may kill or injure, and nothing before what has no level.
func signal(it Item) string {
	if it.Level == "" {
		return ""
	}
	return strings.ToUpper(it.Level) + ": "
}

// letter is "A. " before a step that comes back, and nothing before another.
func letter(it Item) string {
	if it.Letter == "" {
		return ""
	}
	return it.Letter + ". "
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
func dated(d waste.Date, z service.Zone) string {
	if z == "" {
		return d.String()
	}
	return d.String() + " (" + string(z) + ")"
}
