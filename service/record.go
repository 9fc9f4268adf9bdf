package service

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
)

// Release is the version of this library; a record says which one judged it.
const Release = "0.1.0"

var (
	// ErrAltered: judged again by the same release, a record's inputs give another record, or its rules aren't
	// those their hash was taken of.
	ErrAltered = errors.New("record altered")
)

// Record is a review to be kept: what went in, by what it was judged, and what came out. It needs
// nothing but itself to be judged again.
type Record struct {
	Release string // of the library that judged it
	Job     Job
	Done    AsDone
	Rules   Rules
	// WasteRules are the rules that the month was counted by, all of them; nil where it wasn't. It
	// is by these that the record is judged again, whatever the library has now under that name.
	WasteRules *waste.RuleSet
	// RulesHash is the SHA-256, in hexadecimal, of the contents of the rules as the record has
	// them: those agreed on, in words those the library goes by, and those of the month.
	RulesHash string
	Lines     []Line
	Complete  bool
	AsPlanned bool
	Totals    []WasteTotal
}

// recordFile is the JSON of a record.
type recordFile struct {
	Version   int          `json:"version"`
	Release   string       `json:"release"`
	Job       Job          `json:"job"`
	Done      AsDone       `json:"asDone"`
	Rules     judgedBy     `json:"rules"`
	Hash      string       `json:"rulesSHA256"`
	Lines     []Line       `json:"lines"`
	Complete  bool         `json:"complete"`
	AsPlanned bool         `json:"asPlanned"`
	Totals    []WasteTotal `json:"totals"`
	Source    provenance   `json:"provenance"`
}

// judgedBy is the contents of the rules, which the hash is taken of.
type judgedBy struct {
	Agreed Rules          `json:"agreed"`
	Says   []clause       `json:"says"`
	Waste  *waste.RuleSet `json:"waste,omitempty"`
}

// provenance says in one place where the inputs come from.
type provenance struct {
	Job      string `json:"job"`
	AsDone   string `json:"asDone"`
	By       string `json:"by"`
	Invented bool   `json:"invented"`
}

// sets are the rule sets for a job to find its own in.
func (j judgedBy) sets() []waste.RuleSet {
	if j.Waste == nil {
		return nil
	}
	return []waste.RuleSet{*j.Waste}
}

func (j judgedBy) hash() (string, error) {
	text, err := strictjson.Canonical(j)
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:]), err
}

// Record writes the review as JSON on one line, without a line feed. The same inputs give the same
// bytes on every machine: keys are sorted, there are no floats in it, and text that holds a
// rounded figure is rounded in one fixed way, while the inputs keep every digit.
//
// Errors: a [JobErrors] for what nothing would read back, a record of more than 1 MiB (ErrSize).
func (r Review) Record() ([]byte, error) {
	file := recordFile{Version: Version, Release: Release, Job: r.Job, Done: r.Done,
		Rules: judgedBy{r.Rules, r.Rules.says(), r.WasteRules}, Lines: r.Lines, Complete: r.Complete, AsPlanned: r.AsPlanned, Totals: r.Totals,
		Source: provenance{r.Job.Source, r.Done.Source, r.Done.By, r.Job.Invented || r.Done.Invented}}
	var err error
	if file.Hash, err = file.Rules.hash(); err != nil {
		return nil, err
	}
	text, err := strictjson.Canonical(file)
	if err == nil && len(text) > maxJobBytes {
		return nil, JobErrors{{Problem: fmt.Sprintf("a record of %d bytes", len(text)), Want: "at most 1 MiB", Err: ErrSize}}
	}
	return text, err
}

// ReadRecord reads what [Review.Record] writes and checks it: the rules against their hash and, if
// this release wrote it, every verdict by judging the inputs again. The error is a [JobErrors],
// which matches ErrAltered where that is the reason.
func ReadRecord(data []byte) (Record, error) {
	var file recordFile
	errs := decode(data, &file)
	if len(errs) == 0 {
		file.check(&errs)
	}
	if len(errs) > 0 {
		return Record{}, errs
	}
	record := Record{file.Release, file.Job, file.Done, file.Rules.Agreed, file.Rules.Waste, file.Hash, file.Lines, file.Complete, file.AsPlanned, file.Totals}
	if file.Release != Release {
		return record, nil
	}
	again, err := record.Review()
	if err != nil {
		return Record{}, err
	}
	text, err := again.Record()
	if err != nil {
		return Record{}, err
	}
	if !bytes.Equal(text, bytes.TrimSpace(data)) {
		return Record{}, JobErrors{{Problem: "its inputs give another record when they are judged again",
			Want: "the bytes as they were written", Err: ErrAltered}}
	}
	return record, nil
}

// check holds the parts to what each part alone is held to.
func (f recordFile) check(errs *JobErrors) {
	for _, part := range []struct {
		name  string
		check func(*JobErrors)
	}{{"job.", func(errs *JobErrors) { f.Job.check(errs, f.Rules.sets()) }}, {"asDone.", f.Done.check}, {"", func(errs *JobErrors) { f.Rules.Agreed.check("rules.agreed.", errs) }}} {
		var own JobErrors
		part.check(&own)
		for _, e := range own {
			errs.add(part.name+e.Path, e.Problem, e.Want, e.Err)
		}
	}
	month, set := f.Job.Waste.Month, f.Rules.Waste
	switch {
	case month != nil && set == nil:
		errs.add("rules.waste", "missing", "the contents of the rules named "+plain.Quote(month.Rules), errMissingField)
	case month == nil && set != nil:
		errs.add("rules.waste", "given, though the job counts no month", "it left out", errContradiction)
	case month != nil && set.Name != month.Rules:
		errs.add("rules.waste.name", plain.Quote(set.Name), "the rules that the job names, "+plain.Quote(month.Rules), errContradiction)
	}
	if hash, err := f.Rules.hash(); err != nil || hash != f.Hash {
		errs.add("rulesSHA256", plain.Quote(f.Hash), hash, ErrAltered)
	}
}

// Review judges the inputs of a record again, by this release of the library and by the rules in
// the record. Errors: as [NewPlan] and [Plan.Review].
func (r Record) Review() (Review, error) {
	plan, err := NewPlan(r.Job, r.Rules, judgedBy{Waste: r.WasteRules}.sets()...)
	if err != nil {
		return Review{}, err
	}
	return plan.Review(r.Done)
}
