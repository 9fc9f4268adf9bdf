package waste

import (
	"math/big"
	"strconv"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Batch is one waste that is to go on a paper, in its containers, with what is known of it. A mass or
// a volume that isn't known is left as the zero Estimate; at least one must be given. What the paper
// makes of it is for the package of the jurisdiction.
type Batch struct {
	Description string // the generator's words
	Stream      Stream
	Containers  []Container // all of one kind
	Mass        drain.Estimate[units.MassUnit]
	Volume      drain.Estimate[units.VolumeUnit]
	Codes       []string // of a list of wastes, as determined by the generator
}

// maxCodes is far more than any paper has room for.
const maxCodes = 64

// Check says what is wrong with a batch; nil where nothing is. It is what every paper asks.
//
// Errors: *Error: drain.ErrMissing without description, stream, containers, or both mass and volume;
// units.ErrRange for more than 64 codes or than the containers hold, and where a volume that nobody measured is that
// of the containers: their size is no estimate of what is in them; units.ErrSyntax for a code that is
// none. *drain.InputError for an estimate that isn't one. As [Container.Net] for the containers.
func (b Batch) Check() error {
	const what = "batch"
	switch {
	case len(b.Description) > 256:
		return refuse(what, "description", b.Description, "longer than 256 bytes", "a shorter text", units.ErrRange)
	case plain.Blank(b.Description):
		return refuse(what, "description", b.Description, "none given", "the generator's words for the waste", drain.ErrMissing)
	case !streams.Has(b.Stream):
		return refuse(what, "stream", b.Stream.String(), "none given", "one of the streams", drain.ErrMissing)
	case len(b.Codes) > maxCodes:
		return refuse(what, "codes", strconv.Itoa(len(b.Codes)), "more than any waste has", "at most 64", units.ErrRange)
	case !given(b.Mass) && !given(b.Volume):
		return refuse(what, "quantity", "", "neither mass nor volume given", "one of them, measured or estimated", drain.ErrMissing)
	}
	if err := seen(what, "description", b.Description); err != nil {
		return err
	}
	for _, code := range b.Codes {
		if trimmed, ok := word(code); !ok || trimmed != code || plain.Hidden(code) != "" {
			return refuse(what, "codes", code, "no code", "such as D001", units.ErrSyntax)
		}
	}
	if given(b.Mass) {
		if err := check(what, "mass", b.Mass); err != nil {
			return err
		}
	}
	if given(b.Volume) {
		if err := check(what, "volume", b.Volume); err != nil {
			return err
		}
	}
	return b.checkContainers()
}

func (b Batch) checkContainers() error {
	const what = "batch"
	if len(b.Containers) == 0 {
		return refuse(what, "containers", "", "none given", "at least one", drain.ErrMissing)
	}
	for _, c := range b.Containers {
		if err := c.check(); err != nil {
			return err
		}
	}
	if err := b.checkMass(); err != nil {
		return err
	}
	capacity, known := b.capacity()
	if !known || !given(b.Volume) {
		return nil
	}
	observed := b.Volume.From == drain.Weighed || b.Volume.From == drain.Measured
	switch order := b.Volume.Best.RatIn(units.Litre).Cmp(capacity); {
	case order > 0:
		return refuse(what, "quantity", b.Volume.Best.String(), "more than the containers hold", "what is in them", units.ErrRange)
	case order == 0 && !observed:
		return refuse(what, "quantity", b.Volume.Best.String(),
			"is the size of the containers, which is no estimate of the waste", "what is in them", units.ErrRange)
	}
	return nil
}

// checkMass refuses a mass that the containers can't hold: none of its liquid is so dense, or their
// marks allow less even without what they weigh themselves.
func (b Batch) checkMass() error {
	if !given(b.Mass) {
		return nil
	}
	tooMuch := refuse("batch", "quantity", b.Mass.Best.String(), "more than the containers hold", "what is in them", units.ErrRange)
	if capacity, known := b.capacity(); known && b.Stream.litres(b.Mass.Best).Cmp(capacity) > 0 {
		return tooMuch
	}
	marks := new(big.Rat)
	for _, c := range b.Containers {
		if c.MostGross.Sign() == 0 {
			return nil
		}
		marks.Add(marks, c.MostGross.RatIn(units.Kilogram))
	}
	if b.Mass.Best.RatIn(units.Kilogram).Cmp(marks) > 0 {
		return tooMuch
	}
	return nil
}

// capacity is what the containers hold, in litres; not known where one container's isn't.
func (b Batch) capacity() (total *big.Rat, known bool) {
	total = new(big.Rat)
	for _, c := range b.Containers {
		if c.Capacity.Sign() == 0 {
			return nil, false
		}
		total.Add(total, c.Capacity.RatIn(units.Litre))
	}
	return total, true
}
