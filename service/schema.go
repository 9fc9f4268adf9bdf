package service

import (
	_ "embed"
	"slices"
)

//go:embed job.schema.json
var jobSchema []byte

// JobSchema is the JSON Schema (draft 2020-12) of the job file: which fields there are, which may
// be left out, and the words that stand for kinds, sides and the like. [ReadJob] judges more than
// a schema can say: units, ranges, and what contradicts what. It also takes other spellings of
// some words, such as "RH" for "right hand"; the schema has the one that is written.
func JobSchema() []byte { return slices.Clone(jobSchema) }
