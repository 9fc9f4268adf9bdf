package service

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWordsAreCounted(t *testing.T) {
	for text, want := range map[string]int{"": 0, "  ": 0, "open": 1, "open the drain-cock, then wait": 5, "a — b": 2, "4 µm": 2, "vent: ½ turn": 2, "Ölfilter öffnen": 2} {
		assert.Equal(t, want, words(text), text)
	}
}

// wordyIn lists the findings on too many words, as "code where words".
func wordyIn(t *testing.T, change func(*Job)) (found []Finding) {
	t.Helper()
	job := benchPlan(t).Job
	change(&job)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	for _, f := range plan.Findings {
		if strings.HasPrefix(f.Code, "words.") {
			assert.Equal(t, Note, f.Level)
			found = append(found, f)
		}
	}
	return found
}

func nWords(n int) string { return strings.TrimSpace(strings.Repeat("word ", n)) }

// Twelve words of a step pass and thirteen don't, wherever the job has steps.
func TestLongStepIsFound(t *testing.T) {
	assert.Empty(t, wordyIn(t, func(*Job) {}))
	for where, set := range map[string]func(*Job, string){
		"isolate[0].how":                      func(j *Job, s string) { j.Isolate[0].How = s },
		"isolate[0].forStart":                 func(j *Job, s string) { j.Isolate[0].ForStart = s },
		"stations[1].connectors[0]":           func(j *Job, s string) { j.Stations[1].Connectors = []string{s} },
		"stations[1].drain.steps[0]":          func(j *Job, s string) { j.Stations[1].Drain.Steps = []string{s} },
		"stations[1].connectorsAfterDrain[1]": func(j *Job, s string) { j.Stations[1].ConnectorsAfterDrain = []string{"hose", s} },
	} {
		assert.Empty(t, wordyIn(t, func(j *Job) { set(j, nWords(12)) }), where)
		found := wordyIn(t, func(j *Job) { set(j, nWords(13)) })
		require.Len(t, found, 1, where)
		assert.Equal(t, "words.step", found[0].Code)
		assert.Equal(t, where, found[0].Where)
		assert.Equal(t, 13, found[0].Values.Get("words"))
		assert.Equal(t, 12, found[0].Values.Get("most"))
	}
}

// Forty of the job's words on a card pass, one more doesn't, whatever they are; a part with a short number
// takes none.
func TestWordyCardIsFound(t *testing.T) {
	bare := func(j *Job) *Station {
		s := &j.Stations[1]
		s.Name, s.Connectors, s.ConnectorsAfterDrain, s.Drain.Steps = "x", nil, nil, []string{nWords(12), nWords(12), nWords(10)}
		s.Seals = []Seal{{PartNo: "G-4", Part: nWords(30), Where: "rim", Wet: "fuel"}}
		s.Tighten.Marks.Index = "a rib"
		return s // 1 + 34 + 2 + 2 words
	}
	for name, add := range map[string]func(*Station){
		"name":       func(s *Station) { s.Name += " word" },
		"connector":  func(s *Station) { s.Connectors = []string{"plug"} },
		"afterwards": func(s *Station) { s.ConnectorsAfterDrain = []string{"plug"} },
		"step":       func(s *Station) { s.Drain.Steps = append(s.Drain.Steps, "close") },
		"where":      func(s *Station) { s.Seals[0].Where += " edge" },
		"wet":        func(s *Station) { s.Seals[0].Wet = "clean fuel" },
		"index":      func(s *Station) { s.Tighten.Marks.Index += " there" },
	} {
		assert.Empty(t, wordyIn(t, func(j *Job) { add(bare(j)) }), "40 words: %s", name)
		found := wordyIn(t, func(j *Job) { s := bare(j); add(s); s.Name += " more" })
		require.Len(t, found, 1, name)
		assert.Equal(t, "words.card", found[0].Code)
		assert.Equal(t, "stations[1]", found[0].Where)
		assert.Equal(t, 41, found[0].Values.Get("words"), name)
	}
	found := wordyIn(t, func(j *Job) { bare(j).Seals[0].PartNo = "" })
	require.Len(t, found, 1)
	assert.Equal(t, 39+30, found[0].Values.Get("words"), "without a number its name stands there")
}

// A part goes by its short number at the bench, and by number and name where it is fetched and ordered.
func TestPartNumbers(t *testing.T) {
	job := benchPlan(t).Job
	s := &job.Stations[0]
	s.Element.PartNo, s.Element.Part = "E-30", "long name of an element"
	s.Seals = []Seal{{PartNo: "R-96", Part: "long name of a ring", Where: "groove", Wet: "clean fuel"}, {PartNo: "R-9", Part: "another ring", Where: "cock", Dry: true}}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	assert.Equal(t, []string{"E-30, long name of an element", "R-96, long name of a ring", "R-9, another ring"}, plan.Restock[:3])
	sheet := flat(plan.Text())
	for _, words := range []string{"station 1: E-30, long name of an element", "station 1: R-96, long name of a ring",
		"groove: R-96, wet with clean fuel", "cock: R-9, dry"} {
		assert.Contains(t, sheet, words)
	}

	s.Element.PartNo = strings.Repeat("x", 20)
	assert.NoError(t, job.Check())
	s.Element.PartNo += "x"
	assert.ErrorContains(t, job.Check(), "stations[0].element.partNo: 21 bytes; want a short number")
	s.Element.PartNo, s.Seals[1].PartNo = " ", strings.Repeat("x", 21)
	err = job.Check()
	assert.ErrorContains(t, err, "stations[0].element.partNo: nothing but blanks")
	assert.ErrorContains(t, err, "stations[0].seals[1].partNo: 21 bytes")
}

// The demonstration keeps to what it asks of others.
func TestDemonstrationIsShort(t *testing.T) {
	job, err := ReadJobOn([]byte(fileOf(t, "../examples/servicesheet/demo-machine.json")), []byte(fileOf(t, "../examples/servicesheet/demo-job.json")))
	require.NoError(t, err)
	assert.Empty(t, wordyIn(t, func(j *Job) { *j = job }))
}
