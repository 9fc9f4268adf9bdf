package service

import (
	"cmp"
	"fmt"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/deep"
	"example.com/snugturn/units"
)

// Plan is all that follows from a job: what the sheet prints, before it is put into words. It is
// made by [NewPlan].
type Plan struct {
	Job       Job
	Rules     Rules // by which the sheet aims and a review judges; the zero value where none are agreed on
	Findings  []Finding
	Isolation Isolations
	Stations  []StationPlan
	// FuelOut is what comes out of all stations, at Job.Fuel.MeasuredAt, and what it weighs.
	FuelOut FuelOut
	Prime   PrimePlan
	Waste   []WasteLine
	// WasteRules are the rules that the month is counted by; nil where the job counts none.
	WasteRules *waste.RuleSet
	Due        *NextService // nil where the job states no interval
	Restock    []string     // what the service uses up, a line each

	fuel measured // Job.Fuel, solved once
}

// Level says how much a finding matters.
type Level uint8

// The levels, the gravest last. Nothing is done before every stop is cleared. Warning and Caution are
// the signal words of ANSI Z535 (seen in a copy): death or serious injury, and minor injury or damage.
const (
	Note    Level = iota + 1
	Caution       // may damage something, or hurt somebody a little
	Warning       // may kill or injure
	Stop
)

// Finding is something the technician must know, found by comparing the job's figures.
type Finding struct {
	Message
	Level   Level
	Where   string   // the path in the job file that it rests on
	Sources []string // of the rule, as in a [Line]; nil where it is arithmetic
}

// FuelOut is an amount of fuel that comes out. Where it is unknown, the three are the zero value.
type FuelOut struct {
	Volume drain.Estimate[units.VolumeUnit]
	Mass   drain.Estimate[units.MassUnit]
	Scale  drain.Estimate[units.MassUnit] // what a scale in air shows of it
	// Unknown are the estimates that they would need and the job leaves out, as paths in it; nil where
	// the three are known.
	Unknown []string
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

// Band is the torque band of a station, whatever way it is tightened; nil where it has none.
func (s *StationPlan) Band() *TorquePlan { return s.way().band(s) }

// way is the way in which a station is tightened.
func (s *StationPlan) way() way { return s.Station.Tighten.way() }

// WasteLine is one stream of waste. Where it is unknown how much, its figures are the zero value.
type WasteLine struct {
	What    string       // the job's own name for it; "" for fuel, water and elements, which the stream and the station name
	Stream  waste.Stream // which kind of waste it is; the words may be any
	Station string       // the ID of the station that it comes from; "" for what comes from all or none
	Mass    drain.Estimate[units.MassUnit]
	Volume  *drain.Estimate[units.VolumeUnit] // of liquids, at Job.Fuel.MeasuredAt
	Scale   *drain.Estimate[units.MassUnit]   // what a scale in air shows, where the density is known: liquids
	Unknown []string                          // what Mass would need and the job leaves out, as for FuelOut
}

// NewPlan works a job out. The rules are those that [Plan.Review] will judge by: what the sheet says
// to aim at depends on them. With the zero Rules there is a sheet all the same; it says for which eye
// it was written and promises no pass. Sets are rule sets of the caller's for the month, as for
// [ReadJob]; the plan keeps the one it uses. It keeps copies: what becomes of job, rules and sets
// later changes no plan. The error is a [JobErrors], as of [Job.Check] and
// [Rules.Check]; nothing is planned then.
func NewPlan(job Job, rules Rules, sets ...waste.RuleSet) (*Plan, error) {
	var errs JobErrors
	fuel := job.check(&errs, sets)
	if rules != (Rules{}) {
		rules.check("rules.", &errs)
	}
	if len(errs) > 0 {
		return nil, errs
	}
	job = deep.Copy(job)
	p := &Plan{Job: job, Rules: deep.Copy(rules), Isolation: ledger(job.Isolate), fuel: fuel}
	if m := job.Waste.Month; m != nil {
		rules, _ := ruleSet(m.Rules, sets) // checked
		p.WasteRules = deep.Copy(&rules)
	}
	for i, s := range job.Stations {
		path := fmt.Sprintf("stations[%d]", i)
		sp := StationPlan{Station: s}
		if sp.Out.Unknown = s.Drain.unknown(path + ".drain"); sp.Out.Unknown == nil {
			out, err := s.Drain.out()
			errs.value(path+".drain", err)
			sp.Out = fuel.weigh(out, path+".drain", &errs)
		}
		s.Tighten.way().plan(p, &sp, path+".tighten", &errs)
		p.Stations = append(p.Stations, sp)
	}
	p.total(&errs)
	p.prime(&errs)
	if len(errs) > 0 {
		return nil, errs
	}
	p.find()
	p.outOfDate()
	p.choose()
	p.due()
	for _, s := range job.Stations {
		p.Restock = append(p.Restock, s.renewed()...)
	}
	return p, nil
}

// out is the fuel that comes out of a housing.
func (d Drain) out() (drain.Estimate[units.VolumeUnit], error) {
	if d.Housing == nil {
		return d.Out, d.Out.Check()
	}
	filled, err := drain.Cylinder{Diameter: d.Housing.Diameter, Height: d.Housing.Height}.Capacity()
	if err != nil {
		return drain.Estimate[units.VolumeUnit]{}, err
	}
	draining := drain.Draining{Filled: filled, Displaced: d.Housing.Displaced, Retained: d.Housing.Retained}
	out, err := draining.Out()
	if err != nil || !given(d.Water) {
		return out, err
	}
	return out.Sub(d.Water)
}

// measured is a fuel at the temperature that its volumes are measured at.
type measured struct {
	drain.Fuel
	at      units.Temperature
	density units.Density // there
}

// sixty is the temperature of °API and of relative density 60/60 °F.
var sixty = units.Fahrenheit.Of(60)

// densityAt is the temperature that the density belongs to, also where it is left out.
func (f Fuel) densityAt() units.Temperature {
	return either(f.Density.At60F(), sixty, f.DensityAt)
}

// DensityAt is [drain.Fuel.DensityAt], known already where the volumes are measured.
func (m measured) DensityAt(t units.Temperature) (units.Density, error) {
	if t.Equal(m.at) {
		return m.density, nil
	}
	return m.Fuel.DensityAt(t)
}

// weigh turns a volume into a mass and a reading. Both rise with the volume, so the ends of the one
// are the ends of the others.
func (m measured) weigh(v drain.Estimate[units.VolumeUnit], path string, errs *JobErrors) FuelOut {
	mass, err := m.MassOf(v, m.at)
	errs.value(path, err)
	return FuelOut{Volume: v, Mass: mass, Scale: scale(mass, m.density, path, errs)}
}

// scale is what a scale in air shows of a liquid.
func scale(mass drain.Estimate[units.MassUnit], density units.Density, path string, errs *JobErrors) drain.Estimate[units.MassUnit] {
	shown, err := inAir(mass, drain.ScaleReading, density, density, density)
	errs.value(path, err)
	return shown
}

// inAir is what each end of a mass or of a scale's reading comes to, at its density.
func inAir(m drain.Estimate[units.MassUnit], of func(units.Mass, units.Density) (units.Mass, error), low, best, high units.Density) (drain.Estimate[units.MassUnit], error) {
	var errs [3]error
	m.Low, errs[0] = of(m.Low, low)
	m.Best, errs[1] = of(m.Best, best)
	m.High, errs[2] = of(m.High, high)
	return m, cmp.Or(errs[:]...)
}

// total adds the stations up and lists the waste.
func (p *Plan) total(errs *JobErrors) {
	fuel := p.fuel
	var outs []drain.Estimate[units.VolumeUnit]
	for _, s := range p.Stations {
		outs = append(outs, s.Out.Volume)
		p.FuelOut.Unknown = with(p.FuelOut.Unknown, s.Out.Unknown...)
	}
	if p.FuelOut.Unknown == nil {
		total, err := drain.Sum(units.Litre, outs...)
		errs.value("stations", err)
		p.FuelOut = fuel.weigh(total, "stations", errs)
	}
	p.Waste = append(p.Waste, WasteLine{Stream: waste.DrainedFuel, Mass: p.FuelOut.Mass, Volume: &p.FuelOut.Volume, Scale: &p.FuelOut.Scale, Unknown: p.FuelOut.Unknown})
	for i, s := range p.Job.Stations {
		path := fmt.Sprintf("stations[%d].drain.water", i)
		switch {
		case s.Drain.WaterUnknown:
			p.Waste = append(p.Waste, WasteLine{Stream: waste.FuelWaterMix, Station: s.ID,
				Volume: &drain.Estimate[units.VolumeUnit]{}, Scale: &drain.Estimate[units.MassUnit]{}, Unknown: []string{path}})
		case given(s.Drain.Water):
			p.Waste = append(p.Waste, waterLine(s.ID, s.Drain.Water, fuel.at, path, errs))
		}
	}
	density, err := drain.Exactly(fuel.density, drain.Weighed) // counts as known: no part of where the mass comes from
	errs.value("fuel.density", err)
	for i, s := range p.Job.Stations {
		path := fmt.Sprintf("stations[%d].element", i)
		line := WasteLine{Stream: waste.WetElement, Station: s.ID, Unknown: s.Element.unknown(path)}
		if line.Unknown == nil {
			line.Mass, err = drain.WetMass(s.Element.Dry, s.Element.Retains, density)
			errs.value(path, err)
		}
		p.Waste = append(p.Waste, line)
	}
	for i, other := range p.Job.Waste.Other {
		line := WasteLine{What: other.What, Stream: cmp.Or(other.Stream, waste.OtherWaste), Mass: other.Mass}
		if !given(other.Mass) {
			line.Unknown = []string{fmt.Sprintf("waste.other[%d].mass", i)}
		}
		p.Waste = append(p.Waste, line)
	}
}

// waterLine is the water of a station as a waste.
func waterLine(id string, water drain.Estimate[units.VolumeUnit], at units.Temperature, path string, errs *JobErrors) WasteLine {
	mass, err := massOfWater(water, at)
	errs.value(path, err)
	density, err := waterDensity(at)
	errs.value(path, err)
	shown := scale(mass, density, path, errs)
	return WasteLine{Stream: waste.FuelWaterMix, Station: id, Mass: mass, Volume: &water, Scale: &shown}
}

// known is the name by which a weight may know it.
func (w WasteLine) known() string { return cmp.Or(w.What, w.Stream.String()) }

// name is it in a sentence: the job's own text, or what the plan has of every station.
func (w WasteLine) name() any {
	if w.What != "" {
		return w.What
	}
	variant := map[waste.Stream]string{waste.DrainedFuel: "fuel", waste.FuelWaterMix: "water", waste.WetElement: "element"}[w.Stream]
	return message("waste.name/"+variant, "stream", w.Stream, "station", w.Station)
}
