package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/service"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

func htmlOf(t testing.TB, p *service.Plan) string {
	t.Helper()
	page, err := English().Sheet(p, true).HTML()
	require.NoError(t, err)
	return string(page)
}

// quiet takes the tags and escapes out of a page.
func quiet(page string) string {
	page = regexp.MustCompile(`<span lang="" translate="no">(.*?)</span>`).ReplaceAllString(page, "$1")
	page = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(page, " ")
	return flat(strings.NewReplacer("&#39;", "'", "&amp;", "&", "&#34;", `"`, "&lt;", "<", "&gt;", ">", "&#43;", "+").Replace(page))
}

// In ASCII the text says the same, no line is wider than the page, and what has no such form is marked.
func TestASCII(t *testing.T) {
	spanish, err := In("es")
	require.NoError(t, err)
	for _, p := range []*service.Plan{benchPlan(t), benchPlan(t, withWrenches(wide)...), coverPlan(t)} {
		s := English().Sheet(p, true)
		text := s.ASCII()
		for line := range strings.Lines(text) {
			assert.LessOrEqual(t, len(line), 81, line)
		}
		assert.Equal(t, -1, strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII }))
		assert.Equal(t, -1, strings.IndexFunc(spanish.Sheet(p, true).ASCII(), func(r rune) bool { return r > unicode.MaxASCII }), "nor does ATENCIÓN")
		assert.Equal(t, strings.Count(s.Text(), "[ ]"), strings.Count(text, "[ ]"))
		assert.NotContains(t, text, "?m", "every unit has a form")
		for _, it := range itemsOf(s) {
			if it.Kind != "blank" && !strings.ContainsFunc(it.Words, func(r rune) bool { return r > unicode.MaxASCII }) {
				assert.Contains(t, flat(text), flat(it.Words))
			}
		}
	}
	plan := benchPlan(t, `"machine": "`, `"machine": "Kälte `)
	s := English().Sheet(plan, true)
	assert.Contains(t, s.ASCII(), "K?lte")
	assert.Contains(t, s.Text(), "Kälte")
	assert.True(t, units.MustParseTorque("20.5 N·m").Equal(units.MustParseTorque(asciiForms.Replace("20.5 N·m"))))
}

// Whatever the model says is in the text and on the page.
func TestTextAndPageSayTheSame(t *testing.T) {
	for _, p := range []*service.Plan{benchPlan(t), benchPlan(t, withWrenches(wide)...), coverPlan(t), coverPlan(t, snugBand, "", angleWithin, "", "max 25 N·m", "20 to 25 N·m")} {
		text, page_ := flat(English().Sheet(p, true).Text()), quiet(htmlOf(t, p))
		sheet := English().Sheet(p, true)
		for _, page := range sheet.Pages {
			assert.Contains(t, flat(text), flat(page.heading()))
			for _, part := range page.Sections {
				assert.Contains(t, page_, flat(part.Title))
				assert.Contains(t, text, flat(part.heading()))
			}
		}
		items := itemsOf(sheet)
		require.Greater(t, len(items), 60)
		for _, it := range items {
			assert.NotEmpty(t, it.Code)
			if it.Kind != "blank" { // which are drawn, not written
				assert.Contains(t, text, flat(it.Words))
				assert.Contains(t, page_, flat(it.Words))
			}
			if it.Picture != nil {
				assert.Contains(t, page_, it.Picture.Words)
			}
		}
	}
}

// The page is well formed as XML too, once its empty elements are closed: no tag is left open.
func TestPageIsWellFormed(t *testing.T) {
	page := htmlOf(t, benchPlan(t, withWrenches(wide)...))
	page = regexp.MustCompile(`<meta ([^>]*)>`).ReplaceAllString(strings.TrimPrefix(page, "<!DOCTYPE html>"), "<meta $1/>")
	d := xml.NewDecoder(strings.NewReader(page))
	var ids []string
	labelled := map[string]bool{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok {
			assert.NotContains(t, []string{"script", "link", "img", "iframe", "object", "form", "a", "base"}, start.Name.Local)
			for _, a := range start.Attr {
				assert.NotEqual(t, "style", a.Name.Local, "the policy forbids it")
				assert.False(t, strings.HasPrefix(a.Name.Local, "on"), a.Name.Local)
				assert.NotContains(t, []string{"src", "href", "srcset"}, a.Name.Local)
				switch a.Name.Local {
				case "id":
					if !strings.HasPrefix(a.Value, "page-") { // which a link goes to
						ids = append(ids, a.Value)
					}
				case "aria-labelledby":
					labelled[a.Value] = true
				}
			}
		}
	}
	assert.Len(t, labelled, len(ids), "each section has its heading")
	for _, id := range ids {
		assert.True(t, labelled[id], id)
	}
	assert.Contains(t, page, `<html lang="en">`)
	assert.Equal(t, strings.Count(page, "<svg"), strings.Count(page, "<desc>"), "each picture in words")
	assert.NotContains(t, page, "url(")
}

// The policy lets the one style sheet in by the hash of what is between its tags. Source: csp-3.
func TestPolicyKnowsTheStyle(t *testing.T) {
	page := htmlOf(t, benchPlan(t))
	_, rest, _ := strings.Cut(page, "<style>")
	css, _, _ := strings.Cut(rest, "</style>")
	sum := sha256.Sum256([]byte(css))
	assert.Contains(t, Policy(), "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'")
	assert.Contains(t, Policy(), "default-src 'none'")
	assert.Contains(t, page, "Content-Security-Policy")
	assert.NotContains(t, css, "@import")
}

// hostileJob is the job with one text for another.
func hostileJob(t *testing.T, job service.Job, from, to string) service.Job {
	t.Helper()
	data, err := json.Marshal(job)
	require.NoError(t, err)
	var texts [2][]byte
	for i, text := range []string{from, to} {
		texts[i], err = json.Marshal(text)
		require.NoError(t, err)
		texts[i] = bytes.Trim(texts[i], `"`)
	}
	job, err = service.ReadJob(bytes.ReplaceAll(data, texts[0], texts[1]))
	require.NoError(t, err)
	return job
}

// A job that was made in Go and never read, with what would break out of each place it stands in.
func TestHostileText(t *testing.T) {
	for _, hostile := range []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `</title></style><svg onload=alert(1)>`,
		`]]><!--`, `{part}{{.Job}}%s%!d`, "\x1b[2J\x00\r\n\u202edrowssap\u2028", strings.Repeat("x", 60), "'+alert(1)+'", `&lt;b&gt;`,
	} {
		job, err := service.ReadJob([]byte(strings.NewReplacer(withWrenches(wide)...).Replace(bench(t))))
		require.NoError(t, err)
		job.ID, job.Machine, job.Place, job.Source = hostile, hostile, hostile, hostile
		job.Cautions = []string{hostile}
		job.Shop.LocalRules, job.Fuel.Grade, job.Fuel.FlashSource, job.Waste.Into = hostile, hostile, hostile, hostile
		job.Isolate[0].What, job.Isolate[0].How, job.Shop.Wrenches[0].Name = hostile, hostile, hostile
		for i := range job.Stations {
			s := &job.Stations[i]
			s.ID, s.Name, s.Element.Part = hostile+string('1'+rune(i)), hostile, hostile
			s.Connectors, s.Drain.Steps = []string{hostile}, []string{hostile}
			for k := range s.Seals {
				s.Seals[k] = service.Seal{Part: hostile, Where: hostile, Wet: hostile}
			}
		}
		marks := job.Stations[1].Tighten.Marks
		marks.Index = hostile
		if len(hostile) <= 32 && plain.Clean(hostile) == hostile {
			marks.Labels, marks.AtContact = []string{hostile, "E", "S", "W"}, hostile
		}
		plan, err := service.NewPlan(job, service.Rules{})
		if plain.Clean(hostile) != hostile { // then nothing is planned; what is put into a plan later is cleaned
			require.ErrorIs(t, err, units.ErrSyntax)
			plan, err = service.NewPlan(hostileJob(t, job, hostile, plain.Clean(hostile)), service.Rules{})
			require.NoError(t, err)
			plan.Job.ID, plan.Job.Machine, plan.Job.Cautions[0] = hostile, hostile, hostile
		}
		require.NoError(t, err, hostile)

		page := htmlOf(t, plan)
		for _, never := range []string{"<script", "<img", "<svg onload", "<!--", "\x1b", "\x00", "\r", "\u202e", "\u2028", "<b>", "ZgotmplZ"} {
			assert.NotContains(t, page, never, "%q on the page", hostile)
		}
		assert.Equal(t, 1, strings.Count(page, "</style>"), hostile)
		assert.Equal(t, strings.Count(htmlOf(t, benchPlan(t, withWrenches(wide)...)), "<svg "), strings.Count(page, "<svg "), hostile)
		assert.Contains(t, quiet(page), flat(plain.Clean(hostile)), "%q isn't lost", hostile)

		text := English().Sheet(plan, true).Text()
		for _, line := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), wrap.Width, line)
			assert.NotContains(t, line, "\x1b")
			assert.NotContains(t, line, "\u202e")
		}
		data, err := English().Sheet(plan, false).JSON()
		require.NoError(t, err)
		assert.NotContains(t, string(data), "<", "safe inside a page of somebody else's")
		var back Sheet
		require.NoError(t, json.Unmarshal(data, &back))
		assert.Equal(t, plain.Clean(hostile), back.Job)
		assert.Equal(t, plain.Clean(hostile), back.Pages[0].Sections[len(back.Pages[0].Sections)-1].Items[0].Values.Get("part"), "filled in once, never again")
	}
}

// What must not be torn by the end of a line.
func TestTogether(t *testing.T) {
	for words, want := range map[string]string{
		"":                                 "",
		"about 60 mL (20 mL to 150 mL)":    "about 60~mL (20~mL to 150~mL)",
		"set 30 ft-lb. Then":               "set 30~ft-lb. Then",
		"0.15 / 0.21 / 0.24 US gal.":       "0.15~/~0.21~/~0.24~US~gal.",
		"from 1.36110861… kg":              "from 1.36110861…~kg",
		"expect 5 + 1/2 turns":             "expect 5~+~1/2~turns",
		"turns, contact / end":             "turns, contact / end",
		"station 2 of 3, leaks cold / hot": "station 2 of 3, leaks cold / hot",
		"/ 2 L":                            "/ 2~L",
		" a  b ":                           " a  b ",
	} {
		assert.Equal(t, want, strings.ReplaceAll(wrap.Together(words), "\u00a0", "~"))
	}
	assert.NotContains(t, English().Sheet(benchPlan(t, withWrenches(wide)...), false).Text(), "\u00a0", "text has plain blanks")
}

// JSON is the model: read back it is the same sheet.
func TestSheetJSONRoundTrip(t *testing.T) {
	sheet := English().Sheet(benchPlan(t, withWrenches(wide)...), false)
	data, err := sheet.JSON()
	require.NoError(t, err)
	var back Sheet
	require.NoError(t, json.Unmarshal(data, &back))
	again, err := back.JSON()
	require.NoError(t, err)
	assert.JSONEq(t, string(data), string(again))
	assert.Equal(t, sheet.Text(), back.Text(), "the text needs nothing but the model")
	page, err := sheet.HTML()
	require.NoError(t, err)
	pageBack, err := back.HTML()
	require.NoError(t, err)
	assert.Equal(t, string(page), string(pageBack))
}

// encoding/json quotes what it refuses, whole.
func TestSheetRefusedShort(t *testing.T) {
	var s Sheet
	err := s.UnmarshalJSON([]byte(`{"version":` + strings.Repeat("9", 1<<20) + `}`))
	var wrong *service.JobError
	var cause *json.UnmarshalTypeError
	require.ErrorAs(t, err, &wrong)
	require.ErrorAs(t, err, &cause)
	assert.Less(t, len(err.Error()), 300)
	assert.Zero(t, s.Version)
}

// Codes are a promise. This list grows; nothing on it changes its meaning.
func TestCodes(t *testing.T) {
	codes := map[string]bool{}
	kinds := map[string]bool{}
	for _, p := range []*service.Plan{benchPlan(t), benchPlan(t, withWrenches(wide)...), coverPlan(t), coverPlan(t, snugBand, "", angleWithin, "")} {
		for _, page := range English().Sheet(p, true).Pages {
			codes[page.Code] = true
			for _, part := range page.Sections {
				codes[part.Code] = true
				for _, it := range part.Items {
					codes[it.Code], kinds[it.Kind] = true, true
					assert.Regexp(t, `^[a-z]+(\.[a-z-]+)+$`, it.Code)
				}
			}
		}
	}
	for _, code := range []string{"start", "card", "prime", "office", "numbers", "notice", "findings", "isolate", "parts", "off", "on", "tighten", "signed", "run", "leaks", "restore",
		"waste", "record", "next", "station", "sources", "isolate.step", "isolate.try", "parts.element", "off.cool", "drain.step", "drain.fuel", "old.part", "old.seals", "on.drain-closed", "drag.remedy",
		"torque.set", "torque.tighten", "torque.pull", "torque.gap", "turn.to", "turn.sense", "turn.seen", "turn.further", "turn.stop", "turn.too-far", "turn.contact", "picture.ring",
		"prime.cycles", "prime.crank", "leaks.pressure", "leaks.suction", "restore.step", "waste.mass", "record.done", "record.leaks", "record.weighed", "record.filed",
		"sequence.snug-band", "sequence.snug-open", "sequence.line", "sequence.stage", "sequence.within", "sequence.gauge", "sequence.turn-open", "sequence.turn-alone",
		"sequence.start-over", "seat.until", "seat.turns", "seat.past-stop", "record.snug", "record.angle", "record.turns-to-stop"} {
		assert.True(t, codes[code], code)
	}
	assert.Equal(t, map[string]bool{"do": true, "know": true, "detail": true, "blank": true, "picture": true, "figure": true, "alarm": true, "finding": true}, kinds)
}

func TestRingWithoutMarksShowsTheLineDrawn(t *testing.T) {
	job, err := service.ReadJob([]byte(bench(t)))
	require.NoError(t, err)
	job.Stations[1].Tighten.Marks = nil
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	ring := English().printer(nil).ringPicture(plan.Stations[1]).Ring
	assert.Equal(t, []RingMark{{At: turn.MustOf(3, 4)}}, ring.Marks)
}

func BenchmarkHTML(b *testing.B) {
	sheet := English().Sheet(benchPlan(b), false)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sheet.HTML(); err != nil {
			b.Fatal(err)
		}
	}
}

// Every code says something, no name stays unfilled, and every sentence is some code's: a step, a
// finding, a title or a picture.
func TestSentences(t *testing.T) {
	var source strings.Builder
	for _, dir := range []string{"../*.go", "*.go"} {
		files, err := filepath.Glob(dir)
		require.NoError(t, err)
		for _, file := range files {
			if !strings.HasSuffix(file, "_test.go") {
				text, err := os.ReadFile(file)
				require.NoError(t, err)
				source.Write(text)
			}
		}
	}
	for code, words := range English().said.Sentences {
		assert.NotEmpty(t, words, code)
		code, _, _ = strings.Cut(code, "/")
		group, _, _ := strings.Cut(code, ".out-of")
		assert.True(t, strings.Contains(source.String(), `"`+code) || strings.Contains(source.String(), `"`+group+`"`) ||
			strings.HasPrefix(code, "leaks.") || strings.HasPrefix(code, "page/") || strings.HasPrefix(code, "title/"), code)
	}
	for name, job := range everyJob(t) {
		plan, err := service.NewPlan(job, service.Rules{})
		require.NoError(t, err, name)
		missing := func(code, variant string, values service.Values) {
			if variant != "" {
				code += "/" + variant
			}
			words, known := English().said.Sentences[code]
			assert.True(t, known, code)
			for _, braced := range regexp.MustCompile(`\{[a-z-]+\}`).FindAllString(words, -1) {
				assert.NotNil(t, values.Get(strings.Trim(braced, "{}")), "%s: %s", code, braced)
			}
		}
		for _, f := range plan.Findings {
			missing(f.Code, f.Variant, f.Values)
		}
		for _, phase := range plan.Steps() {
			for _, step := range phase.Steps {
				if step.Kind != service.Grid && step.Kind != service.Drawing {
					missing(step.Code, step.Variant, step.Values)
				}
			}
		}
	}
}

// What [Words.Sheet] didn't make is printed as it is.
func TestZeroSheet(t *testing.T) {
	assert.Empty(t, Sheet{}.Text(), "no pages")
	assert.NotEmpty(t, English().Sheet(&service.Plan{}, false).Text())
}
