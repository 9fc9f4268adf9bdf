package waste_test

import (
	"encoding/json"
	"math/big"
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drum is an invented drum of 55 gal, its tare included, filled to 95 %.
func drum(id string) waste.Container {
	tare := units.MustParseMass("17.2 kg")
	return waste.Container{ID: id, Capacity: units.USGallon.Of(55), FillLimit: units.MustParseVolume("52.25 US gal"),
		Tare: drain.Estimate[units.MassUnit]{Low: units.Pound.Of(34), Best: tare, High: units.Pound.Of(42), From: drain.Stated}}
}

func batch(stream waste.Stream, m drain.Estimate[units.MassUnit]) waste.Batch {
	return waste.Batch{Description: "invented waste", Stream: stream, Mass: m, Containers: []waste.Container{drum("A")}}
}

// "Container capacity" is no estimate. Source: epa-8700-22. One that was
// measured and happens to be the capacity is a measurement.
func TestCapacityIsNoQuantity(t *testing.T) {
	i := waste.Batch{Description: "invented waste", Stream: waste.DrainedFuel, Volume: volume("110 US gal", drain.Assumed),
		Containers: []waste.Container{drum("A"), drum("B")}}
	_, err := usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Gallons)
	require.ErrorIs(t, err, units.ErrRange)
	i.Volume = volume("416.39529624 L", drain.Stated) // the same in litres: 2 × 55 × 3.785411784
	_, err = usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Litres)
	require.ErrorIs(t, err, units.ErrRange)
	i.Volume = volume("110 US gal", drain.Measured)
	line, err := usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Gallons)
	require.NoError(t, err)
	assert.EqualValues(t, 110, line.Quantity)
	assert.Contains(t, line.String(), "fill limit", "and too full")
	i.Volume = volume("110.001 US gal", drain.Measured)
	_, err = usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Gallons)
	require.ErrorIs(t, err, units.ErrRange)
}

// 206 kg of fuel are 222.7 L at 925 kg/m³, which no diesel fuel exceeds (marine ones are allowed
// 900 at 15 °C), and a drum of 55 US gal holds 208.2 L to its brim: 192.58 kg. What a container may weigh by
// its mark is with what is in it, and binds solids too. Sources: iso-8217, nist-sp811-b8, 49-cfr-178.
func TestMassBeyondTheContainer(t *testing.T) {
	marked := drum("M")
	marked.MostGross = units.Kilogram.Of(400)
	unknown := drum("U")
	unknown.Capacity, unknown.FillLimit = units.Volume{}, units.Volume{}
	for _, c := range []struct {
		stream waste.Stream
		mass   string
		in     []waste.Container
		fits   bool
	}{
		{waste.DrainedFuel, "206 kg", []waste.Container{drum("A")}, false},
		{waste.DrainedFuel, "192.5 kg", []waste.Container{drum("A")}, true},
		{waste.DrainedFuel, "192.6 kg", []waste.Container{drum("A")}, false},
		{waste.DrainedFuel, "206 kg", []waste.Container{drum("A"), drum("B")}, true},
		{waste.DrainedFuel, "206 kg", []waste.Container{unknown}, true},
		{waste.FuelWaterMix, "206 kg", []waste.Container{drum("A")}, true},
		{waste.FuelWaterMix, "209 kg", []waste.Container{drum("A")}, false},
		{waste.SpentCleaner, "300 kg", []waste.Container{drum("A")}, true},
		{waste.SpentCleaner, "350 kg", []waste.Container{drum("A")}, false},
		{waste.DrainedElement, "401 kg", []waste.Container{drum("A")}, true},
		{waste.DrainedElement, "400 kg", []waste.Container{marked}, true},
		{waste.DrainedElement, "401 kg", []waste.Container{marked}, false},
		{waste.DrainedElement, "401 kg", []waste.Container{marked, drum("A")}, true},
	} {
		err := waste.Batch{Description: "invented waste", Stream: c.stream, Mass: weighed(c.mass), Containers: c.in}.Check()
		if c.fits {
			require.NoError(t, err, "%v %s", c.stream, c.mass)
			continue
		}
		require.ErrorIs(t, err, units.ErrRange, "%v %s", c.stream, c.mass)
		assert.Contains(t, err.Error(), "more than the containers hold")
	}
}

func TestNet(t *testing.T) {
	c := drum("A")
	net, err := c.Net(weighed("190.0 kg"))
	require.NoError(t, err)
	assert.Equal(t, "172.8 kg", net.Best.String())
	assert.Equal(t, "170.94912046 kg", net.Low.In(units.Kilogram).String(), "190 kg less 42 lb")
	assert.Equal(t, "174.57785942 kg", net.High.String(), "190 kg less 34 lb")
	assert.Equal(t, drain.Stated, net.From, "no firmer than the tare")

	light, err := c.Net(weighed("17.5 kg")) // below the heaviest such drum
	require.NoError(t, err)
	assert.Equal(t, 0, light.Low.Sign(), "no net mass is below zero")
	_, err = c.Net(weighed("17 kg"))
	require.ErrorIs(t, err, units.ErrRange)
}

func TestWetKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dry := drawMass(t)
		v := rapid.SliceOfN(rapid.Int64Range(0, 1e6), 2, 2).Draw(t, "millilitres")
		d := rapid.SliceOfN(rapid.Int64Range(700, 1000), 2, 2).Draw(t, "density")
		retained := drain.Estimate[units.VolumeUnit]{Low: units.Millilitre.Of(min(v[0], v[1])), Best: units.Millilitre.Of(v[0]), High: units.Millilitre.Of(max(v[0], v[1])), From: drain.Assumed}
		rho := drain.Estimate[units.DensityUnit]{Low: units.KilogramPerCubicMetre.Of(min(d[0], d[1])), Best: units.KilogramPerCubicMetre.Of(d[1]), High: units.KilogramPerCubicMetre.Of(max(d[0], d[1])), From: drain.Stated}
		wet, err := drain.WetMass(dry, retained, rho)
		require.NoError(t, err)
		require.NoError(t, wet.Check())
		assert.Equal(t, drain.Assumed, wet.From)
		if rest, exact := wet.Best.Sub(dry.Best); exact { // what was added is volume times density
			want := new(big.Rat).Mul(big.NewRat(v[0], 1e6), big.NewRat(d[1], 1))
			gap := want.Sub(want, rest.RatIn(units.Kilogram))
			assert.LessOrEqual(t, gap.Abs(gap).Cmp(big.NewRat(1, 2e12)), 0, "rounded once, at twelve places")
		}
	})
}

// outputs is one of everything this package puts out, as text and as JSON.
func outputs(t *testing.T) []string {
	var l waste.Ledger
	for n, stream := range allStreams() {
		for d := waste.Undetermined; d <= waste.NotCounted; d++ {
			put(t, &l, entry("J1", 0, 10*n+int(d)+1, stream, d, mass(t, "30 kg", "40 kg", "50.12345 kg", drain.Assumed)))
		}
	}
	var texts []string
	add := func(v interface{ String() string }) {
		data, err := json.Marshal(v)
		require.NoError(t, err)
		texts = append(texts, v.String(), string(data))
	}
	for _, rules := range []waste.RuleSet{usfederal.RuleSet(), europe.RuleSet()} {
		s, err := l.Statement(waste.MustParseDate("2026-03-01"), rules)
		require.NoError(t, err)
		add(s)
		for _, stream := range allStreams() {
			a, err := rules.Ask(stream)
			require.NoError(t, err)
			add(a)
		}
	}
	line, err := usfederal.NewManifestLine(batch(waste.Gaskets, weighed("0.1 kg")), usfederal.MetalDrums, usfederal.Pounds)
	require.NoError(t, err)
	add(line)
	note, err := europe.Consign(batch(waste.Gaskets, weighed("0.1 kg")), "bag", 0)
	require.NoError(t, err)
	add(note)
	category, err := usfederal.RuleSet().CategoryOf(units.Kilogram.Of(100))
	require.NoError(t, err)
	return append(texts, category.String())
}

func TestEveryOutputCarriesTheCaution(t *testing.T) {
	all := outputs(t)
	require.NotEmpty(t, all)
	for _, text := range all {
		assert.Contains(t, text, "determination is the generator's; state and local rules may differ")
		for _, verdict := range []string{"non-hazardous", "nonhazardous", "non hazardous", "not hazardous", "harmless"} {
			assert.NotContains(t, strings.ToLower(text), verdict)
		}
	}
}
