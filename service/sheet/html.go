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

// HTML is the sheet as one page that needs nothing else: no script, no network, no picture files.
// It prints in dark ink on A4 or Letter paper, a job of three stations on three pages where Arial or a
// font of its measures is there, and carries the policy of [Policy]. Whatever the job says is
// escaped. The error is always nil for a sheet made by [For].
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
		"groups": groups, "machine": machine, "draw": draw, "withSource": withSource, "together": wrap.Together,
		"style":  func() template.HTML { return template.HTML("<style>" + style + "</style>") }, // as it was hashed
		"policy": Policy, "ink": ink,
		"class": func(code string) string { return strings.ReplaceAll(code, ".", "-") },
	}).Parse(layout))
)

// group is an item with the details that belong to it. A run of groups of one kind becomes a list.
type group struct {
	Kind  string
	Lead  *Item // nil for details before the first item
	Below []Item
}

// run is a list of groups of one kind.
type run struct {
	Kind   string
	Groups []group
}

// groups puts details, tables and pictures below the item that they follow.
func groups(items []Item) (runs []run) {
	for _, it := range items {
		last := len(runs) - 1
		below := it.Kind == "detail" || it.Kind == "table" || it.Kind == "picture"
		switch {
		case below && last < 0:
			runs = append(runs, run{"detail", []group{{Kind: "detail", Below: []Item{it}}}})
		case below:
			g := &runs[last].Groups[len(runs[last].Groups)-1]
			g.Below = append(g.Below, it)
		case last < 0 || runs[last].Kind != it.Kind:
			runs = append(runs, run{it.Kind, []group{{Kind: it.Kind, Lead: &it}}})
		default:
			runs[last].Groups = append(runs[last].Groups, group{Kind: it.Kind, Lead: &it})
		}
	}
	return runs
}
