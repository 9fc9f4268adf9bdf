package service

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// One figure off a jug is as good as the jug: by what the readings say of it, or else the job. Station 2
// of the job expects 0.5 to 1 L. An error that isn't known is not zero, and passes nothing.
func TestOneFigureOffAJug(t *testing.T) {
	const (
		ranged = `{"volume": {"low": "0.7 L", "best": "0.75 L", "high": "0.8 L", "from": "measured"}, "at": "60 °C"}`
		jug    = `"panHolds": "10 L"`
	)
	for _, c := range []struct {
		name, job, read string
		want            Verdict
		says            string
		low, high       string // of the mass, as volumes at 60 °C
	}{
		{"the job's jug", `"jugDeviation": "25 mL"`, `"read": "0.75 L"`, Pass, "", "725 mL", "775 mL"},
		{"to the limit", `"jugDeviation": "50 mL"`, `"read": "0.95 L"`, Pass, "", "900 mL", "1000 mL"},
		{"over the limit", `"jugDeviation": "50.001 mL"`, `"read": "0.95 L"`, Undecided, "why.expected/partly", "899.999 mL", "1000.001 mL"},
		{"too much", `"jugDeviation": "50 mL"`, `"read": "1.2 L"`, Fail, "why.expected/more", "1150 mL", "1250 mL"},
		{"another jug", `"jugDeviation": "1 mL"`, `"read": "0.75 L", "deviation": "300 mL"`, Undecided, "why.expected/partly", "450 mL", "1050 mL"},
		{"below nothing", `"jugDeviation": "1 L"`, `"read": "0.75 L"`, Undecided, "why.expected/partly", "0 mL", "1750 mL"},
		{"stated at the reading alone", "", `"read": "0.75 L", "deviation": "20 mL"`, Pass, "", "730 mL", "770 mL"},
		{"not known", "", `"read": "0.75 L"`, Undecided, "why.jug-unknown; why.expected/within", "500 mL", "1000 mL"},
		{"not known, too much", "", `"read": "2 L"`, Undecided, "why.jug-unknown; why.expected/more", "500 mL", "2000 mL"},
	} {
		with := jug
		if c.job != "" {
			with += ", " + c.job
		}
		plan := benchPlan(t, jug, with)
		review, err := plan.reviewBy(doneWith(t, ranged, `{`+c.read+`, "at": "60 °C"}`, fuelWeight, ""), rulesWith(t))
		require.NoError(t, err, c.name)
		l := lineOf(t, review, "stations[1].out")
		assert.Equal(t, c.want, l.Verdict, "%s: %v", c.name, l)
		assert.Contains(t, l.String(), c.says, c.name)

		// The total is station 1's 1.5 L and this.
		total := review.Totals[0]
		for _, end := range []struct {
			volume string
			got    units.Mass
		}{{c.low, total.Mass.Low}, {c.high, total.Mass.High}} {
			sum, _ := units.MustParseVolume(end.volume).Add(units.MustParseVolume("1.5 L"))
			kg := fuelDensity(t).RatIn(units.KilogramPerLitre)
			kg.Mul(kg, sum.RatIn(units.Litre))
			assert.Equal(t, kg.FloatString(6), end.got.RatIn(units.Kilogram).FloatString(6), c.name)
		}
		assert.Equal(t, c.says != "" && c.want == Undecided && c.job == "", strings.Contains(fmt.Sprint(total.Notes), "total.jug"), "%s: %v", c.name, total.Notes)
	}
}

// Nothing on the scale of the jug is nothing found, and a drop is water found.
func TestWaterOffAJug(t *testing.T) {
	for read, want := range map[string]Verdict{"0 mL": Pass, "5 mL": Fail} {
		done := doneWith(t)
		done.Stations[0].Water = &VolumeTaken{Read: units.MustParseVolume(read), At: units.MustParseTemperature("20 °C")}
		review, err := benchPlan(t).reviewBy(done, rulesWith(t))
		require.NoError(t, err)
		assert.Equal(t, want, lineOf(t, review, "stations[0].water").Verdict, read)
	}
}

func TestJugThatCannotBe(t *testing.T) {
	const ranged = `{"volume": {"low": "0.7 L", "best": "0.75 L", "high": "0.8 L", "from": "measured"}, "at": "60 °C"}`
	for text, path := range map[string]string{
		`{"at": "60 °C"}`: "stations[1].out",
		`{"read": "0.75 L", "volume": {"low": "0.7 L", "best": "0.75 L", "high": "0.8 L", "from": "measured"}, "at": "60 °C"}`:    "stations[1].out",
		`{"deviation": "5 mL", "volume": {"low": "0.7 L", "best": "0.75 L", "high": "0.8 L", "from": "measured"}, "at": "60 °C"}`: "stations[1].out.deviation",
		`{"read": "0.75", "at": "60 °C"}`:                                    "stations[1].out.read",
		`{"read": "-0.75 L", "at": "60 °C"}`:                                 "stations[1].out.read",
		`{"read": "0.75 L", "deviation": "0 mL", "at": "60 °C"}`:             "stations[1].out.deviation",
		`{"read": "0.75 L", "deviation": "-5 mL", "at": "60 °C"}`:            "stations[1].out.deviation",
		`{"read": "0.75 US gal", "deviation": "1 imp fl oz", "at": "60 °C"}`: "stations[1].out.deviation",
		`{"read": "0.75 L"}`:                                                 "stations[1].out.at",
	} {
		_, err := ReadAsDone([]byte(edited(t, benchDone, ranged, text)))
		require.Error(t, err, text)
		assert.Contains(t, pathsOf(t, err), path, "%s: %v", text, err)
	}
	_, err := ReadJob(edited(t, bench, `"panHolds": "10 L"`, `"panHolds": "10 L", "jugDeviation": "0 mL"`))
	require.Error(t, err)
	assert.Equal(t, []string{"shop.jugDeviation"}, pathsOf(t, err))

	plan := benchPlan(t, `"panHolds": "10 L"`, `"panHolds": "10 L", "jugDeviation": "1 imp fl oz"`)
	_, err = plan.reviewBy(doneWith(t, ranged, `{"read": "0.75 US gal", "at": "60 °C"}`), rulesWith(t))
	require.Error(t, err)
	assert.Equal(t, []string{"stations[1].out.read"}, pathsOf(t, err))
}

// Where the job doesn't say how good its jug is, the sheet asks for it.
func TestSheetAsksHowGoodTheJugIs(t *testing.T) {
	assert.Contains(t, flat(benchPlan(t).Text()), "fuel ______ ± ______ L at ______ °C")
	assert.Contains(t, flat(benchPlan(t, `"panHolds": "10 L"`, `"panHolds": "10 L", "jugDeviation": "25 mL"`).Text()), "fuel ______ L at ______ °C")
}
