package waste_test

import (
	"bytes"
	"encoding/gob"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// answers is everything a ledger says, and how it is written.
func answers(t require.TestingT, l *waste.Ledger) string {
	text, err := l.MarshalText()
	require.NoError(t, err)
	all := []any{string(text), l.Changes(), l.Drums()}
	months, err := l.Periods(usfederal.RuleSet())
	require.NoError(t, err)
	for _, m := range months {
		s, err := l.Statement(m, usfederal.RuleSet())
		require.NoError(t, err)
		all = append(all, s)
	}
	todo, err := l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-06-01"))
	require.NoError(t, err)
	data, err := json.MarshalIndent(append(all, todo, slices.Collect(l.Entries())), "", " ")
	require.NoError(t, err)
	return string(data)
}

func add(t require.TestingT, l *waste.Ledger, postings ...waste.Posting) {
	for _, p := range postings {
		_, err := l.Add(p)
		require.NoError(t, err)
	}
}

// restart writes a ledger and reads it again.
func restart(t require.TestingT, l *waste.Ledger) *waste.Ledger {
	text, err := l.MarshalText()
	require.NoError(t, err)
	var back waste.Ledger
	require.NoError(t, back.UnmarshalText(text))
	return &back
}

// drawPostings draws what anybody may put down, also what contradicts itself, and in it at least one
// correction, one withdrawal and one posting that is sent again.
func drawPostings(t *rapid.T) []waste.Posting {
	var all []waste.Posting
	for _, e := range drawEntries(t) {
		p := posting(e)
		p.By = rapid.SampledFrom([]string{"Ann", "Bo"}).Draw(t, "by")
		p.At = p.At.Add(time.Duration(rapid.IntRange(-72, 72).Draw(t, "hours"))*time.Hour + time.Duration(rapid.SampledFrom([]int{0, 1, 120_000_000, 999_999_999}).Draw(t, "nanoseconds"))).In(time.FixedZone("", 3600*rapid.IntRange(-8, 8).Draw(t, "zone")))
		if rapid.Bool().Draw(t, "otherwise") { // a conflict, or nothing new
			other := e
			other.Mass = drawMass(t)
			all = append(all, posting(other))
		}
		all = append(all, p)
	}
	first := *all[0].Entry
	correction := first
	correction.Revision += rapid.IntRange(1, 2).Draw(t, "higher")
	correction.Mass = drawMass(t)
	all = append(all, posting(correction), withdrawal(fmt.Sprintf("J%d", rapid.IntRange(1, 4).Draw(t, "withdrawn job")), rapid.IntRange(0, 4).Draw(t, "withdrawn revision")))
	for range rapid.IntRange(0, 8).Draw(t, "events") {
		event := &waste.DrumEvent{Event: rapid.SampledFrom([]string{"opened", "weighed", "moved", "closed", "shipped"}).Draw(t, "event"),
			Revision: rapid.IntRange(0, 1).Draw(t, "revision"), Date: waste.Date{Year: 2026, Month: time.Month(rapid.IntRange(2, 4).Draw(t, "month")), Day: 3},
			Withdrawn: rapid.Bool().Draw(t, "withdrawn"), Container: waste.Container{ID: rapid.SampledFrom([]string{"DM 1", "DM 2"}).Draw(t, "drum")}}
		if event.Event == "weighed" && !event.Withdrawn {
			event.Gross = weighed(fmt.Sprintf("%d kg", rapid.IntRange(10, 200).Draw(t, "gross")))
		}
		if event.Event == "opened" {
			event.Container.Satellite, event.Container.Tare = rapid.Bool().Draw(t, "satellite"), weighed(fmt.Sprintf("%d kg", rapid.IntRange(17, 19).Draw(t, "tare")))
		}
		all = append(all, waste.Posting{At: noon(event.Date), By: "Ann", Drum: event})
	}
	again := all[rapid.IntRange(0, len(all)-1).Draw(t, "sent again")]
	again.At = again.At.Add(time.Duration(rapid.IntRange(-1, 1).Draw(t, "later")) * time.Hour)
	again.By = rapid.SampledFrom([]string{"Ann", "Bo"}).Draw(t, "sent by")
	byBo := all[slices.IndexFunc(all, func(p waste.Posting) bool { return p.Withdrawal != nil })]
	byBo.By = "Bo"
	return append(all, again, byBo)
}

// In whatever order the postings come, in however many ledgers that are merged and written and read again in
// between, the answers and the bytes are the same.
func TestAnyOrderAnyNumberOfTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := drawPostings(t)
		var plain waste.Ledger
		add(t, &plain, all...)
		want := answers(t, &plain)

		vans := []*waste.Ledger{{}, {}, {}}
		for _, p := range rapid.Permutation(append(slices.Clone(all), all...)).Draw(t, "order") {
			van := rapid.IntRange(0, len(vans)-1).Draw(t, "van")
			add(t, vans[van], p)
			switch rapid.IntRange(0, 3).Draw(t, "then") {
			case 0:
				vans[van] = restart(t, vans[van])
			case 1:
				add(t, vans[(van+1)%len(vans)], slices.Collect(vans[van].Postings())...)
			}
		}
		for _, p := range all { // whatever else happened, each is sent to the first once more
			add(t, vans[0], p)
		}
		vans[0] = restart(t, vans[0])
		for range 2 {
			for _, van := range vans {
				add(t, vans[0], slices.Collect(van.Postings())...)
			}
		}
		assert.Equal(t, want, answers(t, vans[0]))
	})
}

// A ledger inside another document, and in gob.
func TestALedgerComesBack(t *testing.T) {
	var l, fromJSON, fromGob waste.Ledger
	add(t, &l, slices.Concat(year(t)[0], year(t)[1])...)
	data, err := json.Marshal(l)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &fromJSON))
	assert.Equal(t, answers(t, &l), answers(t, &fromJSON))
	for _, bad := range []string{"null", "{}", "[]", "1", `"x"`} {
		require.Error(t, json.Unmarshal([]byte(bad), &fromJSON), bad)
	}
	assert.Equal(t, answers(t, &l), answers(t, &fromJSON), "as it was")
	var binary bytes.Buffer
	require.NoError(t, gob.NewEncoder(&binary).Encode(l))
	require.NoError(t, gob.NewDecoder(&binary).Decode(&fromGob))
	assert.Equal(t, answers(t, &l), answers(t, &fromGob))
	data, err = json.Marshal(waste.Ledger{})
	require.NoError(t, err)
	assert.Equal(t, `""`, string(data))
}

// What Add calls new is what to append to the file: the file read again is the ledger.
func TestAppendedLinesAreTheLedger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var l, back waste.Ledger
		var file strings.Builder
		for _, p := range drawPostings(t) {
			isNew, err := l.Add(p)
			require.NoError(t, err)
			if isNew {
				line, err := p.MarshalJSON()
				require.NoError(t, err)
				file.WriteString(string(line) + "\n")
			}
		}
		require.NoError(t, back.UnmarshalText([]byte(file.String())))
		assert.Equal(t, answers(t, &l), answers(t, &back))
	})
}

// year is an invented shop's 2026: two vans, three drums open at once, and a job of January that is corrected in
// February, after the month's end. Each van drains 30 L a week into a drum, of 840 kg/m³ at 25 °C: 24.98682 kg,
// by the density of 832.894 kg/m³ that is in drain's factors.tsv, and puts an element of 2 kg into the third.
// Source: oracle-fuel.
func year(t require.TestingT) (vans [2][]waste.Posting) {
	at := func(d waste.Date, by string) waste.Posting { return waste.Posting{At: noon(d), By: by} }
	fuel, err := drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.Celsius.Of(15))
	require.NoError(t, err)
	liquid := volume("30 L", drain.Measured)
	mass, err := fuel.MassOf(liquid, units.Celsius.Of(25))
	require.NoError(t, err)
	event := func(van int, name, date, label string, change func(*waste.DrumEvent)) {
		p := at(waste.MustParseDate(date), "office")
		p.Drum = &waste.DrumEvent{Event: name, Date: waste.MustParseDate(date), Container: waste.Container{ID: label}}
		if change != nil {
			change(p.Drum)
		}
		vans[van] = append(vans[van], p)
	}
	asNew := func(e *waste.DrumEvent) {
		e.Container.Kind, e.Container.Capacity, e.Container.Tare = "DM", units.Litre.Of(208), weighed("17 kg")
	}
	for van, by := range []string{"van 1", "van 2"} {
		drum := 0
		label := func() string { return fmt.Sprintf("F%d-%02d", van+1, drum) }
		for week := range 52 {
			day := waste.MustParseDate("2026-01-02").AddDays(7 * week)
			if week%6 == 0 { // 180 L of 208 L, then the next drum
				if drum++; drum > 1 {
					event(van, "shipped", day.String(), fmt.Sprintf("F%d-%02d", van+1, drum-1), nil)
				}
				event(van, "opened", day.String(), label(), asNew)
			}
			for line, e := range []waste.Entry{
				{Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: mass, Volume: liquid, VolumeAt: units.Celsius.Of(25), Container: label()},
				{Stream: waste.DrainedElement, Mass: weighed("2 kg"), Container: "E-01"},
			} {
				e.Job, e.Line, e.Date = fmt.Sprintf("V%d-%02d", van+1, week), line+1, day
				p := at(day, by)
				p.Entry = &e
				vans[van] = append(vans[van], p)
			}
		}
	}
	event(0, "opened", "2026-01-02", "E-01", asNew)
	january := *vans[0][1].Entry // V1-00, counted on 2 January: 60 L and no element
	january.Revision, january.Volume = 1, volume("60 L", drain.Measured)
	january.Mass, err = fuel.MassOf(january.Volume, units.Celsius.Of(25))
	require.NoError(t, err)
	correction := at(waste.MustParseDate("2026-02-05"), "office")
	correction.Entry = &january
	vans[0] = append(vans[0], correction)
	withdrawn := at(waste.MustParseDate("2026-06-30"), "office")
	withdrawn.Withdrawal = &waste.Withdrawal{Job: "V2-25", Revision: 1} // of 26 June
	vans[1] = append(vans[1], withdrawn)
	return vans
}

func TestAYearInAnyOrder(t *testing.T) {
	vans := year(t)
	all := slices.Concat(vans[0], vans[1])
	var plain waste.Ledger
	add(t, &plain, all...)
	want := answers(t, &plain)

	// By hand: in January 5 weeks of 2 vans, and 30 L more by the correction: 11 × 24.9868 kg; 9 elements.
	s, err := plain.Statement(waste.MustParseDate("2026-01-15"), usfederal.RuleSet())
	require.NoError(t, err)
	assert.Equal(t, "274.855", s.Hazardous.Best.Round(3, units.ToNearestEven).Magnitude().String())
	assert.Equal(t, "18 kg", s.Undetermined.Best.String())
	assert.Equal(t, "SQG", s.Lowest)
	s, err = plain.Statement(waste.MustParseDate("2026-06-01"), usfederal.RuleSet())
	require.NoError(t, err)
	assert.Equal(t, "174.908", s.Hazardous.Best.Round(3, units.ToNearestEven).Magnitude().String(), "4 weeks of 2 vans, one withdrawn: 7 × 24.9868 kg")
	assert.Equal(t, "14 kg", s.Undetermined.Best.String())
	changes := plain.Changes()
	require.Len(t, changes, 4)
	assert.Equal(t, []string{"change.replaced", "change.dropped", "change.withdrawn", "change.withdrawn"},
		[]string{changes[0].Code, changes[1].Code, changes[2].Code, changes[3].Code})
	open := 0
	for _, d := range plain.Drums() {
		if d.Opened.Compare(waste.MustParseDate("2026-03-10")) <= 0 && (d.Shipped == waste.Date{} || d.Shipped.Compare(waste.MustParseDate("2026-03-10")) > 0) {
			open++
		}
		if d.Container.ID == "F1-02" {
			assert.Equal(t, "28 L", d.Room.Best.String(), "208 L less 6 × 30 L")
			assert.Equal(t, 43, d.Days(waste.MustParseDate("2026-12-31")), "13 February to 27 March, both counted")
		}
	}
	assert.Equal(t, 3, open, "three drums at once")
	todo, err := plain.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-06-01"))
	require.NoError(t, err)
	codes := map[string]string{}
	for _, n := range todo {
		codes[n.Code+" "+n.Drum] = n.By.String()
	}
	assert.Equal(t, "2026-06-30", codes["do.ship E-01"], "180 days from 2 January, the first counted") // Source: 40-cfr-262-16.
	assert.Equal(t, "2026-06-30", codes["do.determine "])
	assert.NotContains(t, codes, "do.ship F1-02", "it was shipped")
	assert.Contains(t, codes, "doubt.overfull F1-01", "the correction makes it 210 L in a drum of 208 L")

	random := rand.New(rand.NewPCG(2026, 1))
	for n := range 20 {
		shuffled := slices.Concat(all, all[:n*10])
		random.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		cut := random.IntN(len(shuffled))
		var one, two waste.Ledger
		add(t, &one, shuffled[:cut]...)
		add(t, &two, shuffled[cut:]...)
		again := restart(t, &two)
		add(t, again, slices.Collect(one.Postings())...)
		assert.Equal(t, want, answers(t, again))
	}
}
