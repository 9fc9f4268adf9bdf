package service

import (
	"errors"

	"example.com/snugturn/torque"
)

// byPrint is a way to tighten: to a torque whose band is printed in two units or more. It is that
// band, the first, that it is planned and judged by.
type byPrint struct {
	byTorque
	print torque.PrintedLimit
	err   error // why nothing can be planned from it
}

// unplanned is a printed band whose units disagree: nothing is planned from any of them.
type unplanned struct{ byPrint }

// byPrint is a printed band, or one that nothing is planned from.
func (t Tighten) byPrint() way {
	print, err := torque.ParsePrintedLimit(t.Printed)
	if err == nil {
		t.Torque, err = print.Band()
	}
	by := byPrint{byTorque(t), print, err}
	if errors.Is(err, torque.ErrDisagree) {
		return unplanned{by}
	}
	return by
}

func (byPrint) name() string        { return "printed" }
func (t byPrint) stated() bool      { return t.Printed != "" }
func (byPrint) says(Rules) []Clause { return nil } // as of any torque

func (t byPrint) check(path string, errs *JobErrors) {
	if !errs.faulty(path + ".printed") {
		errs.value(path+".printed", t.err)
	}
}

func (t byPrint) find(p *Plan, i int) {
	if found := t.print.Compare(); found.Agreement == torque.SharesThirdUnit {
		p.tell(Note, "torque.third-unit", i, ".printed", by("16 CFR 1211.3", byAnalogy), // a rule for garage door operators
			"printed", t.Printed, "third", found.ThirdValues)
	}
}

func (unplanned) check(string, *JobErrors)                     {}
func (unplanned) plan(*Plan, *StationPlan, string, *JobErrors) {}
func (unplanned) choose(chooser)                               {}

func (t unplanned) find(p *Plan, i int) {
	found := t.print.Compare()
	p.tell(Stop, "torque.units-disagree", i, ".printed", nil,
		"printed", t.Printed, "first", found.First, "converted", found.Converted, "second", found.Second, "gap", found.Gap)
}

// sheet stops where the units of a printed torque disagree.
func (t unplanned) sheet(w *writer, _ StationPlan) {
	w.alarm("torque.unknown", "printed", t.Printed)
	w.blank("record.gap")
}

// judge finds a torque that nothing can be held against.
func (t unplanned) judge(r *reviewer, path string, done StationDone, _ *StationPlan) {
	l := Line{Where: path + ".torque", Code: "torque", Needed: true, Want: message("want.printed", "printed", t.Printed), Sources: []string{theJob}}
	if read := done.Torque; read != nil {
		l.Found = read.message()
		l.is(Undecided, "why.units-disagree")
	}
	r.say(l)
	r.seat(done, path, "")
}
