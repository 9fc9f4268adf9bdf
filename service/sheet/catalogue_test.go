package sheet

import (
	"encoding/json"
	"html"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/catalogue"
	"example.com/snugturn/service"
	"example.com/snugturn/units"
)

// Every catalogue is complete: nothing is missing from it or surplus to English.
func TestCatalogues(t *testing.T) {
	_, err := languages()
	require.NoError(t, err)
	files, err := filepath.Glob("words/*.txt")
	require.NoError(t, err)
	assert.Len(t, Languages(), len(files))
	assert.Equal(t, "en", Languages()[0])
	all, err := languages()
	require.NoError(t, err)
	for _, w := range all {
		for code, title := range w.said.Sentences {
			if strings.HasPrefix(code, "title/") && code != "title/station" {
				for _, word := range strings.Fields(title) {
					assert.LessOrEqual(t, len([]rune(word)), 9, "%s: %s: it has 21 mm beside its part of a page", w.said.Language, title)
				}
			}
		}
	}
}

// A language is a file and nothing else: this one, made up, is loaded beside English and lays a whole sheet out. What
// lacks a code or a value, or has one too many, is refused and named.
func TestAThirdLanguage(t *testing.T) {
	text := file(t, "../sheet/words/en.txt")
	made := strings.NewReplacer("language: en\n", "language: qaa\n", "one-other", "one-few-many", "Before you start", "Plenta begin",
		"{times|time|times}", "{times|tol|tolem|toloth}", "{strokes|stroke|strokes}", "{strokes|a|b|c}", "{attempts|attempt|attempts}", "{attempts|a|b|c}", "{all|waste|wastes}", "{all|a|b|c}").Replace(text)
	all, err := catalogue.Load([]string{text, made})
	require.NoError(t, err)
	w := words(all[1])
	s := w.Sheet(benchPlan(t), true)
	assert.Equal(t, "qaa", s.Lang)
	assert.Contains(t, s.Text(), "PLENTA BEGIN")
	assert.Contains(t, flat(s.Text()), "3 tolem")
	page, err := s.HTML()
	require.NoError(t, err)
	assert.Contains(t, string(page), `<html lang="qaa">`)
	for name, edit := range map[string][2]string{
		"office":          {"page/office: For the office\n", ""},
		"page/roof":       {"page/office:", "page/roof: Roof\npage/office:"},
		"caution":         {"start.job: {caution}", "start.job: caution"},
		"number of forms": {"{attempts|a|b|c}", "{attempts|a|b}"},
		"given twice":     {"page/office:", "page/office: twice\npage/office:"},
		"unknown rule":    {"plural: one-few-many", "plural: some-more"},
		"no numbered":     {"[ {wrench-#}: {why-#}]", "[ {wrench-#}: {why-#}{station}]"},
		"no words in it":  {"language: qaa", "language: xx"},
	} {
		require.Contains(t, made, edit[0])
		all, err := catalogue.Load([]string{text, strings.Replace(made, edit[0], edit[1], 1)})
		_, err = catalogue.Find("qaa", catalogue.Tags(all), err)
		assert.ErrorContains(t, err, name)
		assert.ErrorIs(t, err, units.ErrSyntax)
	}
}

// Sentences of a program's own are added, or stand for others that have the same values.
func TestWith(t *testing.T) {
	const head = "language: en\nplural: one-other\n"
	w, err := English().With(head + "page/office: Upstairs\nmy.own: {n} {n|bolt|bolts}\n")
	require.NoError(t, err)
	assert.Equal(t, "3 bolts", w.Say(service.Message{Code: "my.own", Values: service.Values{{Name: "n", Value: 3}}}))
	assert.Contains(t, w.Sheet(benchPlan(t), false).Text(), "UPSTAIRS")
	assert.Contains(t, English().Sheet(benchPlan(t), false).Text(), "FOR THE OFFICE", "those of the library stay")
	for _, wrong := range []string{"language: es\nplural: none\n", head + "page/card: Station\n", head + "my.own\n", "",
		head + "my.own: " + strings.Repeat("{", 4000) + "\n", head + strings.Repeat("# remark\n", 1<<17)} {
		_, err := English().With(wrong)
		require.ErrorIs(t, err, units.ErrSyntax)
		assert.Less(t, len(err.Error()), 300)
	}
}

// A word goes with the number that it has.
func TestPlurals(t *testing.T) {
	job := benchPlan(t).Job
	job.Prime.Crank.Attempts = 1
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	assert.Contains(t, flat(English().Sheet(plan, false).Text()), "at most 1 attempt, then")
}

// pseudo is a language in which every sentence is in brackets and has letters of its own, so that what is printed past
// the catalogue shows.
func pseudo(t *testing.T) *Words {
	t.Helper()
	foreign := *English().said
	foreign.Language, foreign.Sentences = "qps", map[string]string{}
	for code, sentence := range English().said.Sentences {
		var b strings.Builder
		in := false // a place for a value
		for _, r := range sentence {
			if r == '{' {
				in = true
			}
			if in && r == '|' {
				in = false
			}
			switch {
			case !in && unicode.IsLetter(r):
				r = 'ж'
			case r == '}':
				in = false
			}
			b.WriteRune(r)
		}
		foreign.Sentences[code] = "⟦" + b.String() + "⟧"
	}
	return words(&foreign)
}

// own are the words of the job, the readings, the rules and the sources: all that a language doesn't say.
func own(t *testing.T, texts ...any) map[string]bool {
	t.Helper()
	words := map[string]bool{}
	for _, v := range texts {
		if reflect.ValueOf(v).IsZero() {
			continue
		}
		text, err := json.Marshal(v)
		require.NoError(t, err)
		var any any
		require.NoError(t, json.Unmarshal(text, &any))
		gather(any, words)
	}
	return words
}

func gather(v any, words map[string]bool) {
	switch x := v.(type) {
	case string:
		for _, word := range latin.FindAllString(x, -1) {
			words[strings.ToLower(word)] = true
		}
	case []any:
		for _, e := range x {
			gather(e, words)
		}
	case map[string]any:
		for _, e := range x {
			gather(e, words)
		}
	}
}

var (
	latin = regexp.MustCompile(`\p{Latin}+`)
	path  = regexp.MustCompile(`\b(job|stations|waste|prime|fuel|shop|isolate|cranks|weights|restored|totals|water|fitted|fill)?(\[[^\]]*\])?(\.[a-zA-Z]+(\[\d+\])?)+`)
)

// symbols are what no language says otherwise: of units, and of a standard's name.
func symbols() map[string]bool {
	all := map[string]bool{}
	add := func(text string) {
		for _, word := range latin.FindAllString(text, -1) {
			all[word] = true
		}
	}
	for u := range units.All[units.TorqueUnit]() {
		add(u.String())
	}
	for u := range units.All[units.VolumeUnit]() {
		add(u.String())
	}
	for u := range units.All[units.MassUnit]() {
		add(u.String())
	}
	for u := range units.All[units.LengthUnit]() {
		add(u.String())
	}
	add("°C °F kg/m³ L/min s min h degC degF deg x um")
	return all
}

// Nothing that is printed comes from anywhere but the catalogue, the job, the rules, the readings and what is published:
// every page, picture and review in another language shows no word besides.
func TestPseudoLanguage(t *testing.T) {
	w := pseudo(t)
	known := symbols()
	for name, job := range everyJob(t) {
		for _, rules := range everyRules(t) {
			plan, err := service.NewPlan(job, rules)
			require.NoError(t, err, name)
			said := own(t, job, rules, plan.WasteRules, sourcesOf(plan.Findings))
			for _, step := range plan.Isolation.Out {
				said[strings.ToLower(step.Letter)] = true
			}
			check := func(what, text string) {
				for _, word := range latin.FindAllString(path.ReplaceAllString(text, ""), -1) {
					if lower := strings.ToLower(word); !known[word] && !said[lower] {
						said[lower] = true // said once
						t.Errorf("%s: %s: %q in\n%s", name, what, word, around(text, word))
					}
				}
			}
			s := w.Sheet(plan, true)
			check("text", strings.ReplaceAll(s.Text(), "\n", " "))
			check("ASCII", s.ASCII())
			page, err := s.HTML()
			require.NoError(t, err)
			assert.Contains(t, string(page), `<html lang="qps">`)
			check("page", seen(string(page)))
			for _, p := range s.Pages {
				check("title", p.Title)
				for _, section := range p.Sections {
					check("title", section.Title)
					for _, it := range section.Items {
						check(it.Code, it.Words)
						check(it.Code, it.Source)
						if it.Words != "" && it.Code != "turn.sense" {
							assert.True(t, strings.HasPrefix(it.Words, "⟦"), it.Words)
						}
						if it.Picture != nil {
							check(it.Code, it.Picture.Title+it.Picture.Words)
						}
					}
				}
			}
		}
	}
}

// All that a review says comes from there too.
func TestPseudoReview(t *testing.T) {
	w := pseudo(t)
	lines := strings.Split(strings.TrimSpace(file(t, "../../examples/reviewbatch/demo.ndjson")), "\n")
	readings := map[string][]string{"../../examples/reviewbatch/demo.json": lines, "bench.json": {file(t, "asdone.json"),
		strings.Replace(file(t, "asdone.json"), `"keyCycles": 3`, `"keyCycles": 9`, 1), strings.Replace(file(t, "asdone.json"), `"dragged": false`, `"dragged": true`, 1)}}
	rules := everyRules(t)[1]
	said := 0
	for name, all := range readings {
		job, err := service.ReadJob([]byte(file(t, name)))
		require.NoError(t, err)
		plan, err := service.NewPlan(job, rules)
		require.NoError(t, err)
		for _, text := range all {
			done, err := service.ReadAsDone([]byte(text))
			require.NoError(t, err)
			review, err := plan.Review(done)
			require.NoError(t, err)
			ours := own(t, job, rules, done, plan.WasteRules, review.Clauses)
			check := func(text string) {
				said++
				for _, word := range latin.FindAllString(path.ReplaceAllString(text, ""), -1) {
					if !symbols()[word] && !ours[strings.ToLower(word)] {
						t.Errorf("%q in %s", word, text)
						ours[strings.ToLower(word)] = true
					}
				}
			}
			for _, line := range append(review.Lines, plan.Wants()...) {
				for _, m := range append(line.Reasons, line.Found, line.Want) {
					if m.Code != "" {
						assert.NotEmpty(t, w.said.Sentences[strings.TrimSuffix(m.Code+"/"+m.Variant, "/")], m.String())
						check(w.Say(m))
					}
				}
				if line.Where != line.Code {
					check(strings.ReplaceAll(w.Say(line), line.Where, ""))
				}
			}
			assert.NotContains(t, w.Review(review), "omplete")
			data, err := review.Record()
			require.NoError(t, err)
			record, err := service.ReadRecord(data)
			require.NoError(t, err)
			text, err := w.Record(record)
			require.NoError(t, err)
			text = strings.ReplaceAll(text, "\n", " ")
			for _, line := range review.Lines { // a path is a label
				text = strings.ReplaceAll(text, line.Where+":", "")
			}
			check(text)
		}
	}
	assert.Greater(t, said, 500)
}

// seen is what a page shows or reads out.
func seen(page string) string {
	page = regexp.MustCompile(`(?s)<style>.*?</style>`).ReplaceAllString(page, " ")
	for _, attribute := range regexp.MustCompile(`\s([a-z-]+)=`).FindAllStringSubmatch(page, -1) {
		if slices.Contains([]string{"title", "alt", "aria-label", "aria-description", "placeholder"}, attribute[1]) {
			return "attribute " + attribute[1]
		}
	}
	return html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " "))
}

func around(text, word string) string {
	i := strings.Index(text, word)
	return text[max(0, i-120):min(len(text), i+120)]
}

func sourcesOf(findings []service.Finding) (all []string) {
	for _, f := range findings {
		for _, source := range f.Sources {
			if _, ours := English().said.Sentences["source/"+source]; !ours {
				all = append(all, source)
			}
		}
	}
	return all
}

// everyRules are none, and those of the demonstration.
func everyRules(t *testing.T) []service.Rules {
	t.Helper()
	text, err := os.ReadFile("../../examples/servicesheet/demo-rules.json")
	require.NoError(t, err)
	rules, err := service.ReadRules(text)
	require.NoError(t, err)
	return []service.Rules{{}, rules}
}
