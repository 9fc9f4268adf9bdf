package sheet

import (
	"embed"
	"html/template"
	"strings"
	"sync"

	"example.com/snugturn/internal/catalogue"
)

// Words are the sentences of one language for the codes of sheets, findings, reviews and pictures. They can't be
// changed. How numbers are written is for the job, not for the language: [service.Preferences] have its units and
// its decimal mark.
type Words struct {
	said *catalogue.Catalogue
	page *template.Template
}

//go:embed words/*.txt
var files embed.FS

// languages are the words of the catalogue files, English first: it governs.
var languages = sync.OnceValues(func() (all []*Words, err error) {
	read, err := catalogue.Embedded(files)
	for _, c := range read {
		all = append(all, words(c))
	}
	return all, err
})

// words are those of a catalogue, with a page in them.
func words(c *catalogue.Catalogue) *Words {
	w := &Words{said: c}
	w.page = template.Must(page.Clone()).Funcs(w.funcs()) // which was never executed
	return w
}

// English are the words that govern: other languages are translated from them.
func English() *Words {
	all, _ := languages()
	return all[0]
}

// Languages are the tags that [In] has words for, English first.
func Languages() (tags []string) {
	all, _ := languages()
	for _, w := range all {
		tags = append(tags, w.said.Language)
	}
	return tags
}

// In are the words of a language by its tag (BCP 47): "en", "es", and "es-MX" too, which is "es" here.
//
// Errors: *units.ParseError (units.ErrSyntax) for a language that there is no catalogue of; it lists those there are.
func In(tag string) (*Words, error) {
	primary, _, _ := strings.Cut(strings.ReplaceAll(tag, "_", "-"), "-")
	all, err := languages()
	at, err := catalogue.Find(strings.ToLower(primary), Languages(), err)
	if err != nil {
		return nil, err
	}
	return all[at], nil
}

// With are the words with those of a program's own messages added, or put in the place of others: catalogues in
// the form of words/en.txt, one a language, the first of which governs.
//
// Errors: *units.ParseError (units.ErrSyntax) where none is of this language, where a line is malformed or too long, where
// codes or values are missing from one or surplus to the first, and where a sentence has other values than the one that it
// is in the place of.
func (w *Words) With(catalogues ...string) (*Words, error) {
	more, err := w.said.With(catalogues)
	if err != nil {
		return nil, err
	}
	return words(more), nil
}
