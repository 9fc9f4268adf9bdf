package turn

import (
	"math/big"
	"slices"
	"strconv"
)

// Window is where an instruction ends on a ring: both ends are in it.
type Window struct {
	From  Position // at the datum
	Least Position // tightened far enough from here on
	Most  Position // and no further than this
}

// Window gives what has to stand at the index when the instruction is done, from what stood there
// at its datum.
//
// Errors: as [Ring.Tighten]; ErrNoDatum for the zero Instruction.
func (r Ring) Window(from Position, in Instruction, hand Hand) (Window, error) {
	if _, err := in.MarshalText(); err != nil {
		return Window{}, err
	}
	least, err := r.Tighten(from, in.least, hand)
	if err != nil {
		return Window{}, err
	}
	most, err := r.Tighten(from, in.most, hand)
	if err != nil {
		return Window{}, err
	}
	return Window{From: from, Least: least, Most: most}, nil
}

// String is "A stands at the index, no further than D, after the start came round once".
func (w Window) String() string {
	text := w.Least.at() + w.Least.rounds()
	if w.Least == w.Most {
		return text
	}
	return text + "; no further than " + w.Most.String()
}

// at is "A stands at the index" or "the index is 1/8 turn past D".
func (p Position) at() string {
	if p.Past == (Turn{}) {
		return p.Mark + " stands at the index"
	}
	return "the index is " + p.Past.String() + " past " + p.Mark
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

// Passage is a mark as it reaches the index.
type Passage struct {
	Mark  string
	After Turn // turned since the start
}

// Passing lists the marks that reach the index while tightening by t, in the order in which they
// do: not the one that stands there at the start, but the one that stands there at the end.
//
// Errors: as [Ring.Tighten].
func (r Ring) Passing(from Position, t Turn, hand Hand) ([]Passage, error) {
	at, step, err := r.place(from, hand)
	if err != nil {
		return nil, err
	}
	if _, err := r.Tighten(Position{Mark: from.Mark, Past: from.Past}, t, hand); err != nil {
		return nil, err
	}
	once := make([]Passage, len(r.marks)) // the marks of one round, the start last
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
		once[i] = Passage{Mark: m.label, After: d}
	}
	slices.SortFunc(once, func(a, b Passage) int { return a.After.Compare(b.After) })
	var all []Passage
	for round := int64(0); ; round++ {
		for _, p := range once {
			p.After, _ = p.After.plus(+1, Turn{num: round}) // a whole number makes nothing finer
			if p.After.Compare(t) > 0 {
				return all, nil
			}
			all = append(all, p)
		}
	}
}

// next is the mark that follows a place in the tightening direction, and the gap from one mark to
// the other.
func (r Ring) next(p Position, hand Hand) (passed, next string, gap, past Turn, err error) {
	at, step, err := r.place(p, hand)
	if err != nil {
		return "", "", Turn{}, Turn{}, err
	}
	passed, past, ok := r.locate(at, step)
	if !ok {
		return "", "", Turn{}, Turn{}, tooFine(p)
	}
	round, err := r.Passing(Position{Mark: passed}, Turn{num: 1}, hand)
	if err != nil {
		return "", "", Turn{}, Turn{}, err
	}
	return passed, round[0].Mark, round[0].After, past, nil
}

// Describe says a position in words: "A at the index", "half way from D to C", "1/3 of the way
// from D to C". From and to are in the tightening direction.
//
// Errors: as [Ring.Tighten].
func (r Ring) Describe(p Position, hand Hand) (string, error) {
	passed, next, gap, past, err := r.next(p, hand)
	if err != nil {
		return "", err
	}
	share := past.Rat()
	share.Quo(share, gap.Rat())
	switch {
	case share.Sign() == 0:
		return passed + " at the index" + p.rounds(), nil
	case share.Cmp(big.NewRat(1, 2)) == 0:
		return "half way from " + passed + " to " + next + p.rounds(), nil
	}
	return share.String() + " of the way from " + passed + " to " + next + p.rounds(), nil
}

// Between is the position half way between two neighbours, the first of which passed the index
// last while tightening.
//
// Errors: *ValueError: ErrUnknownMark, also where the second is not the next to come; otherwise as
// [Ring.Tighten].
func (r Ring) Between(passed, next string, hand Hand) (Position, error) {
	p, err := r.At(passed)
	if err != nil {
		return Position{}, err
	}
	q, err := r.At(next)
	if err != nil {
		return Position{}, err
	}
	_, comes, gap, _, err := r.next(p, hand)
	if err != nil {
		return Position{}, err
	}
	if comes != q.Mark {
		return Position{}, refuse("position", passed+", "+next, "while tightening, "+comes+" follows "+p.Mark, "two neighbours in the order in which they pass", ErrUnknownMark)
	}
	half, ok := lowest(gap.num, 2*gap.den())
	if p.Past = half; !ok {
		return Position{}, tooFine(p)
	}
	return p, nil
}
