package service

import "example.com/snugturn/turn"

// Seat: a part that is tightened until it meets its stop, such as a cap that seats metal to metal.
// What shows it is the gap, closed all round, and the turns where the job counts them. A hand or a
// wrench that stops shows nothing: a crossed thread and a rolled seal stop it too. That is common
// practice, no source.

// SeatPlan says what is closed at the stop, how far away that is, and which torque isn't passed.
type SeatPlan struct {
	Gap   string
	Limit *TorquePlan // the band in which the stop is met; nil where the job states none
	Turns turn.Turn   // from the first thread to the stop; zero where the job doesn't count them
}

// toSeat is a way to tighten: until the part meets its stop.
type toSeat Tighten

func (toSeat) name() string   { return "seat" }
func (t toSeat) stated() bool { return t.Seat != nil }

func (t toSeat) beside() []string {
	if !given(t.Seat.Torque) {
		return []string{"view"}
	}
	return []string{"view", "adapter"}
}

func (t toSeat) how() string {
	return either(given(t.Seat.Torque), "to its stop", "to its stop, with no torque stated")
}

func (t toSeat) takes() []string {
	takes := []string{"seated", "pastStop", "stopTurns"}
	if given(t.Seat.Torque) {
		takes = append(takes, "torque")
	}
	return takes
}

func (toSeat) band(sp *StationPlan) *TorquePlan { return sp.Seat.Limit }

func (toSeat) choose(c chooser) {
	if limit := c.station.Seat.Limit; limit != nil {
		c.band(limit, Caution) // it may do without
	}
}

func (toSeat) find(*Plan, int)                                    {}
func (toSeat) match(*reviewer, string, StationDone, *StationPlan) {}

// run counts the turns from the first thread on, where the job counts them.
func (t toSeat) run(w *writer, sp *StationPlan) {
	w.byHand(sp.Station.Kind)
	if given(t.Seat.StopTurns) {
		w.do("seat.turns", "turns", t.Seat.StopTurns)
		w.blank("record.turns-to-stop")
		w.count()
	}
}

func (toSeat) says(r Rules) []Clause {
	return []Clause{says(message("seat"), practice), says(message("seat.turns", "count", r.Count), practice)}
}

func (t toSeat) check(path string, errs *JobErrors) {
	errs.when(t.Seat.Gap == "", path+".seat.gap", "empty", `what is closed all round at the stop, such as "between cap and housing"`, errMissingField)
}

func (t toSeat) plan(p *Plan, sp *StationPlan, path string, errs *JobErrors) {
	sp.Seat = &SeatPlan{Gap: t.Seat.Gap, Turns: t.Seat.StopTurns}
	if given(t.Seat.Torque) {
		sp.Seat.Limit = p.torque(t.Seat.Torque, path+".seat.torque", errs)
	}
}

func (toSeat) sheet(w *writer, sp StationPlan) {
	s, t := sp.Seat, sp.Station.Tighten
	w.way(t, t.View)
	w.figure("seat.until", "gap", s.Gap)
	w.tell("seat.gap", "gap", s.Gap)
	if s.Limit != nil {
		w.band(s.Limit, t.Adapter)
		w.tell("seat.click")
		w.blankTorque("record.torque", t, s.Limit.Set, s.Limit.unit())
		w.rounded(s.Limit, t.Adapter)
	}
	w.know("seat.look")
	w.blank("record.gap")
	w.alarm("seat.gap-left")
	w.alarm("seat.past-stop")
}

// judge takes the torque where the job states one, the turns where it counts them, and what was seen
// of the gap.
func (t toSeat) judge(r *reviewer, path string, done StationDone, plan *StationPlan) {
	doubt, turns := "", Line{}
	if given(t.Seat.StopTurns) {
		if turns = r.turnsToStop(t.Seat.StopTurns, done, path); turns.Verdict != Pass {
			doubt = "why.in-doubt/stop-turns"
		}
	}
	if given(t.Seat.Torque) {
		atStop := done.Seated != nil && *done.Seated && doubt == ""
		r.torque(t.Seat.Torque, atStop, plan, done, path)
	}
	if turns.Code != "" {
		r.say(turns)
	}
	r.seat(done, path, doubt)
}

// turnsToStop holds the count against the one expected.
func (r *reviewer) turnsToStop(want turn.Turn, done StationDone, path string) Line {
	l := Line{Where: path + ".stopTurns", Code: "stop-turns", Needed: true, Sources: []string{practice},
		Want: message("want.stop-turns", "turns", want, "count", r.rules.Count)}
	if done.StopTurns == nil {
		return l
	}
	l.Found = message("found.turn", "turn", *done.StopTurns)
	switch r.off(*done.StopTurns, want) {
	case 0:
		l.is(Pass, "why.stop-turns/expected")
	case -1:
		l.is(Fail, "why.stop-turns/early")
	default:
		l.is(Fail, "why.stop-turns/late")
	}
	return l
}

// seat judges what was seen of the gap; doubt is the code of what speaks against a gap that was seen closed.
func (r *reviewer) seat(done StationDone, path, doubt string) {
	l := Line{Where: path + ".seated", Code: "seat", Needed: true, Want: message("want.seat"), Sources: []string{practice}}
	saw := "closed"
	switch {
	case done.PastStop:
		saw = "past-stop"
		l.is(Fail, "why.past-stop/seat")
	case done.Seated == nil:
		r.say(l)
		return
	case !*done.Seated:
		saw = "open"
		l.is(Fail, "why.gap-open/seat")
	case dragged(done):
		l.is(Undecided, "why.dragged/seat")
	case doubt != "":
		l.is(Undecided, doubt)
	default:
		l.is(Seated, "why.seated/seat")
	}
	l.Found = message("found.seat/" + saw)
	r.say(l)
}
