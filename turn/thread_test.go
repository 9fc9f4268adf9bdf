package turn_test

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Leads are 25.4 mm over threads to the inch, or the metric pitch, and the rest is computed from them; names of
// series and coarse pitches are published. Sources: asme-b1-1, iso-261.
func TestThreads(t *testing.T) {
	for _, row := range []struct{ text, name, lead, half, twoThirds, threeQuarters string }{
		{"1-12 UNF", "1-12 UNF", "127/60", "1.058333333333 mm", "1.411111111111 mm", "1.5875 mm"},
		{"13/16-12 UN", "13/16-12 UN", "127/60", "1.058333333333 mm", "1.411111111111 mm", "1.5875 mm"},
		{"1-14 UNS", "1-14 UNS", "127/70", "0.907142857143 mm", "1.209523809524 mm", "1.360714285714 mm"},
		{"7/8-14", "7/8-14 UNF", "127/70", "0.907142857143 mm", "1.209523809524 mm", "1.360714285714 mm"},
		{"13/16-16 UNF", "13/16-16 UN", "127/80", "0.79375 mm", "1.058333333333 mm", "1.190625 mm"},
		{"¾-16", "3/4-16 UNF", "127/80", "0.79375 mm", "1.058333333333 mm", "1.190625 mm"},
		{"M20x1.5", "M20x1.5", "3/2", "0.75 mm", "1 mm", "1.125 mm"},
		{"M20 × 1.5-6H", "M20x1.5-6H", "3/2", "0.75 mm", "1 mm", "1.125 mm"},
		{"M20-1.5", "M20x1.5", "3/2", "0.75 mm", "1 mm", "1.125 mm"},
		{"M20-1.5-6H", "M20x1.5-6H", "3/2", "0.75 mm", "1 mm", "1.125 mm"},
		{"M20-6H", "M20x2.5-6H", "5/2", "1.25 mm", "1.666666666667 mm", "1.875 mm"},
		{"6-32", "#6-32 UNC", "127/160", "0.396875 mm", "0.529166666667 mm", "0.5953125 mm"},
		{"No. 10-32 UNF-2A", "#10-32 UNF-2A", "127/160", "0.396875 mm", "0.529166666667 mm", "0.5953125 mm"},
		{"#10-28 UNS", "#10-28 UNS", "127/140", "0.453571428571 mm", "0.604761904762 mm", "0.680357142857 mm"},
		{"1/8-27 UNS", "1/8-27 UNS", "127/135", "0.470370370370 mm", "0.627160493827 mm", "0.705555555556 mm"},
		{"M16", "M16x2", "2/1", "1 mm", "1.333333333333 mm", "1.5 mm"},
		{"M20", "M20x2.5", "5/2", "1.25 mm", "1.666666666667 mm", "1.875 mm"},
		{"1/2-20 UNF-2A-LH", "1/2-20 UNF-2A-LH", "127/100", "0.635 mm", "0.846666666667 mm", "0.9525 mm"},
		{"1-1/8-12 UNF LH", "1 1/8-12 UNF-LH", "127/60", "1.058333333333 mm", "1.411111111111 mm", "1.5875 mm"},
	} {
		th, err := turn.ParseThread(row.text)
		if !assert.NoError(t, err, row.text) {
			continue
		}
		assert.Equal(t, row.name, th.String())
		assert.Equal(t, row.lead, th.Lead().String())
		assert.Equal(t, row.half, th.Advance(turn.MustParse("1/2")).String(), row.text)
		assert.Equal(t, row.twoThirds, th.Advance(turn.MustParse("2/3")).String(), row.text)
		assert.Equal(t, row.threeQuarters, th.Advance(turn.MustParse("3/4")).String(), row.text)
		assert.Equal(t, strings.Contains(row.text, "LH"), th.Hand() == turn.LeftHand)
		text, err := th.MarshalText()
		require.NoError(t, err)
		var again turn.Thread
		require.NoError(t, again.UnmarshalText(text))
		assert.Equal(t, row.name, again.String())
	}
	assert.Equal(t, "UNF", turn.MustParseThread("13/16-16 UNF").Misnamed())
	assert.Equal(t, "UNF", turn.MustParseThread("1-14 UNF").Misnamed())
	assert.Empty(t, turn.MustParseThread("1-12 UNF").Misnamed())
	assert.Equal(t, "0 mm", turn.Thread{}.Advance(turn.MustParse("3/4")).String())
}

// The coarse pitches and the pitch diameters, of which the one follows from the other:
// d2 = d - 3√3/8·P = d - 0.649519·P, to three places. Sources: iso-261, iso-724.
func TestCoarsePitches(t *testing.T) {
	for size, row := range map[int64][2]string{
		3: {"0.5", "2.675"}, 4: {"0.7", "3.545"}, 5: {"0.8", "4.480"}, 6: {"1", "5.350"}, 8: {"1.25", "7.188"}, 10: {"1.5", "9.026"},
		12: {"1.75", "10.863"}, 14: {"2", "12.701"}, 16: {"2", "14.701"}, 18: {"2.5", "16.376"}, 20: {"2.5", "18.376"},
		22: {"2.5", "20.376"}, 24: {"3", "22.051"}, 27: {"3", "25.051"}, 30: {"3.5", "27.727"}, 33: {"3.5", "30.727"},
		36: {"4", "33.402"}, 39: {"4", "36.402"},
	} {
		text := fmt.Sprintf("M%d", size)
		th, err := turn.ParseThread(text)
		require.NoError(t, err)
		assert.Equal(t, text+"x"+row[0], th.String(), "ISO 261")
		d2 := new(big.Rat).Mul(th.Lead(), big.NewRat(-649519, 1_000_000))
		assert.Equal(t, row[1], d2.Add(d2, big.NewRat(size, 1)).FloatString(3), "%s, ISO 724", text)
	}
}

// The hand may be in words, joined or not; a class behind it or before it stays.
func TestHandOfThreadInWords(t *testing.T) {
	for text, want := range map[string]string{
		"1-14 UNS RH": "1-14 UNS", "1-14 UNS right hand": "1-14 UNS", "1-14 right-hand UNS-2A": "1-14 UNS-2A",
		`1"-14 UNS-2a`: "1-14 UNS-2A", "13/16 in-16": "13/16-16 UN", "M20x1.5-6g": "M20x1.5-6g", // 6G is another class
		"M20x1.5 LH": "M20x1.5-LH", "M20x1.5 left-hand": "M20x1.5-LH", "M20x1.5 (left hand)": "M20x1.5-LH",
		"1-14 UNS left hand-2B": "1-14 UNS-2B-LH",
	} {
		th, err := turn.ParseThread(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, th.String(), text)
			assert.Equal(t, strings.Contains(want, "LH"), th.Hand() == turn.LeftHand, text)
		}
	}
}

// The largest and the smallest that is read is read, and what lies beyond is refused.
func TestThreadBounds(t *testing.T) {
	for _, row := range []struct {
		text string
		want error
	}{
		{"M150x8", nil}, {"M150.001x8", units.ErrRange}, {"M150x8.001", units.ErrRange}, {"M100x0.2", nil}, {"M100x0.199", units.ErrRange},
		{"M2x1.999", nil}, {"M2x2", units.ErrRange}, {"M1.5x1.6", units.ErrRange}, {"M2.5x2.4", nil}, {"M1x0.25", nil},
		{"6-4", nil}, {"6.001-4", units.ErrRange}, {"1-3", nil}, {"1-2.999", units.ErrRange}, {"1/4-80", nil}, {"1/4-80.001", units.ErrRange}, {"1-11.5 UNS", nil},
	} {
		_, err := turn.ParseThread(row.text)
		assert.ErrorIs(t, err, row.want, row.text)
	}
}

func TestThreadsRefused(t *testing.T) {
	for text, want := range map[string]error{
		"": units.ErrSyntax, "M": units.ErrSyntax, "M20x": units.ErrSyntax, "M20x0": units.ErrRange, "M0x1": units.ErrRange,
		"M200x2": units.ErrRange, "M13": units.ErrUnknownUnit, "1-": units.ErrSyntax, "1": units.ErrSyntax, "1-0": units.ErrRange,
		"1/0-12": units.ErrRange, "1-100": units.ErrRange, "0-12": units.ErrRange, "7-12": units.ErrRange, "NPT 1/2": units.ErrUnknownUnit,
		"1/2-14 NPT": units.ErrUnknownUnit, "1/2-14 NPTF": units.ErrUnknownUnit, "1-14 XYZ": units.ErrSyntax, "M20x1.5 UNF": units.ErrSyntax, "#10": units.ErrSyntax,
		"-1-12": units.ErrRange, strings.Repeat("1", 10<<20): units.ErrRange, "M20x1,5": units.ErrSyntax, "M1x2": units.ErrRange,
		"1-14 UNS UNF": units.ErrSyntax, "1-14 UNS UNF-LH": units.ErrSyntax, "M20x1.5 UNF-LH": units.ErrSyntax, "M20x1.5 UNF RH-6H": units.ErrSyntax, "\xff": units.ErrSyntax, "M20-": units.ErrSyntax, "1-12-": units.ErrSyntax, "M13-6H": units.ErrUnknownUnit,
		"#7-32": units.ErrRange, "#13-20": units.ErrRange, "#1/4-20": units.ErrRange, "8-20": units.ErrRange, "#": units.ErrSyntax,
		"3/4-14 BSP": units.ErrUnknownUnit, "3/4-14 BSPT": units.ErrUnknownUnit, "G3/4": units.ErrUnknownUnit, "1/2 NPT": units.ErrUnknownUnit,
		`3/4" BSPP`: units.ErrUnknownUnit, "1-11 1/2 NPT": units.ErrUnknownUnit, "1/8-27 NPTF": units.ErrUnknownUnit,
		"1/8-27": units.ErrAmbiguous, "1/2-14": units.ErrAmbiguous, "1-11 1/2": units.ErrAmbiguous, "1-11": units.ErrAmbiguous, "1/8-28 LH": units.ErrAmbiguous,
		"1-12 UNC": units.ErrAmbiguous, "3/4-10 UNF": units.ErrAmbiguous, "3/4-12 UNF": units.ErrAmbiguous, "1-12 UNEF": units.ErrAmbiguous,
		"#6-32 UNF": units.ErrAmbiguous, "10-32 UNC": units.ErrAmbiguous,
	} {
		th, err := turn.ParseThread(text)
		var typed *units.ParseError
		if assert.ErrorAs(t, err, &typed, plain.Cut(text)) {
			assert.ErrorIs(t, err, want, "%v", err)
		}
		assert.Equal(t, turn.Thread{}, th)
	}
}

// Pitches and series to the ends of the published tables. Source: thread-tables.
func TestThreadTables(t *testing.T) {
	for text, want := range map[string]string{
		"M1": "M1x0.25", "M1.2": "M1.2x0.25", "M1.4": "M1.4x0.3", "M1.6": "M1.6x0.35", "M2": "M2x0.4", "M2.5": "M2.5x0.45", "M3.5": "M3.5x0.6",
		"M4.5": "M4.5x0.75", "M7": "M7x1", "M9": "M9x1.25", "M11": "M11x1.5", "M42": "M42x4.5", "M52": "M52x5", "M56": "M56x5.5", "M60": "M60x5.5",
		"M64": "M64x6", "M68": "M68x6", "1 3/4-5": "1 3/4-5 UNC", "2-4.5": "2-4.5 UNC", "2 1/4-4 1/2": "2 1/4-4.5 UNC", "4-4": "4-4 UNC",
		"1 1/16-18": "1 1/16-18 UNEF", "1 5/16-18": "1 5/16-18 UNEF", "1 11/16-18": "1 11/16-18 UNEF",
	} {
		th, err := turn.ParseThread(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, th.String(), text)
		}
	}
	for text, want := range map[string]error{"M1.3": units.ErrUnknownUnit, "M2.05": units.ErrUnknownUnit, "M69": units.ErrUnknownUnit,
		"1 1/8-11": units.ErrAmbiguous, "1 3/4-11": units.ErrAmbiguous, "1 3/4-6 UNC": units.ErrAmbiguous} {
		_, err := turn.ParseThread(text)
		assert.ErrorIs(t, err, want, text)
	}
}

// Numbered sizes are of 0.060 in and 0.013 in more with each number; #10 is 0.190 in. Source: asme-b1-1.
func TestNumberedThreads(t *testing.T) {
	for text, thousandths := range map[string]int64{"0-80": 60, "1-64": 73, "5-40": 125, "6-32": 138, "8-32": 164, "10-24": 190, "12-24": 216} {
		th := turn.MustParseThread(text)
		assert.Equal(t, big.NewRat(thousandths*254, 10_000).String(), th.Diameter().String(), text)
		assert.Equal(t, th, turn.MustParseThread("#"+text))
		assert.Equal(t, th, turn.MustParseThread(th.String()))
	}
	assert.Equal(t, big.NewRat(254, 10).String(), turn.MustParseThread("1-12").Diameter().String(), "a size of an inch")
	assert.Equal(t, turn.OtherThread, turn.MustParseThread("1/8-44 UNS").On(turn.MustParseThread("6-32")))
	assert.Equal(t, turn.Fits, turn.MustParseThread("1/8-44 UNS").On(turn.MustParseThread("5-44")))
}

func TestThreadQuestionsNameBothReadings(t *testing.T) {
	for text, says := range map[string]string{
		"1-12 UNC":   "1-12 isn't UNC; it could be 1-8 UNC or 1-12 UNF",
		"3/4-12 UNF": "3/4-12 isn't UNF; it could be 3/4-16 UNF or 3/4-12 UNS",
		"1/8-27":     "it could be 1/8-27 UNS or 1/8-27 NPT",
		"1/2-14":     "it could be 1/2-14 UNS or 1/2-14 NPT or BSP",
	} {
		_, err := turn.ParseThread(text)
		assert.ErrorContains(t, err, says)
	}
}

// An invented count: 1-14, 4 1/2 turns expected, 2 1/4 counted, 4.0 mm gasket:
// early by 2 1/4 × 25.4/14 = 4.082 mm.
func TestAuditContact(t *testing.T) {
	th, gasket, within := turn.MustParseThread("1-14 UNS"), units.MustParseLength("4.0 mm"), turn.MustParse("1/4")
	for counted, want := range map[string]string{
		"2 1/4":     "early by 2 1/4 turns, 4.082 mm: second gasket likely; stop and look",
		"4 1/2":     "as expected",
		"4 3/4":     "late by 1/4 turn, 0.454 mm: as expected",
		"3 1/2":     "early by 1 turn, 1.814 mm: too early; stop and look",
		"6 3/4":     "late by 2 1/4 turns, 4.082 mm: gasket likely missing; stop and look",
		"5 1/4":     "late by 3/4 turn, 1.361 mm: contact likely missed; stop and look",
		"7 1/2":     "late by 3 turns, 5.443 mm: too late; stop and look",
		"100 turns": "late by 95 1/2 turns, 173.264 mm: too late; stop and look",
	} {
		got, err := th.JudgeContact(turn.MustParse("4 1/2"), turn.MustParse(counted), within, gasket)
		require.NoError(t, err)
		assert.Equal(t, want, got.String(), counted)
	}
	// M20x2, 4 mm: two turns are a gasket. The count may be out by a quarter either way, itself included.
	metric := turn.MustParseThread("M20x2")
	for counted, want := range map[string]turn.Contact{
		"5": turn.ContactExpected, "4 3/4": turn.ContactExpected, "5 1/4": turn.ContactExpected, "4 37/50": turn.EarlyContact, "5 13/50": turn.MissedContact,
		"3 1/4": turn.SecondGasket, "3": turn.SecondGasket, "2 3/4": turn.SecondGasket, "3 13/50": turn.EarlyContact, "2 37/50": turn.EarlyContact,
		"6 3/4": turn.MissingGasket, "7": turn.MissingGasket, "7 1/4": turn.MissingGasket, "6 37/50": turn.MissedContact, "7 13/50": turn.LateContact,
	} {
		got, err := metric.JudgeContact(turn.MustParse("5 turns"), turn.MustParse(counted+" turns"), within, gasket)
		require.NoError(t, err)
		assert.Equal(t, want, got.Contact, counted)
		assert.Equal(t, want != turn.ContactExpected, strings.Contains(got.String(), "stop and look"), counted)
	}
	_, err := th.JudgeContact(within, within, within, units.Length{})
	assert.ErrorIs(t, err, units.ErrRange)
}

// A 13/16-16 canister on an M20x1.5 stud has play and may spin home; the reverse should not start
// (common practice, no source).
func TestNearMatches(t *testing.T) {
	for _, row := range []struct {
		canister, stud string
		want           turn.Match
	}{
		{"13/16-16", "M20x1.5", turn.SpinsHome}, {"M20x1.5", "13/16-16", turn.ShouldBind},
		{"3/4-16", "M18x1.5", turn.SpinsHome}, {"M18x1.5", "3/4-16", turn.ShouldBind},
		{"M20x1.5", "M20x1.5", turn.Fits}, {"1-12", "1-14", turn.OtherThread}, {"1-12 LH", "1-12", turn.OtherThread},
		{"M20x1.5", "M20x1.6", turn.ShouldBind},                                             // as large, near in pitch: no fit
		{"M18x1.5", "M20x1.5", turn.ShouldBind}, {"M17.9x1.5", "M20x1.5", turn.OtherThread}, // a tenth of the diameter
		{"M21x1.8", "M20x2", turn.SpinsHome}, {"M21x1.79", "M20x2", turn.OtherThread}, // a tenth of the pitch
		{"M21x2", "M18.836x2", turn.SpinsHome}, {"M21x2", "M18.835x2", turn.DoesNotEngage}, // 21 - 1.0825·2
		{"M21x2 LH", "M18.835x2", turn.DoesNotEngage}, {"M20x1.5 LH", "M20x1.5 LH", turn.Fits},
		{"M22x1.5", "M20x1.5", turn.DoesNotEngage}, {"M16x1.5", "M20x1.5", turn.OtherThread}, {"1-12", "13/16-12", turn.DoesNotEngage},
	} {
		assert.Equal(t, row.want, turn.MustParseThread(row.canister).On(turn.MustParseThread(row.stud)), "%v", row)
	}
	assert.Equal(t, turn.Match(0), turn.Thread{}.On(turn.Thread{}))
}

// 40 N·m, then 45° + 45° + 45° + 30°, and 165° in all: the table prints the sum too. Source: tm-10-3930-669.
func TestSequence(t *testing.T) {
	s, err := turn.ParseSequence("40 N·m then 45° + 45° + 45° + 30°")
	require.NoError(t, err)
	assert.Equal(t, "165°", s.Cumulative()[3].Degrees().String())
	assert.Equal(t, "40 N·m then 1/8 turn + 1/8 turn + 1/8 turn + 1/12 turn", s.String())
	assert.Equal(t, turn.MustParse("90°"), s.Cumulative()[1])
	again, err := turn.ParseSequence(s.String())
	require.NoError(t, err)
	assert.Equal(t, s.Stages(), again.Stages())
	for _, text := range []string{"40 N·m, then 45°, 90°, then 30°", "40 N·m Then 45° THEN 90° then 30°",
		"40\u3000N·m\u3000then\u300045°\u00a0+\u00a090° + 30°", "40 N·m+45°+90°+30°"} {
		s, err := turn.ParseSequence(text)
		require.NoError(t, err, text)
		assert.Equal(t, "40 N·m then 1/8 turn + 1/4 turn + 1/12 turn", s.String(), text)
	}
	for text, want := range map[string]error{
		"40 N·m,, then 45°": units.ErrSyntax, "40 N·m then, 45°": units.ErrUnknownUnit, "40 N·m then then 45°": units.ErrSyntax,
		"then 45°": units.ErrSyntax, "40 N·m 45°": units.ErrUnknownUnit, "40,5 N·m then 45°": units.ErrNoUnit,
		"40 N·m then 45,5°": units.ErrNoUnit,
		"":                  units.ErrSyntax, "40 N·m": units.ErrRange, "0 N·m then 45°": units.ErrRange, "40 then 45°": units.ErrNoUnit,
		"40 N·m then 45": units.ErrNoUnit, "40 N·m then 0°": units.ErrRange, "40 N·m then 99 turns + 2 turns": units.ErrRange,
		"40 N·m" + strings.Repeat(" + 1°", 13): units.ErrRange, strings.Repeat("+", 10<<20): units.ErrRange,
	} {
		_, err := turn.ParseSequence(text)
		assert.ErrorIs(t, err, want, "%.30s: %v", text, err)
	}
	assert.Equal(t, []turn.Turn{}, turn.Sequence{}.Cumulative())
}

// Whatever sequence can be made is written and read back with the same torque and stages, and a
// text that is refused changes nothing.
func TestSequenceAsText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stages []turn.Turn
		for range rapid.IntRange(1, 12).Draw(t, "stages") {
			stages = append(stages, turn.MustOf(rapid.Int64Range(1, 400).Draw(t, "degrees"), 360))
		}
		s, err := turn.NewSequence(units.NewtonMetre.Of(rapid.Int64Range(1, 1000).Draw(t, "snug")), stages...)
		require.NoError(t, err)
		text, err := s.MarshalText()
		require.NoError(t, err)
		require.LessOrEqual(t, len(text), 256, "it must be read back")
		var read turn.Sequence
		require.NoError(t, read.UnmarshalText(text))
		require.True(t, read.Torque().Equal(s.Torque()))
		require.Equal(t, s.Stages(), read.Stages())
	})
	kept, err := turn.ParseSequence("40 N·m then 45°")
	require.NoError(t, err)
	for _, bad := range []string{"", "40 N·m", "40 N·m then 45", strings.Repeat("9", 1<<20)} {
		assert.Error(t, kept.UnmarshalText([]byte(bad)), "%.20s", bad)
		assert.Error(t, kept.Scan(bad), "%.20s", bad)
		assert.Equal(t, "40 N·m then 1/8 turn", kept.String())
	}
	assert.Error(t, kept.Scan(nil))
	assert.Error(t, kept.UnmarshalJSON([]byte(`null`)))
	fine := make([]turn.Turn, 12)
	for i := range fine {
		fine[i] = turn.MustOf(123457, 1000000)
	}
	_, err = turn.NewSequence(units.NewtonMetre.Of(40), fine...)
	assert.ErrorIs(t, err, units.ErrRange, "it couldn't be read back")
	_, err = turn.Sequence{}.MarshalText()
	assert.ErrorIs(t, err, units.ErrRange)
	_, err = turn.Sequence{}.Value()
	assert.ErrorIs(t, err, units.ErrRange)
}

// Multiples of π, whose digits check the last place. Source: oeis-pi.
func TestArcLength(t *testing.T) {
	for _, row := range [][3]string{{"1 m", "1 turn", "3.141592654 m"}, {"100 mm", "3/4", "235.619449019 mm"}, {"4 in", "1/4", "3.141592654 in"}, {"100 mm", "0 turns", "0 mm"}} {
		got, err := turn.ArcLength(units.MustParseLength(row[0]), turn.MustParse(row[1]))
		require.NoError(t, err)
		assert.True(t, units.MustParseLength(row[2]).Equal(got), "%v %v", row, got)
	}
	for _, d := range []units.Length{{}, units.Millimetre.Of(-1), units.LengthUnit(99).Of(1), units.MustParseLength("999999999999999999999999 m")} {
		_, err := turn.ArcLength(d, turn.MustParse("1 turn"))
		assert.ErrorIs(t, err, units.ErrRange)
	}
}

func FuzzParseThread(f *testing.F) {
	for _, seed := range []string{"1-14 UNS", "13/16-16 UNF-2B-LH", "M20x1.5-6H", "M16", "1 1/8-12", "0.5-20", "1-11.5", "1/2-56 1/54"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		th, err := turn.ParseThread(text)
		if err != nil {
			refusedShort(t, err)
			return
		}
		again, err := turn.ParseThread(th.String())
		require.NoError(t, err)
		assert.Equal(t, th.String(), again.String())
		assert.Equal(t, th.Lead(), again.Lead())
		assert.Positive(t, th.Lead().Sign())
	})
}
