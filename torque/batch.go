package torque

import "example.com/snugturn/units"

// Tally is what a rule makes of a batch of measurements.
type Tally struct {
	Rule                                                             Rule
	Accepted, ConditionallyAccepted, ConditionallyRejected, Rejected int
	Inconclusive                                                     int
	// Lowest and Highest are the positions of the smallest and the largest value, the first of
	// equals: the ones nearest to a limit or farthest beyond it. Both are -1 for no measurements.
	Lowest, Highest int
	// AboveLow is how far the smallest value lies above the low limit, BelowHigh how far the
	// largest lies below the high one: the worst margins, in the limits' units, to 34 digits.
	// Below zero is outside. Both are zero for no measurements.
	AboveLow, BelowHigh units.Torque
	// Changed is, for every other rule that was asked about, how many decisions would be another.
	// Conditionally accepted and accepted are two.
	Changed map[Rule]int
}

// Tally decides every measurement of a batch by a rule, and counts how many decisions would be
// different under others.
//
// Errors: those of [Band.Decide], for the first measurement that can't be decided by one of the
// rules; nothing is counted then.
func (b Band) Tally(batch []Measurement, rule Rule, others ...Rule) (Tally, error) {
	t := Tally{Rule: rule, Lowest: -1, Highest: -1, Changed: make(map[Rule]int, len(others))}
	for _, other := range others {
		t.Changed[other] = 0
	}
	for i, m := range batch {
		d, err := b.Decide(m, rule)
		if err != nil {
			return Tally{}, err
		}
		t.count(d.Acceptance)
		if t.Lowest < 0 || m.Value.Less(batch[t.Lowest].Value) {
			t.Lowest = i
		}
		if t.Highest < 0 || batch[t.Highest].Value.Less(m.Value) {
			t.Highest = i
		}
		for other := range t.Changed {
			o, err := b.Decide(m, other)
			if err != nil {
				return Tally{}, err
			}
			if o.Acceptance != d.Acceptance {
				t.Changed[other]++
			}
		}
	}
	if len(batch) > 0 {
		above, _ := b.low.Sub(batch[t.Lowest].Value)
		t.AboveLow = above.Neg()
		t.BelowHigh, _ = b.high.Sub(batch[t.Highest].Value)
	}
	return t, nil
}

func (t *Tally) count(v Acceptance) {
	switch v {
	case Accepted:
		t.Accepted++
	case ConditionallyAccepted:
		t.ConditionallyAccepted++
	case ConditionallyRejected:
		t.ConditionallyRejected++
	case Rejected:
		t.Rejected++
	default:
		t.Inconclusive++
	}
}
