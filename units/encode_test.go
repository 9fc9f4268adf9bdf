package units

import (
	"bytes"
	"database/sql"
	"encoding"
	"encoding/gob"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What both the generic quantity and the temperature have to satisfy.
var (
	_ = []interface {
		fmt.Formatter
		fmt.Stringer
		encoding.TextMarshaler
		encoding.TextAppender
		encoding.BinaryMarshaler
		json.Marshaler
		slog.LogValuer
	}{Torque{}, Temperature{}}
	_ = []interface {
		encoding.TextUnmarshaler
		encoding.BinaryUnmarshaler
		json.Unmarshaler
		sql.Scanner
	}{&Torque{}, &Temperature{}}
)

func TestTextAndJSONRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawTorque(t, "q")
		text, err := q.MarshalText()
		require.NoError(t, err)
		var back Torque
		require.NoError(t, back.UnmarshalText(text))
		again, err := back.AppendText(nil)
		require.NoError(t, err)
		require.Equal(t, text, again, "byte for byte")

		data, err := json.Marshal(q)
		require.NoError(t, err)
		back = Torque{}
		require.NoError(t, json.Unmarshal(data, &back))
		require.Equal(t, q.String(), back.String())

		binary, err := q.MarshalBinary()
		require.NoError(t, err)
		back = Torque{}
		require.NoError(t, back.UnmarshalBinary(binary))
		require.Equal(t, q.String(), back.String())
	})
}

func TestJSONForms(t *testing.T) {
	data, err := json.Marshal(MustParseTorque("12.50 N·m"))
	require.NoError(t, err)
	assert.Equal(t, `{"value":"12.50","unit":"N·m"}`, string(data))
	data, err = json.Marshal(MustParseTemperature("140.0 °F"))
	require.NoError(t, err)
	assert.Equal(t, `{"value":"140.0","unit":"°F"}`, string(data))
	for _, text := range []string{
		`"12.50 N·m"`, `{"value":"12.50","unit":"N·m"}`, `{"unit":"Nm", "value":"12.50"}`, `"12.50 Nm"`,
	} {
		var q Torque
		require.NoError(t, json.Unmarshal([]byte(text), &q), text)
		assert.Equal(t, "12.50 N·m", q.String())
	}
	data, err = json.Marshal(map[TorqueUnit]string{InchPound: "x"})
	require.NoError(t, err)
	assert.Equal(t, `{"in-lb":"x"}`, string(data))
}

func TestJSONRefuses(t *testing.T) {
	for text, says := range map[string]string{
		`145`:                         "a number without its unit",
		`null`:                        "null is not accepted",
		`true`:                        "neither string nor object",
		`[]`:                          "neither string nor object",
		`{}`:                          "missing",
		`{"value":"145"}`:             "missing",
		`{"unit":"N·m"}`:              "missing",
		`{"value":145,"unit":"N·m"}`:  "the value is not a string",
		`{"value":"145","unit":null}`: `the key "unit" is null`,
		`{"value":"145","unit":{}}`:   "the unit is not a string",
		`{"value":"1","value":"2","unit":"N·m"}`:  "given twice",
		`{"value":"1","unit":"N·m","x":"y"}`:      `"x" is unknown`,
		`{"Value":"1","unit":"N·m"}`:              `"Value" is unknown`,
		`{"value":"1 5","unit":"N·m"}`:            "the value is more than a number",
		`{"value":"145 in-","unit":"lb"}`:         "the value is more than a number",
		`{"value":"145 in-lb","unit":"in-lb"}`:    "the value is more than a number",
		`{"value":"1","unit":"½ N·m"}`:            "the unit starts with a number",
		`{"value":"1","unit":"1/2 N·m"}`:          "the unit starts with a number",
		`{"value":"1","unit":"5 N·m"}`:            "second number",
		`{"value":"","unit":"5 N·m"}`:             "the unit starts with a number",
		`{"value":"1\n","unit":"N·m"}`:            "the value is more than a number",
		`"145"`:                                   "no unit",
		`""`:                                      "no number",
		`"` + strings.Repeat("9", 2000) + ` N·m"`: "too long",
	} {
		q := InchPound.Of(7)
		err := json.Unmarshal([]byte(text), &q)
		if text == "null" {
			// encoding/json hands null to UnmarshalJSON, by convention to be ignored; here it is refused.
			require.Error(t, err)
		}
		var parse *ParseError
		require.ErrorAs(t, err, &parse, text)
		assert.ErrorContains(t, err, says, text)
		assert.Equal(t, "7 in-lb", q.String(), "left alone by "+text)
	}
	for _, text := range []string{"", "{", "{\"value\":\"1\",\"unit\":\"N\x9dm\"}", `{"value"`, `{"value":"1"`, `{"value":"1","unit":"N·m"}x`, `"`} {
		q := InchPound.Of(7)
		require.Error(t, q.UnmarshalJSON([]byte(text)), text)
		assert.Equal(t, "7 in-lb", q.String())
	}
}

func TestFailedDecodesLeaveTheReceiverAlone(t *testing.T) {
	q, temperature, unit := InchPound.Of(7), Celsius.Of(7), InchPound
	bad := strings.Repeat("9", 1<<20)
	for name, err := range map[string]error{
		"text":             q.UnmarshalText([]byte(bad)),
		"binary":           q.UnmarshalBinary([]byte("x")),
		"JSON":             q.UnmarshalJSON([]byte("1")),
		"NULL":             q.Scan(nil),
		"an integer":       q.Scan(int64(5)),
		"a float":          q.Scan(5.0),
		"a long string":    q.Scan(bad),
		"bytes":            q.Scan([]byte("5 gal")),
		"temperature text": temperature.UnmarshalText([]byte("-300 °C")),
		"temperature bin":  temperature.UnmarshalBinary([]byte("-300 °C")),
		"temperature JSON": temperature.UnmarshalJSON([]byte(`"60"`)),
		"temperature num":  temperature.UnmarshalJSON([]byte(`60`)),
		"temperature NULL": temperature.Scan(nil),
		"unit":             unit.UnmarshalText([]byte("nm")),
	} {
		var parse *ParseError
		require.ErrorAs(t, err, &parse, name)
		assert.Less(t, len(err.Error()), 400, name)
	}
	assert.Equal(t, "7 in-lb", q.String())
	assert.Equal(t, "7 °C", temperature.String())
	assert.Equal(t, InchPound, unit)
}

func TestInvalidUnitsAreNotEncoded(t *testing.T) {
	q, temperature := TorqueUnit(99).Of(5), TemperatureScale(9).Of(5)
	for name, encode := range map[string]func() error{
		"text":        func() error { _, err := q.MarshalText(); return err },
		"binary":      func() error { _, err := q.MarshalBinary(); return err },
		"JSON":        func() error { _, err := q.MarshalJSON(); return err },
		"SQL":         func() error { _, err := q.Value(); return err },
		"unit":        func() error { _, err := TorqueUnit(99).MarshalText(); return err },
		"t text":      func() error { _, err := temperature.MarshalText(); return err },
		"t binary":    func() error { _, err := temperature.MarshalBinary(); return err },
		"t JSON":      func() error { _, err := temperature.MarshalJSON(); return err },
		"t SQL":       func() error { _, err := temperature.Value(); return err },
		"scale":       func() error { _, err := TemperatureScale(9).MarshalText(); return err },
		"UCUM":        func() error { _, err := TorqueUnit(99).UCUM(); return err },
		"Rec 20":      func() error { _, err := TorqueUnit(99).Rec20(); return err },
		"scale Rec20": func() error { _, err := TemperatureScale(9).Rec20(); return err },
	} {
		assert.ErrorIs(t, encode(), ErrUnknownUnit, name)
	}
	assert.Equal(t, "5 TorqueUnit(99)", fmt.Sprintf("%v", q))
	assert.Equal(t, "5 TemperatureScale(9)", fmt.Sprint(temperature))
}

func TestFormat(t *testing.T) {
	q := MustParseTorque("12.50 N·m")
	for format, want := range map[string]string{
		"%v": "12.50 N·m", "%s": "12.50 N·m", "%q": `"12.50 N·m"`, "%+v": "+12.50 N·m", "%+s": "+12.50 N·m",
		"%.1v": "12.5 N·m", "%.0s": "12 N·m", "%.3s": "12.500 N·m", "%12s|": "   12.50 N·m|", "%-12s|": "12.50 N·m   |",
		"%14q|": `   "12.50 N·m"|`, "%10.1v|": "  12.5 N·m|", "%3v": "12.50 N·m",
		"%#v": `units.MustParse[units.TorqueUnit]("12.50 N·m")`, "%d": "%!d(units.Torque=12.50 N·m)", "%14d": "%!d(units.Torque=     12.50 N·m)", "%x": fmt.Sprintf("%x", "12.50 N·m"), "%.3X": fmt.Sprintf("%.3X", "12.50 N·m"),
	} {
		assert.Equal(t, want, fmt.Sprintf(format, q), format)
	}
	assert.Equal(t, "-12.50 N·m", fmt.Sprintf("%+v", q.Neg()))
	assert.Equal(t, "  60.0 °C", fmt.Sprintf("%9.1v", MustParseTemperature("60 °C")))
	assert.Equal(t, `units.MustParseTemperature("60 °C")`, fmt.Sprintf("%#v", MustParseTemperature("60 °C")))
	assert.Equal(t, "%!d(units.Temperature=60 °C)", fmt.Sprintf("%d", MustParseTemperature("60 °C")))
	assert.Less(t, len(fmt.Sprintf("%.1000000v", q)), 100)
	assert.Less(t, len(fmt.Sprintf("%.1000000f", q)), 100)
}

// What is before the unit is what fmt writes for the double, where that is exact.
func TestFormatAsAFloat(t *testing.T) {
	for _, text := range []string{"0.125 in", "-0.375 in", "2.5 in", "1234.5 in", "0 in", "-0.5 in"} {
		q := MustParseLength(text)
		for _, format := range []string{"%.2f", "%.0f", "%+.1f", "% .3f", "%.2F"} {
			want := fmt.Sprintf(format, q.Float64(Inch))
			if strings.Trim(want, "-0.") == "" {
				want = strings.TrimPrefix(want, "-") // a quantity has no negative zero
			}
			assert.Equal(t, want+" in", fmt.Sprintf(format, q), "%s of %s", format, text)
		}
		assert.Equal(t, fmt.Sprintf("%012.2f", q.Float64(Inch)), strings.TrimSuffix(fmt.Sprintf("%015.2f", q), " in"), text)
		assert.Equal(t, fmt.Sprintf("%12s", fmt.Sprintf("%.2f in", q.Float64(Inch))), fmt.Sprintf("%12.2f", q), text)
		assert.Equal(t, text, fmt.Sprintf("%f", q), "the places as written")
	}
	assert.Equal(t, "60.2 °C", fmt.Sprintf("%.1f", MustParseTemperature("60.25 °C")))
}

// What the package comment says of gob and zero values.
func TestGobLeavesOutZeroFields(t *testing.T) {
	type sheet struct{ Torque, Other Torque }
	var data bytes.Buffer
	require.NoError(t, gob.NewEncoder(&data).Encode(sheet{Other: InchPound.Of(0)}))
	kept := sheet{FootPound.Of(5), FootPound.Of(5)}
	require.NoError(t, gob.NewDecoder(&data).Decode(&kept))
	assert.Equal(t, "5 ft-lb", kept.Torque.String(), "0 N·m was left out")
	assert.Equal(t, "0 in-lb", kept.Other.String())
}

func TestGobFlagsAndLogs(t *testing.T) {
	type record struct {
		Torque Torque
		At     Temperature
	}
	var stream bytes.Buffer
	require.NoError(t, gob.NewEncoder(&stream).Encode(record{MustParseTorque("12.50 N·m"), MustParseTemperature("60 °C")}))
	var back record
	require.NoError(t, gob.NewDecoder(&stream).Decode(&back))
	assert.Equal(t, "12.50 N·m at 60 °C", fmt.Sprintf("%v at %v", back.Torque, back.At))

	flags := flag.NewFlagSet("shop", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	var torque Torque
	var unit TorqueUnit
	flags.TextVar(&torque, "torque", InchPound.Of(145), "how tight")
	flags.TextVar(&unit, "unit", NewtonMetre, "unit of the wrench")
	require.NoError(t, flags.Parse(nil))
	assert.Equal(t, "145 in-lb", torque.String())
	require.NoError(t, flags.Parse([]string{"-torque", "25 Nm", "-unit", "ft-lb"}))
	assert.Equal(t, "25 N·m", torque.String())
	assert.Equal(t, FootPound, unit)
	assert.Error(t, flags.Parse([]string{"-torque", "25"}))
	assert.Equal(t, "25 N·m", torque.String())

	var log bytes.Buffer
	logger := slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		if a.Key == slog.TimeKey {
			return slog.Attr{}
		}
		return a
	}}))
	logger.Info("tightened", "torque", torque, "at", MustParseTemperature("20 °C"))
	assert.Equal(t, "level=INFO msg=tightened torque=\"25 N·m\" at=\"20 °C\"\n", log.String())
}

func TestValueAndScan(t *testing.T) {
	value, err := MustParseTorque("12.50 N·m").Value()
	require.NoError(t, err)
	assert.Equal(t, "12.50 N·m", value)
	var q Torque
	require.NoError(t, q.Scan(value))
	assert.Equal(t, "12.50 N·m", q.String())
	require.NoError(t, q.Scan([]byte("145 in-lb")))
	assert.Equal(t, "145 in-lb", q.String())
	var temperature Temperature
	require.NoError(t, temperature.Scan("60 °F"))
	assert.Equal(t, "60 °F", temperature.String())
	var null sql.Null[Torque]
	require.NoError(t, null.Scan(nil))
	assert.False(t, null.Valid)
	require.NoError(t, null.Scan("30 N·m"))
	assert.Equal(t, "30 N·m", null.V.String())
}

// Nothing here depends on what somebody sets in the decimal package.
func TestDecimalGlobalsDontMatter(t *testing.T) {
	precision, quotes := decimal.DivisionPrecision, decimal.MarshalJSONWithoutQuotes
	negative, exp := decimal.PowPrecisionNegativeExponent, decimal.ExpMaxIterations
	trim, scientific := decimal.TrimTrailingZeros, decimal.UseScientificNotation
	decode, zero := decimal.MaxDecodeExponent, decimal.Zero
	t.Cleanup(func() {
		decimal.TrimTrailingZeros, decimal.UseScientificNotation = trim, scientific
		decimal.MaxDecodeExponent, decimal.Zero = decode, zero
		decimal.DivisionPrecision, decimal.MarshalJSONWithoutQuotes = precision, quotes
		decimal.PowPrecisionNegativeExponent, decimal.ExpMaxIterations = negative, exp
	})
	say := func() string {
		q := InchPound.Of(145)
		data, err := json.Marshal([]any{q, q.In(NewtonMetre), q.RoundIn(FootPound, 1, ToPositiveInf), MustParseTemperature("60.0 °F").In(Celsius)})
		require.NoError(t, err)
		fromDecimal, err := New(decimal.New(1250, -2), NewtonMetre)
		require.NoError(t, err)
		_, tooLarge := New(decimal.New(10, 24), NewtonMetre)
		sum, _ := Sum(NewtonMetre, q, FootPound.Of(7))
		value, err := q.Value()
		require.NoError(t, err)
		return string(data) + fmt.Sprintln(fromDecimal, tooLarge,
			sum, value, q.Float64(NewtonMetre), q.Ratio(sum)) + fmt.Sprintf("%.3v %+q", sum, fromDecimal)
	}
	before := say()
	decimal.DivisionPrecision, decimal.MarshalJSONWithoutQuotes = 1, true
	decimal.TrimTrailingZeros, decimal.UseScientificNotation = false, true
	decimal.MaxDecodeExponent, decimal.Zero = 1, decimal.New(7, 7)
	decimal.PowPrecisionNegativeExponent, decimal.ExpMaxIterations = 1, 1
	assert.Equal(t, before, say())
}

func TestCodesBothWays(t *testing.T) {
	checkCodes[TorqueUnit](t)
	checkCodes[AngleUnit](t)
	checkCodes[VolumeUnit](t)
	checkCodes[MassUnit](t)
	checkCodes[DensityUnit](t)
	checkCodes[LengthUnit](t)
	checkCodes[FlowUnit](t)
	checkCodes[PressureUnit](t)
	checkCodes[TemperatureDifferenceUnit](t)
	checkCodes[ShareUnit](t)
}

func checkCodes[U interface {
	Unit
	UCUM() (string, error)
	Rec20() (string, error)
}](t *testing.T) {
	for u := range All[U]() {
		for name, system := range map[string]struct {
			code func() (string, error)
			from func(string) (U, error)
		}{"UCUM": {u.UCUM, FromUCUM[U]}, "Rec 20": {u.Rec20, FromRec20[U]}} {
			code, err := system.code()
			if code == "" {
				assert.ErrorIs(t, err, ErrNoCode, "%s %s", name, u)
				continue
			}
			if name == "UCUM" { // where l and L are both the litre
				back, _ := system.from(strings.ReplaceAll(code, "L", "l"))
				assert.Equal(t, u, back, "%s with a small l", code)
			}
			back, backErr := system.from(code)
			assert.Equal(t, u, back, name)
			assert.Equal(t, err, backErr, "the same caveat both ways: %s", u)
			if err != nil {
				assert.ErrorIs(t, err, ErrCaveat, "%s %s", name, u)
			}
		}
	}
}

func TestCodesThatAreSomethingElse(t *testing.T) {
	for _, code := range []string{"IA", "4Q", "4R", "85", "JOU", "GLL", "KGM"} {
		_, err := FromRec20[TorqueUnit](code)
		assert.ErrorIs(t, err, ErrOtherKind, code)
		var problem *ParseError
		require.ErrorAs(t, err, &problem)
		assert.Equal(t, code, problem.Input)
	}
	_, err := FromRec20[TorqueUnit]("85")
	assert.EqualError(t, err, `Recommendation 20 code "85": is the foot pound-force in joules, a unit of energy; the torque is M92`)
	_, err = FromUCUM[TorqueUnit]("J")
	assert.ErrorIs(t, err, ErrOtherKind)
	for _, code := range []string{"", "nu", "N m", "N.m\n", "in-lb", strings.Repeat("x", 1<<20)} {
		_, err = FromUCUM[TorqueUnit](code)
		assert.ErrorIs(t, err, ErrUnknownUnit)
		assert.Less(t, len(err.Error()), 200)
		assert.NotContains(t, err.Error(), "\n")
	}
	u, err := FromRec20[TorqueUnit]("B38")
	assert.Equal(t, KilogramForceMetre, u)
	assert.ErrorIs(t, err, ErrCaveat)
	assert.ErrorContains(t, err, "deprecated")
	_, err = KilogramForceCentimetre.Rec20()
	assert.ErrorIs(t, err, ErrNoCode)
	code, err := CelsiusDifference.UCUM()
	assert.Empty(t, code)
	assert.ErrorContains(t, err, "convert the difference to K")
	_, err = FromUCUM[TemperatureDifferenceUnit]("Cel")
	assert.ErrorIs(t, err, ErrOtherKind)
	inHg, err := FromUCUM[PressureUnit]("[in_i'Hg]")
	assert.Equal(t, InchOfMercury, inHg)
	assert.ErrorIs(t, err, ErrCaveat)
	litre, err := FromUCUM[VolumeUnit]("l")
	require.NoError(t, err)
	assert.Equal(t, Litre, litre)
	var stray *ParseError
	_, err = TorqueUnit(99).UCUM()
	require.ErrorAs(t, err, &stray)
	assert.ErrorIs(t, err, ErrUnknownUnit)
	code, err = Fahrenheit.UCUM()
	require.NoError(t, err)
	assert.Equal(t, "[degF]", code)
}
