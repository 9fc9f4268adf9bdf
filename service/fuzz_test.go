package service

import (
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/testdata/jsonpiece"
)

// odd are some for [jsonpiece.Put] that each kind of value knows.
var odd = []string{"", "null", "[]", "{}", "1e400", "-0 in-lb", "1e999999999 L", "⅓ turn", "1/0", "\u202e\x1b[2J", "<script>", "9999999999999999999999 N·m",
	"2026-02-30", "0.0000000000000000001 mL", "Europe/Vienna", "M22x1.5-LH", "30 ± 30 N·m", "8760h", "NaN", "counterclockwise"}

func seedJobs(f *testing.F, add func(job string)) {
	add(bench)
	for _, name := range []string{"cartridge", "cover-and-cap", "three-stations", "two-stations"} {
		text, err := os.ReadFile("testdata/jobs/" + name + ".json")
		require.NoError(f, err)
		add(string(text))
	}
}

// refusedInLines holds an error to its shape: a line for each thing that is wrong, none of them long or with
// anything unseen, each with a code.
func refusedInLines(t *testing.T, err error) {
	t.Helper()
	var all JobErrors
	if !errors.As(err, &all) || len(all) == 0 || len(all) > maxErrors+1 {
		t.Fatalf("no JobErrors, or too many: %v", err)
	}
	for _, one := range all {
		if line := one.Error(); len(line) > 1000 || plain.Hidden(line) != "" || strings.TrimSpace(line) == "" || one.Code() == "" {
			t.Fatalf("a line of %d bytes, %q: %q", len(line), one.Code(), line)
		}
	}
}

// comesBack: a job that is written by encoding/json is the job that is read.
func comesBack(t *testing.T, job Job) {
	t.Helper()
	written, err := json.Marshal(job)
	require.NoError(t, err)
	again, err := ReadJob(written)
	require.NoError(t, err)
	rewritten, err := json.Marshal(again)
	require.NoError(t, err)
	require.Equal(t, string(written), string(rewritten))
}

// FuzzReadJob: what is refused is refused in lines; what is read is written and read again as the same, and
// planned or refused in lines.
func FuzzReadJob(f *testing.F) {
	seedJobs(f, func(job string) {
		for i, text := range odd {
			f.Add(job, uint16(7*i), text)
		}
	})
	f.Add(`{"version": 1e400}`, uint16(0), "")
	f.Add(`[[[{"a":null}]]]`, uint16(0), "")
	f.Fuzz(func(t *testing.T, data string, piece uint16, text string) {
		job, err := ReadJob([]byte(jsonpiece.Put(data, piece, text)))
		if err != nil {
			refusedInLines(t, err)
			return
		}
		comesBack(t, job)
		plan, err := NewPlan(job, Rules{})
		if err != nil {
			refusedInLines(t, err)
			return
		}
		if shown := plan.Text(); plain.Hidden(strings.ReplaceAll(shown, "\n", " ")) != "" {
			t.Fatalf("unseen on the sheet: %q", plain.Hidden(strings.ReplaceAll(shown, "\n", " ")))
		}
	})
}

// FuzzReadJobOn: a job on a machine card is refused in lines, or is what the job is that it is written as.
func FuzzReadJobOn(f *testing.F) {
	machine, err := os.ReadFile("testdata/machine.json")
	require.NoError(f, err)
	job, err := os.ReadFile("testdata/job-on-machine.json")
	require.NoError(f, err)
	for i, text := range odd {
		f.Add(string(machine), string(job), uint16(11*i), text, i%2 == 0)
	}
	f.Fuzz(func(t *testing.T, machine, job string, piece uint16, text string, ofJob bool) {
		if ofJob {
			job = jsonpiece.Put(job, piece, text)
		} else {
			machine = jsonpiece.Put(machine, piece, text)
		}
		made, err := ReadJobOn([]byte(machine), []byte(job))
		if err != nil {
			refusedInLines(t, err)
			return
		}
		comesBack(t, made)
	})
}

// FuzzReadRecord: the hash is made right for what was edited, so that what it guards is looked at.
func FuzzReadRecord(f *testing.F) {
	record := string(benchRecord(f))
	for i, text := range odd {
		f.Add(record, uint16(31*i), text)
	}
	other, err := os.ReadFile("testdata/other-release.json")
	require.NoError(f, err)
	f.Add(string(other), uint16(0), "")
	f.Add(`{"version":1,"rules":{"agreed":{}}}`, uint16(0), "")
	f.Fuzz(func(t *testing.T, data string, piece uint16, text string) {
		data = jsonpiece.Put(data, piece, text)
		if root, ok := records.Parse([]byte(data), "", func(string, string, string, error) {}); ok && text != "" {
			if sealed, err := root.Sealed(sealKey); err == nil {
				data = string(sealed.JSON())
			}
		}
		record, err := ReadRecord([]byte(data))
		if err != nil {
			refusedInLines(t, err)
			return
		}
		if record.Verified && (record.Release != Release || record.Differences != nil) {
			t.Fatal("verified, and by another release")
		}
		for _, d := range record.Differences {
			require.Empty(t, plain.Hidden(d.String()))
		}
		written, err := record.MarshalJSON()
		require.NoError(t, err)
		again, err := ReadRecord(written)
		if err != nil || again.Verified != record.Verified || again.SHA256 != record.SHA256 {
			t.Fatal("written again it is another", err)
		}
	})
}
