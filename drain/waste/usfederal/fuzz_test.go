package usfederal_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// FuzzManifestLine: a batch of any words, mass and codes is refused by a typed error, or is a line in the form's whole
// units that shows nothing unseen.
func FuzzManifestLine(f *testing.F) {
	f.Add("used elements", uint8(4), "40 kg", "43 kg", "", "D018", 1, uint8(1), uint8(1))
	f.Add("fuel\n\u202e", uint8(1), "0.2 kg", "0.2 kg", "55 US gal", "D001 D018", 3, uint8(2), uint8(3))
	f.Add(strings.Repeat("x", 300), uint8(9), "99999999999999999999999 kg", "99999999999999999999999 kg", "", "d001 nonsense", 0, uint8(99), uint8(99))
	f.Fuzz(func(t *testing.T, words string, stream uint8, low, high, volume, codes string, containers int, container, unit uint8) {
		b := waste.Batch{Description: words, Stream: waste.Stream(stream), Codes: strings.Fields(codes), Containers: make([]waste.Container, uint(containers)%2000)}
		least, err := units.ParseMass(low)
		if err != nil {
			return
		}
		most, err := units.ParseMass(high)
		if err != nil {
			return
		}
		if b.Mass, err = drain.NewEstimate(least, most, most, drain.Weighed); err != nil {
			return
		}
		if v, err := units.ParseVolume(volume); err == nil {
			b.Volume, _ = drain.Exactly(v, drain.Measured) // refused, it isn't known
		}
		line, err := usfederal.NewManifestLine(b, usfederal.ContainerCode(container), usfederal.UnitCode(unit))
		if err != nil {
			var own *waste.Error
			require.ErrorAs(t, err, &own)
			assert.LessOrEqual(t, len(own.Input), 51)
			assert.Less(t, len(err.Error()), 600)
			assert.Empty(t, plain.Hidden(err.Error()))
			return
		}
		assert.LessOrEqual(t, line.Quantity, int64(999_999_999))
		assert.GreaterOrEqual(t, line.Quantity, int64(0))
		for shown := range strings.Lines(line.String()) {
			require.Empty(t, plain.Hidden(strings.TrimSuffix(shown, "\n")))
		}
	})
}
