package europe

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

// Consignment is a batch as a consignment note asks for it: kilograms, to stated places. That the
// notes ask for kilograms is from memory; read yours.
type Consignment struct {
	Description string                         `json:"description"`
	Stream      waste.Stream                   `json:"stream"`
	Containers  int                            `json:"containers"`
	Container   string                         `json:"container"` // what kind they are
	Kilograms   units.Mass                     `json:"kilograms"` // nearest; a tie goes up
	Zero        bool                           `json:"zero"`      // rounds to 0 although it isn't zero
	Mass        drain.Estimate[units.MassUnit] `json:"mass"`      // what it was rounded from
	Codes       []string                       `json:"codes,omitempty"`
	Caveat      string                         `json:"caveat"`
}

// Consign rounds a batch's mass to kilograms with 0 to 3 places, the nearest; a tie goes up. Container is
// the note's word for the kind they are, "bags", one line of at most 64 bytes.
//
// Errors: as [waste.Batch.Check]; *waste.Error: drain.ErrMissing without a mass or a container,
// units.ErrRange for other places or too large a mass, units.ErrSyntax for a container that is more
// than one line.
func Consign(b waste.Batch, container string, places int) (Consignment, error) {
	switch {
	case plain.Blank(container):
		return Consignment{}, refuse("container", container, "none given", `what kind they are, such as "bags"`, drain.ErrMissing)
	case len(container) > 64 || plain.Hidden(container) != "":
		return Consignment{}, refuse("container", container, "no word for a kind of container", "one line of at most 64 bytes", units.ErrSyntax)
	case places < 0 || places > 3:
		return Consignment{}, refuse("places", fmt.Sprint(places), "too few or too many", "0 to 3", units.ErrRange)
	}
	if err := b.Check(); err != nil {
		return Consignment{}, err
	}
	if b.Mass.From == 0 {
		return Consignment{}, refuse("mass", "", "not given, and kilograms need it", "the mass", drain.ErrMissing)
	}
	steps := [...]int64{1, 10, 100, 1000}[places]
	n, _, ok := paper.Nearest(new(big.Rat).Mul(b.Mass.Best.RatIn(units.Kilogram), big.NewRat(steps, 1)))
	if !ok {
		return Consignment{}, refuse("mass", b.Mass.Best.String(), "too large", "at most 999,999,999 of the last place", units.ErrRange)
	}
	kg, err := units.FromRat(big.NewRat(n, steps), units.Kilogram, places, units.ToNearestEven)
	if err != nil {
		return Consignment{}, err
	}
	return Consignment{Description: b.Description, Stream: b.Stream, Containers: len(b.Containers), Container: container,
		Kilograms: kg, Zero: n == 0 && b.Mass.High.Sign() > 0, Mass: b.Mass,
		Codes: append([]string(nil), b.Codes...), Caveat: waste.Caveat}, nil
}

func refuse(field, input, problem, want string, err error) error {
	return &waste.Error{What: "consignment", Field: field, Input: plain.Cut(input), Problem: problem, Want: want, Err: err}
}

// String is the line for reading and the [waste.Caveat].
func (c Consignment) String() string {
	text := fmt.Sprintf("%s\n  %d × %s, %s, nearest to %s; %s\n", c.Description, c.Containers, c.Container,
		c.Kilograms, paper.Spread(c.Mass), paper.TieRule)
	if len(c.Codes) > 0 {
		text += "  codes: " + strings.Join(c.Codes, ", ") + "\n"
	}
	if c.Zero {
		text += "  note: rounds to 0 although it isn't zero: use more places, combine or ask\n"
	}
	return text + waste.Caveat
}
