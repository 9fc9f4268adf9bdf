package units

import (
	"testing"

	"github.com/shopspring/decimal"

	"example.com/snugturn/testdata/frozen"
)

var frozenCalls = frozen.Of(frozen.Calls{
	"ParseAngle": ParseAngle, "ParseDensity": ParseDensity, "ParseFlow": ParseFlow, "ParseLength": ParseLength, "ParseMass": ParseMass,
	"ParsePressure": ParsePressure, "ParseShare": ParseShare, "NewTemperature": NewTemperature, "ParseTemperature": ParseTemperature,
	"ParseTorque": ParseTorque, "ParseVolume": ParseVolume,
	"ParseTorqueUnit": ParseUnit[TorqueUnit], "ParseVolumeUnit": ParseUnit[VolumeUnit], "ParsePressureUnit": ParseUnit[PressureUnit],
	"ParseTemperatureDifference": Parse[TemperatureDifferenceUnit],
	"FromRec20Torque":            FromRec20[TorqueUnit], "FromUCUMVolume": FromUCUM[VolumeUnit], "FromUCUMPressure": FromUCUM[PressureUnit],
	"FactorLength": Factor[LengthUnit], "FactorVolume": Factor[VolumeUnit], "NewTorque": New[TorqueUnit],
	"MaxMass": Max[MassUnit], "MinMass": Min[MassUnit], "SumVolume": Sum[VolumeUnit],
	"FromRatLength": func(num, den int64, unit LengthUnit, places int, mode Rounding) (Length, error) {
		if den == 0 {
			return FromRat(nil, unit, places, mode)
		}
		return FromRat(decimal.New(num, 0).Rat().Quo(decimal.New(num, 0).Rat(), decimal.New(den, 0).Rat()), unit, places, mode)
	},
}, Angle{}, Density{}, Flow{}, Length{}, Mass{}, Pressure{}, Share{}, Temperature{}, TemperatureDifference{}, Torque{}, Volume{},
	AngleUnit(0), DensityUnit(0), FlowUnit(0), LengthUnit(0), MassUnit(0), PressureUnit(0), ShareUnit(0), TemperatureDifferenceUnit(0), TorqueUnit(0), VolumeUnit(0),
	Rounding(0), TemperatureScale(0))

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
