package turn

import (
	"strings"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// Hand is the hand of a thread. The zero value is neither.
type Hand uint8

// The hands of a thread.
const (
	RightHand Hand = iota + 1 // moves away from who turns it clockwise
	LeftHand                  // marked LH
)

// Action is what is done to the thread. The zero value is neither.
type Action uint8

// The actions.
const (
	Tightening Action = iota + 1
	Loosening
)

// Rotation is a direction of rotation as it is seen from some [View]. The zero value is none.
type Rotation uint8

// The rotations: two seen along the axis, two seen from beside, where the near wall moves.
const (
	Clockwise Rotation = iota + 1
	Counterclockwise
	LeftToRight
	RightToLeft
)

// View is where the eye is. The zero value is nowhere: clockwise means nothing without a view.
type View uint8

// The views. A canister's closed end is the end away from its head.
const (
	FacingClosedEnd     View = iota + 1 // looking along the axis at the closed end, toward the head
	FromHeadSide                        // looking along the axis from the head toward the closed end
	BesideClosedEndDown                 // looking at the wall of a canister that hangs below its head
	BesideClosedEndUp                   // looking at the wall of a canister that stands on its head
)

// inMirror is the bit that Mirrored sets.
const inMirror View = 8

// Mirrored is the same view in a mirror, where every direction is reversed; twice is direct again.
func (v View) Mirrored() View { return v ^ inMirror }

// Datum is what a turn is counted from. The zero value is nothing.
type Datum uint8

// The data.
const (
	GasketContact Datum = iota + 1 // the gasket first touches its seat
	FingerTight                    // as far as fingers turn it without a tool; also called hand tight
	Snug                           // snug tight: the parts are drawn into firm contact
)

// Opposite is the other way round; no rotation for no rotation.
func (r Rotation) Opposite() Rotation {
	if !rotations.Has(r) {
		return 0
	}
	return (r - 1) ^ 1 + 1
}

// Sense is the way a canister turns, as seen from a view: clockwise to tighten a right-hand
// thread, facing the closed end. Thread hand, action and view each reverse it. From beside it
// is the way the near wall moves: left to right to tighten a right-hand thread that hangs closed
// end down. No rotation where one of the three is none of its constants.
//
// A right-hand thread turned clockwise moves away from the eye that looks along its axis (ASME B1.7,
// from memory).
func Sense(hand Hand, action Action, view View) Rotation {
	if !hands.Has(hand) || !actions.Has(action) {
		return 0
	}
	facing := Clockwise
	if (hand == LeftHand) != (action == Loosening) {
		facing = Counterclockwise
	}
	return view.Seen(facing)
}

// Seen is how a rotation, named as it looks facing the closed end, looks from the view. No
// rotation where the view is none of the constants, or the rotation isn't one seen along the axis.
func (v View) Seen(facing Rotation) Rotation {
	if !views.Has(v) || facing != Clockwise && facing != Counterclockwise {
		return 0
	}
	if v.reversed() {
		facing = facing.Opposite()
	}
	if v.beside() {
		return facing + (LeftToRight - Clockwise)
	}
	return facing
}

// Facing is how a rotation seen from the view looks facing the closed end: the way back from
// Seen, and the order for [NewRing] of labels that were read from elsewhere. No rotation where
// the view can't show it: nobody sees left to right along the axis.
func (v View) Facing(seen Rotation) Rotation {
	for _, facing := range [...]Rotation{Clockwise, Counterclockwise} {
		if seen != 0 && v.Seen(facing) == seen {
			return facing
		}
	}
	return 0
}

func (v View) beside() bool {
	v &^= inMirror
	return v == BesideClosedEndDown || v == BesideClosedEndUp
}

// reversed reports whether clockwise, or left to right, is counterclockwise facing the closed end.
func (v View) reversed() bool {
	direct := v &^ inMirror
	return (direct == FromHeadSide || direct == BesideClosedEndUp) != (v&inMirror != 0)
}

// Direction is a direction that somebody wrote down with its viewpoint: "tighten clockwise,
// facing the closed end". The zero value is none.
type Direction struct {
	Action Action
	Seen   Rotation
	View   View
}

// String is "tightening clockwise, facing the closed end"; [ParseDirection] reads it back.
func (d Direction) String() string {
	return d.Action.String() + " " + d.Seen.String() + ", " + d.View.String()
}

// Hand is the hand of thread for which the direction is right; no hand where it can't be seen so.
func (d Direction) Hand() Hand {
	for _, hand := range [...]Hand{RightHand, LeftHand} {
		if d.Seen != 0 && Sense(hand, d.Action, d.View) == d.Seen {
			return hand
		}
	}
	return 0
}

// thread is "a right-hand thread".
func (h Hand) thread() string { return "a " + strings.ReplaceAll(h.String(), " ", "-") + " thread" }

// check refuses a direction that can't be seen so.
func (d Direction) check() error {
	if d.Hand() != 0 {
		return nil
	}
	return refuse("direction", d.String(), "can't be seen from there", "clockwise or counterclockwise along the axis, left to right or right to left from beside", units.ErrSyntax)
}

// ParseDirection reads "loosen clockwise, from the head side". A direction without a viewpoint
// doesn't say what to do: it is refused, and the error's Candidates are the views from which it
// is right for the thread, each with what it is facing the closed end. Where the hand isn't known, 0,
// they are all views and say for which thread each is right. The hand plays no other part.
//
// Errors: *units.ParseError: ErrNoView, or units.ErrSyntax for other words.
func ParseDirection(text string, hand Hand) (Direction, error) {
	bad := func(at int, problem, want string, err error) (Direction, error) {
		return Direction{}, misread.Error("direction", text, at, problem, want, err)
	}
	if len(text) > maxText {
		return bad(maxText, "longer than 256 bytes", "a shorter text", units.ErrRange)
	}
	const want = `an action, a rotation and a view, such as "loosening counterclockwise, facing the closed end"`
	head, view, _ := strings.Cut(text, ",")
	action, rotation, _ := strings.Cut(strings.TrimSpace(head), " ")
	var d Direction
	if d.Action.UnmarshalText([]byte(action)) != nil || d.Seen.UnmarshalText([]byte(rotation)) != nil {
		return bad(0, "no action and rotation at the start", want, units.ErrSyntax)
	}
	if strings.TrimSpace(view) == "" {
		e := misread.Error("direction", text, len(head), "no viewpoint: which way it is depends on where one stands", "", ErrNoView)
		e.Candidates = d.candidates(hand)
		return Direction{}, e
	}
	if d.View.UnmarshalText([]byte(view)) != nil {
		return bad(len(head)+1, "no view known here", views.List(), units.ErrSyntax)
	}
	if d.Hand() == 0 {
		return bad(len(head)+1, "a rotation that can't be seen from there", want, units.ErrSyntax)
	}
	return d, nil
}

// candidates are the views that make the direction right, for one thread or, without its hand, for
// either.
func (d Direction) candidates(hand Hand) (list []string) {
	for d.View = FacingClosedEnd; d.View <= BesideClosedEndUp; d.View++ {
		right, facing := d.Hand(), d.View.Facing(d.Seen).String()+" facing the closed end"
		switch {
		case right == 0:
		case right == hand:
			list = append(list, d.View.String()+" ("+facing+")")
		case !hands.Has(hand):
			list = append(list, d.View.String()+" ("+facing+", for "+right.thread()+")")
		}
	}
	return list
}
