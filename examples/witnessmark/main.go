// Witnessmark says where the marks of a canister end up: which way to turn, which marks pass the
// index, and where to stop. With -svg it also draws it.
//
//	witnessmark [-do INSTRUCTION] [-marks "1 2 3 4 5 6"] [-order clockwise] [-at 2]
//	            [-hand "right hand"] [-view "facing the closed end"]
//	            [-thread "1-14 UNS"] [-svg FILE]
//
// The order is that of the labels as read facing the closed end. Without flags it uses an
// invented canister.
//
// The idea: a mark has arrived when it stands at the index, and which one arrives depends on the
// order of the labels and the hand of the thread, never on where one stands.
package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/snugturn/turn"
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
	flags.TextVar(&j.do, "do", turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact"), "how far to tighten, and counted from where")
	flags.StringVar(&j.marks, "marks", "1 2 3 4 5 6", "labels printed around the canister, evenly spaced")
	flags.TextVar(&j.order, "order", turn.Clockwise, "order of the labels as read facing the closed end")
	flags.StringVar(&j.at, "at", "2", "what stands at the index at the start: a label, or a place such as 'between 2 and 1'")
	flags.TextVar(&j.hand, "hand", turn.RightHand, "hand of the thread")
	flags.TextVar(&j.view, "view", turn.FacingClosedEnd, "where the eye is")
	flags.TextVar(&j.thread, "thread", turn.MustParseThread("1-14 UNS"), "designation of the thread, for how far it draws the canister up")
	flags.StringVar(&j.svg, "svg", "", "file for a drawing; none where empty")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("%.48q: no arguments wanted, only flags", flags.Arg(0))
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
