package service

import (
	"slices"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// Basis says what a total rests on.
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
	Line   int          `json:"line"`           // of the plan's waste, from 1; behind it water that was found where none was expected
	What   string       `json:"what,omitempty"` // the job's own name for it, where it has one
	Stream waste.Stream `json:"stream"`
	// Station is the ID of the station that it comes from; "" for what comes from all or none.
	Station string                         `json:"station,omitempty"`
	Mass    drain.Estimate[units.MassUnit] `json:"mass,omitzero"` // none where Basis is NotStated
	Basis   Basis                          `json:"basis"`
	Notes   []Message                      `json:"notes,omitempty"` // on what the mass rests, besides the basis
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
		t := WasteTotal{Line: i + 1, What: plan.What, Stream: plan.Stream, Station: plan.Station, Mass: plan.Mass, Basis: AsPlanned}
		if plan.Unknown != nil {
			t.by(NotStated, plan.Mass, message("total.unknown", "unknown", plan.Unknown))
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

// by is a mass, by what it is known, and what there is to note.
func (t *WasteTotal) by(basis Basis, mass drain.Estimate[units.MassUnit], notes ...Message) {
	t.Basis, t.Mass, t.Notes = basis, mass, notes
}

// weighed puts a weight in the place of whatever was computed.
func (r *reviewer) weighed(t *WasteTotal, w Weight) {
	if given(w.Mass) {
		t.by(ByMass, w.Mass)
		return
	}
	note := message("total.air/given", "density", w.Density)
	density := w.Density
	if !given(density) {
		density = r.densityOf(t.Stream)
		note = message("total.air/liquid", "at", r.plan.fuel.at)
	}
	mass, err := massFromScale(w.Scale, density)
	if !given(density) {
		note = message("total.air/any", "low", lightest, "high", heaviest)
		mass, err = massOfAnything(w.Scale)
	}
	r.errs.value("weights", err)
	t.by(ByScale, mass, note)
}

// densityOf is that of a liquid at the temperature the job measures at; none for anything else.
func (r *reviewer) densityOf(s waste.Stream) (density units.Density) {
	switch s {
	case waste.DrainedFuel:
		return r.plan.fuel.density
	case waste.FuelWaterMix:
		density, _ = waterDensity(r.plan.fuel.at) // the zero Density where there is none
	}
	return density
}

// taken computes a liquid's mass from the volumes that were read. Drained fuel and water that the
// job lists besides the stations' own were in no reading of a station.
func (r *reviewer) taken(t *WasteTotal, plan WasteLine) {
	if plan.Volume == nil {
		return
	}
	var parts []drain.Estimate[units.MassUnit]
	read, loose := 0, 0
	for _, s := range r.plan.Stations {
		done, path := r.reading(s.Station.ID)
		taken, field, planned, massOf := done.Out, ".out", s.Out.Mass, r.plan.fuel.MassOf
		switch {
		case t.Stream == waste.DrainedFuel:
		case t.Stream == waste.FuelWaterMix && plan.Station == s.Station.ID && done.Water != nil:
			taken, field, planned, massOf = done.Water, ".water", plan.Mass, massOfWater
		default:
			continue
		}
		if taken == nil && given(planned) {
			parts = append(parts, planned)
			continue
		} else if taken == nil {
			return // nothing bounds it
		}
		all, known := taken.bracket(r.plan.Job.Shop.JugDeviation)
		if !known && !given(planned) {
			return
		}
		mass, err := massOf(all, taken.At)
		r.errs.value(path+field, err)
		if !known { // the figure alone would be a range of no width
			mass.Low, mass.High = units.Min(mass.Low, planned.Low), units.Max(mass.High, planned.High)
			loose++
		}
		parts = append(parts, mass)
		read++
	}
	if read == 0 || len(r.errs) > 0 {
		return
	}
	mass, err := drain.Sum(units.Kilogram, parts...)
	r.errs.value("stations", err)
	if t.by(ByVolume, mass); read < len(parts) {
		t.by(ByPart, mass, message("total.part", "read", read, "all", len(parts)))
	}
	if loose > 0 {
		t.Notes = append(t.Notes, message("total.jug", "count", loose))
	}
}
