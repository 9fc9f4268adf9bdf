package sheet

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"example.com/snugturn/service"
	"example.com/snugturn/testdata/frozen"
	"example.com/snugturn/turn"
)

// The files of package service that the tables' jobs are made of, see [frozen.Edit].
var frozenFiles = map[string]string{
	"demo": "forms/0.1.0/job-demo.json", "bench": "forms/0.1.0/job-bench.json", "cartridge": "jobs/cartridge.json",
	"cover": "jobs/cover-and-cap.json", "three": "jobs/three-stations.json", "two": "jobs/two-stations.json",
	"done": "forms/0.1.0/asdone-demo.json", "rules": "rules.json", "benchdone": "forms/0.1.0/asdone-bench.json",
}

func frozenFile(name string) []byte {
	text, err := os.ReadFile("../testdata/" + frozenFiles[name])
	if err != nil {
		panic(err)
	}
	return text
}

func frozenPlan(name string, edits []string) (*service.Plan, error) {
	var ofJob []string
	for _, e := range edits {
		if strings.HasPrefix(e, "/") {
			ofJob = append(ofJob, e)
		}
	}
	rules, err := service.ReadRules(frozenFile("rules"))
	if err != nil {
		return nil, err
	}
	job, err := service.ReadJob(frozen.Edit(frozenFile(name), ofJob))
	if err != nil {
		return nil, err
	}
	return service.NewPlan(job, rules)
}

func frozenWords(language string) *Words {
	w, err := In(language)
	if err != nil {
		panic(err)
	}
	return w
}

// frozenSheet is a job's sheet, written in a way: text, ascii, html, json.
func frozenSheet(way, language, name string, edits []string) string {
	plan, err := frozenPlan(name, edits)
	if err != nil {
		return err.Error()
	}
	s := frozenWords(language).Sheet(plan, strings.HasSuffix(way, "+"))
	var out []byte
	switch strings.TrimSuffix(way, "+") {
	case "text":
		return s.Text()
	case "ascii":
		return s.ASCII()
	case "html":
		out, err = s.HTML()
	case "json":
		out, err = s.JSON()
	}
	if err != nil {
		return err.Error()
	}
	return strings.ReplaceAll(string(out), "><", ">\n<")
}

// frozenReview is a review in words, and with "record" its record.
func frozenReview(way, language, name string, edits []string) string {
	plan, err := frozenPlan(name, edits)
	if err != nil {
		return err.Error()
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
	done, err := service.ReadAsDone(frozen.Edit(frozenFile(readings), append([]string{`/job="` + plan.Job.ID + `"`, fmt.Sprintf("/revision=%d", plan.Job.Revision)}, ofDone...)))
	if err != nil {
		return err.Error()
	}
	review, err := plan.Review(done)
	if err != nil {
		return err.Error()
	}
	if way != "record" {
		return frozenWords(language).Review(review)
	}
	text, err := review.Record()
	if err != nil {
		return err.Error()
	}
	record, err := service.ReadRecord(text)
	if err != nil {
		return err.Error()
	}
	said, err := frozenWords(language).Record(record)
	if err != nil {
		return err.Error()
	}
	return said
}

var frozenCalls = frozen.Of(frozen.Calls{
	"Sheet": func(way, language, job string, edits ...string) string {
		return frozen.Difference(frozenSheet(way, language, job, nil), frozenSheet(way, language, job, edits))
	},
	"Review": func(way, language, job string, edits ...string) string {
		return frozen.Difference(frozenReview(way, language, job, nil), frozenReview(way, language, job, edits))
	},
	"DrawTurn": func(language string, marks turn.Ring, from turn.Position, in turn.Instruction, hand turn.Hand, view turn.View) (string, error) {
		svg, err := frozenWords(language).DrawTurn(marks, from, in, hand, view)
		return strings.ReplaceAll(string(svg), "><", ">\n<"), err
	},
	"With": func(lines ...string) (string, error) {
		w, err := English().With(strings.Join(lines, "\n"))
		if err != nil {
			return "", err
		}
		return w.Say(service.Message{Code: "test.code"}), nil
	},
	"In": func(tag string) (string, error) {
		w, err := In(tag)
		if err != nil {
			return "", err
		}
		return w.language, nil
	},
}, Sheet{})

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
