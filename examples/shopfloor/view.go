package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/units"
)

// Reason is an error in one sentence.
func (v *view) Reason(err error) string { return v.reason(err) }

// Last is what was put down last and counts.
func (j *floorJob) Last() *entry {
	var last *entry
	for _, e := range j.Current {
		if last == nil || e.Seq > last.Seq {
			last = &e
		}
	}
	return last
}

// Title is a question in words.
func (j *floorJob) Title(a ask) string {
	name := ""
	if s := j.station(a); s != nil {
		name = "Station " + s.Station.ID + ": "
	}
	end := a.Key[strings.LastIndex(a.Key, ".")+1:]
	switch {
	case a.Name != "":
		return a.Name + ": back in service?"
	case a.Waste != nil && a.Waste.What != "":
		return "Weight of " + a.Waste.What
	case a.Waste != nil && a.Waste.Station != "":
		return "Station " + a.Waste.Station + ": weight of " + a.Waste.Stream.String()
	case a.Waste != nil:
		return "Weight of " + a.Waste.Stream.String()
	}
	return name + cmp.Or(titles[end], end)
}

var titles = map[string]string{
	"dragged": "did it drag while it was run up by hand?", "seated": "does it sit with no gap?", "torque": "torque", "before": "which mark at contact?",
	"after": "where did it stop?", "turned": "how far was it turned?", "contactTurns": "turns to contact", "stopTurns": "turns to the stop",
	"angle": "angle after the snug torque", "out": "fuel that came out", "water": "water under the fuel", "priming": "leaks at priming pressure?",
	"running": "leaks with the engine running?", "hot": "leaks when hot?", "keyCycles": "Key cycles of the lift pump", "strokes": "Strokes of the hand primer",
	"cranks": "Cranking", "fitted": "part fitted", "meter": "Hours on the meter",
}

// SignOf is the sign of a question's answer.
func (v *view) SignOf(a ask) string { return signs[v.J.levelOf(a)].Sign }

// Reasons are why the lines are judged so, each sentence once, and of the worst alone. What isn't good says of which
// attempt to start it is.
func (v *view) Reasons() (reasons []string) {
	bad := worst(v.Lines)
	for _, l := range v.Lines {
		if level(l) < bad {
			continue
		}
		said := ""
		for _, why := range l.Reasons {
			said += v.words.Say(why) + " "
		}
		if m := crankPath.FindStringSubmatch(l.Where); m != nil && level(l) > good {
			n, _ := strconv.Atoi(m[1])
			if m[2] == "rest" && level(l) == missing {
				said = "The rest before it isn't written down."
			}
			said = fmt.Sprintf("Attempt %d: %s", n+1, said)
		}
		if said = strings.TrimSpace(said); said != "" && !slices.Contains(reasons, said) {
			reasons = append(reasons, said)
		}
	}
	return reasons
}

// About is what is asked about, for the form that writes down the answer.
func (v *view) About() string { return v.J.about(v.Ask) }

// LineSign is the sign of a line.
func (v *view) LineSign(l service.Line) string { return signOf([]service.Line{l}).Sign }

// HasFigure says whether the screen is about a figure to tighten to.
func (v *view) HasFigure() bool { return v.Ask.Form == "torque" && v.Figure() != "" }

// Figure is what the sheet says to tighten to: what to set, also where the card's own figure is a gap to close.
func (v *view) Figure() string {
	if set := v.Says("torque.set"); set != "" {
		return set
	}
	if number := v.StepsPage(); number > 0 {
		return figureOf(v.J.Pages[number-1])
	}
	return ""
}

// ShowsWant says whether what is wanted is said with the question as the review has it.
func (v *view) ShowsWant() bool {
	return v.Ask.Form == "torque" && !v.HasFigure() || v.Ask.Form == "angle" || v.Ask.Form == "turn"
}

// Expected is what the plan expects where a volume or a weight is asked for; "" where it expects nothing.
func (v *view) Expected() string {
	switch want := v.Ask.Want.Want.Values; v.Ask.Form {
	case "volume":
		if e, ok := want.Get("volume").(drain.Estimate[units.VolumeUnit]); ok {
			e = e.RoundIn(units.Litre, 2) // as it is asked for
			return fmt.Sprintf("%v (%v to %v)", e.Best, e.Low, e.High)
		}
	case "weight":
		if e, ok := want.Get("mass").(drain.Estimate[units.MassUnit]); ok {
			return v.words.Say(service.Message{Code: "shopfloor.expected", Values: service.Values{{Name: "mass", Value: e, Computed: true}}})
		}
	}
	return ""
}

// Jug is how far the shop's jug may be out, in the unit of the field; "" where nobody said.
func (v *view) Jug() string {
	if jug := v.J.Job.Shop.JugDeviation; jug.Sign() > 0 {
		return jug.In(units.Litre).String()
	}
	return ""
}

// AsksWater says whether the question is how much water there was, so that there may have been none.
func (v *view) AsksWater() bool { return v.Ask.water() }

// RingCaution is what is to be kept in mind where a turn is drawn: the drawing is shown without the words under it.
func (v *view) RingCaution() string {
	return v.words.Say(service.Message{Code: "picture.ring", Variant: "caution"})
}

// Limits is what the sheet says of a count or of cranking.
func (v *view) Limits() (said []string) {
	codes := map[string][]string{"keyCycles": {"prime.cycles", "prime.cycles-most"}, "strokes": {"prime.strokes", "prime.strokes-most"}, "cranks": {"prime.crank"}}
	for _, code := range codes[v.Ask.Key] {
		if words := v.Says(code); words != "" {
			said = append(said, words)
		}
	}
	return said
}

// Seconds is a time as the fields ask for it.
func (v *view) Seconds(d drain.Duration) string {
	return strconv.FormatFloat(time.Duration(d).Seconds(), 'f', -1, 64)
}

// mostCranks is how many attempts a form has at most.
const mostCranks = 10

// MostCranks is how many attempts may be made.
func (v *view) MostCranks() int {
	if n, ok := v.Ask.Want.Want.Values.Get("most").(int); ok && n > 0 && n <= mostCranks {
		return n
	}
	return 3
}

// TickKey names a step of the page that is shown. The code is in it, so that no tick moves to another step.
func (v *view) TickKey(section, item int, code string) string {
	return tickKey(v.PageNo, section, item, code)
}

func tickKey(page, section, item int, code string) string {
	return fmt.Sprintf("tick:%d/%d/%d/%s", page, section, item, code)
}

// Stand is how far a page of steps is: ticked of all, by whom and when the last.
func (v *view) Stand(number int) string {
	done, all := 0, 0
	var last entry
	for _, s := range v.J.steps() {
		if s.Page != number {
			continue
		}
		all++
		if e, ok := v.J.Current[s.Key]; ok {
			if done++; e.Seq > last.Seq {
				last = e
			}
		}
	}
	switch {
	case all == 0:
		return ""
	case done == 0:
		return fmt.Sprintf("0 of %d", all)
	}
	return fmt.Sprintf("%d of %d, %s %s", done, all, last.By, last.At.Format("15:04"))
}

// FigureOf is what decides on a page.
func (v *view) FigureOf(p sheet.Page) string { return figureOf(p) }

// AsksHere are the questions that the page is about.
func (v *view) AsksHere() (here []ask) {
	for _, a := range v.J.Asks {
		if v.J.pageOf(a) == v.PageNo {
			here = append(here, a)
		}
	}
	return here
}

// figureOf is what decides on a station's card: the figure to tighten to or how far to turn.
func figureOf(p sheet.Page) string {
	for _, s := range p.Sections {
		for _, it := range s.Items {
			if it.Kind == "figure" && it.Code != "turn.sense" {
				return it.Words
			}
		}
	}
	return ""
}

// Says is what the sheet says of a code on the page that the question is about.
func (v *view) Says(code string) string {
	number := v.StepsPage()
	if number == 0 {
		return ""
	}
	for _, section := range v.J.Pages[number-1].Sections {
		for _, it := range section.Items {
			if it.Code == code {
				return it.Words
			}
		}
	}
	return ""
}

// StepsPage is the number of the page of steps that the question is about, or 0.
func (v *view) StepsPage() int { return v.J.pageOf(v.Ask) }

// pageOf is the number of the page that a question belongs to, or 0: the card of its station, priming and what follows, or the office.
func (j *floorJob) pageOf(a ask) int {
	s := j.station(a)
	leak := strings.Contains(a.Key, ".leaks.")
	return 1 + slices.IndexFunc(j.Pages, func(p sheet.Page) bool {
		switch {
		case a.Waste != nil:
			return p.Code == "office"
		case leak || s == nil:
			return p.Code == "prime"
		}
		return p.Station == s.Station.ID
	})
}
