package service

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// withWrench is the plan of one station with a wrench of 10 to 60 N·m by 0.5 N·m, ±4 %, and its readings.
// Within its deviation it delivers 0.96 to 1/0.96 of what is set: by arithmetic.
func withWrench(t *testing.T, tighten Tighten, done StationDone) (*Plan, AsDone) {
	t.Helper()
	plan, all := oneStation(t, tighten, done)
	job := plan.Job
	job.Shop.Wrenches = []Wrench{{Wrench: torque.Wrench{Name: "W", Lowest: units.NewtonMetre.Of(10), Highest: units.NewtonMetre.Of(60), Step: units.MustParseTorque("0.5 N·m"),
		Deviation: units.Percent.Of(4), Length: units.Millimetre.Of(300)}, AlsoShows: []units.TorqueUnit{units.FootPound}, CalibratedUntil: job.Date}}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	return plan, all
}

// A setting outside the band is wrong by a wrench that nobody lists, too: it is a reading of which U isn't known. Inside it shows
// nothing, and nothing of the high limit of a part that is at its stop either.
func TestClickUnlisted(t *testing.T) {
	for _, c := range []struct {
		value, adapter string
		rule           torque.Rule
		want           Verdict
		says           string
	}{
		{"52 N·m", "", torque.GuardedByU, Fail, "why.outside-whatever-U/above; why.next/over"},
		{"38 N·m", "", torque.Guarded95, Fail, "why.outside-whatever-U/below"},
		{"38 N·m", "", torque.SimpleAcceptance, Fail, "why.outside-whatever-U/below"},
		{"38 N·m", "", torque.NonBinary, Undecided, "why.no-setting/unlisted wrench=W"},
		{"50 N·m", "", torque.GuardedByU, Undecided, "why.no-setting/unlisted wrench=W"},
		{"52 N·m", "60 mm", torque.GuardedByU, Undecided, "why.lever-unknown"},
	} {
		for _, atStop := range []bool{false, true} {
			tighten := Tighten{Torque: torque.MustParseBand("40 to 50 N·m"), OrSeated: atStop}
			if c.adapter != "" {
				tighten.Adapter = &Adapter{Name: "A", Lever: &torque.Adapter{Offset: units.MustParseLength(c.adapter)}}
			}
			done := StationDone{Dragged: ptr(false), Seated: ptr(true), Torque: &TorqueReading{Value: units.MustParseTorque(c.value), Tool: "W", Clicked: true}}
			plan, all := withWrench(t, tighten, done)
			plan.Job.Shop.Wrenches = nil
			rules := rulesWith(t)
			rules.Torque = c.rule
			plan, err := NewPlan(plan.Job, rules)
			require.NoError(t, err)
			review, err := plan.Review(all)
			require.NoError(t, err)
			l := lineOf(t, review, "stations[0].torque")
			assert.Equal(t, c.want, l.Verdict, "%v", l)
			assert.Contains(t, l.String(), c.says)
		}
	}
}

// "Set to 45 N·m, clicked" is all that the wrench may have delivered: the rule for measured torques and
// their U has no part in it.
func TestClick(t *testing.T) {
	for _, c := range []struct {
		name, band, value string
		edit              func(*Plan, *StationDone)
		want              Verdict
		says              string
	}{
		{"inside", "40 to 50 N·m", "45 N·m", nil, Pass, "why.click/inside"},
		{"to the limits", "43.2 to 46.875 N·m", "45 N·m", nil, Pass, ""},
		{"partly below", "43.2001 to 50 N·m", "45 N·m", nil, Undecided, "why.click/partly"},
		{"partly above", "40 to 46.8749 N·m", "45 N·m", nil, Undecided, "why.click/partly"},
		{"all below", "40 to 50 N·m", "38 N·m", nil, Fail, "why.click/below"},
		{"all above", "40 to 50 N·m", "52.5 N·m", nil, Fail, "why.click/above; why.next/over"},
		{"no such setting", "40 to 50 N·m", "45.3 N·m", nil, Undecided, "why.no-setting set=45.3 N·m wrench=W lowest=10 N·m highest=60 N·m step=0.5 N·m"},
		{"off the scale", "40 to 50 N·m", "61 N·m", nil, Undecided, "why.off-scale/above"},
		{"on its other scale", "40 to 50 N·m", "33 ft-lb", nil, Undecided, "why.no-setting/unit wrench=W unit=N·m"},
		{"another wrench", "40 to 50 N·m", "45 N·m", func(_ *Plan, s *StationDone) { s.Torque.Tool = "V" }, Undecided, "why.not-listed/wrench"},
		{"no wrench listed", "40 to 50 N·m", "45 N·m", func(p *Plan, _ *StationDone) { p.Job.Shop.Wrenches = nil }, Undecided, "why.no-setting/unlisted"},
		{"past its calibration", "40 to 50 N·m", "45 N·m", func(p *Plan, _ *StationDone) { p.Job.Shop.Wrenches[0].CalibratedUntil.Year-- }, Undecided, "why.out-of-calibration"},
		{"dragged", "40 to 50 N·m", "45 N·m", func(_ *Plan, s *StationDone) { s.Dragged = ptr(true) }, Undecided, "why.dragged/torque"},
		{"gap open", "40 to 50 N·m", "45 N·m", func(_ *Plan, s *StationDone) { s.Seated = ptr(false) }, Undecided, "why.gap-open/torque"},
	} {
		for _, rule := range []torque.Rule{torque.SimpleAcceptance, torque.GuardedByU, torque.Guarded95, torque.NonBinary} {
			done := StationDone{Dragged: ptr(false), Seated: ptr(true), Torque: &TorqueReading{Value: units.MustParseTorque(c.value), Tool: "W", Clicked: true}}
			plan, all := withWrench(t, Tighten{Torque: torque.MustParseBand(c.band)}, done)
			if c.edit != nil {
				c.edit(plan, &all.Stations[0])
			}
			rules := rulesWith(t)
			rules.Torque = rule
			plan, err := NewPlan(plan.Job, rules)
			require.NoError(t, err)
			review, err := plan.Review(all)
			require.NoError(t, err, c.name)
			l := lineOf(t, review, "stations[0].torque")
			assert.Equal(t, c.want, l.Verdict, "%s, %v: %v", c.name, rule, l)
			assert.Contains(t, l.String(), c.says, c.name)
			if c.want == Pass {
				assert.Equal(t, "found.at-fastener read=found.torque/clicked torque=45 N·m wrench=W least=43.200 N·m most=46.875 N·m", l.Found.String())
				assert.True(t, review.Complete, "%v", review.Open())
			}
		}
	}
}

// A click through an adapter is worked out by its lever, and one through a strap shows nothing: 45 N·m
// on 300 mm with 60 mm straight on is 54 N·m, less or more by the deviation.
func TestClickThroughAnAdapter(t *testing.T) {
	done := StationDone{Dragged: ptr(false), Seated: ptr(true), Torque: &TorqueReading{Value: units.NewtonMetre.Of(45), Tool: "W", Clicked: true}}
	lever := &Adapter{Name: "claw", Lever: &torque.Adapter{Offset: units.Millimetre.Of(60), Angle: units.Degree.Of(0)}}
	for _, c := range []struct {
		band    string
		adapter *Adapter
		want    Verdict
	}{
		{"51.84 to 56.25 N·m", lever, Pass}, {"51.85 to 56.25 N·m", lever, Undecided}, {"43.2 to 46.875 N·m", lever, Fail},
		{"43.2 to 46.875 N·m", &Adapter{Name: "claw", Lever: &torque.Adapter{Offset: lever.Lever.Offset, Angle: units.Degree.Of(90)}}, Pass},
		{"43.2 to 46.875 N·m", &Adapter{Name: "strap", Kind: StrapWrench}, Undecided},
	} {
		plan, all := withWrench(t, Tighten{Torque: torque.MustParseBand(c.band), Adapter: c.adapter}, done)
		review, err := plan.reviewBy(all, rulesWith(t))
		require.NoError(t, err)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, c.want, l.Verdict, "%s: %v", c.band, l)
	}
}

// At a stop a click does as a reading does: what may have been delivered must not pass the most.
func TestClickAtAStop(t *testing.T) {
	for value, want := range map[string]Verdict{"20 N·m": Seated, "29 N·m": Undecided, "40 N·m": Fail} {
		for name, tighten := range map[string]Tighten{
			"or seated": {Torque: torque.MustParseBand("25 to 30 N·m"), OrSeated: true},
			"seat":      {Seat: &Seat{Gap: "under the cap", Torque: torque.MustParseBand("25 to 30 N·m")}},
		} {
			done := StationDone{Dragged: ptr(false), Seated: ptr(true), Torque: &TorqueReading{Value: units.MustParseTorque(value), Tool: "W", Clicked: true}}
			plan, all := withWrench(t, tighten, done)
			review, err := plan.reviewBy(all, rulesWith(t))
			require.NoError(t, err)
			assert.Equal(t, want, lineOf(t, review, "stations[0].torque").Verdict, "%s, %s", name, value)
		}
	}
}

func TestClickThatCannotBe(t *testing.T) {
	const read = `{"value": "21 N·m", "tool": "W-1", "expanded": "1.2 N·m"}`
	for text, path := range map[string]string{
		`{"value": "21 N·m", "tool": "W-1", "expanded": "1.2 N·m", "clicked": true}`: "stations[0].torque.expanded",
		`{"value": "21 N·m", "tool": "W-1", "corrected": true, "clicked": true}`:     "stations[0].torque.corrected",
		`{"value": "21 N·m", "clicked": true}`:                                       "stations[0].torque.tool",
		`{"value": "21 N·m", "tool": "W-1", "clicked": "yes"}`:                       "stations[0].torque.clicked",
	} {
		_, err := ReadAsDone([]byte(edited(t, benchDone, read, text)))
		require.Error(t, err, text)
		assert.Equal(t, []string{path}, pathsOf(t, err), text)
	}
}

// Where a wrench is set the sheet asks for what was set, and else for a reading, with its U where the rule
// needs one.
func TestSheetAsksForAClick(t *testing.T) {
	tighten := Tighten{Torque: torque.MustParseBand("40 to 50 N·m")}
	plan, _ := withWrench(t, tighten, StationDone{})
	assert.Contains(t, flat(plan.Text()), "wrench __________ set to ______ N·m [ ] clicked")
	bare, _ := oneStation(t, tighten, StationDone{})
	for rule, asked := range map[torque.Rule]string{torque.SimpleAcceptance: "wrench __________ read ______ N·m !!", torque.GuardedByU: "wrench __________ read ______ N·m U ______"} {
		rules := rulesWith(t)
		rules.Torque = rule
		plan, err := NewPlan(bare.Job, rules)
		require.NoError(t, err)
		assert.Contains(t, flat(plan.Text()), asked)
	}
}
