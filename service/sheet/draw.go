package sheet

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Drawing turns the data of a picture into lines. Coordinates are floats: nothing is decided by
// them, and a hundredth of a unit is finer than ink.

// drawing is a picture as shapes, in units of which 11 are the height of its type.
type drawing struct {
	Title, Words  string
	Width, Height string
	Paper         string // how wide on paper, where no style sheet says so
	Shapes        []shape

	printer printer
}

// pictureWidth leaves type of 8 pt where a picture is 72 mm wide.
const pictureWidth = 280.0

// inks are how the classes of shapes are drawn: in the shapes themselves, so that a picture needs no
// style sheet.
var inks = map[string]template.HTMLAttr{
	"line": `fill="none" stroke="black"`, "thick": `fill="none" stroke="black" stroke-width="2.5"`, "blank": `fill="white"`,
	"wall": `fill="none" stroke="black" stroke-width="2.6"`, "tick": `fill="none" stroke="black" stroke-width="2"`, "contact": `fill="none" stroke="black" stroke-width="3.4"`,
	"window": `fill="none" stroke="black" stroke-width="12"`, "slit": `fill="none" stroke="white" stroke-width="7.4"`,
	"stem": `fill="none" stroke="black" stroke-width="2.8"`, "bar": `fill="none" stroke="black" stroke-width="5"`,
	"adapter": `fill="none" stroke="black" stroke-width="14.4"`,
	"word":    wordInk, "start": wordInk + ` text-anchor="start"`, "end": wordInk + ` text-anchor="end"`,
	"label": `font-weight="700" font-size="18"`, "small": `font-weight="700" font-size="11"`, "note": `font-size="11"`,
}

const wordInk = `font-weight="700" font-size="14"`

func ink(class string) template.HTMLAttr { return inks[class] }

// shape is a path, a text, or else a circle.
type shape struct{ Class, Path, Text, X, Y, R string }

func (d *drawing) path(class, format string, at ...float64) {
	args := make([]any, len(at))
	for i, v := range at {
		args[i] = coordinate(v)
	}
	d.Shapes = append(d.Shapes, shape{Class: class, Path: fmt.Sprintf(strings.ReplaceAll(format, "#", "%s"), args...)})
}

func (d *drawing) text(class string, x, y float64, text string) {
	d.Shapes = append(d.Shapes, shape{Class: class, Text: text, X: coordinate(x), Y: coordinate(y)})
}

func (d *drawing) circle(class string, x, y, r float64) {
	d.Shapes = append(d.Shapes, shape{Class: class, X: coordinate(x), Y: coordinate(y), R: coordinate(r)})
}

// coordinate is a number to a hundredth, never "-0".
func coordinate(v float64) string {
	text := strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// DrawTurn draws a turn from a position on a ring of marks as an SVG file of its own, as it looks when it is done: what
// is then at the index, where the mark of contact ends, the window in black, and the farthest that mark may go. It carries its meaning in words and
// shapes, sets <title> and <desc> for readers of screens, and asks nothing of the page it stands in.
// Labels are escaped.
//
// Errors: as [turn.Ring.Around] and [turn.Instruction.Aim].
func (w *Words) DrawTurn(marks turn.Ring, from turn.Position, in turn.Instruction, hand turn.Hand, view turn.View) ([]byte, error) {
	ring, err := turning(marks, from, in, hand, view)
	if err != nil {
		return nil, err
	}
	p := w.printer(nil)
	title := p.code("picture.turn", "turn", in, "sense", ring.Sense, "view", view)
	d := w.draw(&Picture{Title: title, Words: title + ". " + p.ring(ring) + " " + p.code("picture.ring/caution"), Ring: ring})
	d.caption()
	d.Paper = "180mm"
	var b bytes.Buffer
	err = w.page.ExecuteTemplate(&b, "svg", d)
	return append(bytes.TrimSpace(b.Bytes()), '\n'), err
}

// caption writes the words under the picture.
func (d *drawing) caption() {
	const columns, step = 50, 14.0
	below, _ := strconv.ParseFloat(d.Height, 64)
	line := ""
	for _, word := range append(strings.Fields(d.Words), "") {
		if word == "" || wrap.Columns(line+" "+word) > columns {
			below += step
			d.text("", pictureWidth/2, below, line)
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	d.Height = coordinate(below + step)
}

func (w *Words) draw(p *Picture) *drawing {
	d := &drawing{Title: p.Title, Words: p.Words, Width: coordinate(pictureWidth), printer: w.printer(nil)}
	if p.Ring != nil {
		d.rings(p.Ring)
	} else {
		d.adapter(*p.Adapter)
	}
	return d
}

// adapter draws a wrench with its grip at the left and the hand as a dot on it, and from its drive the adapter, an open
// bar, at its angle to the fastener. No line is thinner than 0.8 mm where the picture is 54 mm wide. Not to scale.
func (d *drawing) adapter(a torque.Adapter) {
	const wide, grip, drive, long, room = 224.0, 80.0, 150.0, 54.0, 20.0
	degrees, _ := a.Angle.RatIn(units.Degree).Float64()
	sin, cos := math.Sincos(math.Mod(degrees, 360) * math.Pi / 180)
	y := room + long*math.Max(0, sin)
	toX, toY := drive+long*cos, y-long*sin
	d.Width, d.Height = coordinate(wide), coordinate(y+math.Max(room+16, room-long*math.Min(0, sin)))
	d.path("bar", "M# #H#", grip, y, drive)
	d.path("contact", "M# #H#V#H#Z", 10, y-13, grip, y+13, 10)
	d.circle("fill", (10+grip)/2, y, 8)
	d.text("word", (10+grip)/2, y+30, d.printer.code("drawn/hand"))
	d.path("adapter", "M# #L# #", drive, y, toX, toY)
	d.path("slit", "M# #L# #", drive, y, toX, toY)
	d.circle("fill", drive, y, 9)
	d.circle("blank", toX, toY, 14)
	d.circle("contact", toX, toY, 14)
}

// rings draws the ring at the end of the turn, or the part from beside.
func (d *drawing) rings(r *RingPicture) {
	if r.Sense == turn.LeftToRight || r.Sense == turn.RightToLeft {
		d.beside(r)
		return
	}
	g := dialAt
	way := map[bool]float64{true: -1, false: 1}[r.Sense == turn.Counterclockwise]
	least, aim, most := way*radians(r.Least), way*radians(r.Aim), way*radians(r.Most)
	d.Height = coordinate(226)
	d.circle("wall", g.x, g.y, g.radius)
	d.index(g.x, g.y-g.radius, g.y-g.radius-36, r)
	for range min(3, int(math.Abs(aim)/(2*math.Pi))) { // a round for each full turn
		g.radius += 5
		d.arc("thick", g, 0.25, 2*math.Pi-0.25)
	}
	g = dialAt
	d.marks(r, g)
	end := aim
	if r.Least != r.Most {
		end = least
		d.arc("window", ring{g.x, g.y, g.radius + 13.4}, least, most)
		d.ray("slit", g, aim, 7, 21)
	}
	d.ray("stem", g, aim, 0, 29)
	if past := math.Mod(math.Abs(end), 2*math.Pi); past > 0.5 {
		d.arrow(ring{g.x, g.y, g.radius + 13.4}, way, past-map[bool]float64{true: 0.06, false: 0}[r.Least != r.Most])
	}
	stop, never, mark, room := "drawn/stop", "drawn/never", "", 0.5
	if r.labelled() { // and the words of the index are wider
		room = 0.75
		stop, never, mark = "drawn/stop-mark", "drawn/never-mark", cmp.Or(short(r.Marks[0].Label, outside), d.printer.code("drawn/start"))
	}
	at := clear(aim, room)
	d.word(g, at, mark, stop)
	if r.Least != r.Most {
		d.ray("bar", g, most, 0, 31)
		beyond := clear(aim+way*math.Max(math.Abs(most-aim), 0.55), room)
		if math.Abs(math.Remainder(beyond-at, 2*math.Pi)) < 0.5 {
			beyond += way * 0.55
		}
		d.word(g, beyond, mark, never)
	}
	if !r.labelled() {
		d.text("note", g.x, g.y-4, d.printer.code("drawn/contact"))
		d.text("note", g.x, g.y+10, d.printer.code("drawn/ends"))
	}
}

// dialAt is where the ring is.
var dialAt = ring{x: pictureWidth / 2, y: 108, radius: 54}

// marks are the ticks of a ring and, where contact is known, their labels, that of contact in a circle.
func (d *drawing) marks(r *RingPicture, g ring) {
	for i, mark := range r.Marks {
		angle := radians(mark.At)
		d.ray(map[bool]string{true: "contact", false: "tick"}[i == 0], g, angle, -8, map[bool]float64{true: 6, false: 0}[i == 0])
		x, y := g.at(angle, -20)
		if i == 0 && mark.Label != "" {
			d.circle("line", x, y, 12.5)
		}
		if mark.Label != "" && (len(r.Marks) <= maxLabels || i == 0 || mark.At == turn.Turn{}) {
			d.text(labelClass(mark.Label, len(r.Marks)), x, y+6, short(mark.Label, inside))
		}
	}
}

// labelClass sets a label in the largest type that fits.
func labelClass(label string, marks int) string {
	if utf8.RuneCountInString(label) <= 2 && marks <= 8 {
		return "label"
	}
	return "small"
}

// index is a black triangle that points down at x, and in words what is there in the end.
func (d *drawing) index(x, y, words float64, r *RingPicture) {
	d.path("fill", "M# #L# #L# #Z", x, y-1, x-9, y-19, x+9, y-19)
	text := d.printer.code("drawn/index")
	if passed, next := r.atIndex(); next != "" {
		text = d.printer.code("drawn/index-between", "mark", short(passed, outside), "next", short(next, outside))
	} else if passed != "" {
		text = d.printer.code("drawn/index-mark", "mark", short(passed, outside))
	}
	const most = 27 // characters of a word across the picture
	d.text(map[bool]string{true: "small", false: "word"}[utf8.RuneCountInString(text) > most], x, words, text)
}

// ray is a line outward at an angle.
func (d *drawing) ray(class string, g ring, angle, from, to float64) {
	x, y := g.at(angle, from)
	toX, toY := g.at(angle, to)
	d.path(class, "M# #L# #", x, y, toX, toY)
}

// arc is a line round the ring, clockwise where to is the greater; no more than once.
func (d *drawing) arc(class string, g ring, from, to float64) {
	if math.Abs(to-from) > 2*math.Pi {
		to = from + math.Copysign(2*math.Pi, to-from)
	}
	steps := math.Max(1, math.Ceil(math.Abs(to-from)*60/math.Pi-1e-6)) // of 3° at most, and not one more where rounding is all that is over
	line := "M"
	for i := 0.0; i <= steps; i++ {
		x, y := g.at(from+(to-from)*i/steps, 0)
		line += coordinate(x) + " " + coordinate(y) + "L"
	}
	d.path(class, strings.TrimSuffix(line, "L"))
}

// arrow goes from beside the index to where the window begins.
func (d *drawing) arrow(g ring, way, end float64) {
	head := math.Min(0.2, end/2)
	d.arc("thick", g, way*0.2, way*(end-head))
	x, y := g.at(way*end, 0)
	outX, outY := g.at(way*(end-head), 8)
	inX, inY := g.at(way*(end-head), -8)
	d.path("fill", "M# #L# #L# #Z", x, y, outX, outY, inX, inY)
}

// clear keeps a word from the words above the index, which take so much room either way.
func clear(angle, room float64) float64 {
	if rest := math.Remainder(angle, 2*math.Pi); math.Abs(rest) < room {
		return math.Copysign(room, rest)
	}
	return angle
}

// word writes a mark, if there is one, and what a code says outside a ring, a line a word, on the side where they have room.
func (d *drawing) word(g ring, angle float64, mark, code string) {
	lines := strings.Fields(d.printer.code(code))
	if mark != "" {
		lines = slices.Insert(lines, 0, mark)
	}
	const high = 14.0
	x, y := g.at(angle, 35)
	class := "word"
	if side := math.Sin(angle); side > 0.25 {
		class = "start"
	} else if side < -0.25 {
		class = "end"
	}
	y += 5 - high/2*float64(len(lines)-1)*(1-math.Sin(math.Abs(math.Remainder(angle, 2*math.Pi))-math.Pi/2)*0.9)
	for i, line := range lines {
		d.text(class, x, y+high*float64(i), line)
	}
}

// beside draws the head as a bar and below it the wall, with the marks that are in view.
func (d *drawing) beside(r *RingPicture) {
	const middle, wall, half = pictureWidth / 2, 70.0, 112.0
	d.Height = coordinate(190)
	d.path("fill", "M# #H#V#H#Z", middle-half-12, 30, middle+half+12, 44, middle-half-12)
	d.path("wall", "M# #V#H#V#Z", middle-half, wall, 140, middle+half, wall)
	d.path("bar", "M# #V#", middle, 44, 52)
	d.index(middle, wall, 22, r)
	for i, mark := range r.Marks {
		angle := math.Remainder(radians(mark.At), 2*math.Pi)
		if math.Abs(angle) > 84*math.Pi/180 {
			continue
		}
		x := middle + half*math.Sin(angle)
		d.path(map[bool]string{true: "contact", false: "tick"}[i == 0], "M# #V#", x, wall, wall+14)
		if mark.At == (turn.Turn{}) {
			d.circle("line", x, wall+34, 15)
		}
		if mark.Label != "" {
			d.text(labelClass(mark.Label, len(r.Marks)), x, wall+40, short(mark.Label, inside))
		}
	}
	way := map[bool]float64{true: 1, false: -1}[r.Sense == turn.LeftToRight]
	d.path("bar", "M# #H#", middle-way*60, 162, middle+way*44)
	d.path("fill", "M# #L# #L# #Z", middle+way*62, 162, middle+way*42, 152, middle+way*42, 172)
}

// ring is where a ring is drawn.
type ring struct{ x, y, radius float64 }

// maxLabels are as many labels as are all written in a ring, of so many letters inside it and outside.
const maxLabels, inside, outside = 24, 6, 4

// at is the point a way outside the ring, at an angle clockwise from the index.
func (g ring) at(angle, outside float64) (x, y float64) {
	return g.x + math.Sin(angle)*(g.radius+outside), g.y - math.Cos(angle)*(g.radius+outside)
}

func radians(t turn.Turn) float64 {
	turns, _ := t.Rat().Float64()
	return turns * 2 * math.Pi
}

// short cuts a label to as many letters as have room.
func short(label string, most int) string {
	if utf8.RuneCountInString(label) <= most {
		return label
	}
	return string([]rune(label)[:most-1]) + "…"
}
