package service

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// What may be read at arm's length: the words of one step, and all of the job's own words on the card of
// one station.
const (
	mostWordsOfStep = 12
	mostWordsOfCard = 40
)

// words counts what is between blanks and has a letter or a digit in it.
func words(text string) (n int) {
	for _, word := range strings.Fields(text) {
		if strings.ContainsFunc(word, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			n++
		}
	}
	return n
}

// wordy says where the job says more than anybody reads at the work.
func (p *Plan) wordy() {
	step := func(where, text string) {
		if n := words(text); n > mostWordsOfStep {
			p.say(Note, "words.step", where, by(practice), "words", n, "most", mostWordsOfStep, "step", plain.Cut(text))
		}
	}
	for i, out := range p.Job.Isolate {
		step(fmt.Sprintf("isolate[%d].how", i), out.How)
		step(fmt.Sprintf("isolate[%d].forStart", i), out.ForStart)
	}
	for i, s := range p.Job.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		for _, list := range []struct {
			name  string
			steps []string
		}{{"connectors", s.Connectors}, {"drain.steps", s.Drain.Steps}, {"connectorsAfterDrain", s.ConnectorsAfterDrain}} {
			for j, text := range list.steps {
				step(fmt.Sprintf("%s.%s[%d]", path, list.name, j), text)
			}
		}
		if n := s.ownWords(); n > mostWordsOfCard {
			p.say(Note, "words.card", path, by(practice), "station", s.ID, "words", n, "most", mostWordsOfCard)
		}
	}
}

// ownWords counts the words of the job on the card of a station: steps, where seals go and with what they
// are wetted, what marks are read against, and the names of parts without a number. IDs, numbers, and
// what marks are called don't count.
func (s Station) ownWords() int {
	texts := slices.Concat([]string{s.Name}, s.Connectors, s.Drain.Steps, s.ConnectorsAfterDrain)
	for _, seal := range s.Seals {
		texts = append(texts, seal.Where, seal.Wet)
		if seal.PartNo == "" {
			texts = append(texts, seal.Part)
		}
	}
	t := s.Tighten
	if t.Marks != nil {
		texts = append(texts, t.Marks.Index)
	}
	if t.Seat != nil {
		texts = append(texts, t.Seat.Gap)
	}
	if t.Adapter != nil {
		texts = append(texts, t.Adapter.Name)
	}
	return words(strings.Join(texts, " "))
}

// maxPartNo keeps a part's number short enough to be read across a bench.
const maxPartNo = 20

func checkPartNo(path, no string, errs *JobErrors) {
	errs.when(len(no) > maxPartNo, path, fmt.Sprintf("%d bytes", len(no)), "a short number of at most 20 bytes; the long one stands in part", units.ErrSyntax)
}

// numbered is a part by its number, if it has one, and its name.
func numbered(no, name string) string {
	return either(no == "", name, no+", "+name)
}
