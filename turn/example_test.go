package turn_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// The whole idea: which mark is at the index when the turn is done, and which way it goes.
// The ring is invented.
func Example() {
	ring, err := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact")
	contact, _ := ring.At("2")
	window, _ := ring.Window(contact, in, turn.RightHand)
	fmt.Println("turn", turn.Sense(turn.RightHand, turn.Tightening, turn.FacingClosedEnd), turn.FacingClosedEnd)
	words, _ := ring.Place(window.Aim, turn.RightHand)
	fmt.Println("stop", words)
	// Output:
	// turn clockwise facing the closed end
	// stop midway between 4 and 3
}

func ExampleParse() {
	for _, text := range []string{"3/4", "1-1/4 turns", "270°", "2 flats", "three quarters of a turn"} {
		t, err := turn.Parse(text)
		fmt.Println(t, err)
	}
	_, err := turn.Parse("90")
	fmt.Println(err)
	// Output:
	// 3/4 turn <nil>
	// 1 1/4 turns <nil>
	// 3/4 turn <nil>
	// 1/3 turn <nil>
	// 3/4 turn <nil>
	// turn "90" at byte 2: a number without its unit; want turns, degrees or flats after it
}

func ExampleOf() {
	t, err := turn.Of(6, 8)
	fmt.Println(t, err)
	_, err = turn.Of(0, 0)
	var bad *units.ParseError
	fmt.Println(errors.As(err, &bad), errors.Is(err, units.ErrRange))
	fmt.Println(err)
	// Output:
	// 3/4 turn <nil>
	// true true
	// turn "0/0": the denominator is zero; want 0 to 100 turns in parts no finer than a millionth
}

func ExampleTurn() {
	t := turn.MustParse("3/4")
	fmt.Println(t.Degrees(), "is", t.Rat(), "of a turn")
	sum, _ := t.Add(turn.MustOf(1, 2))
	rest, _ := sum.Sub(t)
	fmt.Println(sum, rest, t.Compare(rest))
	// Output:
	// 270° is 3/4 of a turn
	// 1 1/4 turns 1/2 turn 1
}

// A turn is text wherever it is stored: a bare number would lose its unit.
func ExampleTurn_MarshalText() {
	data, _ := json.Marshal(turn.MustParse("3/4"))
	fmt.Println(string(data))
	var t turn.Turn
	fmt.Println(json.Unmarshal([]byte(`"270°"`), &t), t)
	fmt.Println(t.UnmarshalText([]byte("half a turn")), t)
	text, _ := t.MarshalText()
	more, _ := t.AppendText([]byte("tighten "))
	stored, _ := t.Value()
	fmt.Println(string(text), "|", string(more), "|", stored, "|", t.LogValue())
	fmt.Println(t.Scan(int64(1)))
	// Output:
	// "3/4 turn"
	// <nil> 3/4 turn
	// <nil> 1/2 turn
	// 1/2 turn | tighten 1/2 turn | 1/2 turn | 1/2 turn
	// turn "1": not text but int64; want text such as "3/4 turn"
}

func ExampleParseInstruction() {
	in, err := turn.ParseInstruction("After gasket contact, tighten a further ¾–1 turn")
	fmt.Println(in, err)
	fmt.Println(in.Least(), "|", in.Most(), "|", in.Datum())
	_, err = turn.ParseInstruction("3/4 turn")
	fmt.Println(errors.Is(err, turn.ErrNoDatum), err)
	// Output:
	// 3/4 to 1 turn after gasket contact <nil>
	// 3/4 turn | 1 turn | gasket contact
	// true instruction "3/4 turn" at byte 8: no datum: it doesn't say where the turn is counted from; it could be gasket contact or finger tight or snug
}

func ExampleInstruction_Widen() {
	half := turn.MustParse("1/2")
	in, _ := turn.NewInstruction(half, half, turn.Snug)
	in, err := in.Widen(turn.MustParse("30°"), turn.MustParse("30°"))
	fmt.Println(in, err)
	// Output:
	// 5/12 to 7/12 turn after snug <nil>
}

func ExampleInstruction_MarshalText() {
	in := turn.MustParseInstruction("3/4 turn after contact")
	text, _ := in.MarshalText()
	more, _ := in.AppendText([]byte("tighten "))
	stored, _ := in.Value()
	fmt.Println(string(text), "|", string(more), "|", stored, "|", slog.Any("in", in).Value.Resolve(), "|", in.LogValue())
	var read turn.Instruction
	fmt.Println(read.UnmarshalText(text), read == in)
	fmt.Println(json.Unmarshal([]byte(`"½ turn after snug"`), &read), read)
	fmt.Println(json.Unmarshal([]byte(`null`), &read))
	fmt.Println(read.Scan("2 flats from finger tight"), read)
	// Output:
	// 3/4 turn after gasket contact | tighten 3/4 turn after gasket contact | 3/4 turn after gasket contact | 3/4 turn after gasket contact | 3/4 turn after gasket contact
	// <nil> true
	// <nil> 1/2 turn after snug
	// instruction "null": null is not accepted; want text such as "3/4 turn after gasket contact"
	// <nil> 1/3 turn after finger tight
}

func ExampleNewRing() {
	_, err := turn.NewRing([]string{"A", "B", "b"}, turn.Clockwise)
	fmt.Println(err)
	// Labels that read from left to right on a canister that hangs closed end down are clockwise, facing the closed end:
	ring, err := turn.NewRing([]string{"1", "2", "3"}, turn.Clockwise)
	fmt.Println(ring.Labels(), err)
	// Output:
	// ring "b": differs from "B" by its case alone; want 2 to 360 labels, all different
	// [1 2 3] <nil>
}

func ExampleNewRingAt() {
	ring, err := turn.NewRingAt([]turn.Mark{{Label: "FULL", At: turn.Turn{}}, {Label: "3/4", At: turn.MustParse("270°")}}, turn.Clockwise)
	fmt.Println(ring.Labels(), err)
	// Output:
	// [FULL 3/4] <nil>
}

func ExampleRing_Tighten() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	start, _ := ring.At("5")
	end, _ := ring.Tighten(start, turn.MustParse("1 1/12 turns"), turn.RightHand)
	fmt.Println(end)
	words, _ := ring.Place(end, turn.RightHand)
	fmt.Println(words)
	seen, _ := ring.Turned(start, end, turn.RightHand)
	fmt.Println("seen on the ring:", seen)
	back, _ := ring.Loosen(end, turn.MustParse("1 1/12 turns"), turn.RightHand)
	fmt.Println("back:", back, back == start)
	// Output:
	// 1/12 turn past 5, after the start came round once
	// midway between 5 and 4, after the start came round once
	// seen on the ring: 1/12 turn
	// back: 5 true
}

func ExampleRing_Passing() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	passages, _ := ring.Passing(turn.Position{Mark: "2"}, turn.MustParse("2/3"), turn.RightHand)
	for _, p := range passages {
		fmt.Println(p.Label, "after", p.At)
	}
	// Output:
	// 1 after 1/6 turn
	// 6 after 1/3 turn
	// 5 after 1/2 turn
	// 4 after 2/3 turn
}

// The marks are on the head and the index is a paint mark on the canister: they pass in the
// other order.
func ExampleRing_OnHead() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	end, _ := ring.OnHead().Tighten(turn.Position{Mark: "2"}, turn.MustParse("2/3"), turn.RightHand)
	fmt.Println(end)
	// Output:
	// 6
}

func ExampleRing_Between() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	p, err := ring.Between("1", "2", turn.Part{}, turn.RightHand) // in either order, half way
	fmt.Println(p, err)
	third, err := turn.ParsePart("1/3")
	fmt.Println(third, err)
	p, _ = ring.Between("2", "1", third, turn.RightHand) // counted from 2
	words, _ := ring.Place(p, turn.RightHand)
	fmt.Println(words)
	_, err = ring.Between("2", "4", turn.Part{}, turn.RightHand)
	fmt.Println(err)
	// Output:
	// 1/12 turn past 2 <nil>
	// 1/3 <nil>
	// 1/3 of the way from 2 to 1
	// position "2, 4": no neighbours: while tightening, 1 follows 2 and 3 follows 4; want two marks with none between them
}

func ExampleRing_ParsePosition() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	for _, text := range []string{"2", "between 1 and 2", "1/3 of the way from 2 to 1", "1/2 turn past 2"} {
		p, err := ring.ParsePosition(text, turn.RightHand)
		fmt.Println(p, err)
	}
	// Output:
	// 2 <nil>
	// 1/12 turn past 2 <nil>
	// 1/18 turn past 2 <nil>
	// 1/2 turn past 2 position "1/2 turn past 2": reaches 1, the next mark, after 1/6 turn; want less than 1/6 turn past 2; did you mean half of the gap? Write "between 2 and 1"
}

// A share is a text in JSON, and half where nothing is said.
func ExamplePart() {
	quarter, err := turn.ParsePart("a quarter")
	text, _ := json.Marshal(quarter)
	more, _ := quarter.AppendText([]byte("at "))
	plain, _ := quarter.MarshalText()
	fmt.Println(string(text), string(more), string(plain), err)
	var share turn.Part
	fmt.Println(share)
	fmt.Println(share.UnmarshalText([]byte("two thirds of the way")), share)
	// Output:
	// "1/4" at 1/4 1/4 <nil>
	// 1/2
	// <nil> 2/3
}

// Done as printed passes: stop in the middle of the window, and the reading may be out by half of it.
func ExampleInstruction_Aim() {
	in := turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact")
	aim, err := in.Aim()
	fmt.Println(aim, err, in.Allows(turn.MustParse("15°")), in.Allows(turn.MustParse("1/6 turn")))
	// Output:
	// 3/4 turn <nil> true false
}

func ExampleRing_Judge() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	in := turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact")
	contact, _ := ring.At("2")
	now, _ := ring.Between("4", "3", turn.Part{}, turn.RightHand)
	seen := turn.Reading{From: contact, To: now, Eye: turn.MustParse("10°"), Counted: true}
	finding, _ := ring.Judge(in, seen, turn.RightHand)
	fmt.Println(finding.Reach, "from", finding.Least, "to", finding.Most)
	seen.Counted = false
	finding, _ = ring.Judge(in, seen, turn.RightHand)
	fmt.Println(finding.Reach, finding.ByPasses)
	// Output:
	// in the window from 13/18 turn to 7/9 turn
	// unclear [in the window over]
}

func ExampleSense() {
	for _, view := range []turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.BesideClosedEndDown, turn.BesideClosedEndDown.Mirrored()} {
		fmt.Println(view, "→", turn.Sense(turn.RightHand, turn.Tightening, view))
	}
	// Output:
	// facing the closed end → clockwise
	// from the head side → counterclockwise
	// from beside, closed end down → left to right
	// from beside, closed end down, in a mirror → right to left
}

// A ring in JSON has its marks in clockwise order; where they are not evenly spaced, with their places.
func ExampleRing_MarshalJSON() {
	ring, _ := turn.NewRing([]string{"N", "E", "S"}, turn.Counterclockwise)
	data, err := json.Marshal(ring)
	fmt.Println(string(data), err)
	var read turn.Ring
	fmt.Println(json.Unmarshal(data, &read), read)

	err = json.Unmarshal([]byte(`{"marks":[{"label":"1","at":"0 turns"},{"label":"2","at":"90°"}],"order":"clockwise","onHead":true}`), &read)
	fmt.Println(err, read)
	fmt.Println(json.Unmarshal([]byte(`{"labels":["A","a"],"order":"clockwise"}`), &read))
	fmt.Println(read.LogValue())
	// Output:
	// {"labels":["N","S","E"],"order":"clockwise"} <nil>
	// <nil> N, S, E clockwise
	// <nil> 1 at 0 turns, 2 at 1/4 turn clockwise, on the head
	// ring "a": differs from "A" by its case alone; want 2 to 360 labels, all different
	// 1 at 0 turns, 2 at 1/4 turn clockwise, on the head
}

// The small types are words in JSON; a value that was never set is refused.
func Example_words() {
	type sheet struct {
		Hand   turn.Hand
		Action turn.Action
		Seen   turn.Rotation
		View   turn.View
		Datum  turn.Datum
	}
	data, err := json.Marshal(sheet{turn.RightHand, turn.Tightening, turn.Clockwise, turn.FacingClosedEnd, turn.GasketContact})
	fmt.Println(string(data), err)
	var s sheet
	fmt.Println(json.Unmarshal([]byte(`{"Hand":"LH","Action":"loosen","Seen":"CCW","View":"from the head side","Datum":"hand tight"}`), &s), s)
	_, err = turn.View(0).MarshalText()
	fmt.Println(err)
	// Output:
	// {"Hand":"right hand","Action":"tightening","Seen":"clockwise","View":"facing the closed end","Datum":"gasket contact"} <nil>
	// <nil> {left hand loosening counterclockwise from the head side finger tight}
	// view "View(0)": unknown value; want facing the closed end, from the head side, "from beside, closed end down", "from beside, closed end up", "facing the closed end, in a mirror", "from the head side, in a mirror", "from beside, closed end down, in a mirror" or "from beside, closed end up, in a mirror"
}

// Findings are words in a record.
func ExampleReach() {
	var v turn.Reach
	fmt.Println(v.UnmarshalText([]byte("over")), v)
	text, err := v.MarshalText()
	fmt.Println(string(text), err)
	// Output:
	// <nil> over
	// over <nil>
}

func ExampleParseThread() {
	th, err := turn.ParseThread("13/16-16 UNF")
	fmt.Println(th, err, "·", "written", th.Misnamed())
	fmt.Println(th.Lead(), "mm a turn,", th.Diameter(), "mm across ·", th.Hand())
	fmt.Println(th.Advance(turn.MustParse("3/4")))
	var again turn.Thread
	text, _ := th.MarshalText()
	fmt.Println(string(text), again.UnmarshalText(text))
	// Output:
	// 13/16-16 UN <nil> · written UNF
	// 127/80 mm a turn, 1651/80 mm across · right hand
	// 1.190625 mm
	// 13/16-16 UN <nil>
}

// Contact came after 2 1/4 turns where 4 1/2 were expected: two gaskets, likely.
func ExampleThread_JudgeContact() {
	th := turn.MustParseThread("1-14 UNS")
	count, err := th.JudgeContact(turn.MustParse("4 1/2"), turn.MustParse("2 1/4"), turn.MustParse("1/4"), units.MustParseLength("4.0 mm"))
	fmt.Println(count, err)
	name, _ := count.Contact.MarshalText()
	fmt.Println(count.Contact != turn.ContactExpected, string(name))
	var c turn.Contact
	fmt.Println(c.UnmarshalText([]byte("gasket likely missing")), c)
	// Output:
	// early by 2 1/4 turns, 4.082 mm: second gasket likely; stop and look <nil>
	// true second gasket likely
	// <nil> gasket likely missing
}

func ExampleThread_On() {
	inch, metric := turn.MustParseThread("13/16-16 UN"), turn.MustParseThread("M20x1.5")
	fmt.Println("inch canister, metric stud:", inch.On(metric))
	fmt.Println("metric canister, inch stud:", metric.On(inch))
	text, _ := inch.On(inch).MarshalText()
	var fit turn.Match
	fmt.Println(string(text), fit.UnmarshalText(text), fit == turn.Fits)
	// Output:
	// inch canister, metric stud: may spin home and let go
	// metric canister, inch stud: should not start
	// fits <nil> true
}

// Torque, then turns. Source: tm-10-3930-669.
func ExampleParseSequence() {
	s, err := turn.ParseSequence("40 N·m then 45° + 45° + 45° + 30°")
	fmt.Println(s, err)
	fmt.Println(s.Torque(), s.Stages(), s.Cumulative())
	again, _ := turn.NewSequence(s.Torque(), s.Stages()...)
	fmt.Println(again.Cumulative()[3].Degrees())
	// Output:
	// 40 N·m then 1/8 turn + 1/8 turn + 1/8 turn + 1/12 turn <nil>
	// 40 N·m [1/8 turn 1/8 turn 1/8 turn 1/12 turn] [1/8 turn 1/4 turn 3/8 turn 11/24 turn]
	// 165°
}

// A sequence is one text in JSON, in a database and in a log.
func ExampleSequence_MarshalText() {
	s, _ := turn.ParseSequence("40 N·m then 45° + 45°")
	text, _ := s.MarshalText()
	more, _ := s.AppendText([]byte("bolt: "))
	stored, _ := s.Value()
	fmt.Println(string(text), "|", string(more), "|", stored, "|", s.LogValue())
	var read turn.Sequence
	fmt.Println(read.UnmarshalText(text), read.Stages())
	fmt.Println(json.Unmarshal([]byte(`"30 ft-lb then 90°"`), &read), read)
	fmt.Println(read.Scan("25 N·m then 60°"), read)
	// Output:
	// 40 N·m then 1/8 turn + 1/8 turn | bolt: 40 N·m then 1/8 turn + 1/8 turn | 40 N·m then 1/8 turn + 1/8 turn | 40 N·m then 1/8 turn + 1/8 turn
	// <nil> [1/8 turn 1/8 turn]
	// <nil> 30 ft-lb then 1/4 turn
	// <nil> 25 N·m then 1/6 turn
}

// No marks are printed: two paint marks, a quarter of the wall apart.
func ExampleArcLength() {
	arc, err := turn.ArcLength(units.MustParseLength("110 mm"), turn.MustParse("1/4"))
	fmt.Println(arc.Round(0, units.ToNearestEven), err)
	// Output:
	// 86 mm <nil>
}

// A drawing with the index at the top has each mark clockwise from there.
func ExampleRing_Around() {
	ring, _ := turn.NewRing([]string{"1", "2", "3", "4"}, turn.Clockwise)
	fmt.Println(ring.Around(turn.Position{Mark: "2"}, turn.MustOf(1, 4), turn.RightHand, turn.FacingClosedEnd))
	// Output: [{1 0 turns} {2 1/4 turn} {3 1/2 turn} {4 3/4 turn}] <nil>
}

// A turn that was counted needs no marks.
func ExampleInstruction_Judge() {
	in := turn.MustParseInstruction("2/3 to 5/6 turn after gasket contact")
	for _, turned := range []string{"3/4 turn", "0.7 turn", "1 turn"} {
		finding, err := in.Judge(turn.MustParse(turned), turn.MustParse("15°"))
		fmt.Println(finding.Reach, "from", finding.Least, "to", finding.Most, err)
	}
	// Output:
	// in the window from 17/24 turn to 19/24 turn <nil>
	// unclear from 79/120 turn to 89/120 turn <nil>
	// over from 23/24 turn to 1 1/24 turns <nil>
}

func ExampleRing_Position() {
	ring, _ := turn.NewRing([]string{"N", "E", "S", "W"}, turn.Clockwise)
	for _, place := range []turn.Place{{Mark: "W"}, {Mark: "W", Next: "S"}, {Mark: "W", Past: turn.MustParse("1/16 turn"), Passes: 1}, {Mark: "F"}} {
		at, err := ring.Position(place, turn.RightHand)
		fmt.Println(at, err)
	}
	// Output:
	// W <nil>
	// 1/8 turn past W <nil>
	// 1/16 turn past W, after the start came round once <nil>
	//  ring "F": no such mark; want N, E, S, W
}

func ExampleSequence_Widen() {
	s, _ := turn.ParseSequence("40 N·m then 45° + 90°")
	each, whole, err := s.Widen(turn.MustParse("5°"), turn.MustParse("10°"))
	fmt.Println(each, err)
	fmt.Println(whole)
	// Output:
	// [1/9 to 11/72 turn after snug 17/72 to 5/18 turn after snug] <nil>
	// 25/72 to 31/72 turn after snug
}
