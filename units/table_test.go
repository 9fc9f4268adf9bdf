package units

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// product multiplies exact decimals and fractions, written as the sources write them.
func product(factors ...string) *big.Rat {
	x := big.NewRat(1, 1)
	for _, f := range factors {
		y, ok := new(big.Rat).SetString(f)
		if !ok {
			panic(f)
		}
		x.Mul(x, y)
	}
	return x
}

func per(x *big.Rat, factors ...string) *big.Rat {
	return new(big.Rat).Quo(x, product(factors...))
}

// The definitions, built again from the anchors in SI units with nothing taken from the tables:
// inch 0.0254 m, pound 0.45359237 kg, standard gravity 9.80665 m/s², US gallon 231 in³, imperial gallon
// 4.54609 L. Sources: 24-fr-5348, nist-hb44-c, nist-sp811-b8.
const (
	inchM  = "0.0254"
	poundK = "0.45359237"
	gn     = "9.80665"
	galUS  = "231"
	galImp = "0.00454609"
)

func definitions() map[*kind]map[string]*big.Rat {
	usGal := product(galUS, inchM, inchM, inchM)
	impGal := product(galImp)
	minute := "1/60"
	hour := "1/3600"
	of := func(x *big.Rat, factors ...string) *big.Rat { return new(big.Rat).Mul(x, product(factors...)) }
	return map[*kind]map[string]*big.Rat{
		torqueKind: {
			"N·m": product("1"), "dN·m": product("0.1"), "cN·m": product("0.01"),
			"in-lb": product(poundK, gn, inchM), "ft-lb": product(poundK, gn, inchM, "12"),
			"in-oz": product(poundK, gn, inchM, "1/16"),
			"kgf·m": product(gn), "kgf·cm": product(gn, "0.01"),
			"N·cm": product("0.01"), "mN·m": product("0.001"), "kN·m": product("1000"), "daN·m": product("10"),
		},
		angleKind: {"°": product("1"), "rev": product("360")},
		volumeKind: {
			"m³": product("1"), "L": product("1e-3"), "mL": product("1e-6"),
			"in³":    product(inchM, inchM, inchM),
			"US gal": usGal, "US qt": of(usGal, "1/4"), "US pt": of(usGal, "1/8"), "US fl oz": of(usGal, "1/128"),
			"imp gal": impGal, "imp qt": of(impGal, "1/4"), "imp pt": of(impGal, "1/8"), "imp fl oz": of(impGal, "1/160"),
			"cL": product("1e-5"), "cm³": product("0.01", "0.01", "0.01"), "dL": product("1e-4"), "hL": product("0.1"),
		},
		massKind: {
			"kg": product("1"), "g": product("0.001"), "t": product("1000"), "mg": product("1e-6"),
			"lb": product(poundK), "oz": product(poundK, "1/16"),
			"short ton": product(poundK, "2000"), "long ton": product(poundK, "2240"),
		},
		densityKind: {
			"kg/m³": product("1"), "kg/L": product("1000"), "g/cm³": product("1000"),
			"lb/US gal":  new(big.Rat).Quo(product(poundK), usGal),
			"lb/imp gal": new(big.Rat).Quo(product(poundK), impGal),
			"g/mL":       product("1000"),
			"lb/ft³":     per(product(poundK), inchM, inchM, inchM, "1728"),
		},
		lengthKind: {
			"m": product("1"), "cm": product("0.01"), "mm": product("0.001"), "in": product(inchM), "ft": product(inchM, "12"),
			"km": product("1000"), "mi": product("1609.344"), // Source: 24-fr-5348.
			"µm": product("1e-6"),
		},
		flowKind: { // in m³/s
			"L/min": product("1e-3", minute), "L/h": product("1e-3", hour),
			"US gal/min": of(usGal, minute), "US gal/h": of(usGal, hour),
			"imp gal/h": of(impGal, hour), "imp gal/min": of(impGal, minute), "mL/min": product("1e-6", minute),
			"m³/h": product(hour),
		},
		pressureKind: {
			"Pa": product("1"), "kPa": product("1000"), "bar": product("100000"),
			"psi":   per(product(poundK, gn), inchM, inchM),
			"inHg":  product("13595.1", gn, inchM), // conventional mercury
			"inH2O": product("1000", gn, inchM),    // conventional water
			"MPa":   product("1e6"), "hPa": product("100"), "mbar": product("1e5", "1/1000"),
			"kgf/cm²": per(product(gn), "0.01", "0.01"), "mmHg": product("13595.1", gn, "0.001"), "mmH2O": product("1000", gn, "0.001"),
			"atm": product("101325"), // Source: nist-sp811-quoted.
		},
		temperatureDifferenceKind: {"K": product("1"), "°C": product("1"), "°F": product("5/9")},
		shareKind:                 {"%": product("0.01")},
	}
}

func TestEveryRatioOfEveryTable(t *testing.T) {
	pairs := 0
	for _, k := range kinds() {
		defined := definitions()[k]
		require.Len(t, defined, len(k.rows), k.name)
		for i, from := range k.rows {
			for j, to := range k.rows {
				require.Contains(t, defined, from.symbol)
				want := new(big.Rat).Quo(defined[from.symbol], defined[to.symbol])
				r, ok := k.ratio(uint8(i), uint8(j))
				require.True(t, ok)
				assert.Zero(t, want.Cmp(r.rat()), "%s to %s: %s, want %s", from.symbol, to.symbol, r.rat(), want)
				assert.NotZero(t, r.den%2, "the denominator of %s to %s has a two", from.symbol, to.symbol)
				assert.NotZero(t, r.den%5, "the denominator of %s to %s has a five", from.symbol, to.symbol)
				pairs++
			}
		}
	}
	assert.Greater(t, pairs, 600)
}

// The values that are printed, to every digit. Those marked exact are in boldface there. Source: nist-sp811-b8.
func TestPrintedByNIST(t *testing.T) {
	for _, c := range []struct {
		k        *kind
		from, to string
		printed  string // times scale, in SI
		scale    string
	}{
		{torqueKind, "in-lb", "N·m", "0.1129848", "1"},
		{torqueKind, "ft-lb", "N·m", "1.355818", "1"},
		{torqueKind, "in-oz", "N·m", "0.007061552", "1"},
		{torqueKind, "kgf·m", "N·m", "9.80665", "1"}, // exact
		{volumeKind, "US gal", "m³", "0.003785412", "1"},
		{volumeKind, "imp gal", "m³", "0.00454609", "1"}, // exact
		{volumeKind, "US qt", "m³", "0.0009463529", "1"},
		{volumeKind, "US pt", "m³", "0.0004731765", "1"},
		{volumeKind, "US fl oz", "m³", "0.00002957353", "1"},
		{volumeKind, "imp fl oz", "m³", "0.00002841306", "1"},
		{volumeKind, "in³", "m³", "0.00001638706", "1"},
		{massKind, "lb", "kg", "0.4535924", "1"},
		{massKind, "oz", "kg", "0.02834952", "1"},
		{massKind, "long ton", "kg", "1016.047", "1"},
		{massKind, "short ton", "kg", "907.1847", "1"},
		{densityKind, "lb/US gal", "kg/m³", "119.8264", "1"},
		{densityKind, "lb/imp gal", "kg/m³", "99.77637", "1"},
		{pressureKind, "psi", "Pa", "6894.757", "1"},
		{pressureKind, "inHg", "Pa", "3386.389", "1"},
		{pressureKind, "inH2O", "Pa", "249.0889", "1"},
		{flowKind, "US gal/min", "L/min", "0.00006309020", "60000"}, // printed in m³/s
		{lengthKind, "in", "m", "0.0254", "1"},                      // exact
		{lengthKind, "ft", "m", "0.3048", "1"},                      // exact
		// GNU units and Recommendation 20 agree, see testdata/unitschecks. Source: nist-sp811-quoted.
		{lengthKind, "mi", "km", "1.609344", "1"},
		{lengthKind, "µm", "m", "0.000001", "1"}, // the micron there
		{densityKind, "lb/ft³", "kg/m³", "16.01846", "1"},
		{pressureKind, "atm", "Pa", "101325", "1"},
		{pressureKind, "kgf/cm²", "Pa", "98066.5", "1"},
		{pressureKind, "mmHg", "Pa", "133.3224", "1"},
		{pressureKind, "mmH2O", "Pa", "9.80665", "1"},
		{pressureKind, "mbar", "Pa", "100", "1"},
	} {
		from, to := c.k.mustFind(t, c.from), c.k.mustFind(t, c.to)
		r, ok := c.k.ratio(from, to)
		require.True(t, ok)
		x := new(big.Rat).Quo(r.rat(), product(c.scale))
		_, fraction, _ := strings.Cut(c.printed, ".")
		rounded, ok := roundRatTo(x, len(fraction), ToNearestEven)
		require.True(t, ok)
		assert.Equal(t, c.printed, string(rounded.appendTo(nil)), c.from)
	}
}

func (k *kind) mustFind(t *testing.T, symbol string) uint8 {
	e, ok := k.lookup(symbol)
	require.True(t, ok && e.trap == nil, symbol)
	require.Equal(t, symbol, k.rows[e.unit].symbol)
	return e.unit
}

// The exact values, which all terminate, computed from the definitions; the footnotes on the pound and the
// gallon agree. Source: nist-sp811-b8.
func TestExactValues(t *testing.T) {
	for _, c := range []struct {
		one, want string
	}{
		{"1 in-lb", "0.1129848290276167"},
		{"1 ft-lb", "1.3558179483314004"},
		{"1 in-oz", "0.00706155181422604375"},
		{"1 kgf·m", "9.80665"},
		{"1 kgf·cm", "0.0980665"},
	} {
		got, exact := MustParseTorque(c.one).Exact(NewtonMetre)
		assert.True(t, exact, c.one)
		assert.Equal(t, c.want+" N·m", got.String())
	}
	gallon, exact := USGallon.Of(1).Exact(Litre)
	assert.True(t, exact)
	assert.Equal(t, "3.785411784 L", gallon.String())
	// The repeating inverses, to the 17 digits that were computed elsewhere.
	for unit, want := range map[TorqueUnit]string{
		InchPound: "8.8507457913271844", FootPound: "0.73756214927726536", InchOunce: "141.61193266123495",
		KilogramForceMetre: "0.10197162129779282", KilogramForceCentimetre: "10.197162129779282",
	} {
		got := NewtonMetre.Of(1).In(unit).Magnitude().String()
		assert.True(t, strings.HasPrefix(got, want[:len(want)-1]), "%s: %s, want %s", unit, got, want)
	}
}

// A spelling that stood for two units would be decided by the order of a table.
func TestNoSpellingStandsForTwoUnits(t *testing.T) {
	for _, k := range allKinds() {
		owner := map[string]int{}
		claim := func(spelling string, unit int) {
			spelling = strings.TrimPrefix(spelling, "=")
			if before, taken := owner[spelling]; taken {
				assert.Equal(t, k.rows[before].symbol, k.rows[unit].symbol, "%s: %q", k.name, spelling)
			}
			owner[spelling] = unit
		}
		for i, r := range k.rows {
			claim(r.symbol, i)
			for _, s := range r.spellings {
				claim(s, i)
			}
		}
		for _, trap := range k.traps {
			unit, taken := owner[trap.spelling]
			assert.False(t, taken, "%s: %q is a trap and unit %d", k.name, trap.spelling, unit)
		}
	}
}

func TestSpellingsAreFolded(t *testing.T) {
	for _, k := range allKinds() {
		for i, r := range k.rows {
			e, ok := k.lookup(r.symbol)
			require.True(t, ok && e.trap == nil, r.symbol)
			assert.EqualValues(t, i, e.unit, r.symbol)
			for _, s := range r.spellings {
				text, exact := strings.CutPrefix(s, "=")
				assert.LessOrEqual(t, len(strings.ReplaceAll(text, "·", "\u202f")), maxUnit, "%s is too long to be looked up", s)
				assert.Equal(t, text, foldUnit(text), "%s can't be reached", s)
				if !exact {
					assert.Equal(t, strings.ToLower(text), text, "%s can't be reached", s)
				}
				e, ok := k.lookup(text)
				require.True(t, ok && e.trap == nil, s)
				assert.EqualValues(t, i, e.unit, s)
			}
			for _, name := range []string{r.name, r.name + "s", strings.ToUpper(r.name)} {
				e, ok := k.lookup(name)
				require.True(t, ok && e.trap == nil, name)
				assert.EqualValues(t, i, e.unit, name)
			}
			for _, ch := range r.symbol {
				assert.NotContains(t, `"\<>&`, string(ch), "JSON would have to escape it")
			}
		}
		for _, trap := range k.traps {
			if !strings.HasPrefix(trap.spelling, "=") {
				assert.Equal(t, strings.ToLower(foldUnit(trap.spelling)), trap.spelling)
			}
			assert.NotEmpty(t, trap.why)
		}
	}
}
