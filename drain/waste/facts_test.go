package waste_test

import (
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Limits, days and codes are held against the regulations named beside them. What is marked D is
// worked from those by arithmetic, or follows from a convention of this package, and is published
// nowhere. S, S2, D and M are those of DEVELOPERS.md.

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

func TestThresholds(t *testing.T) {
	rules := waste.USFederal()
	for _, c := range []struct{ mass, category, source string }{
		{"0 kg", "VSQG", "40 CFR 260.10, S"},
		{"99.999999999 kg", "VSQG", "40 CFR 260.10: 100 kg or less, S"},
		{"100 kg", "VSQG", "40 CFR 260.10: 100 kg or less, S"},
		{"100.000000001 kg", "SQG", "40 CFR 260.10: more than 100 kg, S"},
		{"999.999999999 kg", "SQG", "40 CFR 260.10: less than 1,000 kg, S"},
		{"1000 kg", "LQG", "40 CFR 260.10: 1,000 kg or more, S"},
		{"1 t", "LQG", "the same in tonnes"},
		{"220 lb", "VSQG", "1 lb = 0.45359237 kg: 99.79 kg, below the limit in kg, D"},
		{"220.4622621848 lb", "VSQG", "just below 100 kg, D"},
		{"220.4622621849 lb", "SQG", "just above 100 kg, D"},
		{"2200 lb", "SQG", "997.9 kg, D"},
		{"2204.63 lb", "LQG", "1000 kg = 2204.62 lb, D"},
	} {
		got, err := rules.CategoryOf(units.MustParseMass(c.mass))
		require.NoError(t, err)
		assert.Equal(t, c.category, got.Name, "%s: %s", c.mass, c.source)
	}
}

func TestPrintedPoundsAreRounded(t *testing.T) { // arithmetic on 1 lb = 0.45359237 kg, D
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

func TestDrumOfDiesel(t *testing.T) { // 840 kg/m³, full: arithmetic on 231 in³ and 25.4 mm, D
	for _, c := range []struct{ drum, kilograms string }{
		{"55 US gal", "174.9"}, {"30 US gal", "95.4"}, {"15 US gal", "47.7"}, {"5 US gal", "15.9"},
		{"119.05 L", "100.0"}, {"31.45 US gal", "100.0"}, {"1190.5 L", "1000.0"}, {"314.5 US gal", "1000.0"},
	} {
		got, err := waste.Wet(nothing(), volume(c.drum, drain.Measured), density("840 kg/m³"))
		require.NoError(t, err)
		assert.Equal(t, c.kilograms+" kg", got.Best.RoundIn(units.Kilogram, 1, units.ToNearestEven).String(), c.drum)
	}
	full, err := waste.Wet(nothing(), volume("55 US gal", drain.Measured), density("840 kg/m³"))
	require.NoError(t, err)
	assert.Equal(t, "385.6 lb", full.Best.RoundIn(units.Pound, 1, units.ToNearestEven).String())
	category, err := waste.USFederal().CategoryOf(full.Best)
	require.NoError(t, err)
	assert.Equal(t, "SQG", category.Name, "one full drum is already more than 100 kg")
}

// Volumes, densities at the catch temperature and masses derived from API MPMS 11.1-2004, D.
func TestWetMassOfWhatWasDrained(t *testing.T) {
	for _, c := range []struct{ volume, density, kilograms, pounds string }{
		{"1.5 L", "832.894 kg/m³", "1.2493 kg", "2.7543 lb"},
		{"1.5 L", "807.766 kg/m³", "1.2116 kg", "2.6712 lb"},
		{"2.0 L", "814.017 kg/m³", "1.6280 kg", "3.5892 lb"},
		{"0.7 L", "862.572 kg/m³", "0.6038 kg", "1.3312 lb"},
		{"10 L", "788.014 kg/m³", "7.8801 kg", "17.3727 lb"},
	} {
		got, err := waste.Wet(nothing(), volume(c.volume, drain.Measured), density(c.density))
		require.NoError(t, err)
		assert.Equal(t, c.kilograms, got.Best.RoundIn(units.Kilogram, 4, units.ToNearestEven).String())
		assert.Equal(t, c.pounds, got.Best.RoundIn(units.Pound, 4, units.ToNearestEven).String())
	}
}

// The days are published; that the first day counts as day 1, so the last days and those left, is this
// package's own convention, the safer side (D).
func TestClocks(t *testing.T) {
	rules := waste.USFederal()
	start := waste.MustParseDate("2026-01-01")
	for _, c := range []struct {
		category, last, source string
		far                    bool
		days                   int
	}{
		{"SQG", "2026-06-29", "180 days: 40 CFR 262.16(b), S", false, 180},
		{"SQG", "2026-09-27", "270 days for 200 miles or more: 40 CFR 262.16(c), S2", true, 270},
		{"LQG", "2026-03-31", "90 days: 40 CFR 262.17(a), M", false, 90},
	} {
		clock, err := rules.OffSiteBy(c.category, start, c.far)
		require.NoError(t, err)
		assert.Equal(t, c.days, clock.Days, c.source)
		assert.Equal(t, c.last, clock.Last.String(), "the first day counted as day 1, D")
		assert.Equal(t, c.days-1, clock.Left(start))
		assert.Equal(t, -1, clock.Left(clock.Last.AddDays(1)))
	}
	// Three consecutive calendar days: 40 CFR 262.15(a)(6) as in Utah R315-262-15; EPA RO 14703 (S).
	// Over on a Friday, 2026-03-06, moved by Sunday: the Friday counted as the first (D).
	clock, err := rules.MoveBy(waste.MustParseDate("2026-03-06"))
	require.NoError(t, err)
	assert.Equal(t, "2026-03-08", clock.Last.String())
	assert.Equal(t, "55 US gal", rules.Satellite.Limit.String(), "40 CFR 262.15(a), S")
}

func TestOnSiteLimits(t *testing.T) {
	rules := waste.USFederal()
	for _, c := range []struct {
		category, held string
		want           drain.Answer
		source         string
	}{
		{"VSQG", "999.9 kg", drain.Yes, "40 CFR 262.14(a)(4), M"},
		{"VSQG", "1000 kg", drain.No, "40 CFR 262.14(a)(4): 1,000 kg or more ends it, M"},
		{"SQG", "6000 kg", drain.Yes, "40 CFR 262.16(b)(1): never more than 6,000 kg, S"},
		{"SQG", "6000.001 kg", drain.No, "40 CFR 262.16(b)(1), S"},
		{"SQG", "13200 lb", drain.Yes, "the pounds in brackets are rounded down: 5987.4 kg, D"},
		{"SQG", "13228 lb", drain.No, "6000 kg = 13,227.7 lb, D"},
	} {
		got, err := rules.OnSite(c.category, weighed(c.held))
		require.NoError(t, err)
		assert.Equal(t, c.want, got.Within, "%s %s: %s", c.category, c.held, c.source)
	}
	got, err := rules.OnSite("SQG", mass(t, "5900 kg", "5990 kg", "6100 kg", drain.Assumed))
	require.NoError(t, err)
	assert.Equal(t, drain.Undecided, got.Within)
}

// EPA Form 8700-22, instructions, Tables I and II, S.
func TestFormCodes(t *testing.T) {
	for _, code := range []string{"BA", "CF", "CM", "CW", "CY", "DF", "DM", "DT", "DW", "HG", "TC", "TP", "TT"} {
		c, err := waste.ParseContainerCode(code)
		require.NoError(t, err)
		assert.Equal(t, code, c.String())
	}
	liquids, bulk := "", ""
	for _, code := range []string{"G", "K", "L", "M", "N", "P", "T", "Y"} {
		u, err := waste.ParseFormUnit(code)
		require.NoError(t, err)
		assert.Equal(t, code, u.String())
		if u.LiquidsOnly() {
			liquids += code
		}
		if u.BulkOnly() {
			bulk += code
		}
	}
	assert.Equal(t, "GL", liquids)
	assert.Equal(t, "MNTY", bulk)
}

// Four 55-gal drums: a tenth of all is 22 gal, the largest is 55 gal, and the greater of the two is
// wanted (40 CFR 264.175(b)(3), S). The computation is package drain's; the rule is a note here that
// must not read as binding on generators by itself.
func TestContainmentIsOnlyANote(t *testing.T) {
	drum := units.USGallon.Of(55)
	held, err := drain.Containment(drum, drum, drum, drum)
	require.NoError(t, err)
	assert.True(t, held.Equal(drum), "not 22 gal")
	found := false
	for _, n := range waste.USFederal().Notes {
		if strings.HasPrefix(n.Source.Cite, "40 CFR 264.175(b)(3)") {
			found = true
			assert.Contains(t, n.Text, "whichever is greater")
			assert.Contains(t, n.Text, "permitted facilities")
		}
	}
	assert.True(t, found)
	// Four such drums of diesel are no small matter either: 699.5 kg at 840 kg/m³, D.
	got, err := waste.Wet(nothing(), volume("220 US gal", drain.Measured), density("840 kg/m³"))
	require.NoError(t, err)
	assert.Equal(t, "699.5 kg", got.Best.RoundIn(units.Kilogram, 1, units.ToNearestEven).String())
}
