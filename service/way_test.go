package service

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// jsonNames are the fields of a struct as JSON has them.
func jsonNames(of any) (names []string) {
	t := reflect.TypeOf(of)
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		names = append(names, name)
	}
	return names
}

// A field of Tighten is a way, or is beside some ways, or beside each of them; a reading of a
// station belongs to a way or to each. No field is left out, so that none is passed over silently.
func TestEveryFieldBelongsToAWay(t *testing.T) {
	seat, none := Seat{Torque: torque.Band{}}, Seat{}
	fields, readings := []string{"thread", "stud", "canister"}, slices.Clone(everyWay)
	var beside []string
	for _, tighten := range []Tighten{{Seat: &seat}, {Seat: &none}} {
		for _, w := range tighten.ways() {
			fields = append(fields, w.name())
			beside, readings = append(beside, w.beside()...), append(readings, w.takes()...)
		}
	}
	for _, b := range besides {
		fields = append(fields, b.field)
		assert.Contains(t, beside, b.field, "no way takes it")
	}
	for _, field := range beside {
		assert.Contains(t, fields, field, "no such field")
	}
	for _, c := range []struct{ have, want []string }{{jsonNames(Tighten{}), fields}, {jsonNames(StationDone{}), readings}} {
		slices.Sort(c.want)
		slices.Sort(c.have)
		assert.Equal(t, slices.Compact(c.want), c.have)
	}
}

// Each way is in an invented job that runs it through: the sheet's tests find what has no words there.
func TestEveryWayIsInAJob(t *testing.T) {
	files, err := filepath.Glob("testdata/jobs/*.json")
	require.NoError(t, err)
	tried := map[string]bool{}
	for _, file := range append(files, "testdata/bench.json", "../examples/servicesheet/demo.json") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		job, err := ReadJob(text)
		require.NoError(t, err, file)
		for _, s := range job.Stations {
			tried[s.Tighten.way().name()] = true
		}
	}
	for _, w := range (Tighten{}).ways() {
		assert.True(t, tried[w.name()], "no job has the way %s", w.name())
	}
}

func TestWhatStandsBesideAnotherWay(t *testing.T) {
	band := torque.MustParseBand("30 to 40 N·m")
	sequence, err := turn.ParseSequence("40 N·m then 90°")
	require.NoError(t, err)
	turns := turn.MustOf(4, 1)
	gasket := units.Millimetre.Of(4)
	for _, c := range []struct {
		tighten Tighten
		path    string
	}{
		{Tighten{Torque: band, ContactTurns: turns}, "contactTurns"},
		{Tighten{Printed: "266-354 in-lb (30-40 N·m)", Gasket: gasket}, "gasket"},
		{Tighten{Torque: band, Snug: band}, "snug"},
		{Tighten{Torque: band, Within: &TurnTolerance{More: turns}}, "within"},
		{Tighten{Torque: band, Marks: &Marks{}}, "marks"},
		{Tighten{Sequence: sequence, OrSeated: true}, "orSeated"},
		{Tighten{Sequence: sequence, ContactTurns: turns}, "contactTurns"},
		{Tighten{Seat: &Seat{Gap: "all round"}, Gasket: gasket}, "gasket"},
		{Tighten{Seat: &Seat{Gap: "all round"}, Adapter: &Adapter{Name: "strap", Kind: StrapWrench}}, "adapter"},
	} {
		c.tighten.Thread = turn.RightHand
		var errs JobErrors
		c.tighten.check("tighten", &errs)
		require.Len(t, errs, 1, "%s", c.path)
		assert.Equal(t, "tighten."+c.path, errs[0].Path)
		assert.ErrorIs(t, errs, errContradiction)
	}
}
