package service

import (
	"fmt"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Rules are what the parties agree on before anything is judged. None has a default. Their JSON is what
// [ReadRules] reads.
type Rules struct {
	Version int         `json:"version"` // [RulesVersion]
	Name    string      `json:"name"`    // by which the shop knows them: "shop rules, 2026"
	Torque  torque.Rule `json:"torque"`  // what is done with the uncertainty of a torque
	// Eye is how far a turn read off the marks, or counted, may be out either way; above zero and
	// below half a turn.
	Eye turn.Turn `json:"eye"`
	// Count is how far a count of turns from the first thread to contact, or to a stop, may be out;
	// above zero.
	Count turn.Turn `json:"count"`
	// Turn is how far from an instruction that states one turn and no range the turn may lie; nil
	// where nobody stated a tolerance, and then no reading can show that such a turn was kept.
	Turn *TurnTolerance `json:"turn,omitempty"`
	// Needs is what the shop wants written down besides the readings; nothing else is asked for.
	Needs Needs `json:"needs,omitzero"`
}

// Needs says what has to be written down before a job is complete. What isn't needed may be recorded all
// the same.
type Needs struct {
	LeakRunning bool `json:"leakRunning,omitempty"` // a look for leaks with the engine running, besides those at priming pressure and hot
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
//	{"version": 1, "name": "shop rules", "torque": "guarded by U", "eye": "15°", "count": "1/4 turn",
//	 "turn": {"less": "1/12 turn", "more": "1/12 turn", "source": "the shop's foreman"},
//	 "needs": {"meter": true, "batch": true, "checkedBy": true}}
//
// "turn" and "needs" may be left out. The error is a [JobErrors].
func ReadRules(data []byte) (Rules, error) {
	return read(data, RulesVersion, func(r Rules, errs *JobErrors) { r.check("", errs) })
}

// Check tells all that is wrong with rules made in Go, a [JobErrors], or nil.
func (r Rules) Check() error {
	var errs JobErrors
	r.check("", &errs)
	return errs.any()
}

func (r Rules) check(path string, errs *JobErrors) {
	errs.when(r.Version != RulesVersion, path+"version", fmt.Sprintf("version %d", r.Version), fmt.Sprintf("version %d", RulesVersion), units.ErrRange)
	errs.when(!prints(r.Name), path+"name", "no plain text", "the name the shop knows them by", units.ErrSyntax)
	checkWritten(path+"torque", r.Torque, errs)
	errs.when(r.Eye.Compare(turn.Turn{}) <= 0 || r.Eye.Compare(turn.MustOf(1, 2)) >= 0, path+"eye", r.Eye.String(),
		"above zero and below half a turn: an eye that is never out isn't known", units.ErrRange)
	errs.when(r.Count.Compare(turn.Turn{}) <= 0, path+"count", r.Count.String(), "above zero: a count that is never out isn't known", units.ErrRange)
	errs.when(r.Turn != nil && !prints(r.Turn.Source), path+"turn.source", "no plain text", "who states the tolerance", errMissingField)
}

// prints reports whether a text may stand where people read it.
func prints(text string) bool { return !plain.Blank(text) && strict.Unprintable(text) == "" }

// widen gives an instruction of one turn the tolerance of the rules; a range stays what it is.
func (r Rules) widen(in turn.Instruction) turn.Instruction {
	if r.Turn == nil || in.Least() != in.Most() || r.Turn.Less.Compare(in.Least()) >= 0 {
		return in // where it would leave nothing of the turn, what wasn't turned would pass
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

// Clause is one rule that the work is judged by: a code, with a variant and values where it has any, and who says so.
type Clause struct {
	Message
	Sources []string `json:"sources"`
}

func says(rule Message, sources ...string) Clause { return Clause{rule, sources} }

// says are the rules that are agreed on, and those that this package always goes by. A record keeps
// them, so that a later reader sees by what it was judged.
func (r Rules) says() []Clause {
	return append(r.saysOfWays(), says(message("run-up"), practice), says(message("leak"), practice), says(message("paper"), agreed),
		says(message("isolation"), practice), says(message("expected"), thePlan), says(message("volume"), practice),
		says(message("flash", "margin", hotMargin), marginSource),
		says(message("weight", "least", lightest, "most", heaviest), "OIML D 28", fromMemory),
		says(message("month"), theMonth), says(message("not-recorded"), practice))
}
