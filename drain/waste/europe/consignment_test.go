package europe_test

import (
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func weighed(text string) drain.Estimate[units.MassUnit] {
	m := units.MustParseMass(text)
	return drain.Estimate[units.MassUnit]{Low: m, Best: m, High: m, From: drain.Weighed}
}

func pads(m drain.Estimate[units.MassUnit]) waste.Batch {
	return waste.Batch{Description: "invented waste", Stream: waste.Absorbents, Mass: m, Containers: []waste.Container{{}}}
}

func TestConsignment(t *testing.T) {
	for _, c := range []struct {
		mass   string
		places int
		want   string
		zero   bool
	}{
		{"41.649 kg", 0, "42 kg", false},
		{"41.3 kg", 0, "41 kg", false},
		{"41.649 kg", 1, "41.6 kg", false},
		{"41.64949 kg", 3, "41.649 kg", false},
		{"41.6495 kg", 3, "41.650 kg", false},
		{"0 kg", 0, "0 kg", false},        // nothing is there
		{"41.65 kg", 1, "41.7 kg", false}, // a tie goes up
		{"220 lb", 2, "99.79 kg", false},  // D
		{"0.2 kg", 0, "0 kg", true},
		{"0.2 kg", 1, "0.2 kg", false},
		{"0.0004 kg", 3, "0.000 kg", true},
	} {
		got, err := europe.Consign(pads(weighed(c.mass)), "bags", c.places)
		require.NoError(t, err)
		assert.Equal(t, c.want, got.Kilograms.String())
		assert.Equal(t, c.zero, got.Zero)
		assert.Contains(t, got.String(), waste.Caveat)
		assert.Equal(t, c.zero, strings.Contains(got.String(), "rounds to 0 although it isn't zero"), "%s to %d places", c.mass, c.places)
	}
	for high, zero := range map[string]bool{"0 kg": false, "0.1 kg": true} {
		upTo := drain.Estimate[units.MassUnit]{High: units.MustParseMass(high), From: drain.Assumed}
		got, err := europe.Consign(pads(upTo), "bags", 0)
		require.NoError(t, err)
		assert.Equal(t, zero, got.Zero, "up to %s may be there", high)
	}
}

func TestConsignmentsRefused(t *testing.T) {
	byVolume := pads(drain.Estimate[units.MassUnit]{})
	byVolume.Volume = drain.Estimate[units.VolumeUnit]{Low: units.Litre.Of(1), Best: units.Litre.Of(1), High: units.Litre.Of(1), From: drain.Measured}
	for _, c := range []struct {
		name      string
		batch     waste.Batch
		container string
		places    int
		want      error
	}{
		{"no places", pads(weighed("1 kg")), "bags", -1, units.ErrRange},
		{"four places", pads(weighed("1 kg")), "bags", 4, units.ErrRange},
		{"far too many", pads(weighed("1 kg")), "bags", 1 << 30, units.ErrRange},
		{"too large at three places", pads(weighed("10000000 kg")), "bags", 3, units.ErrRange},
		{"no container", pads(weighed("1 kg")), " ", 0, drain.ErrMissing},
		{"two lines", pads(weighed("1 kg")), "ba\ngs", 0, units.ErrSyntax},
		{"a long word", pads(weighed("1 kg")), strings.Repeat("x", 65), 0, units.ErrSyntax},
		{"litres alone", byVolume, "bags", 0, drain.ErrMissing},
		{"no batch", waste.Batch{}, "bags", 0, drain.ErrMissing},
	} {
		got, err := europe.Consign(c.batch, c.container, c.places)
		var typed *waste.Error
		require.ErrorAs(t, err, &typed, c.name)
		require.ErrorIs(t, err, c.want, c.name)
		assert.NotEmpty(t, typed.Want, c.name)
		assert.Equal(t, europe.Consignment{}, got)
	}
}
