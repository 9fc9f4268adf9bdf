package turn

import (
	"math/big"
	"slices"
	"strconv"

	"example.com/snugturn/units"
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

// Verdict is what a reading says of a turn. The zero value is none.
type Verdict uint8

// The verdicts.
const (
	Pass      Verdict = iota + 1 // all that may have been turned is in the window
	Short                        // all of it is short of the window: turn on
	Over                         // all of it is past the window
	Undecided                    // some of it is in the window and some isn't
)

var verdictNames = names{typ: "Verdict", what: "verdict", words: []string{1: "pass", 2: "short", 3: "over", 4: "undecided"}}

// String is "pass", "short", "over" or "undecided"; "Verdict(0)" for a value that is none of the
// constants.
func (v Verdict) String() string { return verdictNames.name(uint8(v)) }

// MarshalText is what String writes. Errors: *ValueError (ErrUnknownName) for no constant.
func (v Verdict) MarshalText() ([]byte, error) { return verdictNames.append(nil, uint8(v)) }

// UnmarshalText reads what String writes; on an error, a *units.ParseError (ErrUnknownName), v
// stays as it was.
func (v *Verdict) UnmarshalText(text []byte) error { return read(&verdictNames, v, text) }

// Sighting is what somebody read off a ring before and after.
type Sighting struct {
	From, To Position // their own passes don't count here
	Within   Turn     // the turn read off may be out by this much either way, less than half a turn: 15° say
	Passes   int      // how often what stood at the index came round to it again
	Counted  bool     // whether somebody counted; if not, Passes says nothing
}

// Finding is what a sighting says of an instruction.
type Finding struct {
	Verdict     Verdict
	Least, Most Turn   // what may have been turned; with AskPasses, if the start didn't come round again
	AskPasses   bool   // the answer hangs on how often the start came round, and nobody counted
	Reason      string // in words
}

// Judge compares what was turned, an interval as wide as the eye is good, with an instruction.
// The comparison is exact; both limits pass. An instruction without a range leaves nothing to
// pass within: [Instruction.Within] states a tolerance.
//
// Errors: as [Ring.Turned]; units.ErrRange for a reading that may be half a turn out or more, for
// passes below 0 or above 100, and for more than 100 turns; ErrNoDatum for the zero Instruction.
func (r Ring) Judge(in Instruction, s Sighting, hand Hand) (Finding, error) {
	if _, err := in.MarshalText(); err != nil {
		return Finding{}, err
	}
	seen, err := r.Turned(s.From, s.To, hand)
	if err != nil {
		return Finding{}, err
	}
	switch {
	case 2*s.Within.num >= s.Within.den():
		return Finding{}, refuse("sighting", s.Within.String(), "a reading that may be half a turn out says nothing", "less than half a turn, such as 15°", units.ErrRange)
	case !s.Counted:
		return judgeUncounted(in, s, seen)
	case s.Passes < 0 || s.Passes > maxTurns:
		return Finding{}, refuse("sighting", strconv.Itoa(s.Passes), "passes out of range", "0 to 100, as counted", units.ErrRange)
	}
	return judge(in, s, seen, int64(s.Passes))
}

func judge(in Instruction, s Sighting, seen Turn, passes int64) (Finding, error) {
	seen, _ = seen.plus(+1, Turn{num: passes}) // a whole number makes nothing finer
	least, fine := seen.plus(-1, s.Within)
	most, finer := seen.plus(+1, s.Within)
	if !fine || !finer || most.num > maxTurns*most.den() {
		return Finding{}, tooFar(s.To)
	}
	if least.num < 0 {
		least = Turn{}
	}
	f := Finding{Least: least, Most: most}
	switch {
	case most.Compare(in.least) < 0:
		f.Verdict, f.Reason = Short, "short: turn on"
	case least.Compare(in.most) > 0:
		f.Verdict, f.Reason = Over, in.over()
	case least.Compare(in.least) >= 0 && most.Compare(in.most) <= 0:
		f.Verdict, f.Reason = Pass, "pass: all that may have been turned is in the window"
	case in.least == in.most:
		f.Verdict, f.Reason = Undecided, "undecided: the instruction states one turn and no range, so no reading can show that it was kept"
	default:
		f.Verdict, f.Reason = Undecided, "undecided: a limit lies within what the eye can't tell apart"
	}
	return f, nil
}

func (in Instruction) over() string {
	if in.datum == GasketContact {
		return "over: don't back off to the mark; replace the gasket and count from contact again, as its maker instructs"
	}
	return "over: don't back off to the mark; follow the maker's instructions"
}

// judgeUncounted asks for the passes only where they matter: where the reading is over even
// without any, they don't.
func judgeUncounted(in Instruction, s Sighting, seen Turn) (Finding, error) {
	first, err := judge(in, s, seen, 0)
	if err != nil || first.Verdict == Over {
		return first, err
	}
	text := first.Verdict.String() + " if " + s.From.Mark + " did not come round again"
	for passes := int64(1); ; passes++ {
		f, err := judge(in, s, seen, passes)
		if err != nil {
			return Finding{}, err
		}
		if f.Verdict == Over {
			text += ", over if " + times(int(passes)) + " or more"
			break
		}
		text += ", " + f.Verdict.String() + " if " + times(int(passes))
	}
	first.Verdict, first.AskPasses = Undecided, true
	first.Reason = "undecided: how often did the start come round? " + text
	return first, nil
}

// Within widens the instruction by tolerances: less below its least turn (never below zero), more
// above its most.
//
// Errors: *ValueError (units.ErrRange) where a limit would be finer than a millionth of a turn or
// pass 100 turns; ErrNoDatum for the zero Instruction.
func (in Instruction) Within(less, more Turn) (Instruction, error) {
	least, ok := in.least.plus(-1, less)
	if least.num < 0 {
		least = Turn{}
	}
	least, err := least.bounded(ok, in.least.String()+" less "+less.String())
	if err != nil {
		return Instruction{}, err
	}
	most, err := in.most.Add(more)
	if err != nil {
		return Instruction{}, err
	}
	return NewInstruction(least, most, in.datum)
}
