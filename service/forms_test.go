package service_test

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// forms has a folder of files a release, as it read and wrote them: job-demo.json, record-demo.json. What a
// release wrote is never written anew once the next one has begun.
const forms = "testdata/forms"

// formReaders are by what a file's name begins with. A file of a machine card has the job laid over it next to it.
var formReaders = map[string]func(t *testing.T, release, path string, text []byte){
	"job": func(t *testing.T, _, path string, text []byte) {
		job, err := service.ReadJob(text)
		require.NoError(t, err, path)
		assert.NoError(t, job.Check(), path)
	},
	"asdone": func(t *testing.T, _, path string, text []byte) {
		_, err := service.ReadAsDone(text)
		assert.NoError(t, err, path)
	},
	"rules": func(t *testing.T, _, path string, text []byte) {
		_, err := service.ReadRules(text)
		assert.NoError(t, err, path)
	},
	"machine": func(t *testing.T, _, path string, text []byte) {
		job, err := os.ReadFile(strings.Replace(path, "machine-", "onmachine-", 1))
		require.NoError(t, err, path)
		_, err = service.ReadJobOn(text, job)
		assert.NoError(t, err, path)
	},
	"onmachine": func(*testing.T, string, string, []byte) {}, // with its machine
	"sheet": func(t *testing.T, _, path string, text []byte) {
		var s sheet.Sheet
		require.NoError(t, json.Unmarshal(text, &s), path)
		page, err := s.HTML()
		require.NoError(t, err, path)
		assert.Contains(t, string(page), s.Job, path)
		assert.Contains(t, s.Text(), s.Job, path)
	},
	"ledger": func(t *testing.T, _, path string, text []byte) {
		var ledger waste.Ledger
		require.NoError(t, ledger.UnmarshalText(text), path)
		again, err := ledger.MarshalText()
		require.NoError(t, err)
		assert.Equal(t, string(text), string(again), path)
	},
	"record": func(t *testing.T, release, path string, text []byte) {
		record, err := service.ReadRecord(text)
		require.NoError(t, err, path)
		assert.Equal(t, release, record.Release, path)
		assert.Equal(t, release == service.Release, record.Verified, path)
		again, err := record.MarshalJSON()
		require.NoError(t, err)
		assert.Equal(t, string(text), string(again), path)
		t.Log(path, "judged again:", record.Differences)
	},
}

// Whatever a release wrote, every later one reads.
func TestRecordsAndFormsOfEveryRelease(t *testing.T) {
	if flag.Lookup("update-record").Value.String() == "true" {
		writeForms(t, filepath.Join(forms, service.Release))
	}
	releases, err := os.ReadDir(forms)
	require.NoError(t, err)
	var names []string
	for _, release := range releases {
		names = append(names, release.Name())
		paths, err := filepath.Glob(filepath.Join(forms, release.Name(), "*"))
		require.NoError(t, err)
		kinds := map[string]bool{}
		for _, path := range paths {
			kind, _, _ := strings.Cut(filepath.Base(path), "-")
			require.Contains(t, formReaders, kind, path)
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			formReaders[kind](t, release.Name(), path, text)
			kinds[kind] = true
		}
		assert.Len(t, kinds, len(formReaders), "one of each in %s", release.Name())
	}
	assert.True(t, slices.Contains(names, service.Release), "none of this release; go test ./service -run Record -update-record writes them")
}

// writeForms writes what this release reads and writes.
func writeForms(t *testing.T, dir string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(dir, 0o755))
	read := func(path string) []byte {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		return text
	}
	write := func(name string, text []byte, err error) {
		require.NoError(t, err)
		if !strings.Contains(name, ".") {
			name += ".json"
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	const demo = "../examples/servicesheet/"
	for name, path := range map[string]string{
		"job-demo": demo + "demo.json", "job-bench": "testdata/bench.json", "job-cartridge": "testdata/jobs/cartridge.json",
		"job-three-stations": "testdata/jobs/three-stations.json", "job-cover-and-cap": "testdata/jobs/cover-and-cap.json",
		"machine-demo": demo + "demo-machine.json", "onmachine-demo": demo + "demo-job.json",
		"rules-demo": demo + "demo-rules.json", "asdone-bench": "testdata/asdone.json",
	} {
		write(name, read(path), nil)
	}
	first, _, _ := strings.Cut(string(read("../examples/reviewbatch/demo.ndjson")), "\n")
	write("asdone-demo", []byte(first), nil)
	job, err := service.ReadJob(read("../examples/reviewbatch/demo.json"))
	require.NoError(t, err)
	rules, err := service.ReadRules(read("../examples/reviewbatch/demo-rules.json"))
	require.NoError(t, err)
	done, err := service.ReadAsDone([]byte(first))
	require.NoError(t, err)
	plan, err := service.NewPlan(job, rules)
	require.NoError(t, err)
	laid, err := sheet.English().Sheet(plan, true).JSON()
	write("sheet-demo", laid, err)
	review, err := plan.Review(done)
	require.NoError(t, err)
	text, err := review.Record()
	write("record-demo", text, err)
	var ledger waste.Ledger
	postings := []waste.Posting{{Withdrawal: &waste.Withdrawal{Job: "DEMO-0", Revision: 2}},
		{Drum: &waste.DrumEvent{Event: "opened", Date: job.Date, Container: waste.Container{ID: "D-07", Kind: "DM", Capacity: units.Litre.Of(208), FillLimit: units.Litre.Of(200)}}}}
	for _, entry := range review.Entries() {
		postings = append(postings, waste.Posting{Entry: &entry})
	}
	for _, posting := range postings {
		posting.At, posting.By = time.Date(2026, 3, 9, 15, 0, 0, 0, time.UTC), "invented"
		_, err := ledger.Add(posting)
		require.NoError(t, err)
	}
	text, err = ledger.MarshalText()
	write("ledger-demo.ndjson", text, err)
	write("record-month", []byte(strings.TrimSuffix(string(read("testdata/record-month.json")), "\n")), nil)
}

// CHANGELOG.md begins its releases with this one.
func TestReleaseIsTheNewestInTheChangelog(t *testing.T) {
	text, err := os.ReadFile("../CHANGELOG.md")
	require.NoError(t, err)
	head := regexp.MustCompile(`(?m)^## (\d+\.\d+\.\d+)( \(unreleased\)|, \d{4}-\d\d-\d\d)$`).FindAllSubmatch(text, -1)
	require.NotEmpty(t, head)
	assert.Equal(t, service.Release, string(head[0][1]))
	for _, entry := range head[1:] {
		assert.NotContains(t, string(entry[2]), "unreleased", "only the newest may be")
	}
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	assert.Contains(t, string(readme), "\n"+service.Release+",")
}

// Each form has a version of its own: a newer file is refused with both, whatever else is in it, and an unknown field of
// this one with the nearest that there is.
func TestNewerFormsAndUnknownFields(t *testing.T) {
	dir := filepath.Join(forms, service.Release)
	file := func(name string) string {
		text, err := os.ReadFile(filepath.Join(dir, name+".json"))
		require.NoError(t, err)
		return string(text)
	}
	on := file("onmachine-demo")
	for _, form := range []struct {
		name, text, path string
		read             func(text string) error
		old, new, near   string // a field misspelt
	}{
		{"job", file("job-bench"), "", func(text string) error { _, err := service.ReadJob([]byte(text)); return err },
			`"tighten":`, `"tightn":`, "stations[0].tightn: unknown field; want \"tighten\""},
		{"readings", file("asdone-bench"), "", func(text string) error { _, err := service.ReadAsDone([]byte(text)); return err },
			`"leaks":`, `"laeks":`, "stations[0].laeks: unknown field; want \"leaks\""},
		{"rules", file("rules-demo"), "", func(text string) error { _, err := service.ReadRules([]byte(text)); return err },
			`"count":`, `"counts":`, "counts: unknown field; want \"count\""},
		{"machine card", file("machine-demo"), "machine.", func(text string) error { _, err := service.ReadJobOn([]byte(text), []byte(on)); return err },
			`"grade":`, `"Grade":`, "machine.fuel.Grade: unknown field; want \"grade\""},
		{"job on it", on, "job.", func(text string) error {
			_, err := service.ReadJobOn([]byte(file("machine-demo")), []byte(text))
			return err
		},
			`"revision":`, `"revison":`, "job.revison: unknown field; want \"revision\""},
		{"record", file("record-demo"), "", func(text string) error { _, err := service.ReadRecord([]byte(text)); return err },
			"", "", ""},
	} {
		require.NoError(t, form.read(form.text), form.name)
		at := strings.LastIndex(form.text, `"version":`)
		if form.name != "record" { // where the last is the file's own
			at = strings.Index(form.text, `"version":`)
		}
		newer := form.text[:at] + `"novelty": [], "version": 12345` + strings.TrimLeft(form.text[at+len(`"version":`):], " 1")
		err := form.read(newer)
		assert.ErrorIs(t, err, service.ErrNewerVersion, form.name)
		assert.EqualError(t, err, form.path+"version: written for version 12345, this program reads version 1; want a newer program, or a file of version 1", form.name)
		if form.old != "" {
			require.Contains(t, form.text, form.old, form.name)
			assert.ErrorContains(t, form.read(strings.Replace(form.text, form.old, form.new, 1)), form.near, form.name)
		}
		older := form.text[:at] + `"version": 0` + strings.TrimLeft(form.text[at+len(`"version":`):], " 1")
		assert.Error(t, form.read(older), form.name)
	}
}
