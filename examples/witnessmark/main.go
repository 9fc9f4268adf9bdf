// Witnessmark says where the marks of a canister end up: which way to turn, which marks pass the
// index, and where to stop. With -svg it also draws it.
//
//	witnessmark [-do INSTRUCTION] [-marks "1 2 3 4 5 6"] [-order clockwise] [-at 2]
//	            [-hand "right hand"] [-view "facing the closed end"]
//	            [-thread "1-14 UNS"] [-svg FILE] [-lang es]
//
// The order is that of the labels as read facing the closed end. Without flags it uses an
// invented canister.
//
// The idea: a mark has arrived when it is at the index, and which one arrives depends on the
// order of the labels and the hand of the thread, never on where one stands.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/snugturn/turn"
)

// called is what was wrong with how the program was called.
type called struct{ error }

func main() { os.Exit(ended(os.Args[1:], os.Stdout, os.Stderr)) }

// ended is the program: 0 where all went well and with -h, 1 where something didn't, 2 where it was
// called wrongly. What it prints comes out whole or not at all.
func ended(args []string, out, problems io.Writer) int {
	var whole bytes.Buffer
	err := run(args, &whole)
	if err == nil || errors.Is(err, flag.ErrHelp) {
		_, err = out.Write(whole.Bytes())
	}
	if err == nil {
		return 0
	}
	fmt.Fprintln(problems, "witnessmark:", err)
	if errors.As(err, new(called)) {
		return 2
	}
	return 1
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
	lang   string
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
	flags.StringVar(&j.lang, "lang", "en", "language: en, or es (a draft translation)")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return called{err}
	}
	if flags.NArg() > 0 {
		return called{fmt.Errorf("%.48q: no arguments wanted, only flags", flags.Arg(0))}
	}
	handGiven := false
	flags.Visit(func(f *flag.Flag) { handGiven = handGiven || f.Name == "hand" })
	switch {
	case !handGiven:
		j.hand = j.thread.Hand()
	case j.hand != j.thread.Hand():
		return called{fmt.Errorf("-hand says %s, -thread %s says %s", j.hand, j.thread, j.thread.Hand())}
	}
	return j.print(out)
}
