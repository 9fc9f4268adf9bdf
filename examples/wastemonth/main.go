// Wastemonth reads a waste ledger and prints what the office wants to know of it: first what is to be done, by
// when; then the generator category by what is entered, what was counted and what replaced or dropped, the drums on
// site and what was shipped.
//
//	wastemonth [-on DATE] [-set us|eu|FILE] [-unit K|P] [-format text|html|csv|json|ledger] [-label DRUM [-ask WHO]]
//	           [-lang en] [-invented] [-semicolon] [file | -]...
//
// Files are CSV, with the columns that read.go lists, or the lines of a ledger, as -format ledger writes it; those
// of two vans are given one after the other, in any order, and - is standard input. Without a file it reads an
// invented one. Points are decimal points and commas separate fields; only -semicolon says that the files have
// decimal commas and semicolons.
//
// What can't be right is refused with its line, and nothing is printed. What contradicts something else (a drum that was
// shipped twice, a correction of nothing) is kept and counted once, is on the page, goes with its line to
// standard error, and ends the program with status 1.
//
// Rows are read one at a time and not kept. What they say is: of a million rows the ledger holds 160 MB and the
// program takes 0.4 GB at its peak (TestMemoryOfARow; linux/amd64, four rows to a job). On a terminal it says how far
// it is. BenchmarkRows has what a row costs next to encoding/csv alone.
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
	"strings"
	"time"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
)

//go:embed month.csv
var invented string

// called is what was wrong with how the program was called.
type called struct{ error }

func main() {
	var terminal bool
	if info, err := os.Stderr.Stat(); err == nil {
		terminal = info.Mode()&os.ModeCharDevice != 0
	}
	year, month, day := time.Now().Date()
	os.Exit(ended(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, terminal, waste.Date{Year: year, Month: month, Day: day}))
}

// ended is the program: 0 where all went well and with -h, 1 where something didn't, 2 where it was
// called wrongly. What it prints comes out whole or not at all.
func ended(args []string, in io.Reader, out, problems io.Writer, terminal bool, today waste.Date) int {
	var whole bytes.Buffer
	c := call{today: today, in: in, out: &whole}
	if terminal {
		c.progress = func(read int) { fmt.Fprintf(problems, "\r%d postings read", read) }
	}
	err := c.run(args)
	if c.shown {
		fmt.Fprintln(problems)
	}
	if err == nil || errors.Is(err, flag.ErrHelp) {
		_, err = out.Write(whole.Bytes())
	}
	for _, doubt := range c.doubts {
		fmt.Fprintln(problems, "wastemonth:", doubt)
	}
	switch {
	case err == nil && len(c.doubts) == 0:
		return 0
	case err != nil:
		fmt.Fprintln(problems, "wastemonth:", err)
	}
	if errors.As(err, new(called)) {
		return 2
	}
	return 1
}

// call is one call of the program.
type call struct {
	today    waste.Date
	in       io.Reader
	out      io.Writer
	progress func(read int)
	shown    bool // some progress
	doubts   []string

	semicolon, invented              bool
	set, format, drum, ask, language string
	unit                             usfederal.UnitCode
	files                            []string
}

func (c *call) flags(args []string) error {
	flags := flag.NewFlagSet("wastemonth", flag.ContinueOnError)
	flags.SetOutput(c.out)
	flags.BoolVar(&c.semicolon, "semicolon", false, "fields are separated by ; and numbers have decimal commas")
	flags.BoolVar(&c.invented, "invented", false, "the input is invented, and the page says so; a CSV says it in its first remark")
	flags.StringVar(&c.set, "set", "us", "waste rules, us: US federal; eu: European List of Waste; or a `file` with a set as JSON")
	flags.StringVar(&c.format, "format", "text", "text, html, csv, json, or ledger: the postings, a line each")
	flags.StringVar(&c.drum, "label", "", "print the label of this `drum` as HTML")
	flags.StringVar(&c.ask, "ask", "", "`whom` to ask, on a label")
	flags.StringVar(&c.language, "lang", "en", "language of the words")
	c.unit = usfederal.Kilograms
	flags.TextVar(&c.unit, "unit", c.unit, "unit of the form's lines: K or P")
	flags.TextVar(&c.today, "on", c.today, "the `day` that counts as today")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return called{err}
	}
	c.files = flags.Args()
	on := false
	flags.Visit(func(f *flag.Flag) { on = on || f.Name == "on" })
	if len(c.files) == 0 && !on {
		c.today = waste.MustParseDate("2026-12-15") // the invented file's own day
	}
	if !strings.Contains(" text html csv json ledger ", " "+c.format+" ") {
		return called{fmt.Errorf("-format %.48q: want text, html, csv, json or ledger", c.format)}
	}
	return nil
}

func (c *call) rules() (waste.RuleSet, error) {
	switch c.set {
	case "us":
		return usfederal.RuleSet(), nil
	case "eu":
		return europe.RuleSet(), nil
	}
	data, err := os.ReadFile(c.set)
	if err != nil {
		return waste.RuleSet{}, called{fmt.Errorf("-set: want us, eu or a file: %w", err)}
	}
	return waste.ParseRuleSet(data)
}

// load reads all files.
func (c *call) load() (*books, error) {
	b := &books{invented: c.invented}
	if c.progress != nil {
		b.progress = func(read int) { c.shown = true; c.progress(read) }
	}
	if len(c.files) == 0 {
		return b, b.load("month.csv", strings.NewReader(invented), false)
	}
	for _, path := range c.files {
		if path == "-" {
			if err := b.load("standard input", c.in, c.semicolon); err != nil {
				return nil, err
			}
			continue
		}
		file, err := os.Open(path)
		if err != nil {
			return nil, err
		}
		err = b.load(path, file, c.semicolon)
		file.Close()
		if err != nil {
			return nil, err
		}
	}
	return b, nil
}

func (c *call) run(args []string) error {
	if err := c.flags(args); err != nil {
		return err
	}
	w, err := speak(c.language)
	if err != nil {
		return called{err}
	}
	rules, err := c.rules()
	if err != nil {
		return err
	}
	b, err := c.load()
	if err != nil {
		return err
	}
	if c.format == "ledger" {
		return c.write(b)
	}
	o, err := look(b, rules, c.today, c.unit, c.set == "eu" || len(rules.Categories) == 0)
	if err != nil {
		return err
	}
	p := o.page(w, c.format == "csv")
	for _, s := range p.Sections {
		if s.Code == "doubts" {
			for _, r := range s.Rows {
				c.doubts = append(c.doubts, r.Text)
			}
		}
	}
	switch {
	case c.drum != "":
		return o.label(w, c.drum, c.ask, c.language, c.out)
	case c.format == "html":
		return p.html(c.out, c.language)
	case c.format == "csv":
		return p.csv(c.out)
	case c.format == "json":
		e := json.NewEncoder(c.out)
		e.SetIndent("", "  ")
		return e.Encode(o)
	default:
		return p.text(c.out)
	}
}

// write writes the ledger in the form that lasts.
func (c *call) write(b *books) error {
	for p := range b.Postings() {
		line, err := p.MarshalJSON()
		if err != nil {
			return err
		}
		c.out.Write(append(line, '\n')) // into memory
	}
	return nil
}
