package sheet

import (
	"embed"
	"errors"
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strings"
	"sync"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Words are the sentences of one language for the codes of sheets, findings, reviews and pictures. They can't be
// changed. How numbers are written is for the job, not for the language: [service.Preferences] have its units and
// its decimal mark.
type Words struct {
	language  string
	draft     string // notice that no native speaker has read them
	plural    plural
	sentences map[string]string
	page      *template.Template
}

// plural is which of how many forms goes with a number.
type plural struct {
	forms int
	form  func(n int64) int
}

// plurals are the rules that the head of a catalogue may name, as the Unicode CLDR has them for whole
// numbers, from memory (M): "none" for Japanese, "one-other" for English and Spanish, "one-few-many" for Russian.
var plurals = map[string]plural{
	"none": {1, func(int64) int { return 0 }},
	"one-other": {2, func(n int64) int {
		if n == 1 {
			return 0
		}
		return 1
	}},
	"one-few-many": {3, func(n int64) int {
		switch last, teen := n%10, n%100/10 == 1; {
		case last == 1 && !teen:
			return 0
		case 2 <= last && last <= 4 && !teen:
			return 1
		}
		return 2
	}},
}

//go:embed words/*.txt
var files embed.FS

// languages are the words of the catalogue files, English first: it governs.
var languages = sync.OnceValues(func() ([]*Words, error) {
	list, _ := files.ReadDir("words") // embedded
	var texts []string
	for _, file := range list {
		text, _ := files.ReadFile("words/" + file.Name())
		texts = append(texts, string(text))
		if file.Name() == "en.txt" {
			texts[0], texts[len(texts)-1] = texts[len(texts)-1], texts[0]
		}
	}
	return load(texts)
})

// English are the words that govern: other languages are translated from them.
func English() *Words {
	all, _ := languages()
	return all[0]
}

// Languages are the tags that [In] has words for, English first.
func Languages() []string {
	all, _ := languages()
	return tags(all)
}

// In are the words of a language by its tag (BCP 47): "en", "es", and "es-MX" too, which is "es" here.
//
// Errors: *units.ParseError (units.ErrSyntax) for a language that there is no catalogue of; it lists those there are.
func In(tag string) (*Words, error) {
	primary, _, _ := strings.Cut(strings.ReplaceAll(tag, "_", "-"), "-")
	all, err := languages()
	return pick(strings.ToLower(primary), all, err)
}

// With are the words with those of a program's own messages added, or put in the place of others: catalogues in
// the form of words/en.txt, one a language, the first of which governs.
//
// Errors: *units.ParseError (units.ErrSyntax) where none is of this language, where a line is malformed or too long, where
// codes or values are missing from one or surplus to the first, and where a sentence has other values than the one that it
// is in the place of.
func (w *Words) With(catalogues ...string) (*Words, error) {
	all, err := load(catalogues)
	added, err := pick(w.language, all, err)
	if err != nil {
		return nil, err
	}
	more := *w
	more.sentences = maps.Clone(w.sentences)
	for code, sentence := range added.sentences {
		if old, taken := w.sentences[code]; taken && !slices.Equal(names(old), names(sentence)) {
			return nil, misread.Error("catalogue", code+": "+sentence, 0, "other values than what it is in the place of", old, units.ErrSyntax)
		}
		more.sentences[code] = sentence
	}
	return more.ready(), nil
}

// ready makes the page of words.
func (w *Words) ready() *Words {
	w.page = template.Must(page.Clone()).Funcs(w.funcs()) // which was never executed
	return w
}

// load reads catalogues and holds each against the first. Those that are wrong are left out.
func load(catalogues []string) (all []*Words, errs error) {
	for _, text := range catalogues {
		w, err := parse(text)
		if err == nil && len(all) > 0 {
			err = w.same(all[0])
		}
		if err != nil {
			errs = errors.Join(errs, err)
		} else {
			all = append(all, w.ready())
		}
	}
	return all, errs
}

// pick is the words of a language, or what kept them from being read.
func pick(tag string, all []*Words, err error) (*Words, error) {
	for _, w := range all {
		if w.language == tag {
			return w, nil
		}
	}
	if err == nil {
		err = misread.Error("language", tag, 0, "no words in it", strings.Join(tags(all), " or "), units.ErrSyntax)
	}
	return nil, err
}

func tags(all []*Words) (tags []string) {
	for _, w := range all {
		tags = append(tags, w.language)
	}
	return tags
}

// The bounds of a catalogue, so that none is costly.
const (
	maxCatalogue = 1 << 20
	maxLine      = 4000
)

// parse reads a catalogue: lines of a code and its sentence, blank lines, and remarks behind a #. The head has
// language and plural, and draft where nobody who speaks it has read it.
func parse(text string) (*Words, error) {
	w := &Words{sentences: map[string]string{}}
	bad := func(line, problem, want string) (*Words, error) {
		return nil, misread.Error("catalogue", line, 0, problem, want, units.ErrSyntax)
	}
	if len(text) > maxCatalogue {
		return bad(plain.Cut(text), fmt.Sprintf("%d bytes", len(text)), "a catalogue of at most 1 MiB")
	}
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); len(line) > maxLine {
			return bad(plain.Cut(line), fmt.Sprintf("a line of %d bytes", len(line)), "a sentence of at most 4,000")
		}
		if line == "" || line[0] == '#' {
			continue
		}
		code, sentence, found := strings.Cut(line, ": ")
		if _, twice := w.sentences[code]; twice || !found || plain.Clean(line) != line {
			return bad(line, "given twice, or no code and sentence", "each code once, a colon, a blank and its sentence")
		}
		w.sentences[code] = sentence
	}
	var known bool
	w.language, w.draft = w.sentences["language"], w.sentences["draft"]
	if w.plural, known = plurals[w.sentences["plural"]]; !known {
		return bad("plural: "+w.sentences["plural"], "unknown rule", strings.Join(slices.Sorted(maps.Keys(plurals)), ", "))
	}
	for _, head := range []string{"language", "plural", "draft"} {
		delete(w.sentences, head)
	}
	for code, sentence := range w.sentences {
		for _, place := range places(sentence) {
			if forms := strings.Split(place, "|")[1:]; len(forms) > 0 && len(forms) != w.plural.forms {
				return bad(code+": "+sentence, "a place with another number of forms than the plural rule has", "a form for each")
			}
		}
		_, rest, repeats := strings.Cut(sentence, "[")
		each, _, _ := strings.Cut(rest, "]")
		if list := names(each); repeats && (len(list) == 0 || slices.ContainsFunc(list, func(name string) bool { return !strings.Contains(name, "#") })) {
			return bad(code+": "+sentence, "what is repeated has no numbered value", "values such as {mark-#} in brackets, and no others")
		}
	}
	return w, nil
}

// places are what is in the braces of a sentence.
func places(sentence string) (all []string) {
	for _, rest := range strings.Split(sentence, "{")[1:] {
		place, _, _ := strings.Cut(rest, "}")
		all = append(all, place)
	}
	return all
}

// names are the values that a sentence has, each once, in order of the alphabet.
func names(sentence string) []string {
	all := places(sentence)
	for i, place := range all {
		all[i] = place[:strings.IndexAny(place+"|", "|/")]
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// same refuses words that lack a code or a value of those that govern, or have one that those don't.
func (w *Words) same(governs *Words) error {
	for _, code := range slices.Sorted(maps.Keys(governs.sentences)) {
		sentence, found := w.sentences[code]
		if want := names(governs.sentences[code]); !found || !slices.Equal(names(sentence), want) {
			return misread.Error("catalogue", w.language+": "+code+": "+sentence, 0, "missing, or other values",
				"a sentence with "+strings.Join(append([]string{"just the values"}, want...), " "), units.ErrSyntax)
		}
	}
	for _, code := range slices.Sorted(maps.Keys(w.sentences)) {
		if _, found := governs.sentences[code]; !found {
			return misread.Error("catalogue", w.language+": "+code, 0, "unknown code", "the codes of the catalogue that governs", units.ErrSyntax)
		}
	}
	return nil
}
