package service

import (
	"fmt"

	"example.com/snugturn/turn"
)

// Seat: a part that is tightened until it meets its stop, such as a cap that seats metal to metal.
// What shows it is the gap, closed all round, and the turns where the job counts them. A hand or a
// wrench that stops shows nothing: a crossed thread and a rolled seal stop it too. That is common
// practice, no source.

// SeatPlan tells what is closed at the stop, how far away that is, and which torque isn't passed.
type SeatPlan struct {
	Gap       string
	Limit     *TorquePlan   // the band in which the stop is met; nil where the job states none
	Turns     turn.Turn     // from the first thread to the stop; zero where the job doesn't count them
	ClosedEnd turn.Rotation // the way to tighten, facing the closed end
	HeadSide  turn.Rotation // the same, seen from the head side
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
	if !given(t.Seat.Torque) {
		return "to its stop, with no torque stated"
	}
	return "to its stop"
}

func (t toSeat) takes() []string {
	takes := []string{"seated", "pastStop", "stopTurns"}
	if given(t.Seat.Torque) {
		takes = append(takes, "torque")
	}
	return takes
}

func (t toSeat) plan(p *Plan, sp *StationPlan, path string, errs *JobErrors) {
	sp.Seat = p.seat(Tighten(t), path, errs)
}

func (toSeat) band(sp *StationPlan) *TorquePlan { return sp.Seat.Limit }

func (toSeat) choose(c chooser) {
	if limit := c.station.Seat.Limit; limit != nil {
		c.band(limit, Caution) // it may do without
	}
}

func (toSeat) find(*Plan, int)                                    {}
func (toSeat) sheet(w *writer, sp StationPlan)                    { w.seat(sp) }
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

func (p *Plan) seat(t Tighten, path string, errs *JobErrors) *SeatPlan {
	s := &SeatPlan{
		Gap:       t.Seat.Gap,
		Turns:     t.Seat.StopTurns,
		ClosedEnd: t.goes(turn.FacingClosedEnd),
		HeadSide:  t.goes(turn.FromHeadSide),
	}
	if given(t.Seat.Torque) {
		s.Limit = p.torque(t.Seat.Torque, path+".seat.torque", errs)
	}
	return s
}

func (w *writer) seat(sp StationPlan) {
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
	doubt := ""
	var turns []Line
	if given(t.Seat.StopTurns) {
		turns = append(turns, r.turnsToStop(t.Seat.StopTurns, done, path))
		if turns[0].Verdict != Pass {
			doubt = "the gap was seen closed, and the turns to the stop don't show that it is the true one"
		}
	}
	if given(t.Seat.Torque) {
		atStop := done.Seated != nil && *done.Seated && doubt == ""
		r.torque(t.Seat.Torque, atStop, plan, done, path)
	}
	for _, l := range turns {
		r.say(l)
	}
	r.seat(done, path, doubt)
}

// turnsToStop holds the count against the one expected, as turn.Thread.JudgeContact does.
func (r *reviewer) turnsToStop(want turn.Turn, done StationDone, path string) Line {
	l := Line{Where: path + ".stopTurns", Code: "stop-turns", Needed: true, Sources: []string{practice},
		WantText: fmt.Sprintf("%v from the first thread to the stop, give or take %v", want, r.rules.Count)}
	if done.StopTurns == nil {
		l.Verdict, l.ReasonText = NotRecorded, "nobody counted the turns to the stop"
		return l
	}
	l.FoundText = done.StopTurns.String()
	off := done.StopTurns.Rat()
	off.Sub(off, want.Rat())
	switch early := off.Sign() < 0; {
	case off.Abs(off).Cmp(r.rules.Count.Rat()) <= 0:
		l.Verdict, l.ReasonText = Pass, "as many as expected"
	case early:
		l.Verdict, l.ReasonText = Fail, "stopped early: take it off and look for a crossed thread, a rolled seal or a second one"
	default:
		l.Verdict, l.ReasonText = Fail, "stopped late: take it off and look for a seal that is missing, a thread that has given way, or another part"
	}
	return l
}

// seat judges what was seen of the gap; doubt says what speaks against a gap that was seen closed.
func (r *reviewer) seat(done StationDone, path, doubt string) {
	l := Line{Where: path + ".seated", Code: "seat", Needed: true, WantText: "the gap closed all round", Sources: []string{practice}}
	switch {
	case done.PastStop:
		l.Verdict, l.FoundText, l.ReasonText = Fail, "turned past its stop", "turned on past its stop"
	case done.Seated == nil:
		l.Verdict, l.ReasonText = NotRecorded, "nobody wrote down whether the gap closed"
	case !*done.Seated:
		l.Verdict, l.FoundText, l.ReasonText = Fail, "gap not closed", "it stopped with a gap: "+clickRemedy+"; a crossed thread and a rolled seal stop it too"
	case dragged(done):
		l.Verdict, l.FoundText, l.ReasonText = Undecided, "gap closed all round", "it dragged while it was run up, so that the closed gap alone proves nothing"
	case doubt != "":
		l.Verdict, l.FoundText, l.ReasonText = Undecided, "gap closed all round", doubt
	default:
		l.Verdict, l.FoundText, l.ReasonText = Seated, "gap closed all round", "the gap was seen closed all round"
	}
	r.say(l)
}
