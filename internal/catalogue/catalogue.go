// Package catalogue reads the sentences of a language, each under a code, and fills them in.
//
// A catalogue is lines of a code and its sentence, blank lines, and remarks behind a #. Its head has language and plural,
// and draft where nobody who speaks it has read it. A name in braces is that of a value, and may have a form behind a
// slash, or the forms of a word that goes with a number: {times} {times|round|rounds}. What is in brackets is repeated for
// values that are numbered, from {mark-#} on.
package catalogue

import (
	"embed"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Catalogue is the sentences of one language by code.
type Catalogue struct {
	Language  string // its tag
	Draft     string // notice that no native speaker has read them
	Sentences map[string]string

	plural plural
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

// Embedded reads the files of a directory "words", English first: it governs.
func Embedded(files embed.FS) ([]*Catalogue, error) {
	list, _ := files.ReadDir("words") // embedded
	var texts []string
	for _, file := range list {
		text, _ := files.ReadFile("words/" + file.Name())
		texts = append(texts, string(text))
		if file.Name() == "en.txt" {
			texts[0], texts[len(texts)-1] = texts[len(texts)-1], texts[0]
		}
	}
	return Load(texts)
}

// Load reads catalogues and holds each against the first. Those that are wrong are left out.
//
// Errors: *units.ParseError (units.ErrSyntax), for each that is left out, joined.
func Load(texts []string) (all []*Catalogue, errs error) {
	for _, text := range texts {
		c, err := parse(text)
		if err == nil && len(all) > 0 {
			err = c.same(all[0])
		}
		if err != nil {
			errs = errors.Join(errs, err)
		} else {
			all = append(all, c)
		}
	}
	return all, errs
}

// Tags are those of the languages.
func Tags(all []*Catalogue) (tags []string) {
	for _, c := range all {
		tags = append(tags, c.Language)
	}
	return tags
}

// Find is where a language is among those with words, or what kept them from being read.
//
// Errors: err, else *units.ParseError (units.ErrSyntax) for a language without words; it lists those that have some.
func Find(tag string, tags []string, err error) (int, error) {
	at := slices.Index(tags, tag)
	if at < 0 && err == nil {
		err = misread.Error("language", tag, 0, "no words in it", strings.Join(tags, " or "), units.ErrSyntax)
	} else if at >= 0 {
		err = nil
	}
	return at, err
}

// With is the catalogue with the sentences of others added, or put in the place of its own: one a language, the first of
// which governs.
//
// Errors: *units.ParseError (units.ErrSyntax) where none of them is of this language, or one is wrong, and where a sentence
// has other values than the one that it is in the place of.
func (c *Catalogue) With(texts []string) (*Catalogue, error) {
	all, err := Load(texts)
	at, err := Find(c.Language, Tags(all), err)
	if err != nil {
		return nil, err
	}
	more := *c
	more.Sentences = maps.Clone(c.Sentences)
	for code, sentence := range all[at].Sentences {
		if old, taken := c.Sentences[code]; taken && !slices.Equal(names(old), names(sentence)) {
			return nil, misread.Error("catalogue", code+": "+sentence, 0, "other values than what it is in the place of", old, units.ErrSyntax)
		}
		more.Sentences[code] = sentence
	}
	return &more, nil
}

// The bounds of a catalogue, so that none is costly.
const (
	maxBytes = 1 << 20
	maxLine  = 4000
)

// parse reads a catalogue.
func parse(text string) (*Catalogue, error) {
	c := &Catalogue{Sentences: map[string]string{}}
	bad := func(line, problem, want string) (*Catalogue, error) {
		return nil, misread.Error("catalogue", line, 0, problem, want, units.ErrSyntax)
	}
	if len(text) > maxBytes {
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
		if _, twice := c.Sentences[code]; twice || !found || plain.Clean(line) != line {
			return bad(line, "given twice, or no code and sentence", "each code once, a colon, a blank and its sentence")
		}
		c.Sentences[code] = sentence
	}
	var known bool
	c.Language, c.Draft = c.Sentences["language"], c.Sentences["draft"]
	if c.plural, known = plurals[c.Sentences["plural"]]; !known {
		return bad("plural: "+c.Sentences["plural"], "unknown rule", strings.Join(slices.Sorted(maps.Keys(plurals)), ", "))
	}
	for _, head := range []string{"language", "plural", "draft"} {
		delete(c.Sentences, head)
	}
	for code, sentence := range c.Sentences {
		for _, place := range places(sentence) {
			if forms := strings.Split(place, "|")[1:]; len(forms) > 0 && len(forms) != c.plural.forms {
				return bad(code+": "+sentence, "a place with another number of forms than the plural rule has", "a form for each")
			}
		}
		_, rest, repeats := strings.Cut(sentence, "[")
		each, _, _ := strings.Cut(rest, "]")
		if list := names(each); repeats && (len(list) == 0 || slices.ContainsFunc(list, func(name string) bool { return !strings.Contains(name, "#") })) {
			return bad(code+": "+sentence, "what is repeated has no numbered value", "values such as {mark-#} in brackets, and no others")
		}
	}
	return c, nil
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
func (c *Catalogue) same(governs *Catalogue) error {
	for _, code := range slices.Sorted(maps.Keys(governs.Sentences)) {
		sentence, found := c.Sentences[code]
		if want := names(governs.Sentences[code]); !found || !slices.Equal(names(sentence), want) {
			return misread.Error("catalogue", c.Language+": "+code+": "+sentence, 0, "missing, or other values",
				"a sentence with "+strings.Join(append([]string{"just the values"}, want...), " "), units.ErrSyntax)
		}
	}
	for _, code := range slices.Sorted(maps.Keys(c.Sentences)) {
		if _, found := governs.Sentences[code]; !found {
			return misread.Error("catalogue", c.Language+": "+code, 0, "unknown code", "the codes of the catalogue that governs", units.ErrSyntax)
		}
	}
	return nil
}

// Count is the form in which a number is asked for that words go with: as it is, without a decimal mark of the language's.
const Count = "|"

// Say is the sentence of a code with values in the place of their names, in one pass: a value that looks like a name stays
// as it is. Value prints the one of a name in a form, "" where the sentence names none, and reports whether there is one.
func (c *Catalogue) Say(code string, value func(name, form string) (text string, found bool)) string {
	sentence := c.Sentences[code]
	if before, rest, found := strings.Cut(sentence, "["); found {
		each, after, _ := strings.Cut(rest, "]")
		sentence = before
		for i := 1; ; i++ {
			numbered := strings.ReplaceAll(each, "#", strconv.Itoa(i))
			if _, found := value(names(numbered)[0], Count); !found {
				break
			}
			sentence += numbered
		}
		sentence += after
	}
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(sentence, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		place, after, _ := strings.Cut(rest, "}")
		sentence = after
		name, forms, counted := strings.Cut(place, "|")
		name, form, _ := strings.Cut(name, "/")
		if counted {
			form = Count
		}
		text, known := value(name, form)
		switch {
		case !known:
			continue
		case counted:
			n, err := strconv.ParseInt(text, 10, 64)
			if err != nil {
				n = 2 // a range, a number that isn't whole
			}
			text = strings.Split(forms, "|")[c.plural.form(n)]
		}
		b.WriteString(text)
	}
}
