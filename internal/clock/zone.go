package clock

import (
	"strings"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// CheckZone judges how a zone is written (RFC 9557, 4.1; RFC 3339, 5.6): UTC, an offset, or a name such as
// the IANA time zone database has. A word alone is refused but for UTC, although the database has some.
//
// Errors: *units.ParseError (units.ErrSyntax, units.ErrRange, units.ErrAmbiguous).
func CheckZone(text string) error {
	const longest, want = 64, "UTC, an offset such as +01:00, or a name such as Europe/Vienna"
	refuse := func(problem string, err error) error {
		return misread.Error("time zone", text, 0, problem, want, err)
	}
	switch {
	case len(text) > longest:
		return refuse("longer than any zone", units.ErrRange)
	case text == "UTC":
		return nil
	case strings.HasPrefix(text, "+"), strings.HasPrefix(text, "-"):
		switch offset := text[1:]; {
		case len(offset) != len("01:00") || offset[2] != ':' || strings.Trim(offset[:2]+offset[3:], "0123456789") != "":
			return refuse("not hours and minutes", units.ErrSyntax)
		case offset[:2] > "23" || offset[3:] > "59":
			return refuse("no such offset", units.ErrRange)
		case text == "-00:00": // RFC 3339, 4.3: the offset isn't known
			return refuse("says that the zone isn't known", units.ErrSyntax)
		}
		return nil
	}
	parts := strings.Split(text, "/")
	for _, part := range parts {
		if !zonePart(part) {
			return refuse("not a name of a zone", units.ErrSyntax)
		}
	}
	if len(parts) == 1 {
		return refuse("a word alone may be several zones", units.ErrAmbiguous)
	}
	return nil
}

// zonePart is RFC 9557's time-zone-part.
func zonePart(part string) bool {
	if part == "" || part == "." || part == ".." {
		return false
	}
	for i, c := range []byte(part) {
		switch {
		case c|0x20 >= 'a' && c|0x20 <= 'z', c == '.', c == '_':
		case i > 0 && (c >= '0' && c <= '9' || c == '-' || c == '+'):
		default:
			return false
		}
	}
	return true
}
