// Wastemonth reads a CSV of services and prints, for every calendar month in it, the ledger, what
// would decide the generator category, and the lines of the papers.
//
//	wastemonth [-semicolon] [-set us|eu] [-unit K|P] [file.csv | -]
//
// Without a file it reads an invented one, and with - standard input. Points are decimal points and commas separate fields;
// only -semicolon says that the file has decimal commas and semicolons. Rows are not kept: of 100,000
// the ledger holds 20 MB, the program 35 MB in all (measured on linux/amd64); see BenchmarkRead.
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
)

//go:embed month.csv
var invented string

// called is what was wrong with how the program was called.
type called struct{ error }

func main() { os.Exit(ended(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// ended is the program: 0 where all went well and with -h, 1 where something didn't, 2 where it was
// called wrongly. What it prints comes out whole or not at all.
func ended(args []string, in io.Reader, out, problems io.Writer) int {
	var whole bytes.Buffer
	err := run(args, in, &whole)
	if err == nil || errors.Is(err, flag.ErrHelp) {
		_, err = out.Write(whole.Bytes())
	}
	if err == nil {
		return 0
	}
	fmt.Fprintln(problems, "wastemonth:", err)
	if errors.As(err, new(called)) {
		return 2
	}
	return 1
}

func run(args []string, stdin io.Reader, out io.Writer) error {
	flags := flag.NewFlagSet("wastemonth", flag.ContinueOnError)
	flags.SetOutput(out)
	semicolon := flags.Bool("semicolon", false, "fields are separated by ; and numbers have decimal commas")
	name := flags.String("set", "us", "waste rules, us: US federal; eu: European List of Waste")
	var unit usfederal.UnitCode = usfederal.Kilograms
	flags.TextVar(&unit, "unit", unit, "unit of the form's lines: K or P")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return called{err}
	}
	if flags.NArg() > 1 {
		return called{fmt.Errorf("%q is one file too many", flags.Arg(1))}
	}
	rules, known := map[string]waste.RuleSet{"us": usfederal.RuleSet(), "eu": europe.RuleSet()}[*name]
	if !known {
		return called{fmt.Errorf("-set %q: want us or eu", *name)}
	}
	var in io.Reader = strings.NewReader(invented)
	switch path := flags.Arg(0); path {
	case "":
	case "-":
		in = stdin
	default:
		file, err := os.Open(path)
		if err != nil {
			return err
		}
		defer file.Close()
		in = file
	}
	ledger, err := read(in, *semicolon)
	if err != nil {
		return err
	}
	for _, month := range ledger.Months() {
		s, err := ledger.Statement(month.Year, month.Month, rules)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "%s\n\n", s)
		write := form
		if *name == "eu" {
			write = notes
		}
		write(out, s, ledger, unit)
		ask(out, s, rules)
	}
	overfull(out, ledger)
	return nil
}
