package service

import (
	"strings"

	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Rules are what the parties agree on before anything is judged. None has a default. Their JSON is what
// [ReadRules] reads.
type Rules struct {
	Name   string      `json:"name"`   // by which the shop knows them: "shop rules, 2026"
	Torque torque.Rule `json:"torque"` // what is done with the uncertainty of a torque
	// Eye is how far a turn read off the marks, or counted, may be out either way; above zero and
	// below half a turn.
	Eye turn.Turn `json:"eye"`
	// Count is how far a count of turns from the first thread to contact, or to a stop, may be out;
	// above zero.
	Count turn.Turn `json:"count"`
	// Turn is how far from an instruction that states one turn and no range the turn may lie; nil
	// where nobody stated a tolerance, and then no reading can show that such a turn was kept.
	Turn *TurnTolerance `json:"turn,omitempty"`
	// Needs is what the shop wants written down beside the readings; nothing else is asked for.
	Needs Needs `json:"needs,omitzero"`
}

// Needs says what has to be written down before a job is complete. What isn't needed may be recorded all
// the same.
type Needs struct {
	LeakRunning bool `json:"leakRunning,omitempty"` // a look for leaks with the engine running, beside those at priming pressure and hot
	Meter       bool `json:"meter,omitempty"`       // what the machine's meter shows
	Part        bool `json:"part,omitempty"`        // the number of the part that was fitted, at each station
	Batch       bool `json:"batch,omitempty"`       // its batch or serial number
	CheckedBy   bool `json:"checkedBy,omitempty"`   // who checked the work, another than who did it
}

// TurnTolerance is how far a turn may be out. One of Less and More may be nothing.
type TurnTolerance struct {
	Less   turn.Turn `json:"less"`             // how much less will do
	More   turn.Turn `json:"more"`             // and how much more
	Source string    `json:"source,omitempty"` // who says so; in a job it may be left out, and is then the job's
}

// ReadRules reads rules from strict JSON:
//
//	{"name": "shop rules", "torque": "guarded by U", "eye": "15°", "count": "1/4 turn",
//	 "turn": {"less": "1/12 turn", "more": "1/12 turn", "source": "the shop's foreman"},
//	 "needs": {"meter": true, "batch": true, "checkedBy": true}}
//
// "turn" and "needs" may be left out. The error is a [JobErrors].
func ReadRules(data []byte) (Rules, error) {
	var rules Rules
	errs := decode(data, &rules)
	if len(errs) == 0 {
		rules.check("", &errs)
	}
	if len(errs) > 0 {
		return Rules{}, errs
	}
	return rules, nil
}

// Check tells all that is wrong with rules made in Go, a [JobErrors], or nil.
func (r Rules) Check() error {
	var errs JobErrors
	if r.check("", &errs); len(errs) > 0 {
		return errs
	}
	return nil
}

func (r Rules) check(path string, errs *JobErrors) {
	if problem := strict.Unprintable(r.Name); problem != "" || r.Name == "" {
		errs.add(path+"name", "no plain text", "the name the shop knows them by", units.ErrSyntax)
	}
	_, err := r.Torque.MarshalText()
	errs.value(path+"torque", err)
	if r.Eye.Compare(turn.Turn{}) <= 0 || r.Eye.Compare(turn.MustOf(1, 2)) >= 0 {
		errs.add(path+"eye", r.Eye.String(), "above zero and below half a turn: an eye that is never out isn't known", units.ErrRange)
	}
	if r.Count.Compare(turn.Turn{}) <= 0 {
		errs.add(path+"count", r.Count.String(), "above zero: a count that is never out isn't known", units.ErrRange)
	}
	if t := r.Turn; t != nil && (t.Source == "" || strict.Unprintable(t.Source) != "") {
		errs.add(path+"turn.source", "no plain text", "who states the tolerance", errMissingField)
	}
}

// widen gives an instruction of one turn the tolerance of the rules; a range stays what it is.
func (r Rules) widen(in turn.Instruction) turn.Instruction {
	if r.Turn == nil || in.Least() != in.Most() {
		return in
	}
	if r.Turn.Less.Compare(in.Least()) >= 0 {
		return in // it would leave nothing of the turn, and what wasn't turned would pass
	}
	wide, err := in.Widen(r.Turn.Less, r.Turn.More)
	if err != nil {
		return in // finer than turns go: then no tolerance, and nothing passes by it
	}
	return wide
}

// turnSources are the job, and whoever stated the tolerance where that isn't the job's.
func (r Rules) turnSources(in turn.Instruction) []string {
	if r.widen(in) == in {
		return []string{theJob}
	}
	return []string{theJob, r.Turn.Source}
}

// sources are where the rule for torques is published.
func (r Rules) sources() []string {
	return map[torque.Rule][]string{
		torque.SimpleAcceptance: {"ILAC-G8:09/2019, 4.2.1"},
		torque.GuardedByU:       {"ILAC-G8:09/2019, 4.2.2, w = U"},
		torque.Guarded95:        {"JCGM 106:2012, 8.3.2, 95 %", fromMemory},
		torque.NonBinary:        {"ILAC-G8:09/2019, 4.2.3"},
	}[r.Torque]
}

// clause is one rule as a record spells it out.
type clause struct {
	Code   string `json:"code"`
	Words  string `json:"words"`
	Source string `json:"source"`
}

// says is the contents of the rules in words: those agreed on, and those this package always goes
// by. A record keeps them and their hash, so that a later reader sees by what it was judged.
func (r Rules) says() []clause {
	return append(r.saysOfWays(), []clause{
		{"run-up", "what drags while it is run up by hand fails, and no torque, turn or seat seen after that passes", practice},
		{"leak", "each station is looked at for leaks at priming pressure and hot, and with the engine running where the rules need that; a leak at any stage fails", practice},
		{"paper", "what the rules need is written down, and the part is the one that the job names; who checked the work isn't who did it", "the rules agreed on"},
		{"isolation", "everything that was isolated is back in service before the job is complete", practice},
		{"expected", "volumes, weights, cycles and strokes are compared with what the plan expects and keep no job open", "the plan"},
		{"volume", "one figure off a jug stands for all that the jug's error makes of it; where that error isn't known, which is not zero, it is undecided", practice},
		{"flash", "fuel that was read within 30 °F of its least flash point is undecided, and at it or above fails; it keeps no job open", "margin as in 29 CFR 1910.106(a)(19)"},
		{"weight", "a scale's reading in air is no mass: it is compared with a reading, or corrected by a density first; without one it stands for every mass that a density from 500 to 9000 kg/m³ (from memory) makes of it, and all of these count", "OIML D 28, from memory"},
		{"month", "the month is counted by the waste rules that the job names, as they stand beside these; a waste counts as if it were determined hazardous, and nobody is told that it isn't", "the rules of the month"},
		{"not-recorded", "what wasn't recorded never passes", practice},
	}...)
}

// String is the name and what the rules say, a line each.
func (r Rules) String() string {
	lines := []string{r.Name}
	for _, c := range r.says() {
		lines = append(lines, c.Code+": "+c.Words+" ["+c.Source+"]")
	}
	return strings.Join(lines, "\n")
}
