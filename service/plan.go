package service

import (
	"errors"
	"fmt"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Plan is all that follows from a job: what the sheet prints, before anything is rounded for
// print. It is made by [NewPlan].
type Plan struct {
	Job        Job
	TorqueUnit units.TorqueUnit
	Findings   []Finding
	Isolation  Ledger
	Stations   []StationPlan
	// FuelOut is what comes out of all stations, at Job.Fuel.MeasuredAt, and what it weighs.
	FuelOut FuelOut
	Prime   PrimePlan
	Waste   []WasteLine
	// WasteRules are the rules that the month is counted by; nil where the job counts none.
	WasteRules *waste.RuleSet
	Due        *Due     // nil where the job states no interval
	Restock    []string // what the service uses up, a line each
}

// Level tells how much a finding matters.
type Level uint8

// The levels. Nothing is done before every stop is cleared.
const (
	Note Level = iota + 1
	Caution
	Stop
)

// String is the level in capitals.
func (l Level) String() string {
	return enumName("Level", []string{Note: "NOTE", Caution: "CAUTION", Stop: "STOP"}, l)
}

// Finding is something the technician must know, found by comparing the job's figures.
type Finding struct {
	Level  Level
	Code   string // the same in every language: "fuel.above-flash-point"
	Where  string // the path in the job file that it rests on
	Words  string // by the job's preferences
	Source string // the rule, or "" where it is arithmetic
	// Values are what Words are filled in with, as a program reads them.
	Values map[string]string
}

// FuelOut is an amount of fuel that comes out.
type FuelOut struct {
	Volume Volumes
	Mass   Masses
	Scale  Masses // what a scale in air shows of it
}

// StationPlan is the plan for one station. One of Torque, Turn, Sequence and Seat is there.
type StationPlan struct {
	Station  Station
	Out      FuelOut
	Torque   *TorquePlan // nil, with all others, where the units of a printed torque disagree
	Turn     *TurnPlan
	Sequence *SequencePlan
	Seat     *SeatPlan
}

// band is the torque band of a station, whatever way it is tightened; nil where it has none.
func (s *StationPlan) band() *TorquePlan {
	switch {
	case s.Sequence != nil:
		return s.Sequence.Band
	case s.Seat != nil:
		return s.Seat.Limit
	}
	return s.Torque
}

// how tells in words which way a station is tightened.
func (s *StationPlan) how() string {
	switch {
	case s.Turn != nil:
		return "by a turn"
	case s.Sequence != nil:
		return "by a torque and turns after it"
	case s.Seat != nil && s.Seat.Limit == nil:
		return "to its stop, with no torque stated"
	case s.Seat != nil:
		return "to its stop"
	}
	return "by torque"
}

// TorquePlan is a band in the unit of the shop's wrenches.
type TorquePlan struct {
	Stated torque.Band // as the job says
	Wrench torque.Band // rounded inward, in the shop's unit
	Nearby torque.Band // the same in another unit for a second wrench
	Set    *WrenchSet  // the wrench to take and its setting; nil where none is listed or none serves
}

// WrenchSet is a wrench of the shop and what to set on its scale.
type WrenchSet struct {
	Wrench  Wrench
	Adapter *Adapter // nil where it goes straight on
	Setting torque.Setting
}

// TurnPlan tells which way and how far.
type TurnPlan struct {
	Instruction turn.Instruction
	ClosedEnd   turn.Rotation // the way to tighten, facing the closed end
	HeadSide    turn.Rotation // the same, seen from the head side
	Marks       []MarkPair    // for each label that may stand at the index at contact
}

// MarkPair tells what stands at the index before and after the turn.
type MarkPair struct {
	AtContact   string
	Least, Most turn.Position // the same where the instruction is no range
}

// PrimePlan tells how many cycles or strokes fill the void, and what the starter may do.
type PrimePlan struct {
	Cycles  *Counts           // key-on cycles of the lift pump; nil without one
	Strokes *Counts           // of the hand primer; nil without one
	Crank   []drain.CrankStep // the attempts, with rests between, cumulative
}

// Counts is a whole number as a range: least where everything goes well, most where nothing does.
type Counts struct{ Least, Best, Most int }

// WasteLine is one stream of waste.
type WasteLine struct {
	What    string
	Stream  waste.Stream // which kind of waste it is; the words may be any
	Station string       // the ID of the station that it comes from; "" for what comes from all or none
	Mass    Masses
	Volume  *Volumes // of liquids, at Job.Fuel.MeasuredAt
	Scale   *Masses  // what a scale in air shows, where the density is known: liquids
}

// NewPlan works a job out. Sets are rule sets of the caller's for the month, as for [ReadJob]; the
// plan keeps the one it uses. The error is a [JobErrors], as of [Job.Check]; nothing is planned then.
func NewPlan(job Job, sets ...waste.RuleSet) (*Plan, error) {
	var errs JobErrors
	if job.check(&errs, sets); len(errs) > 0 {
		return nil, errs
	}
	p := &Plan{Job: job, Isolation: ledger(job.Isolate)}
	if m := job.Waste.Month; m != nil {
		rules, _ := ruleSet(m.Rules, sets) // checked
		p.WasteRules = &rules
	}
	p.TorqueUnit, _ = units.ParseUnit[units.TorqueUnit](job.Shop.TorqueUnit) // checked
	fuel, _ := drain.FuelAt(job.Fuel.Density, job.Fuel.DensityAt)            // checked
	for i, s := range job.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		sp := StationPlan{Station: s}
		out, err := s.Drain.out()
		errs.value(path+".drain", err)
		sp.Out = p.weigh(fuel, out, path+".drain", &errs)
		p.tighten(&sp, path+".tighten", &errs)
		p.Stations = append(p.Stations, sp)
	}
	p.total(fuel, &errs)
	p.prime(&errs)
	if len(errs) > 0 {
		return nil, errs
	}
	p.find()
	p.outOfDate()
	p.choose()
	p.due()
	p.restock()
	return p, nil
}

// tighten plans the one way in which a station is tightened.
func (p *Plan) tighten(sp *StationPlan, path string, errs *JobErrors) {
	switch t := sp.Station.Tighten; {
	case t.Turn != nil:
		sp.Turn = t.plan(path, errs)
	case t.Sequence != nil:
		sp.Sequence = p.sequence(t, path, errs)
	case t.Seat != nil:
		sp.Seat = p.seat(t, path, errs)
	default:
		band, err := t.band()
		if errors.Is(err, torque.ErrDisagree) {
			return
		}
		errs.value(path, err)
		sp.Torque = p.torque(*band, path, errs)
	}
}

// out is the fuel that comes out of a housing.
func (d Drain) out() (Volumes, error) {
	if d.Vessel == nil {
		return *d.Out, d.Out.Check()
	}
	filled, err := drain.Cylinder{Diameter: d.Vessel.Diameter, Height: d.Vessel.Height}.Capacity()
	if err != nil {
		return Volumes{}, err
	}
	draining := drain.Draining{Filled: filled, Displaced: d.Vessel.Displaced, Retained: d.Vessel.Retained}
	out, err := draining.ComesOut()
	if err != nil || d.Water == nil {
		return out, err
	}
	return out.Sub(*d.Water)
}

// weigh turns a volume at the temperature it is measured at into a mass and a reading. Both rise
// with the volume, so the ends of the one are the ends of the others.
func (p *Plan) weigh(fuel drain.Fuel, v Volumes, path string, errs *JobErrors) FuelOut {
	at := p.Job.Fuel.MeasuredAt
	mass, err := fuel.MassOf(v, at)
	errs.value(path, err)
	density, err := fuel.DensityAt(at)
	errs.value("fuel.measuredAt", err)
	return FuelOut{Volume: v, Mass: mass, Scale: scale(mass, density, path, errs)}
}

// scale is what a scale in air shows of a liquid.
func scale(mass Masses, density units.Density, path string, errs *JobErrors) Masses {
	shown := mass
	for _, m := range []*units.Mass{&shown.Low, &shown.Best, &shown.High} {
		var err error
		*m, err = drain.ScaleReading(*m, density)
		errs.value(path, err)
	}
	return shown
}

// torque brings a band into the shop's unit, inward.
func (p *Plan) torque(stated torque.Band, path string, errs *JobErrors) *TorquePlan {
	t := &TorquePlan{Stated: stated}
	var err error
	if places := p.Job.Shop.TorquePlaces; places != nil {
		t.Wrench, err = stated.Inward(p.TorqueUnit, *places)
	} else {
		t.Wrench, err = inward(stated, p.TorqueUnit)
	}
	errs.value(path, err)
	t.Nearby, err = inward(stated, nearbyUnit(p.TorqueUnit))
	errs.value(path, err)
	return t
}

// nearbyUnit is what a second wrench of the shop may read.
func nearbyUnit(shop units.TorqueUnit) units.TorqueUnit {
	if shop == units.FootPound {
		return units.NewtonMetre
	}
	return units.FootPound
}

// inward rounds a band inward at the fewest places that keep nine tenths of its width; the last
// of six places is taken for a band so narrow that none does.
func inward(band torque.Band, unit units.TorqueUnit) (torque.Band, error) {
	width := func(b torque.Band) units.Torque {
		w, _ := b.High().Sub(b.Low())
		return w
	}
	full := width(band)
	for places := 0; ; places++ {
		b, err := band.Inward(unit, places)
		if places == 6 {
			return b, err
		}
		if err != nil {
			continue
		}
		if full.Sign() == 0 {
			return b, nil
		}
		if kept := width(b).Ratio(full); kept.Cmp(nineTenths) >= 0 {
			return b, nil
		}
	}
}

// plan tells for each mark at contact which mark ends up at the index.
func (t Tighten) plan(path string, errs *JobErrors) *TurnPlan {
	p := &TurnPlan{
		Instruction: *t.Turn,
		ClosedEnd:   turn.Sense(t.Thread, turn.Tightening, turn.FacingClosedEnd),
		HeadSide:    turn.Sense(t.Thread, turn.Tightening, turn.FromHeadSide),
	}
	if t.Marks == nil {
		return p
	}
	ring, err := turn.NewRing(t.Marks.Labels, t.Marks.Printed)
	errs.value(path+".marks.labels", err)
	labels := t.Marks.Labels
	if t.Marks.AtContact != "" {
		labels = []string{t.Marks.AtContact}
	}
	for _, label := range labels {
		from, err := ring.At(label)
		errs.value(path+".marks.atContact", err)
		pair := MarkPair{AtContact: label}
		pair.Least, err = ring.Tighten(from, t.Turn.Least(), t.Thread)
		errs.value(path+".turn", err)
		pair.Most, err = ring.Tighten(from, t.Turn.Most(), t.Thread)
		errs.value(path+".turn", err)
		p.Marks = append(p.Marks, pair)
	}
	return p
}

// total adds the stations up and lists the waste.
func (p *Plan) total(fuel drain.Fuel, errs *JobErrors) {
	at := p.Job.Fuel.MeasuredAt
	var outs []Volumes
	for _, s := range p.Stations {
		outs = append(outs, s.Out.Volume)
	}
	total, err := drain.Total(units.Litre, outs...)
	errs.value("stations", err)
	p.FuelOut = p.weigh(fuel, total, "stations", errs)
	p.Waste = append(p.Waste, WasteLine{What: drainedFuel, Stream: waste.DrainedFuel, Mass: p.FuelOut.Mass, Volume: &p.FuelOut.Volume, Scale: &p.FuelOut.Scale})
	for i, s := range p.Job.Stations {
		if s.Drain.Water == nil {
			continue
		}
		path := fmt.Sprintf("stations[%d].drain.water", i)
		mass, err := drain.WaterMass(*s.Drain.Water, at)
		errs.value(path, err)
		density, err := drain.WaterDensityAt(at)
		errs.value(path, err)
		shown := scale(mass, density, path, errs)
		p.Waste = append(p.Waste, WasteLine{What: waterOf(s.ID), Stream: waste.FuelWaterMix, Station: s.ID,
			Mass: mass, Volume: s.Drain.Water, Scale: &shown})
	}
	for i, s := range p.Job.Stations {
		wet, err := drain.WetMass(s.Element.Dry, s.Element.Retains, fuel, at)
		errs.value(fmt.Sprintf("stations[%d].element", i), err)
		p.Waste = append(p.Waste, WasteLine{What: elementOf(s.ID), Stream: waste.WetElement, Station: s.ID, Mass: wet})
	}
	for _, other := range p.Job.Waste.Other {
		p.Waste = append(p.Waste, WasteLine{What: other.What, Stream: other.stream(), Mass: other.Mass})
	}
}

// The names of the wastes of every job, by which a weight is known.
const drainedFuel = "drained fuel"

func waterOf(id string) string   { return "fuel-wet water of station " + id }
func elementOf(id string) string { return "used element, wet, of station " + id }

// prime works out how often the pump runs, or is worked, and how long the starter may turn.
func (p *Plan) prime(errs *JobErrors) {
	prime := p.Job.Prime
	steps, err := prime.Crank.plan()
	errs.value("prime.crank", err)
	p.Prime.Crank = steps
	if prime.Pump != nil {
		counts, err := prime.cycles()
		errs.value("prime.pump", err)
		p.Prime.Cycles = &counts
	}
	if prime.HandPrimer != nil {
		counts, err := prime.strokes()
		errs.value("prime.handPrimer", err)
		p.Prime.Strokes = &counts
	}
}

func (c Crank) plan() ([]drain.CrankStep, error) {
	return drain.Cranking{Limit: time.Duration(c.Limit), Rest: time.Duration(c.Rest), Attempts: c.Attempts}.Plan()
}

func (p Prime) cycles() (Counts, error) {
	least, best, most, err := drain.KeyCycles(p.Void, p.Pump.Flow, time.Duration(p.Pump.OnTime), p.Pump.Efficiency.Value)
	return Counts{least, best, most}, err
}

func (p Prime) strokes() (Counts, error) {
	least, best, most, err := drain.HandStrokes(p.Void, p.HandPrimer.Stroke, p.HandPrimer.Efficiency.Value)
	return Counts{least, best, most}, err
}
