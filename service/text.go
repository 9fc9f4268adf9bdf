package service

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/snugturn/units"
)

const sheetWidth = 80

// Text is the work sheet as text: [Plan.Sheet], then [Sheet.Text].
func (p *Plan) Text() string { return p.Sheet().Text() }

// Text is the sheet for a terminal or a line printer: 80 columns, no colour, a box before each
// thing to do. Pictures are left out; what they show stands in the words beside them.
func (s Sheet) Text() string {
	var t text
	t.rule()
	t.line("", "FUEL FILTER SERVICE job "+s.Job+fmt.Sprintf(", revision %d, planned for %s", s.Revision, dated(s.Date, s.Zone)))
	t.line("", machine(s))
	for _, notice := range s.Notices {
		t.line("", notice.Words)
	}
	t.rule()
	if len(s.Findings) > 0 {
		t.b.WriteByte('\n')
	}
	for _, f := range s.Findings {
		t.line(fmt.Sprintf("! %-8s ", strings.ToUpper(f.Level)), withSource(f))
	}
	for _, section := range s.Sections {
		t.b.WriteByte('\n')
		t.line("", fmt.Sprintf("%d. %s", section.Number, heading(section)))
		for _, item := range section.Items {
			t.item(item)
		}
	}
	t.rule()
	return t.b.String()
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

// text writes wrapped lines.
type text struct{ b strings.Builder }

func (t *text) rule() { t.b.WriteString(strings.Repeat("=", sheetWidth) + "\n") }

func (t *text) item(it Item) {
	switch it.Kind {
	case "do":
		t.line("   [ ] ", letter(it)+it.Words)
	case "know":
		t.line("   -   ", signal(it)+it.Words)
	case "detail":
		t.line("       ", it.Words)
	case "blank":
		t.line("       ", it.Words+" "+strings.Repeat("_", max(4, 64-columns(it.Words))))
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

// line writes words behind a lead such as "   [ ] ", wrapped with the following lines indented
// as far as the lead. A word longer than a line is cut.
func (t *text) line(lead, words string) {
	indent := columns(lead)
	t.b.WriteString(lead)
	used := indent
	for _, word := range strings.FieldsFunc(together(clean(words)), func(r rune) bool { return r == ' ' }) {
		n := columns(word)
		switch {
		case used == indent:
		case used+1+n > sheetWidth:
			used = t.wrap(indent)
		default:
			t.b.WriteByte(' ')
			used++
		}
		for _, r := range word {
			n := width(r)
			if used+n > sheetWidth {
				used = t.wrap(indent)
			}
			if r == noBreak {
				r = ' '
			}
			t.b.WriteRune(r)
			used += n
		}
	}
	t.b.WriteByte('\n')
}

func (t *text) wrap(indent int) int {
	t.b.WriteString("\n" + strings.Repeat(" ", indent))
	return indent
}

// columns is how many of a terminal a text takes.
func columns(text string) (n int) {
	for _, r := range text {
		n += width(r)
	}
	return n
}

// width is two columns for what Unicode Standard Annex 11 calls wide, none for marks that stand on
// the character before them, and one for all else.
func width(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case unicode.Is(twoColumns, r):
		return 2
	}
	return 1
}

// twoColumns are the blocks of wide and fullwidth characters, from memory (M): Hangul, Han, Kana and
// what stands among them, fullwidth forms, and pictures.
var twoColumns = &unicode.RangeTable{
	R16: []unicode.Range16{{Lo: 0x1100, Hi: 0x115F, Stride: 1}, {Lo: 0x2E80, Hi: 0x303E, Stride: 1}, {Lo: 0x3041, Hi: 0xA4CF, Stride: 1},
		{Lo: 0xAC00, Hi: 0xD7A3, Stride: 1}, {Lo: 0xF900, Hi: 0xFAFF, Stride: 1}, {Lo: 0xFE30, Hi: 0xFE6F, Stride: 1},
		{Lo: 0xFF00, Hi: 0xFF60, Stride: 1}, {Lo: 0xFFE0, Hi: 0xFFE6, Stride: 1}},
	R32: []unicode.Range32{{Lo: 0x1F300, Hi: 0x1F64F, Stride: 1}, {Lo: 0x1F680, Hi: 0x1F6FF, Stride: 1}, {Lo: 0x1F900, Hi: 0x1F9FF, Stride: 1},
		{Lo: 0x20000, Hi: 0x3FFFD, Stride: 1}},
}

const noBreak = '\u00a0'

// together puts a no-break space where a line must not end: before a unit, and in "low / best /
// high".
func together(words string) string {
	tokens := strings.Split(words, " ")
	var b strings.Builder
	b.WriteString(tokens[0])
	bound := false // to the number before it
	for i, token := range tokens[1:] {
		before := tokens[i]
		number := endsInDigit(before)
		bound = (number || bound) && unitWords[strings.TrimRight(token, ".,;:)")] ||
			number && token == "/" || before == "/" && i > 0 && endsInDigit(tokens[i-1])
		if bound {
			b.WriteRune(noBreak)
		} else {
			b.WriteByte(' ')
		}
		b.WriteString(token)
	}
	return b.String()
}

func endsInDigit(word string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	return '0' <= last && last <= '9' || last == '…'
}

// unitWords are what follows a number on the same line.
var unitWords = func() map[string]bool {
	words := map[string]bool{"%": true, "s": true, "min": true, "h": true, "turn": true, "turns": true}
	addSymbols[units.TorqueUnit](words)
	addSymbols[units.LengthUnit](words)
	addSymbols[units.VolumeUnit](words)
	addSymbols[units.MassUnit](words)
	addSymbols[units.DensityUnit](words)
	addSymbols[units.FlowUnit](words)
	addSymbols[units.PressureUnit](words)
	words["°C"], words["°F"] = true, true
	return words
}()

func addSymbols[U units.Unit](words map[string]bool) {
	for u := range units.All[U]() {
		for _, word := range strings.Fields(u.String()) {
			words[word] = true
		}
	}
}

// table writes a line for each case.
func (t *text) table(table Table) {
	for _, column := range table.Columns {
		words := table.Heads[0] + " " + column[0] + ":"
		for i := 1; i < len(column); i++ {
			words += strings.Repeat(";", min(1, i-1)) + " " + table.Heads[i] + " " + column[i]
		}
		t.line("         ", words)
	}
}
