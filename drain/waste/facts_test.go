package waste_test

import (
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func mass(t testing.TB, low, best, high string, from drain.Provenance) drain.Estimate[units.MassUnit] {
	t.Helper()
	e, err := drain.NewEstimate(units.MustParseMass(low), units.MustParseMass(best), units.MustParseMass(high), from)
	require.NoError(t, err)
	return e
}

func weighed(text string) drain.Estimate[units.MassUnit] {
	m := units.MustParseMass(text)
	return drain.Estimate[units.MassUnit]{Low: m, Best: m, High: m, From: drain.Weighed}
}

func volume(text string, from drain.Provenance) drain.Estimate[units.VolumeUnit] {
	v := units.MustParseVolume(text)
	return drain.Estimate[units.VolumeUnit]{Low: v, Best: v, High: v, From: from}
}

func density(text string) drain.Estimate[units.DensityUnit] {
	d := units.MustParseDensity(text)
	return drain.Estimate[units.DensityUnit]{Low: d, Best: d, High: d, From: drain.Stated}
}

// nothing is a dry mass of exactly zero.
func nothing() drain.Estimate[units.MassUnit] { return weighed("0 kg") }

// Computed from 1 lb = 0.45359237 kg; the first is what is printed in brackets behind 100 kg. Source: 24-fr-5348.
func TestPrintedPoundsAreRounded(t *testing.T) {
	for _, c := range []struct {
		from, to string
		places   int
	}{
		{"220 lb", "99.79 kg", 2},
		{"100 kg", "220.46 lb", 2},
		{"1000 kg", "2204.62 lb", 2},
		{"6000 kg", "13227.7 lb", 1},
	} {
		want := units.MustParseMass(c.to)
		got := units.MustParseMass(c.from).RoundIn(want.Unit(), c.places, units.ToNearestEven)
		assert.Equal(t, want.String(), got.String())
	}
}

// 840 kg/m³, full: computed from 231 in³ and 25.4 mm. Sources: 24-fr-5348, nist-hb44-c, 40-cfr-260.
func TestDrumOfDiesel(t *testing.T) {
	for _, c := range []struct{ drum, kilograms string }{
		{"55 US gal", "174.9"}, {"30 US gal", "95.4"}, {"15 US gal", "47.7"}, {"5 US gal", "15.9"},
		{"119.05 L", "100.0"}, {"31.45 US gal", "100.0"}, {"1190.5 L", "1000.0"}, {"314.5 US gal", "1000.0"},
		{"220 US gal", "699.5"},
	} {
		got, err := drain.WetMass(nothing(), volume(c.drum, drain.Measured), density("840 kg/m³"))
		require.NoError(t, err)
		assert.Equal(t, c.kilograms+" kg", got.Best.RoundIn(units.Kilogram, 1, units.ToNearestEven).String(), c.drum)
	}
	full, err := drain.WetMass(nothing(), volume("55 US gal", drain.Measured), density("840 kg/m³"))
	require.NoError(t, err)
	assert.Equal(t, "385.6 lb", full.Best.RoundIn(units.Pound, 1, units.ToNearestEven).String())
	category, err := usfederal.RuleSet().CategoryOf(full.Best)
	require.NoError(t, err)
	assert.Equal(t, "SQG", category.Name, "one full drum is already more than 100 kg")
}

// Masses computed as volume times density, here and in pounds; the densities are those of drain's factors.tsv.
// Sources: oracle-fuel, 24-fr-5348.
func TestWetMassOfWhatWasDrained(t *testing.T) {
	for _, c := range []struct{ volume, density, kilograms, pounds string }{
		{"1.5 L", "832.894 kg/m³", "1.2493 kg", "2.7543 lb"},
		{"1.5 L", "807.766 kg/m³", "1.2116 kg", "2.6712 lb"},
		{"2.0 L", "814.017 kg/m³", "1.6280 kg", "3.5892 lb"},
		{"0.7 L", "862.572 kg/m³", "0.6038 kg", "1.3312 lb"},
		{"10 L", "788.014 kg/m³", "7.8801 kg", "17.3727 lb"},
	} {
		got, err := drain.WetMass(nothing(), volume(c.volume, drain.Measured), density(c.density))
		require.NoError(t, err)
		assert.Equal(t, c.kilograms, got.Best.RoundIn(units.Kilogram, 4, units.ToNearestEven).String())
		assert.Equal(t, c.pounds, got.Best.RoundIn(units.Pound, 4, units.ToNearestEven).String())
	}
}
