package usfederal

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/internal/paper"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// mostCodes is how many waste codes a line has room for.
const mostCodes = 6

// ManifestLine is a batch as the form asks for it. The estimate it was rounded from stays next to it: a
// total is taken over estimates, never over lines, as a [waste.Statement] does.
type ManifestLine struct {
	Description string                           `json:"description"` // item 9b
	Stream      waste.Stream                     `json:"stream"`
	Containers  int                              `json:"containers"`
	Container   ContainerCode                    `json:"container"`
	Quantity    int64                            `json:"quantity"` // whole units, nearest; a tie goes up
	Unit        UnitCode                         `json:"unit"`
	WasteCodes  []string                         `json:"wasteCodes,omitempty"`
	Zero        bool                             `json:"zero"`            // rounds to 0 although it isn't zero
	Mass        drain.Estimate[units.MassUnit]   `json:"mass,omitzero"`   // what it was rounded from, for a unit of mass
	Volume      drain.Estimate[units.VolumeUnit] `json:"volume,omitzero"` // for a unit of volume
	From        drain.Provenance                 `json:"from"`
	Notes       []string                         `json:"notes,omitempty"`
	Caveat      string                           `json:"caveat"`
}

// NewManifestLine rounds a batch, in containers of one kind, to whole units of the form, the nearest; a
// tie goes up (EPA Form 8700-22, instructions to items 10 to 13). Nothing passes from mass to volume
// here: a unit of volume needs the volume.
//
// Errors: as [waste.Batch.Check]; *waste.Error: drain.ErrMissing without codes, or without the mass
// or volume that the unit needs; units.ErrRange for a unit that doesn't suit, more than six waste
// codes, or more than 999,999,999 units.
func NewManifestLine(b waste.Batch, container ContainerCode, unit UnitCode) (ManifestLine, error) {
	if err := check(b, container, unit); err != nil {
		return ManifestLine{}, err
	}
	l := ManifestLine{Description: b.Description, Stream: b.Stream, Containers: len(b.Containers), Container: container,
		Unit: unit, WasteCodes: append([]string(nil), b.Codes...), Caveat: waste.Caveat}
	if unitRows[unit].isVolume {
		l.Volume, l.From = b.Volume, b.Volume.From
	} else {
		l.Mass, l.From = b.Mass, b.Mass.From
	}
	low, best, high := in(b, unit)
	var tie, ok bool
	if l.Quantity, tie, ok = paper.Nearest(best); !ok {
		return ManifestLine{}, refuse("quantity", quantity(b, unit), "too large", "at most 999,999,999 whole units", units.ErrRange)
	}
	if tie {
		l.Notes = append(l.Notes, "exactly between two whole units: "+paper.TieRule)
	}
	least, _, _ := paper.Nearest(low)
	if most, _, ok := paper.Nearest(high); ok && least != most {
		l.Notes = append(l.Notes, fmt.Sprintf("the estimate leaves room for %d to %d %s", least, most, unit))
	}
	if l.Zero = l.Quantity == 0 && high.Sign() > 0; l.Zero {
		l.Notes = append(l.Notes, zeroNote(b, container))
	}
	if mayOverfill(b) {
		l.Notes = append(l.Notes, "may be above the containers' fill limit: don't close or move them so; follow their manufacturer's instructions and the local code")
	}
	return l, nil
}

func refuse(field, input, problem, want string, err error) error {
	return &waste.Error{What: "manifest line", Field: field, Input: plain.Cut(input), Problem: problem, Want: want, Err: err}
}

// check is what the form asks of a batch.
func check(b waste.Batch, container ContainerCode, unit UnitCode) error {
	switch {
	case !containerCodes.Has(container):
		return refuse("container", container.String(), "none given", "a code of Table I, such as DM", drain.ErrMissing)
	case !unitCodes.Has(unit):
		return refuse("unit", unit.String(), "none given", "K, P, L, G, M, T, N or Y", drain.ErrMissing)
	case len(b.Codes) > mostCodes:
		return refuse("waste codes", fmt.Sprint(len(b.Codes)), "more than the line has room for", "at most six", units.ErrRange)
	}
	if err := b.Check(); err != nil {
		return err
	}
	return suits(b, container, unit)
}

// suits refuses a unit that the form keeps for other waste, or that needs what isn't given.
func suits(b waste.Batch, container ContainerCode, unit UnitCode) error {
	row := unitRows[unit]
	switch {
	case row.liquids && !b.Stream.Liquid():
		return refuse("unit", unit.String(), "for liquids only, and "+b.Stream.String()+" is none", "K or P", units.ErrRange)
	case row.bulk && !containers[container].bulk:
		return refuse("unit", unit.String(), "for very large bulk only, and "+container.words()+" are none", "K, P, L or G", units.ErrRange)
	case row.isVolume && b.Volume.From == 0:
		return refuse("volume", "", "not given, and "+row.name+" need it", "the volume, or a unit of mass", drain.ErrMissing)
	case !row.isVolume && b.Mass.From == 0:
		return refuse("mass", "", "not given, and "+row.name+" need it", "the mass, or a unit of volume", drain.ErrMissing)
	}
	return nil
}

// in is the mass or the volume in a unit of the form, exactly.
func in(b waste.Batch, unit UnitCode) (low, best, high *big.Rat) {
	row := unitRows[unit]
	if row.isVolume {
		return each(b.Volume, row.volume, row.size)
	}
	return each(b.Mass, row.mass, row.size)
}

// each is an estimate's three in size times a unit.
func each[U units.Unit](e drain.Estimate[U], unit U, size int64) (low, best, high *big.Rat) {
	in := func(q units.Quantity[U]) *big.Rat {
		x := q.RatIn(unit)
		return x.Mul(x, big.NewRat(1, size))
	}
	return in(e.Low), in(e.Best), in(e.High)
}

// quantity is what a unit is given from, for errors.
func quantity(b waste.Batch, unit UnitCode) string {
	if unitRows[unit].isVolume {
		return b.Volume.Best.String()
	}
	return b.Mass.Best.String()
}

// zeroNote says what can be done about a line that prints 0.
func zeroNote(b waste.Batch, container ContainerCode) string {
	var finer []string
	for u := Kilograms; unitCodes.Has(u); u++ {
		if suits(b, container, u) != nil {
			continue
		}
		_, best, _ := in(b, u)
		if n, _, _ := paper.Nearest(best); n > 0 {
			finer = append(finer, fmt.Sprintf("%d %s", n, u))
		}
	}
	if len(finer) > 0 {
		return "rounds to 0 although it isn't zero: it would be " + strings.Join(finer, " or ")
	}
	return "rounds to 0 although it isn't zero, and no finer unit exists: combine it with more of the same waste, or ask who takes it"
}

// mayOverfill reports whether the contents may pass the containers' fill limits.
func mayOverfill(b waste.Batch) bool {
	limit := new(big.Rat)
	for _, c := range b.Containers {
		if c.FillLimit.Sign() == 0 {
			return false
		}
		limit.Add(limit, c.FillLimit.RatIn(units.Litre))
	}
	return b.Volume.High.RatIn(units.Litre).Cmp(limit) > 0
}

// String is the line for reading, with what it was rounded from, its notes and the [waste.Caveat].
func (l ManifestLine) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n  containers %d %s (%s), quantity %d %s (%s)\n", l.Description,
		l.Containers, l.Container, l.Container.words(), l.Quantity, l.Unit, l.Unit.words())
	exact := paper.Spread(l.Mass)
	if l.Volume.From != 0 {
		exact = paper.Spread(l.Volume)
	}
	fmt.Fprintf(&b, "  nearest whole unit to %s; %s\n", exact, paper.TieRule)
	codes := "the generator's to give"
	if len(l.WasteCodes) > 0 {
		codes = strings.Join(l.WasteCodes, " ")
	}
	fmt.Fprintf(&b, "  waste codes: %s", codes)
	for _, note := range l.Notes {
		fmt.Fprintf(&b, "\n  note: %s", note)
	}
	return b.String() + "\n" + waste.Caveat
}
