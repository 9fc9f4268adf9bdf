package torque

import "example.com/snugturn/units"

// Seating is the instruction of a part that is tightened "to the band or until seated", such as a
// filter bowl with a stop. What the rules below rest on is common practice, with no published
// source; where the maker's instructions say otherwise, they govern.
type Seating struct {
	Band Band
	// CountTurns says that the instruction also gives the turns it takes to reach the stop.
	CountTurns bool
}

// Seen is what somebody saw or didn't look at.
type Seen uint8

// The observations. The zero Seen is not observed, which is neither yes nor no.
const (
	NotObserved Seen = iota
	Yes
	No
)

// Tightening is how a part went on.
type Tightening struct {
	Reading   units.Torque // the highest torque reached
	Dragged   Seen         // it dragged while it was run up, before the end
	Stopped   Seen         // it came to a stop
	GapClosed Seen         // the gap is closed all round
	TurnsMade Seen         // the expected turns were made
	PastStop  Seen         // it was turned past its stop
}

// Outcome is how a part stands after tightening. The zero Outcome is none.
type Outcome uint8

// The outcomes.
const (
	noOutcome Outcome = iota
	InBand
	Seated
	NotTight       // below the band and not stopped: go on
	NotShownSeated // stopped, but nothing shows that it is the true stop
	AboveBand
	PastStop
	Dragging // cross-threaded, or the seal rolled
)

var outcomes = map[Outcome]struct {
	verdict Acceptance
	advice  string
}{
	InBand:         {Accepted, ""},
	Seated:         {Accepted, ""},
	NotTight:       {Inconclusive, "tighten on, to the band or until seated"},
	NotShownSeated: {Inconclusive, "look whether the gap is closed all round and count the turns: torque rises at a true stop, at a cross-thread and at a rolled seal alike"},
	AboveBand:      {Rejected, "take it off, look at thread and seal, and ask the maker's instructions whether the part may be used again"},
	PastStop:       {Rejected, "reject the part"},
	Dragging:       {Rejected, "stop: it is cross-threaded or its seal is rolled; the drag is not added to the band"},
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
func (s Seating) Judge(t Tightening) (Outcome, error) {
	if err := s.Band.usable(); err != nil {
		return noOutcome, err
	}
	if !t.Reading.Valid() {
		return noOutcome, noUnit(t.Reading)
	}
	shown := t.GapClosed == Yes && (!s.CountTurns || t.TurnsMade == Yes)
	switch {
	case t.Dragged == Yes:
		return Dragging, nil
	case t.PastStop == Yes:
		return PastStop, nil
	case s.Band.high.Less(t.Reading):
		return AboveBand, nil
	case t.GapClosed == No && (t.Stopped == Yes || s.Band.Contains(t.Reading)):
		return NotShownSeated, nil
	case s.Band.Contains(t.Reading):
		return InBand, nil
	case t.Stopped == Yes && shown:
		return Seated, nil
	case t.Stopped == Yes:
		return NotShownSeated, nil
	}
	return NotTight, nil
}
