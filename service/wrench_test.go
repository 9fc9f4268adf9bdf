package service

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// A wrench of a job is that of package torque: how it states its deviation and how well its lever is known
// are read, kept, and in the setting.
func TestWrenchOfAJobIsTorques(t *testing.T) {
	wrench := func(says string) string {
		return `"torqueUnit": "N·m", "wrenches": [{"id": "W", "lowest": "10 N·m", "highest": "60 N·m", "step": "0.5 N·m", ` + says + `, "calibratedUntil": "2099-01-01"}]`
	}
	read := func(says string) (Job, error) {
		return ReadJob([]byte(strings.Replace(bench, `"torqueUnit": "N·m"`, wrench(says), 1)))
	}
	for says, want := range map[string]torque.Wrench{
		`"deviation": "4 %"`: {Deviation: units.Percent.Of(4)},
		`"deviation": "4 %", "deviationBasis": "of full scale"`:              {Deviation: units.Percent.Of(4), DeviationBasis: torque.OfFullScale},
		`"deviationBasis": "absolute", "absoluteDeviation": "1 N·m"`:         {DeviationBasis: torque.Absolute, AbsoluteDeviation: units.NewtonMetre.Of(1)},
		`"deviation": "4 %", "length": "300 mm", "lengthTolerance": "10 mm"`: {Deviation: units.Percent.Of(4), Length: units.Millimetre.Of(300), LengthTolerance: units.Millimetre.Of(10)},
	} {
		job, err := read(says)
		require.NoError(t, err, says)
		want.Name, want.Lowest, want.Highest, want.Step = "W", units.NewtonMetre.Of(10), units.NewtonMetre.Of(60), units.MustParseTorque("0.5 N·m")
		assert.Equal(t, want, job.Shop.Wrenches[0].Wrench, says)
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		set, err := want.Set(job.Stations[0].Tighten.Torque, torque.Adapter{})
		if err != nil {
			assert.Nil(t, plan.Stations[0].Torque.Set, says)
			continue
		}
		assert.Equal(t, set.Dial, plan.Stations[0].Torque.Set.Setting.Dial, says)
		text, err := json.Marshal(job)
		require.NoError(t, err)
		again, err := ReadJob(text)
		require.NoError(t, err)
		assert.Equal(t, job, again, says)
	}
	for says, path := range map[string]string{
		`"length": "300 mm"`: "deviation",
		`"deviation": "0 %"`: "deviation",
		`"deviation": "4 %", "deviationBasis": "of itself"`:                              "deviationBasis",
		`"deviation": "4 %", "deviationBasis": "absolute", "absoluteDeviation": "1 N·m"`: "deviation",
		`"deviationBasis": "absolute"`:                                                   "absoluteDeviation",
		`"deviation": "4 %", "absoluteDeviation": "1 N·m"`:                               "absoluteDeviation",
		`"deviation": "4 %", "lengthTolerance": "-1 mm"`:                                 "lengthTolerance",
		`"deviation": "4 %", "name": "W"`:                                                "name",
		`"deviation": "4 %", "CalibratedUntil": "2099-01-01"`:                            "CalibratedUntil",
	} {
		_, err := read(says)
		assert.Equal(t, []string{"shop.wrenches[0]." + path}, pathsOf(t, err), says)
	}
}
