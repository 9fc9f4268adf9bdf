package service

import (
	"encoding/json"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/testdata/frozen"
)

// A job of the tables is a file of this package's with edits, see [frozen.Edit]. What a call gives is what
// differs from the same call without edits.
func frozenPlan(name string, edits []string) (string, *Plan) {
	rules, err := ReadRules(frozen.Rules("testdata", edits))
	if err != nil {
		return "rules: " + err.Error(), nil
	}
	job, err := ReadJob(frozen.Job("testdata", name, edits))
	if err != nil {
		return frozenError(err), nil
	}
	plan, err := NewPlan(job, rules)
	if err != nil {
		return frozenError(err), nil
	}
	return frozen.JSON(plan.Steps()) + frozen.JSON(plan.Wants()) + frozen.Dump(plan), plan
}

func frozenError(err error) string {
	if all, ok := err.(JobErrors); ok {
		var b strings.Builder
		for _, e := range all {
			b.WriteString(e.Code() + " " + e.Error() + "\n")
		}
		return b.String()
	}
	return err.Error()
}

func frozenReview(name string, edits []string) string {
	said, plan := frozenPlan(name, edits)
	if plan == nil {
		return said
	}
	done, err := ReadAsDone(frozen.Readings("testdata", plan.Job.ID, plan.Job.Revision, edits))
	if err != nil {
		return frozenError(err)
	}
	review, err := plan.Review(done)
	if err != nil {
		return frozenError(err)
	}
	record, err := review.Record()
	if err != nil {
		return frozenError(err)
	}
	again, err := ReadRecord(record)
	if err != nil {
		return frozenError(err)
	}
	return frozen.JSON(review) + frozen.JSON(review.Open()) + frozen.JSON(review.Departures()) + frozen.JSON(review.Entries()) + frozen.JSON(again.Verified)
}

var frozenCalls = frozen.Of(frozen.Calls{
	"Plan": func(job string, edits ...string) string {
		said, _ := frozenPlan(job, edits)
		base, _ := frozenPlan(job, nil)
		return frozen.Difference(base, said)
	},
	"Review": func(job string, edits ...string) string {
		return frozen.Difference(frozenReview(job, nil), frozenReview(job, edits))
	},
	"ReadJob":    func(text string) (string, error) { _, err := ReadJob([]byte(text)); return "read", err },
	"ReadAsDone": func(text string) (string, error) { _, err := ReadAsDone([]byte(text)); return "read", err },
	"ReadRules":  ReadRules,
	"ReadRecord": func(text string) (string, error) { _, err := ReadRecord([]byte(text)); return "read", err },
}, AdapterKind(0), Basis(0), FillPart{}, Fit(0), Kind(0), Level(0), Side(0), StepKind(0), Verdict(0), Values{}, MarkSeen{})

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }

// What becomes of a job, its readings and its rules when one place of them is otherwise. The readings are those of a job
// done as planned, or those of the files.
func TestFrozenEdits(t *testing.T) {
	jobs, done := map[string][]byte{}, map[string][]byte{}
	rules := frozen.Rules("testdata", nil)
	for _, name := range frozen.Jobs {
		jobs[name] = frozen.Job("testdata", name, nil)
		job, err := ReadJob(jobs[name])
		require.NoError(t, err)
		plan, err := NewPlan(job, rulesWith(t))
		require.NoError(t, err)
		done[name], err = json.Marshal(asPlanned(t, plan))
		require.NoError(t, err)
		if name == "bench" || name == "demo" {
			done[name+" read"] = frozen.Readings("testdata", job.ID, job.Revision, []string{name})
		}
	}
	frozen.TestEdits(t, "testdata/edits.txt", slices.Concat(frozen.Edits("", jobs, frozen.MoreOfJobs...), frozen.Edits("done", done, frozen.MoreOfReadings...),
		frozen.Edits("rules", map[string][]byte{"bench read": rules, "demo read": rules, "three": rules})), func(name, edit string) string {
		edits := func(prefix string, text []byte) []byte {
			if rest, ok := strings.CutPrefix(edit, prefix); ok && rest[0] == '/' {
				return frozen.Edit(text, []string{rest})
			}
			return text
		}
		job := jobs[strings.TrimSuffix(name, " read")]
		return became(edits("rules", rules), edits("", job), edits("done", done[name]))
	})
}

// became is a job that was read, planned and reviewed, or what was wrong with it.
func became(rulesText, jobText, doneText []byte) string {
	plan, planned := plannedOnce(string(rulesText), string(jobText))
	if plan == nil {
		return planned
	}
	done, err := ReadAsDone(doneText)
	if err != nil {
		return "readings: " + frozenError(err) + planned
	}
	review, err := plan.Review(done)
	if err != nil {
		return "review: " + frozenError(err) + planned
	}
	return planned + frozen.Dump([]any{review, review.Open(), review.Departures(), review.Entries()})
}

// plannedOnce is a plan and all that is in it, or nil and what is wrong. It keeps the last, which many edits of readings share.
var plannedOnce = func() func(rulesText, jobText string) (*Plan, string) {
	var last [3]string
	var plan *Plan
	var planned string
	return func(rulesText, jobText string) (*Plan, string) {
		now := [3]string{rulesText, jobText, strconv.Itoa(frozen.Trial)}
		if last == now {
			return plan, planned
		}
		last, plan = now, nil
		rules, err := ReadRules([]byte(rulesText))
		if err != nil {
			planned = "rules: " + frozenError(err)
			return nil, planned
		}
		job, err := ReadJob([]byte(jobText))
		if err != nil {
			planned = "job: " + frozenError(err)
			return nil, planned
		}
		if plan, err = NewPlan(job, rules); err != nil {
			planned = "plan: " + frozenError(err)
			return nil, planned
		}
		planned = frozen.Dump([]any{plan, plan.Steps(), plan.Wants()})
		return plan, planned
	}
}()

// What becomes of a job, of readings and of rules of a program that made one part of them wrong.
func TestFrozenParts(t *testing.T) {
	made := map[string]func() (any, func() (*Plan, error)){}
	for _, name := range frozen.Jobs {
		text := frozen.Job("testdata", name, nil)
		job, err := ReadJob(text)
		require.NoError(t, err)
		made[name] = func() (any, func() (*Plan, error)) {
			job, _ := ReadJob(text) // was read above
			return &job, func() (*Plan, error) { return NewPlan(job, Rules{}) }
		}
		if name == "bench" || name == "demo" {
			readings := frozen.Readings("testdata", job.ID, job.Revision, []string{name})
			made[name+" done"] = func() (any, func() (*Plan, error)) {
				done, err := ReadAsDone(readings)
				require.NoError(t, err)
				return &done, func() (*Plan, error) { return nil, done.Check() }
			}
		}
	}
	made["rules"] = func() (any, func() (*Plan, error)) {
		rules := rulesWith(t)
		job := benchPlan(t).Job
		return &rules, func() (*Plan, error) { return NewPlan(job, rules) }
	}
	var edits []frozen.Edited
	for _, name := range slices.Sorted(maps.Keys(made)) {
		value, _ := made[name]()
		for _, path := range frozen.Parts(value) {
			edits = append(edits, frozen.Edited{Name: name, Edit: path + "="})
		}
	}
	frozen.TestEdits(t, "testdata/parts.txt", edits, func(name, edit string) string {
		value, check := made[name]()
		frozen.Spoil(value, strings.TrimSuffix(edit, "="))
		plan, err := check()
		switch {
		case err != nil:
			return frozenError(err)
		case plan == nil:
			return "nothing"
		}
		return frozen.Dump([]any{plan.Findings, plan.Wants(), plan.Steps()})
	})
}

// What becomes of records, of machine cards and of the jobs for them when one place is otherwise: of a record's places one in seven.
func TestFrozenRecordsAndCards(t *testing.T) {
	read := func(name string) []byte {
		text, err := os.ReadFile("testdata/" + name + ".json")
		require.NoError(t, err)
		return text
	}
	card, short := read("machine"), read("job-on-machine")
	edits := slices.Concat(frozen.Edits("", map[string][]byte{"machine": card}), frozen.Edits("", map[string][]byte{"short": short}))
	kept := map[string][]byte{"record": read("record"), "record-month": read("record-month"), "other-release": read("other-release")}
	for i, e := range frozen.Edits("", kept) {
		if i%7 == 0 {
			edits = append(edits, e)
		}
	}
	frozen.TestEdits(t, "testdata/records.txt", edits, func(name, edit string) string {
		if text, ok := kept[name]; ok {
			text = frozen.Edit(text, []string{edit})
			if root, ok := parse(records, text, "", recordVersion, new(JobErrors)); ok && len(edit)%4 > 0 { // with the hash of what it is now
				if sealed, err := root.Sealed(sealKey); err == nil {
					text = sealed.JSON()
				}
			}
			record, err := ReadRecord(text)
			if err != nil {
				return frozenError(err)
			}
			again, err := record.Review()
			require.NoError(t, err)
			return frozen.Dump([]any{record.Verified, record.Differences, again.Lines, again.Totals})
		}
		texts := map[string][]byte{"machine": card, "short": short}
		texts[name] = frozen.Edit(texts[name], []string{edit})
		job, err := ReadJobOn(texts["machine"], texts["short"])
		if err != nil {
			return frozenError(err)
		}
		return frozen.Dump(job)
	})
}
