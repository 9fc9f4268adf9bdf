package torque

import "example.com/snugturn/units"

// Count is how many readings lie where.
type Count struct{ Below, Inside, Above int }

// Count sorts readings, in whatever units, into those below the band, inside and above. It
// compares exactly and allocates nothing. Against the zero Band nothing is inside, and all is
// above it.
func (b Band) Count(readings []units.Torque) Count {
	var c Count
	for i := range readings {
		switch {
		case readings[i].Compare(b.low) < 0:
			c.Below++
		case b.high.Compare(readings[i]) < 0 || !b.Valid():
			c.Above++
		default:
			c.Inside++
		}
	}
	return c
}

// Tally is what a rule makes of a batch of measurements.
type Tally struct {
	Rule                                                     Rule
	Passed, ConditionallyPassed, ConditionallyFailed, Failed int
	Undecided                                                int
	// Lowest and Highest are the positions of the smallest and the largest value, the first of
	// equals: the ones nearest to a limit or farthest beyond it. Both are -1 for no measurements.
	Lowest, Highest int
	// AboveLow is how far the smallest value lies above the low limit, BelowHigh how far the
	// largest lies below the high one: the worst margins, in the limits' units, to 34 digits.
	// Below zero is outside. Both are zero for no measurements.
	AboveLow, BelowHigh units.Torque
	// Changed is, for every other rule that was asked about, how many verdicts would be another.
	// A conditional pass and a pass are different verdicts.
	Changed map[Rule]int
}

// Tally decides every measurement of a batch by a rule, and counts how many verdicts would be
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
		t.count(d.Verdict)
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
			if o.Verdict != d.Verdict {
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

func (t *Tally) count(v Verdict) {
	switch v {
	case Pass:
		t.Passed++
	case ConditionalPass:
		t.ConditionallyPassed++
	case ConditionalFail:
		t.ConditionallyFailed++
	case Fail:
		t.Failed++
	default:
		t.Undecided++
	}
}
