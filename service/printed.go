package service

import (
	"errors"

	"example.com/snugturn/torque"
)

// byPrint is a way to tighten: to a torque whose band is printed in two units or more. It is that
// band, the first, that it is planned and judged by.
type byPrint struct{ byTorque }

// unplanned is a printed band whose units disagree: nothing is planned from any of them.
type unplanned struct{ byTorque }

// byPrint is a printed band, or one that nothing is planned from.
func (t Tighten) byPrint() way {
	print, err := torque.ParsePrintedLimit(t.Printed)
	if err != nil { // or none
		return byPrint{byTorque(t)}
	}
	band, err := print.Band()
	if errors.Is(err, torque.ErrDisagree) {
		return unplanned{byTorque(t)}
	}
	t.Torque = band
	return byPrint{byTorque(t)}
}

func (byPrint) name() string   { return "printed" }
func (t byPrint) stated() bool { return t.Printed != "" }

func (t byPrint) check(path string, errs *JobErrors) {
	print, err := torque.ParsePrintedLimit(t.Printed)
	if err == nil {
		_, err = print.Band()
	}
	if !errs.faulty(path + ".printed") {
		errs.value(path+".printed", err)
	}
}

func (t byPrint) find(p *Plan, i int) {
	print, _ := torque.ParsePrintedLimit(t.Printed) // checked
	if found := print.Compare(); found.Agreement == torque.SharesThirdUnit {
		f := p.tell(Note, "torque.third-unit", i, ".printed", "16 CFR 1211.3", // a rule for garage door operators
			"printed", t.Printed, "third", found.ThirdValues)
		f.Sources = append(f.Sources, byAnalogy)
	}
}

func (byPrint) says(Rules) []Clause { return nil } // as of any torque

func (unplanned) name() string                                 { return "printed" }
func (unplanned) stated() bool                                 { return true }
func (unplanned) plan(*Plan, *StationPlan, string, *JobErrors) {}
func (unplanned) choose(chooser)                               {}
func (unplanned) says(Rules) []Clause                          { return nil }

func (t unplanned) find(p *Plan, i int) {
	print, _ := torque.ParsePrintedLimit(t.Printed) // checked
	found := print.Compare()
	p.tell(Stop, "torque.units-disagree", i, ".printed", "",
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
