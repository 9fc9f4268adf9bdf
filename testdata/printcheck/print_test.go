package printcheck

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
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

// What the pages are held to: common practice, no source, but for the papers.
const (
	leastType   = 8.0   // points
	leastInk    = 8.0   // mm, of a digit that decides; read at arm's length
	mostHigh    = 254.0 // mm, of a page: what A4 and Letter leave inside their margins
	mostWide    = 185.0
	figureType  = 50.0 // points, of the figure of a card: what the style sheet says, so that a page is printed as it is
	stageType   = 40.0
	phoneWide   = 390
	phoneHigh   = 844
	deskWide    = 1200
	deskHigh    = 900
	leastFigure = 56.0 // px, on a screen as narrow
	perPoint    = 3.0  // in what pdftohtml -zoom 3 gives
	perMM       = 10.0 // dots, at 254 dpi
)

// papers are sizes in inches: A4, 210 mm by 297 mm, and Letter, 8 1/2 in by 11 in. Source: iso-216.
var papers = map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "letter": {8.5, 11}}

// Source: chromium.
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
	axe, err := os.ReadFile(os.Getenv("AXE")) // the run script fetches it
	if err := errors.Join(err, chromium.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": string(axe)}, nil)); err != nil {
		t.Fatal(err)
	}
	for _, file := range append(files, "../../examples/servicesheet/demo.json", "../../service/testdata/bench.json") {
		for _, rules := range []service.Rules{{}, agreed(t)} {
			name := strings.TrimSuffix(filepath.Base(file), ".json") + map[bool]string{true: "/no-rules", false: "/rules"}[rules == service.Rules{}]
			plan := read(t, file, rules)
			for _, tag := range sheet.Languages() {
				words, err := sheet.In(tag)
				if err != nil {
					t.Fatal(err)
				}
				for kind, laid := range map[string]sheet.Sheet{"cards": words.Sheet(plan, false), "with-numbers": words.Sheet(plan, true)} {
					t.Run(name+"/"+tag+"/"+kind, func(t *testing.T) { check(t, chromium, filepath.Join(dir, "sheet.html"), laid) })
				}
			}
		}
	}
}

func check(t *testing.T, chromium *browser, in string, laid sheet.Sheet) {
	html, err := laid.HTML()
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.WriteFile(in, html, 0o600), chromium.open("file://"+in)); err != nil {
		t.Fatal(err)
	}
	checkHeights(t, chromium, laid)
	for paper, size := range papers {
		t.Run(paper, func(t *testing.T) {
			pdf, err := chromium.print(size[0], size[1])
			if err != nil {
				t.Fatal(err)
			}
			doc, file := pages(t, pdf)
			whole := slices.DeleteFunc(slices.Clone(laid.Pages), func(p sheet.Page) bool { return p.Code == "numbers" })
			if len(doc.Pages) < len(laid.Pages) || len(whole) == len(laid.Pages) && len(doc.Pages) != len(whole) {
				t.Fatalf("%d sheets of paper for %d pages", len(doc.Pages), len(laid.Pages))
			}
			for i, p := range doc.Pages {
				checkPage(t, p, size, doc.sizes())
				if i < len(whole) {
					checkFigures(t, p, doc.sizes(), whole[i], file)
				}
			}
			checkWords(t, laid, doc)
		})
	}
	checkPhone(t, chromium, laid)
	checkAccess(t, chromium, deskWide, deskHigh)
	checkAccess(t, chromium, phoneWide, phoneHigh)
}

func agreed(t *testing.T) service.Rules {
	t.Helper()
	text, err := os.ReadFile("../../examples/servicesheet/demo-rules.json")
	if err != nil {
		t.Fatal(err)
	}
	rules, err := service.ReadRules(text)
	if err != nil {
		t.Fatal(err)
	}
	return rules
}

func read(t *testing.T, file string, rules service.Rules) *service.Plan {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	job, err := service.ReadJob(text)
	if err != nil {
		t.Fatal(file, err)
	}
	plan, err := service.NewPlan(job, rules)
	if err != nil {
		t.Fatal(file, err)
	}
	return plan
}

// checkHeights measures the pages as they are laid out for print: their content and its box, in millimetres.
func checkHeights(t *testing.T, chromium *browser, laid sheet.Sheet) {
	t.Helper()
	var boxes []struct {
		High, Wide, Content float64
		Numbers             bool
	}
	chromium.evaluate(t, "print", 0, 0, `[...document.querySelectorAll(".page")].map(p => ({High: p.offsetHeight, Wide: Math.max(p.offsetWidth, p.scrollWidth),
		Content: Math.max(...[...p.querySelectorAll(".section > *, .section .row, .section figure")].map(e => e.getBoundingClientRect().bottom)) - p.getBoundingClientRect().top,
		Numbers: p.classList.contains("numbers-page")}))`, &boxes)
	if len(boxes) != len(laid.Pages) {
		t.Fatalf("%d boxes for %d pages", len(boxes), len(laid.Pages))
	}
	for i, box := range boxes {
		const px = 25.4 / 96
		if box.Wide*px > mostWide+0.3 || !box.Numbers && (box.High*px > mostHigh+0.3 || box.Content*px > mostHigh+0.3) {
			t.Errorf("page %d is %.1f mm wide and %.1f mm high, and what is on it ends at %.1f mm", i+1, box.Wide*px, box.High*px, box.Content*px)
		}
		if box.Content <= 0 {
			t.Errorf("page %d has nothing on it", i+1)
		}
	}
}

// checkPhone holds the pages to a narrow screen: nothing wider, the figure of a card large enough and to be
// seen where a link to the card leads, and no word outside its picture.
func checkPhone(t *testing.T, chromium *browser, laid sheet.Sheet) {
	t.Helper()
	var seen struct {
		Wide  float64
		Cards []struct{ Type, Top, Bottom, Right, Screen float64 }
		Words []string
	}
	chromium.evaluate(t, "screen", phoneWide, phoneHigh, `({Wide: document.documentElement.scrollWidth,
		Cards: [...document.querySelectorAll(".card-page")].filter(c => c.querySelector(".key b")).map(c => { c.scrollIntoView(); const b = [...c.querySelectorAll(".key b")];
			const boxes = b.map(e => e.getBoundingClientRect());
			return {Type: Math.min(...b.map(e => parseFloat(getComputedStyle(e).fontSize))), Top: Math.min(...boxes.map(r => r.top)), Bottom: Math.max(...boxes.map(r => r.bottom)), Right: Math.max(...boxes.map(r => r.right)), Screen: innerHeight}}),
		Words: [...document.querySelectorAll("svg text")].filter(e => { const r = e.getBoundingClientRect(), s = e.ownerSVGElement.getBoundingClientRect();
			return r.left < s.left - 0.5 || r.right > s.right + 0.5 || r.top < s.top - 0.5 || r.bottom > s.bottom + 0.5 }).map(e => e.textContent)})`, &seen)
	if seen.Wide > phoneWide {
		t.Errorf("%v px wide on a screen of %v", seen.Wide, phoneWide)
	}
	cards := 0
	for _, p := range laid.Pages {
		for _, section := range p.Sections {
			if slices.ContainsFunc(section.Items, func(it sheet.Item) bool { return it.Kind == "figure" && it.Code != "turn.sense" }) {
				cards++
				break
			}
		}
	}
	if len(seen.Cards) != cards {
		t.Errorf("%d figures at the top of %d cards", len(seen.Cards), cards)
	}
	for i, c := range seen.Cards {
		if c.Type < leastFigure || c.Top < 0 || c.Bottom > phoneHigh || c.Right > phoneWide {
			t.Errorf("card %d: its figure is %+v on a screen of %d by %d", i+1, c, phoneWide, phoneHigh)
		}
	}
	for _, words := range seen.Words {
		t.Errorf("%q stands outside its picture", words)
	}
}

// checkAccess lets axe-core look at the page as a screen shows it: it finds nothing serious or critical against the
// success criteria of WCAG 2.0 to 2.2 (W3C) and its own best practices. Source: axe-core.
func checkAccess(t *testing.T, chromium *browser, wide, high int) {
	t.Helper()
	var found struct {
		Passes     int
		Violations []struct{ Rule, Impact, Help, Where string }
	}
	chromium.evaluate(t, "screen", wide, high, `axe.run({preload: false}).then(r => ({Passes: r.passes.length,
		Violations: r.violations.map(v => ({Rule: v.id, Impact: v.impact, Help: v.help, Where: v.nodes[0].html}))}))`, &found)
	if found.Passes < 10 {
		t.Errorf("only %d rules of axe-core apply", found.Passes)
	}
	for _, v := range found.Violations {
		if v.Impact == "serious" || v.Impact == "critical" {
			t.Errorf("%d px wide: %s, %s: %s: %.200q", wide, v.Impact, v.Rule, v.Help, v.Where)
		}
	}
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
func pages(t *testing.T, pdf []byte) (doc document, file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftohtml", "-xml", "-i", "-stdout", "-zoom", "3", file).Output()
	if err := errors.Join(err, xml.Unmarshal(out, &doc)); err != nil {
		t.Fatal(err)
	}
	return doc, file
}

// checkPage holds a page to its paper: nothing over the edge, no type too small.
func checkPage(t *testing.T, p page, paper [2]float64, sizes map[int]float64) {
	t.Helper()
	if math.Abs(p.Width/perPoint-72*paper[0]) > 1 || math.Abs(p.Height/perPoint-72*paper[1]) > 1 {
		t.Errorf("page %d is %v by %v points", p.Number, p.Width/perPoint, p.Height/perPoint)
	}
	const edge = 18 * perPoint // a quarter of an inch, which printers may not reach; common practice, no source
	for _, x := range p.Texts {
		if x.Left < edge || x.Top < edge || x.Left+x.Width > p.Width-edge || x.Top+x.Height > p.Height-edge {
			t.Errorf("page %d: %q is at the edge", p.Number, x.plain())
		}
		if sizes[x.Font] < leastType-0.4 {
			t.Errorf("page %d: %q is in %.1f points", p.Number, x.plain(), sizes[x.Font])
		}
	}
}

// checkFigures finds the figures of a card in the PDF, in the type that the style sheet says, and measures
// the ink of their digits and letters on the page.
func checkFigures(t *testing.T, p page, sizes map[int]float64, laid sheet.Page, file string) {
	t.Helper()
	want := map[float64]int{}
	for _, section := range laid.Sections {
		for _, it := range section.Items {
			if it.Kind == "figure" && it.Code == "sequence.stage" {
				want[stageType]++
			} else if it.Kind == "figure" && it.Code != "turn.sense" {
				want[figureType]++
			}
		}
	}
	found := map[float64]int{}
	var ink *dots
	for _, x := range p.Texts {
		for size := range want {
			if math.Abs(sizes[x.Font]-size) > 0.7 || !strings.ContainsFunc(x.plain(), func(r rune) bool { return unicode.IsDigit(r) || unicode.IsLetter(r) }) {
				continue
			}
			found[size]++
			if ink == nil {
				ink = raster(t, file, p.Number)
			}
			if high := ink.high(x); high < leastInk {
				t.Errorf("page %d: %q has %.1f mm of ink", p.Number, x.plain(), high)
			}
		}
	}
	for size, n := range want {
		if found[size] < n {
			t.Errorf("page %d: %d figures of %v points, not %d: the page isn't printed at its size", p.Number, found[size], size, n)
		}
	}
}

// dots are a page as a printer would ink it, a byte each, 0 for black.
type dots struct {
	wide int
	grey []byte
}

func raster(t *testing.T, file string, number int) *dots {
	t.Helper()
	n := fmt.Sprint(number)
	out, err := exec.Command("pdftoppm", "-gray", "-r", "254", "-f", n, "-l", n, file).Output()
	if err != nil {
		t.Fatal(err)
	}
	var wide, high, most int
	if _, err := fmt.Sscanf(string(out[:40]), "P5\n%d %d\n%d", &wide, &high, &most); err != nil {
		t.Fatal(err)
	}
	return &dots{wide, out[len(out)-wide*high:]}
}

// high is how high the ink of a text is, in millimetres: the rows with black in them one after the other.
func (d *dots) high(x text) float64 {
	const dot = 254 / 72.0 / perPoint
	best, run := 0, 0
	for y := int(x.Top * dot); y < int((x.Top+x.Height)*dot); y++ {
		row := d.grey[y*d.wide+int(x.Left*dot) : y*d.wide+int((x.Left+x.Width)*dot)]
		if slices.ContainsFunc(row, func(grey byte) bool { return grey < 64 }) {
			run++
			best = max(best, run)
		} else {
			run = 0
		}
	}
	return float64(best) / perMM
}

func (x text) plain() string {
	plain := strings.NewReplacer("<b>", "", "</b>", "", "<i>", "", "</i>", "").Replace(x.Inner)
	return strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&quot;", `"`, "&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(plain)
}

// checkWords finds every title and what is to be done, known and minded on the pages: nothing is lost.
func checkWords(t *testing.T, laid sheet.Sheet, doc document) {
	t.Helper()
	printed := map[string]int{}
	for _, p := range doc.Pages {
		for _, x := range p.Texts {
			for _, word := range strings.FieldsFunc(x.plain(), func(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '/' }) {
				printed[strings.ToLower(word)]++
			}
		}
	}
	items := 0
	need := func(words string) {
		for _, word := range strings.FieldsFunc(words, func(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '/' || r == '\u00a0' }) {
			if printed[strings.ToLower(word)] == 0 {
				t.Errorf("%q of %q isn't printed", word, words)
			}
		}
	}
	for _, p := range laid.Pages {
		for _, s := range p.Sections {
			need(s.Title)
			for _, it := range s.Items {
				if it.Kind != "blank" {
					items++
					need(it.Words)
				}
			}
		}
	}
	if items < 40 {
		t.Errorf("a sheet of only %d items", items)
	}
}

// evaluate works an expression out on the open page, for a medium and a size of screen.
func (b *browser) evaluate(t *testing.T, medium string, wide, high int, expression string, into any) {
	t.Helper()
	var out struct {
		Result struct {
			Value json.RawMessage `json:"value"`
		} `json:"result"`
		Exception json.RawMessage `json:"exceptionDetails"`
	}
	err := errors.Join(
		b.call("Emulation.setEmulatedMedia", map[string]any{"media": medium}, nil),
		b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": wide > 0}, nil),
		b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true, "awaitPromise": true}, &out),
		b.call("Emulation.clearDeviceMetricsOverride", map[string]any{}, nil),
		b.call("Emulation.setEmulatedMedia", map[string]any{"media": ""}, nil))
	if err == nil && out.Exception != nil {
		err = errors.New(string(out.Exception))
	}
	if err := errors.Join(err, json.Unmarshal(out.Result.Value, into)); err != nil {
		t.Fatal(err)
	}
}
