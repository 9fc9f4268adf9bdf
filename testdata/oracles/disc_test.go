package oracles

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/snugturn/turn"
)

var (
	hands  = []turn.Hand{turn.RightHand, turn.LeftHand}
	orders = []turn.Rotation{turn.Clockwise, turn.Counterclockwise}
)

func part(t turn.Turn) string { return t.Rat().String() }

// disc is a ring with how it is told.
type disc struct {
	ring   turn.Ring
	hand   turn.Hand
	labels []string
	places []turn.Turn // in the order of the labels
	told   map[string]any
}

// newDisc is a ring of marks at equal distances or any, on the canister or on the head.
func newDisc(rng *rand.Rand) disc {
	d := disc{hand: one(rng, hands)}
	n := 2 + rng.IntN(15)
	order, uneven, onHead := one(rng, orders), rng.IntN(3) == 0, rng.IntN(4) == 0
	places := append([]int{0}, rng.Perm(47)[:n-1]...)
	for i := range places[1:] {
		places[i+1]++
	}
	slices.Sort(places)
	var marks []turn.Mark
	var told []string
	for i := range n {
		d.labels = append(d.labels, "m"+strconv.Itoa(i))
		at := turn.MustOf(int64(i), int64(n))
		if uneven {
			at = turn.MustOf(int64(places[i]), 48)
		}
		d.places, marks = append(d.places, at), append(marks, turn.Mark{Label: d.labels[i], At: at})
		told = append(told, part(at))
	}
	var err error
	if d.ring, err = turn.NewRing(d.labels, order); uneven {
		d.ring, err = turn.NewRingAt(marks, order)
	}
	must(err)
	if onHead {
		d.ring = d.ring.OnHead()
	}
	d.told = map[string]any{"labels": d.labels, "places": told, "order": order.String(), "hand": d.hand.String(), "onHead": onHead}
	return d
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

// position is a place on the disc, and how it is told: at a mark, a share of the way to the next label or, on a ring of
// two marks, past one.
func (d disc) position(rng *rand.Rand) (turn.Position, map[string]any) {
	i, share, past := rng.IntN(len(d.labels)), "0", "0"
	p, err := d.ring.At(d.labels[i])
	must(err)
	switch {
	case rng.IntN(2) == 0:
	case len(d.labels) == 2:
		p.Past, past = turn.MustOf(1, 96), "1/96"
	default:
		share = fmt.Sprintf("1/%d", 2+rng.IntN(5))
		of, err := turn.ParsePart(share)
		must(err)
		p, err = d.ring.Between(d.labels[i], d.labels[(i+1)%len(d.labels)], of, d.hand)
		must(err)
	}
	return p, map[string]any{"at": i, "share": share, "past": past}
}

func amount(rng *rand.Rand) turn.Turn { return turn.MustOf(rng.Int64N(40), 1+rng.Int64N(24)) }

// instruction is one in twenty-fourths of a turn.
func instruction(rng *rand.Rand) turn.Instruction {
	least := 1 + rng.Int64N(60)
	in, err := turn.NewInstruction(turn.MustOf(least, 24), turn.MustOf(least+rng.Int64N(12), 24), turn.GasketContact)
	must(err)
	return in
}

// moves are two turns of which either may loosen.
func (d disc) moves(rng *rand.Rand) {
	p, from := d.position(rng)
	var told []map[string]any
	for _, t := range []turn.Turn{amount(rng), turn.MustOf(rng.Int64N(40), 12)} {
		loosen := rng.IntN(2) == 0
		move := d.ring.Tighten
		if loosen {
			move = d.ring.Loosen
		}
		var err error
		p, err = move(p, t, d.hand)
		must(err)
		told = append(told, map[string]any{"turn": part(t), "loosen": loosen})
	}
	place, err := d.ring.Place(p, d.hand)
	must(err)
	share, past := "", ""
	if place.Next != "" {
		share = place.Share.String()
	} else if place.Past != (turn.Turn{}) {
		past = part(place.Past)
	}
	d.told["from"], d.told["moves"] = from, told
	d.told["place"] = []string{place.Mark, place.Next, share, past, strconv.Itoa(place.Passes)}
}

// turned is how far it is from one place to another, and what a reading of it says of an instruction.
func (d disc) turned(rng *rand.Rand) {
	p, from := d.position(rng)
	q, to := d.position(rng)
	t, err := d.ring.Turned(p, q, d.hand)
	must(err)
	in := instruction(rng)
	reading := turn.Reading{From: p, To: q, Eye: turn.MustOf(rng.Int64N(3), 24), Passes: rng.IntN(4), Counted: rng.IntN(2) == 0}
	said, err := d.ring.Judge(in, reading, d.hand)
	must(err)
	reach := []string{said.Reach.String()}
	for _, r := range said.ByPasses {
		reach = append(reach, r.String())
	}
	d.told["from"], d.told["to"], d.told["turned"] = from, to, part(t)
	d.told["least"], d.told["most"], d.told["eye"] = part(in.Least()), part(in.Most()), part(reading.Eye)
	d.told["passes"], d.told["counted"], d.told["reach"] = reading.Passes, reading.Counted, reach
}

func marked(marks []turn.Mark) []string {
	told := []string{}
	for _, m := range marks {
		told = append(told, m.Label+" "+part(m.At))
	}
	return told
}

// around is where the marks are seen after a turn, passing which of them came by.
func (d disc) around(rng *rand.Rand) {
	p, from := d.position(rng)
	t, view := amount(rng), one(rng, []turn.View{turn.FacingClosedEnd, turn.FromHeadSide})
	if rng.IntN(2) == 0 {
		view = view.Mirrored()
	}
	marks, err := d.ring.Around(p, t, d.hand, view)
	must(err)
	d.told["from"], d.told["turn"], d.told["view"], d.told["seen"] = from, part(t), view.String(), marked(marks)
}

func (d disc) passing(rng *rand.Rand) {
	p, from := d.position(rng)
	t := amount(rng)
	if rng.IntN(4) == 0 { // until one is just there
		q, _ := d.position(rng)
		var err error
		t, err = d.ring.Turned(p, q, d.hand)
		must(err)
	}
	marks, err := d.ring.Passing(p, t, d.hand)
	must(err)
	d.told["from"], d.told["turn"], d.told["passing"] = from, part(t), marked(marks)
}

// window is where an instruction begins to be kept, where to stop and where it ends.
func (d disc) window(rng *rand.Rand) {
	p, from := d.position(rng)
	in := instruction(rng)
	w, err := d.ring.Window(p, in, d.hand)
	must(err)
	told := func(p turn.Position) []string { return []string{p.Mark, part(p.Past), strconv.Itoa(p.Passes)} }
	d.told["from"], d.told["least"], d.told["most"] = from, part(in.Least()), part(in.Most())
	d.told["leastAt"], d.told["aimAt"], d.told["mostAt"] = told(w.Least), told(w.Aim), told(w.Most)
}

func sense(rng *rand.Rand) map[string]any {
	hand, action := one(rng, hands), one(rng, []turn.Action{turn.Tightening, turn.Loosening})
	view := one(rng, []turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.BesideClosedEndDown, turn.BesideClosedEndUp})
	if rng.IntN(2) == 0 {
		view = view.Mirrored()
	}
	return map[string]any{"thread": hand.String(), "action": action.String(), "view": view.String(), "sense": turn.Sense(hand, action, view).String()}
}

// sequence is a torque and turns as a text: now and then too many, turns of nothing, or a hundred turns and just more.
func sequence(rng *rand.Rand) map[string]any {
	text := fmt.Sprintf("%s %s", decimalText(rng, 4), one(rng, []string{"N·m", "Nm", "ft-lb", "in-lb"}))
	n := one(rng, []int{0, 1, 2, 3, 4, 12, 13})
	long := rng.IntN(6) == 0
	for i := range n {
		text += one(rng, []string{" + ", " then ", ", ", ", then "})
		switch {
		case long:
			n := 100 / n
			if i == 0 {
				n += one(rng, []int{0, 100 % n, 100%n + 1})
			}
			text += fmt.Sprintf("%d turns", n)
		case rng.IntN(2) == 0:
			text += fmt.Sprintf("%d%s", 5*(rng.IntN(40)), one(rng, []string{"°", " deg", " degrees"}))
		default:
			text += fmt.Sprintf("%d/%d turn", 1+rng.IntN(11), 12)
		}
	}
	s, err := turn.ParseSequence(text)
	told := map[string]any{"text": text, "refused": err != nil}
	if err != nil {
		return told
	}
	sums, widened := []string{}, []string{}
	for _, t := range s.Cumulative() {
		sums = append(sums, part(t))
	}
	less, more := turn.MustOf(rng.Int64N(12), 72), turn.MustOf(rng.Int64N(12), 72)
	if each, whole, err := s.Widen(less, more); err == nil {
		for _, in := range append(each, whole) {
			widened = append(widened, part(in.Least())+" "+part(in.Most()))
		}
	}
	told["torque"], told["sums"], told["widened"] = s.Torque().String(), sums, widened
	told["less"], told["more"] = part(less), part(more)
	return told
}

func decimalText(rng *rand.Rand, digits int) string {
	return strings.TrimPrefix(number(rng, digits, false).String(), "-")
}

// Rings: what is at the index after turns either way, what passed it, how far it is, what eyes see of it and how far an
// instruction goes, by a disc that is turned; and sequences of turns.
func TestRings(t *testing.T) {
	about := []func(disc, *rand.Rand){disc.moves, disc.moves, disc.turned, disc.around, disc.passing, disc.window}
	ask(t, "disc.py", func(rng *rand.Rand) map[string]any {
		switch rng.IntN(10) {
		case 0:
			return sense(rng)
		case 1, 2:
			return sequence(rng)
		}
		d := newDisc(rng)
		one(rng, about)(d, rng)
		return d.told
	}, "place", "turned", "reach", "seen", "passing", "leastAt", "aimAt", "mostAt", "sense", "refused", "torque", "sums", "widened")
}
