package service

import (
	"slices"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// What isn't known is a list of the estimates that it would need and the job leaves out, as paths in the
// job file; nil where it is known.

// with is a list and those of more that aren't in it yet.
func with(list []string, more ...string) []string {
	for _, path := range more {
		if !slices.Contains(list, path) {
			list = append(slices.Clip(list), path)
		}
	}
	return list
}

// checkStated is checkRange of an estimate that may be left out.
func checkStated[U units.Unit](path string, e drain.Estimate[U], errs *JobErrors) {
	if given(e) {
		checkRange(path, e, errs)
	}
}

// unknown is what would tell how much fuel comes out.
func (d Drain) unknown(path string) (u []string) {
	switch {
	case d.Housing == nil && !given(d.Out):
		return with(u, path+".out")
	case d.Housing != nil && d.WaterUnknown: // what comes out of a housing is fuel and water
		return with(u, path+".water")
	}
	return nil
}

// panUnknown is what would tell how much comes out in all.
func (d Drain) panUnknown(path string) []string {
	u := d.unknown(path)
	if d.Housing == nil && d.WaterUnknown {
		u = with(u, path+".water")
	}
	return u
}

// hasWater reports whether water is to be drained, and measured, by itself.
func (d Drain) hasWater() bool { return given(d.Water) || d.WaterUnknown }

func (e Element) unknown(path string) []string {
	return lacking(field{path + ".dry", given(e.Dry)}, field{path + ".retains", given(e.Retains)})
}

// field is one that may be left out, and whether it isn't.
type field struct {
	path  string
	given bool
}

// lacking are those that aren't given.
func lacking(fields ...field) (u []string) {
	for _, f := range fields {
		if !f.given {
			u = append(u, f.path)
		}
	}
	return u
}
