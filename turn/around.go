package turn

import "example.com/snugturn/units"

// Around is where each mark is after a turn that tightens from a position: clockwise from the
// index, as seen from the view, less than a turn, in the order of the labels. It is what a drawing
// with the index at the top needs, whether the marks turn or the index does.
//
// Errors: *units.ParseError as [Ring.Tighten]; units.ErrSyntax for a view from beside, where a ring
// shows half its marks.
func (r Ring) Around(from Position, t Turn, hand Hand, view View) ([]Mark, error) {
	if seen := Sense(hand, Tightening, view); seen != Clockwise && seen != Counterclockwise {
		return nil, refuse("view", view.String(), "no view along the axis", "facing the closed end or from the head side", units.ErrSyntax)
	}
	at, step, err := r.place(from, hand)
	if err != nil {
		return nil, err
	}
	at, ok := at.plus(step, t)
	marks := make([]Mark, 0, len(r.marks))
	for _, label := range r.Labels() {
		i, err := r.find(label)
		if err != nil {
			return nil, err
		}
		off, fine := r.marks[i].angle.plus(-1, at)
		if view.reversed() {
			off, _ = Turn{}.plus(-1, off)
		}
		if !ok || !fine {
			return nil, tooFine(from)
		}
		marks = append(marks, Mark{label, off.round()})
	}
	return marks, nil
}
