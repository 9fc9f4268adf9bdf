package turn

import (
	"strconv"

	"example.com/snugturn/units"
)

// Reach is how far a turn came, by what was read of it. The zero value is none.
type Reach uint8

// The reaches.
const (
	InWindow Reach = iota + 1 // all that may have been turned is in the window
	Short                     // all of it is short of the window
	Over                      // all of it is past the window
	Unclear                   // some of it is in the window and some isn't
)

// Reading is what somebody read off a ring before and after.
type Reading struct {
	From, To Position // their own passes don't count here
	Eye      Turn     // how far the eye may be out either way, less than half a turn: 15° say
	Passes   int      // how often what stood at the index came round to it again
	Counted  bool     // whether somebody counted; if not, Passes says nothing
}

// Judgment is what a reading says of an instruction.
type Judgment struct {
	Reach       Reach
	Least, Most Turn   // what may have been turned; with AskPasses, if the start didn't come round again
	AskPasses   bool   // the answer hangs on how often the start came round, and nobody counted
	Reason      string // in words
}

// Judge compares what was turned, an interval as wide as the eye is good, with an instruction.
// The comparison is exact; both limits pass. An instruction without a range leaves nothing to
// pass within: [Instruction.Widen] states a tolerance.
//
// Errors: as [Ring.Turned]; units.ErrRange for a reading that may be half a turn out or more, for
// passes below 0 or above 100, and for more than 100 turns; ErrNoDatum for the zero Instruction.
func (r Ring) Judge(in Instruction, s Reading, hand Hand) (Judgment, error) {
	if _, err := in.MarshalText(); err != nil {
		return Judgment{}, err
	}
	seen, err := r.Turned(s.From, s.To, hand)
	if err != nil {
		return Judgment{}, err
	}
	switch {
	case 2*s.Eye.num >= s.Eye.den():
		return Judgment{}, refuse("reading", s.Eye.String(), "a reading that may be half a turn out says nothing", "less than half a turn, such as 15°", units.ErrRange)
	case !s.Counted:
		return judgeUncounted(in, s, seen)
	case s.Passes < 0 || s.Passes > maxTurns:
		return Judgment{}, refuse("reading", strconv.Itoa(s.Passes), "passes out of range", "0 to 100, as counted", units.ErrRange)
	}
	return judge(in, s, seen, int64(s.Passes))
}

func judge(in Instruction, s Reading, seen Turn, passes int64) (Judgment, error) {
	seen, _ = seen.plus(+1, Turn{num: passes}) // a whole number makes nothing finer
	least, fine := seen.plus(-1, s.Eye)
	most, finer := seen.plus(+1, s.Eye)
	if !fine || !finer || most.num > maxTurns*most.den() {
		return Judgment{}, tooFar(s.To)
	}
	if least.num < 0 {
		least = Turn{}
	}
	f := Judgment{Least: least, Most: most}
	switch {
	case most.Compare(in.least) < 0:
		f.Reach, f.Reason = Short, short
	case least.Compare(in.most) > 0:
		f.Reach, f.Reason = Over, in.over()
	case least.Compare(in.least) >= 0 && most.Compare(in.most) <= 0:
		f.Reach, f.Reason = InWindow, "all that may have been turned is in the window"
	case in.least == in.most:
		f.Reach, f.Reason = Unclear, "the instruction states one turn and no range, so no reading can show that it was kept"
	default:
		f.Reach, f.Reason = Unclear, "a limit lies within what the eye can't tell apart"
	}
	return f, nil
}

// short never says to turn on before what has to be so by then.
const short = "short: engine off, cold, pressure off, and by the manufacturer's instructions: turn on"

func (in Instruction) over() string {
	if in.datum == GasketContact {
		return "over: never turn back; take it off, fit a new gasket and start again from contact, as the manufacturer instructs"
	}
	return "over: never turn back; start again as the manufacturer instructs"
}

// judgeUncounted asks for the passes only where they matter: where the reading is over even
// without any, they don't.
func judgeUncounted(in Instruction, s Reading, seen Turn) (Judgment, error) {
	first, err := judge(in, s, seen, 0)
	if err != nil || first.Reach == Over {
		return first, err
	}
	text := first.Reach.String() + " if " + s.From.Mark + " did not come round again"
	for passes := int64(1); ; passes++ {
		f, err := judge(in, s, seen, passes)
		if err != nil {
			return Judgment{}, err
		}
		if f.Reach == Over {
			text += ", over if " + times(int(passes)) + " or more"
			break
		}
		text += ", " + f.Reach.String() + " if " + times(int(passes))
	}
	first.Reach, first.AskPasses = Unclear, true
	first.Reason = "how often did the start come round? " + text
	return first, nil
}
