package service

import (
	"cmp"
	"slices"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/enum"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Phase is a phase of the work, from what is known before it to what is looked up after it. Code says which, the same in every language: "notice" for what the
// reader must know of the whole, "start", "isolate", "parts", "station", "prime", "run", "leaks",
// "restore", "waste", "record", "next", "sources", or one added later.
type Phase struct {
	Code    string
	Station *StationPlan // that it is about; nil where it is about all or none
	Steps   []Step
}

// StepKind tells what the reader does with a step. It isn't stored.
type StepKind uint8

// The kinds of step.
const (
	ToDo    StepKind = iota + 1 // to be ticked when it is done
	ToKnow                      // to be read
	Detail                      // belongs to the step before it
	Grid                        // a table of the station's figures
	Blank                       // to be filled in by hand
	Drawing                     // a picture of the station's figures
)

var stepKinds = enum.New[StepKind]("kind of step", "do", "know", "detail", "table", "blank", "picture")

// String is the word, "do".
func (k StepKind) String() string { return stepKinds.String(k) }

// Step is one thing to do, to know or to write down, as a code and what goes with it. No words of a
// language are in it but those of the job.
type Step struct {
	Kind StepKind
	Code string
	// Variant says which of the sentences of Code fits, "" for the one of that name.
	Variant string
	Letter  string // of a thing taken out of service: "A"
	Level   Level  // of a hazard; 0 for all else
	Values  Values
}

// Value is what stands in a sentence under a name: a quantity, a band, a turn, a date, a number, a
// range such as a [drain.Estimate] of volumes, a list of texts, an error, a text of the job, or a [Word].
type Value struct {
	Name  string
	Value any
	Round units.Rounding // the way it may be rounded for print, so that it stays true
	// Reckoned says that it was worked out and not stated, so that it may have any number of digits.
	Reckoned bool
}

// Values are values by name, in the order in which a sentence has them.
type Values []Value

// Get is the value of a name, nil where there is none.
func (v Values) Get(name string) any {
	for _, value := range v {
		if value.Name == name {
			return value.Value
		}
	}
	return nil
}

// Word is a word of this package, in English, as a name for what another language calls otherwise.
type Word string

func down(v any) Value       { return Value{Value: v, Round: units.ToNegativeInf} }
func up(v any) Value         { return Value{Value: v, Round: units.ToPositiveInf} }
func reckoned(v Value) Value { v.Reckoned = true; return v }

// values makes them of names and values in turn.
func values(list []any) (all Values) {
	for i := 0; i+1 < len(list); i += 2 {
		v, ok := list[i+1].(Value)
		if !ok {
			v.Value = list[i+1]
		}
		v.Name = list[i].(string)
		all = append(all, v)
	}
	return all
}

// Steps puts the plan into the order of the work. What it says in words, and how its numbers are
// rounded for print, is for whoever shows it.
func (p *Plan) Steps() []Phase {
	w := writer{rules: p.Rules}
	w.notices(p)
	w.cautions(p)
	w.isolation(p)
	w.parts(p)
	for i := range p.Stations {
		w.station(p, i)
	}
	w.priming(p)
	w.running(p)
	w.leaks(p)
	w.restore(p)
	w.waste(p)
	w.record(p)
	w.next(p)
	w.sources(p)
	return w.phases
}

// writer adds phases and steps.
type writer struct {
	phases []Phase
	rules  Rules
}

// eye is how far an eye may be out.
func (w *writer) eye() turn.Turn {
	if w.rules == (Rules{}) {
		return noRulesEye
	}
	return w.rules.Eye
}

func (w *writer) section(code string) *Phase {
	w.phases = append(w.phases, Phase{Code: code})
	return &w.phases[len(w.phases)-1]
}

// add adds a step to the last phase. Code may have a variant behind a slash; list is names and values
// in turn.
func (w *writer) add(kind StepKind, code string, list []any) *Step {
	s := &w.phases[len(w.phases)-1]
	step := Step{Kind: kind, Values: values(list)}
	step.Code, step.Variant, _ = strings.Cut(code, "/")
	s.Steps = append(s.Steps, step)
	return &s.Steps[len(s.Steps)-1]
}

func (w *writer) do(code string, list ...any) *Step { return w.add(ToDo, code, list) }
func (w *writer) tell(code string, list ...any)     { w.add(Detail, code, list) }
func (w *writer) know(code string, list ...any)     { w.add(ToKnow, code, list) }
func (w *writer) picture(code string)               { w.add(Drawing, code, nil) }
func (w *writer) blank(code string, list ...any)    { w.add(Blank, code, list) }

// warn adds what may hurt somebody or damage something.
func (w *writer) warn(level Level, code string) { w.add(ToKnow, code, nil).Level = level }

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
	w.warn(Warning, "start.automatic")
	w.warn(Warning, "start.lockout")
	w.warn(Warning, "start.rolling")
	w.warn(Warning, "start.running")
	w.warn(Warning, "start.protection")
	w.warn(Warning, "start.high-pressure")
	w.warn(Warning, "start.batteries")
	w.warn(Warning, "start.hot")
	w.warn(Warning, "start.fire")
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
		w.lettered(step, "isolate.step", "what", step.What, "how", step.How)
	}
	w.know("isolate.restore-later")
}

// lettered is a step on a thing that is taken out of service; its letter comes again where it is
// put back.
func (w *writer) lettered(step Isolated, code string, values ...any) {
	w.do(code, values...).Letter = step.Letter
}

func (w *writer) parts(p *Plan) {
	w.section("parts")
	for _, st := range p.Job.Stations {
		w.do("parts.element", "station", st.ID, "part", numbered(st.Element.PartNo, st.Element.Part))
		for _, seal := range st.Seals {
			w.do("parts.seal", "station", st.ID, "part", numbered(seal.PartNo, seal.Part))
		}
	}
	w.do("parts.pan", "volume", down(p.Job.Shop.PanHolds))
}

func (w *writer) station(p *Plan, i int) {
	sp := p.Stations[i]
	st := sp.Station
	w.section("station").Station = &sp
	if st.Kind == InLine {
		w.tell("station.kind/in-line", "kind", st.Kind, "side", st.Side)
	} else {
		w.tell("station.kind", "kind", st.Kind, "side", st.Side)
	}
	if t := st.Tighten; t.Thread == turn.LeftHand {
		w.know("station.left-hand", "off", turn.Sense(t.Thread, turn.Loosening, turn.FacingClosedEnd), "on", t.goes(turn.FacingClosedEnd))
	}
	for _, c := range st.Connectors {
		w.do("connector.off", "connector", c)
	}
	switch water := st.Drain.Water; {
	case st.Drain.WaterUnknown:
		w.know("drain.water/unknown", "volume", unknownWord)
	case given(water):
		w.know("drain.water", "volume", water)
	}
	if unknown := sp.Out.Unknown; unknown == nil {
		w.know("drain.fuel", "volume", sp.Out.Volume)
	} else {
		w.know("drain.fuel/unknown", "volume", unknownWord, "unknown", unknown)
	}
	for _, step := range st.Drain.Steps {
		w.do("drain.step", "step", step)
	}
	for _, c := range st.ConnectorsAfterDrain {
		w.do("connector.off/drained", "connector", c)
	}
	w.element(st)
	sp.way().sheet(w, sp)
	for _, off := range [][]string{st.ConnectorsAfterDrain, st.Connectors} {
		for _, c := range slices.Backward(off) {
			w.do("connector.on", "connector", c)
		}
	}
}

// element is the old part out and the new one in, up to tightening.
func (w *writer) element(st Station) {
	switch st.Kind {
	case ScrewOnBowl:
		w.do("old.bowl")
	case SpinOnCanister:
		w.do("old.canister")
	case DropInElement:
		w.do("old.under-cap")
	default:
		w.do("old.element")
	}
	w.do("old.into-waste")
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
	if st.Fill == FitFilled {
		w.prefill(st)
	}
	if st.Kind == SpinOnCanister {
		w.do("fill.plug")
	}
	if st.Fill != FitFilled {
		w.do("fill.dry")
	}
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

func (w *writer) leaks(p *Plan) {
	w.section("leaks")
	for _, side := range []Side{PressureSide, SuctionSide} {
		var ids []string
		for _, st := range p.Job.Stations {
			if st.Side == side {
				ids = append(ids, st.ID)
			}
		}
		code := "leaks." + side.String()
		if len(ids) == 1 {
			code += "/one"
		}
		if len(ids) > 0 {
			w.do(code, "stations", ids)
		}
	}
	w.know("leaks.found")
	w.do("run.stop")
}

func (w *writer) restore(p *Plan) {
	w.section("restore")
	w.do("restore.clear")
	for _, step := range p.Isolation.Back {
		if step.ForPriming {
			w.lettered(step, "restore.check", "what", step.What)
		} else {
			w.lettered(step, "restore.step", "what", step.What)
		}
	}
}

func (w *writer) waste(p *Plan) {
	w.section("waste")
	w.tell("waste.into", "container", p.Job.Waste.Into)
	w.tell("waste.columns")
	for _, line := range p.Waste {
		if line.Unknown != nil {
			w.do("waste.mass/unknown", "what", line.What, "mass", unknownWord, "stream", line.Stream, "unknown", line.Unknown)
			continue
		}
		w.do("waste.mass", "what", line.What, "mass", line.Mass, "stream", line.Stream)
		if line.Volume != nil {
			w.tell("waste.volume", "at", p.Job.Fuel.MeasuredAt, "volume", *line.Volume)
		}
		if line.Scale != nil {
			w.tell("waste.scale", "mass", *line.Scale)
		}
	}
	w.know("waste.weigh")
	w.know("waste.determination")
}

// variantIf is the ending of a code that has a variant for this.
func variantIf(is bool, variant string) string {
	if is {
		return "/" + variant
	}
	return ""
}

func (w *writer) record(p *Plan) {
	w.section("record")
	w.blank("record.dragged")
	for _, st := range p.Stations {
		id := st.Station.ID
		st.way().blanks(w, p, st)
		jug := variantIf(!given(p.Job.Shop.JugDeviation), "jug")
		w.blank("record.fuel"+jug, "station", id)
		if st.Station.Drain.hasWater() {
			w.blank("record.water"+jug, "station", id)
		}
	}
	if p.Job.Prime.Pump != nil {
		w.blank("record.cycles")
	}
	if p.Job.Prime.HandPrimer != nil {
		w.blank("record.strokes")
	}
	w.blank("record.crank")
	needs := p.Rules.Needs
	for _, st := range p.Job.Stations {
		w.blank("record.leaks"+variantIf(needs.LeakRunning, "running"), "station", st.ID)
	}
	for _, st := range p.Job.Stations {
		if needs.Part || needs.Batch {
			w.blank("record.fitted", "station", st.ID)
		}
	}
	if needs.Meter {
		w.blank("record.meter")
	}
	if needs.CheckedBy {
		w.blank("record.checked")
	}
	w.blank("record.scale")
	w.blank("record.restored")
	w.blank("record.done")
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
		w.know("sources.no-rules", "eye", w.eye().Degrees())
		return
	}
	w.know("sources.rules", "rules", r.Name, "torque", r.Torque, "eye", r.Eye.Degrees(), "count", r.Count)
}

func (w *writer) sources(p *Plan) {
	f := p.Job.Fuel
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

// weighingAir is the air that a scale is taken to stand in (OIML D 28, from memory).
var weighingAir = units.MustParseDensity("1.2 kg/m³")
