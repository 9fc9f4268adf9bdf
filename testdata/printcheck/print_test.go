package printcheck

import (
	"cmp"
	"encoding/xml"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

const (
	mostPages = 3
	leastType = 8.0 // points; common practice, no source
	perPoint  = 3.0 // in what pdftohtml -zoom 3 gives
)

// papers are sizes in inches: ISO 216 A4, 210 mm by 297 mm, and Letter, 8 1/2 in by 11 in.
var papers = map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "letter": {8.5, 11}}

func TestPrintedSheets(t *testing.T) {
	files, err := filepath.Glob("../../service/testdata/jobs/*.json")
	if err != nil || len(files) < 3 {
		t.Fatal("there should be three jobs and more:", files, err)
	}
	dir := t.TempDir()
	chromium, err := startBrowser(filepath.Join(dir, "profile"))
	if err != nil {
		t.Fatal(err)
	}
	defer chromium.stop()
	for _, file := range append(files, "../../examples/servicesheet/demo.json") {
		laid := read(t, file)
		html, err := laid.HTML()
		if err != nil {
			t.Fatal(file, err)
		}
		in := filepath.Join(dir, "sheet.html")
		if err := errors.Join(os.WriteFile(in, html, 0o600), chromium.open("file://"+in)); err != nil {
			t.Fatal(file, err)
		}
		for paper, size := range papers {
			t.Run(strings.TrimSuffix(filepath.Base(file), ".json")+"/"+paper, func(t *testing.T) {
				pdf, err := chromium.print(size[0], size[1])
				if err != nil {
					t.Fatal(err)
				}
				doc := pages(t, pdf)
				if len(doc.Pages) == 0 || len(doc.Pages) > mostPages {
					t.Errorf("%d pages", len(doc.Pages))
				}
				for _, p := range doc.Pages {
					checkPage(t, p, size, doc.sizes())
				}
				checkWords(t, laid, doc)
			})
		}
	}
}

func read(t *testing.T, file string) sheet.Sheet {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	job, err := service.ReadJob(text)
	if err != nil {
		t.Fatal(file, err)
	}
	plan, err := service.NewPlan(job, service.Rules{})
	if err != nil {
		t.Fatal(file, err)
	}
	return sheet.For(plan)
}

// document is what pdftohtml -xml writes.
type document struct {
	Pages []page `xml:"page"`
}

type page struct {
	Number int     `xml:"number,attr"`
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Fonts  []struct {
		ID   int     `xml:"id,attr"`
		Size float64 `xml:"size,attr"`
	} `xml:"fontspec"`
	Texts []text `xml:"text"`
}

type text struct {
	Top    float64 `xml:"top,attr"`
	Left   float64 `xml:"left,attr"`
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Font   int     `xml:"font,attr"`
	Inner  string  `xml:",innerxml"`
}

func (d document) sizes() map[int]float64 {
	sizes := map[int]float64{}
	for _, p := range d.Pages {
		for _, f := range p.Fonts {
			sizes[f.ID] = f.Size / perPoint
		}
	}
	return sizes
}

// pages reads a PDF.
func pages(t *testing.T, pdf []byte) (doc document) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftohtml", "-xml", "-i", "-stdout", "-zoom", "3", file).Output()
	if err := errors.Join(err, xml.Unmarshal(out, &doc)); err != nil {
		t.Fatal(err)
	}
	return doc
}

// checkPage holds a page to its paper: nothing over the edge, no type too small, no heading without
// what it heads.
func checkPage(t *testing.T, p page, paper [2]float64, sizes map[int]float64) {
	if math.Abs(p.Width/perPoint-72*paper[0]) > 1 || math.Abs(p.Height/perPoint-72*paper[1]) > 1 {
		t.Errorf("page %d is %v by %v points", p.Number, p.Width/perPoint, p.Height/perPoint)
	}
	const edge = 18 * perPoint // a quarter of an inch, which printers may not reach; common practice, no source
	for _, x := range p.Texts {
		if x.Left < edge || x.Top < edge || x.Left+x.Width > p.Width-edge || x.Top+x.Height > p.Height-edge {
			t.Errorf("page %d: %q is at the edge", p.Number, x.plain())
		}
		if sizes[x.Font] < leastType {
			t.Errorf("page %d: %q is in %.1f points", p.Number, x.plain(), sizes[x.Font])
		}
		if sizes[x.Font] == headingType && strings.HasPrefix(x.Inner, "<b>") && !slices.ContainsFunc(p.Texts, func(y text) bool {
			return p.column(y) == p.column(x) && sizes[y.Font] < headingType && y.Top > x.Top && y.Top < x.Top+4*x.Height
		}) {
			t.Errorf("page %d: nothing stands below the heading %q", p.Number, x.plain())
		}
	}
}

const headingType = 10.0

// column is 0 on the left and 1 on the right.
func (p page) column(x text) int {
	if x.Left < p.Width/2 {
		return 0
	}
	return 1
}

func (x text) plain() string {
	plain := strings.NewReplacer("<b>", "", "</b>", "", "<i>", "", "</i>", "").Replace(x.Inner)
	return strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&quot;", `"`, "&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(plain)
}

// checkWords finds every heading, every item and every cell of the sheet on the pages, each in one
// piece: not cut, not torn by the end of a column.
func checkWords(t *testing.T, laid sheet.Sheet, doc document) {
	all := doc.reading()
	need := func(words string) {
		if !strings.Contains(all, squeeze(words)) {
			t.Errorf("%q isn't printed in one piece", words)
		}
	}
	items := append(laid.Notices, laid.Findings...)
	for _, s := range laid.Sections {
		need(s.Title)
		items = append(items, s.Items...)
	}
	if len(items) < 40 {
		t.Errorf("a sheet of only %d items", len(items))
	}
	for _, item := range items {
		need(item.Words)
		if item.Picture != nil {
			need(item.Picture.Title)
		}
		if item.Table != nil {
			for _, word := range strings.Fields(strings.Join(item.Table.Heads, " ")) { // a cell may have two lines
				need(word)
			}
		}
	}
}

// reading is the text of all pages in the order of reading, without blanks.
func (d document) reading() string {
	const sameLine = 7
	var b strings.Builder
	for _, p := range d.Pages {
		slices.SortStableFunc(p.Texts, func(x, y text) int {
			line := cmp.Compare(x.Top, y.Top)
			if math.Abs(x.Top-y.Top) < sameLine {
				line = 0
			}
			return cmp.Or(cmp.Compare(p.column(x), p.column(y)), line, cmp.Compare(x.Left, y.Left))
		})
		for _, x := range p.Texts {
			b.WriteString(squeeze(x.plain()))
		}
	}
	return b.String()
}

func squeeze(words string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, words)
}
