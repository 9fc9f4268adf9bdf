package units_test

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/units"
)

// Keys sort as quantities do, of every kind and sign, and equal ones are one.
func TestSortKeys(t *testing.T) {
	sortKeysOf[units.TorqueUnit](t)
	sortKeysOf[units.LengthUnit](t)
	sortKeysOf[units.MassUnit](t)
	sortKeysOf[units.VolumeUnit](t)
	sortKeysOf[units.FlowUnit](t)
	sortKeysOf[units.DensityUnit](t)
	sortKeysOf[units.PressureUnit](t)
	sortKeysOf[units.AngleUnit](t)
	sortKeysOf[units.ShareUnit](t)
	sortKeysOf[units.TemperatureDifferenceUnit](t)
}

func number(t *rapid.T) string {
	digits := rapid.StringMatching(`[0-9]{1,20}`).Draw(t, "digits")
	places := rapid.IntRange(0, 40).Draw(t, "places")
	for len(digits) <= places {
		digits = "0" + digits
	}
	text := digits[:len(digits)-places]
	if places > 0 {
		text += "." + digits[len(digits)-places:]
	}
	if rapid.Bool().Draw(t, "negative") {
		text = "-" + text
	}
	return text
}

func sortKeysOf[U units.Unit](t *testing.T) {
	t.Helper()
	var all []U
	for u := range 256 {
		if _, err := units.FromRat(big.NewRat(1, 1), U(u), 0, units.ToNearestEven); err == nil {
			all = append(all, U(u))
		}
	}
	require.NotEmpty(t, all)
	one := func(t *rapid.T) units.Quantity[U] {
		q, err := units.Parse[U](number(t) + " " + rapid.SampledFrom(all).Draw(t, "unit").String())
		if err != nil {
			t.Skip(err)
		}
		return q
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := one(t), one(t)
		if rapid.Bool().Draw(t, "near") {
			b = a.RoundIn(rapid.SampledFrom(all).Draw(t, "as"), rapid.IntRange(0, 20).Draw(t, "to"), units.ToNearestEven)
		}
		order := strings.Compare(a.SortKey(), b.SortKey())
		switch c := a.Compare(b); {
		case c == 0:
			require.Zero(t, order, "%v %v", a, b)
		default:
			require.NotEqual(t, -c, order, "%v %s, %v %s", a, a.SortKey(), b, b.SortKey())
		}
		require.Less(t, a.SortKey(), "~")
	})
}

func TestSortKeysOfTemperatures(t *testing.T) {
	one := func(t *rapid.T) units.Temperature {
		scale := rapid.SampledFrom([]units.TemperatureScale{units.Kelvin, units.Celsius, units.Fahrenheit}).Draw(t, "scale")
		v, err := units.ParseTemperature(number(t) + " " + scale.String())
		if err != nil {
			t.Skip(err)
		}
		return v
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := one(t), one(t)
		if rapid.Bool().Draw(t, "near") {
			b = a.RoundIn(units.Fahrenheit, 20, units.ToNearestEven)
		}
		order := strings.Compare(a.SortKey(), b.SortKey())
		if c := a.Compare(b); c == 0 {
			require.Zero(t, order, "%v %v", a, b)
		} else {
			require.NotEqual(t, -c, order, "%v %v", a, b)
		}
	})
}

// By hand, from the form that the doc comment gives.
func TestSortKeyForm(t *testing.T) {
	for text, want := range map[string]string{
		"0 N·m": "1", "-0.00 in-lb": "1", "1 N·m": "25011", "12.50 N·m": "2502125", "-12.50 N·m": "0497874~", "0.05 N·m": "24995", "999 N·m": "2503999", "1000 N·m": "25041",
	} {
		assert.Equal(t, want, units.MustParseTorque(text).SortKey(), text)
	}
	assert.Equal(t, "~", units.TorqueUnit(200).Of(1).SortKey())
	assert.Equal(t, "~", units.Temperature{}.SortKey())
	assert.Equal(t, "1", units.MustParseTemperature("0 K").SortKey())
	for _, kelvin := range []string{"288.15 K", "15 °C", "59 °F"} {
		assert.Equal(t, "250328815", units.MustParseTemperature(kelvin).SortKey(), kelvin)
	}
}

// Two torques in different units, as a database sorts them.
func ExampleQuantity_SortKey() {
	small, large := units.MustParseTorque("145 in-lb"), units.MustParseTorque("17 N·m")
	fmt.Println(small.SortKey() < large.SortKey(), large.SortKey())
	fmt.Println(units.MustParseTemperature("59 °F").SortKey() == units.MustParseTemperature("15 °C").SortKey())
	// Output:
	// true 250217
	// true
}
