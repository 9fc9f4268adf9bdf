package service

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/turn"
)

// Whole turns leave the same mark at the index: after 3/4 turn and after 1 3/4 alike.
// A tolerance of the rules can bring a turn past the full one; then it is counted.
func TestToleranceThatPassesAFullTurn(t *testing.T) {
	in := turn.MustParseInstruction("11/12 turn after gasket contact")
	tighten := Tighten{Turn: in, Thread: turn.RightHand, Marks: benchPlan(t).Job.Stations[1].Tighten.Marks}
	assert.Nil(t, finding(planBy(t, benchPlan(t).Job, tighten, Rules{}), "turn.ambiguous"))
	assert.NotNil(t, finding(planBy(t, benchPlan(t).Job, tighten, rulesWith(t)), "turn.ambiguous"))
}

func TestTurnAmbiguousOnThisRing(t *testing.T) {
	for _, c := range []struct{ turn, code, says string }{
		{"1/2 to 3/4 turn after gasket contact", "", ""},
		{"1 turn after gasket contact", "turn.ambiguous", "after 1 turn stands there after 0 turns too"},
		{"3/4 to 1 turn after gasket contact", "turn.ambiguous", "after 1 turn stands there after 0 turns too"},
		{"1 1/4 turns after gasket contact", "turn.ambiguous", "after 1 + 1/4 turns stands there after 1/4 turn too"},
		{"1/2 to 1 1/2 turns after gasket contact", "turn.ambiguous", "every mark at the index may be right"},
	} {
		plan := benchPlan(t, "3/4 turn after gasket contact", c.turn)
		f := finding(plan, "turn.ambiguous")
		assert.Nil(t, finding(plan, "turn.full-turns"), "said once")
		if c.code == "" {
			assert.Nil(t, f, c.turn)
			continue
		}
		require.NotNil(t, f, c.turn)
		assert.Equal(t, Caution, f.Level)
		assert.Equal(t, "stations[1].tighten.marks", f.Where)
		assert.Contains(t, f.Words, c.says)
	}
	job, err := ReadJob([]byte(strings.Replace(bench, "3/4 turn after gasket contact", "1 1/4 turns after gasket contact", 1)))
	require.NoError(t, err)
	job.Stations[1].Tighten.Marks = nil
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	assert.Nil(t, finding(plan, "turn.ambiguous"), "there is no ring")
	assert.NotNil(t, finding(plan, "turn.full-turns"))

	assert.Nil(t, finding(coverPlan(t), "turn.full-turns"))
	f := finding(coverPlan(t, "+ 30°", "+ 225°"), "turn.full-turns")
	require.NotNil(t, f, "45° + 45° + 45° + 225° is a full turn")
	assert.Contains(t, f.Words, "the line comes round again")
}

// What package turn sees on the ring: with no pass counted, a plan is ambiguous exactly where a turn
// less, at the same mark, is possible and not over.
func TestAmbiguousAsTheRingShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, err := ReadJob([]byte(bench))
		require.NoError(t, err)
		least := rapid.Int64Range(1, 24).Draw(t, "least")
		most := rapid.Int64Range(least, 30).Draw(t, "most")
		in, err := turn.NewInstruction(turn.MustOf(least, 12), turn.MustOf(most, 12), turn.GasketContact)
		require.NoError(t, err)
		tighten := &job.Stations[1].Tighten
		tighten.Turn = in
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		ring, err := turn.NewRing(tighten.Marks.Labels, tighten.Marks.Order)
		require.NoError(t, err)
		from, err := ring.At("S")
		require.NoError(t, err)
		end, err := ring.Tighten(from, in.Most(), tighten.Thread)
		require.NoError(t, err)
		require.Equal(t, end.Passes > 0, finding(plan, "turn.ambiguous") != nil, fmt.Sprint(in))
	})
}

func TestLabelsAlike(t *testing.T) {
	plan := benchPlan(t, `["N", "E", "S", "W"]`, `["3", "6", "9", "S"]`)
	f := finding(plan, "turn.labels-alike")
	require.NotNil(t, f)
	assert.Equal(t, "stations[1].tighten.marks.labels", f.Where)
}

// 150 to 230 is in-lb on the sheet; typed in as ft-lb or N·m no wrench of the shop reaches it.
func TestUnitSlipSuspected(t *testing.T) {
	inLb := `{"id": "W-9", "lowest": "100 in-lb", "highest": "400 in-lb", "step": "1 in-lb", "deviation": "3 %", "calibratedUntil": "2026-12-31"}`
	for _, c := range []struct{ torque, wrench, says string }{
		{"150 to 230 in-lb", inLb, ""},
		{"150 to 230 ft-lb", inLb, "wrench W-9 would, were it in in-lb"},
		{"150 to 230 N·m", inLb, "no wrench reaches 230 N·m, and wrench W-9 would, were it in in-lb"},
		{"17 to 26 in-lb", wide, "wrench W-1 would, were it in N·m"},
		{"150 to 230 in-lb", strings.Replace(heavy, "5 N·m", "1 N·m", 1), "wrench W-3 would, were it in N·m"},
		{"700 to 900 N·m", wide, ""}, // 700 in-lb is 79 N·m, 700 ft-lb 949 N·m: beyond it either way
		{"29 to 29.5 N·m", wide, ""}, // not accurate enough, which is no matter of units
	} {
		plan := benchPlan(t, append(withWrenches(c.wrench), "150 to 230 in-lb", c.torque)...)
		f := finding(plan, "torque.unit-slip")
		if c.says == "" {
			assert.Nil(t, f, "%s: %v", c.torque, f)
			continue
		}
		require.NotNil(t, f, c.torque)
		assert.Equal(t, Caution, f.Level)
		assert.Contains(t, f.Words, c.says)
		assert.NotNil(t, finding(plan, "wrench.none-fits"))
	}
	plan := coverPlan(t, "40 N·m then", "400 in-lb then", snugBand, "", `"lowest": "10 ft-lb", "highest": "60 ft-lb", "step": "0.5 ft-lb"`,
		`"lowest": "100 N·m", "highest": "600 N·m", "step": "5 N·m"`)
	f := finding(plan, "torque.unit-slip")
	require.NotNil(t, f)
	assert.Contains(t, f.Words, "no wrench reaches 400 in-lb, and wrench TW-9 would, were it in N·m")
	// A part that meets its stop can do without a wrench; no wrench for its limit stops no work.
	for _, f := range plan.Findings {
		if f.Code == "wrench.none-fits" && f.Where == "stations[1].tighten" {
			assert.Equal(t, Caution, f.Level)
		}
	}
}

// A turn without a datum is refused when it is read, with the choices; one from a datum that
// differs from hand to hand is a caution (common practice, no source).
func TestDatum(t *testing.T) {
	const contact = `"turn": "3/4 turn after gasket contact"`
	assert.Nil(t, finding(benchPlan(t), "turn.loose-datum"))
	loose := finding(benchPlan(t, contact, `"turn": "3/4 turn after finger tight"`), "turn.loose-datum")
	require.NotNil(t, loose)
	assert.Equal(t, Caution, loose.Level)
	assert.Equal(t, "stations[1].tighten.turn", loose.Where)
	_, err := ReadJob([]byte(strings.Replace(bench, contact, `"turn": "3/4 turn"`, 1)))
	var all JobErrors
	require.ErrorAs(t, err, &all)
	assert.Equal(t, "stations[1].tighten.turn", all[0].Path)
	assert.ErrorIs(t, err, turn.ErrNoDatum)
	assert.Contains(t, err.Error(), "gasket contact")
}
