package sheet

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/testdata/frozen"
	"example.com/snugturn/turn"
)

// The folder of package service that the tables' jobs are made of, see [frozen.Edit].
const frozenFolder = "../testdata"

func frozenPlan(name string, edits []string) (*service.Plan, error) {
	rules, err := service.ReadRules(frozen.Rules(frozenFolder, nil))
	if err != nil {
		return nil, err
	}
	job, err := service.ReadJob(frozen.Job(frozenFolder, name, edits))
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
	done, err := service.ReadAsDone(frozen.Readings(frozenFolder, plan.Job.ID, plan.Job.Revision, edits))
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
		return w.said.Language, nil
	},
}, Sheet{})

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }

// What the sheet, and the review of the files' readings, say of a job with one place of it otherwise: of one edit in three.
func TestFrozenEdits(t *testing.T) {
	jobs, done := map[string][]byte{}, map[string][]byte{}
	for _, name := range frozen.Jobs {
		jobs[name] = frozen.Job(frozenFolder, name, nil)
	}
	for _, name := range []string{"bench", "demo"} {
		job, err := service.ReadJob(jobs[name])
		require.NoError(t, err)
		done[name] = frozen.Readings(frozenFolder, job.ID, job.Revision, []string{name})
	}
	rules, err := service.ReadRules(frozen.Rules(frozenFolder, nil))
	require.NoError(t, err)
	var edits []frozen.Edited
	for i, e := range slices.Concat(frozen.Edits("", jobs, frozen.MoreOfJobs...), frozen.Edits("done", done, frozen.MoreOfReadings...)) {
		if i%3 == 0 || slices.Contains(frozen.MoreOfJobs, e.Edit) || slices.Contains(frozen.MoreOfReadings, strings.TrimPrefix(e.Edit, "done")) {
			edits = append(edits, e)
		}
	}
	frozen.TestEdits(t, "testdata/edits.txt", edits, func(name, edit string) string {
		edited, ofReadings := strings.CutPrefix(edit, "done")
		text := jobs[name]
		if !ofReadings {
			text = frozen.Edit(text, []string{edit})
		}
		job, err := service.ReadJob(text)
		if err != nil {
			return "job: " + err.Error()
		}
		plan, err := service.NewPlan(job, rules)
		if err != nil {
			return "plan: " + err.Error()
		}
		if ofReadings {
			readings, err := service.ReadAsDone(frozen.Edit(done[name], []string{edited}))
			if err != nil {
				return "readings: " + err.Error()
			}
			review, err := plan.Review(readings)
			if err != nil {
				return "review: " + err.Error()
			}
			text, err := review.Record()
			require.NoError(t, err)
			record, err := service.ReadRecord(text)
			require.NoError(t, err)
			said, err := English().Record(record)
			require.NoError(t, err)
			return English().Review(review) + said
		}
		s := English().Sheet(plan, true)
		said := s.Text() + frozen.Dump(s)
		if len(edit)%8 == 0 { // which takes longer
			html, err := s.HTML()
			require.NoError(t, err)
			said += s.ASCII() + string(html)
		}
		return said
	})
}
