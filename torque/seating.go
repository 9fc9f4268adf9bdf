package torque

import "example.com/snugturn/units"

// Seating is the instruction of a part that is tightened "to the band or until seated", such as a
// filter bowl with a stop. What the rules below rest on is common practice, with no published
// source; where the manufacturer's instructions say otherwise, they govern.
type Seating struct {
	Band Band
	// CountTurns says that the instruction also gives the turns it takes to reach the stop.
	CountTurns bool
}

// Observation is how a part went on: the reading, and what somebody saw. What nobody looked at is false,
// and shows nothing.
type Observation struct {
	Reading   units.Torque // the highest torque reached
	Dragged   bool         // it dragged while it was run up, before the end
	Stopped   bool         // it came to a stop
	GapClosed bool         // the gap was seen closed all round
	GapOpen   bool         // the gap was seen open somewhere, whatever GapClosed says
	TurnsMade bool         // the expected turns were made
	PastStop  bool         // it was turned past its stop
}

// Outcome is how a part stands after tightening. The zero Outcome is none.
type Outcome uint8

// The outcomes.
const (
	noOutcome Outcome = iota
	InBand
	AtStop
	NotTight     // below the band and not stopped: go on
	StopNotShown // stopped, but nothing shows that it is the true stop
	AboveBand
	PastStop
	Dragging // cross-threaded, or the seal rolled
)

var outcomes = map[Outcome]struct {
	verdict Acceptance
	advice  string
}{
	InBand:       {Accepted, ""},
	AtStop:       {Accepted, ""},
	NotTight:     {Inconclusive, "tighten on, to the band or until seated"},
	StopNotShown: {Inconclusive, "look whether the gap is closed all round and count the turns: torque rises at a true stop, at a cross-thread and at a rolled seal alike"},
	AboveBand:    {Rejected, "take it off, look at thread and seal, and ask the manufacturer's instructions whether the part may be used again"},
	PastStop:     {Rejected, "reject the part"},
	Dragging:     {Rejected, "stop: it is cross-threaded or its seal is rolled; the drag is not added to the band"},
}

// Acceptance is what the outcome comes to: Accepted, Rejected or Inconclusive.
func (o Outcome) Acceptance() Acceptance { return outcomes[o].verdict }

// Advice says what to do next; nothing where all is well.
func (o Outcome) Advice() string { return outcomes[o].advice }

// Judge says how a part stands. A drag while it was run up counts before everything else, then a
// turn past the stop, then a reading above the band. A reading in the band is enough unless
// somebody saw the gap open. Below the band only a stop that is shown to be the true one will
// do: the gap closed all round and, where turns are counted, made.
//
// Errors: *units.ParseError: units.ErrRange for the zero Band, units.ErrUnknownUnit for a reading without a
// unit.
func (s Seating) Judge(t Observation) (Outcome, error) {
	if err := s.Band.usable(); err != nil {
		return noOutcome, err
	}
	if !t.Reading.Valid() {
		return noOutcome, noUnit(t.Reading)
	}
	shown := t.GapClosed && !t.GapOpen && (t.TurnsMade || !s.CountTurns)
	switch {
	case t.Dragged:
		return Dragging, nil
	case t.PastStop:
		return PastStop, nil
	case s.Band.high.Less(t.Reading):
		return AboveBand, nil
	case t.GapOpen && (t.Stopped || s.Band.Contains(t.Reading)):
		return StopNotShown, nil
	case s.Band.Contains(t.Reading):
		return InBand, nil
	case t.Stopped && shown:
		return AtStop, nil
	case t.Stopped:
		return StopNotShown, nil
	}
	return NotTight, nil
}
