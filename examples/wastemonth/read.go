package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// The columns. A row whose stream is "withdrawn" withdraws the job and has nothing else but the
// job and the revision. Low and high may be left out together: then best stands for all three. Holds is
// what the container holds to its brim, "208 L", or may weigh by its mark, "400 kg"; it is given in one
// row at least where it is known.
const (
	job = iota
	revision
	line
	date
	stream
	determination
	low
	best
	high
	unit
	from
	container
	holds
	columns
)

var header = [columns]string{"job", "revision", "line", "date", "stream", "determination", "low", "best", "high", "unit", "from", "container", "holds"}

// books are a ledger and what is known of the containers in it, by their labels.
type books struct {
	waste.Ledger
	containers map[string]waste.Container
}

// read fills the books from CSV. With semicolon, fields are separated by ; and numbers have decimal
// commas; without, neither is accepted: the one would make a field of half a number, the other a
// number of a slip. Lines that begin with # are passed over before the header; behind it every line
// is a row.
func read(in io.Reader, semicolon bool) (*books, error) {
	lines := &bounded{in: bufio.NewReader(in)}
	if err := lines.passRemarks(); err != nil {
		return nil, err
	}
	remarks := lines.line
	r := csv.NewReader(lines)
	r.ReuseRecord, r.FieldsPerRecord = true, -1
	if semicolon {
		r.Comma = ';'
	}
	l := books{containers: map[string]waste.Container{}}
	for first := true; ; first = false {
		row, err := r.Read()
		if errors.Is(err, io.EOF) && !first {
			return &l, nil
		}
		if err != nil {
			return nil, err // names its line
		}
		switch {
		case first:
			err = checkHeader(row)
		case len(row) != columns:
			err = fmt.Errorf("%d fields; want %d", len(row), columns)
		default:
			err = enter(&l, row, semicolon)
		}
		if err != nil {
			at, _ := r.FieldPos(0)
			return nil, fmt.Errorf("line %d: %w", remarks+at, err)
		}
	}
}

// bounded hands lines on and refuses one that no row can be, before it fills the memory.
type bounded struct {
	in   *bufio.Reader
	line int  // how many have ended
	size int  // of the one that hasn't
	open bool // whether it ends within quotation marks
}

const longestLine = 64 << 10

func (b *bounded) passRemarks() error {
	for {
		if start, err := b.in.Peek(1); err != nil || start[0] != '#' {
			return nil // the end, too, is for the reader behind to find
		}
		for {
			c, err := b.in.ReadByte()
			if err != nil {
				return nil
			}
			if c == '\n' {
				break
			}
		}
		b.line++
	}
}

func (b *bounded) Read(p []byte) (int, error) {
	n, err := b.in.Read(p)
	for _, c := range p[:n] {
		switch b.size++; {
		case b.size > longestLine:
			return 0, fmt.Errorf("line %d: longer than 64 KiB", b.line+1)
		case c == '"':
			b.open = !b.open
		case c == '\n' && b.open:
			return 0, fmt.Errorf("line %d: ends within quotation marks; want each row on one line", b.line+1)
		case c == '\n':
			b.line, b.size = b.line+1, 0
		}
	}
	return n, err
}

func checkHeader(row []string) error {
	row[0] = strings.TrimPrefix(row[0], "\ufeff") // spreadsheets put it there
	if len(row) != columns || [columns]string(row) != header {
		return fmt.Errorf("the header is %.48q; want %s, or the same with semicolons and -semicolon",
			strings.Join(row, ","), strings.Join(header[:], ","))
	}
	return nil
}

// enter puts one row into the books.
func enter(l *books, row []string, semicolon bool) error {
	e := waste.Entry{Job: row[job], Container: row[container]}
	var err error
	if e.Revision, err = whole("revision", row[revision]); err != nil {
		return err
	}
	if row[stream] == "withdrawn" {
		return withdraw(l, e, row)
	}
	if e.Line, err = whole("line", row[line]); err != nil {
		return err
	}
	if e.Date, err = waste.ParseDate(row[date]); err != nil {
		return err
	}
	if err = e.Stream.UnmarshalText([]byte(row[stream])); err != nil {
		return err
	}
	if err = e.Determination.UnmarshalText([]byte(row[determination])); err != nil {
		return err
	}
	if e.Mass, err = mass(row, semicolon); err != nil {
		return err
	}
	if err := l.holds(row, semicolon); err != nil {
		return err
	}
	return l.Add(e)
}

// holds notes what a container holds, or may weigh. Two rows that say otherwise are refused.
func (l *books) holds(row []string, semicolon bool) error {
	text, label := row[holds], strings.Clone(row[container])
	c := waste.Container{ID: label}
	before, known := l.containers[label]
	if text == "" || label == "" {
		if text != "" {
			return fmt.Errorf("holds %.48q without a container", text)
		}
		if !known && label != "" {
			l.containers[label] = c
		}
		return nil
	}
	if semicolon {
		text = strings.Replace(text, ",", ".", 1)
	}
	var err error
	if c.Capacity, err = units.ParseVolume(text); err != nil {
		if c.MostGross, err = units.ParseMass(text); err != nil {
			return fmt.Errorf("holds %.48q: want a volume to the brim, such as 208 L, or the mass of its mark, such as 400 kg", row[holds])
		}
	}
	if err := (waste.Container{Capacity: c.Capacity, MostGross: c.MostGross}).Check(); err != nil {
		return err // of its size; its label is looked at with its line
	}
	if known && (before.Capacity.Sign() > 0 || before.MostGross.Sign() > 0) && !(before.Capacity.Equal(c.Capacity) && before.MostGross.Equal(c.MostGross)) {
		return fmt.Errorf("%.48s holds %.48q here and something else in a row before", label, row[holds])
	}
	l.containers[label] = c
	return nil
}

// withdraw refuses a row that also says something else.
func withdraw(l *books, e waste.Entry, row []string) error {
	for i, field := range row {
		if i > revision && i != stream && field != "" && !(i == line && field == "0") {
			return fmt.Errorf("a withdrawn job has a %s, %.48q; want nothing but job and revision", header[i], field)
		}
	}
	return l.Withdraw(e.Job, e.Revision)
}

func mass(row []string, semicolon bool) (e drain.Estimate[units.MassUnit], err error) {
	if e.Best, err = number(row[best], row[unit], semicolon); err != nil {
		return e, err
	}
	e.Low, e.High = e.Best, e.Best
	if row[low] != "" || row[high] != "" {
		if e.Low, err = number(row[low], row[unit], semicolon); err != nil {
			return e, err
		}
		if e.High, err = number(row[high], row[unit], semicolon); err != nil {
			return e, err
		}
	}
	return e, e.From.UnmarshalText([]byte(row[from]))
}

// number reads a mass. Package units refuses a comma, so a decimal comma becomes a point, and a
// point that is there already, which would be a thousands separator, is refused.
func number(text, unit string, semicolon bool) (units.Mass, error) {
	if len(text) > 64 || len(unit) > 32 {
		return units.Mass{}, fmt.Errorf("mass %.48q: too long", text+" "+unit)
	}
	if semicolon {
		if strings.ContainsRune(text, '.') {
			return units.Mass{}, fmt.Errorf("mass %q: a point among decimal commas; want digits and one comma", text)
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	return units.ParseMass(text + " " + unit)
}

func whole(name, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0, fmt.Errorf("%s %.48q: want a whole number", name, text)
	}
	return n, nil
}
