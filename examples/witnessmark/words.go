package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

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
	done := "stop " + aim.String()
	if window.Least != window.Most {
		done += "; never past " + strings.TrimPrefix(most.String(), "at ")
	}
	contact, err := ring.Place(start, j.hand)
	if err != nil {
		return err
	}
	passing, err := ring.Passing(start, j.do.Most(), j.hand)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "Tighten %s.\n\n", j.do)
	fmt.Fprintf(out, "Marks   %s, %s facing the closed end; the index is %s to begin with.\n",
		strings.Join(strings.Fields(j.marks), " "), j.order, contact)
	fmt.Fprintf(out, "Turn    %s, %s (%s thread).\n", turn.Sense(j.hand, turn.Tightening, j.view), j.view, strings.ReplaceAll(j.hand.String(), " ", "-"))
	fmt.Fprintf(out, "Passing %s\n", list(passing))
	fmt.Fprintf(out, "Done    %s.\n", done)
	fmt.Fprintf(out, "Draws   %s to %s closer (%s).\n", drawn(j.thread, j.do.Least()), drawn(j.thread, j.do.Most()), j.thread)
	if written := j.thread.Misnamed(); written != "" {
		fmt.Fprintf(out, "        The thread is %s; it was written %s.\n", j.thread, written)
	}
	fmt.Fprint(out, "\nToo far is not put right by turning back. The manufacturer's instructions come first.\n")
	if j.svg == "" {
		return nil
	}
	picture, err := sheet.English().DrawTurn(ring, start, j.do, j.hand, j.view)
	if err != nil {
		return err
	}
	if err := writeWhole(j.svg, picture); err != nil {
		return err
	}
	fmt.Fprintf(out, "\nDrawn in %s.\n", j.svg)
	return nil
}

// writeWhole writes a file that is there whole or not at all: beside it first, then in its place.
func writeWhole(name string, data []byte) (err error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return os.WriteFile(name, data, 0o644) // a device has no place beside it
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

// list writes the first marks as they pass: a canister that goes round and round has many.
func list(passing []turn.Mark) string {
	if len(passing) == 0 {
		return "none."
	}
	const most = 12
	var b strings.Builder
	for i, p := range passing {
		if i == most {
			fmt.Fprintf(&b, ", and %d more", len(passing)-most)
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%s after %s", p.Label, p.At)
	}
	return b.String() + "."
}
