package service

import (
	"fmt"
	"strconv"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

const (
	maxJobBytes = 1 << 20
	maxErrors   = 100
	maxString   = 500
)

// strict reads jobs, readings, rules and records. Text that ends up on a sheet may hold no control
// characters.
var strict = strictjson.Reader{Bytes: maxJobBytes, Text: maxString, Sample: sample, InParts: func(into any) bool {
	switch into.(type) {
	case *drain.Estimate[units.LengthUnit], *drain.Estimate[units.VolumeUnit], *drain.Estimate[units.MassUnit], *drain.Estimate[units.FlowUnit]:
		return true
	}
	return false
}}

// records reads records in any layout. What a newer release writes into them and this one doesn't know is passed over,
// and the texts of rule sets may be longer than those of jobs, which are looked at for themselves.
var records = strictjson.Reader{Bytes: 4 * maxJobBytes, Text: 1000, Extra: true, Sample: sample, InParts: func(into any) bool {
	_, set := into.(*waste.RuleSet)
	return set || strict.InParts(into)
}}

// The versions of what is read and written. Each moves when the meaning of a field of its own form does.
const (
	JobVersion    = 1 // of job files
	AsDoneVersion = 1 // of readings
	RulesVersion  = 1 // of rules

	machineVersion = 1
	recordVersion  = 1
)

// read reads and checks one of them. Where the text is no JSON, or of a newer form, nothing else is said of it.
func read[T any](data []byte, version int, check func(T, *JobErrors)) (T, error) {
	var into, none T
	errs := decode(data, &into, version)
	if len(errs) == 0 || errs[0].Path != "" && errs[0].Err != ErrNewerVersion {
		check(into, &errs)
	}
	if len(errs) > 0 {
		return none, errs
	}
	return into, nil
}

// decode fills the struct that into points to and tells all that is wrong.
func decode(data []byte, into any, version int) (errs JobErrors) {
	if root, ok := parse(strict, data, "", version, &errs); ok {
		strict.Bind(root, into, errs.reported)
	}
	return capped(errs)
}

// parse reads a text into a tree whose paths begin with root; ok means that it can be bound. The version
// is looked at before anything else is judged: a newer file may well hold unknown fields.
func parse(by strictjson.Reader, data []byte, root string, version int, errs *JobErrors) (n strictjson.Node, ok bool) {
	var found JobErrors
	n, ok = by.Parse(data, root, found.reported)
	if ok && newerForm(n, version, errs) {
		return n, false
	}
	*errs = append(*errs, found...)
	return n, ok
}

// newerForm reports whether a file is of a later form than that version, and then records it.
func newerForm(file strictjson.Node, version int, errs *JobErrors) bool {
	member, _ := file.Member("version")
	digits, _ := member.Number()
	v, err := strconv.ParseUint(digits, 10, 32)
	if err != nil || v <= uint64(version) {
		return false
	}
	errs.add(member.Path(), "written for version "+plain.Cut(digits)+", this program reads version "+strconv.Itoa(version),
		"a newer program, or a file of version "+strconv.Itoa(version), ErrNewerVersion)
	return true
}

// reported takes what a strict reader reports.
func (e *JobErrors) reported(path, problem, want string, cause error) {
	switch cause {
	case strictjson.ErrText:
		cause = units.ErrSyntax
	case strictjson.ErrRange:
		cause = units.ErrRange
	}
	if problem == "" {
		e.text(path, cause)
		return
	}
	e.add(path, problem, want, cause)
}

// readable refuses what no decoder would take back from a struct made in Go. What is known to be wrong
// already is passed over.
func readable(value any, errs *JobErrors) { strict.Check(value, errs.faulty, errs.reported) }

// bound holds a struct to the bounds that its fields state.
func bound(value any, errs *JobErrors) { strict.Bounds(value, errs.faulty, errs.reported) }

// capped cuts off what nobody would read.
func capped(errs JobErrors) JobErrors {
	if left := len(errs) - maxErrors; left > 0 {
		errs = errs[:maxErrors]
		errs.add("", fmt.Sprintf("and %d errors more", left), "", ErrSize)
	}
	return errs
}
