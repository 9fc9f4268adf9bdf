package drain_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// FuzzParse: a density as stated and a time are read, written and read again as the same; what is refused is
// refused by an error that is typed, short and seen. A fuel of any density has a volume factor or an error.
func FuzzParse(f *testing.F) {
	for _, text := range []string{"35.2 °API", "843.2 kg/m³ at 15 °C", "7.1 lb/US gal", "0.84", "relative density 0.84 60/60 °F", "1min30s", "30 s", "1 h", "1:30",
		"-1 s", "9999999999h", "1e9 s", "0.0000000001 s", "½ h", "NaN °API", "\u202e1 s"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		refused := func(err error) {
			var parse *units.ParseError
			var input *drain.InputError
			if errors.As(err, &parse) {
				assert.LessOrEqual(t, len(parse.Input), 51)
			} else {
				require.ErrorAs(t, err, &input)
			}
			assert.Less(t, len(err.Error()), 600)
			assert.Empty(t, plain.Hidden(err.Error()))
		}
		if d, err := drain.ParseStatedDensity(text); err != nil {
			refused(err)
		} else {
			again, err := drain.ParseStatedDensity(d.String())
			require.NoError(t, err)
			assert.Equal(t, d.String(), again.String())
			if fuel, err := d.Fuel(units.Celsius.Of(15)); err == nil { // at 60 °F, no other temperature may be given
				hot, err := fuel.DensityAt(units.Celsius.Of(40))
				require.NoError(t, err)
				cold, _ := fuel.Density()
				assert.Equal(t, -1, hot.Compare(cold), "%v at 40 °C", d)
			}
		}
		var d, again drain.Duration
		if err := d.UnmarshalText([]byte(text)); err != nil {
			refused(err)
		} else {
			require.NoError(t, again.UnmarshalText([]byte(d.String())))
			assert.Equal(t, d, again)
		}
	})
}
