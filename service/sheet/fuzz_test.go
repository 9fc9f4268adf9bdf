package sheet

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/service"
	"example.com/snugturn/testdata/jsonpiece"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

var odd = []string{"", "99", "0.0000000000000000001 mL", "<script>alert(1)</script>", `"><img src=x>`, "]]><!--", "⅓ turn", "12 turns", "8760h",
	"999999999999 N·m", "1e-9", "M22x1.5-LH", "W̸͓̎W̸͓̎", "一二三", strings.Repeat("x", 300)}

// elements are those of a page; what a job says adds none to them.
var elements = strings.Fields("b body circle desc div figure footer h1 h2 h3 head header html i main meta p path section span strong style svg table td text th time title tr")

// checkPage holds a page to what no job may change: it is well formed, has no element or attribute but its own, and
// no figure that isn't one.
func checkPage(t *testing.T, page []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if !slices.Contains(elements, start.Name.Local) {
			t.Fatalf("a <%s> on the page", start.Name.Local)
		}
		for _, a := range start.Attr {
			name := a.Name.Local
			if name == "style" || name == "src" || name == "href" || strings.HasPrefix(name, "on") {
				t.Fatalf("%s=%q on the page", name, a.Value)
			}
			if geometry[name] && (strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf")) {
				t.Fatalf("%s=%q on the page", name, a.Value)
			}
		}
	}
}

var geometry = map[string]bool{"d": true, "x": true, "y": true, "x1": true, "x2": true, "y1": true, "y2": true, "cx": true, "cy": true, "r": true,
	"width": true, "height": true, "viewBox": true, "transform": true, "points": true}

var slips = regexp.MustCompile(`NaN|[+-]Inf|%!|<nil>|ZgotmplZ|\{[a-z]+\}`)

// checkText holds what is shown to lines of what is seen, with no figure or word missing. Slips that the job itself
// has are its own.
func checkText(t *testing.T, shown, data string) {
	t.Helper()
	for line := range strings.Lines(shown) {
		line = strings.TrimSuffix(line, "\n")
		if hidden := plain.Hidden(line); hidden != "" {
			t.Fatalf("unseen: %q in %q", hidden, line)
		}
	}
	for _, slip := range slips.FindAllString(shown, -1) {
		if !strings.Contains(plain.Clean(data), slip) {
			t.Fatalf("%s on the sheet", slip)
		}
	}
}

var jobs = []string{"bench.json", "jobs/cartridge.json", "jobs/cover-and-cap.json", "jobs/three-stations.json", "jobs/two-stations.json"}

// FuzzSheet: whatever a job says, its sheet is text, a page and JSON in every language, with its pictures, and the
// JSON is read back as it was.
func FuzzSheet(f *testing.F) {
	languages := Languages()
	for k, name := range jobs {
		for i, text := range odd {
			f.Add(file(f, name), uint16(13*i+k), text, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, data string, piece uint16, text string, language uint8) {
		data = jsonpiece.Put(data, piece, text)
		job, err := service.ReadJob([]byte(data))
		if err != nil {
			return
		}
		plan, err := service.NewPlan(job, service.Rules{})
		if err != nil {
			return
		}
		words, err := In(languages[int(language)%len(languages)])
		require.NoError(t, err)
		s := words.Sheet(plan, language%2 == 0)
		said, err := json.Marshal(job) // its texts without the escapes of data
		require.NoError(t, err)
		var texts any
		require.NoError(t, json.Unmarshal(said, &texts))
		own := strings.Join(leaves(texts, nil), "\n")
		checkText(t, s.Text(), own)
		for line := range strings.Lines(s.ASCII()) {
			require.Empty(t, plain.Hidden(strings.TrimSuffix(line, "\n")))
		}
		for line := range strings.Lines(s.Text()) {
			require.LessOrEqual(t, wrap.Columns(strings.TrimSuffix(line, "\n")), wrap.Width+1)
		}
		page, err := s.HTML()
		require.NoError(t, err)
		checkPage(t, page)
		written, err := s.JSON()
		require.NoError(t, err)
		var back Sheet
		require.NoError(t, back.UnmarshalJSON(written))
		rewritten, err := back.JSON()
		require.NoError(t, err)
		require.JSONEq(t, string(written), string(rewritten))
	})
}

// leaves are all texts of a JSON value.
func leaves(v any, all []string) []string {
	switch v := v.(type) {
	case string:
		all = append(all, v)
	case []any:
		for _, one := range v {
			all = leaves(one, all)
		}
	case map[string]any:
		for key, one := range v {
			all = leaves(one, append(all, key))
		}
	}
	return all
}

// FuzzReview: readings and rules of any kind are refused, or reviewed in words and made into a record that this
// release verifies and shows.
func FuzzReview(f *testing.F) {
	var plans []service.Job
	var texts []string
	for _, name := range jobs {
		job, err := service.ReadJob([]byte(file(f, name)))
		require.NoError(f, err)
		plans, texts = append(plans, job), append(texts, file(f, name))
	}
	for i, text := range odd {
		f.Add(uint8(0), file(f, "asdone.json"), file(f, "rules.json"), uint16(3*i), text, i%3 == 0)
	}
	f.Fuzz(func(t *testing.T, which uint8, done, rules string, piece uint16, text string, ofRules bool) {
		if ofRules {
			rules = jsonpiece.Put(rules, piece, text)
		} else {
			done = jsonpiece.Put(done, piece, text)
		}
		by, err := service.ReadRules([]byte(rules))
		if err != nil {
			refusedInLines(t, err)
			by = service.Rules{}
		}
		readings, err := service.ReadAsDone([]byte(done))
		if err != nil {
			refusedInLines(t, err)
			return
		}
		job := plans[int(which)%len(plans)]
		if which >= 128 {
			readings.Job, readings.Revision = job.ID, job.Revision
		}
		plan, err := service.NewPlan(job, by)
		if err != nil {
			refusedInLines(t, err)
			return
		}
		review, err := plan.Review(readings)
		if err != nil {
			refusedInLines(t, err)
			return
		}
		own := done + rules + texts[int(which)%len(texts)]
		checkText(t, English().Review(review), own)
		for _, line := range slices.Concat(review.Open(), review.Departures()) {
			require.Empty(t, plain.Hidden(line.String()))
		}
		sealed, err := review.Record()
		require.NoError(t, err)
		record, err := service.ReadRecord(sealed)
		require.NoError(t, err)
		require.True(t, record.Verified)
		shown, err := English().Record(record)
		require.NoError(t, err)
		checkText(t, shown, own)
	})
}

// refusedInLines holds an error to its shape.
func refusedInLines(t *testing.T, err error) {
	t.Helper()
	var all service.JobErrors
	require.ErrorAs(t, err, &all)
	for _, one := range all {
		if line := one.Error(); len(line) > 1000 || plain.Hidden(line) != "" || one.Code() == "" {
			t.Fatalf("a line of %d bytes, %q: %q", len(line), one.Code(), line)
		}
	}
}

// FuzzWith: a catalogue is refused as text is, or its sentences serve.
func FuzzWith(f *testing.F) {
	f.Add("language: en\nplural: one-other\npage/office: Upstairs\nmy.own: {n} {n|bolt|bolts}\n")
	f.Add("language: es\nplural: none\n")
	f.Add("language: en\nplural: one-other\nmy.own: {n|a|b|c} {m} {\n")
	f.Add("language: en\nplural: one-other\nmy.own\n\xff: {}\n")
	plan := benchPlan(f)
	f.Fuzz(func(t *testing.T, catalogue string) {
		w, err := English().With(catalogue)
		if err != nil {
			require.ErrorIs(t, err, units.ErrSyntax)
			require.Less(t, len(err.Error()), 600)
			require.Empty(t, plain.Hidden(err.Error()))
			return
		}
		for _, code := range []string{"my.own", "no.such"} {
			w.Say(service.Message{Code: code, Values: service.Values{{Name: "n", Value: 3}}})
		}
		page, err := w.Sheet(plan, true).HTML()
		require.NoError(t, err)
		checkPage(t, page)
	})
}

// FuzzDrawTurn: a picture of any ring is refused, or is well formed with figures alone.
func FuzzDrawTurn(f *testing.F) {
	f.Add(`{"labels":["A","B","C"],"order":"clockwise"}`, "A", "3/4 to 1 turn after gasket contact", uint8(1), uint8(1))
	f.Add(`{"marks":[{"label":"A","at":"0 turns"},{"label":"<B>","at":"1/3 turn"}],"order":"counterclockwise","onHead":true}`, "<B>", "3 turns", uint8(2), uint8(3))
	f.Fuzz(func(t *testing.T, ring, from, instruction string, hand, view uint8) {
		var marks turn.Ring
		var in turn.Instruction
		if marks.UnmarshalJSON([]byte(ring)) != nil || in.UnmarshalText([]byte(instruction)) != nil {
			return
		}
		picture, err := English().DrawTurn(marks, turn.Position{Mark: from}, in, turn.Hand(hand), turn.View(view))
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		checkPage(t, picture)
	})
}
