package service

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/snugturn/drain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

const sheetWidth = 80

// Text is the work sheet for a terminal or a line printer: 80 columns, no colour, in the order in
// which the work is done. Estimates are rounded outward, bands inward, everything else to nearest
// even; beside a rounded number stands what it was rounded from.
func (p *Plan) Text() string {
	var s sheet
	s.head(p)
	s.findings(p)
	s.cautions(p)
	s.isolation(p)
	s.parts(p)
	for i := range p.Stations {
		s.station(p, i)
	}
	s.priming(p)
	s.leaks(p)
	s.restore(p)
	s.waste(p)
	s.record(p)
	s.notes(p)
	return s.b.String()
}

// sheet writes wrapped lines.
type sheet struct {
	b     strings.Builder
	title int
}

func (s *sheet) rule(mark string) { s.b.WriteString(strings.Repeat(mark, sheetWidth) + "\n") }

// section starts a numbered part.
func (s *sheet) section(format string, args ...any) {
	s.title++
	s.b.WriteByte('\n')
	s.line("", "%d. %s", s.title, strings.ToUpper(fmt.Sprintf(format, args...)))
}

// line writes words behind a lead such as "   [ ] ", wrapped with the following lines indented
// as far as the lead.
func (s *sheet) line(lead, format string, args ...any) {
	words := format
	if len(args) > 0 {
		words = fmt.Sprintf(format, args...)
	}
	words = strings.Map(printing, words)
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	used := utf8.RuneCountInString(lead)
	s.b.WriteString(lead)
	first := true
	for _, word := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' }) {
		n := utf8.RuneCountInString(word)
		switch {
		case first:
		case used+1+n > sheetWidth:
			s.b.WriteString("\n" + indent)
			used = len(indent)
		default:
			s.b.WriteByte(' ')
			used++
		}
		s.b.WriteString(word)
		used += n
		first = false
	}
	s.b.WriteByte('\n')
}

// printing keeps a terminal from being steered by a job that was made in Go and never read.
func printing(r rune) rune {
	if r == ' ' || unicode.IsGraphic(r) {
		return r
	}
	return '?'
}

func (s *sheet) do(format string, args ...any)   { s.line("   [ ] ", format, args...) }
func (s *sheet) tell(format string, args ...any) { s.line("       ", format, args...) }
func (s *sheet) item(format string, args ...any) { s.line("   -   ", format, args...) }

func (s *sheet) head(p *Plan) {
	j := p.Job
	s.rule("=")
	s.line("", "FUEL FILTER SERVICE   job %s, revision %d, planned for %v", j.ID, j.Revision, j.Date)
	s.line("", "%s", strings.Join(slices.DeleteFunc([]string{j.Machine, j.Place}, func(t string) bool { return t == "" }), ", "))
	if j.Invented {
		s.line("", "INVENTED FOR DEMONSTRATION: no figure on this sheet belongs to a real machine.")
	}
	s.line("", "Figures from: %s. The maker's instruction, the site's rules and local law govern wherever this sheet differs from them.", j.Source)
	s.rule("=")
}

func (s *sheet) findings(p *Plan) {
	if len(p.Findings) == 0 {
		return
	}
	s.b.WriteByte('\n')
	for _, level := range []Level{Stop, Caution, Note} {
		for _, f := range p.Findings {
			if f.Level != level {
				continue
			}
			words := f.Words
			if f.Source != "" {
				words += " (" + f.Source + ")"
			}
			s.line(fmt.Sprintf("! %-8s ", f.Level), "%s", words)
		}
	}
}

func (s *sheet) cautions(p *Plan) {
	s.section("Before you start")
	for _, words := range []string{
		"For trained people who are allowed to do this work. Read the maker's instruction and the fuel's safety data sheet first.",
		"The engine can start by itself: automatic start and remote start off, battery charger off, before anything else. Wait until after-run of the engine's systems has ended.",
		"Isolate, lock out and tag; keep the key on you; try that the engine can't be started.",
		"Eye protection and fuel-proof gloves. Gloves do not stop a jet: never feel for a leak with a hand. Fuel under high pressure goes through skin; that is an emergency for a surgeon at once, however small the wound looks.",
		"Batteries give off a gas that explodes: no spark or flame near them, no metal on wrists and fingers.",
		"Fuel and metal may be hot and under pressure. Let them cool; relieve pressure the maker's way before anything is opened.",
		"No flame, spark, hot work, smoking or hot surface near; air the place; a fire extinguisher for burning liquids within reach.",
		"Clean round the housings before opening them. Catch and contain what comes out; absorbent ready; nothing into a drain or the ground.",
	} {
		s.item("%s", words)
	}
	for _, words := range p.Job.Cautions {
		s.item("%s", words)
	}
	if rules := p.Job.Shop.LocalRules; rules != "" {
		s.item("Local rules that bind here: %s", rules)
	} else {
		s.item("Ask which local rules on fire, fuel and waste bind here.")
	}
}

func (s *sheet) isolation(p *Plan) {
	s.section("Take out of service, in this order")
	for i, step := range p.Job.Isolate {
		s.do("%c  %s: %s", letter(i), step.What, step.How)
	}
	s.tell("Restored in reverse in the last step but waste; the job isn't complete before.")
}

func letter(i int) rune { return 'A' + rune(i%26) }

func (s *sheet) parts(p *Plan) {
	s.section("Parts on the bench")
	for _, st := range p.Job.Stations {
		s.do("station %s: %s", st.ID, st.Element.Part)
		for _, seal := range st.Seals {
			s.do("station %s: %s", st.ID, seal.Part)
		}
	}
	s.do("catch pan of at least %v, absorbent, clean lint-free wipes, a thermometer", p.Job.Shop.PanHolds)
}

func (s *sheet) station(p *Plan, i int) {
	sp := p.Stations[i]
	st := sp.Station
	s.section("Station %s: %s", st.ID, st.Name)
	s.tell("A %v on the %v side.", st.Kind, st.Side)
	for _, c := range st.Connectors {
		s.do("take off: %s", c)
	}
	for _, step := range st.Drain.Steps {
		s.do("%s", step)
	}
	if w := st.Drain.Water; w != nil {
		s.tell("Water comes first, about %v (%v to %v, %v). Write down how much: more than last time means a tank to look at.", w.Best, w.Low, w.High, w.From)
	}
	s.tell("Fuel out, low / best / high: %s.", volumes(sp.Out.Volume))
	switch st.Kind {
	case ScrewOnBowl:
		s.do("unscrew the bowl, take the old element and every old seal out")
	case SpinOnCanister:
		s.do("unscrew the canister; see that the old gasket came off with it; wipe the head")
	default:
		s.do("take the old element and every old seal out")
	}
	s.do("old part and old seals into the waste container; count the seals")
	for _, seal := range st.Seals {
		if seal.Wet == "nothing" {
			s.do("%s: fit %s dry", seal.Where, seal.Part)
		} else {
			s.do("%s: wet %s with %s and fit it", seal.Where, seal.Part, seal.Wet)
		}
	}
	if st.Fill == Prefill {
		s.do("fill the new element with %v of clean fuel, through its dirty side only; never pour into the clean side", *st.PrefillWith)
	} else {
		s.do("fit the new element dry: don't fill it")
	}
	if sp.Torque != nil {
		s.torque(sp)
	} else {
		s.turn(sp)
	}
	for _, c := range slices.Backward(st.Connectors) {
		s.do("refit: %s", c)
	}
}

func (s *sheet) torque(sp StationPlan) {
	t := sp.Torque
	s.do("run it up by hand; if it drags, stop: it is cross-threaded or the seal has rolled")
	s.do("tighten: %v", t.Wrench)
	if t.Wrench.String() != t.Stated.String() {
		s.tell("rounded inward from %v, which is %s to %s", t.Stated,
			exactTorque(t.Stated.Low(), t.Wrench.Low().Unit()), exactTorque(t.Stated.High(), t.Wrench.High().Unit()))
	}
	s.tell("On a wrench that reads %v: %v, rounded inward from %v too.", t.Nearby.Low().Unit(), t.Nearby, t.Stated)
	s.tell("Straight on the drive: with an adapter that changes the lever the reading is another one; with a strap or chain wrench it can't be known.")
	s.tell("A wrench that stops proves nothing by itself: see that the gap is closed all round.")
}

func (s *sheet) turn(sp StationPlan) {
	t, marks := sp.Turn, sp.Station.Tighten.Marks
	switch t.Instruction.Datum() {
	case turn.GasketContact:
		s.do("screw it on by hand until the gasket just touches: counting starts there, not at hand-tight")
	case turn.FingerTight:
		s.do("screw it on as far as fingers turn it, no tool: counting starts there")
	default:
		s.do("draw it into firm contact: counting starts there")
	}
	s.do("then further: %v (%s)", t.Instruction, howFar(t.Instruction))
	s.tell("Tightening goes %v as seen facing the closed end, %v as seen from the head side.", t.ClosedEnd, t.HeadSide)
	if marks != nil {
		s.tell("From where you stand, %v, it goes %v. Index: %s. A mark counts when it stands at the index, not when it comes in sight.",
			marks.Seen, turn.Sense(sp.Station.Tighten.Thread, turn.Tightening, marks.Seen), marks.Index)
		s.marks(t.Marks)
	}
	s.tell("Too far is too far: don't turn back to the mark; take it off, fit a new gasket, begin again.")
}

// marks tells for each label at contact which one is at the index at the end: in three rows where
// the labels are short, else a line each.
func (s *sheet) marks(pairs []MarkPair) {
	rows := [3]string{"at the index at contact:", "turn until it is:", "and no further than:"}
	isRange, short := false, len(pairs) <= 8
	for _, m := range pairs {
		isRange = isRange || m.Least != m.Most
		for i, label := range []string{m.AtContact, m.Least.String(), m.Most.String()} {
			short = short && utf8.RuneCountInString(label) <= 5
			rows[i] += strings.Repeat(" ", max(1, 26+6*slices.Index(pairs, m)-utf8.RuneCountInString(rows[i]))) + label
		}
	}
	switch {
	case short && isRange:
		s.b.WriteString("         " + strings.Join(rows[:], "\n         ") + "\n")
	case short:
		s.b.WriteString("         " + strings.Join(rows[:2], "\n         ") + "\n")
	default:
		for _, m := range pairs {
			words := fmt.Sprintf("%s at the index at contact: turn until it is %v", m.AtContact, m.Least)
			if isRange {
				words += fmt.Sprintf(", and no further than %v", m.Most)
			}
			s.line("         ", "%s", words)
		}
	}
}

// exactTorque says whether the digits are all there are.
func exactTorque(t units.Torque, unit units.TorqueUnit) string {
	converted, exact := t.Exact(unit)
	if !exact {
		return digits(converted)
	}
	return converted.String()
}

// howFar is an instruction in degrees.
func howFar(i turn.Instruction) string {
	if i.Least().Compare(i.Most()) == 0 {
		return degrees(i.Least())
	}
	return degrees(i.Least()) + " to " + degrees(i.Most())
}

func degrees(t turn.Turn) string {
	d := t.Degrees()
	if d.Places() > 2 {
		return "about " + numeral(d.Round(2, units.ToNearestEven)) + "°"
	}
	return numeral(d) + "°"
}

// numeral is the number of a quantity, with its places.
func numeral[U units.Unit](q units.Quantity[U]) string {
	return strings.TrimSuffix(q.String(), " "+q.Unit().String())
}

func (s *sheet) priming(p *Plan) {
	prime := p.Job.Prime
	s.section("Prime")
	for i, step := range slices.Backward(p.Job.Isolate) {
		if step.ForPriming {
			s.do("%c  back for priming: %s", letter(i), step.What)
		}
	}
	s.tell("All else stays isolated, automatic start above all.")
	s.tell("To fill, low / best / high: %s.", volumes(prime.Void))
	if c := p.Prime.Cycles; c != nil {
		s.do("key on for %v, off, wait for the pump to stop: %s times", prime.Pump.OnTime, c)
		s.tell("Rounded up to whole cycles from void / (flow x time x share): %v to %v, of which %v fills the void. If it still draws air after %d, stop and look for the cause.",
			prime.Pump.Flow.Low, prime.Pump.Flow.High, prime.Pump.Efficiency, c.Most)
	}
	if c := p.Prime.Strokes; c != nil {
		s.do("hand primer: %s strokes, until it goes stiff", c)
		s.tell("Rounded up from void / (stroke x share): %v to %v a stroke, of which %v fills the void.", prime.HandPrimer.Stroke.Low, prime.HandPrimer.Stroke.High, prime.HandPrimer.Efficiency)
	}
	s.do("crank for at most %v, then rest %v; at most %d attempts", prime.Crank.Limit, prime.Crank.Rest, prime.Crank.Attempts)
	last := p.Prime.Crank[len(p.Prime.Crank)-1]
	s.tell("That is %v of cranking in %v with the rests. No start by then: stop and find the cause.", Duration(last.Cranked), Duration(last.Elapsed))
	s.tell("Look for: %s.", strings.Join(drain.LookFor(), "; "))
}

// String is "3" or "3 (2 to 5)".
func (c Counts) String() string {
	if c.Least == c.Most {
		return fmt.Sprint(c.Best)
	}
	return fmt.Sprintf("%d (%d to %d)", c.Best, c.Least, c.Most)
}

func (s *sheet) leaks(p *Plan) {
	s.section("Look for leaks, at priming pressure, running, and again hot")
	for _, side := range []Side{Pressure, Suction} {
		var ids []string
		for _, st := range p.Job.Stations {
			if st.Side == side {
				ids = append(ids, st.ID)
			}
		}
		if len(ids) == 0 {
			continue
		}
		names := "station " + strings.Join(ids, ", ")
		if side == Pressure {
			s.do("%s (pressure side): dry paper round the joint, no hand; any wet is a leak", names)
		} else {
			s.do("%s (suction side): a leak stays dry and draws air; look for bubbles in the return or a clear line", names)
		}
	}
}

func (s *sheet) restore(p *Plan) {
	s.section("Back into service, in reverse")
	s.do("tools, rags and pan out; caps on; area clean")
	for i, step := range slices.Backward(p.Job.Isolate) {
		words := step.What
		if step.ForPriming {
			words += " (back since priming: check)"
		}
		s.do("%c  %s", letter(i), words)
	}
}

func (s *sheet) waste(p *Plan) {
	s.section("Waste")
	s.tell("Into: %s.", p.Job.Waste.Into)
	s.tell("Mass, low / best / high:")
	for _, w := range p.Waste {
		s.do("%s: %s", w.What, masses(w.Mass))
		if w.Volume != nil {
			s.tell("in volume, at %v: %s", p.Job.Fuel.MeasuredAt, volumes(*w.Volume))
		}
		if w.Scale != nil {
			s.tell("a scale in air shows of it: %s", masses(*w.Scale))
		}
	}
	s.tell("Weighed beats estimated: write down what the scale shows, and that it is a scale's reading.")
	s.tell("Whether any of it is hazardous waste is the generator's determination; state and local rules may differ.")
}

func (s *sheet) record(p *Plan) {
	s.section("As done")
	blank := func(what string) {
		s.line("       ", "%s", what+" "+strings.Repeat("_", max(4, 64-utf8.RuneCountInString(what))))
	}
	for _, st := range p.Stations {
		if st.Torque != nil {
			blank("station " + st.Station.ID + ": torque, with its unit, tool no.")
			blank("station " + st.Station.ID + ": gap closed all round (yes/no)")
		} else {
			blank("station " + st.Station.ID + ": turns from first thread to contact")
			blank("station " + st.Station.ID + ": at the index, contact / end")
		}
		blank("station " + st.Station.ID + ": fuel out, at what temperature")
		if st.Station.Drain.Water != nil {
			blank("station " + st.Station.ID + ": water out")
		}
	}
	if p.Prime.Cycles != nil {
		blank("key cycles")
	}
	if p.Prime.Strokes != nil {
		blank("strokes of the hand primer")
	}
	blank("cranking, each attempt")
	blank("leaks cold / hot, pressure side")
	blank("leaks cold / hot, suction side")
	blank("scale readings of the waste")
	blank("everything back in service (initials)")
	blank("done by, date, hours on the meter")
}

func (s *sheet) notes(p *Plan) {
	f := p.Job.Fuel
	s.section("Where the numbers come from")
	s.item("Torque: a low limit is rounded up and a high one down, once, from the exact value in the stated unit.")
	s.item("Estimates: low rounded down, best to the nearest, high up; in brackets whether they were weighed, measured, stated or assumed.")
	s.item("Fuel: %s, %v at %v. Volume is read at %v; density there by API MPMS 11.1-2004 (ASTM D1250-04) for refined products.", f.Grade, f.Density, f.DensityAt, f.MeasuredAt)
	s.item("A scale in air shows less than the mass: air 1.2 kg/m³, weights of 8000 kg/m³.")
	s.item("Least flash point %v: %s.", f.LeastFlashPoint, f.FlashSource)
	s.rule("=")
}

// volumes prints a range as written, then the other of litres and US gallons.
func volumes(e Volumes) string {
	other := units.USGallon
	if e.Best.Unit() == units.USGallon {
		other = units.Litre
	}
	first := exactly(e)
	if first == "" {
		first = triple(e, e.Best.Unit(), placesFor(e.Best.Unit())) + ", rounded from " + digits(e.Best)
	}
	return fmt.Sprintf("%s (%v); rounded from that, %s", first, e.From, triple(e, other, 2))
}

func masses(e Masses) string {
	text := exactly(e)
	if text == "" || e.Best.Unit() != units.Kilogram {
		text = triple(e, units.Kilogram, 3) + ", rounded from " + digits(e.Best.In(units.Kilogram))
	}
	return fmt.Sprintf("%s (%v); in pounds %s", text, e.From, triple(e, units.Pound, 2))
}

// exactly prints a range whose three values have few places; "" for one that needs rounding.
func exactly[U units.Unit](e drain.Estimate[U]) string {
	unit := e.Best.Unit()
	for _, q := range []units.Quantity[U]{e.Low, e.Best, e.High} {
		if q.Unit() != unit || q.Places() > 3 {
			return ""
		}
	}
	return fmt.Sprintf("%s / %s / %s %v", numeral(e.Low), numeral(e.Best), numeral(e.High), unit)
}

// placesFor is none for small units.
func placesFor(u units.VolumeUnit) int {
	if units.Factor(u, units.Litre).Cmp(tenth) < 0 {
		return 0
	}
	return 2
}

// triple prints low / best / high in a unit, rounded outward.
func triple[U units.Unit](e drain.Estimate[U], unit U, places int) string {
	show := func(q units.Quantity[U], mode units.Rounding) string { return numeral(q.RoundIn(unit, places, mode)) }
	return fmt.Sprintf("%s / %s / %s %v", show(e.Low, units.ToNegativeInf), show(e.Best, units.ToNearestEven), show(e.High, units.ToPositiveInf), unit)
}

// outward is the high end of a range for a warning: two places, rounded up.
func outward(v units.Volume) string { return v.RoundIn(v.Unit(), 2, units.ToPositiveInf).String() }

// digits is a number as it was before rounding, cut after eight places with an ellipsis.
func digits[U units.Unit](q units.Quantity[U]) string {
	if q.Places() <= 8 {
		return q.String()
	}
	cut := q.Abs().Round(8, units.ToNegativeInf)
	return fmt.Sprintf("%s… %v", numeral(cut), q.Unit())
}
