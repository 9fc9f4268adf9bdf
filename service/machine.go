package service

import (
	"slices"
	"strconv"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

// ReadJobOn reads a job laid over the card of its machine. The card has what stays the same from
// service to service, written once; the job has its own version, id, revision and date, and what is
// different or new today. Both are JSON with the fields of [Job], each of at most 1 MiB, and one rule
// makes them one job: two objects merge, field by field, and anything else in the job replaces what
// the card has. A list is replaced whole, and null stands for nothing and is refused.
//
// So that they merge too, stations are an object here, each under its ID and without an "id" in it:
// "stations": {"A": {"drain": {...}}}. Their order is that of the card, with new ones behind. What the
// card says can't be taken away; a list of stations in the job replaces all of them. The card has a
// name in "card", which may be repeated in the job; it is an error then if the two differ.
//
// What comes out is an ordinary [Job], checked as by [ReadJob], and a record holds all of it. The
// error is a [JobErrors], and each path begins with the file that has to be mended: "machine.fuel.density",
// "job.date".
func ReadJobOn(machine, job []byte, sets ...waste.RuleSet) (Job, error) {
	var errs JobErrors
	under, ok := parse(strict, machine, "machine", machineVersion, &errs)
	over, too := parse(strict, job, "job", JobVersion, &errs)
	if !ok || !too {
		return Job{}, capped(errs)
	}
	states(under, &errs, "version", "card")
	if v, has := under.Member("version"); has && string(v.JSON()) != strconv.Itoa(machineVersion) {
		errs.add(v.Path(), plain.Cut(plain.Clean(string(v.JSON()))), strconv.Itoa(machineVersion), units.ErrRange)
	}
	states(over, &errs, "version", "id", "revision", "date")
	sameCard(under, over, &errs)
	if stations, has := under.Member("stations"); has && !stations.IsObject() {
		errs.add(stations.Path(), stations.Is(), "an object, each station under its ID, so that a job can name it", errType)
		return Job{}, capped(errs)
	}
	merged := byID(over.Over(under), &errs)
	from := merged.Move()
	var read Job
	var found JobErrors
	strict.Bind(merged, &read, found.reported)
	read.check(&found, sets)
	for _, e := range found {
		e.Path = from.Of(e.Path)
		if !slices.ContainsFunc(errs, func(said *JobError) bool { return said.Path == e.Path && said.Err == e.Err }) {
			errs = append(errs, e)
		}
	}
	if len(errs) > 0 {
		return Job{}, capped(errs)
	}
	return read, nil
}

// states refuses a file that leaves to the other what it has to say itself, and a null anywhere: laid
// over something, it might be taken for a way to remove it.
func states(file strictjson.Node, errs *JobErrors, fields ...string) {
	if !file.IsObject() {
		errs.add(file.Path(), file.Is(), "an object", errType)
		return
	}
	for _, field := range fields {
		if _, has := file.Member(field); !has {
			errs.add(strictjson.Join(file.Path(), field), "missing", "the field "+strconv.Quote(field)+" in this file", errMissingField)
		}
	}
	file.Nulls(func(path string) {
		errs.add(path, "null", "a value, or the field omitted: it removes nothing", errType)
	})
}

// sameCard refuses a job that was written for another card.
func sameCard(machine, job strictjson.Node, errs *JobErrors) {
	is, _ := machine.Member("card")
	wanted, _ := job.Member("card")
	name, ok := is.Text()
	other, too := wanted.Text()
	if ok && too && name != other {
		errs.add(wanted.Path(), "written for the card "+plain.Quote(other)+", laid over "+plain.Quote(name), "the card that it was written for", errContradiction)
	}
}

// byID turns stations under their IDs into the list of a job.
func byID(job strictjson.Node, errs *JobErrors) strictjson.Node {
	stations, _ := job.Member("stations")
	if !stations.IsObject() {
		return job
	}
	return job.With("stations", stations.Listed(func(key string, station strictjson.Node) strictjson.Node {
		if !station.IsObject() {
			return station
		}
		if id, given := station.Member("id"); given {
			errs.add(id.Path(), "given with the key "+plain.Quote(key), "the field omitted: the key is the ID", errDuplicateField)
		}
		return station.With("id", strictjson.NewText(station.Path(), key))
	}))
}
