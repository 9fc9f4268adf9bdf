package main

import (
	"cmp"
	"embed"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// print works the marks out and says where they end up.
func (j job) print(out io.Writer) error {
	ring, err := turn.NewRing(strings.Fields(j.marks), j.order)
	if err != nil {
		return err
	}
	start, err := ring.ParsePosition(j.at, j.hand)
	if err != nil {
		return err
	}
	window, err := ring.Window(start, j.do, j.hand)
	if err != nil {
		return err
	}
	aim, err := ring.Place(window.Aim, j.hand)
	if err != nil {
		return err
	}
	most, err := ring.Place(window.Most, j.hand)
	if err != nil {
		return err
	}
	contact, err := ring.Place(start, j.hand)
	if err != nil {
		return err
	}
	passing, err := ring.Passing(start, j.do.Most(), j.hand)
	if err != nil {
		return err
	}
	words, err := inLanguage(j.lang)
	if err != nil {
		return err
	}
	say := func(code, variant string, list ...any) { fmt.Fprintln(out, words.Say(message(code, variant, list...))) }
	say("mark.tighten", "", "turn", j.do)
	fmt.Fprintln(out)
	say("mark.marks", "", "marks", strings.Join(strings.Fields(j.marks), " "), "order", j.order, "contact", contact)
	say("mark.turn", "", "sense", turn.Sense(j.hand, turn.Tightening, j.view), "view", j.view, "hand", j.hand)
	say("mark.passing", variantOf(passing), list(passing)...)
	if window.Least != window.Most {
		say("mark.done", "", "aim", aim, "most", most)
	} else {
		say("mark.done", "one", "aim", aim)
	}
	say("mark.draws", "", "least", drawn(j.thread, j.do.Least()), "most", drawn(j.thread, j.do.Most()), "thread", j.thread)
	if written := j.thread.Misnamed(); written != "" {
		say("mark.misnamed", "", "thread", j.thread, "written", written)
	}
	fmt.Fprintln(out)
	say("picture.ring", "caution")
	if j.lang != "en" {
		say("mark.language", "")
	}
	if j.svg == "" {
		return nil
	}
	picture, err := words.DrawTurn(ring, start, j.do, j.hand, j.view)
	if err != nil {
		return err
	}
	if err := writeWhole(j.svg, picture); err != nil {
		return err
	}
	fmt.Fprintln(out)
	say("mark.drawn", "", "file", j.svg)
	return nil
}

// writeWhole writes a file that is there whole or not at all: next to it first, then in its place.
func writeWhole(name string, data []byte) (err error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return os.WriteFile(name, data, 0o644) // a device has no place next to it
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".*.part")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // gone already where all went well
	_, err = f.Write(data)
	if err := cmp.Or(err, f.Chmod(0o644), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

func drawn(th turn.Thread, t turn.Turn) units.Length {
	return th.Advance(t).Round(2, units.ToNearestEven)
}

// mostListed marks are listed: a canister that goes round and round has many.
const mostListed = 12

// list is the first marks as they pass, as values.
func list(passing []turn.Mark) (values []any) {
	number := ""
	for i, p := range passing[:min(mostListed, len(passing))] {
		values = append(values, "mark"+number, p.Label, "at"+number, p.At)
		number = fmt.Sprint("-", i+1)
	}
	return append(values, "more", len(passing)-mostListed)
}

func variantOf(passing []turn.Mark) string {
	switch {
	case len(passing) == 0:
		return "none"
	case len(passing) > mostListed:
		return "more"
	}
	return ""
}

//go:embed words
var catalogues embed.FS

// inLanguage are the words of package sheet with those of this program.
func inLanguage(tag string) (*sheet.Words, error) {
	words, err := sheet.In(tag)
	if err != nil {
		return nil, err
	}
	english, _ := catalogues.ReadFile("words/en.txt") // embedded
	spanish, _ := catalogues.ReadFile("words/es.txt")
	return words.With(string(english), string(spanish))
}

// message is a code with names and values in turn.
func message(code, variant string, list ...any) service.Message {
	m := service.Message{Code: code, Variant: variant}
	for i := 0; i < len(list); i += 2 {
		m.Values = append(m.Values, service.Value{Name: list[i].(string), Value: list[i+1]})
	}
	return m
}
