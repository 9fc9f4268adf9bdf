// Package turn answers the most misread instruction of a filter change: gasket contact plus a
// fraction of a turn. Which way, how far, and which mark ends up at the index.
//
// # How far
//
// A [Turn] is an exact fraction of a revolution. [Parse] reads it as it is printed: "3/4", "1¼
// turns", "270°", "2 flats", "three quarters of a turn". "1-1/4" is a mixed number, "3/4-1" a
// range. A number without a unit is refused, since 90 could be anything; a fraction may stand
// alone, since fractions are only used of turns here.
//
// An [Instruction] is a least and a most turn, and the [Datum] they are counted from. The datum
// is part of it. Hand tight isn't gasket contact; from the one to the other it may be half a
// turn, or a whole one. So count from the first contact of the gasket, and refuse an instruction
// that doesn't say ([ErrNoDatum]).
//
// # Which mark
//
// A [Ring] is the marks around a canister, read against an index: a fixed point, chosen on the
// head. Ring 1 2 3 4 5 6 is printed clockwise as one faces the closed end. 2 is at the index
// when the gasket touches. A right-hand thread is tightened clockwise seen from there, so the marks
// come to the index against their order: 1 after a sixth, 6 after a third, 5 after a half, 4 after
// two thirds. Were they printed counterclockwise, it would be 3, 4, 5, 6. That is the whole trap,
// and [Ring.Tighten], [Ring.Passing] and [Ring.Window] handle it for you:
//
//	ring, err := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
//	window, err := ring.Window(turn.Position{Mark: "2"}, instruction, turn.RightHand)
//	place, err := ring.Place(window.Aim, turn.RightHand)
//	// midway between 4 and 3
//
// The place to stop is the middle of the window ([Instruction.Aim]): stopped there, a reading passes
// as long as the window allows what the eye may be out ([Instruction.Allows]). A place between marks
// is said as people say it, "midway between 4 and 3" ([Ring.Place], [Ring.ParsePosition],
// [Ring.Between]); a turn past a mark that reaches the next one is refused, since half of the gap may
// be meant.
//
// The mark must be dead on the index: coming into sight isn't enough. Half the wall is in
// sight at any time, so a mark a quarter of a turn away shows early.
//
// Whole turns can't be seen on a ring: 2 at the index is no turn, one turn, or two.
// [Ring.Turned] gives the part below one and infers nothing. A reading is also only as good as
// the eye, which has to be said (15° is what a bench expects). [Ring.Judge] makes an interval of
// it and answers in the window, short, over or unclear; where the answer hangs on whole turns nobody
// counted, it asks. Over is over: a canister isn't backed off to the mark.
//
// Without printed marks, paint two: [ArcLength] says how far apart.
//
// # Which way
//
// Clockwise means nothing without a [View]. [Sense] says what thread hand and action look like
// from where one stands, along the axis, from beside or in a mirror. The view only renames the
// direction; the order of the labels and the hand of the thread change which mark arrives. A sheet
// that says "loosen clockwise", of a right-hand thread, was written looking from the head side.
//
// # What the thread does
//
// [ParseThread] reads inch and metric designations. [Thread.Advance] is lead times turn. [Thread.JudgeContact] compares the
// turns counted up to contact with those expected: contact a gasket's height early suggests a
// second gasket. [Thread.On] knows that threads which are nearly alike are dangerous in one direction. [Sequence] is the other way to state a turn: torque first, then angles.
//
// # In files
//
// Turns, instructions, sequences and threads are texts in JSON, as they print; a [Ring] is
// an object there, with its labels and their order ([Ring.MarshalJSON]). Enumerations are encoded as
// words.
//
// # What is exact
//
// Turns, places on a ring, leads and judgments are fractions; nothing is decided on a rounded
// number or in floating point. Rounded are only: [Turn.Degrees] of a turn that is no decimal
// number of degrees (30 places), [Thread.Advance] where the lead is no decimal (12 places) and
// [ArcLength] (9 places), each half-even.
//
// # Sharing
//
// No value of this package changes once it is made: goroutines may share turns, instructions,
// sequences, rings and threads.
//
// # What it is not
//
// Nothing here knows a particular filter. How far to turn, the expected turns to contact, the
// tolerance and the height of a gasket come from the manufacturer's instructions, which go before
// everything printed here.
//
// The torque that a sequence begins with is one of package [units]; bands and wrenches are for package
// [example.com/snugturn/torque]. [example.com/snugturn/service] puts a whole job together.
package turn
