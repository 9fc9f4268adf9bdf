package service

import (
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// Basis tells what a total rests on.
type Basis uint8

// The bases, the firmest first.
const (
	ByMass    Basis = iota + 1 // a mass, as recorded
	ByScale                    // a scale's reading, corrected for the air
	ByVolume                   // recorded volumes, at the density of their temperature
	ByPart                     // some recorded, what wasn't as planned
	AsPlanned                  // nothing usable recorded
	NotStated                  // nor does the job state it: how much it is isn't known
)

// WasteTotal is what one stream of waste came to, for the ledger of the month.
type WasteTotal struct {
	Line   int                            `json:"line"` // of the plan's waste, from 1; behind it water that was found where none was expected
	What   string                         `json:"what"`
	Stream waste.Stream                   `json:"stream"`
	Mass   drain.Estimate[units.MassUnit] `json:"mass,omitzero"` // none where Basis is NotStated
	Basis  Basis                          `json:"basis"`
	Note   string                         `json:"note,omitempty"`
}

// Entries are the totals as [waste.Ledger] takes them, all of them undetermined: whether a waste
// is hazardous is its generator's determination, to be filled in by whoever made it. What is NotStated
// is among them without a mass: a ledger refuses it and counts nothing in its place.
func (r Review) Entries() []waste.Entry {
	entries := make([]waste.Entry, len(r.Totals))
	for i, t := range r.Totals {
		entries[i] = waste.Entry{Job: r.Job.ID, Revision: r.Job.Revision, Line: t.Line, Date: r.Done.Date,
			Stream: t.Stream, Determination: waste.Undetermined, Mass: t.Mass}
	}
	return entries
}

// totals takes for each stream the firmest figure there is.
func (r *reviewer) totals() []WasteTotal {
	var totals []WasteTotal
	for i, plan := range r.wastes() {
		t := WasteTotal{Line: i + 1, What: plan.What, Stream: plan.Stream, Mass: plan.Mass, Basis: AsPlanned}
		if plan.Unknown != nil {
			t.Basis, t.Note = NotStated, unknownFor(plan.Unknown)
		}
		r.taken(&t, plan)
		at := slices.IndexFunc(r.done.Weights, func(w Weight) bool { return w.of(plan) })
		if at >= 0 {
			r.weighed(&t, r.done.Weights[at])
		}
		totals = append(totals, t)
	}
	return totals
}

// weighed puts a weight in the place of whatever was reckoned.
func (r *reviewer) weighed(t *WasteTotal, w Weight) {
	if given(w.Mass) {
		t.Mass, t.Basis, t.Note = w.Mass, ByMass, ""
		return
	}
	density, of := w.Density, "the density given"
	if !given(density) {
		density, of = r.densityOf(t.Stream)
	}
	var mass drain.Estimate[units.MassUnit]
	var err error
	if given(density) {
		mass, err = massFromScale(w.Scale, density)
	} else {
		mass, err = massOfAnything(w.Scale)
		of = fmt.Sprintf("any density from %v to %v", lightest, heaviest)
	}
	if err != nil {
		r.errs.value("weights", err)
		return
	}
	t.Mass, t.Basis, t.Note = mass, ByScale, "corrected for the air with "+of
}

// densityOf is that of a liquid at the temperature the job measures at; none for anything else.
func (r *reviewer) densityOf(s waste.Stream) (density units.Density, of string) {
	d := r.fuel.density
	switch s {
	case waste.DrainedFuel:
	case waste.FuelWaterMix:
		var err error
		if d, err = waterDensity(r.fuel.at); err != nil {
			return units.Density{}, ""
		}
	default:
		return units.Density{}, ""
	}
	return d, fmt.Sprintf("the liquid's density at %v", r.fuel.at)
}

// taken reckons a liquid's mass from the volumes that were read. Drained fuel and water that the
// job lists beside the stations' own were in no reading of a station.
func (r *reviewer) taken(t *WasteTotal, plan WasteLine) {
	if plan.Volume == nil {
		return
	}
	var parts []drain.Estimate[units.MassUnit]
	read, loose := 0, 0
	for _, s := range r.plan.Stations {
		done, path := r.reading(s.Station.ID)
		switch {
		case t.Stream == waste.DrainedFuel:
			mass := s.Out.Mass
			if r.nowhere(done.Out, mass) {
				return
			}
			if done.Out != nil {
				var err error
				mass, err = r.fuel.MassOf(r.bracket(*done.Out), done.Out.At)
				r.errs.value(path+".out", err)
				mass, loose = r.hull(*done.Out, mass, s.Out.Mass, loose)
				read++
			}
			parts = append(parts, mass)
		case t.Stream == waste.FuelWaterMix && plan.Station == s.Station.ID && done.Water != nil:
			if r.nowhere(done.Water, plan.Mass) {
				return
			}
			mass, err := drain.WaterMass(r.bracket(*done.Water), thawed(done.Water.At))
			r.errs.value(path+".water", err)
			mass, loose = r.hull(*done.Water, mass, plan.Mass, loose)
			parts = append(parts, mass)
			read++
		}
	}
	if read == 0 || len(r.errs) > 0 {
		return
	}
	mass, err := drain.Sum(units.Kilogram, parts...)
	if err != nil {
		r.errs.value("stations", err)
		return
	}
	if t.Mass, t.Basis, t.Note = mass, ByVolume, ""; read < len(parts) {
		t.Basis, t.Note = ByPart, fmt.Sprintf("%d of %d stations read, the rest as planned", read, len(parts))
	}
	if loose > 0 {
		t.Note = strings.TrimPrefix(fmt.Sprintf("%s; %d read off a jug whose error isn't known, so that the range may be wider", t.Note, loose), "; ")
	}
}

// nowhere reports whether neither a reading nor the plan bounds a mass: the plan's is unknown, and nothing
// was read, or a figure whose error isn't known.
func (r *reviewer) nowhere(v *VolumeTaken, planned drain.Estimate[units.MassUnit]) bool {
	if given(planned) {
		return false
	}
	if v == nil {
		return true
	}
	_, known := v.bracket(r.plan.Job.Shop.JugDeviation)
	return !known
}

// hull widens the mass of a figure whose error isn't known by the planned range, and counts such figures:
// the figure alone would be a range of no width.
func (r *reviewer) hull(v VolumeTaken, mass, planned drain.Estimate[units.MassUnit], loose int) (drain.Estimate[units.MassUnit], int) {
	if _, known := v.bracket(r.plan.Job.Shop.JugDeviation); known {
		return mass, loose
	}
	mass.Low, mass.High = units.Min(mass.Low, planned.Low), units.Max(mass.High, planned.High)
	return mass, loose + 1
}
