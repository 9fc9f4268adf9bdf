package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/turn"
)

func file(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../testdata/" + name)
	require.NoError(t, err)
	return string(text)
}

func bench(t testing.TB) string       { return file(t, "bench.json") }
func coverAndCap(t testing.TB) string { return file(t, "jobs/cover-and-cap.json") }

const (
	wide        = `{"id": "W-1", "lowest": "10 N·m", "highest": "60 N·m", "step": "0.5 N·m", "deviation": "4 %", "length": "300 mm", "calibratedUntil": "2026-12-31"}`
	snugBand    = `"snug": "40 ± 4 N·m",`
	angleWithin = `"within": {"less": "2°", "more": "5°"},`
)

func benchPlan(t testing.TB, edits ...string) *service.Plan {
	t.Helper()
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, bench(t), edits[i], "the edit finds its place")
	}
	job, err := service.ReadJob([]byte(strings.NewReplacer(edits...).Replace(bench(t))))
	require.NoError(t, err)
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	return plan
}

func flat(text string) string { return strings.Join(strings.Fields(text), " ") }

func edited(t testing.TB, text string, edits ...string) []byte {
	t.Helper()
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, text, edits[i], "the edit finds its place")
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return []byte(text)
}

func coverPlan(t testing.TB, edits ...string) *service.Plan {
	t.Helper()
	job, err := service.ReadJob(edited(t, coverAndCap(t), edits...))
	require.NoError(t, err)
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	return plan
}

// oneStation is the plan of a job of one station that is tightened in that way.
func oneStation(t testing.TB, tighten service.Tighten) *service.Plan {
	t.Helper()
	job := benchPlan(t).Job
	if tighten.Thread == 0 {
		tighten.Thread = turn.RightHand
	}
	job.Stations = job.Stations[:1]
	job.Stations[0].Tighten = tighten
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	return plan
}

func withWrenches(list ...string) []string {
	return []string{`"panHolds": "10 L"`, `"panHolds": "10 L", "wrenches": [` + strings.Join(list, ",") + `]`}
}

func wellFormed(t *testing.T, page []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func ptr[T any](v T) *T { return &v }
