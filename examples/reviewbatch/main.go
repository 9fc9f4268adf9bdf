// Reviewbatch judges many as-done records, one a line, against the jobs they belong to.
//
// The idea: a shop keeps its readings as newline-delimited JSON. Each line is judged as it comes
// and forgotten, so that a year's file needs no more memory than one record; a line that can't be
// judged is answered too, and the next one goes on.
//
//	reviewbatch [-records] -rules FILE -job FILE [-job FILE ...] [-] < readings.ndjson
//
// Without arguments it judges an invented demonstration. A verdict is one line of JSON; with
// -records it is the whole record, to be kept. It ends with 0 when every line was judged, 1 when
// one wasn't, 2 when it was called wrongly.
package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
)

//go:embed demo.json
var demoJob []byte

//go:embed demo-rules.json
var demoRules []byte

//go:embed demo.ndjson
var demoReadings []byte

func main() {
	info, err := os.Stderr.Stat()
	terminal := err == nil && info.Mode()&os.ModeCharDevice != 0
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, terminal))
}

func run(args []string, in io.Reader, out, problems io.Writer, terminal bool) int {
	b := batch{}
	flags := flag.NewFlagSet("reviewbatch", flag.ContinueOnError)
	flags.SetOutput(problems)
	flags.Usage = func() {
		fmt.Fprintln(problems, "usage: reviewbatch [-records] -rules FILE -job FILE [-job FILE ...] [-] < readings.ndjson")
		fmt.Fprintln(problems, "Readings are JSON, one whole record a line. Without arguments: an invented demonstration.")
		flags.PrintDefaults()
	}
	flags.BoolVar(&b.records, "records", false, "write whole records")
	flags.Func("job", "job `FILE` that readings may belong to; may be given again", fromFile(b.addJob))
	flags.Func("rules", "rules `FILE` to judge by", fromFile(b.setRules))
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return 0
	} else if err != nil {
		return 2
	}
	if len(b.jobs) == 0 && b.rules.Name == "" && flags.NArg() == 0 {
		in = bytes.NewReader(demoReadings)
		if err := errors.Join(b.addJob(demoJob), b.setRules(demoRules)); err != nil {
			fmt.Fprintln(problems, "reviewbatch: demonstration:", err)
			return 1
		}
	}
	stdin := flags.NArg() == 0 || flags.NArg() == 1 && flags.Arg(0) == "-"
	if len(b.jobs) == 0 || b.rules.Name == "" || !stdin {
		fmt.Fprintln(problems, "reviewbatch: want -rules and at least one -job, and the readings on standard input")
		return 2
	}
	if err := b.plan(); err != nil {
		fmt.Fprintln(problems, "reviewbatch: -job:", err)
		return 2
	}
	bad := 0
	for number, line := range lines(in) {
		if line.err == nil && len(bytes.TrimSpace(line.text)) == 0 {
			continue // a blank line says nothing
		}
		answer, err := b.judge(number, line)
		if err != nil {
			bad++
			answer, _ = json.Marshal(refusal{number, err.Error()})
		}
		if _, err := out.Write(append(answer, '\n')); err != nil {
			fmt.Fprintln(problems, "reviewbatch: standard output:", err)
			return 1
		}
		if terminal {
			fmt.Fprintf(problems, "\r%d lines, %d not judged", number, bad)
		}
	}
	if terminal {
		fmt.Fprintln(problems)
	}
	return min(bad, 1)
}
