package service

import (
	"cmp"
	"slices"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/enum"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Phase is a part of a page, in the order of the work. Page says for whom: "start" before the work, "card" at a
// station, "prime" from priming until all is back in service, "office", and "numbers" for where the numbers
// come from. Code says which part, the same in every language: "notice" for what the reader must know of the
// whole, "start", "isolate", "parts", "off", "on", "tighten", "signed", "prime", "run", "leaks", "restore",
// "waste", "record", "next", on the last page "station" and "sources", or one added later.
type Phase struct {
	Page    string
	Code    string
	Station *StationPlan // that it is about; nil where it is about all or none
	Steps   []Step
}

// StepKind says what the reader does with a step. It isn't stored.
type StepKind uint8

// The kinds of step.
const (
	ToDo    StepKind = iota + 1 // to be ticked when it is done
	ToKnow                      // to be read
	Detail                      // belongs to the step before it
	Grid                        // a table of the station's figures
	Blank                       // to be filled in by hand, next to the step before it
	Drawing                     // a picture of the station's figures
	Figure                      // what decides: which way, the setting, the turn, the mark to stop at
	Alarm                       // what to do when it goes wrong
)

var stepKinds = enum.New[StepKind]("kind of step", "do", "know", "detail", "table", "blank", "picture", "figure", "alarm")

// String is the word, "do".
func (k StepKind) String() string { return stepKinds.String(k) }

// Step is one thing to do, to know or to write down, as a code and what goes with it. No words of a
// language are in it but those of the job.
type Step struct {
	Message
	Kind   StepKind
	Letter string // of a thing taken out of service: "A"
	Level  Level  // of a hazard; 0 for all else
}

// Steps puts the plan into the order of the work, page by page. What it says in words, and how its
// numbers are rounded for print, is for whoever shows it.
func (p *Plan) Steps() []Phase {
	w := writer{plan: p, rules: p.Rules, page: "start"}
	w.notices(p)
	w.cautions(p)
	w.isolation(p)
	w.parts(p)
	w.page = "card"
	for i := range p.Stations {
		w.station(p, &p.Stations[i])
	}
	w.about, w.page = nil, "prime"
	w.priming(p)
	w.running(p)
	w.leaks(p)
	w.restore(p)
	w.page = "office"
	w.waste(p)
	w.next(p)
	w.record(p)
	w.sources(p)
	sources := w.phases[len(w.phases)-1]
	return append(append(w.phases[:len(w.phases)-1], w.numbers...), sources)
}

// writer adds phases and steps.
type writer struct {
	plan    *Plan
	phases  []Phase
	numbers []Phase // for the last page
	page    string
	about   *StationPlan
	rules   Rules
}

func (w *writer) section(code string) {
	w.phases = append(w.phases, Phase{Page: w.page, Code: code, Station: w.about})
}

// add adds a step to the last phase.
func (w *writer) add(kind StepKind, code string, list []any) *Step {
	return w.phases[len(w.phases)-1].add(kind, code, list)
}

// add adds a step. Code may have a variant behind a slash; list is names and values in turn.
func (p *Phase) add(kind StepKind, code string, list []any) *Step {
	p.Steps = append(p.Steps, Step{Kind: kind, Message: message(code, list...)})
	return &p.Steps[len(p.Steps)-1]
}

func (w *writer) do(code string, list ...any) *Step { return w.add(ToDo, code, list) }
func (w *writer) tell(code string, list ...any)     { w.add(Detail, code, list) }
func (w *writer) know(code string, list ...any)     { w.add(ToKnow, code, list) }
func (w *writer) picture(code string)               { w.add(Drawing, code, nil) }
func (w *writer) blank(code string, list ...any)    { w.add(Blank, code, list) }
func (w *writer) figure(code string, list ...any)   { w.add(Figure, code, list) }
func (w *writer) alarm(code string, list ...any)    { w.add(Alarm, code, list) }
func (w *writer) why(code string, list ...any)      { w.workings().add(ToKnow, code, list) }
func (w *writer) warn(level Level, code string)     { w.add(ToKnow, code, nil).Level = level }

// workings is where the last page says of what is being written.
func (w *writer) workings() *Phase {
	code := w.phases[len(w.phases)-1].Code
	if w.about != nil {
		code = "station"
	}
	if last := len(w.numbers) - 1; last >= 0 && w.numbers[last].Code == code && w.numbers[last].Station == w.about {
		return &w.numbers[last]
	}
	w.numbers = append(w.numbers, Phase{Page: "numbers", Code: code, Station: w.about})
	return &w.numbers[len(w.numbers)-1]
}

func (w *writer) notices(p *Plan) {
	w.section("notice")
	if p.Job.Invented {
		w.know("notice.invented")
	}
	w.know("notice.source", "source", p.Job.Source)
}

func (w *writer) cautions(p *Plan) {
	w.section("start")
	w.know("start.trained")
	for _, code := range []string{"start.automatic", "start.lockout", "start.rolling", "start.running", "start.protection",
		"start.high-pressure", "start.batteries", "start.hot", "start.fire"} {
		w.warn(Warning, code)
	}
	for _, words := range p.Job.Cautions {
		w.know("start.job", "caution", words)
	}
	w.warn(Caution, "start.clean")
	if rules := p.Job.Shop.LocalRules; rules != "" {
		w.know("start.local-rules", "rules", rules)
	} else {
		w.know("start.ask-local-rules")
	}
}

func (w *writer) isolation(p *Plan) {
	w.section("isolate")
	for _, step := range p.Isolation.Out {
		w.lettered(step, "isolate.step/"+p.returns(step), "what", step.What, "how", step.How)
	}
	w.do("isolate.try")
	w.know("isolate.restore-later")
}

// returns is when a thing comes back: for priming, for the start, or with all else.
func (p *Plan) returns(step Isolated) string {
	switch {
	case step.ForPriming && p.Job.Prime.Pump != nil:
		return "priming"
	case step.ForPriming || step.ForStart != "":
		return "start"
	}
	return ""
}

// lettered is a step on a thing that is taken out of service; its letter comes again where it is
// put back.
func (w *writer) lettered(step Isolated, code string, values ...any) {
	w.do(code, values...).Letter = step.Letter
}

func (w *writer) parts(p *Plan) {
	w.section("parts")
	for _, st := range p.Job.Stations {
		for i, part := range st.renewed() {
			w.do(either(i == 0, "parts.element", "parts.seal"), "station", st.ID, "part", part)
		}
	}
	for i := range p.Stations {
		w.tools(p, &p.Stations[i])
	}
	for _, g := range p.Job.Shop.Gauges {
		w.do("parts.gauge", "gauge", g.ID, "until", g.CalibratedUntil)
	}
	w.do("parts.pan", "volume", down(p.Job.Shop.PanHolds))
}

// tools are the wrench of a station and what goes between it and the part.
func (w *writer) tools(p *Plan, sp *StationPlan) {
	id := sp.Station.ID
	if set := sp.set(); set != nil {
		w.do("parts.wrench", "station", id, "wrench", set.Wrench.Name, "dial", set.Setting.Dial, "until", set.Wrench.CalibratedUntil)
	} else if sp.Turn == nil {
		w.do("parts.wrench/any", "station", id, "unit", p.Job.Shop.TorqueUnit)
	}
	if a := sp.Station.Tighten.Adapter; a != nil && given(a.CalibratedUntil) {
		w.do("parts.adapter/until", "station", id, "adapter", a.Name, "until", a.CalibratedUntil)
	} else if a != nil {
		w.do("parts.adapter", "station", id, "adapter", a.Name)
	}
}

// set is the wrench to take and its setting; nil where none is listed, none serves or none is needed.
func (s *StationPlan) set() *WrenchSet {
	if band := s.Band(); band != nil {
		return band.Set
	}
	if s.Sequence != nil {
		return s.Sequence.Nearest
	}
	return nil
}

func (w *writer) station(p *Plan, sp *StationPlan) {
	w.about = sp
	st := sp.Station
	w.section("off")
	w.leftHand(st.Tighten)
	for _, c := range st.Connectors {
		w.do("connector.off", "connector", c)
	}
	w.do("off.relieve/" + either(st.Side == PressureSide, "pressure", ""))
	w.do("off.cool", "limit", down(p.coolBelow()))
	w.blank("record.temperature", "scale", p.scale())
	w.drained(p, sp)
	for _, c := range st.ConnectorsAfterDrain {
		w.do("connector.off/drained", "connector", c)
	}
	w.old(st)
	w.section("on")
	w.element(st)
	w.do("on.drain-closed")
	way := sp.way()
	way.run(w, sp)
	w.section("tighten")
	way.sheet(w, *sp)
	w.section("signed")
	for _, off := range [][]string{st.ConnectorsAfterDrain, st.Connectors} {
		for _, c := range slices.Backward(off) {
			w.do("connector.on", "connector", c)
		}
	}
	w.blank("record.signed")
	if p.Rules.Needs.CheckedBy {
		w.blank("record.checked")
	}
}

// leftHand is above all else where the thread is one.
func (w *writer) leftHand(t Tighten) {
	if t.Thread == turn.LeftHand {
		w.know("station.left-hand", "off", turn.Sense(t.Thread, turn.Loosening, turn.FacingClosedEnd), "on", t.goes(turn.FacingClosedEnd))
	}
}

// coolBelow is from where on fuel is treated as if it were at its flash point: a whole degree, down. It is subtracted in °F, as
// 30 °F have no last digit in °C.
func (p *Plan) coolBelow() units.Temperature {
	below, _ := p.Job.Fuel.LeastFlashPoint.In(units.Fahrenheit).Add(units.FahrenheitDifference.Of(-30)) // hotMargin
	return below.RoundIn(p.scale(), 0, units.ToNegativeInf)
}

// scale is that of the shop's thermometers.
func (p *Plan) scale() units.TemperatureScale {
	if prefer := p.Job.Preferences; prefer != nil && prefer.Temperature != nil {
		return *prefer.Temperature
	}
	return p.Job.Fuel.MeasuredAt.Scale()
}

// drained is the housing emptied, and what came out.
func (w *writer) drained(p *Plan, sp *StationPlan) {
	st := sp.Station
	for _, step := range st.Drain.Steps {
		w.do("drain.step", "step", step)
	}
	unit := units.Litre
	if water := st.Drain.Water; st.Drain.WaterUnknown {
		w.blank("record.water", "unit", unit)
		w.why("drain.water/unknown")
	} else if given(water) {
		w.blank("record.water", "unit", water.Best.Unit())
		w.why("drain.water", "volume", water)
	}
	if unknown := sp.Out.Unknown; unknown != nil {
		w.why("drain.fuel/unknown", "unknown", unknown)
	} else {
		w.why("drain.fuel", "volume", sp.Out.Volume)
		unit = sp.Out.Volume.Best.Unit()
	}
	w.blank("record.fuel"+either(given(p.Job.Shop.JugDeviation), "", "/jug"), "unit", unit, "scale", p.scale())
}

// old is the old part out.
func (w *writer) old(st Station) {
	w.do("old.part/" + oldPart[st.Kind])
	if st.Kind != SpinOnCanister {
		w.blank("record.inside")
	}
	if n := len(st.Seals); n > 0 {
		w.do("old.seals", "count", n)
		w.blank("record.seals")
	}
}

// element is the new part up to tightening.
func (w *writer) element(st Station) {
	for _, seal := range st.Seals {
		if seal.Dry {
			w.do("seal.dry", "where", seal.Where, "part", cmp.Or(seal.PartNo, seal.Part))
		} else {
			w.do("seal.wet", "where", seal.Where, "part", cmp.Or(seal.PartNo, seal.Part), "with", seal.Wet)
		}
	}
	w.fill(st)
}

// fill is the new element up to where it is screwed on: into what the fuel is poured depends on the
// kind, and it is the dirty side in each case, since what is poured past the element isn't filtered.
// Common practice, no source.
func (w *writer) fill(st Station) {
	if st.Kind == SpinOnCanister {
		w.do("fill.plug")
	}
	if st.Fill == FitFilled {
		w.prefill(st)
		return
	}
	w.do("fill.dry/" + either(st.Kind == SpinOnCanister, "canister", ""))
}

func (w *writer) prefill(st Station) {
	if st.Kind == ScrewOnBowl || st.Kind == DropInElement {
		w.do("fill.element")
	}
	into := st.Kind.holder()
	if code := "fill.prefill/" + string(into); given(st.PrefillShare) {
		w.do(code+"-share", "into", into, "share", st.PrefillShare.alone())
	} else {
		w.do(code+"-volume", "into", into, "volume", down(st.PrefillWith))
	}
}

// leaks are looked for three times: at priming pressure, running, and hot.
func (w *writer) leaks(p *Plan) {
	w.section("leaks")
	for _, side := range []Side{PressureSide, SuctionSide} {
		for _, st := range p.Job.Stations {
			if st.Side == side {
				w.do("leaks."+side.String(), "station", st.ID)
				for _, stage := range []string{"primed", "running", "hot"} {
					w.blank("record.leaks/"+stage, "station", st.ID)
				}
			}
		}
	}
	w.alarm("leaks.found")
	w.do("run.stop")
}

func (w *writer) restore(p *Plan) {
	w.section("restore")
	w.do("restore.clear")
	for _, step := range p.Isolation.Back {
		w.lettered(step, either(step.ForPriming, "restore.check", "restore.step"), "what", step.What)
	}
	w.do("restore.reset")
	w.do("restore.label")
	w.blank("record.restored")
	if p.Rules.Needs.Meter {
		w.blank("record.meter")
	}
	w.blank("record.done")
	if p.Rules.Needs.CheckedBy {
		w.blank("record.checked")
	}
}

// waste is a line for each waste, with room for what the scale shows.
func (w *writer) waste(p *Plan) {
	w.section("waste")
	w.know("waste.into", "container", p.Job.Waste.Into)
	for _, line := range p.Waste {
		if line.Unknown != nil {
			w.do("waste.mass/unknown", "waste", line.name(), "stream", line.Stream, "unknown", line.Unknown)
			w.blank("record.weighed", "unit", units.Kilogram)
			continue
		}
		w.do("waste.mass", "waste", line.name(), "mass", computed(Value{Value: line.Mass}), "stream", line.Stream)
		w.blank("record.weighed", "unit", units.Kilogram)
		if line.Volume != nil {
			w.why("waste.volume", "waste", line.name(), "at", p.Job.Fuel.MeasuredAt, "volume", *line.Volume)
		}
		if line.Scale != nil {
			w.why("waste.scale", "waste", line.name(), "mass", *line.Scale)
		}
		w.why("waste.exact", "waste", line.name(), "mass", line.Mass)
	}
	w.know("waste.weigh")
	w.know("waste.determination")
}

// record is what the office files.
func (w *writer) record(p *Plan) {
	w.section("record")
	for _, st := range p.Job.Stations {
		if p.Rules.Needs.Part || p.Rules.Needs.Batch {
			w.blank("record.fitted", "station", st.ID)
		}
		if st.Drain.hasWater() {
			w.blank("record.water-last", "station", st.ID)
		}
	}
	w.blank("record.filed")
}

// next is what has to be had and done for the service after this one.
func (w *writer) next(p *Plan) {
	if p.Due == nil && len(p.Restock) == 0 {
		return
	}
	w.section("next")
	if due := p.Due; due != nil {
		if due.Date != (waste.Date{}) {
			w.know("next.date", "date", due.Date)
		}
		if due.ByCalendar != nil && due.ByUse != nil {
			w.know("next.earlier", "calendar", *due.ByCalendar, "use", *due.ByUse)
		}
		if due.AfterHours > 0 {
			w.know("next.hours", "hours", due.AfterHours)
		}
		if given(due.AfterDistance) {
			w.know("next.distance", "distance", due.AfterDistance)
		}
	}
	if len(p.Restock) > 0 {
		w.do("next.reorder", "parts", p.Restock)
	}
}

// judgedBy tells by which rules the sheet aims.
func (w *writer) judgedBy() {
	r := w.rules
	if r == (Rules{}) {
		w.know("sources.no-rules", "eye", w.rules.eye().Degrees())
		return
	}
	w.know("sources.rules", "rules", r.Name, "torque", r.Torque, "eye", r.Eye.Degrees(), "count", r.Count)
}

func (w *writer) sources(p *Plan) {
	f := p.Job.Fuel
	w.page = "numbers"
	w.section("sources")
	if p.Job.Card != "" {
		w.know("sources.card", "card", p.Job.Card)
	}
	w.know("sources.torque")
	w.judgedBy()
	w.know("sources.estimates")
	w.know("sources.fuel", "grade", f.Grade, "density", f.Density, "density-at", f.densityAt(),
		"measured-at", f.MeasuredAt)
	w.know("sources.scale", "air", weighingAir, "weights", units.KilogramPerCubicMetre.Of(8000))
	w.know("sources.flash", "flash", down(f.LeastFlashPoint), "source", f.FlashSource)
}

// oldPart is the sentence for what comes off with the old part.
var oldPart = map[Kind]string{ScrewOnBowl: "bowl", SpinOnCanister: "canister", DropInElement: "under-cap", InLine: "element"}

// weighingAir is the air that a scale is taken to stand in (OIML D 28, from memory).
var weighingAir = units.MustParseDensity("1.2 kg/m³")
