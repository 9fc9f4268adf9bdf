package units

// ShareUnit is a unit of share: a part of a whole, such as an efficiency or a tool's permissible
// deviation. A bare number is none, since 0.8 may be 0.8 % or 80 %.
type ShareUnit = UnitOf[shareUnits]

// The unit of share.
const (
	Percent ShareUnit = iota // %
)

type shareUnits struct{}

func (shareUnits) kind() *kind { return shareKind }

var shareKind = newKind("share", "ShareUnit", []row{
	Percent: {symbol: "%", name: "percent", num: 1, den: 1, ucum: "%", rec20: "P1", spellings: []string{"pct", "per·cent"}},
},
	trap{spelling: "‰", why: "is a tenth of a percent"})

// ParseShare reads a share, "4 %"; see [Parse] for the grammar and the errors.
func ParseShare(text string) (Share, error) { return Parse[ShareUnit](text) }

// MustParseShare is ParseShare for constants in a program; it panics on an error.
func MustParseShare(text string) Share { return MustParse[ShareUnit](text) }
