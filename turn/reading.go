package turn

import (
	"strconv"

	"example.com/snugturn/units"
)

// Verdict is what a reading says of a turn. The zero value is none.
type Verdict uint8

// The verdicts.
const (
	Pass      Verdict = iota + 1 // all that may have been turned is in the window
	Short                        // all of it is short of the window
	Over                         // all of it is past the window
	Undecided                    // some of it is in the window and some isn't
)

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
		f.Verdict, f.Reason = Short, short
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
