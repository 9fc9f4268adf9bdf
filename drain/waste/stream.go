package waste

import (
	"math/big"
	"strings"

	"example.com/snugturn/units"
)

// Caveat is in everything this package puts out.
const Caveat = "determination is the generator's; state and local rules may differ"

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

// densest, in kg/m³, is what no such liquid exceeds: fuel 900 at 15 °C (ISO 8217, DMB, seen in a copy) and
// 2.5 % more in the cold, water 1000, a cleaner 1650 (tetrachloroethene has 1623 at 20 °C, CRC Handbook,
// from memory). Of the other streams it isn't known.
var densest = map[Stream]int64{DrainedFuel: 925, FuelWaterMix: 1000, SpentCleaner: 1650}

// litres is the least room that a mass of it takes; zero where its density isn't known.
func (s Stream) litres(mass units.Mass) *big.Rat {
	x := new(big.Rat)
	if d := densest[s]; d > 0 {
		x.Mul(mass.RatIn(units.Kilogram), big.NewRat(1000, d))
	}
	return x
}

// Liquid reports whether the stream is one a form may give in gallons or litres. An element is
// no liquid, however wet; OtherWaste isn't known to be one and counts as none.
func (s Stream) Liquid() bool { return s == DrainedFuel || s == FuelWaterMix || s == SpentCleaner }

// word trims a text that is short enough to be a name.
func word(text string) (string, bool) {
	const most = 64
	if len(text) > most {
		return "", false
	}
	text = strings.TrimSpace(text)
	return text, text != ""
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
