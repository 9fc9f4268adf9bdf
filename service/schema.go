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
	//go:embed record.schema.json
	recordSchema []byte
)

// JobSchema is the JSON Schema (draft 2020-12) of the job file: which fields there are, which may
// be left out, and the words that stand for kinds, sides and the like. [ReadJob] judges more than
// a schema can say: units, ranges, and what contradicts what. It also takes other spellings of
// some words, such as "RH" for "right hand"; the schema has the one that is written.
func JobSchema() []byte { return slices.Clone(jobSchema) }

// MachineSchema is the JSON Schema (draft 2020-12) of the two files that [ReadJobOn] reads: a machine
// card and a job laid over one. It has the fields of a job, all of which may be left out, since the
// other file may have them; what is in a list is whole.
func MachineSchema() []byte { return slices.Clone(machineSchema) }

// AsDoneSchema is the JSON Schema (draft 2020-12) of as-done readings, to the same extent:
// [ReadAsDone] judges more, and whether they fit a job is for [Plan.Review] to say.
func AsDoneSchema() []byte { return slices.Clone(asDoneSchema) }

// RecordSchema is the JSON Schema (draft 2020-12) of a record, with the job, the readings and the
// rules in it. It says nothing of hashes and of verdicts that don't follow: [ReadRecord] does.
func RecordSchema() []byte { return slices.Clone(recordSchema) }
