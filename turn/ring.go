package turn

import (
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

const (
	maxMarks = 360 // one a degree
	maxLabel = 32  // bytes
)

// Ring is the marks printed around a canister, read against a fixed index: a point chosen on the
// head. It can't be changed. The zero value has no marks, every question to it is an error, and it
// refuses to be encoded.
type Ring struct {
	marks  []mark         // clockwise facing the closed end
	number map[string]int // of a mark, by its label as fold leaves it
	onHead bool           // the marks stand still on the head, and the index turns with the canister
}

type mark struct {
	label string
	angle Turn // clockwise from the first label, facing the closed end
}

// Position is what is at the index. May be written as a literal: Position{Mark: "D"}.
//
// Positions are compared with ==. The mark and how far past it are those of the tightening
// direction, also after loosening, so one place has one Position. They belong to the hand of
// thread they were made with: a canister has one thread. Written to JSON and read back, a position
// is the same place, and counts its passes from there on.
type Position struct {
	Mark   string // the mark that last reached the index while tightening
	Past   Turn   // how far it has gone beyond; the next mark hasn't come yet
	Passes int    // how often the start came round again; below zero by loosening

	over Turn // turned since the start last came round; below zero by loosening
}

// String is "A", "1/8 turn past D", or "A, after the start came round once".
func (p Position) String() string {
	mark := plain.Clean(p.Mark)
	if p.Past == (Turn{}) {
		return mark + p.rounds()
	}
	return p.Past.String() + " past " + mark + p.rounds()
}

// NewRing makes a ring of evenly spaced labels in their order as read facing the closed end:
// Clockwise or Counterclockwise. Read from the head side they run the other way.
//
// Errors: *units.ParseError: units.ErrSyntax for fewer than two labels or more than 360; for a label that is
// empty, longer than 32 bytes, has blanks at its ends, or characters that don't print; for two
// labels that are equal or differ by their case alone; and for labels that mix Latin, Greek and
// Cyrillic letters, which look alike. units.ErrSyntax for any other order.
func NewRing(labels []string, order Rotation) (Ring, error) {
	n := int64(len(labels))
	if err := checkLabels(labels); err != nil {
		return Ring{}, err
	}
	if err := checkOrder(order); err != nil {
		return Ring{}, err
	}
	r := Ring{marks: make([]mark, n)}
	for i, label := range labels {
		t, _ := lowest(int64(i), n)
		r.marks[i] = mark{label: strings.Clone(label), angle: t}
	}
	return r.clockwise(order), nil
}

// Mark is a label and where it is: of a ring, counted from the first one in the order of the labels; of
// [Ring.Passing], how far the canister is turned when it reaches the index.
type Mark struct {
	Label string `json:"label"`
	At    Turn   `json:"at"`
}

// NewRingAt makes a ring of labels at stated places: the first at 0, the others in rising order
// below one turn, counted the way the labels are read facing the closed end.
//
// Errors: as [NewRing]; and units.ErrSyntax for places that don't rise from 0, are given twice, or reach
// one turn.
func NewRingAt(marks []Mark, order Rotation) (Ring, error) {
	labels := make([]string, min(len(marks), maxMarks+1))
	for i := range labels {
		labels[i] = marks[i].Label
	}
	r, err := NewRing(labels, Clockwise)
	if err != nil {
		return Ring{}, err
	}
	if err := checkOrder(order); err != nil {
		return Ring{}, err
	}
	for i, m := range marks {
		const want = "places that rise from 0 and stay below one turn"
		switch {
		case i == 0 && m.At != Turn{}:
			return Ring{}, refuse("ring", m.Label, "the first label is at "+m.At.String(), want, units.ErrSyntax)
		case i > 0 && m.At.Compare(marks[i-1].At) <= 0:
			return Ring{}, refuse("ring", m.Label, "is at "+m.At.String()+", not after "+strconv.Quote(marks[i-1].Label), want, units.ErrSyntax)
		case m.At.num >= m.At.den():
			return Ring{}, refuse("ring", m.Label, "is at "+m.At.String()+", a full turn or more", want, units.ErrSyntax)
		}
		r.marks[i].angle = m.At
	}
	return r.clockwise(order), nil
}

func checkOrder(order Rotation) error {
	if order == Clockwise || order == Counterclockwise {
		return nil
	}
	return refuse("ring", order.String(), "invalid label order",
		"clockwise or counterclockwise, as the labels are read facing the closed end", units.ErrSyntax)
}

// clockwise turns angles that were counted in the given order into clockwise ones.
func (r Ring) clockwise(order Rotation) Ring {
	if order == Counterclockwise {
		for i, m := range r.marks {
			t, _ := Turn{}.plus(-1, m.angle)
			r.marks[i].angle = t.round()
		}
		slices.Reverse(r.marks[1:]) // the first label stays at 0
	}
	r.number = make(map[string]int, len(r.marks))
	for i, m := range r.marks {
		r.number[fold(m.label)] = i
	}
	return r
}

// OnHead is the ring as it is where the marks are on the head and a single mark on the canister
// is the index: turned the same way, they pass in the other order.
func (r Ring) OnHead() Ring {
	r.onHead = !r.onHead
	return r
}

// Labels are the marks in clockwise order, facing the closed end, from the first one on.
func (r Ring) Labels() []string {
	labels := make([]string, len(r.marks))
	for i, m := range r.marks {
		labels[i] = m.label
	}
	return labels
}

// even reports whether the marks are at equal distances.
func (r Ring) even() bool {
	for i, m := range r.marks {
		if t, _ := lowest(int64(i), int64(len(r.marks))); t != m.angle {
			return false
		}
	}
	return true
}

// String is "1, 2, 3 clockwise", "1 at 0 turns, 2 at 1/4 turn clockwise" where the marks aren't
// at equal distances, and with "on the head" behind it where they are there.
func (r Ring) String() string {
	if len(r.marks) == 0 {
		return "ring without marks"
	}
	parts := r.Labels()
	if !r.even() {
		for i, m := range r.marks {
			parts[i] += " at " + m.angle.String()
		}
	}
	text := strings.Join(parts, ", ") + " " + Clockwise.String()
	if r.onHead {
		text += ", on the head"
	}
	return text
}

func checkLabels(labels []string) error {
	const want = "2 to 360 labels, all different"
	if n := len(labels); n < 2 || n > maxMarks {
		return refuse("ring", strconv.Itoa(n)+" labels", "too few or too many", want, units.ErrSyntax)
	}
	seen := make(map[string]string, len(labels))
	script, first := "", ""
	for _, label := range labels {
		if problem := checkLabel(label); problem != "" {
			return refuse("ring", label, problem, "a short word, letter or number", units.ErrSyntax)
		}
		key := fold(label)
		if other, ok := seen[key]; ok {
			problem := "given twice"
			if other != label {
				problem = "differs from " + strconv.Quote(other) + " by its case alone"
			}
			return refuse("ring", label, problem, want, units.ErrSyntax)
		}
		seen[key] = label
		for _, r := range label {
			s := scriptOf(r)
			if s == "" {
				continue
			}
			if script != "" && s != script {
				return refuse("ring", label, "has the "+s+" letter "+string(r)+", and "+strconv.Quote(first)+" is "+script,
					"letters of one script: some look alike", units.ErrSyntax)
			}
			script, first = s, label
		}
	}
	return nil
}

func checkLabel(label string) string {
	switch {
	case label == "":
		return "empty"
	case len(label) > maxLabel:
		return "longer than 32 bytes"
	case !utf8.ValidString(label):
		return "not UTF-8"
	case strings.TrimSpace(label) != label:
		return "has blanks at its ends"
	}
	if hidden := plain.Hidden(label); hidden != "" {
		return "holds " + hidden + ", which doesn't print"
	}
	for _, r := range label {
		if r != ' ' && unicode.IsSpace(r) {
			return "has a blank other than the space"
		}
		if unicode.Is(unicode.Mn, r) {
			return "has an accent as a character of its own"
		}
	}
	return ""
}

// fold maps all letters that differ by case alone to one: the smallest of their orbit.
func fold(label string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for other := unicode.SimpleFold(r); other != r; other = unicode.SimpleFold(other) {
			least = min(least, other)
		}
		return least
	}, label)
}

// scriptOf names the scripts whose letters are easily taken for each other.
func scriptOf(r rune) string {
	switch {
	case unicode.Is(unicode.Latin, r):
		return "Latin"
	case unicode.Is(unicode.Greek, r):
		return "Greek"
	case unicode.Is(unicode.Cyrillic, r):
		return "Cyrillic"
	}
	return ""
}

// find gives the number of a mark, by its label in any case.
func (r Ring) find(label string) (int, error) {
	if i, ok := r.number[label]; ok {
		return i, nil
	}
	if len(label) <= maxLabel {
		if i, ok := r.number[fold(label)]; ok {
			return i, nil
		}
	}
	if len(r.marks) == 0 {
		return 0, refuse("ring", label, "the ring has no marks", "a ring made by NewRing", ErrUnknownMark)
	}
	return 0, refuse("ring", label, "no such mark", r.some(), ErrUnknownMark)
}

func (r Ring) some() string {
	labels := r.Labels()
	if len(labels) > 8 {
		labels = append(labels[:8], "…")
	}
	return strings.Join(labels, ", ")
}

// At is the position with a mark at the index. Case doesn't matter: no two marks differ by it.
//
// Errors: *units.ParseError (ErrUnknownMark).
func (r Ring) At(mark string) (Position, error) {
	i, err := r.find(mark)
	if err != nil {
		return Position{}, err
	}
	return Position{Mark: r.marks[i].label}, nil
}

// step is the way the ring's clockwise angle at the index goes while tightening: +1 up, -1 down.
// Turned clockwise, a canister brings to a fixed index what was counterclockwise of it.
func (r Ring) step(hand Hand) (int64, error) {
	switch {
	case hand == RightHand && !r.onHead, hand == LeftHand && r.onHead:
		return -1, nil
	case hand == LeftHand, hand == RightHand:
		return +1, nil
	}
	return 0, refuse("ring", hand.String(), "no hand of a thread", hands.List(), units.ErrSyntax)
}

// place is the clockwise angle at the index, and the step of tightening.
func (r Ring) place(p Position, hand Hand) (at Turn, step int64, err error) {
	if step, err = r.step(hand); err != nil {
		return Turn{}, 0, err
	}
	i, err := r.find(p.Mark)
	if err != nil {
		return Turn{}, 0, err
	}
	at, ok := r.marks[i].angle.plus(step, p.Past)
	if !ok {
		return Turn{}, 0, tooFine(p)
	}
	if p.Past != (Turn{}) {
		if next, gap := r.after(i, step); p.Past.Compare(gap) >= 0 {
			return Turn{}, 0, r.reaches(p, next, gap)
		}
	}
	return at.round(), step, nil
}

// after is the mark that comes to the index next after one, and the gap between the two.
func (r Ring) after(i int, step int64) (next string, gap Turn) {
	n := len(r.marks)
	m := r.marks[(i+int(step)+n)%n] // they stand in clockwise order
	gap, _ = m.angle.plus(-1, r.marks[i].angle)
	if step < 0 {
		gap, _ = r.marks[i].angle.plus(-1, m.angle)
	}
	return m.label, gap.round()
}

// reaches refuses a place that is said to be past a mark though the next has come. Who writes "1/2
// past D" may well mean half of the gap.
func (r Ring) reaches(p Position, next string, gap Turn) error {
	want := "less than " + gap.String() + " past " + p.Mark
	if p.Past.num < p.Past.den() && len(r.marks) > 2 {
		share := Part{p.Past}.kept()
		of, say := share.String()+" of", share.String()+" of the way from "+p.Mark+" to "+next
		if share == (Part{}) {
			of, say = "half of", "between "+p.Mark+" and "+next
		}
		want += "; did you mean " + of + " the gap? Write " + strconv.Quote(say)
	}
	return refuse("position", p.String(), "reaches "+next+", the next mark, after "+gap.String(), want, units.ErrRange)
}

func tooFine(p Position) error {
	return refuse("position", p.String(), "finer than a millionth of a turn", wantTurn, units.ErrRange)
}

func tooFar(p Position) error {
	return refuse("position", p.String(), "more than 100 turns from its start", wantTurn, units.ErrRange)
}

// locate is the number of the mark that last came to the index at a place, and how far it is past.
func (r Ring) locate(at Turn, step int64) (i int, past Turn, ok bool) {
	// They stand in clockwise order from 0: the first one behind the place, or else all of them.
	i = sort.Search(len(r.marks), func(i int) bool { return r.marks[i].angle.Compare(at) > 0 })
	if i--; step > 0 {
		past, ok = at.plus(-1, r.marks[i].angle)
		return i, past, ok
	}
	if r.marks[i].angle != at {
		i = (i + 1) % len(r.marks)
	}
	past, ok = r.marks[i].angle.plus(-1, at)
	return i, past.round(), ok
}

// Tighten gives the position after tightening by t. It chains: a then b is the same as a + b,
// with the same passes.
//
// A mark counts as reached when it is at the index, not when it comes in sight.
//
// Errors: *units.ParseError: ErrUnknownMark, units.ErrSyntax for no hand, units.ErrRange where the
// position would be finer than a millionth of a turn, or more than 100 turns from its start, and
// where from is so far past its mark that the next one has passed.
func (r Ring) Tighten(from Position, t Turn, hand Hand) (Position, error) {
	return r.move(from, t, hand, +1)
}

// Loosen gives the position after loosening by t, the way back of Tighten, with its errors.
//
// It is for taking a canister off. One that was tightened too far is not backed off to the mark:
// its gasket is crushed, so replace it and count from contact again.
func (r Ring) Loosen(from Position, t Turn, hand Hand) (Position, error) {
	return r.move(from, t, hand, -1)
}

func (r Ring) move(from Position, t Turn, hand Hand, sign int64) (Position, error) {
	at, step, err := r.place(from, hand)
	if err != nil {
		return Position{}, err
	}
	return r.moved(from, at, step, t, sign)
}

// moved is move from a position whose place is known.
func (r Ring) moved(from Position, at Turn, step int64, t Turn, sign int64) (Position, error) {
	if max(from.Passes, -from.Passes) > maxTurns || from.Passes < -maxTurns { // -MinInt is MinInt
		return Position{}, tooFar(from)
	}
	at, ok := at.plus(step*sign, t)
	mark, past, fine := r.locate(at.round(), step)
	over, finer := from.over.plus(sign, t)
	if !ok || !fine || !finer {
		return Position{}, tooFine(from)
	}
	over, _ = over.plus(+1, Turn{num: int64(from.Passes)}) // a whole number makes nothing finer
	if limit := maxTurns * over.den(); over.num > limit || over.num < -limit {
		return Position{}, tooFar(from)
	}
	passes, rest := over.whole()
	return Position{Mark: r.marks[mark].label, Past: past, Passes: int(passes), over: rest}, nil
}

// Turned is how far tightening goes from one position to the next that looks like the other:
// less than one turn. Whole turns can't be seen on a ring; somebody has to count them.
//
// Errors: *units.ParseError as [Ring.Tighten].
func (r Ring) Turned(from, to Position, hand Hand) (Turn, error) {
	start, step, err := r.place(from, hand)
	if err != nil {
		return Turn{}, err
	}
	end, _, err := r.place(to, hand)
	if err != nil {
		return Turn{}, err
	}
	t, ok := end.plus(-1, start)
	if step < 0 {
		t, ok = start.plus(-1, end)
	}
	if !ok {
		return Turn{}, tooFine(to)
	}
	return t.round(), nil
}
