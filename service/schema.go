package service

import (
	_ "embed"
	"slices"
)

var (
	//go:embed job.schema.json
	jobSchema []byte
	//go:embed machine.schema.json
	machineSchema []byte
	//go:embed asdone.schema.json
	asDoneSchema []byte
	//go:embed rules.schema.json
	rulesSchema []byte
	//go:embed record.schema.json
	recordSchema []byte
	//go:embed codes.json
	codeList []byte
)

// Schemas are the JSON Schemas (draft 2020-12) of what is written down and kept: which fields there are,
// which may be left out, and the words that stand for kinds, sides and the like, as they are written; some
// are read in other spellings too, such as "RH" for "right hand".
//
//   - "job" is a job file. [ReadJob] judges more than a schema can say: units, ranges, and what contradicts
//     what.
//   - "machine" is either of the two files that [ReadJobOn] reads, a machine card and a job laid over one. It
//     has the fields of a job, all of which may be left out, since the other file may have them; what is in
//     a list is whole.
//   - "asDone" is the readings. [ReadAsDone] judges more, and whether they fit a job is for [Plan.Review] to
//     say.
//   - "rules" is what [ReadRules] reads.
//   - "record" is a record of this release, with the job, the readings and the rules in it. It says nothing of the hash
//     and of verdicts that don't follow: [ReadRecord] does. Another release may have fields that aren't in it.
func Schemas() map[string][]byte {
	return map[string][]byte{"job": slices.Clone(jobSchema), "machine": slices.Clone(machineSchema),
		"asDone": slices.Clone(asDoneSchema), "rules": slices.Clone(rulesSchema), "record": slices.Clone(recordSchema)}
}

// Codes is the list, as JSON, of every code that stands for words: by kind ("step", "finding", "line", "found", "want",
// "reason", "total", "rule", "page", "section", "name", "word", "source", "verdict", "basis", "level" and "error") and code,
// what each of its variants means in English ("" is the code alone), and the types of the values that come with it.
// Codes, variants and values may be added by a later release; none of them comes to mean something else.
func Codes() []byte { return slices.Clone(codeList) }
