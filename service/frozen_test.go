package service

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"example.com/snugturn/testdata/frozen"
)

// A job of the tables is a file of this package's with edits, see [frozen.Edit]. What a call gives is what
// differs from the same call without edits.
var frozenFiles = map[string]string{
	"demo": "forms/0.1.0/job-demo.json", "bench": "forms/0.1.0/job-bench.json", "cartridge": "jobs/cartridge.json",
	"cover": "jobs/cover-and-cap.json", "three": "jobs/three-stations.json", "two": "jobs/two-stations.json",
	"done": "forms/0.1.0/asdone-demo.json", "rules": "rules.json", "benchdone": "forms/0.1.0/asdone-bench.json",
}

func frozenFile(name string) []byte {
	text, err := os.ReadFile("testdata/" + frozenFiles[name])
	if err != nil {
		panic(err)
	}
	return text
}

func frozenPlan(name string, edits []string) (string, *Plan) {
	var ofJob, ofRules []string
	for _, e := range edits {
		if rest, ok := strings.CutPrefix(e, "rules"); ok {
			ofRules = append(ofRules, rest)
		} else if strings.HasPrefix(e, "/") {
			ofJob = append(ofJob, e)
		}
	}
	rules, err := ReadRules(frozen.Edit(frozenFile("rules"), ofRules))
	if err != nil {
		return "rules: " + err.Error(), nil
	}
	job, err := ReadJob(frozen.Edit(frozenFile(name), ofJob))
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
	readings := "done"
	var ofDone []string
	for _, e := range edits {
		if rest, ok := strings.CutPrefix(e, "done"); ok {
			ofDone = append(ofDone, rest)
		}
		if e == "bench" {
			readings = "benchdone"
		}
	}
	done, err := ReadAsDone(frozen.Edit(frozenFile(readings), append([]string{`/job="` + plan.Job.ID + `"`, fmt.Sprintf("/revision=%d", plan.Job.Revision)}, ofDone...)))
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
