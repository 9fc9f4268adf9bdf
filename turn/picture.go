package turn

import (
	"bytes"
	"encoding/xml"
	"math/big"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/snugturn/units"
)

// Picture is what a drawing of an instruction needs to know.
type Picture struct {
	Ring        Ring
	From        Position // what stands at the index at the datum
	Instruction Instruction
	Hand        Hand
	View        View   // along the axis: facing the closed end or from the head side
	Caption     string // a line above the drawing; cut to 80 characters, may be empty
}

// The drawing, in its own units: 720 make 180 mm on paper.
const (
	pageWidth   = 720
	centreLeft  = 180 // of the ring at the datum
	centreRight = 540 // of the ring when done
	centreY     = 262
	wall        = 118 // radius of the canister's wall
	arrowRing   = 144 // radius of the arrow
	labelRing   = 90  // radius on which labels stand
	textTop     = 450
	lineHeight  = 19
	lineLength  = 96 // characters
	maxCaption  = 80 // characters
)

// SVG draws the ring twice: at the datum, with an arrow for how far and which way, and when done,
// with the window in black. It is black on white, carries its meaning in words and shapes, sets
// <title> and <desc> for readers of screens, and asks nothing of the page it stands in: no
// script, no style sheet, no identifiers, no fonts but the reader's own. Labels and the caption
// are escaped. The same picture gives the same bytes everywhere: no coordinate is computed in
// floating point.
//
// Errors: as [Ring.Window]; *units.ParseError (units.ErrSyntax) for a view from beside, where a ring
// shows half its marks.
func (p Picture) SVG() ([]byte, error) {
	w, err := p.Ring.Window(p.From, p.Instruction, p.Hand)
	if err != nil {
		return nil, err
	}
	seen := Sense(p.Hand, Tightening, p.View)
	if seen != Clockwise && seen != Counterclockwise {
		return nil, refuse("picture", p.View.String(), "no view along the axis", "facing the closed end or from the head side", units.ErrSyntax)
	}
	d, err := p.drawing(w, seen)
	if err != nil {
		return nil, err
	}
	lines := d.words()
	height := textTop + lineHeight*len(lines) + 12
	d.put(`<svg xmlns="http://www.w3.org/2000/svg" role="img" width="180mm" height="`, strconv.Itoa(height/4), `mm" viewBox="0 0 `,
		strconv.Itoa(pageWidth), " ", strconv.Itoa(height), `" font-family="sans-serif" fill="black">`, "\n")
	d.put("<title>").text(d.title()).put("</title>\n<desc>").text(strings.Join(d.sentences(), " ")).put("</desc>\n")
	d.put(`<rect width="720" height="`, strconv.Itoa(height), `" fill="white"/>`, "\n")
	if p.Caption != "" {
		d.line(pageWidth/2, 24, 15, "middle", cutRunes(p.Caption, maxCaption))
	}
	d.line(pageWidth/2, 52, 20, "middle", "Seen "+p.View.String()+": "+strings.ToUpper(seen.String()))
	d.panel(centreLeft, "1. At "+p.Instruction.datum.String(), false)
	d.panel(centreRight, "2. Stop here", true)
	for i, l := range lines {
		d.line(24, textTop+lineHeight*i, 14, "start", l)
	}
	d.put("</svg>\n")
	return d.Bytes(), nil
}

// drawing is a picture being drawn.
type drawing struct {
	bytes.Buffer
	Picture
	window                            Window
	seen                              Rotation
	step                              int64
	start, least, aim, most           Turn   // places on the ring: clockwise angles facing the closed end
	startLabel, leastLabel, mostLabel string // what is printed there; may be nothing
	until                             string // where to stop, in words
}

func (p Picture) drawing(w Window, seen Rotation) (*drawing, error) {
	d := &drawing{Picture: p, window: w, seen: seen}
	var err error
	if d.start, d.step, err = p.Ring.place(w.From, p.Hand); err != nil {
		return nil, err
	}
	if d.least, _, err = p.Ring.place(w.Least, p.Hand); err != nil {
		return nil, err
	}
	if d.aim, _, err = p.Ring.place(w.Aim, p.Hand); err != nil {
		return nil, err
	}
	if d.most, _, err = p.Ring.place(w.Most, p.Hand); err != nil {
		return nil, err
	}
	if d.until, err = p.Ring.Until(w, p.Hand); err != nil {
		return nil, err
	}
	for _, m := range p.Ring.marks {
		if m.angle == d.start {
			d.startLabel = m.label
		}
		if m.angle == d.least {
			d.leastLabel = m.label
		}
		if m.angle == d.most {
			d.mostLabel = m.label
		}
	}
	return d, nil
}

func (d *drawing) put(parts ...string) *drawing {
	for _, s := range parts {
		d.WriteString(s)
	}
	return d
}

// text escapes; what XML can't hold becomes U+FFFD.
func (d *drawing) text(s string) *drawing {
	xml.EscapeText(&d.Buffer, []byte(s)) // a bytes.Buffer never fails
	return d
}

func (d *drawing) line(x, y, size int, anchor, s string) {
	d.put(`<text x="`, strconv.Itoa(x), `" y="`, strconv.Itoa(y), `" font-size="`, strconv.Itoa(size), `" text-anchor="`, anchor, `">`)
	d.text(s).put("</text>\n")
}

func (d *drawing) title() string {
	return "Tighten " + d.Instruction.String() + ", " + d.seen.String() + " " + d.View.String()
}

// sentences are the picture in words.
func (d *drawing) sentences() []string {
	index := "The index is a fixed point on the head."
	if d.Ring.onHead {
		index = "The marks are on the head; the index is the mark on the canister."
	}
	other := FromHeadSide
	if d.View == FromHeadSide {
		other = FacingClosedEnd
	}
	start := Position{Mark: d.window.From.Mark, Past: d.window.From.Past}
	return []string{
		"Tighten " + d.Instruction.String() + ": " + strings.ToUpper(d.seen.String()) + ", seen " + d.View.String() +
			" (" + strings.ReplaceAll(d.Hand.String(), " ", "-") + " thread). The same turn seen " + other.String() + " is " +
			Sense(d.Hand, Tightening, other).String() + ".",
		"Start: " + start.at() + ". Done: " + d.until + ".",
		index + " A mark is reached when it stands at the index, not when it comes in sight.",
		"Round: start. Black: turned far enough. Square: no further. Black band: the window.",
		"Too far is not put right by turning back. The manufacturer's instructions come first.",
	}
}

// words are the sentences in lines that fit.
func (d *drawing) words() (lines []string) {
	for _, s := range d.sentences() {
		line := ""
		for _, word := range strings.Fields(s) {
			if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > lineLength {
				lines, line = append(lines, line), ""
			}
			if line != "" {
				line += " "
			}
			line += word
		}
		lines = append(lines, line)
	}
	return lines
}

// paper is an angle facing the closed end as degrees clockwise on the paper.
func (d *drawing) paper(t Turn) string {
	t = t.round()
	if d.View.reversed() {
		t, _ = Turn{}.plus(-1, t)
		t = t.round()
	}
	return degreesText(t)
}

// degreesText writes degrees to a thousandth, which is a two-thousandth of the drawing's unit.
func degreesText(t Turn) string {
	x := t.Rat()
	text := x.Mul(x, big.NewRat(360, 1)).FloatString(3)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// panel draws the ring as it stands at the datum, or when done.
func (d *drawing) panel(x int, heading string, done bool) {
	d.line(x, 84, 17, "middle", heading)
	d.put(`<g transform="translate(`, strconv.Itoa(x), " ", strconv.Itoa(centreY), `)">`, "\n")
	d.put(`<circle r="`, strconv.Itoa(wall), `" fill="none" stroke="black" stroke-width="2"/>`, "\n")
	top := d.start // what stands at the top of the paper
	index := Turn{}
	switch {
	case done && d.Ring.onHead:
		index, _ = d.aim.plus(-1, d.start)
	case done:
		top = d.aim
	}
	d.band(top)
	d.marks(top)
	d.put(`<g transform="rotate(`, d.paper(index), `)"><path d="M0 -120L-11 -142L11 -142Z"/></g>`, "\n")
	if !done {
		d.arrow()
		rounds := ""
		if turns, rest := d.stop().whole(); turns > 0 && rest.num > 0 {
			rounds = "round " + times(int(turns)) + ", and on"
		}
		least, most, isRange := strings.Cut(d.turnText(), " to ")
		if isRange {
			least += " to"
		}
		d.centre(least, most, d.seen.String(), rounds)
	} else {
		d.centre("At the index:", label(d.window.Aim))
	}
	if index == (Turn{}) {
		d.line(0, -158, 12, "middle", "index")
	}
	d.put("</g>\n")
}

// stop is how far to turn; the window was found by it.
func (d *drawing) stop() Turn {
	aim, _ := d.Instruction.Aim()
	return aim
}

func label(p Position) string {
	if p.Past == (Turn{}) {
		return cutRunes(p.Mark, 10)
	}
	return p.Past.String() + " past " + cutRunes(p.Mark, 6)
}

// turnText is the instruction without its datum.
func (d *drawing) turnText() string {
	text, _, _ := strings.Cut(d.Instruction.String(), " after ")
	return text
}

// centre writes lines in the middle of the ring.
func (d *drawing) centre(lines ...string) {
	y := -14
	for _, s := range lines {
		if s != "" {
			d.line(0, y, 14, "middle", s)
			y += 18
		}
	}
}

// band draws the window along the wall: from the least to the most in the order in which they
// reach the index. A window of a turn or more is the whole wall.
func (d *drawing) band(top Turn) {
	width, _ := d.Instruction.most.plus(-1, d.Instruction.least)
	if width.num >= width.den() {
		width = Turn{num: 1}
	}
	from, _ := d.least.plus(-1, top)
	if (d.step < 0) != d.View.reversed() { // on the paper, it runs counterclockwise from the least: start at the most
		from, _ = d.most.plus(-1, top)
	}
	if width.num != 0 {
		d.arc(wall-7, 12, d.paper(from), width)
	}
	for _, end := range [...]Turn{d.least, d.most} {
		at, _ := end.plus(-1, top)
		d.put(`<g transform="rotate(`, d.paper(at), `)"><path d="M0 -124V-102" stroke="black" stroke-width="4"/></g>`, "\n")
	}
}

// arc strokes part of a circle, clockwise from an angle. A full circle has no gap.
func (d *drawing) arc(radius, width int, from string, length Turn) {
	rest, _ := Turn{num: 1}.plus(-1, length)
	d.put(`<g transform="rotate(`, from, `)"><circle r="`, strconv.Itoa(radius), `" fill="none" stroke="black" stroke-width="`, strconv.Itoa(width),
		`" transform="rotate(-90)" pathLength="360"`)
	if rest.num > 0 {
		d.put(` stroke-dasharray="`, degreesText(length), " ", degreesText(rest), `"`)
	}
	d.put("/></g>\n")
}

// marks draws ticks and labels. Where there are too many labels, only the ends of the window and
// the start keep theirs.
func (d *drawing) marks(top Turn) {
	n := len(d.Ring.marks)
	size, radius := 17, 14
	if n > 12 {
		size, radius = 11, 10
	}
	for _, m := range d.Ring.marks {
		at, _ := m.angle.plus(-1, top)
		angle := d.paper(at)
		d.put(`<g transform="rotate(`, angle, `)"><path d="M0 -118V-106" stroke="black"/>`)
		named := m.label == d.startLabel || m.label == d.leastLabel || m.label == d.mostLabel
		if n <= 24 || named {
			d.put(`<g transform="translate(0 -`, strconv.Itoa(labelRing), `) rotate(-`, angle, `)">`)
			d.label(m.label, size, radius)
			d.put("</g>")
		}
		d.put("</g>\n")
	}
}

// label writes a label about the origin, upright, in the shape that says what it is.
func (d *drawing) label(s string, size, radius int) {
	shown := cutRunes(s, 7)
	runes := utf8.RuneCountInString(shown)
	if runes > 2 {
		size = min(size, 12)
	}
	half := max(radius, (runes*size*2/3+8)/2)
	box := func(grow, corner int, fill string) {
		d.put(`<rect x="`, strconv.Itoa(-half-grow), `" y="`, strconv.Itoa(-radius-grow), `" width="`, strconv.Itoa(2*(half+grow)),
			`" height="`, strconv.Itoa(2*(radius+grow)), `" rx="`, strconv.Itoa(corner), `" fill="`, fill, `" stroke="black" stroke-width="2"/>`)
	}
	fill := "black"
	if s == d.mostLabel && d.window.Least != d.window.Most {
		box(3, 0, "white")
	}
	switch s {
	case d.leastLabel:
		box(0, radius, "black")
		fill = "white"
	case d.startLabel:
		box(0, radius, "white")
	}
	d.put(`<text y="`, strconv.Itoa((size*35+50)/100), `" font-size="`, strconv.Itoa(size), `" font-weight="bold" text-anchor="middle" fill="`, fill, `">`)
	d.text(shown).put("</text>")
}

// arrow shows how far and which way what stands at the index goes until it is to stop. Whole
// turns before that are one thin circle around it, and the words count them.
func (d *drawing) arrow() {
	tail, longest := Turn{num: 1, fin: 35}, Turn{num: 23, fin: 23} // room for the index at both ends
	end := d.stop()
	turns, rest := end.whole()
	if turns > 0 && rest.num > 0 {
		d.put(`<circle r="`, strconv.Itoa(arrowRing+8), `" fill="none" stroke="black"/>`, "\n")
		end = rest
	}
	if end.Compare(longest) > 0 {
		end = longest
	}
	length, ok := end.plus(-1, tail)
	if !ok || length.num <= 0 {
		length = tail
	}
	head, _ := tail.plus(+1, length)
	from, point := tail, `<path d="M-2 -154L16 -144L-2 -134Z"/>`
	if d.seen == Counterclockwise {
		head, _ = Turn{}.plus(-1, head)
		head = head.round()
		from, point = head, `<path d="M2 -154L-16 -144L2 -134Z"/>`
	}
	d.arc(arrowRing, 3, degreesText(from), length)
	d.put(`<g transform="rotate(`, degreesText(head), `)">`, point, "</g>\n")
}

// cutRunes shortens a text to n characters.
func cutRunes(s string, n int) string {
	i := 0
	for at := range s {
		if i == n {
			return s[:at] + "…"
		}
		i++
	}
	return s
}
