// Wastemonth reads a CSV of services and prints, for every calendar month in it, the ledger, what
// would decide the generator category, and the lines of the papers.
//
//	wastemonth [-semicolon] [-rules us|eu] [-unit K|P] [file.csv]
//
// Without a file it reads an invented one. Points are decimal points and commas separate fields;
// only -semicolon says that the file has decimal commas and semicolons. Rows are not kept: of 100,000
// the ledger holds 20 MB, the program 35 MB in all (measured on linux/amd64); see BenchmarkRead.
package main

import (
	"bufio"
	_ "embed"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/snugturn/drain/waste"
)

//go:embed month.csv
var invented string

func main() {
	out := bufio.NewWriter(os.Stdout)
	err := run(os.Args[1:], out)
	if flushed := out.Flush(); err == nil {
		err = flushed
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "wastemonth:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("wastemonth", flag.ContinueOnError)
	flags.SetOutput(out)
	semicolon := flags.Bool("semicolon", false, "fields are separated by ; and numbers have decimal commas")
	name := flags.String("rules", "us", "us: US federal; eu: European List of Waste")
	var unit waste.FormUnit = waste.FormKilograms
	flags.TextVar(&unit, "unit", unit, "unit of the form's lines: K or P")
	if err := flags.Parse(args); err != nil {
		return err
	}
	rules, known := map[string]waste.RuleSet{"us": waste.USFederal(), "eu": waste.EuropeanList()}[*name]
	if !known {
		return fmt.Errorf("-rules %q: want us or eu", *name)
	}
	var in io.Reader = strings.NewReader(invented)
	if path := flags.Arg(0); path != "" {
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
