package turn

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations, in which they are written in text, JSON, gob and SQL, and the methods
// that do it. Words are read in any letter case, with hyphens or blanks.

var (
	hands = enum.New[Hand]("hand of a thread", "right hand", "left hand").
		Also(RightHand, "right", "rh", "righthand").Also(LeftHand, "left", "lh", "lefthand")
	actions = enum.New[Action]("action", "tightening", "loosening").
		Also(Tightening, "tighten").Also(Loosening, "loosen")
	rotations = enum.New[Rotation]("rotation", "clockwise", "counterclockwise", "left to right", "right to left").
			Also(Clockwise, "cw").Also(Counterclockwise, "ccw", "anticlockwise", "counter clockwise", "anti clockwise")
	views = enum.New[View]("view", "facing the closed end", "from the head side", "from beside, closed end down",
		"from beside, closed end up", "", "", "", "", "facing the closed end, in a mirror",
		"from the head side, in a mirror", "from beside, closed end down, in a mirror",
		"from beside, closed end up, in a mirror").
		Also(FacingClosedEnd, "facing closed end", "closed end").Also(FromHeadSide, "head side", "from head side")
	datums = enum.New[Datum]("datum", "gasket contact", "finger tight", "snug").
		Also(GasketContact, "contact", "gasket contacts", "gasket touches", "gasket contacts head",
			"gasket touches head", "seal contact", "gasket makes contact", "contact of gasket",
			"gasket contacts filter head", "gasket touches filter head", "gasket contact with head",
			"gasket to head contact", "gasket contact with filter head").
		Also(FingerTight, "fingertight", "hand tight", "handtight", "hand tightness", "finger tightness").
		Also(Snug, "snug tight", "snugtight", "snug tightness", "snugness")
	reaches  = enum.New[Reach]("reach", "in the window", "short", "over", "unclear")
	contacts = enum.New[Contact]("contact", "as expected", "second gasket likely", "too early", "gasket likely missing",
		"contact likely missed", "too late")
	matches = enum.New[Match]("match of threads", "fits", "may spin home and let go", "should not start", "does not engage", "another thread")
)

// String is the word, "right hand"; "Hand(0)" for a value that isn't one of the constants.
func (h Hand) String() string { return hands.String(h) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (h Hand) MarshalText() ([]byte, error) { return hands.Text(h) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); h stays as it was.
func (h *Hand) UnmarshalText(text []byte) error { return hands.Read(h, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (h *Hand) UnmarshalJSON(data []byte) error { return hands.ReadJSON(h, data) }

// MarshalBinary is MarshalText, for gob.
func (h Hand) MarshalBinary() ([]byte, error) { return hands.Text(h) }

// UnmarshalBinary is UnmarshalText, for gob.
func (h *Hand) UnmarshalBinary(text []byte) error { return hands.Read(h, text) }

// Value is the word, for a database column.
func (h Hand) Value() (driver.Value, error) { return hands.Value(h) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (h *Hand) Scan(column any) error { return hands.Scan(h, column) }

// String is the word, "tightening"; "Action(0)" for a value that isn't one of the constants.
func (a Action) String() string { return actions.String(a) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (a Action) MarshalText() ([]byte, error) { return actions.Text(a) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); a stays as it was.
func (a *Action) UnmarshalText(text []byte) error { return actions.Read(a, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (a *Action) UnmarshalJSON(data []byte) error { return actions.ReadJSON(a, data) }

// MarshalBinary is MarshalText, for gob.
func (a Action) MarshalBinary() ([]byte, error) { return actions.Text(a) }

// UnmarshalBinary is UnmarshalText, for gob.
func (a *Action) UnmarshalBinary(text []byte) error { return actions.Read(a, text) }

// Value is the word, for a database column.
func (a Action) Value() (driver.Value, error) { return actions.Value(a) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (a *Action) Scan(column any) error { return actions.Scan(a, column) }

// String is the word, "clockwise"; "Rotation(0)" for a value that isn't one of the constants.
func (r Rotation) String() string { return rotations.String(r) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (r Rotation) MarshalText() ([]byte, error) { return rotations.Text(r) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); r stays as it was.
func (r *Rotation) UnmarshalText(text []byte) error { return rotations.Read(r, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (r *Rotation) UnmarshalJSON(data []byte) error { return rotations.ReadJSON(r, data) }

// MarshalBinary is MarshalText, for gob.
func (r Rotation) MarshalBinary() ([]byte, error) { return rotations.Text(r) }

// UnmarshalBinary is UnmarshalText, for gob.
func (r *Rotation) UnmarshalBinary(text []byte) error { return rotations.Read(r, text) }

// Value is the word, for a database column.
func (r Rotation) Value() (driver.Value, error) { return rotations.Value(r) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (r *Rotation) Scan(column any) error { return rotations.Scan(r, column) }

// String is the word, "facing the closed end"; "View(0)" for a value that isn't one of the constants.
func (v View) String() string { return views.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (v View) MarshalText() ([]byte, error) { return views.Text(v) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); v stays as it was.
func (v *View) UnmarshalText(text []byte) error { return views.Read(v, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (v *View) UnmarshalJSON(data []byte) error { return views.ReadJSON(v, data) }

// MarshalBinary is MarshalText, for gob.
func (v View) MarshalBinary() ([]byte, error) { return views.Text(v) }

// UnmarshalBinary is UnmarshalText, for gob.
func (v *View) UnmarshalBinary(text []byte) error { return views.Read(v, text) }

// Value is the word, for a database column.
func (v View) Value() (driver.Value, error) { return views.Value(v) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (v *View) Scan(column any) error { return views.Scan(v, column) }

// String is the word, "gasket contact"; "Datum(0)" for a value that isn't one of the constants.
func (d Datum) String() string { return datums.String(d) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (d Datum) MarshalText() ([]byte, error) { return datums.Text(d) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); d stays as it was.
func (d *Datum) UnmarshalText(text []byte) error { return datums.Read(d, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (d *Datum) UnmarshalJSON(data []byte) error { return datums.ReadJSON(d, data) }

// MarshalBinary is MarshalText, for gob.
func (d Datum) MarshalBinary() ([]byte, error) { return datums.Text(d) }

// UnmarshalBinary is UnmarshalText, for gob.
func (d *Datum) UnmarshalBinary(text []byte) error { return datums.Read(d, text) }

// Value is the word, for a database column.
func (d Datum) Value() (driver.Value, error) { return datums.Value(d) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (d *Datum) Scan(column any) error { return datums.Scan(d, column) }

// String is the word, "short"; "Reach(0)" for a value that isn't one of the constants.
func (v Reach) String() string { return reaches.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (v Reach) MarshalText() ([]byte, error) { return reaches.Text(v) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); v stays as it was.
func (v *Reach) UnmarshalText(text []byte) error { return reaches.Read(v, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (v *Reach) UnmarshalJSON(data []byte) error { return reaches.ReadJSON(v, data) }

// MarshalBinary is MarshalText, for gob.
func (v Reach) MarshalBinary() ([]byte, error) { return reaches.Text(v) }

// UnmarshalBinary is UnmarshalText, for gob.
func (v *Reach) UnmarshalBinary(text []byte) error { return reaches.Read(v, text) }

// Value is the word, for a database column.
func (v Reach) Value() (driver.Value, error) { return reaches.Value(v) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (v *Reach) Scan(column any) error { return reaches.Scan(v, column) }

// String is the word, "second gasket likely"; "Contact(0)" for a value that isn't one of the constants.
func (c Contact) String() string { return contacts.String(c) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (c Contact) MarshalText() ([]byte, error) { return contacts.Text(c) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); c stays as it was.
func (c *Contact) UnmarshalText(text []byte) error { return contacts.Read(c, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (c *Contact) UnmarshalJSON(data []byte) error { return contacts.ReadJSON(c, data) }

// MarshalBinary is MarshalText, for gob.
func (c Contact) MarshalBinary() ([]byte, error) { return contacts.Text(c) }

// UnmarshalBinary is UnmarshalText, for gob.
func (c *Contact) UnmarshalBinary(text []byte) error { return contacts.Read(c, text) }

// Value is the word, for a database column.
func (c Contact) Value() (driver.Value, error) { return contacts.Value(c) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (c *Contact) Scan(column any) error { return contacts.Scan(c, column) }

// String is the word, "may spin home and let go"; "Match(0)" for a value that isn't one of the constants.
func (f Match) String() string { return matches.String(f) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (f Match) MarshalText() ([]byte, error) { return matches.Text(f) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); f stays as it was.
func (f *Match) UnmarshalText(text []byte) error { return matches.Read(f, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (f *Match) UnmarshalJSON(data []byte) error { return matches.ReadJSON(f, data) }

// MarshalBinary is MarshalText, for gob.
func (f Match) MarshalBinary() ([]byte, error) { return matches.Text(f) }

// UnmarshalBinary is UnmarshalText, for gob.
func (f *Match) UnmarshalBinary(text []byte) error { return matches.Read(f, text) }

// Value is the word, for a database column.
func (f Match) Value() (driver.Value, error) { return matches.Value(f) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (f *Match) Scan(column any) error { return matches.Scan(f, column) }
