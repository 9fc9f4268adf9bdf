package turn

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

// opposite is the other way round; no rotation for no rotation.
func (r Rotation) opposite() Rotation {
	if !rotations.Has(r) {
		return 0
	}
	return (r - 1) ^ 1 + 1
}

// Sense is the way a canister turns, as seen from a view: clockwise to tighten a right-hand
// thread, facing the closed end. Thread hand, action and view each reverse it. From beside it
// is the way the near wall moves: left to right to tighten a right-hand thread that hangs closed
// end down. No rotation where one of the three is not one of its constants.
//
// A right-hand thread turned clockwise moves away from the eye that looks along its axis (ASME B1.7,
// as text-books put it).
func Sense(hand Hand, action Action, view View) Rotation {
	if !hands.Has(hand) || !actions.Has(action) {
		return 0
	}
	facing := Clockwise
	if (hand == LeftHand) != (action == Loosening) {
		facing = Counterclockwise
	}
	return view.seen(facing)
}

// seen is how a rotation, named as it looks facing the closed end, looks from the view. No
// rotation where the view is not one of the constants, or the rotation isn't one seen along the axis.
func (v View) seen(facing Rotation) Rotation {
	if !views.Has(v) || facing != Clockwise && facing != Counterclockwise {
		return 0
	}
	if v.reversed() {
		facing = facing.opposite()
	}
	if v.beside() {
		return facing + (LeftToRight - Clockwise)
	}
	return facing
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
