package service

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// AsDone is what was read while a job was done. In JSON each field has its Go name with a small
// first letter; quantities are strings with their unit. What wasn't read is left out, and a review
// calls it not recorded: nothing that is missing counts as zero, as none or as done.
type AsDone struct {
	Version  int        `json:"version"`        // [AsDoneVersion]
	Job      string     `json:"job"`            // the ID of the job
	Revision int        `json:"revision"`       // the revision that was worked to
	Date     waste.Date `json:"date"`           // day of the work, by the clocks of the site: the day its waste arose
	Zone     waste.Zone `json:"zone,omitempty"` // by whose clocks that day is meant; may be left out, and is then the job's
	By       string     `json:"by"`             // who vouches for the readings
	// CheckedBy is who checked the work, another than who did it; may be left out.
	CheckedBy string `json:"checkedBy,omitempty"`
	Source    string `json:"source"`             // what they were taken from: "paper sheet, typed in"
	Meter     Meter  `json:"meter,omitzero"`     // of the machine, as it was read
	Invented  bool   `json:"invented,omitempty"` // the readings are made up

	Stations  []StationDone `json:"stations" bound:"..100"`
	KeyCycles *int          `json:"keyCycles,omitempty" bound:"0..1000000"` // of the lift pump
	Strokes   *int          `json:"strokes,omitempty" bound:"0..1000000"`   // of the hand primer
	Cranks    []CrankDone   `json:"cranks,omitempty" bound:"..100"`         // each attempt, in order
	Weights   []Weight      `json:"weights,omitempty" bound:"..300"`        // of the waste
	Restored  []Restored    `json:"restored,omitempty" bound:"..100"`       // what was put back into service
	Remarks   []string      `json:"remarks,omitempty" bound:"..100"`
}

// StationDone is what was read at one station.
type StationDone struct {
	ID      string         `json:"id"`                // of the job's station
	Dragged *bool          `json:"dragged,omitempty"` // whether it dragged while it was run up by hand
	Torque  *TorqueReading `json:"torque,omitempty"`
	// Seated says whether the gap was seen closed all round. A wrench that stops doesn't show it.
	Seated   *bool `json:"seated,omitempty"`
	PastStop bool  `json:"pastStop,omitempty"` // it was turned on after it had met its stop: set where that was seen
	// ContactTurns were counted from the first thread to gasket contact.
	ContactTurns *turn.Turn `json:"contactTurns,omitempty"`
	Marks        *MarksSeen `json:"marks,omitempty"`  // at the index, before the turn and after it
	Turned       *turn.Turn `json:"turned,omitempty"` // counted from the datum, where no marks are printed
	Angle        *AngleDone `json:"angle,omitempty"`  // turned after a snug torque
	// StopTurns were counted from the first thread to the stop.
	StopTurns *turn.Turn   `json:"stopTurns,omitempty"`
	Fitted    Fitted       `json:"fitted,omitzero"`
	Leaks     LeakCheck    `json:"leaks,omitzero"`
	Out       *VolumeTaken `json:"out,omitempty"`   // the fuel that came out
	Water     *VolumeTaken `json:"water,omitempty"` // and the water under it, also where the job expects none
}

// Meter is what a machine's meter showed. Either may be left out.
type Meter struct {
	Hours    *int         `json:"hours,omitempty" bound:"0..1000000"` // whole ones
	Distance units.Length `json:"distance,omitzero" bound:">=0"`
}

// message is what was read; the zero Message where nothing was.
func (m Meter) message() Message {
	switch far := given(m.Distance); {
	case m.Hours != nil && far:
		return message("found.meter", "hours", *m.Hours, "distance", m.Distance)
	case m.Hours != nil:
		return message("found.meter/hours", "hours", *m.Hours)
	case far:
		return message("found.meter/distance", "distance", m.Distance)
	}
	return Message{}
}

// Fitted is the new part as its box names it.
type Fitted struct {
	Part  string `json:"part,omitempty"`  // its number, as the job has it
	Batch string `json:"batch,omitempty"` // or its serial number
}

// TorqueReading is a torque as the wrench showed it, in a unit on its scale, or the setting at which a
// wrench of the job clicked. Through an adapter with
// a fixed lever a review works out the torque at the fastener, where the job lists the wrench with its
// length or the adapter leaves the lever as it is; through a strap or a chain nothing can be read.
type TorqueReading struct {
	Value units.Torque `json:"value" bound:">=0"`
	Tool  string       `json:"tool"` // the shop's number for the wrench
	// Clicked says that the wrench was set to Value and clicked there. It then stands for all that the
	// wrench may deliver at that setting, by its deviation and its lever as the job lists them. Of a wrench in
	// a job that lists none, a setting outside the band fails, as a reading does, and one inside is undecided.
	Clicked bool `json:"clicked,omitempty"`
	// Expanded is the expanded uncertainty U of Value, at the coverage factor K. Left out it isn't known,
	// which is not zero.
	Expanded units.Torque `json:"expanded,omitzero" bound:">0"`
	// K is the coverage factor of Expanded, a number from 1 to 10 such as "2.5"; left out, it is 2, as most
	// certificates state. The rules go by U at k = 2.
	K string `json:"k,omitempty"`
	// Corrected says that Value and Expanded are at the fastener already, worked out by whoever read
	// them; without an adapter it says nothing.
	Corrected bool `json:"corrected,omitempty"`
}

// MarksSeen is what was at the index.
type MarksSeen struct {
	Before MarkSeen `json:"before"`                              // at contact, or what else the turn is counted from
	After  MarkSeen `json:"after"`                               // when the turn was done
	Passes *int     `json:"passes,omitempty" bound:"0..1000000"` // how often the starting mark came round again; left out where nobody counted
}

// MarkSeen is what was at the index: a mark, or a place between two. Either Mark or Between is given.
type MarkSeen struct {
	Mark    string     `json:"mark,omitempty"`
	Past    *turn.Turn `json:"past,omitempty"`    // with Mark: how far beyond the index it had gone, tightening; the next mark hasn't come yet
	Between []string   `json:"between,omitempty"` // two neighbours, in either order; half way between them where no Share is given
	// Share is how far it was from the first mark of Between towards the second, as a part of their gap.
	Share *turn.Part `json:"share,omitempty"`
}

// VolumeTaken is a volume and the temperature at which it was read: one figure off a jug's scale in Read,
// or a range in Volume.
type VolumeTaken struct {
	Volume drain.Estimate[units.VolumeUnit] `json:"volume,omitzero"`
	Read   units.Volume                     `json:"read,omitzero"` // "1.5 L"
	// Deviation is how far Read may be out, either way. Left out, it is what the job says of its jug, and
	// unknown where that says nothing: never zero.
	Deviation units.Volume      `json:"deviation,omitzero" bound:">0"`
	At        units.Temperature `json:"at"`
}

// bracket is all that the volume may be, the jug good to that. Where nothing is known of a figure's error
// its ends are the figure itself, and known is false.
func (v VolumeTaken) bracket(jug units.Volume) (all drain.Estimate[units.VolumeUnit], known bool) {
	if !given(v.Read) {
		return v.Volume, true
	}
	deviation := v.Deviation
	if !given(deviation) {
		deviation = jug
	}
	if known = given(deviation); !known {
		deviation = v.Read.Unit().Of(0)
	}
	all, _ = drain.PlusMinus(v.Read, deviation, drain.Measured) // checked
	all.Low = units.Max(all.Low, v.Read.Unit().Of(0))
	return all, known
}

// found reports whether there was any of it.
func (v VolumeTaken) found() bool { return v.Read.Sign() > 0 || v.Volume.High.Sign() > 0 }

// message is what was read, by a jug that is good to so much where the reading itself doesn't say.
func (v VolumeTaken) message(jug units.Volume) Message {
	switch {
	case !given(v.Read):
		return message("found.volume/range", "volume", v.Volume, "at", v.At)
	case given(v.Deviation):
		return message("found.volume/within", "volume", v.Read, "deviation", v.Deviation, "at", v.At)
	case given(jug):
		return message("found.volume/jug", "volume", v.Read, "deviation", jug, "at", v.At)
	}
	return message("found.volume", "volume", v.Read, "at", v.At)
}

func (v VolumeTaken) check(path string, errs *JobErrors) {
	if given(v.Read) == given(v.Volume) {
		errs.when(true, path, "both or neither of volume and read", `one of them: "read": "1.5 L", one figure off the scale, or a range in volume`, errContradiction)
		return
	}
	if !given(v.Read) {
		checkRange(path+".volume", v.Volume, errs)
		errs.when(given(v.Deviation), path+".deviation", "given with a range", "the field omitted: the range says how far it may be out", errContradiction)
		return
	}
	errs.when(v.Read.Sign() < 0, path+".read", v.Read.String(), "zero or more", drain.ErrNegative)
	checkWritten(path+".read", v.Read, errs)
	if given(v.Deviation) {
		checkWritten(path+".deviation", v.Deviation, errs)
		v.checkSum(path+".deviation", v.Deviation, errs)
	}
}

// checkSum refuses an error in a unit in which it can't be added to the figure to the last digit.
func (v VolumeTaken) checkSum(path string, deviation units.Volume, errs *JobErrors) {
	if _, exact := v.Read.Add(deviation); !exact {
		errs.when(true, path, fmt.Sprintf("%v, which %v can't be added to exactly", deviation, v.Read), "it in the unit of the figure, "+v.Read.Unit().String(), units.ErrRange)
	}
}

// CrankDone is one attempt to start.
type CrankDone struct {
	Rest  *drain.Duration `json:"rest,omitempty" bound:">=0"` // before this attempt; none before the first
	Crank drain.Duration  `json:"crank" bound:">0"`
}

// LeakCheck says for one station at which stages its joints were looked at, and whether a leak was seen
// there. A suction-side leak draws air and stays dry: air in the fuel is one.
type LeakCheck struct {
	Priming *bool `json:"priming,omitempty"` // at priming pressure, before the start
	Running *bool `json:"running,omitempty"` // with the engine running
	Hot     *bool `json:"hot,omitempty"`     // at working temperature
}

// found reports whether a leak was seen at any stage.
func (c LeakCheck) found() bool {
	yes := func(b *bool) bool { return b != nil && *b }
	return yes(c.Priming) || yes(c.Running) || yes(c.Hot)
}

// ran reports whether the engine has run.
func (c LeakCheck) ran() bool { return c.Running != nil || c.Hot != nil }

// Weight is a stream of waste on a scale. Either Mass or Scale is given: what a scale shows in air
// is less than the mass, so the record has to say which of the two its number is.
type Weight struct {
	Stream  waste.Stream                   `json:"stream"`            // which kind of waste it is
	Station string                         `json:"station,omitempty"` // the ID of the station that it comes from; left out for what comes from all or none
	What    string                         `json:"what,omitempty"`    // as the plan names it, where that has more than one such waste
	Mass    drain.Estimate[units.MassUnit] `json:"mass,omitzero"`     // corrected for the air
	Scale   drain.Estimate[units.MassUnit] `json:"scale,omitzero"`    // as the scale showed it, less the container
	// Density is that of what was weighed, to correct Scale by. Left out, a review takes the job's for
	// liquids, and for all else whatever it may be, from 500 to 9000 kg/m³.
	Density units.Density `json:"density,omitzero"`
}

// Restored says whether a thing is back in service.
type Restored struct {
	What     string `json:"what"` // as the job's isolation names it
	Restored bool   `json:"restored"`
}

// ReadAsDone reads as-done readings: JSON of at most 1 MiB, as strictly as [ReadJob]. The error is
// a [JobErrors] with everything that is wrong. Whether the readings fit a job is for [Plan.Review]
// to say.
func ReadAsDone(data []byte) (AsDone, error) {
	return read(data, AsDoneVersion, AsDone.check)
}

// Check tells all that is wrong with readings made in Go, a [JobErrors], or nil. [ReadAsDone] and
// [Plan.Review] call it.
func (a AsDone) Check() error {
	var errs JobErrors
	a.check(&errs)
	return errs.any()
}

func (a AsDone) check(errs *JobErrors) {
	errs.when(a.Version != AsDoneVersion, "version", fmt.Sprintf("version %d", a.Version), fmt.Sprintf("version %d", AsDoneVersion), units.ErrRange)
	errs.when(a.By == "", "by", "empty", "who vouches for the readings", errMissingField)
	errs.when(a.Source == "", "source", "empty", "what the readings were taken from", errMissingField)
	bound(a, errs)
	if max(len(a.Stations), len(a.Cranks), len(a.Weights)/3, len(a.Restored)) > maxListed {
		return
	}
	seen := map[string]bool{}
	for i, s := range a.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		s.check(path, errs)
		errs.once(seen, s.ID, path+".id", "it once")
	}
	errs.when(len(a.Cranks) > 0 && a.Cranks[0].Rest != nil, "cranks[0].rest", "a rest before the first attempt", "the field omitted", errContradiction)
	for i, w := range a.Weights {
		path := fmt.Sprintf("weights[%d]", i)
		w.check(path, errs)
		twice := slices.ContainsFunc(a.Weights[:i], func(other Weight) bool {
			return other.Stream == w.Stream && other.Station == w.Station && other.What == w.What
		})
		errs.when(twice, path, fmt.Sprintf("the same %v is given twice", w.Stream), "it once", errContradiction)
	}
	clear(seen)
	for i, r := range a.Restored {
		errs.once(seen, r.What, fmt.Sprintf("restored[%d].what", i), "it once")
	}
	if len(*errs) < maxErrors {
		readable(a, errs)
	}
}

// namedVolume is a volume with the name of its field.
type namedVolume struct {
	name  string
	taken *VolumeTaken
}

func (s StationDone) volumes() []namedVolume {
	return []namedVolume{{"out", s.Out}, {"water", s.Water}}
}

func (s StationDone) check(path string, errs *JobErrors) {
	if t := s.Torque; t != nil {
		errs.when(t.Tool == "", path+".torque.tool", "empty", "the shop's number for the wrench", errMissingField)
		errs.when(t.Clicked && given(t.Expanded), path+".torque.expanded", "given with clicked", "the field omitted: what a click is good to follows from the wrench", errContradiction)
		errs.when(t.Clicked && t.Corrected, path+".torque.corrected", "given with clicked", "the setting as it stood on the scale, and corrected left out", errContradiction)
		_, ok := t.coverage()
		errs.when(!ok, path+".torque.k", plain.Quote(t.K), `a coverage factor from 1 to 10 such as "2.5", or the field omitted for 2`, units.ErrRange)
		errs.when(t.K != "" && !given(t.Expanded), path+".torque.k", "given without expanded", "the uncertainty that it belongs to in expanded", errContradiction)
	}
	if s.Angle != nil {
		s.Angle.check(path+".angle", errs)
	}
	if s.Marks != nil {
		s.Marks.Before.check(path+".marks.before", errs)
		s.Marks.After.check(path+".marks.after", errs)
		errs.when(s.Turned != nil, path, "both marks and turned", "one of them", errContradiction)
	}
	for _, v := range s.volumes() {
		if v.taken != nil {
			v.taken.check(path+"."+v.name, errs)
		}
	}
}

// coverage is K as a number, zero where it is left out, and whether it is one.
func (t TorqueReading) coverage() (k decimal.Decimal, ok bool) {
	if t.K == "" {
		return k, true
	}
	// A sign or an exponent is not one of a coverage factor's, and the digits are counted before they are read.
	if whole, places, point := strings.Cut(t.K, "."); len(whole) > 2 || len(places) > 20 || point && places == "" || strings.Trim(whole+places, "0123456789") != "" {
		return k, false
	}
	k, err := decimal.NewFromString(t.K)
	return k, err == nil && k.GreaterThanOrEqual(decimal.New(1, 0)) && k.LessThanOrEqual(decimal.New(10, 0))
}

func (w Weight) check(path string, errs *JobErrors) {
	if given(w.Mass) == given(w.Scale) {
		errs.when(true, path, "both or neither of mass and scale", "one of them: a scale in air shows less than the mass", errContradiction)
		return
	}
	on, name := w.Mass, ".mass"
	if !given(on) {
		on, name = w.Scale, ".scale"
	}
	if checkRange(path+name, on, errs); on.From != drain.Weighed && !errs.faulty(path+name) {
		errs.add(path+name+".from", on.From.String(), "weighed: what wasn't on a scale is no weight", errContradiction)
	}
	if given(w.Density) && given(w.Mass) && !errs.faulty(path) {
		errs.add(path+".density", "given with a mass", "the field omitted: only a scale's reading is corrected by it", errContradiction)
	}
	if given(w.Scale) && given(w.Density) && !errs.faulty(path+".scale") && !errs.faulty(path+".density") {
		_, err := massFromScale(w.Scale, w.Density)
		errs.value(path+".density", err)
	}
}

// massFromScale corrects a reading for the air. Mass rises with the reading, so the ends stay ends.
func massFromScale(reading drain.Estimate[units.MassUnit], density units.Density) (drain.Estimate[units.MassUnit], error) {
	return inAir(reading, drain.MassFromScale, density, density, density)
}

// What may be on a scale besides liquids of a known density, such as wet elements, wipes and seals: paper,
// plastic, rubber, glass, steel and what fuel and water are between them. The lightest, wood and foamed
// rubber without their air, is above 500 kg/m³, and copper has 8960 kg/m³ (from memory). Where air fills
// pores or a bag, it lifts as much as it weighs. Best is computed with 1000 kg/m³.
var (
	lightest = units.KilogramPerCubicMetre.Of(500)
	middling = units.KilogramPerCubicMetre.Of(1000)
	heaviest = units.KilogramPerCubicMetre.Of(9000)
)

// massOfAnything is the bracket of masses of which a scale in air shows a reading, whatever was weighed.
// What is denser is lifted less, and so has less mass for the same reading.
func massOfAnything(reading drain.Estimate[units.MassUnit]) (drain.Estimate[units.MassUnit], error) {
	return inAir(reading, drain.MassFromScale, heaviest, middling, lightest)
}
