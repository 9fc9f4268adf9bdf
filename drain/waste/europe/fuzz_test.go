package europe_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// FuzzConsign: a batch of any words, mass and codes is refused by a typed error, or is a line in kilograms that is
// within half of its last place of the mass and shows nothing unseen.
func FuzzConsign(f *testing.F) {
	f.Add("used elements", uint8(4), "40.55 kg", "15 02 02*", "drums", 1, 2)
	f.Add("fuel\n\u202e", uint8(1), "0.0004 lb", "", "bags\x00", 3, 3)
	f.Add(strings.Repeat("x", 300), uint8(9), "99999999999999999999999 kg", "nonsense,13 07 01*", "", 0, -1)
	f.Fuzz(func(t *testing.T, words string, stream uint8, mass, codes, container string, containers, places int) {
		b := waste.Batch{Description: words, Stream: waste.Stream(stream), Containers: make([]waste.Container, uint(containers)%2000)}
		if codes != "" {
			b.Codes = strings.Split(codes, ",")
		}
		m, err := units.ParseMass(mass)
		if err != nil {
			return
		}
		if b.Mass, err = drain.Exactly(m, drain.Weighed); err != nil {
			return
		}
		line, err := europe.Consign(b, container, places)
		if err != nil {
			var own *waste.Error
			require.ErrorAs(t, err, &own)
			assert.LessOrEqual(t, len(own.Input), 51)
			assert.Less(t, len(err.Error()), 600)
			assert.Empty(t, plain.Hidden(err.Error()))
			return
		}
		low, high := m.RoundIn(units.Kilogram, places, units.ToNegativeInf), m.RoundIn(units.Kilogram, places, units.ToPositiveInf)
		assert.True(t, low.Compare(line.Kilograms) <= 0 && line.Kilograms.Compare(high) <= 0, "%v is %v", m, line.Kilograms)
		for shown := range strings.Lines(line.String()) {
			require.Empty(t, plain.Hidden(strings.TrimSuffix(shown, "\n")))
		}
	})
}
