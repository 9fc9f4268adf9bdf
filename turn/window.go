package turn

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// Window is where an instruction ends on a ring: both ends are in it.
type Window struct {
	From  Position // at the datum
	Least Position // tightened far enough from here on
	Aim   Position // where to stop: the middle
	Most  Position // and no further than this
}

// Window gives what has to be at the index when the instruction is done, from what was there
// at its datum.
//
// Errors: as [Instruction.Aim] and [Ring.Tighten].
func (r Ring) Window(from Position, in Instruction, hand Hand) (Window, error) {
	middle, err := in.Aim()
	if err != nil {
		return Window{}, err
	}
	at, step, err := r.place(from, hand)
	if err != nil {
		return Window{}, err
	}
	aim, err1 := r.moved(from, at, step, middle, +1)
	least, err2 := r.moved(from, at, step, in.least, +1)
	most, err3 := r.moved(from, at, step, in.most, +1)
	if err := cmp.Or(err1, err2, err3); err != nil {
		return Window{}, err
	}
	return Window{From: from, Least: least, Aim: aim, Most: most}, nil
}

// rounds is ", after the start came round once", and nothing where it didn't.
func (p Position) rounds() string {
	if p.Passes == 0 {
		return ""
	}
	if p.Passes < 0 {
		return ", after the start came round backwards " + times(-p.Passes)
	}
	return ", after the start came round " + times(p.Passes)
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

// Passing lists the marks that reach the index while tightening by t, each At the turn since the start,
// in the order in which they do: not the one that is there at the start, but the one that is there at the end.
//
// Errors: as [Ring.Tighten].
func (r Ring) Passing(from Position, t Turn, hand Hand) ([]Mark, error) {
	at, step, err := r.place(from, hand)
	if err != nil {
		return nil, err
	}
	if _, err := r.Tighten(Position{Mark: from.Mark, Past: from.Past}, t, hand); err != nil {
		return nil, err
	}
	once := make([]Mark, len(r.marks)) // the marks of one round, the start last
	for i, m := range r.marks {
		d, ok := m.angle.plus(-1, at)
		if step < 0 {
			d, ok = at.plus(-1, m.angle)
		}
		if !ok {
			return nil, tooFine(from)
		}
		if d = d.round(); d == (Turn{}) {
			d = Turn{num: 1}
		}
		once[i] = Mark{Label: m.label, At: d}
	}
	slices.SortFunc(once, func(a, b Mark) int { return a.At.Compare(b.At) })
	var all []Mark
	for round := int64(0); ; round++ {
		for _, p := range once {
			p.At, _ = p.At.plus(+1, Turn{num: round}) // a whole number makes nothing finer
			if p.At.Compare(t) > 0 {
				return all, nil
			}
			all = append(all, p)
		}
	}
}

// next is the mark that a place is past, the one that comes next while tightening, the gap between the
// two and how much of it has gone by.
func (r Ring) next(p Position, hand Hand) (passed, next string, gap, past Turn, err error) {
	at, step, err := r.place(p, hand)
	if err != nil {
		return "", "", Turn{}, Turn{}, err
	}
	i, past, ok := r.locate(at, step)
	if !ok {
		return "", "", Turn{}, Turn{}, tooFine(p)
	}
	next, gap = r.after(i, step)
	return r.marks[i].label, next, gap, past, nil
}

// Place is where a position is on a ring, by its neighbours: at Mark, or Share of the way from Mark to Next. On a
// ring of two marks, where either gap is between them, it is Past beyond Mark instead. The marks are in
// the order in which they pass while tightening.
type Place struct {
	Mark   string `json:"mark"`
	Next   string `json:"next,omitempty"`
	Share  Part   `json:"share,omitzero"` // of the gap; the zero Part is half way
	Past   Turn   `json:"past,omitzero"`
	Passes int    `json:"passes,omitempty"` // as in [Position]
}

// Place is where a position is. [Ring.ParsePosition] reads back what it says.
//
// Errors: as [Ring.Tighten].
func (r Ring) Place(p Position, hand Hand) (Place, error) {
	passed, next, gap, past, err := r.next(p, hand)
	if err != nil {
		return Place{}, err
	}
	place := Place{Mark: passed, Passes: p.Passes}
	switch {
	case past == (Turn{}):
	case len(r.marks) == 2:
		place.Past = past
	default:
		share := past.Rat()
		share.Quo(share, gap.Rat())
		place.Next = next
		place.Share = Part{Turn{num: share.Num().Int64(), fin: share.Denom().Int64() - 1}}.kept()
	}
	return place, nil
}

// Position is where a place is: at a mark, past it, or at a share of the gap between two neighbours, which may be named
// in either order. It is the other way round of [Ring.Place].
//
// Errors: as [Ring.At], [Ring.Between] and [Ring.Tighten].
func (r Ring) Position(at Place, hand Hand) (Position, error) {
	p, err := r.At(at.Mark)
	if p.Past = at.Past; at.Next != "" {
		p, err = r.Between(at.Mark, at.Next, at.Share, hand)
	}
	if err != nil {
		return Position{}, err
	}
	p.Passes = at.Passes
	_, _, err = r.place(p, hand)
	return p, err
}

// String says a place in words: "at A", "midway between D and C", "1/3 of the way from D to C" or "1/8 turn past
// D", with "after the start came round once" behind it where it did.
func (p Place) String() string {
	rounds := Position{Passes: p.Passes}.rounds()
	switch {
	case p.Past != (Turn{}):
		return p.Past.String() + " past " + p.Mark + rounds
	case p.Next == "":
		return "at " + p.Mark + rounds
	case p.Share == (Part{}):
		return "midway between " + p.Mark + " and " + p.Next + rounds
	}
	return p.Share.String() + " of the way from " + p.Mark + " to " + p.Next + rounds
}

// Between is the position between two neighbours, named in either order, at a share of their gap
// that is counted from the first named towards the second; the zero Part is half way.
//
// Errors: *units.ParseError: ErrUnknownMark, also where the two aren't neighbours; units.ErrAmbiguous on a
// ring of two marks, where either gap lies between them; otherwise as [Ring.Tighten].
func (r Ring) Between(first, second string, share Part, hand Hand) (Position, error) {
	p, err := r.At(first)
	if err != nil {
		return Position{}, err
	}
	q, err := r.At(second)
	if err != nil {
		return Position{}, err
	}
	_, afterP, gap, _, err := r.next(p, hand)
	if err != nil {
		return Position{}, err
	}
	_, afterQ, back, _, err := r.next(q, hand)
	if err != nil {
		return Position{}, err
	}
	pair := p.Mark + ", " + q.Mark
	part := share.turn()
	switch forward, backward := afterP == q.Mark, afterQ == p.Mark; {
	case forward && backward:
		return Position{}, refuse("position", pair, "the ring has no other marks, so that either gap lies between them",
			"how far past one of them, such as 1/8 turn past "+p.Mark, units.ErrAmbiguous)
	case backward:
		p, gap = q, back
		part, _ = Turn{num: 1}.plus(-1, part) // no finer than it was
	case !forward:
		return Position{}, refuse("position", pair, "no neighbours: while tightening, "+afterP+" follows "+p.Mark+" and "+afterQ+" follows "+q.Mark,
			"two marks with none between them", ErrUnknownMark)
	}
	past, ok := lowest(gap.num*part.num, gap.den()*part.den())
	if p.Past = past; !ok {
		return Position{}, tooFine(p)
	}
	return p, nil
}

const wantPosition = `a place such as "D", "midway between D and C", "1/3 of the way from D to C" or "1/8 turn past D"`

// ParsePosition reads a place as people say it and as [Ring.Place] writes it: "D", "at D", "between
// D and C" in either order, "1/3 of the way from D to C", "1/8 turn past D". How often the start
// came round isn't part of a place.
//
// Errors: *units.ParseError (units.ErrSyntax, units.ErrRange) and those of [Parse] and [ParsePart];
// *units.ParseError as [Ring.Between], and as [Ring.Tighten] for a turn past a mark that reaches the next.
func (r Ring) ParsePosition(text string, hand Hand) (Position, error) {
	if len(text) > maxText {
		return Position{}, misread.Error("position", text, maxText, "longer than 256 bytes", "a shorter text", units.ErrRange)
	}
	place := strings.TrimSpace(text)
	if p, err := r.At(place); err == nil {
		return p, nil
	}
	if at, ok := cutStart(place, "at "); ok {
		return r.At(strings.TrimSpace(at))
	}
	for _, form := range []struct{ before, joins string }{{"between ", " and "}, {"from ", " to "}} {
		if lead, pair, ok := cutWords(place, form.before); ok {
			return r.parseBetween(text, lead, pair, form.joins, hand)
		}
	}
	if turned, mark, ok := cutWords(place, " past "); ok {
		past, err := Parse(turned)
		if err != nil {
			return Position{}, err
		}
		p, err := r.At(strings.TrimSpace(mark))
		if err != nil {
			return Position{}, err
		}
		p.Past = past
		_, _, err = r.place(p, hand)
		return p, err
	}
	return Position{}, misread.Error("position", text, 0, "no place on the ring of "+r.some(), wantPosition, units.ErrSyntax)
}

// parseBetween reads "1/3 of the way" and "D to C". A label may have the word between them in it.
func (r Ring) parseBetween(text, lead, pair, joins string, hand Hand) (Position, error) {
	share := Part{}
	switch lead = strings.TrimSpace(lead); strings.ToLower(lead) {
	case "", "midway", "half way", "halfway":
	default:
		var err error
		if share, err = ParsePart(lead); err != nil {
			return Position{}, err
		}
	}
	for i := range pair {
		rest, ok := cutStart(pair[i:], joins)
		if !ok {
			continue
		}
		first, second := strings.TrimSpace(pair[:i]), strings.TrimSpace(rest)
		p, err := r.Between(first, second, share, hand)
		if err == nil || !strings.Contains(rest, joins) {
			return p, err
		}
	}
	return Position{}, misread.Error("position", text, 0, "not between two marks", wantPosition, units.ErrSyntax)
}

// cutStart cuts a word in letters of any case off the start of a text.
func cutStart(text, word string) (rest string, ok bool) {
	if len(text) < len(word) || !strings.EqualFold(text[:len(word)], word) {
		return text, false
	}
	return text[len(word):], true
}

// cutWords splits a text at the first place where the word stands, in letters of any case.
func cutWords(text, word string) (before, after string, ok bool) {
	for i := range text {
		if rest, ok := cutStart(text[i:], word); ok {
			return text[:i], rest, true
		}
	}
	return text, "", false
}
