package units

import (
	"database/sql/driver"
	"strconv"

	"example.com/snugturn/internal/encode"
)

// Unit is any of the unit types of this package, such as [TorqueUnit]. Kinds don't mix: a
// Quantity[TorqueUnit] takes no VolumeUnit, and the compiler says so.
type Unit interface {
	~uint8
	// String is the unit's symbol.
	String() string
	kind() *kind
}

// UnitOf is a unit of one kind, which K stands for: [TorqueUnit] is one of torque. The zero value is the
// kind's first unit. In text, JSON, gob and SQL it is its symbol, and it is read by any of its
// spellings.
type UnitOf[K ofKind] uint8

// ofKind is a type that stands for a kind, and takes no room.
type ofKind interface{ kind() *kind }

func (u UnitOf[K]) kind() *kind {
	var k K
	return k.kind()
}

// Of is a whole number of the unit: InchPound.Of(145).
func (u UnitOf[K]) Of(magnitude int64) Quantity[UnitOf[K]] { return of(magnitude, u) }

// String is the unit's symbol; "TorqueUnit(99)" for a value that isn't one of the constants.
func (u UnitOf[K]) String() string { return u.kind().symbol(uint8(u)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (u UnitOf[K]) UCUM() (string, error) { return u.kind().code(ucum, uint8(u)) }

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (u UnitOf[K]) Rec20() (string, error) { return u.kind().code(rec20, uint8(u)) }

// MarshalText writes the symbol. Errors: *ParseError (ErrUnknownUnit) for an unknown value.
func (u UnitOf[K]) MarshalText() ([]byte, error) { return u.kind().marshalUnit(uint8(u)) }

// UnmarshalText reads what [ParseUnit] reads; on an error u stays as it was.
func (u *UnitOf[K]) UnmarshalText(text []byte) error { return readInto(u.kind(), u, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (u *UnitOf[K]) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, u.UnmarshalText, u.kind().notUnit)
}

// MarshalBinary is MarshalText, for gob.
func (u UnitOf[K]) MarshalBinary() ([]byte, error) { return u.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (u *UnitOf[K]) UnmarshalBinary(text []byte) error { return u.UnmarshalText(text) }

// Value is the symbol, for a database column.
func (u UnitOf[K]) Value() (driver.Value, error) { return encode.Value(u.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (u *UnitOf[K]) Scan(column any) error {
	return encode.Scan(column, u.UnmarshalText, u.kind().notUnit)
}

func (k *kind) marshalUnit(u uint8) ([]byte, error) {
	if !k.has(u) {
		return nil, k.unknown(u)
	}
	return []byte(k.symbol(u)), nil
}

func readInto[U ~uint8](k *kind, u *U, text []byte) error {
	parsed, err := k.readUnit(clip(text))
	if err == nil {
		*u = U(parsed)
	}
	return err
}

// notUnit refuses what isn't the text of a unit.
func (k *kind) notUnit(given, problem string) error {
	return misread(k.name+" unit", given, 0, problem, "text such as "+strconv.Quote(k.rows[0].symbol), ErrSyntax)
}
