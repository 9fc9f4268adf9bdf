package sheet

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/turn"
)

// How much is on a page: what is read with gloves on is short. Drag and its remedy, the direction, the
// aim, the limit, a left-hand thread and hazards are never off a page and count for nothing, nor do a table,
// a picture, and what a thing is called. Common practice, no source.
const (
	mostInstruction, mostOfHardWay = 125, 155
	mostForm                       = 20
	mostNumbers, mostOfAngles      = 6, 10
	mostOnPage                     = 210
)

type tally struct{ words, form, numbers int }

// count counts the words of an item, or of what is filled in by hand, and the numbers that one acts on: a range
// is two and a fraction one.
func (n *tally) count(it Item) {
	free := map[string]bool{"drag.remedy": true, "turn.sense": true, "turn.seen": true, "turn.never": true, "turn.aim": true, "turn.stop": true, "station.left-hand": true}
	names := map[string]bool{}
	for _, name := range []string{"part", "adapter", "mark", "next", "place", "station", "wrench", "gauge", "unit", "index"} {
		for _, word := range strings.Fields(fmt.Sprint(it.Values.Get(name))) {
			names[word] = true
		}
	}
	for _, value := range it.Values { // the unit behind a number
		if text := fmt.Sprint(value.Value); strings.ContainsAny(text[:min(1, len(text))], "0123456789") {
			for _, word := range strings.Fields(text)[1:] {
				names[word] = names[word] || !strings.ContainsAny(word, "0123456789")
			}
		}
	}
	for _, word := range strings.Fields(strings.ReplaceAll(it.Words, " + ", "+")) { // 1 + 1/4 is one
		letter, digit := strings.ContainsFunc(word, unicode.IsLetter), strings.ContainsFunc(word, unicode.IsDigit)
		switch {
		case it.Kind == "blank" && letter && !names[word]:
			n.form++
		case it.Kind == "blank" || it.Level == "warning" || it.Kind == "finding" || names[strings.Trim(word, ",.;:")]:
		case digit && !letter && it.Code != "old.seals" && it.Code != "connector.off":
			n.numbers++
		case letter && !free[it.Code] && !strings.HasPrefix(it.Code, "start."):
			n.words++
		}
	}
}

func (p Page) tally(codes ...string) (n tally) {
	for _, section := range p.Sections {
		if len(codes) == 0 || strings.Contains(strings.Join(codes, " ")+" ", section.Code+" ") {
			for _, it := range section.Items {
				n.count(it)
			}
		}
	}
	return n
}

func TestPagesAreShort(t *testing.T) {
	files, err := filepath.Glob("../testdata/jobs/*.json")
	require.NoError(t, err)
	rulesText, err := os.ReadFile("../../examples/servicesheet/demo-rules.json")
	require.NoError(t, err)
	rules, err := service.ReadRules(rulesText)
	require.NoError(t, err)
	cards := 0
	for _, file := range append(files, "../../examples/servicesheet/demo.json", "../testdata/bench.json") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		job, err := service.ReadJob(text)
		require.NoError(t, err)
		plan, err := service.NewPlan(job, rules)
		require.NoError(t, err)
		pages := English().Sheet(plan, false).Pages
		if strings.Contains(file, "demo") {
			assert.LessOrEqual(t, len(pages), 5)
		}
		station := 0
		for _, page := range pages {
			name := fmt.Sprint(filepath.Base(file), " ", page.Code, " ", page.Station)
			if page.Code != "card" {
				n := page.tally()
				t.Log(name, n)
				assert.LessOrEqual(t, n.words, mostOnPage, name)
				continue
			}
			s := plan.Stations[station]
			words, numbers := mostInstruction, mostNumbers
			if s.Sequence != nil || s.Seat != nil || s.Station.Tighten.Thread == turn.LeftHand {
				words = mostOfHardWay
			}
			if s.Sequence != nil {
				numbers = mostOfAngles
			}
			n := page.tally("off", "on", "tighten")
			t.Log(name, n)
			assert.LessOrEqual(t, n.words, words, name)
			assert.Greater(t, n.words, 30, name)
			assert.LessOrEqual(t, n.form, mostForm, name)
			assert.LessOrEqual(t, n.numbers, numbers, name)
			station++
			cards++
		}
	}
	assert.Equal(t, 12, cards)
}
