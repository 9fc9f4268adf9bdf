package usfederal_test

import (
	"encoding/json"
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLinesRefused(t *testing.T) {
	for _, c := range []struct {
		name      string
		change    func(*waste.Batch)
		container usfederal.ContainerCode
		unit      usfederal.UnitCode
		want      error
		says      string
	}{
		{"seven codes", func(b *waste.Batch) { b.Codes = strings.Fields("D001 D002 D003 D004 D005 D006 D007") }, usfederal.MetalDrums, usfederal.Kilograms, units.ErrRange, "at most six"},
		{"no batch", func(b *waste.Batch) { *b = waste.Batch{} }, usfederal.MetalDrums, usfederal.Kilograms, drain.ErrMissing, "description"},
		{"no container code", func(*waste.Batch) {}, 0, usfederal.Kilograms, drain.ErrMissing, "Table I"},
		{"stray container code", func(*waste.Batch) {}, 99, usfederal.Kilograms, drain.ErrMissing, "Table I"},
		{"a billion", func(b *waste.Batch) { b.Mass = weighed("1000000000 kg") }, usfederal.MetalDrums, usfederal.Kilograms, units.ErrRange, "999,999,999"},
		{"beyond an int64", func(b *waste.Batch) { b.Mass = weighed("99999999999999999999999 kg") }, usfederal.MetalDrums, usfederal.Kilograms, units.ErrRange, "999,999,999"},
		{"no unit", func(*waste.Batch) {}, usfederal.MetalDrums, 0, drain.ErrMissing, "K, P, L"},
		{"stray unit", func(*waste.Batch) {}, usfederal.MetalDrums, 99, drain.ErrMissing, "K, P, L"},
		{"gallons of elements", func(*waste.Batch) {}, usfederal.MetalDrums, usfederal.Gallons, units.ErrRange, "for liquids only"},
		{"cubic yards of drums", func(*waste.Batch) {}, usfederal.MetalDrums, unitCode(t, "Y"), units.ErrRange, "for very large bulk only"},
	} {
		b := batch(waste.DrainedElement, weighed("10 kg"))
		c.change(&b)
		got, err := usfederal.NewManifestLine(b, c.container, c.unit)
		var typed *waste.Error
		require.ErrorAs(t, err, &typed, c.name)
		require.ErrorIs(t, err, c.want, c.name)
		require.ErrorContains(t, err, c.says, c.name)
		assert.Equal(t, usfederal.ManifestLine{}, got)
	}
}

func TestCodesAreWrittenAndRead(t *testing.T) {
	assert.Equal(t, usfederal.MetalDrums, container(t, " dm "))
	assert.Equal(t, usfederal.Kilograms, unitCode(t, " k "))
	for _, code := range allContainers {
		c := container(t, code)
		var back usfederal.ContainerCode
		text, err := c.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, c, back)
		require.Error(t, back.UnmarshalText([]byte("nonsense")))
		assert.Equal(t, c, back, "a failed decode changes nothing")
	}
	for _, code := range allUnits {
		u := unitCode(t, code)
		var back usfederal.UnitCode
		text, err := u.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, u, back)
		require.Error(t, back.UnmarshalText([]byte("nonsense")))
		assert.Equal(t, u, back, "a failed decode changes nothing")
	}
	for _, v := range []any{usfederal.ContainerCode(0), usfederal.ContainerCode(99), usfederal.UnitCode(0), usfederal.UnitCode(99)} {
		_, err := json.Marshal(v)
		require.ErrorIs(t, err, units.ErrRange, "%v", v)
	}
	_, err := json.Marshal(usfederal.ManifestLine{})
	require.ErrorIs(t, err, units.ErrRange)
	assert.NotEmpty(t, usfederal.ManifestLine{}.String(), "made by hand, and no panic")
}

func TestCodesRefused(t *testing.T) {
	for _, text := range []string{"", "D", "DMM", "XX", "??", strings.Repeat("x", 1<<20)} {
		kept := usfederal.Bags
		require.ErrorIs(t, kept.UnmarshalText([]byte(text)), units.ErrSyntax, "container code")
	}
	for _, text := range []string{"", "KG", "X", "?", "lb", strings.Repeat("x", 1<<20)} {
		kept := usfederal.Pounds
		require.ErrorIs(t, kept.UnmarshalText([]byte(text)), units.ErrSyntax, "unit code")
	}
}
