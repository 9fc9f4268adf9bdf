package waste

import (
	"math/big"
	"strings"

	"example.com/snugturn/units"
)

// Caution stands in everything this package puts out.
const Caution = "determination is the generator's; state and local rules may differ"

// Stream is a kind of waste that a fuel-filter service leaves behind. Streams are kept apart
// because the answers differ: a liquid has a flash point to be judged by, an element has not.
// The zero Stream is none.
type Stream uint8

// The streams.
const (
	DrainedFuel    Stream = iota + 1 // fuel let out of canister and lines
	FuelWaterMix                     // what a separator's drain gives
	WetElement                       // used element that still drips
	DrainedElement                   // used element after draining
	Gaskets                          // O-rings and gaskets
	Absorbents                       // pads, granules, wipes
	SpentCleaner                     // spent contact cleaner
	OtherWaste                       // whatever else the site generates and must count in the month
)

// streams holds what is known of each; the zero Stream's row is empty. Densest, in kg/m³, is what no such
// liquid exceeds: fuel 900 at 15 °C (ISO 8217, DMB, from memory) and 2.5 % more in the cold, water 1000,
// a cleaner 1650 (tetrachloroethene has 1623 at 20 °C, CRC Handbook, from memory). 0 is not known.
var streams = [...]struct {
	name    string
	liquid  bool
	densest int64
}{
	DrainedFuel:    {"drained fuel", true, 925},
	FuelWaterMix:   {"fuel-water mix", true, 1000},
	WetElement:     {name: "wet element"},
	DrainedElement: {name: "drained element"},
	Gaskets:        {name: "gaskets"},
	Absorbents:     {name: "absorbents"},
	SpentCleaner:   {"spent cleaner", true, 1650},
	OtherWaste:     {name: "other waste"},
}

// litres is the least room that a mass of it takes; zero where its density isn't known.
func (s Stream) litres(mass units.Mass) *big.Rat {
	x := new(big.Rat)
	if s.Valid() && streams[s].densest > 0 {
		x.Mul(mass.RatIn(units.Kilogram), big.NewRat(1000, streams[s].densest))
	}
	return x
}

// Streams lists all streams in the order of their constants.
func Streams() []Stream {
	all := make([]Stream, 0, len(streams)-1)
	for s := DrainedFuel; s.Valid(); s++ {
		all = append(all, s)
	}
	return all
}

// Valid reports whether s is one of the constants.
func (s Stream) Valid() bool { return s > 0 && int(s) < len(streams) }

// Liquid reports whether the stream is one a form may give in gallons or litres. An element is
// no liquid, however wet; OtherWaste isn't known to be one and counts as none.
func (s Stream) Liquid() bool { return s.Valid() && streams[s].liquid }

// String is the stream's name, "drained fuel"; "no stream" for a value that is none.
func (s Stream) String() string {
	if !s.Valid() {
		return "no stream"
	}
	return streams[s].name
}

// ParseStream reads a stream's name in any letter case, with blanks around it.
//
// Errors: *Error (units.ErrSyntax).
func ParseStream(text string) (Stream, error) {
	if name, ok := word(text); ok {
		for s, row := range streams {
			if s > 0 && strings.EqualFold(name, row.name) {
				return Stream(s), nil
			}
		}
	}
	return 0, refuse("stream", "", text, "not a stream known here",
		"drained fuel, fuel-water mix, wet element, drained element, gaskets, absorbents, spent cleaner or other waste", units.ErrSyntax)
}

// word trims a text that is short enough to be a name.
func word(text string) (string, bool) {
	const most = 64
	if len(text) > most {
		return "", false
	}
	text = strings.TrimSpace(text)
	return text, text != ""
}

// MarshalText writes the name.
//
// Errors: *Error (units.ErrRange) for a value that is none of the constants.
func (s Stream) MarshalText() ([]byte, error) {
	if !s.Valid() {
		return nil, refuse("stream", "", s.String(), "none of the constants", "a valid stream", units.ErrRange)
	}
	return []byte(s.String()), nil
}

// UnmarshalText is [ParseStream]; on an error s stays as it was.
func (s *Stream) UnmarshalText(text []byte) error {
	parsed, err := ParseStream(string(text[:min(len(text), 128)]))
	if err == nil {
		*s = parsed
	}
	return err
}

// Determination is what the generator found about one waste (40 CFR 262.11 in the United States).
// Nothing in this package makes one. The zero value is Undetermined.
type Determination uint8

// The determinations. There is deliberately no constant that calls a waste harmless: NotCounted
// records only that the generator determined that it doesn't count towards the month.
const (
	Undetermined Determination = iota
	Hazardous
	NotCounted
)

var determinations = [...]string{"undetermined", "hazardous", "not counted"}

// Valid reports whether d is one of the constants.
func (d Determination) Valid() bool { return int(d) < len(determinations) }

// String is "undetermined", "hazardous" or "not counted".
func (d Determination) String() string {
	if !d.Valid() {
		return "no determination"
	}
	return determinations[d]
}

// ParseDetermination reads what String writes, in any letter case. An empty text is refused: who
// has not determined must say so.
//
// Errors: *Error (units.ErrSyntax).
func ParseDetermination(text string) (Determination, error) {
	if name, ok := word(text); ok {
		for d, known := range determinations {
			if strings.EqualFold(name, known) {
				return Determination(d), nil
			}
		}
	}
	return 0, refuse("determination", "", text, "not a determination known here",
		"undetermined, hazardous or not counted", units.ErrSyntax)
}

// MarshalText writes the name.
//
// Errors: *Error (units.ErrRange) for a value that is none of the constants.
func (d Determination) MarshalText() ([]byte, error) {
	if !d.Valid() {
		return nil, refuse("determination", "", d.String(), "none of the constants", "a valid determination", units.ErrRange)
	}
	return []byte(d.String()), nil
}

// UnmarshalText is [ParseDetermination]; on an error d stays as it was.
func (d *Determination) UnmarshalText(text []byte) error {
	parsed, err := ParseDetermination(string(text[:min(len(text), 128)]))
	if err == nil {
		*d = parsed
	}
	return err
}
