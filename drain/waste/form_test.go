package waste_test

import (
	"encoding/json"
	"math/big"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drum is an invented drum of 55 gal, its tare included, filled to 95 %.
func drum(id string) waste.Container {
	tare := units.MustParseMass("17.2 kg")
	return waste.Container{ID: id, Code: waste.MetalDrums, Capacity: units.USGallon.Of(55), FillLimit: units.MustParseVolume("52.25 US gal"),
		Tare: drain.Estimate[units.MassUnit]{Low: units.Pound.Of(34), Best: tare, High: units.Pound.Of(42), From: drain.Stated}}
}

func item(stream waste.Stream, m drain.Estimate[units.MassUnit]) waste.Item {
	return waste.Item{Description: "invented waste", Stream: stream, Mass: m, Containers: []waste.Container{drum("A")}}
}

// EPA Form 8700-22, instructions to item 11 (S): the nearest whole unit. Which at a tie it doesn't
// say; ours goes up.
func TestNearestWholeUnit(t *testing.T) {
	for _, c := range []struct {
		mass string
		unit waste.FormUnit
		want int64
	}{
		{"0 kg", waste.FormKilograms, 0},
		{"0.499999999 kg", waste.FormKilograms, 0},
		{"0.5 kg", waste.FormKilograms, 1},
		{"1.5 kg", waste.FormKilograms, 2},
		{"2.5 kg", waste.FormKilograms, 3},
		{"2.499999999 kg", waste.FormKilograms, 2},
		{"100 kg", waste.FormPounds, 220},
		{"99.79 kg", waste.FormPounds, 220},
		{"220 lb", waste.FormKilograms, 100}, // printed 100 K, counted 99.79 kg
		{"999999999.4 kg", waste.FormKilograms, 999_999_999},
	} {
		line, err := item(waste.DrainedElement, weighed(c.mass)).Line(c.unit)
		require.NoError(t, err)
		assert.Equal(t, c.want, line.Quantity, "%s in %s", c.mass, c.unit)
		assert.Contains(t, line.String(), waste.TieRule)
	}
	line, err := item(waste.DrainedElement, weighed("1.5 kg")).Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(line.Notes, "\n"), "exactly between")
}

func TestBulkUnits(t *testing.T) {
	bulk := waste.Item{Description: "invented waste", Stream: waste.DrainedFuel, Mass: weighed("20 t"), Volume: volume("24 m³", drain.Measured),
		Containers: []waste.Container{{Code: waste.CargoTanks}}}
	for _, c := range []struct {
		unit waste.FormUnit
		want int64
	}{
		{waste.FormTonnes, 20},
		{waste.FormShortTons, 22}, // 20,000 kg / 907.18474 kg = 22.05, D
		{waste.FormCubicMetres, 24},
		{waste.FormCubicYards, 31}, // 24 / 0.9144³ = 31.39, D
		{waste.FormLitres, 24_000},
		{waste.FormGallons, 6340}, // 24,000 / 3.785411784 = 6340.1, D
	} {
		line, err := bulk.Line(c.unit)
		require.NoError(t, err)
		assert.Equal(t, c.want, line.Quantity, c.unit.Name())
	}
	// A cubic yard is 0.764554857984 m³, exactly (NIST SP 811, B.8): ten million m³ tell its inches.
	bulk.Volume = volume("10000000 m³", drain.Measured)
	line, err := bulk.Line(waste.FormCubicYards)
	require.NoError(t, err)
	assert.EqualValues(t, 13_079_506, line.Quantity)
	_, err = item(waste.DrainedFuel, weighed("0.1 t")).Line(waste.FormTonnes)
	require.ErrorIs(t, err, waste.ErrBulkOnly, "drums are no bulk")
}

// 0.20 kg is 0.44 lb: it prints 0 in K and in P, and the form has nothing finer (D).
func TestALineOfZeroIsFlagged(t *testing.T) {
	line, err := item(waste.Gaskets, weighed("0.20 kg")).Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.Zero(t, line.Quantity)
	assert.True(t, line.Zero)
	assert.Contains(t, line.String(), "no finer unit exists")

	// 0.30 kg is 0.66 lb: one pound.
	line, err = item(waste.Gaskets, weighed("0.30 kg")).Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.True(t, line.Zero)
	assert.Contains(t, line.String(), "it would be 1 P")

	line, err = item(waste.Gaskets, nothing()).Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.False(t, line.Zero, "nothing is there")

	line, err = item(waste.Gaskets, mass(t, "0 kg", "0 kg", "0.1 kg", drain.Assumed)).Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.True(t, line.Zero, "something may be there")
}

// EPA Form 8700-22, instructions to item 11 (S): "container capacity" is no estimate. One that was
// measured and happens to be the capacity is a measurement.
func TestCapacityIsNoQuantity(t *testing.T) {
	i := waste.Item{Description: "invented waste", Stream: waste.DrainedFuel, Volume: volume("110 US gal", drain.Assumed),
		Containers: []waste.Container{drum("A"), drum("B")}}
	_, err := i.Line(waste.FormGallons)
	require.ErrorIs(t, err, waste.ErrCapacity)
	i.Volume = volume("416.39529624 L", drain.Stated) // the same in litres: 2 × 55 × 3.785411784
	_, err = i.Line(waste.FormLitres)
	require.ErrorIs(t, err, waste.ErrCapacity)
	i.Volume = volume("110 US gal", drain.Measured)
	line, err := i.Line(waste.FormGallons)
	require.NoError(t, err)
	assert.EqualValues(t, 110, line.Quantity)
	assert.Contains(t, line.String(), "fill limit", "and too full")
	i.Volume = volume("110.001 US gal", drain.Measured)
	_, err = i.Line(waste.FormGallons)
	require.ErrorIs(t, err, units.ErrRange)
}

// Very large bulk: tanks, tank cars, dump trucks, roll-offs and hopper cars, and nothing that is lifted
// by hand (our reading of EPA Form 8700-22, instructions, Table I).
func TestBulkContainers(t *testing.T) {
	bulk := ""
	for c := waste.ContainerCode(1); c.Valid(); c++ {
		i := item(waste.DrainedElement, weighed("20 t"))
		i.Containers = []waste.Container{{Code: c}}
		if _, err := i.Line(waste.FormTonnes); err == nil {
			bulk += " " + c.String()
		} else {
			require.ErrorIs(t, err, waste.ErrBulkOnly)
		}
	}
	assert.Equal(t, " TT TC DT CM HG", bulk)
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
		line, err := waste.Item{Description: "invented waste", Stream: waste.DrainedFuel, Volume: v, Containers: c.containers}.Line(waste.FormGallons)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, strings.Contains(line.String(), "fill limit"), c.name)
	}
	line, err := item(waste.DrainedFuel, weighed("190 kg")).Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.NotContains(t, line.String(), "fill limit", "nothing turns kilograms into litres unasked")
}

// 206 kg of fuel are 222.7 L at 925 kg/m³, which no diesel fuel exceeds (ISO 8217 allows DMB 900 at 15 °C,
// from memory), and a drum of 55 US gal holds 208.2 L to its brim (NIST SP 811, B.8): 192.58 kg. What a
// container may weigh by its mark binds solids too (49 CFR 178.503(a)(3), from memory).
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
		_, err := waste.Item{Description: "invented waste", Stream: c.stream, Mass: weighed(c.mass), Containers: c.in}.Line(waste.FormKilograms)
		_, err2 := waste.Item{Description: "invented waste", Stream: c.stream, Mass: weighed(c.mass), Containers: c.in}.Consign(0)
		if c.fits {
			require.NoError(t, err, "%v %s", c.stream, c.mass)
			require.NoError(t, err2)
			continue
		}
		require.ErrorIs(t, err, units.ErrRange, "%v %s", c.stream, c.mass)
		require.ErrorIs(t, err2, units.ErrRange)
		assert.Contains(t, err.Error(), "more than the containers hold")
	}
}

// A drum takes what its entries come to together: fuel and water share its room, and everything, with the
// drum, its mark.
func TestContainerTakes(t *testing.T) {
	entry := func(stream waste.Stream, m drain.Estimate[units.MassUnit]) waste.Entry {
		return waste.Entry{Job: "1", Line: 1, Date: waste.MustParseDate("2026-03-04"), Stream: stream, Mass: m}
	}
	marked := drum("M") // 34 lb empty at least: 15.42 kg
	marked.MostGross = units.Kilogram.Of(400)
	for _, c := range []struct {
		name    string
		in      waste.Container
		entries []waste.Entry
		want    bool
	}{
		{"nothing", drum("A"), nil, true},
		{"206 kg of fuel", drum("A"), []waste.Entry{entry(waste.DrainedFuel, weighed("100 kg")), entry(waste.DrainedFuel, weighed("106 kg"))}, false},
		{"fuel and water", drum("A"), []waste.Entry{entry(waste.DrainedFuel, weighed("100 kg")), entry(waste.FuelWaterMix, weighed("100.5 kg"))}, false},
		{"fuel and less water", drum("A"), []waste.Entry{entry(waste.DrainedFuel, weighed("100 kg")), entry(waste.FuelWaterMix, weighed("100 kg"))}, true},
		{"elements", drum("A"), []waste.Entry{entry(waste.DrainedElement, weighed("500 kg"))}, true},
		{"elements by the mark", marked, []waste.Entry{entry(waste.DrainedElement, weighed("384 kg"))}, true},
		{"elements beyond the mark", marked, []waste.Entry{entry(waste.DrainedElement, weighed("385 kg"))}, false},
		{"perhaps", drum("A"), []waste.Entry{entry(waste.DrainedFuel, drain.Estimate[units.MassUnit]{Low: units.Kilogram.Of(190), Best: units.Kilogram.Of(200),
			High: units.Kilogram.Of(206), From: drain.Assumed})}, true},
	} {
		takes, err := c.in.Takes(c.entries...)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, takes, c.name)
	}
	_, err := drum("A").Takes(waste.Entry{})
	require.Error(t, err)
	bad := drum("A")
	bad.MostGross = units.Kilogram.Of(-1)
	_, err = bad.Takes()
	require.ErrorIs(t, err, units.ErrRange)
}

func TestVolumeUnitsAreForLiquids(t *testing.T) {
	for _, stream := range waste.Streams() {
		i := waste.Item{Description: "invented waste", Stream: stream, Volume: volume("10 L", drain.Measured), Containers: []waste.Container{drum("A")}}
		_, err := i.Line(waste.FormLitres)
		if stream.Liquid() {
			require.NoError(t, err, stream)
			_, err = i.Line(waste.FormKilograms)
			require.ErrorIs(t, err, waste.ErrMissing, "nothing turns litres into kilograms unasked")
			continue
		}
		require.ErrorIs(t, err, waste.ErrLiquidsOnly, stream)
	}
	for _, u := range []waste.FormUnit{waste.FormLitres, waste.FormGallons} { // nor kilograms into litres
		_, err := item(waste.DrainedFuel, weighed("10 kg")).Line(u)
		require.ErrorIs(t, err, waste.ErrMissing, u.Name())
		require.ErrorContains(t, err, "the volume, or a unit of mass")
	}
}

func TestLineShowsItsSpread(t *testing.T) {
	line, err := item(waste.DrainedElement, mass(t, "40.4 kg", "41.6 kg", "43.2 kg", drain.Assumed)).Line(waste.FormKilograms)
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
		line, err := item(waste.DrainedElement, mass(t, m[0], m[1], m[2], drain.Assumed)).Line(waste.FormKilograms)
		require.NoError(t, err)
		assert.Contains(t, line.String(), "nearest whole unit to "+want+";")
	}
}

func TestConsignment(t *testing.T) {
	for _, c := range []struct {
		mass   string
		places int
		want   string
		zero   bool
	}{
		{"41.649 kg", 0, "42 kg", false},
		{"41.3 kg", 0, "41 kg", false},
		{"41.649 kg", 1, "41.6 kg", false},
		{"41.64949 kg", 3, "41.649 kg", false},
		{"41.6495 kg", 3, "41.650 kg", false},
		{"0 kg", 0, "0 kg", false},        // nothing is there
		{"41.65 kg", 1, "41.7 kg", false}, // a tie goes up
		{"220 lb", 2, "99.79 kg", false},  // D
		{"0.2 kg", 0, "0 kg", true},
		{"0.2 kg", 1, "0.2 kg", false},
		{"0.0004 kg", 3, "0.000 kg", true},
	} {
		got, err := item(waste.Absorbents, weighed(c.mass)).Consign(c.places)
		require.NoError(t, err)
		assert.Equal(t, c.want, got.Kilograms.String())
		assert.Equal(t, c.zero, got.Zero)
		assert.Contains(t, got.String(), waste.Caution)
		assert.Equal(t, c.zero, strings.Contains(got.String(), "prints 0 where something is there"), "%s to %d places", c.mass, c.places)
	}
	for high, zero := range map[string]bool{"0 kg": false, "0.1 kg": true} {
		got, err := item(waste.Absorbents, mass(t, "0 kg", "0 kg", high, drain.Assumed)).Consign(0)
		require.NoError(t, err)
		assert.Equal(t, zero, got.Zero, "up to %s may be there", high)
	}
}

func TestLineIsTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := units.New(decimal.New(rapid.Int64Range(0, 1e12).Draw(t, "coefficient"), -rapid.Int32Range(0, 6).Draw(t, "places")-4), units.Kilogram)
		require.NoError(t, err)
		i := item(waste.Absorbents, weighed(m.String()))
		for _, u := range []struct {
			form waste.FormUnit
			unit units.MassUnit
		}{{waste.FormKilograms, units.Kilogram}, {waste.FormPounds, units.Pound}} {
			line, err := i.Line(u.form)
			require.NoError(t, err)
			gap := new(big.Rat).Sub(new(big.Rat).SetInt64(line.Quantity), m.RatIn(u.unit))
			assert.True(t, gap.Cmp(big.NewRat(1, 2)) <= 0 && gap.Cmp(big.NewRat(-1, 2)) > 0, "within half a unit, and up at a tie")
			assert.Equal(t, line.Quantity == 0 && m.Sign() > 0, line.Zero)
		}
	})
}

func TestGrossAndNet(t *testing.T) {
	c := drum("A")
	net, err := c.Net(weighed("190.0 kg"))
	require.NoError(t, err)
	assert.Equal(t, "172.8 kg", net.Best.String())
	assert.Equal(t, "170.94912046 kg", net.Low.In(units.Kilogram).String(), "190 kg less 42 lb")
	assert.Equal(t, "174.57785942 kg", net.High.String(), "190 kg less 34 lb")
	assert.Equal(t, drain.Stated, net.From, "no firmer than the tare")
	gross, err := c.Gross(net)
	require.NoError(t, err)
	assert.Equal(t, "190 kg", gross.Best.Round(0, units.ToNearestEven).String())

	light, err := c.Net(weighed("17.5 kg")) // below the heaviest such drum
	require.NoError(t, err)
	assert.Equal(t, 0, light.Low.Sign(), "no net mass is below zero")
	_, err = c.Net(weighed("17 kg"))
	require.ErrorIs(t, err, units.ErrRange)
}

func TestWeighedStandsInPlaceOfEstimated(t *testing.T) {
	estimated := mass(t, "10 kg", "12 kg", "14 kg", drain.Assumed)
	s, err := waste.Settle(estimated, weighed("13.2 kg"))
	require.NoError(t, err)
	assert.Equal(t, "13.2 kg", s.Mass.Best.String())
	assert.False(t, s.Disagrees)
	assert.Contains(t, s.Note, "in place of the estimate 12 kg")
	s, err = waste.Settle(estimated, weighed("29.1 kg")) // pounds read as kilograms
	require.NoError(t, err)
	assert.True(t, s.Disagrees)
	assert.Contains(t, s.Note, "the two don't agree: check the scale's unit")
	for kg, disagrees := range map[string]bool{"9.999 kg": true, "10 kg": false, "14 kg": false, "14.001 kg": true} {
		s, err = waste.Settle(estimated, weighed(kg))
		require.NoError(t, err)
		assert.Equal(t, disagrees, s.Disagrees, "%s beside 10 to 14 kg", kg)
		assert.Equal(t, disagrees, strings.Contains(s.Note, "don't agree"), kg)
	}
	_, err = waste.Settle(estimated, estimated)
	require.ErrorIs(t, err, waste.ErrMissing)
}

func TestWetKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dry := drawMass(t)
		v := rapid.SliceOfN(rapid.Int64Range(0, 1e6), 2, 2).Draw(t, "millilitres")
		d := rapid.SliceOfN(rapid.Int64Range(700, 1000), 2, 2).Draw(t, "density")
		retained := drain.Estimate[units.VolumeUnit]{Low: units.Millilitre.Of(min(v[0], v[1])), Best: units.Millilitre.Of(v[0]), High: units.Millilitre.Of(max(v[0], v[1])), From: drain.Assumed}
		rho := drain.Estimate[units.DensityUnit]{Low: units.KilogramPerCubicMetre.Of(min(d[0], d[1])), Best: units.KilogramPerCubicMetre.Of(d[1]), High: units.KilogramPerCubicMetre.Of(max(d[0], d[1])), From: drain.Stated}
		wet, err := waste.Wet(dry, retained, rho)
		require.NoError(t, err)
		require.NoError(t, wet.Check())
		assert.Equal(t, drain.Assumed, wet.From)
		if rest, exact := wet.Best.Sub(dry.Best); exact { // what was added is volume times density
			want := new(big.Rat).Mul(big.NewRat(v[0], 1e6), big.NewRat(d[1], 1))
			assert.Zero(t, rest.RatIn(units.Kilogram).Cmp(want))
		}
	})
}

// The two ways to weigh a wet element differ only in where they round, by 1e-12 of a kilogram and of a
// kg/m³ for what is up to a litre here.
func TestWetAndWetMassAgree(t *testing.T) {
	most := units.MustParseMass("0.000000000002 kg")
	rapid.Check(t, func(t *rapid.T) {
		fuel, err := drain.FuelAt(units.KilogramPerCubicMetre.Of(rapid.Int64Range(700, 1000).Draw(t, "density")), units.Celsius.Of(15))
		require.NoError(t, err)
		at := units.Celsius.Of(rapid.Int64Range(-50, 150).Draw(t, "at"))
		there, err := fuel.DensityAt(at)
		require.NoError(t, err)
		rho, err := drain.Exactly(there, drain.Stated)
		require.NoError(t, err)
		retained, err := drain.Exactly(units.Millilitre.Of(rapid.Int64Range(0, 1000).Draw(t, "millilitres")), drain.Assumed)
		require.NoError(t, err)
		dry := drawMass(t)
		wet, err := waste.Wet(dry, retained, rho)
		require.NoError(t, err)
		other, err := drain.WetMass(dry, retained, fuel, at)
		require.NoError(t, err)
		for _, ends := range [][2]units.Mass{{wet.Low, other.Low}, {wet.Best, other.Best}, {wet.High, other.High}} {
			gap, _ := ends[0].Sub(ends[1])
			require.False(t, most.Less(gap.Abs()), "%s and %s", ends[0], ends[1])
		}
		require.Equal(t, wet.From, other.From)
	})
}

// outputs is one of everything this package puts out, as text and as JSON.
func outputs(t *testing.T) []string {
	var l waste.Ledger
	for n, stream := range waste.Streams() {
		for d := waste.Undetermined; d <= waste.NotCounted; d++ {
			require.NoError(t, l.Add(entry("J1", 0, 10*n+int(d)+1, stream, d, mass(t, "30 kg", "40 kg", "50.12345 kg", drain.Assumed))))
		}
	}
	var texts []string
	add := func(v interface{ String() string }) {
		data, err := json.Marshal(v)
		require.NoError(t, err)
		texts = append(texts, v.String(), string(data))
	}
	for _, rules := range []waste.RuleSet{waste.USFederal(), waste.EuropeanList()} {
		s, err := l.Statement(2026, time.March, rules)
		require.NoError(t, err)
		add(s)
		for _, stream := range waste.Streams() {
			a, err := rules.Ask(stream)
			require.NoError(t, err)
			add(a)
		}
	}
	line, err := item(waste.Gaskets, weighed("0.1 kg")).Line(waste.FormPounds)
	require.NoError(t, err)
	add(line)
	add(waste.Form{line, line})
	note, err := item(waste.Gaskets, weighed("0.1 kg")).Consign(0)
	require.NoError(t, err)
	add(note)
	clock, err := waste.USFederal().OffSiteBy("SQG", waste.MustParseDate("2026-01-01"), false)
	require.NoError(t, err)
	add(clock)
	held, err := waste.USFederal().OnSite("SQG", weighed("1 kg"))
	require.NoError(t, err)
	add(held)
	c := drum("A")
	c.Started = waste.MustParseDate("2026-01-01")
	due, err := waste.USFederal().Due("LQG", false, waste.MustParseDate("2026-05-01"), 30, []waste.Container{c})
	require.NoError(t, err)
	require.Len(t, due, 1)
	add(due)
	category, err := waste.USFederal().CategoryOf(units.Kilogram.Of(100))
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

func BenchmarkLine(b *testing.B) {
	i := item(waste.DrainedElement, mass(b, "40.4 kg", "41.6 kg", "43.2 kg", drain.Assumed))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := i.Line(waste.FormPounds); err != nil {
			b.Fatal(err)
		}
	}
}
