package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// The columns, in any order; the first twelve have to be there. What is "entry", which is also what an empty
// field and a missing column mean; "withdrawn" with a job and a revision and nothing else; or what happened to
// a drum: "opened", "opened in the satellite area", "weighed", "moved", "closed", "shipped".
//
// Low and high may be left out together: then best stands for all three. They are the mass of an entry, the
// tare of a drum that is opened, what the scale shows of one that is weighed. An entry of drained fuel may be a
// volume, in L or US gal, with its temperature and the fuel's density at 15 °C or its gravity.
const (
	job = iota
	revision
	line
	date
	stream
	determination
	best
	unit
	from
	container
	by
	when
	what
	low
	high
	temperature
	density
	kind  // of the drum, as the papers call it: "DM"
	holds // to its brim: "208 L"
	limit // it is filled to: "200 L"
	mark  // the most it may weigh by its mark: "400 kg"
	paper // the number of what it was shipped with
	columns
)

var header = [columns]string{"job", "revision", "line", "date", "stream", "determination", "best", "unit", "from", "drum", "by", "when",
	"what", "low", "high", "temperature", "density", "kind", "holds", "limit", "mark", "paper"}

// books are a ledger and where its postings were read.
type books struct {
	waste.Ledger
	invented bool
	read     int // postings
	again    int // of which nothing was new
	files    []file
	lines    int // of all files
	progress func(read int)
}

// file is one that was read, and the lines before it.
type file struct {
	name   string
	before int
}

// where is the place of a posting, "month.csv: line 12".
func (b *books) where(row int) string {
	at := len(b.files) - 1
	for at > 0 && b.files[at].before >= row {
		at--
	}
	return fmt.Sprintf("%s: line %d", b.files[at].name, row-b.files[at].before)
}

// load fills the books from a CSV, or from the lines of a ledger. With semicolon, fields are separated by ; and
// numbers have decimal commas; without, neither is accepted: the one would make a field of half a number, the
// other a number of a slip. Lines that begin with # are passed over before the header; behind it every line
// is a row.
func (b *books) load(name string, in io.Reader, semicolon bool) error {
	lines := &bounded{in: bufio.NewReaderSize(in, longestLine)}
	if mark, _ := lines.in.Peek(3); string(mark) == "\ufeff" { // spreadsheets put it there
		lines.in.Discard(len(mark))
	}
	b.files = append(b.files, file{name, b.lines})
	fill := b.loadCSV
	if start, _ := lines.in.Peek(1); string(start) == "{" {
		fill = b.loadLedger
	}
	if err := fill(lines, semicolon); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	b.lines += lines.line + 1
	return nil
}

// enter puts a posting into the ledger.
func (b *books) enter(p *waste.Posting, line int) error {
	p.Row = b.lines + line
	isNew, err := b.Add(*p)
	if err != nil {
		return err
	}
	if !isNew {
		b.again++
	}
	if b.read++; b.read%50_000 == 0 && b.progress != nil {
		b.progress(b.read)
	}
	return nil
}

// loadLedger reads a posting a line.
func (b *books) loadLedger(lines *bounded, _ bool) error {
	in := bufio.NewScanner(lines)
	in.Buffer(nil, longestLine+2)
	for n := 1; in.Scan(); n++ {
		var p waste.Posting
		err := p.UnmarshalJSON(in.Bytes())
		if err == nil {
			err = b.enter(&p, n)
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
	}
	return in.Err()
}

func (b *books) loadCSV(lines *bounded, semicolon bool) error {
	b.invented = lines.passRemarks() || b.invented
	remarks := lines.line
	in := csv.NewReader(lines)
	in.ReuseRecord, in.FieldsPerRecord = true, -1
	if semicolon {
		in.Comma = ';'
	}
	r := rows{books: b, semicolon: semicolon, words: map[string]word{}}
	for first := true; ; first = false {
		row, err := in.Read()
		if errors.Is(err, io.EOF) && !first {
			return nil
		}
		if err != nil {
			return unread(err, remarks)
		}
		at, _ := in.FieldPos(0)
		switch at += remarks; {
		case first:
			err = r.header(row)
		case len(row) != r.fields:
			err = fmt.Errorf("%d fields; want %d", len(row), r.fields)
		default:
			err = r.row(row, at)
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", at, err)
		}
	}
}

// unread is what is wrong with a row that encoding/csv doesn't read, or with a line that isn't handed on to it.
func unread(err error, remarks int) error {
	if bad := (*csv.ParseError)(nil); errors.As(err, &bad) {
		return fmt.Errorf("line %d: %w", remarks+bad.Line, bad.Err)
	}
	return err // names its line
}

// bounded hands lines on and refuses one that no row can be, before it fills the memory. A line that ends within
// quotation marks is refused too: a mark too many would make one field of all rows up to the next.
type bounded struct {
	in   *bufio.Reader
	line int  // how many have ended
	size int  // of the one that hasn't
	open bool // whether it ends within quotation marks
}

const longestLine = 64 << 10

// passRemarks reports whether the first begins with "Invented".
func (b *bounded) passRemarks() (invented bool) {
	for {
		if start, err := b.in.Peek(1); err != nil || start[0] != '#' {
			return invented // the end, too, is for the reader behind to find
		}
		text, err := b.in.ReadSlice('\n')
		if b.line == 0 {
			invented = strings.HasPrefix(strings.ToLower(strings.Trim(string(text), "# \t")), "invented")
		}
		for errors.Is(err, bufio.ErrBufferFull) {
			_, err = b.in.ReadSlice('\n')
		}
		if err != nil {
			return invented
		}
		b.line++
	}
}

func (b *bounded) Read(p []byte) (int, error) {
	n, err := b.in.Read(p)
	for rest := p[:n]; len(rest) > 0; {
		end := bytes.IndexByte(rest, '\n')
		part := rest
		if end >= 0 {
			part = rest[:end]
		}
		b.size += len(part)
		if bytes.Count(part, []byte{'"'})%2 == 1 {
			b.open = !b.open
		}
		switch {
		case b.size > longestLine:
			return 0, fmt.Errorf("line %d: longer than 64 KiB", b.line+1)
		case end < 0:
			return n, err
		case b.open:
			return 0, fmt.Errorf("line %d: ends within quotation marks; want each row on one line", b.line+1)
		}
		b.line, b.size, rest = b.line+1, 0, rest[end+1:]
	}
	return n, err
}

// rows makes postings of the rows of one file.
type rows struct {
	*books
	semicolon bool
	fields    int
	at        [columns]int // of a row's fields, -1 for a column that isn't there
	words     map[string]word
	last      [columns]struct { // words of the row before
		text string
		word word
	}

	posting waste.Posting // filled anew for each row: the ledger keeps none of it
	entry   waste.Entry
	masses  map[string]units.Mass // by how they are written, in one unit
	unit    string
	day     string // the last date and time read, and what they are: rows of a day come together
	date    waste.Date
	instant string
}

// word is what a word or a unit stands for where it is one: looked up once for a file.
type word struct {
	stream        waste.Stream
	determination waste.Determination
	from          drain.Provenance
	volume        bool // a unit of volume
}

func (r *rows) header(row []string) error {
	r.fields = len(row)
	for c := range r.at {
		r.at[c] = slices.Index(row, header[c])
		if r.at[c] < 0 && c <= when {
			return fmt.Errorf("the header %.60q has no column %q; want %s, or the same with semicolons and -semicolon",
				strings.Join(row, ","), header[c], strings.Join(header[:what], ","))
		}
	}
	for n, name := range row {
		if !slices.Contains(header[:], name) {
			return fmt.Errorf("unknown column %.48q; want one of %s", name, strings.Join(header[:], ", "))
		}
		if slices.Index(row, name) != n {
			return fmt.Errorf("column %q is there twice", name)
		}
	}
	return nil
}

// field is that of a column, "" for one that isn't there.
func (r *rows) field(row []string, column int) string {
	if at := r.at[column]; at >= 0 {
		return row[at]
	}
	return ""
}

func (r *rows) row(row []string, line int) error {
	p := &r.posting
	*p = waste.Posting{By: r.field(row, by), At: p.At}
	if text := r.field(row, when); text != r.instant || text == "" {
		at, err := time.Parse(time.RFC3339, text)
		if err != nil {
			return fmt.Errorf("when %.48q: want such as 2026-03-04T16:30:00-06:00", text)
		}
		p.At, r.instant = at, text
	}
	var err error
	switch text := r.field(row, what); text {
	case "", "entry":
		p.Entry, err = &r.entry, r.fill(row)
	case "withdrawn":
		p.Withdrawal, err = r.withdrawn(row)
	default:
		p.Drum, err = r.event(row, text)
	}
	if err != nil {
		return err
	}
	return r.enter(p, line)
}

// only refuses a row that says more than it can mean.
func (r *rows) only(row []string, mayHave ...int) error {
	for c, at := range r.at {
		if at >= 0 && row[at] != "" && c != by && c != when && c != what && !slices.Contains(mayHave, c) {
			return fmt.Errorf("%s has a %s, %.48q; want the field empty", r.field(row, what), header[c], row[at])
		}
	}
	return nil
}

func (r *rows) withdrawn(row []string) (w *waste.Withdrawal, err error) {
	w = &waste.Withdrawal{Job: r.field(row, job)}
	if err = r.only(row, job, revision); err == nil {
		w.Revision, err = whole(revision, r.field(row, revision))
	}
	return w, err
}

func (r *rows) event(row []string, name string) (e *waste.DrumEvent, err error) {
	e = &waste.DrumEvent{Event: name, Container: waste.Container{ID: r.field(row, container), Satellite: name == "opened in the satellite area"}}
	mayHave := []int{revision, date, container}
	switch name {
	case "opened", "opened in the satellite area":
		e.Event, mayHave = "opened", append(mayHave, low, best, high, unit, from, kind, holds, limit, mark)
	case "weighed":
		mayHave = append(mayHave, low, best, high, unit, from)
	case "shipped":
		mayHave = append(mayHave, paper)
	}
	if err = r.only(row, mayHave...); err != nil {
		return nil, err
	}
	if text := r.field(row, revision); text != "" {
		if e.Revision, err = whole(revision, text); err != nil {
			return nil, err
		}
	}
	if e.Date, err = waste.ParseDate(r.field(row, date)); err != nil {
		return nil, err
	}
	e.Paper, e.Container.Kind = r.field(row, paper), r.field(row, kind)
	var mass drain.Estimate[units.MassUnit]
	if r.field(row, best) != "" {
		if mass, err = measured(r, row, r.mass); err != nil {
			return nil, err
		}
	}
	if e.Event == "opened" {
		e.Container.Tare = mass
	} else {
		e.Gross = mass
	}
	if e.Container.Capacity, err = optional[units.VolumeUnit](r, row, holds); err != nil {
		return nil, err
	}
	if e.Container.FillLimit, err = optional[units.VolumeUnit](r, row, limit); err != nil {
		return nil, err
	}
	e.Container.MostGross, err = optional[units.MassUnit](r, row, mark)
	return e, err
}

// optional reads a quantity with its unit, where there is one.
func optional[U units.Unit](r *rows, row []string, column int) (units.Quantity[U], error) {
	text := r.field(row, column)
	if text == "" {
		return units.Quantity[U]{}, nil
	}
	q, err := units.Parse[U](r.decimal(text))
	if err != nil {
		return q, fmt.Errorf("%s: %w", header[column], err)
	}
	return q, nil
}

// decimal is a number with a point. Package units refuses a comma, so a decimal comma becomes a point; a point
// that is there already, which would be a thousands separator, is left to be refused with it.
func (r *rows) decimal(text string) string {
	if !r.semicolon {
		return text
	}
	if strings.ContainsRune(text, '.') {
		return text + ","
	}
	return strings.Replace(text, ",", ".", 1)
}

// fill makes the entry of a row.
func (r *rows) fill(row []string) (err error) {
	e := &r.entry
	*e = waste.Entry{Job: r.field(row, job), Container: r.field(row, container)}
	if e.Revision, err = whole(revision, r.field(row, revision)); err != nil {
		return err
	}
	if e.Line, err = whole(line, r.field(row, line)); err != nil {
		return err
	}
	if day := r.field(row, date); day != r.day || day == "" {
		if r.date, err = waste.ParseDate(day); err != nil {
			return err
		}
		r.day = day
	}
	e.Date = r.date
	if e.Stream = r.word(row, stream).stream; e.Stream == 0 {
		return e.Stream.UnmarshalText([]byte(r.field(row, stream))) // says what is wrong
	}
	if e.Determination = r.word(row, determination).determination; e.Determination == 0 {
		if err = e.Determination.UnmarshalText([]byte(r.field(row, determination))); err != nil {
			return err
		}
	}
	if r.word(row, unit).volume {
		return r.fillVolume(row)
	}
	if r.field(row, temperature) != "" || r.field(row, density) != "" {
		return fmt.Errorf("a temperature or density with a mass, %.48q; want them with a volume alone", r.field(row, best)+" "+r.field(row, unit))
	}
	e.Mass, err = measured(r, row, r.mass)
	return err
}

// fillVolume makes the mass of a volume.
func (r *rows) fillVolume(row []string) (err error) {
	e := &r.entry
	if e.Stream != waste.DrainedFuel {
		return fmt.Errorf("%v as a volume; want its mass: weigh it", e.Stream)
	}
	if e.Volume, err = measured(r, row, volume); err != nil {
		return err
	}
	if e.VolumeAt, err = units.ParseTemperature(r.decimal(r.field(row, temperature))); err != nil {
		return err
	}
	stated, err := drain.ParseStatedDensity(r.decimal(r.field(row, density)))
	if err != nil {
		return err
	}
	fuel, err := stated.Fuel(units.Celsius.Of(15))
	if err != nil {
		return err
	}
	e.Mass, err = fuel.MassOf(e.Volume, e.VolumeAt)
	return err
}

// word looks the word of a column up, if it isn't that of the row before.
func (r *rows) word(row []string, column int) word {
	text, last := r.field(row, column), &r.last[column]
	if last.text != text {
		last.text, last.word = text, r.lookUp(text)
	}
	return last.word
}

func (r *rows) lookUp(text string) word {
	w, known := r.words[text]
	if !known && len(r.words) < 1000 {
		w.stream.UnmarshalText([]byte(text))
		w.determination.UnmarshalText([]byte(text))
		w.from.UnmarshalText([]byte(text))
		_, err := units.ParseUnit[units.VolumeUnit](text)
		w.volume = err == nil
		r.words[strings.Clone(text)] = w
	}
	return w
}

// measured reads low, best, high, the unit and where they come from.
func measured[U units.Unit](r *rows, row []string, parse func(number, unit string) (units.Quantity[U], error)) (e drain.Estimate[U], err error) {
	number := func(column int) (units.Quantity[U], error) {
		q, err := parse(r.decimal(r.field(row, column)), r.field(row, unit))
		if err != nil {
			return q, fmt.Errorf("%s: %w", header[column], err)
		}
		return q, nil
	}
	if e.Best, err = number(best); err != nil {
		return e, err
	}
	e.Low, e.High = e.Best, e.Best
	if r.field(row, low) != "" || r.field(row, high) != "" {
		if e.Low, err = number(low); err != nil {
			return e, err
		}
		if e.High, err = number(high); err != nil {
			return e, err
		}
	}
	if e.From = r.word(row, from).from; e.From == 0 {
		return e, e.From.UnmarshalText([]byte(r.field(row, from)))
	}
	return e, nil
}

func volume(number, unit string) (units.Volume, error) { return units.ParseVolume(number + " " + unit) }

// mass reads a mass, or knows it: a scale of 0.1 kg shows few others than it has shown before.
func (r *rows) mass(number, unit string) (units.Mass, error) {
	if unit != r.unit || r.masses == nil {
		r.unit, r.masses = unit, map[string]units.Mass{}
	}
	m, known := r.masses[number]
	if known {
		return m, nil
	}
	m, err := units.ParseMass(number + " " + unit)
	if err == nil && len(r.masses) < 4096 && len(number) < 32 {
		r.masses[strings.Clone(number)] = m
	}
	return m, err
}

func whole(column int, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0, fmt.Errorf("%s %.48q: want a whole number", header[column], text)
	}
	return n, nil
}
