package service

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

// Release is the version of this library, the newest in CHANGELOG.md; a record says which one judged it.
const Release = "0.1.0"

// ErrAltered: a record isn't what its hash was taken of, or the release that wrote it would write another.
var ErrAltered = errors.New("record altered")

// Record is a review to be kept: what went in, by what it was judged, and what came out, as codes and
// values. It needs nothing but itself to be judged again. [Review.Record] writes it, [ReadRecord] reads it.
type Record struct {
	Version int    `json:"version"` // of the form of records
	Release string `json:"release"` // of the library that judged it
	Job     Job    `json:"job"`
	Done    AsDone `json:"asDone"`
	Rules   Rules  `json:"rules"`
	// WasteRules are the rules that the month was counted by, all of them; nil where it wasn't. It
	// is by these that the record is judged again, whatever the library has now under that name.
	WasteRules *waste.RuleSet `json:"wasteRules,omitempty"`
	Clauses    []Clause       `json:"clauses"` // as in a [Review]
	Lines      []Line         `json:"lines"`
	Complete   bool           `json:"complete"`
	AsPlanned  bool           `json:"asPlanned"`
	Totals     []WasteTotal   `json:"totals"`
	// SHA256 is the hash, in hexadecimal, of the canonical bytes of all the rest.
	SHA256 string `json:"sha256"`

	// Verified says that this release wrote it and that the same comes out when it is judged again. Where it is
	// false another release wrote it; its hash is right, and this release gives the Differences.
	Verified    bool         `json:"-"`
	Differences []Difference `json:"-"`

	canonical []byte // as it was read
}

// Record writes the review as JSON in the form of RFC 8785 (JSON Canonicalization Scheme): one line without
// a line feed, keys sorted, no blanks, no floats. The same inputs give the same bytes on every machine.
// It holds codes and values and no sentence: better words make no other record.
//
// The hash in it shows what was changed by accident. Anyone who changes a record on purpose can compute a new one; a
// signature over these bytes shows that too, as in the example.
//
// Errors: a [JobErrors] for what nothing would read back, a record of more than 1 MiB (ErrSize).
func (r Review) Record() ([]byte, error) {
	type fields Record // without MarshalJSON
	tree, err := strictjson.Tree(fields{Version: recordVersion, Release: Release, Job: r.Job, Done: r.Done, Rules: r.Rules,
		WasteRules: r.WasteRules, Clauses: r.Clauses, Lines: r.Lines, Complete: r.Complete, AsPlanned: r.AsPlanned, Totals: r.Totals})
	if err == nil {
		tree, err = tree.Sealed(sealKey)
	}
	text := tree.JSON()
	switch {
	case err != nil && !errors.Is(err, ErrSize):
		return nil, err
	case err != nil || len(text) > maxJobBytes:
		return nil, JobErrors{{Problem: fmt.Sprintf("a record of %d bytes", len(text)), Want: "at most 1 MiB", Err: ErrSize}}
	}
	return text, nil
}

const sealKey = "sha256"

// ReadRecord reads what [Review.Record] writes, in any layout of at most 4 MiB: indented, with other escapes, or with
// its keys in another order, as a JSONB column gives it back. It ends in one of three ways.
//
//   - [Record.Verified]: this release wrote it, its hash is right, and judged again it is the same.
//   - Not verified, and no error: another release wrote it, its hash is right, and it was judged again.
//     [Record.Differences] are the verdicts that came out otherwise. Fields that this release doesn't know, of a
//     newer one, are passed over, and [Record.MarshalJSON] still has them.
//   - An error that matches ErrAltered: it isn't what was written.
//
// Any other error, all of them a [JobErrors], is of a text that is no record, of a newer form (ErrNewerVersion), or one
// whose inputs this release refuses.
func ReadRecord(data []byte) (Record, error) {
	var errs JobErrors
	var r Record
	if root, ok := parse(records, data, "", recordVersion, &errs); ok {
		r.read(root, &errs)
	}
	if len(errs) > 0 {
		return Record{}, capped(errs)
	}
	return r, nil
}

// read checks what costs least first: the form, the hash, the parts, the verdicts.
func (r *Record) read(root strictjson.Node, errs *JobErrors) {
	for _, part := range []struct {
		name    string
		version int
	}{{"job", JobVersion}, {"asDone", AsDoneVersion}, {"rules", RulesVersion}} {
		if n, has := root.Member(part.name); has && newerForm(n, part.version, errs) {
			return
		}
	}
	sealed, err := root.Sealed(sealKey)
	if err != nil {
		errs.add("", err.Error(), "the record as it was written", ErrAltered)
		return
	}
	member, _ := root.Member(sealKey)
	was, _ := member.Text()
	member, _ = sealed.Member(sealKey)
	if is, _ := member.Text(); is != was {
		errs.add(sealKey, "not the hash of what is here", "the record as it was written", ErrAltered)
		return
	}
	records.Bind(sealed, r, errs.reported)
	r.canonical = sealed.JSON()
	if r.check(errs); len(*errs) > 0 {
		return
	}
	again, err := r.Review()
	if err != nil {
		errors.As(err, errs)
		return
	}
	if r.Release != Release {
		r.Differences = Differences(r.Lines, again.Lines)
		return
	}
	text, err := again.Record()
	if r.Verified = err == nil && bytes.Equal(text, r.canonical); !r.Verified {
		errs.add("", "judged again, its inputs give another record", "the record as it was written", ErrAltered)
	}
}

// check holds the record to what its inputs alone don't say.
func (r *Record) check(errs *JobErrors) {
	errs.when(r.Version != recordVersion, "version", fmt.Sprintf("version %d", r.Version), fmt.Sprintf("version %d", recordVersion), units.ErrRange)
	errs.when(!isRelease(r.Release), "release", plain.Quote(r.Release), "a release such as "+Release, units.ErrSyntax)
	month, set := r.Job.Waste.Month, r.WasteRules
	if (month == nil) != (set == nil) || set != nil && set.Name != month.Rules {
		errs.when(true, "wasteRules", "not those that the job counts its month by", "the contents of the rules that waste.month names, and none without a month",
			errContradiction)
	}
}

// isRelease reports whether a text is three numbers, "1.12.0".
func isRelease(text string) bool {
	parts := strings.Split(text, ".")
	return len(parts) == 3 && !slices.ContainsFunc(parts, func(part string) bool {
		_, err := strconv.ParseUint(part, 10, 32)
		return err != nil
	})
}

// MarshalJSON gives the canonical bytes of a record that was read, to the last of its fields: what was changed in
// r since isn't in them. (Package encoding/json writes "<", ">" and "&" in them as escapes, which read back as well.)
//
// Errors: a [JobErrors] for a record that [ReadRecord] didn't give.
func (r Record) MarshalJSON() ([]byte, error) {
	if r.canonical == nil {
		return nil, JobErrors{{Problem: "a record that wasn't read", Want: "what ReadRecord gives, or Review.Record", Err: errMissingField}}
	}
	return slices.Clone(r.canonical), nil
}

// Review judges the inputs of a record again, by this release of the library and by the rules in
// the record. Errors: as [NewPlan] and [Plan.Review], each path with the part of the record before it.
func (r Record) Review() (Review, error) {
	var sets []waste.RuleSet
	if r.WasteRules != nil {
		sets = append(sets, *r.WasteRules)
	}
	plan, err := NewPlan(r.Job, r.Rules, sets...)
	if err != nil {
		return Review{}, within("job.", err)
	}
	review, err := plan.Review(r.Done)
	return review, within("asDone.", err)
}

// within puts a part before the paths of errors, but for those of rules, which have theirs.
func within(part string, err error) error {
	var all JobErrors
	if errors.As(err, &all) {
		for _, e := range all {
			if !strictjson.Within(e.Path, "rules") {
				e.Path = part + e.Path
			}
		}
	}
	return err
}

// Difference is a line of a review that two of them judge otherwise.
type Difference struct {
	Where, Code string  // as in a [Line]
	Old, New    Verdict // zero where that review has no such line
}

// String is "stations[0].torque, torque: pass before, now fail".
func (d Difference) String() string {
	said := func(v Verdict) string {
		if v == 0 {
			return "no line"
		}
		return v.String()
	}
	return fmt.Sprintf("%s, %s: %s before, now %s", d.Where, d.Code, said(d.Old), said(d.New))
}

// Differences lists the verdicts in which two reviews of one job differ: those of the old lines in their order, then
// those of lines that only the new one has. Reasons and totals may differ where no verdict does.
func Differences(old, new []Line) (all []Difference) {
	left := slices.Clone(new)
	for _, was := range old {
		d := Difference{Where: was.Where, Code: was.Code, Old: was.Verdict}
		at := slices.IndexFunc(left, func(l Line) bool { return l.Where == was.Where && l.Code == was.Code })
		if at >= 0 {
			d.New = left[at].Verdict
			left = slices.Delete(left, at, at+1)
		}
		if d.Old != d.New {
			all = append(all, d)
		}
	}
	for _, l := range left {
		all = append(all, Difference{Where: l.Where, Code: l.Code, New: l.Verdict})
	}
	return all
}
