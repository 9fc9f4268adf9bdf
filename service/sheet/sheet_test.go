package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

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
	page, err := For(p).HTML()
	require.NoError(t, err)
	return string(page)
}

// quiet takes the tags and escapes out of a page.
func quiet(page string) string {
	page = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(page, " ")
	return flat(strings.NewReplacer("&#39;", "'", "&amp;", "&", "&#34;", `"`, "&lt;", "<", "&gt;", ">", "&#43;", "+").Replace(page))
}

// Whatever the model says stands in the text and on the page.
func TestTextAndPageSayTheSame(t *testing.T) {
	for _, p := range []*service.Plan{benchPlan(t), benchPlan(t, withWrenches(wide)...), coverPlan(t), coverPlan(t, snugBand, "", angleWithin, "", "max 25 N·m", "20 to 25 N·m")} {
		text, page := flat(For(p).Text()), quiet(htmlOf(t, p))
		sheet := For(p)
		items := append(sheet.Notices, sheet.Findings...)
		for _, s := range sheet.Sections {
			assert.Contains(t, page, flat(s.Title))
			assert.Contains(t, text, flat(heading(s)))
			items = append(items, s.Items...)
		}
		require.Greater(t, len(items), 60)
		for _, it := range items {
			assert.NotEmpty(t, it.Code)
			assert.Contains(t, text, flat(it.Words))
			assert.Contains(t, page, flat(it.Words))
			if it.Picture != nil {
				assert.Contains(t, page, it.Picture.Words)
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
					ids = append(ids, a.Value)
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

// The policy lets the one style sheet in by the hash of what stands between its tags (CSP Level 3,
// section 2.3.1, from memory: M).
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

		text := For(plan).Text()
		for _, line := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), wrap.Width, line)
			assert.NotContains(t, line, "\x1b")
			assert.NotContains(t, line, "\u202e")
		}
		data, err := For(plan).JSON()
		require.NoError(t, err)
		assert.NotContains(t, string(data), "<", "safe inside a page of somebody else's")
		var back Sheet
		require.NoError(t, json.Unmarshal(data, &back))
		assert.Equal(t, plain.Clean(hostile), back.Job)
		assert.Equal(t, plain.Clean(hostile), back.Sections[2].Items[0].Values["part"], "filled in once, never again")
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
		"turns, contact / end":             "turns, contact / end",
		"station 2 of 3, leaks cold / hot": "station 2 of 3, leaks cold / hot",
		"/ 2 L":                            "/ 2~L",
		" a  b ":                           " a  b ",
	} {
		assert.Equal(t, want, strings.ReplaceAll(wrap.Together(words), "\u00a0", "~"))
	}
	assert.NotContains(t, For(benchPlan(t, withWrenches(wide)...)).Text(), "\u00a0", "text has plain blanks")
}

// An arrow never hides the index, and what it shows ends within three rounds however far it goes.
func TestArrow(t *testing.T) {
	for _, far := range []turn.Turn{turn.MustOf(1, 16), turn.MustOf(3, 4), turn.MustOf(1, 1), turn.MustOf(31, 30), turn.MustOf(5, 2), turn.MustOf(299, 3)} {
		assert.LessOrEqual(t, shown(far), 6*math.Pi)
		states := []RingState{{Code: "contact", Marks: []RingMark{{}}}, {Code: "end", Turned: far, Marks: []RingMark{{}}}}
		d := draw(&Picture{Ring: &RingPicture{Sense: turn.Clockwise, States: states}})
		wide, err := strconv.ParseFloat(d.Width, 64)
		require.NoError(t, err)
		high, err := strconv.ParseFloat(d.Height, 64)
		require.NoError(t, err)
		head := d.Shapes[len(d.Shapes)-2]
		require.Equal(t, "fill", head.Class)
		var x, y [3]float64
		_, err = fmt.Sscanf(strings.NewReplacer("M", "", "L", "", "Z", "").Replace(strings.ReplaceAll(head.Path, "L", " ")), "%f %f %f %f %f %f", &x[0], &y[0], &x[1], &y[1], &x[2], &y[2])
		require.NoError(t, err, head.Path)
		for i := range x {
			assert.True(t, 0 <= x[i] && x[i] <= wide && 0 <= y[i] && y[i] <= high, "%v: the head is on the picture", far)
			assert.False(t, math.Abs(x[i]-wide*3/4) < 4.5 && y[i] < high/2, "%v: the head is beside the index", far)
		}
	}
}

// JSON is the model: read back it is the same sheet.
func TestSheetJSONRoundTrip(t *testing.T) {
	sheet := For(benchPlan(t, withWrenches(wide)...))
	data, err := sheet.JSON()
	require.NoError(t, err)
	var back Sheet
	require.NoError(t, json.Unmarshal(data, &back))
	again, err := back.JSON()
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again))
	assert.Equal(t, sheet.Text(), back.Text(), "the text needs nothing but the model")
	page, err := sheet.HTML()
	require.NoError(t, err)
	pageBack, err := back.HTML()
	require.NoError(t, err)
	assert.Equal(t, string(page), string(pageBack))
}

// Codes are a promise. This list grows; nothing on it changes its meaning.
func TestCodes(t *testing.T) {
	codes := map[string]bool{}
	kinds := map[string]bool{}
	for _, p := range []*service.Plan{benchPlan(t), benchPlan(t, withWrenches(wide)...), coverPlan(t), coverPlan(t, snugBand, "", angleWithin, "")} {
		for _, s := range For(p).Sections {
			codes[s.Code] = true
			for _, it := range s.Items {
				codes[it.Code], kinds[it.Kind] = true, true
				assert.Regexp(t, `^[a-z]+(\.[a-z-]+)+$`, it.Code)
			}
		}
	}
	for _, code := range []string{"start", "isolate", "parts", "station", "prime", "leaks", "restore", "waste", "record", "next", "sources",
		"isolate.step", "parts.element", "drain.fuel", "torque.set", "torque.tighten", "turn.to-contact", "turn.further", "turn.marks",
		"picture.band", "picture.ring", "prime.cycles", "prime.crank", "leaks.pressure", "leaks.suction", "restore.step", "waste.mass", "record.done",
		"sequence.snug", "sequence.snug-band", "sequence.snug-open", "sequence.line", "sequence.stage", "sequence.within", "sequence.gauge", "sequence.turn-open", "sequence.turn-alone",
		"sequence.start-over", "seat.until", "seat.turns", "seat.most", "seat.past-stop", "turn.seen", "picture.stages", "record.snug", "record.angle", "record.turns-to-stop"} {
		assert.True(t, codes[code], code)
	}
	assert.Equal(t, map[string]bool{"do": true, "know": true, "detail": true, "table": true, "blank": true, "picture": true}, kinds)
}

// The ring shows what package turn works out: at each end the mark that stands at the index.
func TestRingAgreesWithThePlan(t *testing.T) {
	for _, hand := range []string{"right hand", "left hand"} {
		for _, printed := range []string{"clockwise", "counterclockwise"} {
			for _, view := range []turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.FromHeadSide.Mirrored(), turn.BesideClosedEndUp} {
				for _, how := range []string{"1/4 turn", "1/2 to 3/4 turn", "1 1/4 turns", "1/8 turn"} {
					job, err := service.ReadJob([]byte(bench(t)))
					require.NoError(t, err)
					tighten := &job.Stations[1].Tighten
					require.NoError(t, tighten.Thread.UnmarshalText([]byte(hand)))
					require.NoError(t, tighten.Marks.Order.UnmarshalText([]byte(printed)))
					tighten.Marks.View = view
					tighten.Turn = turn.MustParseInstruction(how + " after gasket contact")
					plan, err := service.NewPlan(job, service.Rules{})
					require.NoError(t, err)
					sp := plan.Stations[1]
					ring := ringPicture(sp).Ring
					pair := sp.Turn.Marks[0]
					first, last := ring.States[1], ring.States[len(ring.States)-1]
					assert.Equal(t, "S", ring.States[0].Marks[0].Label)
					assert.Equal(t, turn.Turn{}, ring.States[0].Marks[0].At, "contact stands at the index")
					for _, end := range []struct {
						state RingState
						want  turn.Position
					}{{first, pair.Aim}, {last, pair.Most}} {
						got, at := atIndex(end.state.Marks)
						assert.Equal(t, end.want.Past == turn.Turn{}, at)
						if at {
							assert.Equal(t, end.want.Mark, got)
						}
					}
					assert.Contains(t, []turn.Rotation{turn.Clockwise, turn.Counterclockwise}, ring.Sense, "drawn along the axis")
				}
			}
		}
	}
}

func TestRingWithoutMarksShowsTheLineDrawn(t *testing.T) {
	job, err := service.ReadJob([]byte(bench(t)))
	require.NoError(t, err)
	job.Stations[1].Tighten.Marks = nil
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	ring := ringPicture(plan.Stations[1]).Ring
	assert.Equal(t, []RingMark{{At: turn.MustOf(3, 4)}}, ring.States[1].Marks)
}

// The band picture has the tool inside the limits.
func TestBandPictureHoldsTheTool(t *testing.T) {
	plan := benchPlan(t, withWrenches(wide)...)
	band := printer{}.bandPicture(plan.Stations[0].Torque, "1").Band
	require.NotNil(t, band.Tool)
	assert.True(t, band.StatedLow.Compare(band.Tool.Least) <= 0 && band.Tool.Most.Compare(band.StatedHigh) <= 0)
	assert.Contains(t, flat(For(plan).Text()), "set "+band.Tool.Set.String())
	assert.Nil(t, printer{}.bandPicture(benchPlan(t).Stations[0].Torque, "1").Band.Tool)
}

func BenchmarkHTML(b *testing.B) {
	sheet := For(benchPlan(b))
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
	for code, words := range sentences {
		assert.NotEmpty(t, words, code)
		code, _, _ = strings.Cut(code, "/")
		group, _, _ := strings.Cut(code, ".out-of")
		assert.True(t, strings.Contains(source.String(), `"`+code) || strings.Contains(source.String(), `"`+group+`"`) ||
			strings.HasPrefix(code, "leaks."), code)
	}
	for name, job := range everyJob(t) {
		plan, err := service.NewPlan(job, service.Rules{})
		require.NoError(t, err, name)
		missing := func(code, variant string, values service.Values) {
			if variant != "" {
				code += "/" + variant
			}
			words, known := sentences[code]
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

// What [For] didn't make is printed as it is.
func TestZeroSheet(t *testing.T) {
	assert.NotEmpty(t, Sheet{}.Text())
	assert.NotEmpty(t, For(&service.Plan{}).Text())
}
