package units

// ShareUnit is a unit of share: a part of a whole, such as an efficiency or a tool's permissible
// deviation. A bare number is none, since 0.8 may be 0.8 % or 80 %.
type ShareUnit uint8

// The unit of share.
const (
	Percent ShareUnit = iota // %
)

var shareKind = newKind("share", "ShareUnit", []row{
	Percent: {symbol: "%", name: "percent", num: 1, den: 1, ucum: "%", rec20: "P1", spellings: []string{"pct", "per·cent"}},
},
	trap{spelling: "‰", why: "is a tenth of a percent"})

func (u ShareUnit) kind() *kind { return shareKind }

// String is the unit's symbol; "ShareUnit(99)" for a value that is none of the constants.
func (u ShareUnit) String() string { return shareKind.symbol(uint8(u)) }

// UCUM is the unit's code in UCUM; see [FromUCUM] for what the errors say.
func (u ShareUnit) UCUM() (string, error) { return shareKind.code(ucum, uint8(u)) }

// Rec20 is the unit's code in UN/CEFACT Recommendation 20; see [FromRec20] for what the errors say.
func (u ShareUnit) Rec20() (string, error) { return shareKind.code(rec20, uint8(u)) }

// MarshalText writes the symbol; *UnitError for a value that is none of the constants.
func (u ShareUnit) MarshalText() ([]byte, error) { return shareKind.marshalUnit(uint8(u)) }

// UnmarshalText reads what [ParseUnit] reads; on an error u stays as it was.
func (u *ShareUnit) UnmarshalText(text []byte) error { return unmarshalUnit(shareKind, u, text) }

// Of is a whole number of the unit: Percent.Of(4).
func (u ShareUnit) Of(magnitude int64) Share { return of(magnitude, u) }

// ParseShare reads a share, "4 %"; see [Parse] for the grammar and the errors.
func ParseShare(text string) (Share, error) { return Parse[ShareUnit](text) }

// MustParseShare is ParseShare for constants in a program; it panics on an error.
func MustParseShare(text string) Share { return MustParse[ShareUnit](text) }
