package turn

import (
	"strings"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

const (
	maxStages    = 12
	wantSequence = `a torque and turns, such as "40 N·m then 45° + 45° + 30°"`
)

// Sequence is a torque to begin with, then turns: torque-and-angle tightening. It can't be
// changed. The zero value has no stage, and refuses to be encoded.
type Sequence struct {
	snug   units.Torque
	stages []Turn
}

// NewSequence makes a sequence of its first torque and its turns, in order.
//
// Errors: *units.ParseError (units.ErrRange) for a torque of zero or less, no turn or more than 12, a
// turn of nothing, more than 100 turns in all, or turns so fine that [ParseSequence] couldn't read
// the text back.
func NewSequence(snug units.Torque, stages ...Turn) (Sequence, error) {
	bad := func(value, problem string) (Sequence, error) {
		return Sequence{}, refuse("sequence", value, problem, wantSequence, units.ErrRange)
	}
	if !snug.Valid() || snug.Sign() <= 0 {
		return bad(snug.String(), "no torque to begin with")
	}
	if len(stages) == 0 || len(stages) > maxStages {
		return bad(snug.String(), "no turn after the torque, or more than 12")
	}
	var total Turn
	var err error
	for _, t := range stages {
		if t == (Turn{}) {
			return bad(t.String(), "a stage that turns nothing")
		}
		if total, err = total.Add(t); err != nil {
			return Sequence{}, err
		}
	}
	s := Sequence{snug: snug, stages: append([]Turn(nil), stages...)}
	if text := s.String(); len(text) > maxText {
		return bad(text, "longer than 256 bytes in words")
	}
	return s, nil
}

// ParseSequence reads "40 N·m then 45° + 45° + 45° + 30°": a torque, "then" or "+", and turns with
// "+", "then", "," or ", then" between them.
//
// Errors: those of units.ParseTorque, [Parse] and [NewSequence].
func ParseSequence(text string) (Sequence, error) {
	if len(text) > maxText {
		return Sequence{}, misread.Error("sequence", text, maxText, "longer than 256 bytes", "a shorter text", units.ErrRange)
	}
	parts := splitStages(text)
	snug, err := units.ParseTorque(parts[0])
	if err != nil {
		return Sequence{}, err
	}
	var stages []Turn
	for _, part := range parts[1:] {
		t, err := Parse(part)
		if err != nil {
			return Sequence{}, err
		}
		stages = append(stages, t)
	}
	return NewSequence(snug, stages...)
}

// splitStages cuts a text at every "+", comma and "then"; a comma in front of "then" is part of it.
func splitStages(text string) []string {
	words := strings.Fields(text)
	for i, word := range words {
		if strings.EqualFold(word, "then") {
			words[i] = "+"
			if i > 0 {
				words[i-1] = strings.TrimSuffix(words[i-1], ",")
			}
		}
	}
	return strings.Split(strings.ReplaceAll(strings.Join(words, " "), ",", "+"), "+")
}

// Torque is the torque to begin with.
func (s Sequence) Torque() units.Torque { return s.snug }

// Stages are the turns in order.
func (s Sequence) Stages() []Turn { return append([]Turn(nil), s.stages...) }

// Cumulative is how far has been turned after each stage; the last is where a paint mark that was
// made at the first torque ends.
func (s Sequence) Cumulative() []Turn {
	sums := make([]Turn, len(s.stages))
	var total Turn
	for i, t := range s.stages {
		total, _ = total.plus(+1, t) // NewSequence saw that it fits
		sums[i] = total
	}
	return sums
}

// Widen gives each turn of a sequence a tolerance: what each may be, from where the one before it ended, and all of them
// together, which may be out by as much as all their tolerances.
//
// Errors: as [Instruction.Widen].
func (s Sequence) Widen(less, more Turn) (each []Instruction, whole Instruction, err error) {
	var least, most Turn
	for _, stage := range s.stages {
		in, err := Instruction{stage, stage, Snug}.Widen(less, more)
		if err != nil {
			return nil, Instruction{}, err
		}
		if least, err = least.Add(in.least); err != nil {
			return nil, Instruction{}, err
		}
		if most, err = most.Add(in.most); err != nil {
			return nil, Instruction{}, err
		}
		each = append(each, in)
	}
	whole, err = NewInstruction(least, most, Snug)
	return each, whole, err
}

// String is "40 N·m then 1/8 turn + 1/8 turn + 1/12 turn"; [ParseSequence] reads it back.
func (s Sequence) String() string { return string(s.append(nil)) }

func (s Sequence) append(dst []byte) []byte {
	dst = append(dst, s.snug.String()...)
	joiner := " then "
	for _, t := range s.stages {
		dst = t.append(append(dst, joiner...))
		joiner = " + "
	}
	return dst
}

// AppendText appends what String writes.
//
// Errors: *units.ParseError (units.ErrRange) for the zero Sequence.
func (s Sequence) AppendText(dst []byte) ([]byte, error) {
	if len(s.stages) == 0 { // all others were made by NewSequence
		return dst, refuse("sequence", s.String(), "no turn after the torque", wantSequence, units.ErrRange)
	}
	return s.append(dst), nil
}

// MarshalText is AppendText into a new slice.
func (s Sequence) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParseSequence] reads; on an error s stays as it was.
func (s *Sequence) UnmarshalText(text []byte) error {
	parsed, err := ParseSequence(clip(text))
	if err == nil {
		*s = parsed
	}
	return err
}
