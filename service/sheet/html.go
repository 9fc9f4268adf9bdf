package sheet

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"html/template"
	"strings"

	"example.com/snugturn/internal/wrap"
)

// JSON is the sheet for machines: indented, with a line end, the same bytes for the same plan.
// Codes and values don't depend on the language; words are English. The error is always nil for a
// sheet made by [For].
func (s Sheet) JSON() ([]byte, error) {
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(text, '\n'), nil
}

// HTML is the sheet as a file that needs nothing else: no script, no network, no picture files. It
// prints black on white, each page on paper of its own, A4 or Letter, at a fixed size, with what decides in
// digits of 12 mm; on a screen as narrow as a telephone's the figure of a card stands under its heading.
// It carries the policy of [Policy]. Whatever the job says is escaped. The error is always nil for a sheet
// made by [For].
func (s Sheet) HTML() ([]byte, error) {
	var b bytes.Buffer
	if err := page.Execute(&b, s); err != nil {
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
	page   = template.Must(template.New("sheet").Funcs(template.FuncMap{
		"rows": rows, "key": key, "dense": dense, "halves": halves, "pieces": pieces, "hand": hand, "machine": machine, "draw": draw, "withSource": withSource, "together": wrap.Together,
		"style":  func() template.HTML { return template.HTML("<style>" + style + "</style>") }, // as it was hashed
		"policy": Policy, "ink": ink,
		"class": func(code string) string { return strings.ReplaceAll(code, ".", "-") },
	}).Parse(layout))
)

// row is an item with what is written beside it.
type row struct {
	Item
	Write []Item
}

// rows puts what is filled in by hand beside the item before it.
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

// pieces are the words of a figure: its values are large, but for a unit behind a number, and the words between are not.
func pieces(it Item) (all []piece) {
	large := map[string]bool{"+": true}
	for _, value := range it.Values {
		ofNumber := digit(value)
		for _, word := range strings.Fields(value) {
			if !ofNumber || digit(word) {
				large[word], large[strings.ReplaceAll(word, ".", ",")] = true, true
			}
		}
	}
	for _, word := range strings.Fields(it.Words) {
		all = append(all, piece{word, large[word] || it.Code == "seat.until"})
	}
	return all
}

// digit reports whether a text begins with one.
func digit(text string) bool { return text != "" && text[0] >= '0' && text[0] <= '9' }

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
			if i+1 < len(tokens) && tokens[i+1] != "☐" && tokens[i+1][0] != '_' { // its unit stays beside it
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

// halves are the rows of contact at a mark and those of contact between two, side by side: a place in
// few words, "4", "4 and 3" or "4 again", when it comes round.
func halves(t Table) (all [2]Table) {
	few := strings.NewReplacer("midway between ", "", "between ", "", "at ", "", ", once round", " again")
	for i, head := range []string{"touched at", "touched between"} {
		all[i].Heads = append([]string{head}, t.Heads[1:]...)
	}
	for i, column := range t.Columns {
		row := make([]string, len(column))
		for k, place := range column {
			row[k] = few.Replace(place)
		}
		all[i%2].Columns = append(all[i%2].Columns, row)
	}
	return all
}

// dense reports whether a card has so much on it that its steps are set in smaller type.
func dense(p Page) bool {
	lines := 0
	for _, part := range p.Sections {
		for _, it := range part.Items {
			switch {
			case it.Table != nil:
				return true
			case it.Kind != "blank":
				lines += 1 + wrap.Columns(it.Words)/45
			}
		}
	}
	return lines > 26
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
