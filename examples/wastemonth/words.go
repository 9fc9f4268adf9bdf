package main

import (
	"embed"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

//go:embed words/*.txt
var languages embed.FS

// words are what one language says, by code.
type words map[string]string

// speak reads the words of a language.
func speak(language string) (words, error) {
	text, err := languages.ReadFile("words/" + language + ".txt")
	if err != nil {
		return nil, fmt.Errorf("-lang %.16q: no words/%.16s.txt", language, language)
	}
	w := words{}
	for line := range strings.Lines(string(text)) {
		if code, sentence, found := strings.Cut(strings.TrimSuffix(line, "\n"), ": "); found && line[0] != '#' {
			w[code] = sentence
		}
	}
	return w, nil
}

// say is the sentence of a code with its values: names and values in turn, of a name the first.
func (w words) say(code string, values ...any) string {
	sentence := w[code]
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(sentence, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, after, _ := strings.Cut(rest, "}")
		for i := 0; i+1 < len(values); i += 2 {
			if values[i] == name {
				b.WriteString(w.value(values[i+1]))
				break
			}
		}
		sentence = after
	}
}

// variant is the code with a variant, where the language has it.
func (w words) variant(code string, variant any) string {
	if with := fmt.Sprint(code, "/", variant); w[with] != "" {
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
		return strings.Join(v, w["list"])
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
	return w[of+"/"+strings.NewReplacer(" ", "-").Replace(word)]
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
		return strings.Join(names[:last], w["list"]) + w["and"] + names[last]
	}
	return strings.Join(names, "")
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
