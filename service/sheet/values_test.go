package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// What values look like in sentences, in the units that were written, and with a decimal comma in others. Computed by hand
// from the definitions of the units.
func TestValuesAsPrinted(t *testing.T) {
	gallon, pound, fahrenheit, inch := units.USGallon, units.Pound, units.Fahrenheit, units.Inch
	other := service.Preferences{Volume: &gallon, Mass: &pound, Temperature: &fahrenheit, Length: &inch, DecimalComma: true}
	value := func(v any) service.Value { return service.Value{Value: v} }
	computed := func(v any, mode units.Rounding) service.Value {
		return service.Value{Value: v, Round: mode, Computed: true}
	}
	torqueOf, volume, mass, length, degrees := units.MustParseTorque, units.MustParseVolume, units.MustParseMass, units.MustParseLength, units.MustParseTemperature
	litres := func(low, best, high string) drain.Estimate[units.VolumeUnit] {
		return drain.Estimate[units.VolumeUnit]{Low: volume(low), Best: volume(best), High: volume(high), From: drain.Measured}
	}
	kilograms := func(low, best, high string) drain.Estimate[units.MassUnit] {
		return drain.Estimate[units.MassUnit]{Low: mass(low), Best: mass(best), High: mass(high), From: drain.Weighed}
	}
	between := func(low, high string) torque.Band {
		b, err := torque.Between(torqueOf(low), torqueOf(high))
		require.NoError(t, err)
		return b
	}
	place := func(p turn.Place, passes int) turn.Place { p.Passes = passes; return p }
	sequence, err := turn.ParseSequence("40 N·m then 1/8 turn + 1 1/4 turns")
	require.NoError(t, err)
	share, err := turn.ParsePart("1/3")
	require.NoError(t, err)
	for _, row := range []struct {
		value       service.Value
		form        string
		plain, with string // in other units and with a comma; empty where that changes nothing
	}{
		{value: value(torqueOf("21.5 N·m")), plain: "21.5 N·m", with: "21,5 N·m"},
		{value: value(torqueOf("21.5 N·m")), form: "number", plain: "21.5", with: "21,5"},
		{value: computed(torqueOf("1.23456789012 N·m"), 0), plain: "1.23456789… N·m", with: "1,23456789… N·m"},
		{value: computed(torqueOf("-1.23456789 N·m"), 0), plain: "-1.23456789 N·m", with: "-1,23456789 N·m"},
		{value: value([]units.Torque{torqueOf("1.5 N·m"), torqueOf("2 in-lb")}), plain: "1.5 N·m, 2 in-lb", with: "1,5 N·m, 2 in-lb"},
		{value: value([]units.TorqueUnit{units.NewtonMetre, units.FootPound}), plain: "N·m, ft-lb"},
		{value: value(units.FootPound), plain: "ft-lb"},
		{value: value(between("14.5 N·m", "20 N·m")), plain: "14.5 to 20 N·m", with: "14,5 to 20 N·m"},
		{value: value(between("12 ft-lb", "20.5 N·m")), plain: "12 ft-lb to 20.5 N·m", with: "12 ft-lb to 20,5 N·m"},
		{value: value(volume("1.5 L")), plain: "1.5 L", with: "0,40 US gal (rounded from 1,5 L)"},
		{value: value(volume("2 US gal")), plain: "2 US gal"},
		{value: value(volume("231 in³")), plain: "231 in³", with: "1,00 US gal"},
		{value: value(volume("1 mL")), plain: "1 mL", with: "0,000264 US gal (rounded from 1 mL)"},
		{value: value(volume("0 L")), plain: "0 L", with: "0,00 US gal"},
		{value: computed(volume("1.256 L"), units.ToNegativeInf), plain: "1.2 L", with: "0,33 US gal"},
		{value: computed(volume("1.216 L"), units.ToPositiveInf), plain: "1.22 L", with: "0,33 US gal"},
		{value: value(mass("1.26 kg")), plain: "1.3 kg", with: "2,8 lb"},
		{value: value(mass("1 g")), plain: "0.0 kg", with: "0,0022 lb"},
		{value: value(length("101.6 mm")), plain: "101.6 mm", with: "4,0 in"},
		{value: value(length("0.1 mm")), plain: "0.1 mm", with: "0,0039 in (rounded from 0,1 mm)"},
		{value: value(length("1200.5 km")), plain: "1200.5 km", with: "1200,5 km"},
		{value: computed(length("1.23456 mm"), 0), plain: "1.235 mm", with: "0,049 in (rounded from 1,235 mm)"},
		{value: value(degrees("60 °C")), plain: "60 °C", with: "140 °F"},
		{value: value(degrees("15.5 °C")), plain: "15.5 °C", with: "59,9 °F"},
		{value: service.Value{Value: degrees("38.03 °C"), Round: units.ToNegativeInf}, plain: "38.03 °C", with: "100,4 °F (rounded from 38,03 °C)"},
		{value: value(degrees("104.5 °F")), plain: "104.5 °F", with: "104,5 °F"},
		{value: value(units.CelsiusDifference.Of(3)), plain: "3 °C (5.4 °F)", with: "3 °C (5,4 °F)"},
		{value: value(units.FahrenheitDifference.Of(30)), plain: "30 °F (16.7 °C)", with: "30 °F (16,7 °C)"},
		{value: value(litres("1 L", "1.5 L", "2 L")), plain: "1 / 1.5 / 2 L (measured); rounded from that, 0.26 / 0.40 / 0.53 US gal", with: "0,26 / 0,40 / 0,53 US gal, rounded from 1,5 L (measured)"},
		{value: value(litres("1 US qt", "1 US qt", "1 US gal")), plain: "1.00 / 1.00 / 4.00 US qt (measured); rounded from that, 0.94 / 0.95 / 3.79 L", with: "0,25 / 0,25 / 1,00 US gal (measured)"},
		{value: value(litres("3 US pt", "3 US pt", "3 US pt")), plain: "3 / 3 / 3 US pt (measured); rounded from that, 1.41 / 1.42 / 1.42 L", with: "0,375 / 0,375 / 0,375 US gal (measured)"},
		{value: value(litres("100 mL", "110.1234 mL", "120 mL")), plain: "100 / 110 / 120 mL, rounded from 110.1234 mL (measured); rounded from that, 3.3 / 3.7 / 4.1 US fl oz", with: "0,026 / 0,029 / 0,032 US gal, rounded from 110,1234 mL (measured)"},
		{value: value(litres("3 US fl oz", "3 US fl oz", "3 US fl oz")), plain: "3 / 3 / 3 US fl oz (measured); rounded from that, 88 / 89 / 89 mL", with: "0,0234 / 0,0234 / 0,0235 US gal, rounded from 3 US fl oz (measured)"},
		{value: value(litres("1 US gal", "1 US gal", "1 US gal")), plain: "1 / 1 / 1 US gal (measured); rounded from that, 3.78 / 3.79 / 3.79 L", with: "1 / 1 / 1 US gal (measured)"},
		{value: value(kilograms("1.25 kg", "1.25 kg", "1.3 kg")), plain: "1.25 / 1.25 / 1.3 kg (weighed); rounded from that, 2.75 / 2.76 / 2.87 lb", with: "2,75 / 2,76 / 2,87 lb, rounded from 1,25 kg (weighed)"},
		{value: value(kilograms("850 g", "850 g", "850 g")), plain: "0.850 / 0.850 / 0.850 kg (weighed); rounded from that, 1.87 / 1.87 / 1.88 lb", with: "1,87 / 1,87 / 1,88 lb, rounded from 850 g (weighed)"},
		{value: computed(kilograms("1.085 kg", "1.3608 kg", "1.6312 kg"), 0), plain: "1.36 (1.08 to 1.64) kg", with: "3,0 (2,3 to 3,6) lb"},
		{value: value(units.Millilitre), plain: "mL", with: "US gal"},
		{value: value(units.Gram), plain: "g", with: "lb"},
		{value: value(units.Kelvin), plain: "K"},
		{value: value(waste.MustParseDate("2026-03-09")), plain: "2026-03-09"},
		{value: value(turn.MustParseThread("M20x1.5")), plain: "M20x1.5"},
		{value: value(units.Degree.Of(45)), plain: "45°"},
		{value: value(units.MustParse[units.AngleUnit]("12.3456°")), plain: "about 12.35°", with: "about 12,35°"},
		{value: value(units.MustParse[units.AngleUnit]("12.34°")), plain: "12.34°", with: "12,34°"},
		{value: value([]units.Angle{units.Degree.Of(45), units.Degree.Of(60)}), plain: "45° to 60°"},
		{value: value(turn.MustParse("3/4 turn")), plain: "3/4 turn"},
		{value: value(turn.MustParse("1 turn")), plain: "1 turn"},
		{value: value(turn.MustParse("1 1/4 turns")), plain: "1 + 1/4 turns"},
		{value: value(turn.Turn{}), plain: "0 turns"},
		{value: value(turn.MustParse("1 1/4 turns")), form: "number", plain: "1 + 1/4"},
		{value: value(turn.MustParseInstruction("1/2 to 1 1/4 turns after gasket contact")), plain: "1/2 to 1 + 1/4 turns after gasket contact"},
		{value: value(turn.MustParseInstruction("3/4 turn after finger tight")), plain: "3/4 turn after finger tight"},
		{value: value(sequence), plain: "40 N·m then 1/8 turn + 1 + 1/4 turns"},
		{value: value(turn.Place{Mark: "A"}), plain: "at A"},
		{value: value(turn.Place{Mark: "A"}), form: "bare", plain: "A"},
		{value: value(turn.Place{Mark: "A", Next: "B"}), plain: "midway between A and B"},
		{value: value(turn.Place{Mark: "A", Next: "B"}), form: "cell", plain: "A and B"},
		{value: value(turn.Place{Mark: "A", Next: "B", Share: share}), plain: "1/3 of the way from A to B"},
		{value: value(turn.Place{Mark: "A", Next: "B", Share: share}), form: "cell", plain: "1/3 from A to B"},
		{value: value(place(turn.Place{Mark: "A", Past: turn.MustOf(1, 16)}, 0)), plain: "1/16 turn past A"},
		{value: value(place(turn.Place{Mark: "A"}, 1)), plain: "at A, once round"},
		{value: value(place(turn.Place{Mark: "A"}, 1)), form: "cell", plain: "A again"},
		{value: value(place(turn.Place{Mark: "A", Next: "B"}, 2)), form: "cell", plain: "A and B, 2 × round"},
		{value: value(place(turn.Place{Mark: "A"}, 3)), plain: "at A, 3 times round"},
		{value: value(turn.Position{Mark: "A", Past: turn.MustOf(1, 16), Passes: 2}), form: "bare", plain: "1/16 turn past A, 2 times round"},
		{value: value(service.Counts{Least: 2, Best: 3, Most: 5}), plain: "3 (2 to 5)"},
		{value: value(service.Counts{Least: 3, Best: 3, Most: 3}), plain: "3"},
		{value: value(service.Word("suction-air")), plain: "air drawn in on the suction side (such a joint stays dry; look for bubbles in the return or a clear line)"},
		{value: value([]string{"a.b", "c"}), plain: "a.b; c"},
		{value: service.Value{Name: "stations", Value: []string{"1", "2"}}, plain: "1, 2"},
		{value: service.Value{Name: "unknown", Value: []string{"1", "2"}}, plain: "1, 2"},
		{value: value("a name 1.5 1/2"), plain: "a name 1.5 1/2"},
		{value: value((*turn.Turn)(nil)), plain: ""},
		{value: value(&share), plain: "1/3"},
		{value: value(turn.RightHand), plain: "right hand"},
		{value: value(7), plain: "7"},
		{value: value("1 1/x"), plain: "1 1/x"},
	} {
		if row.with == "" {
			row.with = row.plain
		}
		assert.Equal(t, row.plain, English().printer(nil).print(row.value, row.form), "%#v %s", row.value.Value, row.form)
		assert.Equal(t, row.with, English().printer(&other).print(row.value, row.form), "%#v %s, otherwise", row.value.Value, row.form)
	}
}

// A point between two digits is a decimal mark, and no other is; a plus keeps a whole number from a fraction.
func TestNumbersAsPrinted(t *testing.T) {
	for text, want := range map[string]string{"1.5": "1,5", ".5": ".5", "5.": "5.", "a.5": "a.5", "5.a": "5.a", "1.2.3": "1,2,3", "1.:": "1.:", "/.5": "/.5", "9.0": "9,0", "": ""} {
		assert.Equal(t, want, decimalMark(text, true), text)
		assert.Equal(t, text, decimalMark(text, false), text)
	}
	for text, want := range map[string]string{"1 1/4 turns": "1 + 1/4 turns", "1 1/4": "1 + 1/4", "x 1/4": "x 1/4", "1 x/4": "1 x/4", "1 1/x": "1 1/x", "1 14": "1 14", "1": "1", "": "", "1 /4": "1 /4", "1 1/": "1 1/"} {
		assert.Equal(t, want, mixed(text), text)
	}
	for v, want := range map[float64]string{-0.001: "0", 0.005: "0.01", 1.5: "1.5", -2: "-2", 10: "10", 0.1: "0.1", 100: "100"} {
		assert.Equal(t, want, coordinate(v), "%v", v)
	}
}
