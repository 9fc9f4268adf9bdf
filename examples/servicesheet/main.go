// Servicesheet prints the work sheet of a fuel-filter service.
//
// The idea: a job file holds what the shop knows, in the units its papers use; the library works
// out the rest, and the sheet says where each rounded number came from. One model, three readers:
// text for a terminal, a page to print, JSON for the shop's software.
//
//	servicesheet [-machine FILE] [-job FILE] [-rules FILE] [-units UNIT,...] [-numbers] [-format text|html|json] [-ascii] [-lang en|es]
//	servicesheet -record FILE [-lang en|es]
//
// The second puts a record into words, and says first whether it is verified, was written by another release, or altered.
//
// With -machine the job is laid over the card of its machine: two objects merge, anything else replaces;
// demo-machine.json and demo-job.json are such a pair, and together say what demo.json says alone.
//
// The rules are those that the work will be judged by: what the sheet says to aim at depends on them.
// Without -job it prints an invented demonstration job by invented rules. A job's FILE may be - for standard input. It ends
// with 0 when the sheet was printed, 1 when there was none to print, 2 when it was called wrongly.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func run(args []string, in io.Reader, out, problems io.Writer) int {
	flags := flag.NewFlagSet("servicesheet", flag.ContinueOnError)
	flags.SetOutput(problems)
	file := flags.String("job", "", "job `FILE` to read, - for standard input (default: the invented demonstration job)")
	card := flags.String("machine", "", "machine card `FILE` that the job is laid over (default: none, and the job says everything)")
	agreed := flags.String("rules", "", "rules `FILE` by which the work will be judged (default: none, and the sheet promises no pass)")
	units := flags.String("units", "", "`UNITS` to print in, such as ft-lb or 'N·m,L,kg,°C' (default: as the job says)")
	numbers := flags.Bool("numbers", false, "add a page that tells where the numbers come from")
	format := flags.String("format", "text", "what to print: text, html (one page, no scripts) or json")
	lang := flags.String("lang", "en", "`LANGUAGE` of the sheet: "+strings.Join(sheet.Languages(), " or ")+" (all but en are draft translations)")
	ascii := flags.Bool("ascii", false, "print text in ASCII alone: N.m, degC")
	record := flags.String("record", "", "record `FILE` to put into words in place of a sheet, - for standard input")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return 0
	} else if err != nil {
		return 2
	}
	fail := func(code int, name string, err error) int {
		for _, line := range strings.Split(err.Error(), "\n") {
			fmt.Fprintf(problems, "servicesheet: %s: %s\n", name, line)
		}
		return code
	}
	if flags.NArg() > 0 {
		return fail(2, "arguments", fmt.Errorf("%q is one too many; a job is named with -job", flags.Arg(0)))
	}
	spoken, err := sheet.In(*lang)
	if err != nil {
		return fail(2, "-lang", err)
	}
	if *record != "" {
		if flags.NFlag() > 1 && (flags.NFlag() > 2 || *lang == "en") {
			return fail(2, "-record", errors.New("with other flags than -lang; a record has everything in it"))
		}
		data, name, err := read(*record, in)
		var words string
		if err == nil {
			words, err = putIntoWords(spoken, data)
		}
		if err != nil {
			return fail(1, name, err)
		}
		fmt.Fprint(out, words)
		return 0
	}
	render := formats[*format]
	if render == nil {
		return fail(2, "-format", fmt.Errorf("%q; want text, html or json", *format))
	}
	if *ascii {
		if *format != "text" {
			return fail(2, "-ascii", fmt.Errorf("with -format %s; it is for text", *format))
		}
		render = func(s sheet.Sheet) ([]byte, error) { return []byte(s.ASCII()), nil }
	}
	if err := printIn(&service.Job{}, *units); err != nil {
		return fail(2, "-units", err)
	}
	if *card != "" && *file == "" {
		return fail(2, "-machine", errors.New("without a job to lay over it; name one with -job"))
	}
	data, name, err := read(*file, in)
	if err != nil {
		return fail(1, name, err)
	}
	job, name, err := readJob(data, name, *card)
	if err != nil {
		return fail(1, name, err)
	}
	_ = printIn(&job, *units) // went well above
	rules, name, err := readRules(*agreed, *file == "")
	if err != nil {
		return fail(1, name, err)
	}
	plan, err := service.NewPlan(job, rules)
	if err != nil {
		return fail(1, name, err)
	}
	page, err := render(spoken.Sheet(plan, *numbers))
	if err != nil {
		return fail(1, name, err)
	}
	if _, err := out.Write(page); err != nil {
		return fail(1, "standard output", err)
	}
	return 0
}

// putIntoWords is a record in words, or what keeps it from being taken for one.
func putIntoWords(words *sheet.Words, data []byte) (string, error) {
	record, err := service.ReadRecord(data)
	if errors.Is(err, service.ErrAltered) {
		return "", fmt.Errorf("ALTERED: %w", err)
	} else if err != nil {
		return "", err
	}
	return words.Record(record)
}

// printIn takes the units one by one; each says by itself what it measures.
func printIn(job *service.Job, units string) error {
	if units == "" {
		return nil
	}
	for _, unit := range strings.Split(units, ",") {
		if err := job.PrintIn(strings.TrimSpace(unit)); err != nil {
			return err
		}
	}
	return nil
}

var formats = map[string]func(sheet.Sheet) ([]byte, error){
	"text": func(s sheet.Sheet) ([]byte, error) { return []byte(s.Text()), nil },
	"html": sheet.Sheet.HTML,
	"json": sheet.Sheet.JSON,
}
