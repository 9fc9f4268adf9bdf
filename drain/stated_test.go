package drain

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// °API is 141.5/(relative density 60/60 °F) - 131.5 and the density so many times 999.016 kg/m³ (11.1.5.1;
// Source: api-11-1): 10 °API are 999.016 kg/m³ by definition, the other figures are computed.
func TestStatedDensity(t *testing.T) {
	for text, want := range map[string][2]string{
		"840 kg/m³": {"840 kg/m³", "840"}, "0.84 kg/L": {"0.84 kg/L", "840"}, `7.05 lb/US gal`: {"7.05 lb/US gal", "844.77"},
		"10 °API": {"10 °API", "999.016"}, "35.2 °API": {"35.2 °API", "847.99"}, "35.20 deg API": {"35.20 °API", "847.99"},
		"35.2 API": {"35.2 °API", "847.99"}, "35.2°api": {"35.2 °API", "847.99"}, "35.2 degrees API": {"35.2 °API", "847.99"},
		"35.2 °API at 60 °F": {"35.2 °API", "847.99"}, "35.2 (°API)": {"35.2 °API", "847.99"}, "0 °API": {"0 °API", "1074.9"}, "-1 °API": {"-1 °API", "1083.2"},
		"0.845 (60/60 °F)": {"0.845 (60/60 °F)", "844.16"}, "0.845 60/60 °F": {"0.845 (60/60 °F)", "844.16"},
		"0.845 relative (60/60 °F)": {"0.845 (60/60 °F)", "844.16"}, "SG 0.845 at 60/60 °F": {"0.845 (60/60 °F)", "844.16"},
		"0.845 relative density 60/60F": {"0.845 (60/60 °F)", "844.16"}, "RD 0.845 (60°/60°F)": {"0.845 (60/60 °F)", "844.16"},
		"specific gravity 0.845 @ 60/60 °F": {"0.845 (60/60 °F)", "844.16"},
	} {
		d, err := ParseStatedDensity(text)
		require.NoError(t, err, text)
		assert.Equal(t, want[0], d.String(), text)
		assert.True(t, strings.HasPrefix(d.Density().RoundIn(units.KilogramPerCubicMetre, 8, units.ToNegativeInf).String(), want[1]), "%s: %v", text, d.Density())
		assert.Equal(t, strings.Contains(want[0], "°"), d.At60F(), text)
		again, err := ParseStatedDensity(d.String())
		require.NoError(t, err)
		assert.True(t, again.Density().Equal(d.Density()) && again.String() == d.String(), text)
		data, err := json.Marshal(d)
		require.NoError(t, err)
		var back StatedDensity
		require.NoError(t, json.Unmarshal(data, &back), string(data))
		assert.Equal(t, d.String(), back.String())
	}
	relative, err := ParseStatedDensity("0.845 (60/60 °F)")
	require.NoError(t, err)
	assert.True(t, relative.Density().Equal(units.MustParseDensity("844.16852 kg/m³")), "exact: %v", relative.Density())
}

func TestBadStatedDensities(t *testing.T) {
	for text, want := range map[string]error{
		"":                       units.ErrSyntax,
		"°API":                   units.ErrSyntax,
		"x °API":                 units.ErrSyntax,
		"35.2 kg/m³ API":         units.ErrSyntax,
		"35,2 °API":              units.ErrAmbiguous,
		"-131.5 °API":            units.ErrRange,
		"1e9 °API":               units.ErrSyntax,
		"0 (60/60 °F)":           units.ErrRange,
		"-0.8 (60/60 °F)":        units.ErrRange,
		"0.845":                  units.ErrNoUnit,
		"0.845 relative":         units.ErrAmbiguous,
		"SG 0.845":               units.ErrAmbiguous,
		"0.845 specific gravity": units.ErrAmbiguous,
		"35.2 g/L/L":             units.ErrUnknownUnit,
	} {
		d := StateDensity(units.MustParseDensity("840 kg/m³"))
		err := d.UnmarshalText([]byte(text))
		if assert.ErrorIs(t, err, want, text); err != nil {
			assert.NotContains(t, err.Error(), "DensityOf", text)
		}
		assert.Equal(t, "840 kg/m³", d.String(), text)
	}
	for _, text := range []string{"35.2 °API at 90 °F", "30 °C API 60 °F", "0.845 15/4 °C", "0.845 (15/15 °C)", "35.2\x1b °API", strings.Repeat("3", 300) + " °API", strings.Repeat("(", 200)} {
		_, err := ParseStatedDensity(text)
		require.Error(t, err, text)
		assert.NotContains(t, err.Error(), "\x1b")
		assert.Less(t, len(err.Error()), 400)
	}
	for _, data := range []string{"null", "35.2", `{"value":"35.2","unit":"°API"}`, `"35.2`, `{}`} {
		d := StateDensity(units.MustParseDensity("840 kg/m³"))
		require.Error(t, d.UnmarshalJSON([]byte(data)), data)
		assert.Equal(t, "840 kg/m³", d.String(), data)
	}
}

// What is on a scale is at 60 °F, whether that is said or not, and at nothing else.
func TestFuelOfStatedDensity(t *testing.T) {
	api, err := ParseStatedDensity("35.2 °API")
	require.NoError(t, err)
	for _, at := range []units.Temperature{{}, units.Fahrenheit.Of(60), units.MustParseTemperature("60.0 °F")} {
		fuel, err := api.Fuel(at)
		require.NoError(t, err)
		gravity, err := fuel.APIGravity(3)
		require.NoError(t, err)
		assert.Equal(t, "35.2", gravity.String())
	}
	_, err = api.Fuel(units.Celsius.Of(15))
	assert.ErrorIs(t, err, ErrTemperature)
	_, err = StateDensity(units.MustParseDensity("840 kg/m³")).Fuel(units.Temperature{})
	assert.ErrorIs(t, err, ErrMissing)
	_, err = StatedDensity{}.Fuel(units.Celsius.Of(15))
	assert.ErrorIs(t, err, ErrMissing)
	heavy, err := ParseStatedDensity("840 (60/60 °F)") // a density in kg/m³, by the looks of it
	require.NoError(t, err)
	_, err = heavy.Fuel(units.Temperature{})
	assert.ErrorIs(t, err, ErrDensity)
	var e *InputError
	assert.True(t, errors.As(err, &e))
}
