package service

import (
	"fmt"
	"strconv"

	"example.com/snugturn/drain"
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

// decode fills the struct that into points to and tells all that is wrong.
func decode(data []byte, into any) (errs JobErrors) {
	if root, ok := parse(data, "", &errs); ok {
		strict.Bind(root, into, errs.reported)
	}
	return capped(errs)
}

// parse reads a text into a tree whose paths begin with root; ok means that it can be bound. The version
// is looked at before anything else is judged: a newer file may well hold unknown fields.
func parse(data []byte, root string, errs *JobErrors) (n strictjson.Node, ok bool) {
	var found JobErrors
	n, ok = strict.Parse(data, root, found.reported)
	if version, newer := newerVersion(n); ok && newer {
		errs.add(strictjson.Join(root, "version"), "written for version "+version+", this program reads version "+strconv.Itoa(Version),
			"a newer program, or a file of version "+strconv.Itoa(Version), ErrNewerVersion)
		return n, false
	}
	*errs = append(*errs, found...)
	return n, ok
}

func newerVersion(root strictjson.Node) (string, bool) {
	version, _ := root.Member("version")
	digits, _ := version.Number()
	v, err := strconv.ParseUint(digits, 10, 32)
	return plain.Cut(digits), err == nil && v > Version
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
func readable(value any, errs *JobErrors) { strict.Check(value, errs.spoilt, errs.reported) }

// capped cuts off what nobody would read.
func capped(errs JobErrors) JobErrors {
	if left := len(errs) - maxErrors; left > 0 {
		errs = errs[:maxErrors]
		errs.add("", fmt.Sprintf("and %d errors more", left), "", ErrSize)
	}
	return errs
}
