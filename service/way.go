package service

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// way is a way to tighten, as a job states it. Each is a type in a file that holds all of it, and
// nothing else asks which one it is: what a new way lacks, the compiler asks for.
type way interface {
	// In the job:

	name() string     // of its field in Tighten, as JSON has it
	stated() bool     // the job states it
	beside() []string // which of the fields that not every way takes may be next to it; see besides
	check(path string, errs *JobErrors)

	// In the plan:

	plan(p *Plan, sp *StationPlan, path string, errs *JobErrors)
	how() string                      // in words, "by a turn"
	band(sp *StationPlan) *TorquePlan // that a wrench is held to; nil where there is none
	choose(c chooser)                 // the wrench, where one is set
	find(p *Plan, i int)              // what the technician must know of station i
	run(w *writer, sp *StationPlan)   // up by hand, to where tightening begins
	sheet(w *writer, sp StationPlan)  // from there on, with room for what is to be written down

	// In the review:

	takes() []string // which of the readings that not every way takes belong to it, as JSON names them
	match(r *reviewer, path string, done StationDone, plan *StationPlan)
	judge(r *reviewer, path string, done StationDone, plan *StationPlan)
	says(rules Rules) []Clause // by what it is judged
}

// ways are all ways to tighten, whether they are stated or not, in the order of their fields.
func (t Tighten) ways() []way {
	return []way{byTorque(t), t.byPrint(), byTurn(t), bySequence(t), toSeat(t)}
}

// way is the one that is stated; nil where none is, or more than one.
func (t Tighten) way() way {
	stated := slices.DeleteFunc(t.ways(), func(w way) bool { return !w.stated() })
	if len(stated) != 1 {
		return nil
	}
	return stated[0]
}

// besides are the fields of Tighten that only some ways take. Each way names those that it does.
var besides = []struct {
	field         string
	given         func(Tighten) bool
	problem, want string
}{
	{"orSeated", func(t Tighten) bool { return t.OrSeated }, "given without a band", "the field omitted: only a band may give way to a stop"},
	{"snug", func(t Tighten) bool { return given(t.Snug) }, "given without a sequence", "the field omitted: a torque has its band in itself"},
	{"within", func(t Tighten) bool { return t.Within != nil }, "given without a sequence", "the field omitted: a turn has its range in itself"},
	{"adapter", func(t Tighten) bool { return t.Adapter != nil }, "an adapter without a torque", "the field omitted: only a torque depends on the lever"},
	{"view", func(t Tighten) bool { return t.View != 0 }, "given without a sequence or a seat", "the field omitted: with a turn it stands in marks"},
	{"marks", func(t Tighten) bool { return t.Marks != nil }, "marks without a turn", "a turn, or the marks left out"},
	{"contactTurns", func(t Tighten) bool { return given(t.ContactTurns) }, "turns to gasket contact, without a turn from there", "the field omitted; the turns to a stop stand in seat.stopTurns"},
	{"gasket", func(t Tighten) bool { return given(t.Gasket) }, "a gasket to be met, without a turn from there", "the field omitted: only contact is held against its height"},
}

// checkBeside refuses the fields next to a way that it doesn't take.
func (t Tighten) checkBeside(w way, path string, errs *JobErrors) {
	for _, b := range besides {
		errs.when(b.given(t) && !slices.Contains(w.beside(), b.field), path+"."+b.field, b.problem, b.want, errContradiction)
	}
}

// checkWay refuses none and more than one.
func (t Tighten) checkWay(path string, errs *JobErrors) {
	var all, given []string
	for _, w := range t.ways() {
		all = append(all, w.name())
		if w.stated() {
			given = append(given, w.name())
		}
	}
	if len(given) == 1 || errs.faulty(path) {
		return
	}
	last := len(all) - 1
	errs.add(path, fmt.Sprintf("%s of %s and %s is given", either(len(given) == 0, "none", strings.Join(given, " and ")), strings.Join(all[:last], ", "), all[last]),
		"one of them", errContradiction)
}

// either is the first of two where that holds, and otherwise the second.
func either[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// everyWay are the readings of a station that belong to no way to tighten.
var everyWay = []string{"id", "dragged", "fitted", "leaks", "out", "water"}

// matchWay refuses readings of another way than the station's.
func (r *reviewer) matchWay(path string, done StationDone, plan *StationPlan) {
	w := plan.way()
	readings := reflect.ValueOf(done)
	for i := range readings.NumField() {
		name, _, _ := strings.Cut(readings.Type().Field(i).Tag.Get("json"), ",")
		if !readings.Field(i).IsZero() && !slices.Contains(everyWay, name) && !slices.Contains(w.takes(), name) {
			r.errs.add(path+"."+name, "given, though the station is tightened "+w.how(), "the field omitted", errContradiction)
		}
	}
	if len(r.errs) == 0 {
		w.match(r, path, done, plan)
	}
}

// says is by what each way is judged.
func (r Rules) saysOfWays() (all []Clause) {
	for _, w := range (Tighten{}).ways() {
		all = append(all, w.says(r)...)
	}
	return all
}
