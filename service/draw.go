package service

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Drawing turns the data of a picture into lines. Coordinates are floats: nothing is decided by
// them, and a hundredth of a unit is finer than ink.

// drawing is a picture as shapes, in units of which 340 are the width of a column.
type drawing struct {
	Title, Words  string
	Width, Height string
	Shapes        []shape
}

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

func draw(p *Picture) *drawing {
	d := &drawing{Title: p.Title, Words: p.Words, Width: "340"}
	if p.Ring != nil {
		d.rings(p.Ring)
	} else {
		d.band(p.Band)
	}
	return d
}

// band draws the scale from left to right: too loose, the band, too tight. A hatched bar is what is
// allowed, a black one inside it what the tool may deliver.
func (d *drawing) band(b *BandPicture) {
	const left, right, top, bottom = 95.0, 245.0, 24.0, 44.0
	d.Height = "68"
	d.path("line", "M8 #H332", bottom)
	d.path("thick", "M# #V#M# #V#", left, top-6, bottom+6, right, top-6, bottom+6)
	d.path("line", "M# #H#", left, top, right)
	for x := left + 6; x < right; x += 6 {
		end := math.Min(x+10, right)
		d.path("line", "M# #L# #", x, bottom, end, bottom-2*(end-x))
	}
	d.text("bold", left, top-11, b.Low.String())
	d.text("bold", right, top-11, b.High.String())
	d.text("", left, bottom+18, b.StatedLow.String())
	d.text("", right, bottom+18, b.StatedHigh.String())
	d.text("", left/2, bottom-6, "too loose")
	d.text("", (340+right)/2, bottom-6, "too tight")
	if b.Tool == nil {
		return
	}
	number := func(t units.Torque) float64 { v, _ := t.RatIn(units.NewtonMetre).Float64(); return v }
	low, high := number(b.StatedLow), number(b.StatedHigh)
	at := func(t units.Torque) float64 { return left + (number(t)-low)/(high-low)*(right-left) }
	least, most := at(b.Tool.Least), at(b.Tool.Most)
	d.path("blank", "M# #H#V#H#Z", least-2, top+3, most+2, bottom-3, least-2)
	d.path("fill", "M# #H#V#H#Z", least, top+6, math.Max(most, least+1), bottom-6, least)
	d.Height = "82"
	d.text("", (left+right)/2, bottom+33, "black: the wrench, set to "+b.Tool.Set.String())
}

// rings draws a ring for each state, side by side.
func (d *drawing) rings(r *RingPicture) {
	d.Height = "150"
	wide := 340 / float64(len(r.States))
	for i, state := range r.States {
		d.ring(r, state, wide*(float64(i)+0.5), 72)
	}
}

const ringRadius, maxLabels = 34.0, 24

func (d *drawing) ring(r *RingPicture, state RingState, x, y float64) {
	d.circle("line", x, y, ringRadius)
	tip := y - ringRadius - 1
	d.path("fill", "M# #L# #L# #Z", x, tip, x-5, tip-10, x+5, tip-10)
	d.text("", x, tip-13, "index")
	d.text("bold", x, y+ringRadius+26, map[string]string{"contact": "at contact", "end": "turned", "least": "at least", "most": "at most"}[state.Code])
	if state.Code != "contact" {
		d.text("bold", x, y+ringRadius+39, state.Turned.String())
		d.travel(r.Sense, state.Turned, x, y)
	}
	for i, mark := range state.Marks {
		angle := radians(mark.At)
		sin, cos := math.Sin(angle), -math.Cos(angle)
		inner := ringRadius - 5
		class := "line"
		if i == 0 { // what stood at the index at contact
			class, inner = "thick", ringRadius-8
		}
		d.path(class, "M# #L# #", x+sin*ringRadius, y+cos*ringRadius, x+sin*inner, y+cos*inner)
		if mark.Label != "" && (len(state.Marks) <= maxLabels || i == 0 || mark.At == turn.Turn{}) {
			label := ringRadius - 15
			weight := map[bool]string{true: "bold", false: ""}[i == 0 || mark.At == turn.Turn{}]
			d.text(weight, x+sin*label, y+cos*label+4, short(mark.Label))
		}
	}
}

// travel is an arrow from the index to where the mark of contact has gone, one round further out
// for each full turn, and no more than three rounds: the words say how many.
func (d *drawing) travel(sense turn.Rotation, turned turn.Turn, x, y float64) {
	whole := radians(turned)
	for whole > 3*2*math.Pi {
		whole -= 2 * math.Pi
	}
	way := 1.0
	if sense == turn.Counterclockwise {
		way = -1
	}
	const step = math.Pi / 36
	at := func(angle float64) (px, py float64) {
		r := ringRadius + 5 + 3*angle/(2*math.Pi)
		return x + way*math.Sin(angle)*r, y - math.Cos(angle)*r
	}
	var b strings.Builder
	command := "M"
	for angle := 0.2; angle < whole-0.08; angle += step {
		px, py := at(angle)
		b.WriteString(command + coordinate(px) + " " + coordinate(py))
		command = "L"
	}
	if b.Len() > 0 {
		d.path("thick", b.String())
	}
	px, py := at(whole) // the head: a wedge with its point at the end of the travel
	back := whole - 0.22
	for _, side := range []float64{-4, 4} {
		r := ringRadius + 5 + 3*back/(2*math.Pi) + side
		qx, qy := x+way*math.Sin(back)*r, y-math.Cos(back)*r
		d.path("thick", "M# #L# #", px, py, qx, qy)
	}
}

func radians(t turn.Turn) float64 {
	turns, _ := t.Rat().Float64()
	return turns * 2 * math.Pi
}

// short cuts a label to what fits inside a ring.
func short(label string) string {
	const most = 6
	if utf8.RuneCountInString(label) <= most {
		return label
	}
	return string([]rune(label)[:most-1]) + "…"
}
