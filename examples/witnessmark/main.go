// Witnessmark says where the marks of a canister end up: which way to turn, which marks pass the
// index, and where to stop. With -svg it also draws it.
//
//	witnessmark [-do INSTRUCTION] [-marks "A B C D"] [-order clockwise] [-at D]
//	            [-hand "right hand"] [-view "facing the closed end"]
//	            [-thread "1-14 UNS"] [-svg FILE]
//
// The order is that of the labels as read facing the closed end. Without flags it uses an
// invented canister.
package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

func main() {
	out := bufio.NewWriter(os.Stdout)
	err := run(os.Args[1:], out)
	if flushed := out.Flush(); err == nil {
		err = flushed
	}
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "witnessmark:", err)
		os.Exit(1)
	}
}

// job is what the flags say.
type job struct {
	do     turn.Instruction
	marks  string
	order  turn.Rotation
	at     string
	hand   turn.Hand
	view   turn.View
	thread turn.Thread
	svg    string
}

func run(args []string, out io.Writer) error {
	var j job
	flags := flag.NewFlagSet("witnessmark", flag.ContinueOnError)
	flags.SetOutput(out)
	flags.TextVar(&j.do, "do", turn.MustParseInstruction("3/4 to 1 turn after gasket contact"), "how far to tighten, and counted from where")
	flags.StringVar(&j.marks, "marks", "A B C D", "labels printed around the canister, evenly spaced")
	flags.TextVar(&j.order, "order", turn.Clockwise, "order of the labels as read facing the closed end")
	flags.StringVar(&j.at, "at", "D", "label that stands at the index at the start")
	flags.TextVar(&j.hand, "hand", turn.RightHand, "hand of the thread")
	flags.TextVar(&j.view, "view", turn.FacingClosedEnd, "where the eye is")
	flags.TextVar(&j.thread, "thread", turn.MustParseThread("1-14 UNS"), "designation of the thread, for how far it draws the canister up")
	flags.StringVar(&j.svg, "svg", "", "file for a drawing; none where empty")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("%q: no arguments wanted, only flags", units.Cut(flags.Arg(0)))
	}
	handGiven := false
	flags.Visit(func(f *flag.Flag) { handGiven = handGiven || f.Name == "hand" })
	switch {
	case !handGiven:
		j.hand = j.thread.Hand()
	case j.hand != j.thread.Hand():
		return fmt.Errorf("-hand says %s, -thread %s says %s", j.hand, j.thread, j.thread.Hand())
	}
	return j.print(out)
}

func (j job) print(out io.Writer) error {
	ring, err := turn.NewRing(strings.Fields(j.marks), j.order)
	if err != nil {
		return err
	}
	start, err := ring.At(j.at)
	if err != nil {
		return err
	}
	window, err := ring.Window(start, j.do, j.hand)
	if err != nil {
		return err
	}
	passing, err := ring.Passing(start, j.do.Most(), j.hand)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "Tighten %s.\n\n", j.do)
	fmt.Fprintf(out, "Marks   %s, %s facing the closed end; %s at the index to begin with.\n",
		strings.Join(strings.Fields(j.marks), " "), j.order, start)
	fmt.Fprintf(out, "Turn    %s, %s (%s thread).\n", turn.Sense(j.hand, turn.Tightening, j.view), j.view, strings.ReplaceAll(j.hand.String(), " ", "-"))
	fmt.Fprintf(out, "Passing %s\n", list(passing))
	fmt.Fprintf(out, "Done    %s.\n", window)
	fmt.Fprintf(out, "Draws   %s to %s closer (%s).\n", drawn(j.thread, j.do.Least()), drawn(j.thread, j.do.Most()), j.thread)
	if note := j.thread.Note(); note != "" {
		fmt.Fprintf(out, "        %s.\n", note)
	}
	fmt.Fprint(out, "\nToo far is not put right by turning back. The maker's instructions come first.\n")
	if j.svg == "" {
		return nil
	}
	picture, err := turn.Picture{Ring: ring, From: start, Instruction: j.do, Hand: j.hand, View: j.view}.SVG()
	if err != nil {
		return err
	}
	if err := os.WriteFile(j.svg, picture, 0o644); err != nil {
		return err
	}
	fmt.Fprintf(out, "\nDrawn in %s.\n", j.svg)
	return nil
}

func drawn(th turn.Thread, t turn.Turn) units.Length {
	return th.Advance(t).Round(2, units.ToNearestEven)
}

// list writes the first marks as they pass: a canister that goes round and round has many.
func list(passing []turn.Passage) string {
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
		fmt.Fprintf(&b, "%s after %s", p.Mark, p.After)
	}
	return b.String() + "."
}
