package units

import (
	"errors"
	"runtime"
	"strings"
	"testing"

	"example.com/snugturn/internal/rational"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/internal/plain"
)

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"145 in-lb":                            "145 in-lb",
		"145in-lb":                             "145 in-lb",
		" 145  in-lb ":                         "145 in-lb",
		"+145 in-lb":                           "145 in-lb",
		"12.50 N·m":                            "12.50 N·m",
		".5 N·m":                               "0.5 N·m",
		"007 N·m":                              "7 N·m",
		"0 N·m":                                "0 N·m",
		"-0.00 N·m":                            "0.00 N·m",
		"−12 N·m":                              "-12 N·m", // U+2212
		"12\u00a0N·m":                          "12 N·m",
		"12\u202fN\u2009m":                     "12 N·m",
		"12\u3000N\u200am\u2007":               "12 N·m", // ideographic, hair and figure space
		"30 Nm":                                "30 N·m",
		"30 N m":                               "30 N·m",
		"30 N.m":                               "30 N·m",
		"30 N-m":                               "30 N·m",
		"30 N*m":                               "30 N·m",
		"30 N⋅m":                               "30 N·m",
		"30 N-M":                               "30 N·m", // joined, it is no nanometre
		"30 newton metres":                     "30 N·m",
		"30 Newton-Meters":                     "30 N·m",
		"30 newton meter":                      "30 N·m",
		"145 in·lbf":                           "145 in-lb",
		"145 lbf·in":                           "145 in-lb",
		"145 lb-in":                            "145 in-lb",
		"145 in lbs":                           "145 in-lb",
		"145 in. lbs.":                         "145 in-lb",
		"145 inch-pounds":                      "145 in-lb",
		"145 pound-inches":                     "145 in-lb",
		"145 inlbs":                            "145 in-lb",
		"145 LB/IN":                            "145 in-lb", // so printed for torque. Source: tb-43-0218.
		"145 IN-LB":                            "145 in-lb",
		"145 in–lb":                            "145 in-lb", // en dash
		"25 ft-lb":                             "25 ft-lb",
		"25 lbf.ft":                            "25 ft-lb",
		"25 Foot-Pounds":                       "25 ft-lb",
		"25 FT. LBS.":                          "25 ft-lb",
		"25 ft/lbs":                            "25 ft-lb",
		"25 foot pounds-force":                 "25 ft-lb",
		"145 pound-force inch":                 "145 in-lb", // the name in UN/CEFACT Recommendation 20
		"3 daN·m":                              "3 daN·m",
		"3 m.daN":                              "3 daN·m",
		"3 daNm":                               "3 daN·m",
		"3 decanewton metres":                  "3 daN·m",
		"3 mkp":                                "3 kgf·m",
		"3 mkg":                                "3 kgf·m",
		"3 kpm":                                "3 kgf·m",
		"3 kgf·m":                              "3 kgf·m",
		"3 kgf-m":                              "3 kgf·m",
		"3 kg-m":                               "3 kgf·m",
		"3 kg/m":                               "3 kgf·m", // seen in older manuals
		"3 DaNm":                               "3 daN·m", // no unit has another case
		"3 KNm":                                "3 kN·m",
		"25 lbfft":                             "25 ft-lb", // without joints, as some wrenches print it
		"25 lbfin":                             "25 in-lb",
		"80 oz/in":                             "80 in-oz",
		"300 kgf·cm":                           "300 kgf·cm",
		"300 kg-cm":                            "300 kgf·cm",
		"5 cN·m":                               "5 cN·m",
		"5 dNm":                                "5 dN·m",
		"80 oz-in":                             "80 in-oz",
		"80 ozf·in":                            "80 in-oz",
		"80 in-oz":                             "80 in-oz",
		"9999999999999999999999 N·m":           "9999999999999999999999 N·m",
		"0.123456789012345678901234567890 N·m": "0.123456789012345678901234567890 N·m",
	} {
		q, err := ParseTorque(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, q.String(), text)
	}
}

func TestParseOtherKinds(t *testing.T) {
	check := func(parse func(string) (string, error), texts map[string]string) {
		t.Helper()
		for text, want := range texts {
			got, err := parse(text)
			require.NoError(t, err, text)
			assert.Equal(t, want, got, text)
		}
	}
	check(words(ParseVolume), map[string]string{
		"1.5 L": "1.5 L", "1.5l": "1.5 L", "2 liters": "2 L", "250 ml": "250 mL", "1 m3": "1 m³", "61 cu in": "61 in³",
		"61 in^3": "61 in³", "1 US gal": "1 US gal", "1 U.S. gal": "1 US gal", "1 gal (US)": "1 US gal", "1 imp gal": "1 imp gal",
		"2 gallons (US)": "2 US gal", "2 gal (UK)": "2 imp gal", "1 liq pt (US)": "1 US pt", "3 quarts (US)": "3 US qt",
		"1 UK gallon": "1 imp gal", "2 US fl oz": "2 US fl oz", "2 fl. oz. (imp)": "2 imp fl oz",
		"3 dl": "3 dL", "2 hl": "2 hL", "2 hectolitres": "2 hL", "300 cc": "300 cm³", "300 c.c.": "300 cm³",
		"4.5 ℓ": "4.5 L", "300 mℓ": "300 mL", "2 gallons (U.S.)": "2 US gal", "2 US liq qt": "2 US qt", "2 qt (U.S.)": "2 US qt",
	})
	check(words(ParseDensity), map[string]string{
		"840 kg/m3": "840 kg/m³", "840 kg/m^3": "840 kg/m³", "0.84 kg/l": "0.84 kg/L", "0.84 t/m³": "0.84 kg/L",
		"7 lb/US gal": "7 lb/US gal", "7 lb/gal (US)": "7 lb/US gal", "0.84 g/cc": "0.84 g/cm³",
	})
	check(words(ParseAngle), map[string]string{"90°": "90°", "90 °": "90°", "90 deg": "90°", "1.5 turns": "1.5 rev"})
	check(words(ParseMass), map[string]string{"3 KG": "3 kg", "3 lbs.": "3 lb", "300 gm": "300 g", "3 kilogrammes": "3 kg"})
	check(words(ParseLength), map[string]string{"12mm": "12 mm", `2"`: "2 in", "2”": "2 in", "2''": "2 in", "2'": "2 ft", "2’": "2 ft",
		"10 µm": "10 µm", "10 μm": "10 µm", "10 um": "10 µm", "10 microns": "10 µm", "10 MICRON": "10 µm"})
	check(words(ParseFlow), map[string]string{"90 l/hr": "90 L/h", "2 m3/h": "2 m³/h", "2 cubic metres per hour": "2 m³/h", "3 US gallons per hour": "3 US gal/h",
		"3 imperial gallons per minute": "3 imp gal/min"})
	check(words(ParsePressure), map[string]string{
		"30 PSI": "30 psi", "30 lbs/sq. in.": "30 psi", "30 pounds per square inch": "30 psi", "4 in. Hg": "4 inHg",
		"25 in H₂O": "25 inH2O", "25 in. w.c.": "25 inH2O", `25" WG`: "25 inH2O", "250 mmWS": "250 mmH2O",
		"2 Mpa": "2 MPa", "2 N/mm²": "2 MPa", "1 at": "1 kgf/cm²", "1 atm": "1 atm",
	})
	check(words(Parse[TemperatureDifferenceUnit]), map[string]string{"9 °F": "9 °F"})
	check(words(ParseTemperature), map[string]string{
		"60C": "60 °C", "140.0 ºF": "140.0 °F", "15 ° C": "15 °C", "15 ℃": "15 °C", "60 ℉": "60 °F", "288.15 °K": "288.15 K",
		"288.15 \u212a": "288.15 K", "15 degrees centigrade": "15 °C", "15 degrees C": "15 °C",
	})
}

func words[Q interface{ String() string }](parse func(string) (Q, error)) func(string) (string, error) {
	return func(text string) (string, error) {
		q, err := parse(text)
		return q.String(), err
	}
}

func TestParseRefuses(t *testing.T) {
	long := strings.Repeat("9", 10<<20)
	torque := func(text string) error { _, err := ParseTorque(text); return err }
	volume := func(text string) error { _, err := ParseVolume(text); return err }
	mass := func(text string) error { _, err := ParseMass(text); return err }
	pressure := func(text string) error { _, err := ParsePressure(text); return err }
	density := func(text string) error { _, err := ParseDensity(text); return err }
	length := func(text string) error { _, err := ParseLength(text); return err }
	flow := func(text string) error { _, err := ParseFlow(text); return err }
	temperature := func(text string) error { _, err := ParseTemperature(text); return err }
	for _, c := range []struct {
		read     func(string) error
		text     string
		sentinel error
		offset   int
		says     string
	}{
		{torque, "", ErrSyntax, 0, "no number"},
		{torque, "   ", ErrSyntax, 3, "no number"},
		{torque, "in-lb", ErrSyntax, 0, "no digit where the number should start"},
		{torque, "- 5 N·m", ErrSyntax, 1, "no digit"},
		{torque, "145", ErrNoUnit, 3, "no unit; want a unit such as N·m"},
		{torque, "145 ", ErrNoUnit, 4, "no unit"},
		{torque, "1,5 N·m", ErrAmbiguous, 1, "a decimal comma or a thousands separator"},
		{torque, "1.000,5 N·m", ErrAmbiguous, 5, "a comma"},
		{torque, "1.2.3 N·m", ErrSyntax, 3, "a second point"},
		{torque, "5. N·m", ErrSyntax, 1, "no digit after the point"},
		{torque, "1_000 N·m", ErrSyntax, 1, "a separator"},
		{torque, "1'000 N·m", ErrSyntax, 1, "a separator"},
		{torque, "1 000 N·m", ErrSyntax, 2, "a second number"},
		{torque, "1e5 N·m", ErrSyntax, 1, "an exponent"},
		{torque, "1e999999999 N·m", ErrSyntax, 1, "an exponent"},
		{torque, "NaN N·m", ErrSyntax, 0, "no digit"},
		{torque, "Inf N·m", ErrSyntax, 0, "no digit"},
		{torque, long + " N·m", ErrRange, 128, "longer than 128 bytes"},
		{torque, long, ErrRange, 128, "longer than 128 bytes"},
		{torque, strings.Repeat("9", 35) + " N·m", ErrRange, 34, "more than 34 significant digits"},
		{torque, "0." + strings.Repeat("0", 60) + "1 N·m", ErrRange, 1, "more than 60 places"},
		{torque, "1" + strings.Repeat("0", 24) + " N·m", ErrRange, 0, "too large"},
		{torque, "2" + strings.Repeat("0", 23) + " kgf·m", ErrRange, 0, "too large"},
		{torque, "30 nm", ErrAmbiguous, 3, "N·m (newton metre) or nanometre"},
		{torque, "30 NM", ErrAmbiguous, 3, "N·m (newton metre) or nanometre"},
		{torque, "30 lb", ErrAmbiguous, 3, "in-lb or ft-lb"},
		{torque, "30 J", ErrOtherKind, 3, "joule"},
		{torque, "30 joules", ErrOtherKind, 3, "energy"},
		{torque, "5 L", ErrOtherKind, 2, "volume"},
		{torque, "5 furlongs", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "5 \xff\xfe", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "145 in-lb -", ErrUnknownUnit, 4, "not a unit of torque"}, // the high end is missing
		{torque, "145 in-lb –", ErrUnknownUnit, 4, "not a unit of torque"},
		{torque, "5 N·m ×", ErrUnknownUnit, 2, "not a unit of torque"},
		{temperature, "15- ℃", ErrUnknownUnit, 2, "not a unit of temperature"},
		{temperature, "15 *℉", ErrUnknownUnit, 3, "not a unit of temperature"},
		{torque, "5 kg -/m", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "5 N^m", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "5 N·m^", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "5\n N\u200bm", ErrUnknownUnit, 1, `"\n N\u200bm" is not a unit`},
		{torque, "5 " + strings.Repeat("N·", 32) + "m", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "5 gal", ErrOtherKind, 2, "is a unit of volume"},
		{torque, "5'6\"", ErrSyntax, 1, "a separator"},
		{torque, "5'", ErrOtherKind, 1, "is a unit of length"},
		{pressure, "5 lb", ErrOtherKind, 2, "is a unit of mass"},
		{volume, "5 J", ErrUnknownUnit, 2, "not a unit of volume"}, // and none of torque either
		{volume, "5 gal", ErrAmbiguous, 2, "US gal or imp gal"},
		{volume, "5 qt", ErrAmbiguous, 2, "US qt or imp qt"},
		{volume, "5 pt", ErrAmbiguous, 2, "US pt or imp pt"},
		{volume, "5 fl oz", ErrAmbiguous, 2, "US fl oz or imp fl oz"},
		{volume, "5 fl. oz.", ErrAmbiguous, 2, "US fl oz or imp fl oz"},
		{volume, "5 oz", ErrAmbiguous, 2, "oz, a mass"},
		{volume, "5 ounces", ErrAmbiguous, 2, "oz, a mass"},
		{volume, "5 fluid ounces", ErrAmbiguous, 2, "US fl oz or imp fl oz"},
		{mass, "5 MG", ErrUnknownUnit, 2, "not a unit of mass"}, // Mg is a tonne
		{volume, "5 in-lb", ErrOtherKind, 2, "torque"},
		{mass, "5 tons", ErrAmbiguous, 2, "short ton"},
		{mass, "5 fl oz", ErrOtherKind, 2, "volume"},
		{torque, "30 N", ErrOtherKind, 3, "without a lever"},
		{torque, "3 kg", ErrOtherKind, 2, "without a lever"},
		{torque, "3 daN", ErrOtherKind, 2, "without a lever"},
		{torque, "3 kN", ErrOtherKind, 2, "without a lever"},
		// Letters in the other case are another prefix, or another unit.
		{torque, "3 MN·m", ErrUnknownUnit, 2, "not a unit of torque"},
		{torque, "3 DAN·M", ErrUnknownUnit, 2, "not a unit of torque"},
		{length, "3 Mm", ErrUnknownUnit, 2, "not a unit of length"},
		{length, "3 UM", ErrUnknownUnit, 2, "not a unit of length"},
		{length, "3 nautical miles", ErrUnknownUnit, 2, "not a unit of length"},
		{volume, "3 ML", ErrUnknownUnit, 2, "not a unit of volume"},
		{volume, "3 daL", ErrUnknownUnit, 2, "not a unit of volume"},
		{flow, "3 ML/min", ErrUnknownUnit, 2, "not a unit of volume flow"},
		{flow, "3 Nm³/h", ErrUnknownUnit, 2, "not a unit of volume flow"}, // of gas, at normal conditions
		{flow, "3 m³", ErrOtherKind, 2, "volume"},
		{pressure, "3 Mbar", ErrUnknownUnit, 2, "not a unit of pressure"},
		{pressure, "3 AT", ErrUnknownUnit, 2, "not a unit of pressure"},
		{pressure, "3 atmospheres", ErrAmbiguous, 2, "atm or kgf/cm²"},
		// 10^24 of the first unit is one too many, by whatever unit it is reached.
		{length, "1" + strings.Repeat("0", 21) + " km", ErrRange, 0, "10^24 m"},
		{length, "1" + strings.Repeat("0", 30) + " µm", ErrRange, 0, "10^24 m"},
		{torque, "1" + strings.Repeat("0", 23) + " daN·m", ErrRange, 0, "10^24 N·m"},
		{volume, "1" + strings.Repeat("0", 25) + " hL", ErrRange, 0, "10^24 m³"},
		{pressure, "9869232667160128301 atm", ErrRange, 0, "10^24 Pa"},
		{mass, "5 gr", ErrAmbiguous, 2, "grain"},
		{mass, "5 T", ErrAmbiguous, 2, "t (tonne) or short ton (T on a waste manifest) or long ton"},
		{mass, "5 G", ErrAmbiguous, 2, "g (gram) or US gal (G on a waste manifest)"},
		{volume, "5 G", ErrAmbiguous, 2, "US gal (G on a waste manifest) or g (gram)"},
		{mass, "5 kgf", ErrOtherKind, 2, "force"},
		{pressure, "30 psig", ErrOtherKind, 3, "write psi"},
		{pressure, "2 bar(g)", ErrOtherKind, 2, "gauge or absolute"},
		{pressure, "2 bar (g)", ErrOtherKind, 2, "write bar"},
		{pressure, "200 kPa abs.", ErrOtherKind, 4, "write kPa"},
		{pressure, "200 kPa(abs)", ErrOtherKind, 4, "write kPa"},
		{pressure, "0.2 MPaG", ErrOtherKind, 4, "write MPa"},
		{pressure, "2 kgf/cm²G", ErrOtherKind, 2, "write kgf/cm²"},
		{pressure, "30 PSI Absolute", ErrOtherKind, 3, "write psi"},
		{pressure, "30 psig gauge", ErrUnknownUnit, 3, "not a unit of pressure"},
		{pressure, "2 ata", ErrOtherKind, 2, "write kgf/cm²"},
		{pressure, "760 torr", ErrAmbiguous, 4, "mmHg"},
		{pressure, "2 mpa", ErrAmbiguous, 2, "MPa or millipascal"},
		{density, "35 °API", ErrOtherKind, 3, "141360.764 kg/m³ / (131.5 + °API)"},
		{density, "35 deg API", ErrOtherKind, 3, "141360.764 kg/m³ / (131.5 + °API)"},
		{density, "35 API", ErrOtherKind, 3, "141360.764 kg/m³ / (131.5 + °API)"},
		{density, "0.85 SG", ErrOtherKind, 5, "so many times 999.016 kg/m³"},
		{temperature, "60", ErrNoUnit, 2, "no unit"},
		{temperature, "-274 °C", ErrRange, 0, "below absolute zero"},
		{temperature, "-1 K", ErrRange, 0, "below absolute zero"},
		{temperature, "-459.68 °F", ErrRange, 0, "below absolute zero"},
	} {
		err := c.read(c.text)
		name := plain.Cut(c.text)
		var parse *ParseError
		require.ErrorAs(t, err, &parse, name)
		assert.ErrorIs(t, err, c.sentinel, name)
		assert.Equal(t, c.offset, parse.Offset, name)
		assert.ErrorContains(t, err, c.says, name)
		assert.LessOrEqual(t, len(parse.Input), 51, name)
		assert.Less(t, len(err.Error()), 400, name)
		assert.NotContains(t, err.Error(), "\n", name)
		if errors.Is(err, ErrAmbiguous) {
			assert.NotEmpty(t, parse.Candidates, name)
		} else {
			assert.NotEmpty(t, parse.Want, name)
		}
	}
}

func TestFractions(t *testing.T) {
	for text, want := range map[string]string{
		"1½ in": "1.5 in", "½ in": "0.5 in", "3/4 in": "0.75 in", `3/4"`: "0.75 in", "1 1/2 in": "1.5 in", "1-1/2 in": "1.5 in",
		"2-1/8 in": "2.125 in", "1 ½ in": "1.5 in", "-1½ in": "-1.5 in", "63/64 in": "0.984375 in", "1⁄2 in": "0.5 in",
		"5/4 in": "1.25 in", "3⅛in": "3.125 in", "1\u00a01/2 in": "1.5 in", "⅖ in": "0.4 in", "7/32 in": "0.21875 in",
		"0½ in": "0.5 in", "12 in": "12 in", "12-in": "",
	} {
		q, err := ParseLength(text)
		if want == "" {
			require.NoError(t, err, "a hyphen alone joins")
			continue
		}
		require.NoError(t, err, text)
		assert.Equal(t, want, q.String(), text)
	}
	for text, says := range map[string]string{
		"1/3 in": "never ends", "⅓ in": "never ends", "1⅔ in": "never ends", "1/0 in": "without a denominator",
		"1/ in": "without a denominator", "1 5/4 in": "fraction of one or more", "12345/2 in": "above 9999", "1/12345 in": "above 9999",
		"1 3/20000 in": "above 9999", "1 20000/30000 in": "one or more", "1.5/2 in": "not a unit", "1.5½ in": "not a unit", "1/2/3 in": "not a unit",
		"20/25 in": "it could be 20 to 25 or the fraction 20/25", "4/2 in": "4 or 2 or the fraction 4/2", "0/5 in": "the fraction 0/5",
		"2/10 in": "2 to 10", "3/6 in": "3 to 6", "1/8192 in": "1 to 8192", "1 1/7 in": "1 to 7", "20/30 in": "20 to 30", "6/8 in": "6 to 8",
		"2-5/10 in": "the fraction 5/10", "0-1/4 in": "it could be 0 to 1/4 or 1/4", "0-¼ in": "it could be 0 to ¼ or ¼",
		"220 - in": "not a unit", "220 * in": "not a unit", "220 · in": "not a unit", "12- in": "not a unit", "12 -in": "not a unit",
		strings.Repeat("9", 34) + "½ in": "34 significant digits",
		"18446744073709551617/2 in":      "above 9999", "18446744073709551615/2 in": "above 9999",
	} {
		_, err := ParseLength(text)
		var parse *ParseError
		require.ErrorAs(t, err, &parse, text)
		assert.ErrorContains(t, err, says, text)
		assert.NotEmpty(t, parse.Want)
	}
}

// Each character is the fraction of its name, such as VULGAR FRACTION ONE SEVENTH. Source: unicode-fractions.
func TestVulgarFractionsAreTheFractionsTheyAreNamedFor(t *testing.T) {
	for den, row := range map[int64]map[int64]rune{
		2: {1: '\u00bd'}, 3: {1: '\u2153', 2: '\u2154'}, 4: {1: '\u00bc', 3: '\u00be'},
		5: {1: '\u2155', 2: '\u2156', 3: '\u2157', 4: '\u2158'}, 6: {1: '\u2159', 5: '\u215a'}, 7: {1: '\u2150'},
		8: {1: '\u215b', 3: '\u215c', 5: '\u215d', 7: '\u215e'}, 9: {1: '\u2151'}, 10: {1: '\u2152'},
	} {
		for num, r := range row {
			gotNum, gotDen := rational.Vulgar(r)
			assert.Equal(t, [2]int64{num, den}, [2]int64{gotNum, gotDen}, "%c", r)
		}
	}
	num, den := rational.Vulgar('\u215f') // FRACTION NUMERATOR ONE is half of one
	assert.Zero(t, num+den)
}

func TestParseUnitRefuses(t *testing.T) {
	_, err := ParseUnit[TorqueUnit](strings.Repeat("x", 129))
	assert.ErrorIs(t, err, ErrRange)
	_, err = ParseUnit[TorqueUnit]("")
	assert.ErrorIs(t, err, ErrNoUnit)
	_, err = ParseUnit[TorqueUnit]("bar")
	assert.ErrorIs(t, err, ErrOtherKind)
	assert.ErrorContains(t, err, "torque unit")
	_, err = ParseUnit[VolumeUnit]("gal")
	assert.ErrorIs(t, err, ErrAmbiguous)
	u, err := ParseUnit[TorqueUnit]("inch-pounds")
	require.NoError(t, err)
	assert.Equal(t, InchPound, u)
}

func TestMustParsePanics(t *testing.T) {
	assert.Panics(t, func() { MustParseTorque("145") })
	assert.Panics(t, func() { MustParseTemperature("60") })
}

// The last that a unit holds below 10^24 of the first, by its factor. Source: nist-sp811-b8.
func TestLargestThatUnitsHold(t *testing.T) {
	for _, err := range []error{
		second(ParseLength(strings.Repeat("9", 21) + " km")), second(ParseLength(strings.Repeat("9", 30) + " µm")),
		second(ParseTorque(strings.Repeat("9", 23) + " daN·m")), second(ParseVolume(strings.Repeat("9", 25) + " hL")),
		second(ParsePressure("9869232667160128300 atm")), // 10^24/101325 is 9869232667160128300.02…
	} {
		assert.NoError(t, err)
	}
}

func second[T any](_ T, err error) error { return err }

// Every spelling with every way to join its words finds the same unit.
func TestJoinersDontMatter(t *testing.T) {
	joiners := []string{" ", "-", "·", "⋅", ".", "*", "\u00a0", "\u2009", "–", ". ", " - "}
	rapid.Check(t, func(t *rapid.T) {
		all := allKinds()
		k := all[rapid.IntRange(0, len(all)-1).Draw(t, "kind")]
		i := rapid.IntRange(0, len(k.rows)-1).Draw(t, "unit")
		spellings := append([]string{"=" + foldUnit(k.rows[i].symbol)}, k.rows[i].spellings...)
		spelling, exact := strings.CutPrefix(rapid.SampledFrom(spellings).Draw(t, "spelling"), "=")
		text := strings.ReplaceAll(spelling, "·", rapid.SampledFrom(joiners).Draw(t, "joiner"))
		capitals := !exact && rapid.Bool().Draw(t, "capitals")
		if capitals {
			text = strings.ToUpper(text)
		}
		e, ok := k.lookup(text)
		require.True(t, ok, text)
		if capitals && (text == "G" || text == "T") && e.trap != nil {
			return // alone they ask which unit is meant
		}
		require.Nil(t, e.trap, text)
		require.EqualValues(t, i, e.unit, text)
	})
}

func TestPrintedTextParsesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawTorque(t, "q")
		back, err := ParseTorque(q.String())
		require.NoError(t, err)
		require.Equal(t, q.num(), back.num())
		require.Equal(t, q.unit, back.unit)
	})
}

// Refusing is cheap, whatever is refused.
func TestRefusingIsCheap(t *testing.T) {
	long := strings.Repeat("9", 10<<20)
	for _, text := range []string{long, long + " N·m", "1e999999999 N·m", "1 " + strings.Repeat("é", 60), "0" + strings.Repeat("\x9d", 126), "5 " + strings.Repeat("\x9d", 60), "5 gal", "145"} {
		const rounds = 100
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		for range rounds {
			_, sinkError = ParseTorque(text)
		}
		runtime.ReadMemStats(&after)
		assert.Less(t, (after.TotalAlloc-before.TotalAlloc)/rounds, uint64(4096), plain.Cut(text))
	}
}
