package service

import (
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/strictjson"
)

func fileOf(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(text)
}

// A card and a job of at most a dozen lines are the job that the long form is, but for the card's name.
func TestJobOnCardIsTheLongForm(t *testing.T) {
	for _, c := range []struct{ machine, job, long string }{
		{"testdata/machine.json", "testdata/job-on-machine.json", "testdata/jobs/two-stations.json"},
		{"../examples/servicesheet/demo-machine.json", "../examples/servicesheet/demo-job.json", "../examples/servicesheet/demo.json"},
	} {
		job := fileOf(t, c.job)
		assert.LessOrEqual(t, strings.Count(job, "\n"), 12, c.job)
		got, err := ReadJobOn([]byte(fileOf(t, c.machine)), []byte(job))
		require.NoError(t, err)
		want, err := ReadJob([]byte(fileOf(t, c.long)))
		require.NoError(t, err)
		require.NotEmpty(t, got.Card)
		want.Card = got.Card
		assert.Equal(t, want, got)

		text, err := json.Marshal(got)
		require.NoError(t, err)
		again, err := ReadJob(text)
		require.NoError(t, err, "an ordinary job, which a record holds")
		assert.Equal(t, got, again)
	}
}

// The rule, on each kind of value: two objects merge, anything else replaces.
func TestObjectsMergeAnythingElseReplaces(t *testing.T) {
	machine, job := fileOf(t, "testdata/machine.json"), fileOf(t, "testdata/job-on-machine.json")
	read := func(more string) Job {
		t.Helper()
		got, err := ReadJobOn([]byte(machine), []byte(strings.Replace(job, `"place"`, more+`, "place"`, 1)))
		require.NoError(t, err)
		return got
	}
	plain := read(`"invented": true`)

	text := read(`"machine": "Harvester 5"`)
	assert.Equal(t, "Harvester 5", text.Machine)
	deep := read(`"prime": {"crank": {"attempts": 2}}`)
	assert.Equal(t, 2, deep.Prime.Crank.Attempts)
	assert.Equal(t, plain.Prime.Crank.Limit, deep.Prime.Crank.Limit, "the rest stays")
	assert.Equal(t, plain.Prime.Void, deep.Prime.Void)
	list := read(`"isolate": [{"what": "key", "how": "out", "stopsStart": true, "forStart": "in"}]`)
	assert.Len(t, list.Isolate, 1, "a list replaces all of the list")

	one := read(`"stations": {"B": {"name": "fine filter"}}`)
	want := plain.Stations[1]
	want.Name = "fine filter"
	assert.Equal(t, []Station{plain.Stations[0], want}, one.Stations, "in the card's order")
	whole, err := json.Marshal(plain.Stations[1])
	require.NoError(t, err)
	assert.Equal(t, plain.Stations[1:], read(`"stations": [`+string(whole)+`]`).Stations, "a list replaces all of the card's")
	another := strings.Replace(string(whole), `"id":"B",`, "", 1)
	added := read(`"stations": {"C": ` + another + `}`).Stations
	require.Len(t, added, 3)
	assert.Equal(t, "C", added[2].ID, "a new one stands behind")
}

// Each error says which of the two files is to be mended, and where in it.
func TestJobOnCardRefuses(t *testing.T) {
	machine, job := fileOf(t, "testdata/machine.json"), fileOf(t, "testdata/job-on-machine.json")
	for _, c := range []struct {
		inCard   bool
		old, new string
		path     string
		cause    error
	}{
		{true, `"version": 1`, `"version": 1, "version": 1`, "machine.version", errDuplicateField},
		{true, `"version": 1`, `"version": 2`, "machine.version", ErrNewerVersion},
		{true, `"version": 1,`, ``, "machine.version", errMissingField},
		{true, `"card": "Harvester 4, 2nd state",`, ``, "machine.card", errMissingField},
		{true, `"grade": "No. 2-D"`, `"grade": "No. 2-D", "grad": "x"`, "machine.fuel.grad", errUnknownField},
		{true, `"grade": "No. 2-D"`, `"grade": null`, "machine.fuel.grade", errType},
		{true, `"place": "the yard"`, `"place": null`, "machine.place", errType}, // though the job replaces it
		{true, `"grade": "No. 2-D",`, ``, "job.fuel.grade", errMissingField},     // of neither: the object is the job's too
		{true, `"fill": "dry"`, `"fill": "dried"`, "machine.stations.A.fill", nil},
		{true, `"name": "pre-filter bowl"`, `"id": "A", "name": "x"`, "machine.stations.A.id", errDuplicateField},
		{true, `"name": "pre-filter bowl",`, ``, "machine.stations.A.name", errMissingField},
		{true, `"wet": "clean fuel"`, `"wet": 7`, "machine.stations.A.seals[0].wet", errType},
		{true, `"best": "0.25 US gal"`, `"best": "0.15 US gal"`, "machine.stations.A.drain.out", nil},
		{true, machine, `[]`, "machine", errType},
		{true, machine, `{`, "machine", ErrJSON},
		{true, machine, strings.Repeat(" ", maxJobBytes+1), "machine", ErrSize},
		{false, job, strings.Repeat(" ", maxJobBytes+1), "job", ErrSize},
		{false, job, `{"stations": [` + strings.Repeat("0,", 1001) + `0]}`, "job", ErrSize},
		{false, job, strings.Repeat(`{"a":`, 20) + `1` + strings.Repeat("}", 20), "job", ErrJSON},
		{false, job, `null`, "job", errType},
		{false, `"date": "2026-10-05"`, `"date": "2026-10-05", "date": "2026-10-06"`, "job.date", errDuplicateField},
		{false, `, "date": "2026-10-05"`, ``, "job.date", errMissingField},
		{false, `"revision": 1, `, ``, "job.revision", errMissingField},
		{false, `"version": 1, `, ``, "job.version", errMissingField},
		{false, `"card": "Harvester 4, 2nd state"`, `"card": "Harvester 5"`, "job.card", errContradiction},
		{false, `"place": "invented farm workshop"`, `"place": null`, "job.place", errType},
		{false, `"caughtAt": "24 °C"`, `"caughtAt": "24"`, "job.fuel.caughtAt", nil},
		{false, `"place"`, `"stations": {"X": {"name": "x"}}, "place"`, "job.stations.X.kind", errMissingField},
		{false, `"place"`, `"stations": {"A": "x"}, "place"`, "job.stations.A", errType},
		{false, `"place"`, `"stations": "A", "place"`, "job.stations", errType},
		{false, `"place"`, `"stations": {"A": {"tighten": {"thread": "left hand"}}}, "shop": {"torquePlaces": 9}, "place"`, "job.shop.torquePlaces", nil},
		{false, `"soFar"`, `"sofar": "1 kg", "soFar"`, "job.waste.month.sofar", errUnknownField},
	} {
		card, over := machine, job
		if at := &over; c.inCard {
			at = &card
			require.Contains(t, *at, c.old)
			*at = strings.Replace(*at, c.old, c.new, 1)
		} else {
			require.Contains(t, *at, c.old)
			*at = strings.Replace(*at, c.old, c.new, 1)
		}
		got, err := ReadJobOn([]byte(card), []byte(over))
		assert.Zero(t, got)
		var all JobErrors
		require.ErrorAs(t, err, &all, c.new)
		found := 0
		for _, e := range all {
			assert.True(t, strictjson.Within(e.Path, "machine") || strictjson.Within(e.Path, "job"), e.Path)
			if e.Path == c.path && (c.cause == nil || errors.Is(e.Err, c.cause)) {
				found++
			}
		}
		assert.Equal(t, 1, found, "%s: want one at %s, got\n%v", c.new, c.path, err)
	}

	// A list of stations is no card: no job could name one of them.
	_, err := ReadJobOn([]byte(strings.Replace(fileOf(t, "testdata/jobs/two-stations.json"), `"version": 1`, `"version": 1, "card": "x"`, 1)), []byte(`{"version": 1, "id": "1", "revision": 1, "date": "2026-10-05"}`))
	assert.ErrorContains(t, err, "machine.stations: a list; want an object, each station under its ID")
}

// Errors without end are cut off, and cost no more than those of one file.
func TestJobOnCardCutsErrors(t *testing.T) {
	job := `{"stations": {` + strings.Repeat(`"A": null, `, 900) + `"B": null}}`
	_, err := ReadJobOn([]byte(job), []byte(job))
	var all JobErrors
	require.ErrorAs(t, err, &all)
	assert.Len(t, all, maxErrors+1)
}
