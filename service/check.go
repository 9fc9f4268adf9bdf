package service

import (
	"encoding"
	"fmt"
	"reflect"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// ReadJob reads a job file: JSON of at most 1 MiB, as [Job] describes it. Unknown fields, fields
// given twice, missing fields and values that make no sense are errors, all of them at once: the
// error is a [JobErrors].
//
// Texts of nothing but blanks are refused too, more than 40 stations, and more than 100 of anything
// else in a list. Only a file of so many values that no job has them (ErrSize) is refused unread.
//
// The rule set that the month is counted by is found by its name, among sets first, such as one
// read by [waste.ParseRuleSet], and then among those of package waste.
func ReadJob(data []byte, sets ...waste.RuleSet) (Job, error) {
	return read(data, JobVersion, func(j Job, errs *JobErrors) { j.check(errs, sets) })
}

// Check says why no plan can be made of a job, a [JobErrors] of all that is wrong, or nil: it works
// the job out as [NewPlan] does. Sets are NewPlan's.
func (j Job) Check(sets ...waste.RuleSet) error {
	_, err := NewPlan(j, Rules{}, sets...)
	return err
}

// check adds what the types alone don't say. What is faulty already is passed over. Where nothing is wrong, the
// fuel that comes back is the job's.
func (j Job) check(errs *JobErrors, sets []waste.RuleSet) (fuel measured) {
	errs.when(j.Version != JobVersion, "version", fmt.Sprintf("version %d", j.Version), fmt.Sprintf("version %d", JobVersion), units.ErrRange)
	errs.when(j.ID == "" || len(j.ID) > maxID, "id", fmt.Sprintf("%d bytes", len(j.ID)), "the shop's number for the job, of at most 64 bytes", units.ErrSyntax)
	bound(j, errs)
	errs.when(len(j.Isolate) == 0, "isolate", "nothing is isolated", "what is put out of service before the work, in order", units.ErrRange)
	errs.when(len(j.Stations) == 0, "stations", "no station", "at least one", units.ErrRange)
	if len(j.Stations) > 40 || len(j.Waste.Other) > maxListed {
		return fuel // what is in them isn't looked at
	}
	j.Shop.check("shop", errs)
	fuel = j.Fuel.check("fuel", errs)
	seen := map[string]bool{}
	for i, s := range j.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		s.check(path, errs)
		errs.once(seen, s.ID, path+".id", "one of its own for each")
	}
	j.Prime.check("prime", errs)
	if j.Interval != nil {
		j.Interval.check("interval", errs)
	}
	if m := j.Waste.Month; m != nil {
		checkStated("waste.month.soFar", m.SoFar, errs)
		if !errs.faulty("waste.month.rules") {
			_, err := ruleSet(m.Rules, sets)
			errs.value("waste.month.rules", err)
		}
	}
	if d := j.Waste.Drum; d != nil {
		checkStated("waste.drum.inside", d.Inside, errs)
		if !errs.faulty("fuel") && !errs.faulty("waste.drum") {
			_, _, err := j.drum(fuel.Fuel, sets)
			errs.value("waste.drum", err)
		}
	}
	named := map[string]bool{}
	for _, stream := range []waste.Stream{waste.DrainedFuel, waste.FuelWaterMix, waste.WetElement} {
		named[stream.String()] = true // of which a plan has lines of its own
	}
	for i, other := range j.Waste.Other {
		errs.once(named, other.What, fmt.Sprintf("waste.other[%d].what", i), "a name of its own among the wastes, by which its weight is known")
		checkStated(fmt.Sprintf("waste.other[%d].mass", i), other.Mass, errs)
	}
	clear(seen)
	for i, step := range j.Isolate {
		errs.once(seen, step.What, fmt.Sprintf("isolate[%d].what", i), "a name of its own, by which it is known to be back")
	}
	if len(*errs) < maxErrors { // what is wrong beyond them was cut off, and would be told again
		readable(j, errs)
	}
	return fuel
}

func (s Shop) check(path string, errs *JobErrors) {
	if max(len(s.Wrenches), len(s.Gauges)) > maxListed {
		return
	}
	listed := map[string]bool{}
	for i, w := range s.Wrenches {
		path := fmt.Sprintf("%s.wrenches[%d]", path, i)
		w.check(path, errs)
		errs.once(listed, w.Name, path+".id", "it once")
	}
	clear(listed)
	for i, g := range s.Gauges {
		path := fmt.Sprintf("%s.gauges[%d]", path, i)
		errs.when(g.ID == "", path+".id", "empty", "the shop's number for the gauge", units.ErrSyntax)
		errs.once(listed, g.ID, path+".id", "it once")
	}
}

// check solves the fuel too; where something is wrong with it, what comes back is of no use.
func (f Fuel) check(path string, errs *JobErrors) (m measured) {
	if errs.faulty(path+".density") || errs.faulty(path+".densityAt") {
		return m
	}
	switch at := f.DensityAt; {
	case !at.Valid() && !f.Density.At60F():
		errs.add(path+".densityAt", "missing", "the temperature that the density belongs to", errMissingField)
		return m
	case at.Valid() && f.Density.At60F() && !at.Equal(sixty):
		errs.add(path+".densityAt", fmt.Sprintf("%v, and %v is a density at 60 °F", at, f.Density), "60 °F, or the field omitted", errContradiction)
		return m
	}
	fuel, err := f.Density.Fuel(f.DensityAt)
	if err != nil {
		errs.value(path+".density", err)
		return m
	}
	density := func(path string, at units.Temperature) (d units.Density) {
		if !errs.faulty(path) {
			d, err = fuel.DensityAt(at)
			errs.value(path, err)
		}
		return d
	}
	density(path+".caughtAt", f.CaughtAt)
	return measured{fuel, f.MeasuredAt, density(path+".measuredAt", f.MeasuredAt)}
}

// maxID bounds the ID of a job, as [waste.Ledger] does, and that of a station, which names its wastes
// too.
const maxID = 64

func (s Station) check(path string, errs *JobErrors) {
	errs.when(s.ID == "" || len(s.ID) > maxID, path+".id", fmt.Sprintf("%d bytes", len(s.ID)), "a short name of its own, of at most 64 bytes", units.ErrSyntax)
	checkPartNo(path+".element.partNo", s.Element.PartNo, errs)
	for i, seal := range s.Seals[:min(len(s.Seals), maxListed)] {
		path := fmt.Sprintf("%s.seals[%d]", path, i)
		errs.when((seal.Wet == "") != seal.Dry, path+".wet", "both or neither of wet and dry", "what it is wetted with, or dry", errContradiction)
		checkPartNo(path+".partNo", seal.PartNo, errs)
	}
	d := path + ".drain"
	switch {
	case errs.faulty(d):
	case given(s.Drain.Out) && s.Drain.Housing != nil:
		errs.add(d, "both out and housing", "one of them, or neither where it isn't known", errContradiction)
	case given(s.Drain.Water) && s.Drain.WaterUnknown:
		errs.add(d+".waterUnknown", "given with water", "one of them", errContradiction)
	default:
		checkStated(d+".out", s.Drain.Out, errs)
		if !errs.faulty(d) && len(s.Drain.unknown("")) == 0 {
			_, err := s.Drain.out()
			errs.value(d, err)
		}
		checkStated(d+".water", s.Drain.Water, errs)
	}
	checkStated(path+".element.dry", s.Element.Dry, errs)
	checkStated(path+".element.retains", s.Element.Retains, errs)
	s.checkPrefill(path, errs)
	s.Tighten.check(path+".tighten", errs)
}

func (s Station) checkPrefill(path string, errs *JobErrors) {
	with, share := path+".prefillWith", path+".prefillShare"
	if errs.faulty(with) || errs.faulty(share) || errs.faulty(path+".fill") {
		return
	}
	dry := func(path string, given bool) {
		errs.when(s.Fill == FitDry && given, path, "given, though the filter is fitted dry", "the field omitted", errContradiction)
	}
	dry(with, given(s.PrefillWith))
	dry(share, given(s.PrefillShare))
	switch {
	case s.Fill != FitFilled:
	case !given(s.PrefillWith) && !given(s.PrefillShare):
		errs.add(with, "missing, though the filter is filled before it is fitted", "how much goes in, here or as a share in prefillShare", errMissingField)
	case given(s.PrefillWith) && given(s.PrefillShare):
		errs.add(share, "given with prefillWith", "one of the two", errContradiction)
	case given(s.PrefillShare):
		of := s.PrefillShare.of
		errs.when(of != "" && of != s.Kind.holder(), share, "of the "+string(of)+", for a filter that has none to fill", "of the "+string(s.Kind.holder())+", or the part alone", errContradiction)
	}
}

func (t Tighten) check(path string, errs *JobErrors) {
	if errs.faulty(path) && !errs.faulty(path+".marks") {
		return // what is said of the marks may still be mended in the same pass
	}
	t.checkWay(path, errs)
	if w := t.way(); w != nil {
		t.checkBeside(w, path, errs)
		w.check(path, errs)
	} else if !errs.faulty(path + ".marks") {
		return
	}
	if t.Adapter != nil && !errs.faulty(path+".adapter") {
		t.Adapter.check(path+".adapter", errs)
	}
	checkWritten(path+".thread", t.Thread, errs)
	for _, th := range []struct {
		name   string
		thread turn.Thread
	}{{"stud", t.Stud}, {"canister", t.Canister}} {
		if given(th.thread) && th.thread.Hand() != t.Thread && !errs.faulty(path) {
			errs.add(path+"."+th.name, fmt.Sprintf("%v is %v, the thread is said to be %v", th.thread, th.thread.Hand(), t.Thread),
				"one hand for both", errContradiction)
		}
	}
	errs.when(given(t.Gasket) && t.Gasket.Sign() <= 0, path+".gasket", t.Gasket.String(), "more than zero", units.ErrRange)
}

func checkRange[U units.Unit](path string, e drain.Estimate[U], errs *JobErrors) {
	switch {
	case errs.faulty(path):
	case e.Low.Sign() < 0:
		errs.add(path, e.Low.String(), "zero or more", drain.ErrNegative)
	default:
		errs.value(path, e.Check())
	}
}

// maxListed bounds what a job or its readings list of one kind, as the tags of their fields say: nobody works by
// more, and each is compared with others. Of the weights there may be three times as many: each station has two wastes
// of its own.
const maxListed = 100

// checkWritten refuses a value that can't be written, as only one made in Go can be: none of its
// type's constants, or a quantity without a unit.
func checkWritten(path string, value encoding.TextMarshaler, errs *JobErrors) {
	if !errs.faulty(path) {
		_, err := value.MarshalText()
		errs.value(path, err)
	}
}

// checkShare takes what is above nothing and at most the whole.
func checkShare(path string, s units.Share, errs *JobErrors) {
	errs.when(s.Sign() <= 0 || units.Percent.Of(100).Less(s), path, s.String(), "more than 0 and at most 100 %", units.ErrRange)
}

// given reports whether a field that may be left out is there: its zero value says nothing.
func given(value any) bool { return !reflect.ValueOf(value).IsZero() }
