package service

import "slices"

// Isolations is what is taken out of service and when each thing comes back. It is made by [NewPlan];
// the sheet goes by it, and a review keeps the job open until everything in Back is back.
type Isolations struct {
	Out      []Isolated // in the order in which it is taken out
	Priming  []Isolated // what comes back early because priming needs it, last out first
	Starting []Isolated // what is then put into its state for starting, last out first; what came back for priming isn't among it
	Back     []Isolated // everything, last out first: restored, or checked if it came back for priming
}

// Isolated is an entry of a ledger. Its letter is the same wherever it stands: "A" for what is
// taken out first, "AA" after "Z".
type Isolated struct {
	Letter string
	Isolation
}

// ledger puts the job's isolations into the order of the work.
func ledger(steps []Isolation) (l Isolations) {
	for i, step := range steps {
		l.Out = append(l.Out, Isolated{letters(i), step})
	}
	for _, step := range slices.Backward(l.Out) {
		switch {
		case step.ForPriming:
			l.Priming = append(l.Priming, step)
		case step.ForStart != "":
			l.Starting = append(l.Starting, step)
		}
		l.Back = append(l.Back, step)
	}
	return l
}

func letters(i int) string {
	if i < 26 {
		return string('A' + rune(i))
	}
	return letters(i/26-1) + letters(i%26)
}
