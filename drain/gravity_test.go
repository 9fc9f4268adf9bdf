package drain

import (
	"errors"
	"testing"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Densities at 60 °F, computed from the published density of water: 999.016·141.5/(°API + 131.5). Source: api-11-1.
func TestAPIGravity(t *testing.T) {
	for degrees, want := range map[string]string{
		"10": "999.02", "30": "875.30", "33": "859.34", "35": "849.01", "37": "838.94", "40": "824.26", "42": "814.76",
	} {
		density, err := densityOfAPIGravity(decimal.RequireFromString(degrees), 2, units.ToNearestEven)
		require.NoError(t, err)
		assert.Equal(t, want+" kg/m³", density.String(), degrees)
	}
	for density, want := range map[string]string{"800": "45.20", "820": "40.89", "832": "38.40", "840": "36.79", "845": "35.79",
		"999.016": "10.00"} { // water has 10 degrees API by definition
		fuel, err := FuelAt(units.MustParseDensity(density+" kg/m³"), sixty)
		require.NoError(t, err)
		degrees, err := fuel.APIGravity(2)
		require.NoError(t, err)
		assert.Equal(t, want, degrees.StringFixed(2), density)
	}
}

func TestRelativeDensity(t *testing.T) {
	for density, want := range map[string]string{"999.016": "1.00000", "875.30": "0.87616", "838.94": "0.83977"} {
		fuel, err := FuelAt(units.MustParseDensity(density+" kg/m³"), sixty)
		require.NoError(t, err)
		got, err := fuel.RelativeDensity(5)
		require.NoError(t, err)
		assert.Equal(t, want, got.StringFixed(5), density)
	}
	density, err := densityOfRelative(decimal.RequireFromString("0.85"), 4, units.ToNearestEven)
	require.NoError(t, err)
	assert.Equal(t, "849.1636 kg/m³", density.String())
}

func TestGravityThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degrees := decimal.New(rapid.Int64Range(-1000, 12000).Draw(t, "hundredths"), -2)
		low, err := densityOfAPIGravity(degrees, 6, units.ToNegativeInf)
		require.NoError(t, err)
		high, err := densityOfAPIGravity(degrees, 6, units.ToPositiveInf)
		require.NoError(t, err)
		require.LessOrEqual(t, low.Compare(high), 0)
		gap, exact := high.Sub(low)
		require.True(t, exact)
		require.LessOrEqual(t, gap.Compare(units.MustParseDensity("0.000001 kg/m³")), 0)
		back := rational.Round(gravity(low), 2)
		require.True(t, degrees.Equal(back), "%s %s", degrees, back)
		again, err := densityOfRelative(rational.Round(relative(low), 30), 6, units.ToNearestEven)
		require.NoError(t, err)
		require.True(t, low.Equal(again))
	})
}

func TestGravityRefuses(t *testing.T) {
	huge := decimal.New(1, 1e8)
	for name, call := range map[string]func() error{
		"-131.5": func() error {
			_, err := densityOfAPIGravity(decimal.New(-1315, -1), 2, units.ToNearestEven)
			return err
		},
		"huge gravity":  func() error { _, err := densityOfAPIGravity(huge, 2, units.ToNearestEven); return err },
		"zero":          func() error { _, err := densityOfRelative(decimal.Decimal{}, 2, units.ToNearestEven); return err },
		"huge relative": func() error { _, err := densityOfRelative(huge, 2, units.ToNearestEven); return err },
	} {
		var input *InputError
		require.ErrorAs(t, call(), &input, name)
		assert.ErrorIs(t, call(), units.ErrRange, name)
	}
	_, err := densityOfRelative(decimal.New(1, -61), 2, units.ToNearestEven) // more than 0, so that isn't the reason
	assert.EqualError(t, err, "relative density: too many digits or too large; want more than 0, with at most 34 digits and 60 places")
	_, err = densityOfAPIGravity(decimal.New(-1315, -1), 2, units.ToNearestEven)
	assert.EqualError(t, err, `API gravity "-131.5": out of range; want more than -131.5`)
	_, err = Fuel{}.APIGravity(2)
	assert.True(t, errors.Is(err, ErrMissing))
}
