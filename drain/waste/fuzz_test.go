package waste_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// FuzzDate: a date and a zone are read as they are written, and days are counted back to where they came from.
func FuzzDate(f *testing.F) {
	for _, text := range []string{"2026-03-31", "2024-02-29", "2023-02-29", "0001-01-01", "9999-12-31", "2026-3-1", "31.03.2026", "2026-03-31T00:00:00Z", "Europe/Vienna",
		"UTC", "../../etc/passwd", "America/Argentina/Buenos_Aires", "\u202e2026-03-31", "２０２６-03-31"} {
		f.Add(text, 1)
	}
	f.Add("2026-03-31", math.MaxInt)
	f.Fuzz(func(t *testing.T, text string, days int) {
		short := func(err error) {
			var parse *units.ParseError
			var own *waste.Error
			if errors.As(err, &parse) {
				assert.LessOrEqual(t, len(parse.Input), 51)
			} else {
				require.ErrorAs(t, err, &own)
				assert.LessOrEqual(t, len(own.Input), 51)
			}
			assert.Less(t, len(err.Error()), 600)
			assert.Empty(t, plain.Hidden(err.Error()))
		}
		var zone waste.Zone
		if err := zone.UnmarshalText([]byte(text)); err != nil {
			short(err)
		} else {
			assert.Equal(t, text, string(zone))
		}
		d, err := waste.ParseDate(text)
		if err != nil {
			short(err)
			return
		}
		assert.Equal(t, text, d.String())
		if days %= 4_000_000; days != 0 {
			if e := d.AddDays(days); e.Compare(waste.Date{}) != 0 && e.AddDays(-days).Compare(d) == 0 {
				assert.Equal(t, days, d.DaysUntil(e))
			}
		}
	})
}
