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
	Passes   int      // how often what was at the index came round to it again
	Counted  bool     // whether somebody counted; if not, Passes says nothing
}

// Judgment is what a reading says of an instruction.
type Judgment struct {
	Reach       Reach
	Least, Most Turn // what may have been turned; with ByPasses, if the start didn't come round again
	// ByPasses says how far the turn came if the start came round not at all, once, twice and so on; the last is Over,
	// as is every one after it. It is nil where nothing depends on that, or somebody counted.
	ByPasses []Reach
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
	if err := says(s.Eye); err != nil {
		return Judgment{}, err
	}
	switch {
	case !s.Counted:
		return judgeUncounted(in, s, seen)
	case s.Passes < 0 || s.Passes > maxTurns:
		return Judgment{}, refuse("reading", strconv.Itoa(s.Passes), "passes out of range", "0 to 100, as counted", units.ErrRange)
	}
	return judge(in, s, seen, int64(s.Passes))
}

// Judge compares a turn that was counted, and not read off a ring, with an instruction, as [Ring.Judge] does. It may be
// out by so much either way, less than half a turn.
//
// Errors: as [Ring.Judge], and as [Turn.Add] for what may be more than 100 turns, or finer than a millionth of one.
func (in Instruction) Judge(turned, out Turn) (Judgment, error) {
	if _, err := in.MarshalText(); err != nil {
		return Judgment{}, err
	}
	if err := says(out); err != nil {
		return Judgment{}, err
	}
	if _, err := turned.Add(out); err != nil {
		return Judgment{}, err
	}
	return judge(in, Reading{Eye: out}, turned, 0)
}

// says refuses what is too coarse to say anything.
func says(eye Turn) error {
	if 2*eye.num < eye.den() {
		return nil
	}
	return refuse("reading", eye.String(), "a reading that may be half a turn out says nothing", "less than half a turn, such as 15°", units.ErrRange)
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
		f.Reach = Short
	case least.Compare(in.most) > 0:
		f.Reach = Over
	case least.Compare(in.least) >= 0 && most.Compare(in.most) <= 0:
		f.Reach = InWindow
	default: // a limit is within what the eye can't tell apart, or there is no range
		f.Reach = Unclear
	}
	return f, nil
}

// judgeUncounted asks for the passes only where they matter: where the reading is over even
// without any, they don't.
func judgeUncounted(in Instruction, s Reading, seen Turn) (Judgment, error) {
	first, err := judge(in, s, seen, 0)
	if err != nil || first.Reach == Over {
		return first, err
	}
	all := []Reach{first.Reach}
	for passes := int64(1); all[passes-1] != Over; passes++ {
		f, err := judge(in, s, seen, passes)
		if err != nil {
			return Judgment{}, err
		}
		all = append(all, f.Reach)
	}
	first.Reach, first.ByPasses = Unclear, all
	return first, nil
}
