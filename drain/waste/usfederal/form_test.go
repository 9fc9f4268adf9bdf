package usfederal_test

import (
	"math/big"
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The nearest whole unit. Source: epa-8700-22. Which at a tie it doesn't say; ours goes up.
func TestNearestWholeUnit(t *testing.T) {
	for _, c := range []struct {
		mass string
		unit usfederal.UnitCode
		want int64
	}{
		{"0 kg", usfederal.Kilograms, 0},
		{"0.499999999 kg", usfederal.Kilograms, 0},
		{"0.5 kg", usfederal.Kilograms, 1},
		{"1.5 kg", usfederal.Kilograms, 2},
		{"2.5 kg", usfederal.Kilograms, 3},
		{"2.499999999 kg", usfederal.Kilograms, 2},
		{"100 kg", usfederal.Pounds, 220},
		{"99.79 kg", usfederal.Pounds, 220},
		{"220 lb", usfederal.Kilograms, 100}, // printed 100 K, counted 99.79 kg
		{"999999999.4 kg", usfederal.Kilograms, 999_999_999},
	} {
		line, err := usfederal.NewManifestLine(batch(waste.DrainedElement, weighed(c.mass)), usfederal.MetalDrums, c.unit)
		require.NoError(t, err)
		assert.Equal(t, c.want, line.Quantity, "%s in %s", c.mass, c.unit)
		assert.Contains(t, line.String(), "a tie goes up")
	}
	line, err := usfederal.NewManifestLine(batch(waste.DrainedElement, weighed("1.5 kg")), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(line.Notes, "\n"), "exactly between")
}

func TestBulkUnits(t *testing.T) {
	bulk := waste.Batch{Description: "invented waste", Stream: waste.DrainedFuel, Mass: weighed("20 t"), Volume: volume("24 m³", drain.Measured),
		Containers: []waste.Container{{}}}
	for _, c := range []struct {
		unit usfederal.UnitCode
		want int64
	}{
		{unitCode(t, "M"), 20},
		{unitCode(t, "T"), 22}, // 20,000 kg / 907.18474 kg = 22.05
		{unitCode(t, "N"), 24},
		{unitCode(t, "Y"), 31}, // 24 / 0.9144³ = 31.39
		{usfederal.Litres, 24_000},
		{usfederal.Gallons, 6340}, // 24,000 / 3.785411784 = 6340.1
	} {
		line, err := usfederal.NewManifestLine(bulk, container(t, "TT"), c.unit)
		require.NoError(t, err)
		assert.Equal(t, c.want, line.Quantity, c.unit.String())
	}
	// A cubic yard is 0.764554857984 m³, exactly: ten million m³ tell its inches. Source: nist-sp811-b8.
	bulk.Volume = volume("10000000 m³", drain.Measured)
	line, err := usfederal.NewManifestLine(bulk, container(t, "TT"), unitCode(t, "Y"))
	require.NoError(t, err)
	assert.EqualValues(t, 13_079_506, line.Quantity)
	_, err = usfederal.NewManifestLine(batch(waste.DrainedFuel, weighed("0.1 t")), usfederal.MetalDrums, unitCode(t, "M"))
	require.ErrorIs(t, err, units.ErrRange, "drums are no bulk")
}

// 0.20 kg is 0.44 lb: it prints 0 in K and in P, and the form has nothing finer. Source: epa-8700-22.
func TestALineOfZeroIsFlagged(t *testing.T) {
	line, err := usfederal.NewManifestLine(batch(waste.Gaskets, weighed("0.20 kg")), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.Zero(t, line.Quantity)
	assert.True(t, line.Zero)
	assert.Contains(t, line.String(), "no finer unit exists")

	// 0.30 kg is 0.66 lb: one pound.
	line, err = usfederal.NewManifestLine(batch(waste.Gaskets, weighed("0.30 kg")), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.True(t, line.Zero)
	assert.Contains(t, line.String(), "it would be 1 P")

	line, err = usfederal.NewManifestLine(batch(waste.Gaskets, weighed("0 kg")), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.False(t, line.Zero, "nothing is there")

	line, err = usfederal.NewManifestLine(batch(waste.Gaskets, mass(t, "0 kg", "0 kg", "0.1 kg", drain.Assumed)), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.True(t, line.Zero, "something may be there")
}

// Very large bulk: tanks, tank cars, dump trucks, roll-offs and hopper cars, and nothing that is lifted
// by hand: our reading of the instructions, Table I. Source: epa-8700-22.
func TestBulkContainers(t *testing.T) {
	bulk := ""
	for _, code := range allContainers {
		c := container(t, code)
		i := batch(waste.DrainedElement, weighed("20 t"))
		i.Containers = []waste.Container{{}}
		if _, err := usfederal.NewManifestLine(i, c, unitCode(t, "M")); err == nil {
			bulk += " " + c.String()
		} else {
			require.ErrorIs(t, err, units.ErrRange)
		}
	}
	assert.Equal(t, " CM DT HG TC TT", bulk)
}

// The fill limit is a limit to what may be in there: the high end counts, and the limit itself is
// still within. Where a container states none, nothing is said.
func TestFillLimitIsNotedOnlyWhereItMayBePassed(t *testing.T) {
	unknown := drum("B")
	unknown.FillLimit = units.Volume{}
	for _, c := range []struct {
		name, low, best, high string
		containers            []waste.Container
		want                  bool
	}{
		{"below it", "40 US gal", "41 US gal", "42 US gal", []waste.Container{drum("A")}, false},
		{"up to it", "51 US gal", "52 US gal", "52.25 US gal", []waste.Container{drum("A")}, false},
		{"perhaps above", "51 US gal", "52 US gal", "52.26 US gal", []waste.Container{drum("A")}, true},
		{"above", "53 US gal", "53.5 US gal", "54 US gal", []waste.Container{drum("A")}, true},
		{"two of them", "103 US gal", "104 US gal", "104.5 US gal", []waste.Container{drum("A"), drum("B")}, false},
		{"too much for two", "103 US gal", "104 US gal", "104.51 US gal", []waste.Container{drum("A"), drum("B")}, true},
		{"one without a limit", "103 US gal", "104 US gal", "109 US gal", []waste.Container{drum("A"), unknown}, false},
	} {
		v := drain.Estimate[units.VolumeUnit]{Low: units.MustParseVolume(c.low), Best: units.MustParseVolume(c.best), High: units.MustParseVolume(c.high), From: drain.Measured}
		line, err := usfederal.NewManifestLine(waste.Batch{Description: "invented waste", Stream: waste.DrainedFuel, Volume: v, Containers: c.containers}, usfederal.MetalDrums, usfederal.Gallons)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, strings.Contains(line.String(), "fill limit"), c.name)
	}
	line, err := usfederal.NewManifestLine(batch(waste.DrainedFuel, weighed("190 kg")), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.NotContains(t, line.String(), "fill limit", "nothing turns kilograms into litres unasked")
}

func TestVolumeUnitsAreForLiquids(t *testing.T) {
	for stream := waste.DrainedFuel; stream <= waste.OtherWaste; stream++ {
		i := waste.Batch{Description: "invented waste", Stream: stream, Volume: volume("10 L", drain.Measured), Containers: []waste.Container{drum("A")}}
		_, err := usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Litres)
		if stream.Liquid() {
			require.NoError(t, err, stream)
			_, err = usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Kilograms)
			require.ErrorIs(t, err, drain.ErrMissing, "nothing turns litres into kilograms unasked")
			continue
		}
		require.ErrorIs(t, err, units.ErrRange, stream)
	}
	for _, u := range []usfederal.UnitCode{usfederal.Litres, usfederal.Gallons} { // nor kilograms into litres
		_, err := usfederal.NewManifestLine(batch(waste.DrainedFuel, weighed("10 kg")), usfederal.MetalDrums, u)
		require.ErrorIs(t, err, drain.ErrMissing, u.String())
		require.ErrorContains(t, err, "the volume, or a unit of mass")
	}
}

func TestLineShowsItsSpread(t *testing.T) {
	line, err := usfederal.NewManifestLine(batch(waste.DrainedElement, mass(t, "40.4 kg", "41.6 kg", "43.2 kg", drain.Assumed)), usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.EqualValues(t, 42, line.Quantity)
	assert.Contains(t, strings.Join(line.Notes, "\n"), "40 to 43 K")
	assert.Equal(t, drain.Assumed, line.From)
	assert.Contains(t, line.String(), "assumed")
}

// What is read is rounded to the gram, the low end down and the high end up, and the best says that it
// is rounded.
func TestSpreadIsShownToTheGramAndOutward(t *testing.T) {
	for want, m := range map[string][3]string{
		"about 41.201 kg (40.123 kg to 43.988 kg, assumed)": {"40.1239 kg", "41.2009 kg", "43.9871 kg"},
		"41.2 kg (40.123 kg to 43.987 kg, assumed)":         {"40.123 kg", "41.2 kg", "43.987 kg"},
		"41.250 kg (40.123 kg to 43.987 kg, assumed)":       {"40.1230 kg", "41.2500 kg", "43.9870 kg"},
		"about 41.200 kg (assumed)":                         {"41.20001 kg", "41.20001 kg", "41.20001 kg"},
	} {
		line, err := usfederal.NewManifestLine(batch(waste.DrainedElement, mass(t, m[0], m[1], m[2], drain.Assumed)), usfederal.MetalDrums, usfederal.Kilograms)
		require.NoError(t, err)
		assert.Contains(t, line.String(), "nearest whole unit to "+want+";")
	}
}

func TestLineIsTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := units.New(decimal.New(rapid.Int64Range(0, 1e12).Draw(t, "coefficient"), -rapid.Int32Range(0, 6).Draw(t, "places")-4), units.Kilogram)
		require.NoError(t, err)
		i := batch(waste.Absorbents, weighed(m.String()))
		for _, u := range []struct {
			form usfederal.UnitCode
			unit units.MassUnit
		}{{usfederal.Kilograms, units.Kilogram}, {usfederal.Pounds, units.Pound}} {
			line, err := usfederal.NewManifestLine(i, usfederal.MetalDrums, u.form)
			require.NoError(t, err)
			gap := new(big.Rat).Sub(new(big.Rat).SetInt64(line.Quantity), m.RatIn(u.unit))
			assert.True(t, gap.Cmp(big.NewRat(1, 2)) <= 0 && gap.Cmp(big.NewRat(-1, 2)) > 0, "within half a unit, and up at a tie")
			assert.Equal(t, line.Quantity == 0 && m.Sign() > 0, line.Zero)
		}
	})
}

func BenchmarkLine(b *testing.B) {
	i := batch(waste.DrainedElement, mass(b, "40.4 kg", "41.6 kg", "43.2 kg", drain.Assumed))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Pounds); err != nil {
			b.Fatal(err)
		}
	}
}

// Tables I and II. Source: epa-8700-22.
func TestFormCodes(t *testing.T) {
	for _, code := range allContainers {
		assert.Equal(t, code, container(t, code).String())
	}
	tank := batch(waste.DrainedFuel, weighed("20 t"))
	tank.Volume, tank.Containers = volume("24 m³", drain.Measured), []waste.Container{{}}
	pads := batch(waste.Absorbents, weighed("20 t"))
	pads.Volume, pads.Containers = tank.Volume, tank.Containers
	liquids, bulk := "", ""
	for _, code := range allUnits {
		u := unitCode(t, code)
		assert.Equal(t, code, u.String())
		if _, err := usfederal.NewManifestLine(pads, container(t, "TT"), u); err != nil {
			require.ErrorContains(t, err, "for liquids only")
			liquids += code
		}
		if _, err := usfederal.NewManifestLine(tank, usfederal.MetalDrums, u); err != nil {
			require.ErrorContains(t, err, "for very large bulk only")
			bulk += code
		}
	}
	assert.Equal(t, "GL", liquids)
	assert.Equal(t, "MNTY", bulk)
}
