package service

import (
	"encoding"
	"errors"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// Preferences are the habits of the country that a sheet is printed for; [Shop] has the unit of
// the torques. A kind of quantity that isn't named here is printed in the unit the job states,
// and volumes and masses in the other of metric and American units next to it. They change what is
// printed on the sheet, and neither what is read nor what is decided, nor a record.
type Preferences struct {
	Volume      *units.VolumeUnit       `json:"volume,omitempty"`      // the unit for volumes: "L", "US gal"
	Mass        *units.MassUnit         `json:"mass,omitempty"`        // for masses: "kg", "lb"
	Temperature *units.TemperatureScale `json:"temperature,omitempty"` // for temperatures: "°C", "°F"
	Length      *units.LengthUnit       `json:"length,omitempty"`      // for lengths: "mm", "in"
	// DecimalComma prints 0,5 for 0.5 in words and pictures. What the job says in words stays as
	// written, and what a program reads keeps its point. In a job file a comma is still refused.
	DecimalComma bool `json:"decimalComma,omitempty"`
}

// PrintIn has the sheet print in a unit, by any spelling of package units: torques, volumes,
// masses, lengths or temperatures, whichever the unit measures. The others stay as they were.
//
// Errors: *units.ParseError; the job stays as it was then.
func (j *Job) PrintIn(unit string) error {
	prefer := Preferences{}
	if j.Preferences != nil {
		prefer = *j.Preferences
	}
	var torques *units.TorqueUnit
	var other error
	for _, try := range []func() error{
		func() error { return use(unit, &torques) }, func() error { return use(unit, &prefer.Volume) },
		func() error { return use(unit, &prefer.Mass) }, func() error { return use(unit, &prefer.Length) },
		func() error { return use(unit, &prefer.Temperature) },
	} {
		err := try()
		switch {
		case err == nil && torques != nil:
			j.Shop.TorqueUnit, j.Shop.TorquePlaces = *torques, nil
			return nil
		case err == nil:
			j.Preferences = &prefer
			return nil
		case other == nil || !errors.Is(err, units.ErrOtherKind):
			other = err
		}
	}
	const want = "a unit of torque, volume, mass, length or temperature"
	var parse *units.ParseError
	if errors.Is(other, units.ErrOtherKind) && errors.As(other, &parse) {
		return misread.Error("unit of the sheet", unit, 0, parse.Problem, want, units.ErrOtherKind)
	}
	return other
}

// use reads a unit.
func use[U any, P interface {
	*U
	encoding.TextUnmarshaler
}](text string, into *P) error {
	unit := P(new(U))
	err := unit.UnmarshalText([]byte(text))
	if err == nil {
		*into = unit
	}
	return err
}
