package units

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Densities at 60 °F, computed (D) by another program from the density of water and the definitions of
// API MPMS 11.1-2004.
func TestAPIGravity(t *testing.T) {
	for degrees, want := range map[string]string{
		"10": "999.02", "30": "875.30", "33": "859.34", "35": "849.01", "37": "838.94", "40": "824.26", "42": "814.76",
	} {
		density, err := DensityOfAPIGravity(decimal.RequireFromString(degrees), 2, ToNearestEven)
		require.NoError(t, err)
		assert.Equal(t, want+" kg/m³", density.String(), degrees)
	}
	for density, want := range map[string]string{"800": "45.20", "820": "40.89", "832": "38.40", "840": "36.79", "845": "35.79"} {
		degrees, err := APIGravity(MustParseDensity(density+" kg/m³"), 2, ToNearestEven)
		require.NoError(t, err)
		assert.Equal(t, want, degrees.StringFixed(2), density)
	}
	ten, err := APIGravity(WaterAt60F(), 4, ToNearestEven)
	require.NoError(t, err)
	assert.Equal(t, "10.0000", ten.StringFixed(4), "water has 10 degrees API by definition")
}

func TestRelativeDensity(t *testing.T) {
	for density, want := range map[string]string{"999.016": "1.00000", "875.30": "0.87616", "838.94": "0.83977"} {
		got, err := RelativeDensity(MustParseDensity(density+" kg/m³"), 5, ToNearestEven)
		require.NoError(t, err)
		assert.Equal(t, want, got.StringFixed(5), density)
	}
	density, err := DensityOfRelative(decimal.RequireFromString("0.85"), 4, ToNearestEven)
	require.NoError(t, err)
	assert.Equal(t, "849.1636 kg/m³", density.String())
}

func TestGravityThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degrees := decimal.New(rapid.Int64Range(-1000, 12000).Draw(t, "hundredths"), -2)
		low, err := DensityOfAPIGravity(degrees, 6, ToNegativeInf)
		require.NoError(t, err)
		high, err := DensityOfAPIGravity(degrees, 6, ToPositiveInf)
		require.NoError(t, err)
		require.LessOrEqual(t, low.Compare(high), 0)
		gap, exact := high.Sub(low)
		require.True(t, exact)
		require.LessOrEqual(t, gap.Compare(MustParseDensity("0.000001 kg/m³")), 0)
		back, err := APIGravity(low, 2, ToNearestEven)
		require.NoError(t, err)
		require.True(t, degrees.Equal(back), "%s %s", degrees, back)
		relative, err := RelativeDensity(low, 30, ToNearestEven)
		require.NoError(t, err)
		again, err := DensityOfRelative(relative, 6, ToNearestEven)
		require.NoError(t, err)
		require.True(t, low.Equal(again))
	})
}

func TestGravityRefuses(t *testing.T) {
	huge := decimal.New(1, 1e8)
	for name, call := range map[string]func() error{
		"zero density":     func() error { _, err := APIGravity(Density{}, 2, ToNearestEven); return err },
		"negative density": func() error { _, err := RelativeDensity(KilogramPerLitre.Of(-1), 2, ToNearestEven); return err },
		"no unit":          func() error { _, err := APIGravity(DensityUnit(99).Of(1), 2, ToNearestEven); return err },
		"-131.5":           func() error { _, err := DensityOfAPIGravity(decimal.New(-1315, -1), 2, ToNearestEven); return err },
		"huge gravity":     func() error { _, err := DensityOfAPIGravity(huge, 2, ToNearestEven); return err },
		"zero":             func() error { _, err := DensityOfRelative(decimal.Decimal{}, 2, ToNearestEven); return err },
		"huge relative":    func() error { _, err := DensityOfRelative(huge, 2, ToNearestEven); return err },
	} {
		var magnitude *MagnitudeError
		require.ErrorAs(t, call(), &magnitude, name)
		assert.ErrorIs(t, call(), ErrRange, name)
	}
	_, err := DensityOfRelative(decimal.New(1, -61), 2, ToNearestEven) // more than 0, so that isn't the reason
	assert.EqualError(t, err, "relative density in its scale: too many digits (an exponent of -61); want more than 0, in at most 34 digits and 60 places")
	_, err = FromRat(nil, NewtonMetre, 2, ToNearestEven)
	assert.EqualError(t, err, "torque in N·m: no number (nil); want a fraction")
	assert.Zero(t, waterRat().Cmp(big.NewRat(999016, 1000)))
}
