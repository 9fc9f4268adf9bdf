package usfederal_test

import (
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
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

// The codes of the form. Source: epa-8700-22.
var (
	allContainers = strings.Fields("BA CF CM CW CY DF DM DT DW HG TC TP TT")
	allUnits      = strings.Fields("G K L M N P T Y")
)

func container(t testing.TB, code string) usfederal.ContainerCode {
	t.Helper()
	var c usfederal.ContainerCode
	require.NoError(t, c.UnmarshalText([]byte(code)))
	return c
}

func unitCode(t testing.TB, code string) usfederal.UnitCode {
	t.Helper()
	var u usfederal.UnitCode
	require.NoError(t, u.UnmarshalText([]byte(code)))
	return u
}

// drum is an invented drum of 55 gal, filled to 95 %.
func drum(id string) waste.Container {
	return waste.Container{ID: id, Capacity: units.USGallon.Of(55), FillLimit: units.MustParseVolume("52.25 US gal")}
}

func batch(stream waste.Stream, m drain.Estimate[units.MassUnit]) waste.Batch {
	return waste.Batch{Description: "invented waste", Stream: stream, Mass: m, Containers: []waste.Container{drum("A")}}
}
