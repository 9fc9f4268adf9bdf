package service

import (
	"strings"
	"testing"

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
	return frozen.JSON(plan.Steps()) + frozen.JSON(plan.Wants()) + frozen.JSON(plan), plan
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
