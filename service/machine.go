package service

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
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
	under, ok := parse(machine, "machine", &errs)
	over, too := parse(job, "job", &errs)
	if !ok || !too {
		return Job{}, capped(errs)
	}
	states(under, &errs, "version", "card")
	states(over, &errs, "version", "id", "revision", "date")
	sameCard(under, over, &errs)
	if stations := under.member("stations"); stations != nil && !stations.isObject() {
		errs.add(stations.path, stations.is(), "an object, each station under its ID, so that a job can name it", errType)
		return Job{}, capped(errs)
	}
	merged := byID(laid(under, over), &errs)
	from := map[string]string{}
	merged.move("", from)
	var read Job
	var found JobErrors
	bind(merged, reflect.ValueOf(&read).Elem(), &found)
	read.check(&found, sets)
	for _, e := range found {
		e.Path = origin(e.Path, from)
		if !slices.ContainsFunc(errs, func(said *JobError) bool { return said.Path == e.Path && said.Err == e.Err }) {
			errs = append(errs, e)
		}
	}
	if len(errs) > 0 {
		return Job{}, capped(errs)
	}
	return read, nil
}

func (n node) isObject() bool {
	_, is := n.value.(*object)
	return is
}

// member is the field of an object, nil where there is none.
func (n node) member(key string) *node {
	for i := range n.members {
		if n.members[i].key == key {
			return &n.members[i].node
		}
	}
	return nil
}

// states refuses a file that leaves to the other what it has to say itself, and a null anywhere: laid
// over something, it might be taken for a way to remove it.
func states(file node, errs *JobErrors, fields ...string) {
	if !file.isObject() {
		errs.add(file.path, file.is(), "an object", errType)
		return
	}
	for _, field := range fields {
		if file.member(field) == nil {
			errs.add(join(file.path, field), "missing", "the field "+strconv.Quote(field)+" in this file", errMissingField)
		}
	}
	file.nulls(errs)
}

func (n node) nulls(errs *JobErrors) {
	if n.value == nil {
		errs.add(n.path, "null", "a value, or the field left out: it removes nothing", errType)
	}
	for _, m := range n.members {
		m.nulls(errs)
	}
	list, _ := n.value.([]node)
	for _, child := range list {
		child.nulls(errs)
	}
}

// sameCard refuses a job that was written for another card.
func sameCard(machine, job node, errs *JobErrors) {
	is, wanted := machine.member("card"), job.member("card")
	if is == nil || wanted == nil {
		return
	}
	name, ok := is.value.(string)
	other, too := wanted.value.(string)
	if ok && too && name != other {
		errs.add(wanted.path, "written for the card "+plain.Quote(other)+", laid over "+plain.Quote(name), "the card that it was written for", errContradiction)
	}
}

// laid is the rule: two objects merge, anything else replaces.
func laid(under, over node) node {
	if !under.isObject() || !over.isObject() {
		return over
	}
	merged := over
	merged.members = slices.Clone(under.members)
	at := make(map[string]int, len(under.members))
	for i, m := range under.members {
		at[m.key] = i
	}
	for _, m := range over.members {
		if i, has := at[m.key]; has {
			merged.members[i].node = laid(merged.members[i].node, m.node)
		} else {
			merged.members = append(merged.members, m)
		}
	}
	return merged
}

// byID turns stations under their IDs into the list of a job.
func byID(job node, errs *JobErrors) node {
	stations := job.member("stations")
	if stations == nil || !stations.isObject() {
		return job
	}
	list := []node{}
	for _, m := range stations.members {
		if id := m.member("id"); id != nil {
			errs.add(id.path, "given beside the key "+plain.Quote(m.key), "it left out: the key is the ID", errDuplicateField)
			m.members = slices.DeleteFunc(slices.Clone(m.members), func(field member) bool { return field.key == "id" })
		}
		if m.isObject() {
			m.members = append(slices.Clip(m.members), member{"id", node{path: m.path, value: m.key}})
		}
		list = append(list, m.node)
	}
	stations.value, stations.members = list, nil
	return job
}

// move gives a tree the paths of the job that it is now, and writes down where each value stood.
func (n *node) move(path string, from map[string]string) {
	from[path], n.path = n.path, path
	for i := range n.members {
		n.members[i].move(join(path, n.members[i].key), from)
	}
	list, _ := n.value.([]node)
	for i := range list {
		list[i].move(fmt.Sprintf("%s[%d]", path, i), from)
	}
}

// origin is where a value of the merged job stood, or the nearest one round it.
func origin(path string, from map[string]string) string {
	for end := len(path); end > 0; end = strings.LastIndexAny(path[:end], ".[") {
		if was, ok := from[path[:end]]; ok {
			return was + path[end:]
		}
	}
	return join(from[""], path)
}
