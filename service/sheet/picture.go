package sheet

import (
	"cmp"
	"slices"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
)

// Picture is a drawing on the sheet, as data: [Sheet.HTML] draws it, a program may draw its own.
// One of Ring and Adapter is there. Words say what it shows to those who can't see it.
type Picture struct {
	Code  string `json:"code"` // "ring" or "adapter"
	Title string `json:"title"`
	Words string `json:"words"`

	Ring *RingPicture `json:"ring,omitempty"`
	// Adapter is on the drive of a wrench that is held by the middle of its grip.
	Adapter *torque.Adapter `json:"adapter,omitempty"`
}

// RingPicture is a canister at the end of its turn, along its axis with the index at the top, or from
// beside with the index above it.
type RingPicture struct {
	View  turn.View     `json:"view"`  // from where it is seen
	Sense turn.Rotation `json:"sense"` // the way to tighten, from there
	Least turn.Turn     `json:"least"` // how far at least, where to stop, and how far at most
	Aim   turn.Turn     `json:"aim"`
	Most  turn.Turn     `json:"most"`
	Marks []RingMark    `json:"marks"` // the first is what was at the index at contact: a mark, or a place between two, without a label
}

// RingMark is a mark and where it is in the end, clockwise from the index in the picture or, from
// beside, to the right. The label is empty where it isn't known before the work.
type RingMark struct {
	Label string    `json:"label,omitempty"`
	At    turn.Turn `json:"at"`
}

// labelled reports whether it is known which mark ends where.
func (r *RingPicture) labelled() bool {
	return slices.ContainsFunc(r.Marks, func(m RingMark) bool { return m.Label != "" })
}

// atIndex is the mark at the index, or the one that passed it last and the next that would; empty where no label is known.
func (r *RingPicture) atIndex() (passed, next string) {
	marks := slices.DeleteFunc(slices.Clone(r.Marks), func(m RingMark) bool { return m.Label == "" })
	if len(marks) == 0 {
		return "", ""
	}
	slices.SortFunc(marks, func(a, b RingMark) int { return a.At.Compare(b.At) })
	right, left := marks[0], marks[len(marks)-1]
	switch {
	case right.At == turn.Turn{}:
		return right.Label, ""
	case r.Sense == turn.Clockwise || r.Sense == turn.LeftToRight:
		return right.Label, left.Label
	}
	return left.Label, right.Label
}

// picture draws what a step asks for from the station's plan; nil where there is nothing to draw.
func (p printer) picture(code string, s service.StationPlan) *Picture {
	if code == "picture.ring" {
		return p.ringPicture(s)
	}
	return p.adapterPicture(s)
}

// adapterPicture draws how a wrench is held whose setting goes through an adapter; nil for one without length.
func (p printer) adapterPicture(s service.StationPlan) *Picture {
	adapter := s.Station.Tighten.Adapter // planned: it has a lever where a wrench is set through it
	lever := *adapter.Lever
	if lever.Offset.Sign() == 0 {
		return nil
	}
	return &Picture{Code: "adapter", Title: p.code("picture.adapter/title", "station", s.Station.ID), Adapter: &lever,
		Words: p.code("picture.adapter", "adapter", adapter.Name, "offset", lever.Offset, "angle", lever.Angle)}
}

// ringPicture draws the turn as it looks when it is right. Nil where the marks stand at places finer than
// a turn can say.
func (p printer) ringPicture(sp service.StationPlan) *Picture {
	hand, m := sp.Station.Tighten.Thread, sp.Station.Tighten.Marks
	drawn := service.Marks{Labels: []string{"line", "opposite"}, Order: turn.Clockwise, View: turn.FacingClosedEnd} // by whoever fits it
	if m != nil {
		drawn = *m
	}
	marks, _ := turn.NewRing(drawn.Labels, drawn.Order) // planned
	from := turn.Position{Mark: cmp.Or(sp.Turn.DrawnAt, drawn.AtContact, drawn.Labels[0])}
	ring, err := turning(marks, from, sp.Turn.Window, hand, drawn.View)
	if err != nil {
		return nil
	}
	if m == nil {
		ring.Marks = ring.Marks[:1]
	}
	if m == nil || len(sp.Turn.Marks) != 1 {
		for k := range ring.Marks {
			ring.Marks[k].Label = ""
		}
	}
	return &Picture{Code: "ring", Title: p.code("picture.ring/title", "station", sp.Station.ID, "view", ring.View), Words: p.ring(ring), Ring: ring}
}

// turning is a turn from a position, as it is seen when it is done.
func turning(marks turn.Ring, from turn.Position, in turn.Instruction, hand turn.Hand, view turn.View) (*RingPicture, error) {
	aim, err := in.Aim()
	if err != nil {
		return nil, err
	}
	ring := &RingPicture{View: view, Sense: turn.Sense(hand, turn.Tightening, view), Least: in.Least(), Aim: aim, Most: in.Most()}
	mirrored, along := false, view // from beside a ring is drawn as it stands facing the closed end
	if ring.Sense == turn.LeftToRight || ring.Sense == turn.RightToLeft {
		mirrored, along = turn.Sense(turn.RightHand, turn.Tightening, view) == turn.RightToLeft, turn.FacingClosedEnd
	}
	around, err := marks.Around(from, aim, hand, along)
	if err != nil {
		return nil, err
	}
	at, _ := marks.At(from.Mark) // which was found, as it is printed: "a" finds the mark A
	start := slices.IndexFunc(around, func(m turn.Mark) bool { return m.Label == at.Mark })
	around = slices.Concat(around[start:], around[:start])
	if from.Past != (turn.Turn{}) { // between two marks: the place has no label
		around = slices.Insert(around, 0, turn.Mark{At: behind(around[0].At, from.Past, turn.Sense(hand, turn.Tightening, along))})
	}
	for _, m := range around {
		if mirrored && m.At != (turn.Turn{}) {
			m.At, _ = turn.MustOf(1, 1).Sub(m.At) // no finer than it was
		}
		ring.Marks = append(ring.Marks, RingMark{Label: plain.Clean(m.Label), At: m.At})
	}
	return ring, nil
}

// ring says in words what the ring shows.
func (p printer) ring(ring *RingPicture) string {
	words := p.code("picture.ring", "sense", ring.Sense, "aim", ring.Aim)
	from := ring.Marks[0].Label
	switch passed, next := ring.atIndex(); {
	case from == "":
	case next == "":
		words += " " + p.code("picture.ring/marks", "from", from, "to", passed)
	default:
		words += " " + p.code("picture.ring/between", "from", from, "to", passed, "next", next)
	}
	if ring.Least != ring.Most {
		words += " " + p.code("picture.ring/window", "least", ring.Least, "most", ring.Most)
	}
	return words
}

// behind is the place that far behind another on the way to turn, clockwise from the index.
func behind(at, past turn.Turn, sense turn.Rotation) turn.Turn {
	whole := turn.MustOf(1, 1)
	if sense == turn.Clockwise {
		if at.Compare(past) < 0 {
			at, _ = at.Add(whole)
		}
		at, _ = at.Sub(past)
		return at
	}
	if at, _ = at.Add(past); at.Compare(whole) >= 0 {
		at, _ = at.Sub(whole)
	}
	return at
}

// marksTable is for each place at contact which one is at the index at the end, in few words: "4", "4 and 3" for
// midway between them, "4 again" when it comes round.
func (p printer) marksTable(sp service.StationPlan) *Table {
	tighten := sp.Station.Tighten
	ring, _ := turn.NewRing(tighten.Marks.Labels, tighten.Marks.Order) // planned
	table := &Table{Heads: []string{p.code("table/touched"), p.code("table/stop"), p.code("table/never")}}
	for _, m := range sp.Turn.Marks {
		var row []string
		for _, at := range []turn.Position{m.From, m.Aim, m.Most} {
			place, _ := ring.Place(at, tighten.Thread) // planned
			row = append(row, p.place(place, "cell"))
		}
		table.Columns = append(table.Columns, row)
	}
	return table
}
