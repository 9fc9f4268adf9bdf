package service

import (
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// SheetVersion is the version of the JSON form of a [Sheet]: it rises when a field or a code
// changes its meaning or goes away, not when one is added.
const SheetVersion = 1

// Sheet is the work sheet as data: what [Sheet.Text], [Sheet.HTML] and [Sheet.JSON] show. It is
// made by [Plan.Sheet]. Numbers in it are rounded for print; the plan holds the exact ones.
type Sheet struct {
	Version  int       `json:"version"`
	Job      string    `json:"job"`
	Revision int       `json:"revision"`
	Date     Date      `json:"date"`
	Zone     Zone      `json:"zone,omitempty"` // of the date
	Machine  string    `json:"machine"`
	Place    string    `json:"place,omitempty"`
	Invented bool      `json:"invented,omitempty"`
	Notices  []Item    `json:"notices"` // what the reader must know of the sheet as a whole
	Findings []Item    `json:"findings"`
	Sections []Section `json:"sections"` // in the order of the work
}

// Section is a part of the sheet. Code says which, the same in every language: "start", "isolate",
// "parts", "station", "prime", "run", "leaks", "restore", "waste", "record", "next", "sources", or one added later.
type Section struct {
	Number  int    `json:"number"`
	Code    string `json:"code"`
	Station string `json:"station,omitempty"` // the ID of the station that it is about
	Title   string `json:"title"`
	Items   []Item `json:"items"`
}

// ItemKind tells what the reader does with an item.
type ItemKind string

// The kinds of item.
const (
	ToDo    ItemKind = "do"      // a step with a box to tick
	ToKnow  ItemKind = "know"    // to be read
	Detail  ItemKind = "detail"  // belongs to the item before it
	ToHeed  ItemKind = "finding" // a [Finding]
	Grid    ItemKind = "table"
	Blank   ItemKind = "blank" // to be filled in by hand
	Drawing ItemKind = "picture"
)

// Item is one thing on the sheet. A program goes by Code and Values, which are the same in every
// language; Words say the same in English, with a decimal comma where the job asks for one.
type Item struct {
	Kind   ItemKind          `json:"kind"`
	Code   string            `json:"code"`
	Letter string            `json:"letter,omitempty"` // of a thing taken out of service: "A"
	Words  string            `json:"words,omitempty"`
	Values map[string]string `json:"values,omitempty"` // what Words are filled in with, and what goes with it

	Level  string `json:"level,omitempty"`  // of a finding or a hazard: "note", "caution", "warning", "stop"
	Where  string `json:"where,omitempty"`  // of a finding: the path in the job file
	Source string `json:"source,omitempty"` // of a finding: the rule

	Table   *Table   `json:"table,omitempty"`
	Picture *Picture `json:"picture,omitempty"`
}

// Table has a heading for each figure and a column of figures for each case.
type Table struct {
	Heads   []string   `json:"heads"`
	Columns [][]string `json:"columns"` // each as long as Heads
}

// Sheet puts the plan into the order of the work and into words. Estimates are rounded outward,
// bands inward, everything else to nearest even; beside a rounded number stands what it was
// rounded from. Characters that don't print, as only a job made in Go can hold, become "?".
func (p *Plan) Sheet() Sheet {
	j := p.Job
	w := writer{print: j.printer(), rules: p.Rules, sheet: Sheet{
		Version: SheetVersion, Job: clean(j.ID), Revision: j.Revision, Date: j.Date, Zone: j.Zone,
		Machine: clean(j.Machine), Place: clean(j.Place), Invented: j.Invented, Findings: []Item{},
	}}
	w.notices(p)
	w.findings(p)
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
	return w.sheet
}

// clean keeps a reader's terminal or browser from being steered by a job that was made in Go and
// never read.
func clean(text string) string { return strings.Map(printing, text) }

func printing(r rune) rune {
	if plain.Visible(r) {
		return r
	}
	return '?'
}

// writer adds sections and items.
type writer struct {
	sheet Sheet
	print printer
	rules Rules
}

// eye is how far an eye may be out.
func (w *writer) eye() turn.Turn {
	if w.rules == (Rules{}) {
		return noRulesEye
	}
	return w.rules.Eye
}

func (w *writer) section(code, title string) *Section {
	w.sheet.Sections = append(w.sheet.Sections, Section{Number: len(w.sheet.Sections) + 1, Code: code, Title: title})
	return &w.sheet.Sections[len(w.sheet.Sections)-1]
}

func (w *writer) add(item Item) {
	s := &w.sheet.Sections[len(w.sheet.Sections)-1]
	s.Items = append(s.Items, item)
}

// do, tell, know and blank add an item. Words hold {name} where a value of that name goes; values
// are names and values in turn.
func (w *writer) do(code, words string, values ...any) {
	w.add(w.print.item(ToDo, code, words, values...))
}
func (w *writer) tell(code, words string, values ...any) {
	w.add(w.print.item(Detail, code, words, values...))
}
func (w *writer) know(code, words string, values ...any) {
	w.add(w.print.item(ToKnow, code, words, values...))
}
func (w *writer) blank(code, words string, values ...any) {
	w.add(w.print.item(Blank, code, words, values...))
}

// warn adds what may hurt somebody or damage something, with its signal word.
func (w *writer) warn(level Level, code, words string) {
	it := w.print.item(ToKnow, code, words)
	it.Level = strings.ToLower(level.String())
	w.add(it)
}

func (p printer) item(kind ItemKind, code, words string, values ...any) Item {
	it := Item{Kind: kind, Code: code}
	it.Words, it.Values = p.words(words, values...)
	return it
}

// fill puts values in the place of their names, in one pass: a value that looks like a name stays
// as it is.
func fill(words string, values map[string]string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(words, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, after, _ := strings.Cut(rest, "}")
		b.WriteString(values[name])
		words = after
	}
}

func (w *writer) notices(p *Plan) {
	j := p.Job
	if j.Invented {
		w.sheet.Notices = append(w.sheet.Notices, w.print.item(ToKnow, "notice.invented",
			"INVENTED FOR DEMONSTRATION: no figure on this sheet belongs to a real machine."))
	}
	w.sheet.Notices = append(w.sheet.Notices, w.print.item(ToKnow, "notice.source",
		"Figures from: {source}. The maker's instruction, the site's rules and local law govern wherever this sheet differs from them.",
		"source", j.Source))
}

// findings stand with the gravest first.
func (w *writer) findings(p *Plan) {
	for _, level := range []Level{Stop, Warning, Caution, Note} {
		for _, f := range p.Findings {
			if f.Level == level {
				w.sheet.Findings = append(w.sheet.Findings, Item{Kind: ToHeed, Code: f.Code, Words: clean(f.Words), Values: f.Values,
					Level: strings.ToLower(level.String()), Where: f.Where, Source: clean(f.Source)})
			}
		}
	}
}

func (w *writer) cautions(p *Plan) {
	w.section("start", "Before you start")
	w.know("start.trained", "For trained people who are allowed to do this work. Read the maker's instruction and the fuel's safety data sheet first.")
	w.warn(Warning, "start.automatic", "The engine can start by itself: automatic start and remote start off, battery charger off, before anything else. Wait until after-run of the engine's systems has ended.")
	w.warn(Warning, "start.lockout", "Isolate, lock out and tag; keep the key on you; try that the engine can't be started.")
	w.warn(Warning, "start.rolling", "The machine can roll: parking brake on, wheels chocked, attachments down.")
	w.warn(Warning, "start.running", "Running engine: hands, hair, sleeves, tools away from fan and belts, off the hot exhaust.")
	w.warn(Warning, "start.protection", "Eye protection and fuel-proof gloves. Gloves do not stop a jet: never feel for a leak with a hand. Fuel under high pressure goes through skin; that is an emergency for a surgeon at once, however small the wound looks.")
	w.warn(Warning, "start.high-pressure", "Never crack a high-pressure line, not even to bleed it.")
	w.warn(Warning, "start.batteries", "Batteries give off a gas that explodes: no spark or flame near them, no metal on wrists and fingers. Earthed lead off first, on last, unless the maker says otherwise.")
	w.warn(Warning, "start.hot", "Fuel and metal may be hot and under pressure. Let them cool; relieve pressure the maker's way before anything is opened.")
	w.warn(Warning, "start.fire", "No flame, spark, hot work, smoking or hot surface near; air the place; a fire extinguisher for burning liquids within reach.")
	for _, words := range p.Job.Cautions {
		w.know("start.job", "{caution}", "caution", words)
	}
	w.warn(Caution, "start.clean", "Spilt fuel is slippery. Clean round the housings before opening them. Catch and contain what comes out; absorbent ready; nothing into a drain or the ground.")
	if rules := p.Job.Shop.LocalRules; rules != "" {
		w.know("start.local-rules", "Local rules that bind here: {rules}", "rules", rules)
	} else {
		w.know("start.ask-local-rules", "Ask which local rules on fire, fuel and waste bind here.")
	}
}

func (w *writer) isolation(p *Plan) {
	w.section("isolate", "Take out of service, in this order")
	for _, step := range p.Isolation.Out {
		w.lettered(step, "isolate.step", "{what}: {how}", "what", step.What, "how", step.How)
	}
	w.know("isolate.restore-later", "All of it comes back in reverse order after the leak check; the job isn't complete before.")
}

// lettered is a step on a thing that is taken out of service; its letter comes again where it is
// put back.
func (w *writer) lettered(step Isolated, code, words string, values ...any) {
	it := w.print.item(ToDo, code, words, values...)
	it.Letter = step.Letter
	w.add(it)
}

func (w *writer) parts(p *Plan) {
	w.section("parts", "Parts on the bench")
	for _, st := range p.Job.Stations {
		w.do("parts.element", "station {station}: {part}", "station", st.ID, "part", st.Element.Part)
		for _, seal := range st.Seals {
			w.do("parts.seal", "station {station}: {part}", "station", st.ID, "part", seal.Part)
		}
	}
	w.do("parts.pan", "the catch pan that holds {volume}, absorbent, clean lint-free wipes, a thermometer", "volume", w.print.aVolume(p.Job.Shop.PanHolds, units.ToNegativeInf))
}

func (w *writer) station(p *Plan, i int) {
	sp := p.Stations[i]
	st := sp.Station
	w.section("station", clean(fmt.Sprintf("Station %s: %s", st.ID, st.Name))).Station = clean(st.ID)
	if st.Kind == InLine {
		w.tell("station.kind", "An {kind} filter on the {side} side.", "kind", st.Kind, "side", st.Side)
	} else {
		w.tell("station.kind", "A {kind} on the {side} side.", "kind", st.Kind, "side", st.Side)
	}
	if t := st.Tighten; t.Thread == turn.LeftHand {
		w.know("station.left-hand", "LEFT-HAND THREAD: it comes off {off} and goes on {on}, as seen facing the closed end.",
			"off", turn.Sense(t.Thread, turn.Loosening, turn.FacingClosedEnd), "on", t.goes(turn.FacingClosedEnd))
	}
	w.takeOff(st.Connectors, "before draining")
	if water := st.Drain.Water; water != nil {
		w.know("drain.water", "Water comes first, low / best / high: {volume}. Write down how much: more than last time means a tank to look at.",
			"volume", w.print.volumes(*water), "best", water.Best, "low", water.Low, "high", water.High, "from", water.From)
	}
	w.know("drain.fuel", "Fuel out, low / best / high: {volume}.", "volume", w.print.volumes(sp.Out.Volume))
	for _, step := range st.Drain.Steps {
		w.do("drain.step", "{step}", "step", step)
	}
	w.takeOff(st.ConnectorsAfterDrain, "after draining")
	w.element(st)
	sp.way().sheet(w, sp)
	for _, off := range [][]string{st.ConnectorsAfterDrain, st.Connectors} {
		for _, c := range slices.Backward(off) {
			w.do("connector.on", "refit: {connector}", "connector", c)
		}
	}
}

// takeOff lists plugs and hoses where their turn has come: refitted last off, first on.
func (w *writer) takeOff(connectors []string, when string) {
	for _, c := range connectors {
		w.do("connector.off", "{when} take off: {connector}", "connector", c, "when", when)
	}
}

// element is the old part out and the new one in, up to tightening.
func (w *writer) element(st Station) {
	switch st.Kind {
	case ScrewOnBowl:
		w.do("old.bowl", "unscrew the bowl; old element and every old seal out, none left on the head; wipe the head")
	case SpinOnCanister:
		w.do("old.canister", "unscrew the canister; see that the old gasket came off with it; wipe the head")
	case DropInElement:
		w.do("old.under-cap", "unscrew the cap all the way, and only then lift it; old element and every old seal out, none left in the housing; wipe the faces that seal")
	default:
		w.do("old.element", "open it; old element and every old seal out, none left behind; wipe the faces that seal")
	}
	w.do("old.into-waste", "old part and old seals into the waste container; count the seals")
	for _, seal := range st.Seals {
		if seal.Wet == "nothing" {
			w.do("seal.dry", "{where}: fit {part} dry", "where", seal.Where, "part", seal.Part)
		} else {
			w.do("seal.wet", "{where}: wet {part} with {with} and fit it", "where", seal.Where, "part", seal.Part, "with", seal.Wet)
		}
	}
	w.fill(st)
}

// fill is the new element up to where it is screwed on: into what the fuel is poured depends on the
// kind, and it is the dirty side in each case, since what is poured past the element isn't filtered.
// Common practice, no source.
func (w *writer) fill(st Station) {
	plug := func() {
		if st.Kind == SpinOnCanister {
			w.do("fill.plug", "shipping plug and caps out of the new canister before it is fitted")
		}
	}
	if st.Fill != Prefill {
		plug()
		w.do("fill.dry", "fit the new element dry: don't fill it")
		return
	}
	into := map[Kind]string{ScrewOnBowl: "bowl", SpinOnCanister: "canister", DropInElement: "housing"}[st.Kind]
	if into == "" {
		into = "filter"
	}
	amount, values := "{volume} of clean fuel", []any{"into", into}
	if st.PrefillShare != nil {
		amount = "clean fuel up to {share} of what it holds"
		values = append(values, "share", *st.PrefillShare)
	} else {
		values = append(values, "volume", w.print.aVolume(*st.PrefillWith, units.ToNegativeInf))
	}
	switch st.Kind {
	case ScrewOnBowl:
		w.do("fill.element", "fit the new element")
		w.do("fill.prefill", "pour "+amount+" into the {into} before it goes on, nothing into the element", values...)
	case DropInElement:
		w.do("fill.element", "fit the new element")
		w.do("fill.prefill", "pour "+amount+" into the {into}, round the element and never into its middle", values...)
	case SpinOnCanister:
		w.do("fill.prefill", "fill the new {into} with "+amount+", through its dirty side (the outer holes) only; never pour into the clean middle", values...)
		plug()
	default:
		w.do("fill.prefill", "fill the new {into} with "+amount+", through its dirty side (the inlet) only; never pour into the clean side", values...)
	}
}

func (w *writer) picture(p *Picture) {
	if p != nil {
		p.DecimalComma = w.print.comma
		w.add(Item{Kind: Drawing, Code: "picture." + p.Code, Picture: p})
	}
}

func (w *writer) leaks(p *Plan) {
	w.section("leaks", "Look for leaks, at priming pressure, running, and again hot")
	for _, side := range []Side{Pressure, Suction} {
		var ids []string
		for _, st := range p.Job.Stations {
			if st.Side == side {
				ids = append(ids, st.ID)
			}
		}
		names, station := strings.Join(ids, ", "), "station"
		if len(ids) > 1 {
			station = "stations"
		}
		switch {
		case len(ids) == 0:
		case side == Pressure:
			w.do("leaks.pressure", station+" {stations} (pressure side): dry paper round the joint, no hand; wet paper is a leak", "stations", names)
		default:
			w.do("leaks.suction", station+" {stations} (suction side): a leak stays dry and draws air; look for bubbles in the return or a clear line", "stations", names)
		}
	}
	w.know("leaks.found", "A leak: stop the engine; take out of service again; let it cool, relieve the pressure; tighten nothing under pressure, or past what stands here.")
	w.do("run.stop", "stop the engine, and let it cool before anything on it is touched")
}

func (w *writer) restore(p *Plan) {
	w.section("restore", "Back into service, in reverse")
	w.do("restore.clear", "tools, rags and pan out; caps on; area clean")
	for _, step := range p.Isolation.Back {
		if step.ForPriming {
			w.lettered(step, "restore.check", "{what} (back since priming: check)", "what", step.What)
		} else {
			w.lettered(step, "restore.step", "{what}", "what", step.What)
		}
	}
}

func (w *writer) waste(p *Plan) {
	w.section("waste", "Waste")
	w.tell("waste.into", "Into: {container}.", "container", p.Job.Waste.Into)
	w.tell("waste.columns", "Mass, low / best / high:")
	for _, line := range p.Waste {
		w.do("waste.mass", "{what}: {mass}", "what", line.What, "mass", w.print.masses(line.Mass), "stream", line.Stream)
		if line.Volume != nil {
			w.tell("waste.volume", "in volume, at {at}: {volume}", "at", w.print.temperature(p.Job.Fuel.MeasuredAt, units.ToNearestEven), "volume", w.print.volumes(*line.Volume))
		}
		if line.Scale != nil {
			w.tell("waste.scale", "a scale in air shows of it: {mass}", "mass", w.print.masses(*line.Scale))
		}
	}
	w.know("waste.weigh", "Weighed beats estimated: write down what the scale shows, and that it is a scale's reading.")
	w.know("waste.determination", "Whether any of it is hazardous waste is the generator's determination; state and local rules may differ.")
}

func (w *writer) record(p *Plan) {
	w.section("record", "As done")
	w.blank("record.dragged", "stations that dragged while run up, or none")
	for _, st := range p.Stations {
		id := st.Station.ID
		st.way().blanks(w, p, st)
		w.blank("record.fuel", "station {station}: fuel out, at what temperature", "station", id)
		if st.Station.Drain.Water != nil {
			w.blank("record.water", "station {station}: water out, at what temperature", "station", id)
		}
	}
	if p.Prime.Cycles != nil {
		w.blank("record.cycles", "key cycles")
	}
	if p.Prime.Strokes != nil {
		w.blank("record.strokes", "strokes of the hand primer")
	}
	w.blank("record.crank", "cranking, each attempt, and the rest before it")
	for _, side := range []Side{Pressure, Suction} {
		if slices.ContainsFunc(p.Job.Stations, func(s Station) bool { return s.Side == side }) {
			w.blank("record.leaks-"+side.String(), "leaks cold / hot, {side} side", "side", side)
		}
	}
	w.blank("record.scale", "scale readings of the waste")
	w.blank("record.restored", "everything back in service (initials)")
	w.blank("record.done", "done by, date, hours or distance on the meter")
}

// next is what has to be had and done for the service after this one.
func (w *writer) next(p *Plan) {
	if p.Due == nil && len(p.Restock) == 0 {
		return
	}
	w.section("next", "Next service")
	if due := p.Due; due != nil {
		if due.Date != (Date{}) {
			w.know("next.date", "Due by {date}, if this one is done on the planned day.", "date", due.Date)
		}
		if due.ByCalendar != nil && due.ByUse != nil {
			w.know("next.earlier", "That is the earlier of {calendar} by the calendar and {use} by use.", "calendar", due.ByCalendar, "use", due.ByUse)
		}
		if due.AfterHours > 0 {
			w.know("next.hours", "Due after {hours} h more on the meter, whatever the day.", "hours", due.AfterHours)
		}
		if due.AfterDistance != nil {
			w.know("next.distance", "Due after {distance} more on the meter, whatever the day.", "distance", due.AfterDistance)
		}
	}
	if len(p.Restock) > 0 {
		w.do("next.reorder", "reorder: {parts}", "parts", strings.Join(p.Restock, "; "))
	}
}

// judgedBy tells by which rules the sheet aims.
func (w *writer) judgedBy() {
	r := w.rules
	if r == (Rules{}) {
		w.know("sources.no-rules", "No rules are agreed on by which the work is judged: what is aimed at is for an eye good to {eye} either way (common practice, no source), and no pass is promised.",
			"eye", degrees(w.eye()))
		return
	}
	w.know("sources.rules", "Judged by the rules named {rules}: torque {torque}; a turn read to {eye} either way; turns counted to {count}.",
		"rules", r.Name, "torque", r.Torque, "eye", degrees(r.Eye), "count", r.Count)
}

func (w *writer) sources(p *Plan) {
	f := p.Job.Fuel
	w.section("sources", "Where the numbers come from")
	w.know("sources.torque", "Torque: a low limit is rounded up and a high one down, once, from the exact value in the stated unit.")
	w.judgedBy()
	w.know("sources.estimates", "Estimates: low rounded down, best to the nearest, high up; in brackets whether they were weighed, measured, stated or assumed.")
	w.know("sources.fuel", "Fuel: {grade}, {density} at {density-at}. Volume is read at {measured-at}; density there by API MPMS 11.1-2004 (ASTM D1250-04) for refined products.",
		"grade", f.Grade, "density", f.Density, "density-at", w.print.temperature(f.DensityAt, units.ToNearestEven),
		"measured-at", w.print.temperature(f.MeasuredAt, units.ToNearestEven))
	w.know("sources.scale", "A scale in air shows less than the mass: air {air}, weights of {weights}.",
		"air", numbers("1.2 kg/m³"), "weights", numbers("8000 kg/m³"))
	w.know("sources.flash", "Least flash point {flash}: {source}.", "flash", w.print.temperature(f.LeastFlashPoint, units.ToNegativeInf), "source", f.FlashSource)
}
