package sheet

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/service"
)

// JSON is the sheet for machines: indented, with a line end, the same bytes for the same plan.
// Codes and values don't depend on the language. The error is always nil for a
// sheet of a plan made by [service.NewPlan].
func (s Sheet) JSON() ([]byte, error) {
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(text, '\n'), nil
}

// UnmarshalJSON reads what [Sheet.JSON] writes, also where a later release added fields to it.
//
// Errors: a [service.JobError], with service.ErrNewerVersion for a newer form, else with the error of encoding/json.
func (s *Sheet) UnmarshalJSON(data []byte) error {
	type fields Sheet
	var read fields
	err := json.Unmarshal(data, &read)
	if read.Version > version {
		return &service.JobError{Path: "version", Problem: fmt.Sprintf("written for version %d, this program reads version %d", read.Version, version),
			Want: fmt.Sprintf("a newer program, or a sheet of version %d", version), Err: service.ErrNewerVersion}
	} else if err != nil { // it quotes what it refuses, whole
		return &service.JobError{Problem: plain.Clean(plain.Limit(err.Error(), 200)), Want: "what Sheet.JSON writes", Err: err}
	}
	*s = Sheet(read)
	return nil
}

// HTML is the sheet as a file that needs nothing else: no script, no network, no picture files. It
// prints black on white, each page on paper of its own, A4 or Letter, at a fixed size, with what decides in
// digits of 12 mm; on a screen as narrow as a telephone's the figure of a card stands under its heading.
// It carries the policy of [Policy]. Whatever the job says is escaped. The error is always nil for a sheet
// made by [Words.Sheet].
func (s Sheet) HTML() ([]byte, error) {
	var b bytes.Buffer
	if err := s.in().page.Execute(&b, s); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Policy is the Content-Security-Policy that the page of [Sheet.HTML] keeps to, for a server
// to send as a header: nothing is loaded and nothing runs; the one style sheet is known by its hash.
func Policy() string {
	return "default-src 'none'; style-src 'sha256-" + styleHash + "'; base-uri 'none'; form-action 'none'"
}

var (
	//go:embed sheet.css
	style     string
	styleHash = func() string {
		sum := sha256.Sum256([]byte(style))
		return base64.StdEncoding.EncodeToString(sum[:])
	}()

	//go:embed sheet.tmpl
	layout string
	page   = template.Must(template.New("sheet").Funcs((*Words)(nil).funcs()).Parse(layout))
)

// funcs are what the page asks for.
func (w *Words) funcs() template.FuncMap {
	return template.FuncMap{
		"rows": rows, "key": key, "dense": dense, "halves": w.halves, "pieces": pieces, "hand": hand, "machine": machine, "draw": w.draw, "ink": ink,
		"style":  func() template.HTML { return template.HTML("<style>" + style + "</style>") }, // as it was hashed
		"policy": Policy,
		"class":  func(code string) string { return strings.ReplaceAll(code, ".", "-") },
		"say":    func(code string, list ...any) string { return w.printer(nil).code(code, list...) },
		"draft":  func() string { return w.said.Draft },
		"level":  func(level string) string { return w.printer(nil).word(strings.ToUpper(level)) },
		"spans":  spans, "saying": func(it Item) []span { return spans(withSource(it), it.Own...) },
	}
}

// span is a piece of a text: of the sheet's language, or the job's or a source's own.
type span struct {
	Text string
	Own  bool
}

// spans cuts a text where others stand in it, in their order.
func spans(text string, own ...string) (all []span) {
	for _, o := range own {
		before, after, found := strings.Cut(text, o)
		if o == "" || !found {
			continue
		}
		all = append(all, span{wrap.Together(before), false}, span{wrap.Together(o), true})
		text = after
	}
	all = append(all, span{wrap.Together(text), false})
	return slices.DeleteFunc(all, func(s span) bool { return s.Text == "" })
}

// row is an item with what is written next to it.
type row struct {
	Item
	Write []Item
}

// rows puts what is filled in by hand next to the item before it.
func rows(items []Item) (all []row) {
	for _, it := range items {
		if last := len(all) - 1; it.Kind == "blank" && last >= 0 && all[last].Kind != "picture" && all[last].Kind != "table" && all[last].Kind != "blank" {
			all[last].Write = append(all[last].Write, it)
		} else {
			all = append(all, row{Item: it})
		}
	}
	return all
}

// piece is a word of a figure: large where it is what decides.
type piece struct {
	Text  string
	Large bool
}

// pieces are the words of a figure: numbers and marks are large, and the words between are not, but for
// what a part is seated by.
func pieces(it Item) (all []piece) {
	marks := strings.Fields(fmt.Sprint("+ ", it.Values.Get("mark"), " ", it.Values.Get("next")))
	for _, word := range strings.Fields(it.Words) {
		large := it.Code == "seat.until" || slices.Contains(marks, word) || strings.ContainsAny(word, "0123456789")
		all = append(all, piece{word, large})
	}
	return all
}

// written is a piece of a line that is filled in by hand: words, room to write, or a box and what it is for.
type written struct{ Text, Room string }

// hand are the pieces of such a line.
func hand(words string) (all []written) {
	tokens := strings.Fields(words)
	for i := 0; i < len(tokens); i++ {
		switch bare := strings.TrimRight(tokens[i], "°"); {
		case tokens[i] == "☐" && i+1 < len(tokens):
			i++
			all = append(all, written{tokens[i], "tick"})
		case strings.Trim(bare, "_") == "":
			room := written{tokens[i][len(bare):], map[int]string{2: "short", 3: "middle", 4: "long"}[len(bare)]}
			if i+1 < len(tokens) && tokens[i+1] != "☐" && tokens[i+1][0] != '_' { // its unit stays next to it
				i++
				room.Text = strings.TrimSpace(room.Text + " " + tokens[i])
			}
			all = append(all, room)
		default:
			all = append(all, written{Text: tokens[i]})
		}
	}
	return all
}

// halves are the rows of contact at a mark and those of contact between two, side by side.
func (w *Words) halves(t Table) (all [2]Table) {
	for i, code := range []string{"table/at", "table/between"} {
		all[i].Heads = append([]string{w.printer(nil).code(code)}, t.Heads[1:]...)
	}
	for i, column := range t.Columns {
		all[i%2].Columns = append(all[i%2].Columns, column)
	}
	return all
}

// dense is a class for how much is on a page: its steps are set in smaller type where that is more than fits.
func dense(p Page) string {
	lines, columns, room := 0, 0, 2850
	if p.Code == "card" {
		room = 1240
	}
	for _, part := range p.Sections {
		for _, it := range part.Items {
			columns += wrap.Columns(it.Words + it.Source)
			if it.Kind != "blank" {
				lines += 1 + wrap.Columns(it.Words)/45
			}
			if it.Table != nil {
				lines += 27
			}
		}
	}
	switch {
	case columns > room:
		return " dense packed"
	case lines > 26:
		return " dense"
	}
	return ""
}

// key is what decides on a card, for a narrow screen.
func key(p Page) (all []Item) {
	for _, part := range p.Sections {
		for _, it := range part.Items {
			if p.Code == "card" && it.Kind == "figure" && it.Code != "turn.sense" && (len(all) == 0 || it.Code != "sequence.stage") {
				all = append(all, it)
			}
		}
	}
	return all
}
