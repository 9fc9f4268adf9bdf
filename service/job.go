package service

import (
	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Job is what a shop knows before the work starts: a job file. In JSON each field has its Go name
// with a small first letter; quantities are strings with their unit, "150 in-lb". A field is
// required unless it says that it may be left out.
type Job struct {
	Version  int        `json:"version"`                     // [JobVersion]
	ID       string     `json:"id"`                          // the shop's number for the job
	Revision int        `json:"revision" bound:"1..1000000"` // 1 for the first; the higher one replaces the lower
	Date     waste.Date `json:"date"`                        // planned day of the work
	Zone     waste.Zone `json:"zone,omitempty"`              // the site's, by whose clocks every day is meant; may be left out
	Machine  string     `json:"machine"`                     // what is serviced
	Card     string     `json:"card,omitempty"`              // the name and state of the machine card that the job was laid over; none without one
	Place    string     `json:"place,omitempty"`             // where it is; may be left out
	Invented bool       `json:"invented,omitempty"`          // the figures are made up, and the sheet says so on every part
	Source   string     `json:"source"`                      // where the figures come from: the manufacturer's instructions, by their number

	Shop     Shop        `json:"shop"`
	Isolate  []Isolation `json:"isolate" bound:"..100"`            // in the order in which they are taken out of service
	Cautions []string    `json:"cautions,omitempty" bound:"..100"` // of the manufacturer or the site, besides the usual ones
	Fuel     Fuel        `json:"fuel"`
	Stations []Station   `json:"stations" bound:"..40"` // in the order of the work
	Prime    Prime       `json:"prime"`
	Waste    Waste       `json:"waste"`
	Interval *Interval   `json:"interval,omitempty"` // when the next service is due

	Preferences *Preferences `json:"preferences,omitempty"` // what the sheet is printed in; may be left out
}

// Shop holds what differs from shop to shop.
type Shop struct {
	// TorqueUnit is what the wrenches read: "N·m", the zero value, or "ft-lb".
	TorqueUnit units.TorqueUnit `json:"torqueUnit"`
	// TorquePlaces is the number of places a wrench can be read or set to. Left out, it is the
	// fewest that keep nine tenths of each band.
	TorquePlaces *int `json:"torquePlaces,omitempty" bound:"0..6"`
	// PanHolds is what the catch pan holds up to its brim.
	PanHolds units.Volume `json:"panHolds" bound:">0"`
	// JugDeviation is how far a volume that is read off the measuring jug may be out, either way; left out, it
	// isn't known, which is not zero.
	JugDeviation units.Volume `json:"jugDeviation,omitzero" bound:">0"`
	// Wrenches are the torque wrenches that may be used; left out, the sheet gives the band alone.
	Wrenches []Wrench `json:"wrenches,omitempty" bound:"..100"`
	// Gauges are the angle gauges that may be used; left out, nothing is known of their calibration.
	Gauges []Gauge `json:"gauges,omitempty" bound:"..100"`
	// LocalRules names the site's or the authority's rules that bind here; may be left out.
	LocalRules string `json:"localRules,omitempty"`
}

// Wrench is a torque wrench of the shop, by its number. In JSON its fields are next to those of
// [torque.Wrench].
type Wrench struct {
	torque.Wrench // its CalibratedUntil follows from the one below
	// AlsoShows are other units on its scale.
	AlsoShows       []units.TorqueUnit `json:"alsoShows,omitempty" bound:"..100"`
	CalibratedUntil waste.Date         `json:"calibratedUntil"` // the last day on which it may be used
}

// Gauge shows how far a fastener was turned. A wrench that shows it too is listed as both.
type Gauge struct {
	ID              string     `json:"id"`
	CalibratedUntil waste.Date `json:"calibratedUntil"` // the last day on which it may be used
}

// Adapter is between the drive of a wrench and the fastener and changes the lever. Lever or Kind
// is given: no setting and no reading goes through a strap or a chain.
type Adapter struct {
	Name  string          `json:"name"`
	Kind  AdapterKind     `json:"kind,omitempty"`  // says that it has no fixed lever
	Lever *torque.Adapter `json:"lever,omitempty"` // what it does to that of the wrench
	// CalibratedUntil is the last day on which Lever may be relied on; left out where the shop
	// keeps no such date.
	CalibratedUntil waste.Date `json:"calibratedUntil,omitzero"`
}

// Interval says how often the service is done: after so many hours, so long a distance or so many
// months, whichever comes first. At least one is given.
type Interval struct {
	Hours           int          `json:"hours,omitempty" bound:"1..100000"`     // on the meter
	HoursPerWeek    int          `json:"hoursPerWeek,omitempty" bound:"1..168"` // recent use, needed to forecast a day from Hours
	Distance        units.Length `json:"distance,omitzero"`                     // on the meter
	DistancePerWeek units.Length `json:"distancePerWeek,omitzero"`              // recent use, needed to forecast a day from Distance
	Months          int          `json:"months,omitempty" bound:"1..240"`       // by the calendar
}

// Isolation is one thing that is put out of service before the work and back into service after.
type Isolation struct {
	What       string `json:"what"`                 // "battery charger"
	How        string `json:"how"`                  // "switch off at the board, lock and tag"
	ForPriming bool   `json:"forPriming,omitempty"` // comes back early, because priming needs it
	// StopsStart says that nobody can crank the engine while this is out of service, as without
	// batteries or with the selector at OFF.
	StopsStart bool `json:"stopsStart,omitempty"`
	// ForStart is the state in which it comes back so that the engine can be started, before all else
	// does: "to MANUAL, remote still off". Left out, it stays out, or comes back whole for priming.
	ForStart string `json:"forStart,omitempty"`
}

// Fuel is what is in the filters.
type Fuel struct {
	Grade string `json:"grade"` // as the supplier names it: "No. 2-D", "EN 590"
	// Density is that of the delivery note: "840 kg/m³", "35.2 °API" or "0.845 (60/60 °F)".
	Density drain.StatedDensity `json:"density"`
	// DensityAt is the temperature that density belongs to. On the two scales, °API and 60/60 °F, it is 60 °F and
	// may be left out.
	DensityAt       units.Temperature `json:"densityAt,omitzero"`
	LeastFlashPoint units.Temperature `json:"leastFlashPoint"` // the least that the grade's specification allows
	FlashSource     string            `json:"flashSource"`     // which specification says so
	CaughtAt        units.Temperature `json:"caughtAt"`        // what the fuel is expected to have when it is caught
	MeasuredAt      units.Temperature `json:"measuredAt"`      // what it will have when its volume is read
}

// Station is one filter.
type Station struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"`
	Kind       Kind     `json:"kind"`
	Side       Side     `json:"side"`
	Connectors []string `json:"connectors,omitempty" bound:"..100"` // plugs and hoses to take off before draining, and refit after
	// ConnectorsAfterDrain come off when the housing has drained: a hose that would spill, a plug that
	// the draining needs.
	ConnectorsAfterDrain []string `json:"connectorsAfterDrain,omitempty" bound:"..100"`
	Drain                Drain    `json:"drain"`
	Element              Element  `json:"element"`
	Seals                []Seal   `json:"seals" bound:"..100"`
	Fill                 Fit      `json:"fill"`
	// PrefillWith is what goes in before it is fitted: into the bowl, the canister or the housing. One of
	// PrefillWith and PrefillShare is given, and neither where it is fitted dry.
	PrefillWith  units.Volume `json:"prefillWith,omitzero" bound:">0"`
	PrefillShare FillPart     `json:"prefillShare,omitzero"` // of what the bowl, the canister or the housing holds: "50 %", "2/3 of the canister"
	Tighten      Tighten      `json:"tighten"`
}

// Drain says how a housing is emptied and what comes out. One of Out and Housing is given, or neither
// where nobody knows how much it is.
type Drain struct {
	Steps []string                         `json:"steps" bound:"..100"`
	Water drain.Estimate[units.VolumeUnit] `json:"water,omitzero"` // water under the fuel, drained first; left out where none is expected
	// WaterUnknown says, in place of Water, that water is drained first and nobody knows how much.
	WaterUnknown bool                             `json:"waterUnknown,omitempty"`
	Out          drain.Estimate[units.VolumeUnit] `json:"out,omitzero"`      // the fuel that comes out, without that water
	Housing      *Housing                         `json:"housing,omitempty"` // or the housing that it and the water come out of
}

// Housing is an upright cylinder as measured inside, full when its drain is opened.
type Housing struct {
	Diameter  drain.Estimate[units.LengthUnit] `json:"diameter"`
	Height    drain.Estimate[units.LengthUnit] `json:"height"`
	Displaced drain.Estimate[units.VolumeUnit] `json:"displaced"` // taken up by the element and its hardware
	Retained  drain.Estimate[units.VolumeUnit] `json:"retained"`  // left on walls, below the drain and in the element
}

// Element is the part that is renewed.
type Element struct {
	PartNo  string                           `json:"partNo,omitempty"` // its short number, by which it goes at the bench: "E-30"; at most 20 bytes, may be left out
	Part    string                           `json:"part"`             // the shop's number and name of the new one
	Dry     drain.Estimate[units.MassUnit]   `json:"dry,omitzero"`     // of the used one without fuel; unknown if left out
	Retains drain.Estimate[units.VolumeUnit] `json:"retains,omitzero"` // the fuel that a drained used one still holds; unknown if left out
}

// Seal is an O-ring or a gasket.
type Seal struct {
	PartNo string `json:"partNo,omitempty"` // its short number, as for an element
	Part   string `json:"part"`
	Where  string `json:"where"`
	// Wet is what it is wetted with. One of Wet and Dry is given.
	Wet string `json:"wet,omitempty"`
	Dry bool   `json:"dry,omitempty"` // it goes on dry
	// WithElement says that it comes with the element, so that it isn't ordered as well.
	WithElement bool `json:"withElement,omitempty"`
}

// Tighten says how far. One of Torque, Printed, Turn, Sequence and Seat is given. Stud and
// Canister, where both are stated, are held against each other; Expected and Gasket, where both are
// stated with a thread, let a review tell whether contact came too early or too late.
type Tighten struct {
	Torque torque.Band `json:"torque,omitzero"`
	// Printed is a limit that the paper prints in two units or more, "150-230 in-lb (17-26 N·m)". The first
	// stated governs; where they disagree nothing is planned from either, and a finding says so.
	Printed string `json:"printed,omitempty"`
	// OrSeated says that the instruction reads "or until seated", with Torque or Printed: a stop that
	// is shown to be the true one then does as well as the band.
	OrSeated bool             `json:"orSeated,omitempty"`
	Turn     turn.Instruction `json:"turn,omitzero"`
	// Sequence is a snug torque and then turns, each from where the one before it ended.
	Sequence     turn.Sequence  `json:"sequence,omitzero"`
	Snug         torque.Band    `json:"snug,omitzero"`    // with Sequence: what its torque may be, where the paper says so
	Within       *TurnTolerance `json:"within,omitempty"` // with Sequence: how far each of its turns may be out, where the paper says so
	Seat         *Seat          `json:"seat,omitempty"`
	Adapter      *Adapter       `json:"adapter,omitempty"`     // with a torque of any kind: what changes the lever
	Thread       turn.Hand      `json:"thread"`                // the hand of the thread
	View         turn.View      `json:"view,omitempty"`        // with Sequence or Seat: where the technician looks from; with Turn it is in Marks
	Marks        *Marks         `json:"marks,omitempty"`       // with Turn: the marks printed round the canister
	Stud         turn.Thread    `json:"stud,omitzero"`         // on the head: "M20x1.5", "1-14 UNS"
	Canister     turn.Thread    `json:"canister,omitzero"`     // of the new canister
	ContactTurns turn.Turn      `json:"contactTurns,omitzero"` // from the first thread to gasket contact
	Gasket       units.Length   `json:"gasket,omitzero"`       // its height before it is pressed
}

// Seat is the stop of a part that is tightened until it meets it, and no further.
type Seat struct {
	Gap       string      `json:"gap"`                // what is closed all round then: "between cap and housing"
	Torque    torque.Band `json:"torque,omitzero"`    // in which the stop is met, or "max 25 N·m"; may be left out
	StopTurns turn.Turn   `json:"stopTurns,omitzero"` // from the first thread to the stop; may be left out
}

// Marks are evenly spaced labels round a canister, read against a fixed index on the head.
type Marks struct {
	Labels    []string      `json:"labels"`
	Order     turn.Rotation `json:"order"`               // the way the labels follow each other, as read facing the closed end
	Index     string        `json:"index"`               // what serves as the index: "the cast rib on the head"
	View      turn.View     `json:"view"`                // where the technician looks from
	AtContact string        `json:"atContact,omitempty"` // the label at the index at gasket contact, where it is known before
	// DrawnAt is the label against which the index is drawn on the head at gasket contact, where the head has
	// none of its own.
	DrawnAt string `json:"drawnAt,omitempty"`
}

// Prime says how the emptied system is filled again. At least one of Pump and HandPrimer is given.
type Prime struct {
	Void       drain.Estimate[units.VolumeUnit] `json:"void,omitzero"` // what has to be filled; unknown if left out
	Pump       *Pump                            `json:"pump,omitempty"`
	HandPrimer *HandPrimer                      `json:"handPrimer,omitempty"`
	Crank      drain.Cranking                   `json:"crank"`
}

// Pump is an electric lift pump that runs for a while at each key-on.
type Pump struct {
	Flow       drain.Estimate[units.FlowUnit] `json:"flow,omitzero"` // unknown if left out
	OnTime     drain.Duration                 `json:"onTime"`
	Efficiency units.Share                    `json:"efficiency"` // the part of the flow that fills the void
}

// HandPrimer is a pump worked by hand.
type HandPrimer struct {
	Stroke     drain.Estimate[units.VolumeUnit] `json:"stroke,omitzero"` // unknown if left out
	Efficiency units.Share                      `json:"efficiency"`      // the part of a stroke that fills the void
}

// Waste holds what leaves the shop besides fuel and elements.
type Waste struct {
	Other []WasteItem `json:"other,omitempty" bound:"..100"`
	Drum  *Drum       `json:"drum,omitempty"` // for the drained fuel
	Month *Month      `json:"month,omitempty"`
	Into  string      `json:"into"` // where it goes meanwhile: "closed steel drum, labelled, in the bunded store"
}

// Month is what the site has generated this calendar month and the rules it is counted by.
type Month struct {
	Rules string                         `json:"rules"`          // the name of the rule set, one of package waste's or the reader's own: "US federal"
	SoFar drain.Estimate[units.MassUnit] `json:"soFar,omitzero"` // determined hazardous, before this job; unknown if left out
}

// Drum is a drum and what is in it already.
type Drum struct {
	Capacity units.Volume                     `json:"capacity" bound:">0"` // up to the brim
	Inside   drain.Estimate[units.VolumeUnit] `json:"inside,omitzero"`     // as at FilledAt; unknown if left out
	FilledAt units.Temperature                `json:"filledAt"`            // at which the drained fuel goes in
}

// WasteItem is a stream of waste by mass.
type WasteItem struct {
	What   string                         `json:"what"`
	Stream waste.Stream                   `json:"stream,omitempty"` // which kind of waste it is; left out, it is other waste
	Mass   drain.Estimate[units.MassUnit] `json:"mass,omitzero"`    // unknown if left out
}
