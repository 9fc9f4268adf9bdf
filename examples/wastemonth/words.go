package main

import (
	"embed"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/catalogue"
	"example.com/snugturn/units"
)

//go:embed words/*.txt
var files embed.FS

// words are what one language says, by code.
type words struct{ *catalogue.Catalogue }

// speak reads the words of a language.
func speak(language string) (words, error) {
	all, err := catalogue.Embedded(files)
	at, err := catalogue.Find(language, catalogue.Tags(all), err)
	if err != nil {
		return words{}, fmt.Errorf("-lang %.16q: no words/%.16s.txt", language, language)
	}
	return words{all[at]}, nil
}

// say is the sentence of a code with its values: names and values in turn, of a name the first.
func (w words) say(code string, values ...any) string {
	return w.Say(code, func(name, _ string) (string, bool) {
		for i := 0; i+1 < len(values); i += 2 {
			if values[i] == name {
				return w.value(values[i+1]), true
			}
		}
		return "", false
	})
}

// variant is the code with a variant, where the language has it.
func (w words) variant(code string, variant any) string {
	if with := fmt.Sprint(code, "/", variant); w.Sentences[with] != "" {
		return with
	}
	return code
}

func (w words) value(v any) string {
	switch v := v.(type) {
	case waste.Stream:
		return w.word("stream", v.String())
	case waste.Determination:
		return w.word("determination", v.String())
	case []string:
		return w.list(v)
	case drain.Estimate[units.MassUnit]:
		return estimate(w, v, units.Kilogram)
	case drain.Estimate[units.VolumeUnit]:
		return estimate(w, v, units.Litre)
	case units.Mass:
		return rounded(w, v, units.Kilogram, units.ToNearestEven)
	}
	return fmt.Sprint(v)
}

// word is what a language has for a word of the library.
func (w words) word(of, word string) string {
	return w.Sentences[of+"/"+strings.NewReplacer(" ", "-").Replace(word)]
}

// streams are the names of several.
func (w words) streams(contents []waste.StreamTotal) string {
	var names []string
	for _, t := range contents {
		if name := w.value(t.Stream); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if last := len(names) - 1; last > 0 {
		return w.say("list/last", "all", names[:last], "next", names[last])
	}
	return w.list(names)
}

// list puts one behind another.
func (w words) list(texts []string) (all string) {
	for i, text := range texts {
		if i == 0 {
			all = text
		} else {
			all = w.say("list", "all", all, "next", text)
		}
	}
	return all
}

func estimate[U units.Unit](w words, e drain.Estimate[U], unit U) string {
	best, from := rounded(w, e.Best, unit, units.ToNearestEven), w.word("from", e.From.String())
	if e.Low.Equal(e.High) {
		return w.say("mass", "best", best, "from", from)
	}
	low, high := places(e.Low.RoundIn, e.Low, unit, units.ToNegativeInf), places(e.High.RoundIn, e.High, unit, units.ToPositiveInf)
	return w.say("mass/range", "best", best, "low", low, "high", high, "from", from)
}

// rounded is a quantity for reading, marked where it was rounded.
func rounded[U units.Unit](w words, q units.Quantity[U], unit U, mode units.Rounding) string {
	text := places(q.RoundIn, q, unit, mode)
	if units.MustParse[U](text).Equal(q) {
		return text
	}
	return w.say("about", "mass", text)
}

// places rounds to one place from 10 on, else to three, and to more where it would print 0 and isn't.
func places[U units.Unit](round func(U, int, units.Rounding) units.Quantity[U], q units.Quantity[U], unit U, mode units.Rounding) string {
	n := 3
	if q.RatIn(unit).Cmp(big.NewRat(10, 1)) >= 0 {
		n = 1
	}
	result := round(unit, n, mode)
	for ; result.Sign() == 0 && q.Sign() != 0 && n < 60; n++ {
		result = round(unit, n+1, mode)
	}
	return trimmed(result)
}

// trimmed is a quantity without zeros at its end that say nothing.
func trimmed[U units.Unit](q units.Quantity[U]) string {
	number, unit, _ := strings.Cut(q.String(), " ")
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + unit
}
