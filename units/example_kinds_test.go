package units_test

import (
	"encoding/json"
	"fmt"

	"example.com/snugturn/units"
)

// One example for each kind of quantity: made of a number, read from text, its unit written for
// machines and read back.

func ExampleTorqueUnit() {
	made := units.FootPound.Of(25)
	read, err := units.ParseTorque("25 lbf·ft")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParseTorque("25 lbf·ft").Unit())

	unit := units.FootPound
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.TorqueUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 25 ft-lb true <nil>
	// ft-lb
	// ft-lb [lbf_av].[ft_i] M92 "ft-lb" <nil> true
}

func ExampleTorque() {
	var q units.Torque // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 N·m true
}

func ExampleAngleUnit() {
	made := units.Revolution.Of(2)
	read, err := units.ParseAngle("2 turns")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParse[units.AngleUnit]("2 turns").Unit())

	unit := units.Revolution
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.AngleUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 2 rev true <nil>
	// rev
	// rev circ M44 "rev" <nil> true
}

func ExampleAngle() {
	var q units.Angle // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0° true
}

func ExampleVolumeUnit() {
	made := units.USGallon.Of(5)
	read, err := units.ParseVolume("5 U.S. gal")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParseVolume("5 U.S. gal").Unit())

	unit := units.USGallon
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.VolumeUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 5 US gal true <nil>
	// US gal
	// US gal [gal_us] GLL "US gal" <nil> true
}

func ExampleVolume() {
	var q units.Volume // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 m³ true
}

func ExampleMassUnit() {
	made := units.Pound.Of(12)
	read, err := units.ParseMass("12 lbs.")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParseMass("12 lbs.").Unit())

	unit := units.Pound
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.MassUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 12 lb true <nil>
	// lb
	// lb [lb_av] LBR "lb" <nil> true
}

func ExampleMass() {
	var q units.Mass // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 kg true
}

func ExampleDensityUnit() {
	made := units.KilogramPerCubicMetre.Of(840)
	read, err := units.ParseDensity("840 kg/m3")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParseDensity("840 kg/m3").Unit())

	unit := units.KilogramPerCubicMetre
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.DensityUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 840 kg/m³ true <nil>
	// kg/m³
	// kg/m³ kg/m3 KMQ "kg/m³" <nil> true
}

func ExampleDensity() {
	var q units.Density // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 kg/m³ true
}

func ExampleLengthUnit() {
	made := units.Inch.Of(4)
	read, err := units.ParseLength(`4"`)
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParseLength(`4"`).Unit())

	unit := units.Inch
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.LengthUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 4 in true <nil>
	// in
	// in [in_i] INH "in" <nil> true
}

func ExampleLength() {
	var q units.Length // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 m true
}

func ExampleFlowUnit() {
	made := units.LitrePerHour.Of(90)
	read, err := units.ParseFlow("90 l/hr")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParseFlow("90 l/hr").Unit())

	unit := units.LitrePerHour
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.FlowUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 90 L/h true <nil>
	// L/h
	// L/h L/h E32 "L/h" <nil> true
}

func ExampleFlow() {
	var q units.Flow // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 L/min true
}

func ExamplePressureUnit() {
	made := units.PoundPerSquareInch.Of(30)
	read, err := units.ParsePressure("30 PSI")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParse[units.PressureUnit]("30 PSI").Unit())

	unit := units.PoundPerSquareInch
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.PressureUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 30 psi true <nil>
	// psi
	// psi [psi] PS "psi" <nil> true
}

func ExamplePressure() {
	var q units.Pressure // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 Pa true
}

func ExampleTemperatureDifferenceUnit() {
	made := units.FahrenheitDifference.Of(9)
	read, err := units.Parse[units.TemperatureDifferenceUnit]("9 degF")
	fmt.Println(made, read.Equal(made), err)
	fmt.Println(units.MustParse[units.TemperatureDifferenceUnit]("9 degF").Unit())

	unit := units.FahrenheitDifference
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.TemperatureDifferenceUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 9 °F true <nil>
	// °F
	// °F [degR] A48 "°F" <nil> true
}

func ExampleTemperatureDifference() {
	var q units.TemperatureDifference // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid())
	// Output:
	// 0 K true
}

func ExampleTemperatureScale() {
	made := units.Fahrenheit.Of(140)
	read, err := units.ParseTemperature("140F")
	fmt.Println(made, read.Equal(made), err)

	scale := units.Fahrenheit
	ucum, _ := scale.UCUM()
	rec20, _ := scale.Rec20()
	data, _ := json.Marshal(scale)
	var back units.TemperatureScale
	fmt.Println(scale.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == scale)
	// Output:
	// 140 °F true <nil>
	// °F [degF] FAH "°F" <nil> true
}

func ExampleShareUnit() {
	made := units.Percent.Of(85)
	read, err := units.ParseShare("85 percent")
	fmt.Println(made, read.Equal(made), err)
	_, err = units.ParseShare("0.85")
	fmt.Println(err)

	unit := units.MustParseShare("4 %").Unit()
	ucum, _ := unit.UCUM()
	rec20, _ := unit.Rec20()
	data, _ := json.Marshal(unit)
	var back units.ShareUnit
	fmt.Println(unit.String(), ucum, rec20, string(data), json.Unmarshal(data, &back), back == unit)
	// Output:
	// 85 % true <nil>
	// share "0.85" at byte 4: no unit; want a unit such as %
	// % % P1 "%" <nil> true
}

func ExampleShare() {
	var q units.Share // the zero value is 0 of the kind's first unit
	fmt.Println(q, q.Valid(), units.MustParseShare("2.5 %").Ratio(units.Percent.Of(100)))
	fmt.Println(units.ParseShare(q.String())) // what is printed is read back
	// Output:
	// 0 % true 1/40
	// 0 % <nil>
}
