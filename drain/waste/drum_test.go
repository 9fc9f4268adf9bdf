package waste_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// event is what happened to the drum D, put down at noon of its day.
func event(name, date string, change func(*waste.DrumEvent)) waste.Posting {
	e := &waste.DrumEvent{Event: name, Date: waste.MustParseDate(date), Container: waste.Container{ID: "D"}}
	if change != nil {
		change(e)
	}
	return waste.Posting{At: noon(e.Date), By: "Ann", Drum: e}
}

func openedOn(date string) waste.Posting {
	return event("opened", date, func(e *waste.DrumEvent) { e.Container = drum("D") })
}

func grossOf(date, gross string) waste.Posting {
	return event("weighed", date, func(e *waste.DrumEvent) { e.Gross = weighed(gross) })
}

// into is fuel that went into the drum D.
func into(job, date, mass string) waste.Posting {
	e := waste.Entry{Job: job, Line: 1, Date: waste.MustParseDate(date), Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: weighed(mass), Container: "D"}
	return posting(e)
}

func revised(p waste.Posting, n int) waste.Posting {
	switch {
	case p.Entry != nil:
		p.Entry.Revision = n
	case p.Drum != nil:
		p.Drum.Revision = n
	}
	return p
}

func theDrum(t *testing.T, postings ...waste.Posting) (waste.Drum, []string) {
	var l waste.Ledger
	add(t, &l, postings...)
	require.Len(t, l.Drums(), 1)
	todo, err := l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-03-31"))
	require.NoError(t, err)
	var codes []string
	for _, n := range todo {
		if !strings.HasPrefix(n.Code, "do.") {
			codes = append(codes, n.Code)
		}
	}
	return l.Drums()[0], codes
}

// Whatever contradicts itself is kept, said, and counted once.
func TestWhatCannotBeRightIsSaid(t *testing.T) {
	late := into("J1", "2026-03-20", "10 kg")
	late.At = noon(waste.MustParseDate("2026-03-18"))
	tomorrow := into("J1", "2026-03-20", "10 kg")
	tomorrow.At = noon(waste.MustParseDate("2026-03-19"))
	slow := revised(into("J1", "2026-03-10", "11 kg"), 1)
	slow.At = slow.At.Add(-time.Hour)
	for name, c := range map[string]struct {
		postings []waste.Posting
		codes    []string
	}{
		"nothing":                     {[]waste.Posting{openedOn("2026-03-01"), into("J1", "2026-03-01", "10 kg"), event("closed", "2026-03-20", nil), event("shipped", "2026-03-20", nil)}, nil},
		"a weight below the tare":     {[]waste.Posting{openedOn("2026-03-01"), grossOf("2026-03-10", "15 kg")}, []string{"doubt.below-tare"}},
		"a weight, no tare":           {[]waste.Posting{event("opened", "2026-03-01", nil), grossOf("2026-03-10", "15 kg")}, []string{"doubt.no-tare"}},
		"shipped twice":               {[]waste.Posting{openedOn("2026-03-01"), event("shipped", "2026-03-20", nil), event("shipped", "2026-03-21", nil)}, []string{"doubt.shipped-twice"}},
		"opened twice":                {[]waste.Posting{openedOn("2026-03-02"), openedOn("2026-03-01")}, []string{"doubt.opened-twice"}},
		"weighed twice in a day":      {[]waste.Posting{openedOn("2026-03-01"), grossOf("2026-03-10", "25 kg"), grossOf("2026-03-10", "26 kg")}, []string{"ask.weights-differ", "doubt.weighed-twice"}},
		"weighed on two days":         {[]waste.Posting{openedOn("2026-03-01"), into("J1", "2026-03-01", "8 kg"), grossOf("2026-03-10", "25 kg"), grossOf("2026-03-11", "25 kg")}, nil},
		"two of one revision":         {[]waste.Posting{openedOn("2026-03-01"), into("J1", "2026-03-10", "10 kg"), into("J1", "2026-03-10", "11 kg")}, []string{"doubt.conflict"}},
		"settled by a correction":     {[]waste.Posting{openedOn("2026-03-01"), into("J1", "2026-03-10", "10 kg"), into("J1", "2026-03-10", "11 kg"), revised(into("J1", "2026-03-10", "12 kg"), 1)}, nil},
		"into a closed drum":          {[]waste.Posting{openedOn("2026-03-01"), event("closed", "2026-03-20", nil), into("J1", "2026-03-21", "10 kg")}, []string{"doubt.after-closing"}},
		"into a shipped drum":         {[]waste.Posting{openedOn("2026-03-01"), event("shipped", "2026-03-20", nil), into("J1", "2026-03-21", "10 kg")}, []string{"doubt.after-closing"}},
		"on the day it was closed":    {[]waste.Posting{openedOn("2026-03-01"), event("closed", "2026-03-20", nil), into("J1", "2026-03-20", "10 kg")}, nil},
		"before it was opened":        {[]waste.Posting{openedOn("2026-03-02"), into("J1", "2026-03-01", "10 kg")}, []string{"doubt.before-opening"}},
		"closed before it was opened": {[]waste.Posting{openedOn("2026-03-02"), event("closed", "2026-03-01", nil)}, []string{"doubt.before-opening"}},
		"never opened":                {[]waste.Posting{event("closed", "2026-03-01", nil)}, []string{"doubt.never-opened"}},
		"a bag":                       {[]waste.Posting{into("J1", "2026-03-01", "10 kg")}, nil},
		"a correction of nothing":     {[]waste.Posting{revised(into("J1", "2026-03-01", "10 kg"), 1)}, []string{"doubt.corrects-nothing"}},
		"an event corrects nothing":   {[]waste.Posting{revised(openedOn("2026-03-01"), 1)}, []string{"doubt.corrects-nothing"}},
		"it happened or not":          {[]waste.Posting{openedOn("2026-03-01"), event("closed", "2026-03-02", nil), event("closed", "2026-03-02", func(e *waste.DrumEvent) { e.Withdrawn = true })}, []string{"doubt.closed-twice"}},
		"an event is corrected":       {[]waste.Posting{openedOn("2026-03-01"), revised(openedOn("2026-03-02"), 1)}, nil},
		"withdrawn, and never there":  {[]waste.Posting{openedOn("2026-03-01"), withdrawal("J9", 1)}, []string{"doubt.corrects-nothing"}},
		"withdrawn before it is sent": {[]waste.Posting{openedOn("2026-03-01"), withdrawal("J9", 0)}, nil},
		"put down two days before":    {[]waste.Posting{late}, []string{"doubt.before-its-day"}},
		"put down the day before":     {[]waste.Posting{tomorrow}, nil},
		"corrected before it is said": {[]waste.Posting{into("J1", "2026-03-10", "10 kg"), slow}, []string{"doubt.clocks"}},
		"206 kg of fuel":              {[]waste.Posting{openedOn("2026-03-01"), into("J1", "2026-03-10", "100 kg"), into("J2", "2026-03-10", "106 kg")}, []string{"doubt.overfull"}},
		"192 kg of fuel":              {[]waste.Posting{openedOn("2026-03-01"), into("J1", "2026-03-10", "192 kg")}, nil},
	} {
		_, codes := theDrum(t, c.postings...)
		assert.Equal(t, c.codes, codes, name)
	}
	d, _ := theDrum(t, openedOn("2026-03-01"), event("closed", "2026-03-02", func(e *waste.DrumEvent) { e.Withdrawn = true }), event("closed", "2026-03-02", nil))
	assert.Equal(t, "2026-03-02", d.Closed.String(), "what happened comes before what didn't, of one revision")
	d, _ = theDrum(t, openedOn("2026-03-01"), event("closed", "2026-03-02", nil), revised(event("closed", "2026-03-02", func(e *waste.DrumEvent) { e.Withdrawn = true }), 1))
	assert.Equal(t, waste.Date{}, d.Closed, "withdrawn")
	mixed := into("J2", "2026-03-02", "10 kg")
	mixed.Entry.Stream = waste.FuelWaterMix
	_, codes := theDrum(t, openedOn("2026-03-01"), into("J1", "2026-03-01", "10 kg"), mixed)
	assert.Equal(t, []string{"ask.mixed"}, codes, "a question, no rule")
	undetermined := into("J2", "2026-03-02", "10 kg")
	undetermined.Entry.Determination = waste.Undetermined
	_, codes = theDrum(t, openedOn("2026-03-01"), undetermined, event("shipped", "2026-03-20", nil))
	assert.Equal(t, []string{"doubt.shipped-undetermined"}, codes)
	marked := event("opened", "2026-03-01", func(e *waste.DrumEvent) {
		e.Container.MostGross, e.Container.Tare = units.Kilogram.Of(60), weighed("17 kg")
	})
	_, codes = theDrum(t, marked, into("J1", "2026-03-01", "43 kg"))
	assert.Empty(t, codes, "60 kg, and its mark says 60 kg")
	_, codes = theDrum(t, marked, into("J1", "2026-03-01", "43.001 kg"))
	assert.Equal(t, []string{"doubt.overweight"}, codes)
}

// A drum of 55 US gal, 208.19764812 L, with a fill limit of 52.25 US gal, 197.787765714 L (231 in³ to the gallon).
func TestRoomAndMass(t *testing.T) {
	measured := into("J1", "2026-03-02", "25 kg")
	measured.Entry.Volume, measured.Entry.VolumeAt = volume("30 L", drain.Measured), units.Celsius.Of(25)
	d, _ := theDrum(t, openedOn("2026-03-01"), measured)
	assert.Equal(t, "167.787765", d.Room.Low.Round(6, units.ToNegativeInf).Magnitude().String())
	assert.Equal(t, "30 L", d.Volume.Best.String())

	// 25 kg that was only weighed take 27.0 L at 925 kg/m³ and 35.7 L at 700 kg/m³, the bounds the package states.
	d, _ = theDrum(t, openedOn("2026-03-01"), into("J1", "2026-03-02", "25 kg"))
	assert.Equal(t, "27.027027 L 35.714286 L", d.Volume.Low.String()+" "+d.Volume.High.String())
	assert.Equal(t, d.Room.Low.Round(5, units.ToNearestEven).String(), d.Room.Best.Round(5, units.ToNearestEven).String(), "the least, since how dense it is isn't known")

	solid := into("J1", "2026-03-02", "25 kg")
	solid.Entry.Stream = waste.Absorbents
	d, _ = theDrum(t, openedOn("2026-03-01"), solid)
	assert.Zero(t, d.Room, "what solids fill isn't known")

	// Weighed on the 10th with 43.2 kg, the drum's 17.2 kg in it; 4 kg more on the 12th.
	d, _ = theDrum(t, openedOn("2026-03-01"), into("J1", "2026-03-02", "25 kg"), grossOf("2026-03-10", "43.2 kg"), into("J2", "2026-03-12", "4 kg"))
	assert.Equal(t, "30 kg", d.Mass.Best.Round(0, units.ToNearestEven).String())
	assert.Equal(t, "2026-03-10", d.Weighed.String())
	same, codes := theDrum(t, openedOn("2026-03-01"), into("J1", "2026-03-10", "26 kg"), grossOf("2026-03-10", "43.2 kg"))
	assert.Equal(t, "26 kg", same.Mass.Best.Round(0, units.ToNearestEven).String(), "what went in on the day is on the scale")
	assert.Empty(t, codes)
	assert.Equal(t, drain.Stated, d.Mass.From, "no firmer than the tare")
}

func TestDaysOnSite(t *testing.T) {
	d := waste.Drum{Opened: waste.MustParseDate("2026-03-01")}
	for day, want := range map[string]int{"2026-02-28": 0, "2026-03-01": 1, "2026-03-31": 31, "2026-04-01": 32} {
		assert.Equal(t, want, d.Days(waste.MustParseDate(day)), day)
	}
	d.Shipped = waste.MustParseDate("2026-03-10")
	assert.Equal(t, 10, d.Days(waste.MustParseDate("2026-04-01")))
	assert.Equal(t, 0, d.Days(waste.Date{}))
}

// 55 US gal in the satellite area, 208.2 L: the day on which more is in it is the first of three.
// Source: 40-cfr-262-15. The clock of a drum begins when it is moved out.
func TestSatelliteArea(t *testing.T) {
	inArea := event("opened", "2026-01-01", func(e *waste.DrumEvent) { e.Container = drum("D"); e.Container.Satellite = true })
	fill := func(job, date, litres string) waste.Posting {
		p := into(job, date, "90 kg")
		p.Entry.Volume, p.Entry.VolumeAt = volume(litres, drain.Measured), units.Celsius.Of(20)
		return p
	}
	todo := func(postings ...waste.Posting) (all []string) {
		var l waste.Ledger
		add(t, &l, postings...)
		notices, err := l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-03-31"))
		require.NoError(t, err)
		for _, n := range notices {
			if strings.HasPrefix(n.Code, "do.") {
				all = append(all, fmt.Sprint(n.Code, " ", n.By))
			}
		}
		return all
	}
	assert.Empty(t, todo(inArea, fill("J1", "2026-02-06", "100 L"), fill("J2", "2026-03-06", "108 L")))
	assert.Equal(t, []string{"do.move 2026-03-08"}, todo(inArea, fill("J1", "2026-02-06", "100 L"), fill("J2", "2026-03-06", "108.2 L")))
	assert.Equal(t, []string{"do.ship 2026-09-02"}, todo(inArea, fill("J1", "2026-03-06", "100 L"), fill("J2", "2026-03-06", "108.2 L"),
		event("moved", "2026-03-07", nil)), "180 kg in March: 180 days, the first counted")
}

// The last day is that of the highest category of the months the drum was there: 90 days where one is an LQG's,
// 180 where one is an SQG's, none where all are a VSQG's. Sources: 40-cfr-262-16, 40-cfr-262-17.
func TestLastDayIsThatOfTheHighestCategory(t *testing.T) {
	for mass, want := range map[string]string{"100 kg": "no date", "101 kg": "2026-08-27", "1000 kg": "2026-05-29"} {
		var l waste.Ledger
		before := into("J0", "2026-02-28", "5000 kg")
		before.Entry.Container = "another"
		add(t, &l, openedOn("2026-03-01"), into("J1", "2026-03-02", mass), before)
		todo, err := l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-03-31"))
		require.NoError(t, err)
		by := waste.Date{}
		for _, n := range todo {
			if n.Code == "do.ship" && n.Drum == "D" {
				by = n.By
			}
		}
		assert.Equal(t, want, by.String(), mass)
	}
}

// A closed drum whose content was estimated is to be weighed before it is shipped.
func TestAClosedDrumIsToBeWeighed(t *testing.T) {
	guess := into("J1", "2026-03-02", "25 kg")
	guess.Entry.Mass = mass(t, "20 kg", "25 kg", "30 kg", drain.Assumed)
	for name, c := range map[string]struct {
		more []waste.Posting
		want bool
	}{
		"open":           {nil, false},
		"closed":         {[]waste.Posting{event("closed", "2026-03-10", nil)}, true},
		"weighed":        {[]waste.Posting{event("closed", "2026-03-10", nil), grossOf("2026-03-11", "42 kg")}, false},
		"weighed before": {[]waste.Posting{event("closed", "2026-03-10", nil), grossOf("2026-03-01", "17.2 kg")}, true},
	} {
		var l waste.Ledger
		add(t, &l, append(c.more, openedOn("2026-03-01"), guess)...)
		todo, err := l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-03-31"))
		require.NoError(t, err)
		found := false
		for _, n := range todo {
			found = found || n.Code == "do.weigh"
		}
		assert.Equal(t, c.want, found, name)
	}
}

func TestPostingsRefused(t *testing.T) {
	good := `{"version":1,"at":"2026-03-04T16:30:00Z","by":"Ann","drum":{"event":"opened","revision":0,"date":"2026-03-01","container":{"id":"D"}}}`
	var p waste.Posting
	require.NoError(t, p.UnmarshalJSON([]byte(good)))
	kept := p
	for name, change := range map[string][2]string{
		"no version":             {`"version":1,`, ``},
		"version 0":              {`"version":1`, `"version":0`},
		"a later version":        {`"version":1`, `"version":2`},
		"no time":                {`"at":"2026-03-04T16:30:00Z",`, ``},
		"no such time":           {`2026-03-04T16`, `2026-03-34T16`},
		"no such hour":           {`T16`, `T24`},
		"no zone":                {`30:00Z`, `30:00`},
		"no such zone":           {`30:00Z`, `30:00+24:00`},
		"half a zone":            {`30:00Z`, `30:00+02`},
		"a point and nothing":    {`30:00Z`, `30:00.Z`},
		"ten places":             {`30:00Z`, `30:00.0123456789Z`},
		"long ago":               {`2026-03-04T16`, `1926-03-04T16`},
		"nobody":                 {`"Ann"`, `""`},
		"two lines of name":      {`"Ann"`, `"A\nnn"`},
		"nothing":                {`,"drum":{"event":"opened","revision":0,"date":"2026-03-01","container":{"id":"D"}}`, ``},
		"two things":             {`,"drum"`, `,"withdrawal":{"job":"J","revision":1},"drum"`},
		"unknown":                {`"drum"`, `"barrel"`},
		"twice":                  {`"by":"Ann"`, `"by":"Ann","by":"Bo"`},
		"null":                   {`"D"`, `null`},
		"event":                  {`"opened"`, `"emptied"`},
		"no label":               {`"D"`, `""`},
		"negative revision":      {`"revision":0`, `"revision":-1`},
		"a huge revision":        {`"revision":0`, `"revision":1000001`},
		"no such day":            {`2026-03-01`, `2026-02-30`},
		"started":                {`"id":"D"`, `"id":"D","started":"2026-01-01"`},
		"closed, described":      {`"opened","revision":0,"date":"2026-03-01","container":{"id":"D"`, `"closed","revision":0,"date":"2026-03-01","container":{"id":"D","kind":"DM"`},
		"weighed without weight": {`"opened"`, `"weighed"`},
		"opened with a weight":   {`"container"`, `"gross":{"low":"1 kg","best":"1 kg","high":"1 kg","from":"weighed"},"container"`},
		"opened with a paper":    {`"container"`, `"paper":"1","container"`},
		"behind it":              {`{"version"`, `{} {"version"`},
		"long":                   {`"Ann"`, `"` + long[:1<<15] + `"`},
	} {
		text := strings.Replace(good, change[0], change[1], 1)
		require.NotEqual(t, good, text, name)
		err := p.UnmarshalJSON([]byte(text))
		require.Error(t, err, name)
		assert.Less(t, len(err.Error()), 400, name)
		assert.Equal(t, kept, p, name)

		var l waste.Ledger
		require.NoError(t, l.UnmarshalText([]byte(good)))
		err = l.UnmarshalText([]byte(good + "\n" + text + "\n" + good))
		require.ErrorContains(t, err, "line 2: ", name)
		assert.Len(t, l.Drums(), 1, "as it was")
	}
	bad := openedOn("2026-03-01")
	bad.At = bad.At.In(time.FixedZone("", 1))
	_, err := bad.MarshalJSON()
	refused(t, err, units.ErrRange, "no seconds in a zone") // Source: rfc-3339.
	bad.At, bad.Row = noon(bad.Drum.Date), -1
	var l waste.Ledger
	_, err = l.Add(bad)
	refused(t, err, units.ErrRange, "row")
	torn := good[:len(good)-9]
	require.ErrorContains(t, l.UnmarshalText([]byte(good+"\n"+torn)), "line 2: ")
}

func FuzzLedger(f *testing.F) {
	f.Add(`{"version":1,"at":"2026-03-04T16:30:00Z","by":"Ann","withdrawal":{"job":"J","revision":1}}`)
	f.Add(`{"version":1,"at":"2026-03-04T16:30:00+01:00","by":"Ann","drum":{"event":"weighed","revision":0,"date":"2026-03-01","container":{"id":"D"},"gross":{"low":"1 kg","best":"1 kg","high":"1 kg","from":"weighed"}}}`)
	for i := range 8 {
		var l waste.Ledger
		add(f, &l, rapid.Custom(drawPostings).Example(i)...)
		text, err := l.MarshalText()
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		var l waste.Ledger
		if err := l.UnmarshalText([]byte(text)); err != nil {
			assert.NotEmpty(t, err.Error())
			return
		}
		assert.Equal(t, answers(t, &l), answers(t, restart(t, &l)))
		for p := range l.Postings() {
			assert.Empty(t, plain.Hidden(p.String()))
		}
		months, err := l.Periods(usfederal.RuleSet())
		require.NoError(t, err)
		for _, month := range months {
			statement, err := l.Statement(month, usfederal.RuleSet())
			require.NoError(t, err)
			assert.Empty(t, plain.Hidden(strings.ReplaceAll(statement.String(), "\n", " ")))
		}
		for _, notice := range l.Changes() {
			assert.Empty(t, plain.Hidden(notice.String()))
		}
		for _, way := range []struct {
			write func() ([]byte, error)
			read  func(*waste.Ledger, []byte) error
		}{{l.MarshalBinary, (*waste.Ledger).UnmarshalBinary}, {func() ([]byte, error) { return json.Marshal(&l) }, (*waste.Ledger).UnmarshalJSON}} {
			data, err := way.write()
			require.NoError(t, err)
			var back waste.Ledger
			require.NoError(t, way.read(&back, data))
			assert.Equal(t, answers(t, &l), answers(t, &back))
		}
	})
}
