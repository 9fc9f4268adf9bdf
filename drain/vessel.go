package drain

import (
	"cmp"
	"math/big"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Length and Volume estimates by the names the geometry uses.
type (
	lengths = Estimate[units.LengthUnit]
	volumes = Estimate[units.VolumeUnit]
)

// Vessel is a bowl, a canister or a housing: a [Cylinder], a [ConeFrustum], a [StatedCapacity] or
// a [Stack] of them. Volumes come in litres at twelve places, low rounded down and high up.
type Vessel interface {
	// Capacity is the volume inside, with nothing in it.
	//
	// Errors: *InputError for a dimension that isn't above zero or an estimate that isn't one.
	Capacity() (Estimate[units.VolumeUnit], error)
	// Filled is the volume below a level, measured from the vessel's bottom. A level that may stand
	// above the rim is taken at the rim there; one whose best figure does is refused.
	//
	// Errors: as Capacity; *InputError, ErrNegative for a level below the bottom, units.ErrRange for
	// one above the rim, ErrMissing where the shape isn't known.
	Filled(level Estimate[units.LengthUnit]) (Estimate[units.VolumeUnit], error)
	// span is the height as exact metres, low, best and high; not ok where it isn't known.
	span() (h [3]*big.Rat, ok bool)
	check() error
	// below is the volume below exact levels in metres, each within the height, in cubic metres.
	below(level [3]*big.Rat) (v [3]*big.Rat, err error)
	from() Provenance
}

// π lies between piLow and piHigh, which are 50 places and 1e-50 apart (OEIS A000796).
var piLow, piHigh = func() (low, high *big.Rat) {
	digits, _ := new(big.Int).SetString("314159265358979323846264338327950288419716939937510", 10)
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(50), nil)
	return new(big.Rat).SetFrac(digits, scale), new(big.Rat).SetFrac(new(big.Int).Add(digits, big.NewInt(1)), scale)
}()

// pi for low, best and high.
var pi = [3]*big.Rat{piLow, piLow, piHigh}

func product(factors ...*big.Rat) *big.Rat {
	x := new(big.Rat).Set(factors[0])
	for _, f := range factors[1:] {
		x.Mul(x, f)
	}
	return x
}

func smaller(a, b *big.Rat) *big.Rat {
	if b.Cmp(a) < 0 {
		return b
	}
	return a
}

func larger(a, b *big.Rat) *big.Rat {
	if b.Cmp(a) > 0 {
		return b
	}
	return a
}

// ends are low, best and high in a unit, exactly.
func ends[U units.Unit](e Estimate[U], unit U) [3]*big.Rat {
	return [3]*big.Rat{e.Low.RatIn(unit), e.Best.RatIn(unit), e.High.RatIn(unit)}
}

const volumePlaces = 12 // L

// litres makes an estimate of exact cubic metres.
func litres(v [3]*big.Rat, from Provenance) (volumes, error) {
	k := big.NewRat(1000, 1)
	return rounded(product(k, v[0]), product(k, v[1]), product(k, v[2]), units.Litre, volumePlaces, from)
}

// checkLength wants an estimate that is above zero from end to end.
func checkLength(what string, e lengths) error {
	if err := checkEstimate(what, e); err != nil {
		return err
	}
	return positive(what, e.Low)
}

func filled(v Vessel, level lengths) (volumes, error) {
	if err := cmp.Or(v.check(), checkEstimate("level", level)); err != nil {
		return volumes{}, err
	}
	h, ok := v.span()
	if !ok {
		return volumes{}, refuse("level", level.Best.String(), "the vessel's height isn't known", "a vessel with a height", ErrMissing)
	}
	l := ends(level, units.Metre)
	if l[1].Cmp(h[1]) > 0 {
		return volumes{}, refuse("level", level.Best.String(), "above the vessel's rim", "no more than its height", units.ErrRange)
	}
	v3, err := v.below(l)
	if err != nil {
		return volumes{}, err
	}
	return litres(v3, Weakest(v.from(), level.From))
}

// Cylinder stands upright.
type Cylinder struct {
	Diameter, Height Estimate[units.LengthUnit] // inside
}

// Capacity is π/4·d²·h.
func (c Cylinder) Capacity() (Estimate[units.VolumeUnit], error) { return c.frustum().Capacity() }

// Filled is π/4·d²·level.
func (c Cylinder) Filled(level Estimate[units.LengthUnit]) (Estimate[units.VolumeUnit], error) {
	return filled(c, level)
}

func (c Cylinder) frustum() ConeFrustum { return ConeFrustum{c.Diameter, c.Diameter, c.Height} }

func (c Cylinder) check() error                                 { return c.frustum().check() }
func (c Cylinder) from() Provenance                             { return c.frustum().from() }
func (c Cylinder) span() ([3]*big.Rat, bool)                    { return c.frustum().span() }
func (c Cylinder) below(l [3]*big.Rat) (v [3]*big.Rat, _ error) { return c.frustum().below(l) }

// ConeFrustum is a cone cut off, upright: a bowl that narrows towards its drain, or widens.
type ConeFrustum struct {
	Bottom, Top Estimate[units.LengthUnit] // inside diameters
	Height      Estimate[units.LengthUnit] // upright, not along the wall
}

// Capacity is π/12·h·(b² + b·t + t²) with the diameters b and t.
func (c ConeFrustum) Capacity() (Estimate[units.VolumeUnit], error) {
	if err := c.check(); err != nil {
		return volumes{}, err
	}
	h, _ := c.span()
	full, _ := c.below(h)
	return litres(full, c.from())
}

// Filled is the same up to the level, with the diameter there in place of the top's.
func (c ConeFrustum) Filled(level Estimate[units.LengthUnit]) (Estimate[units.VolumeUnit], error) {
	return filled(c, level)
}

func (c ConeFrustum) check() error {
	return cmp.Or(checkLength("diameter", c.Bottom), checkLength("diameter", c.Top), checkLength("height", c.Height))
}

func (c ConeFrustum) from() Provenance {
	return Weakest(Weakest(c.Bottom.From, c.Top.From), c.Height.From)
}

func (c ConeFrustum) span() ([3]*big.Rat, bool) { return ends(c.Height, units.Metre), true }

// below is evaluated at the corners. The volume grows with both diameters and with the level; with
// the height it grows until the level is covered, and then goes one way, so that its extremes are
// at the ends of the height or where the height is the level.
func (c ConeFrustum) below(l [3]*big.Rat) (v [3]*big.Rat, _ error) {
	b, t, h := ends(c.Bottom, units.Metre), ends(c.Top, units.Metre), ends(c.Height, units.Metre)
	at := func(i int, height *big.Rat) *big.Rat { return frustum(b[i], t[i], height, l[i], pi[i]) }
	v[1] = at(1, h[1])
	v[0], v[2] = smaller(at(0, h[0]), at(0, h[2])), larger(at(2, h[0]), at(2, h[2]))
	if h[0].Cmp(l[2]) < 0 && l[2].Cmp(h[2]) < 0 {
		v[2] = larger(v[2], at(2, l[2]))
	}
	return v, nil
}

// frustum is the volume of a frustum below a level, which counts as the height where it is above.
func frustum(b, t, h, level, pi *big.Rat) *big.Rat {
	level = smaller(level, h)
	share := new(big.Rat).Quo(level, h)
	at := new(big.Rat).Sub(t, b)
	at.Add(b, at.Mul(at, share)) // the diameter at the level
	sum := product(b, b)
	sum.Add(sum, product(b, at)).Add(sum, product(at, at))
	return product(pi, big.NewRat(1, 12), level, sum)
}

// StatedCapacity is a vessel of which only the volume is known, and perhaps the height. Its shape
// isn't, so that nothing can be said of it between empty and full.
type StatedCapacity struct {
	Volume Estimate[units.VolumeUnit]
	Height Estimate[units.LengthUnit] // the zero Estimate: not known
}

// Capacity is the volume as stated.
func (s StatedCapacity) Capacity() (Estimate[units.VolumeUnit], error) {
	if err := s.check(); err != nil {
		return volumes{}, err
	}
	return s.Volume, nil
}

// Filled answers for a level that is surely at the bottom or surely at the rim.
func (s StatedCapacity) Filled(level Estimate[units.LengthUnit]) (Estimate[units.VolumeUnit], error) {
	return filled(s, level)
}

func (s StatedCapacity) check() error {
	if err := checkEstimate("stated capacity", s.Volume); err != nil {
		return err
	}
	if s.Height.From == 0 {
		return positive("stated capacity", s.Volume.Low)
	}
	return cmp.Or(positive("stated capacity", s.Volume.Low), checkLength("height", s.Height))
}

// from is asked of a vessel with a height alone.
func (s StatedCapacity) from() Provenance { return Weakest(s.Volume.From, s.Height.From) }

func (s StatedCapacity) span() ([3]*big.Rat, bool) {
	if s.Height.From == 0 {
		return [3]*big.Rat{}, false
	}
	return ends(s.Height, units.Metre), true
}

func (s StatedCapacity) below(l [3]*big.Rat) ([3]*big.Rat, error) {
	h, known := s.span()
	switch {
	case !known:
		return ends(s.Volume, units.CubicMetre), nil // asked by Capacity alone
	case l[2].Sign() == 0:
		return [3]*big.Rat{new(big.Rat), new(big.Rat), new(big.Rat)}, nil
	case l[0].Cmp(h[2]) >= 0:
		return ends(s.Volume, units.CubicMetre), nil
	}
	return [3]*big.Rat{}, refuse("level", "", "part of a vessel whose shape isn't known",
		"a level at the bottom or the rim, or the vessel's dimensions", ErrMissing)
}

// Stack is vessels one on another, the lowest first: a bowl under a canister.
type Stack []Vessel

// Capacity is the sum of the sections'.
func (s Stack) Capacity() (Estimate[units.VolumeUnit], error) {
	if err := s.check(); err != nil {
		return volumes{}, err
	}
	parts := make([]volumes, len(s))
	for i, v := range s {
		part, err := v.Capacity()
		if err != nil {
			return volumes{}, err
		}
		parts[i] = part
	}
	return Sum(units.Litre, parts...)
}

// Filled is the volume below a level above the lowest bottom. Where heights are estimates the low
// end takes the level at its lowest and the sections below at their highest, and the high end the
// other way round: it holds the true volume, and may be wider than need be.
func (s Stack) Filled(level Estimate[units.LengthUnit]) (Estimate[units.VolumeUnit], error) {
	return filled(s, level)
}

func (s Stack) check() error {
	if len(s) == 0 {
		return refuse("stack", "", "no vessel in it", "one or more", ErrMissing)
	}
	for _, v := range s {
		if v == nil {
			return refuse("stack", "", "a nil vessel in it", "a vessel", ErrMissing)
		}
		if err := v.check(); err != nil {
			return err
		}
	}
	return nil
}

func (s Stack) from() Provenance {
	from := Weighed
	for _, v := range s {
		from = Weakest(from, v.from())
	}
	return from
}

func (s Stack) span() (h [3]*big.Rat, ok bool) {
	h = [3]*big.Rat{new(big.Rat), new(big.Rat), new(big.Rat)}
	for _, v := range s {
		part, known := v.span()
		if !known {
			return h, false
		}
		for i := range h {
			h[i].Add(h[i], part[i])
		}
	}
	return h, true
}

func (s Stack) below(l [3]*big.Rat) (sum [3]*big.Rat, err error) {
	sum = [3]*big.Rat{new(big.Rat), new(big.Rat), new(big.Rat)}
	rest := l
	for _, v := range s {
		h, _ := v.span()
		for i := range rest {
			rest[i] = larger(rest[i], new(big.Rat))
		}
		part, err := v.below(rest)
		if err != nil {
			return sum, err
		}
		for i := range sum {
			sum[i].Add(sum[i], part[i])
			rest[i] = new(big.Rat).Sub(rest[i], h[2-i])
		}
	}
	return sum, nil
}

// Draining is what is in a filter when its drain is opened. Every figure is asked for; where
// nothing is retained, say so and from where: Exactly(units.Litre.Of(0), Assumed).
type Draining struct {
	Filled    Estimate[units.VolumeUnit] // the vessel up to the level: [Vessel] Filled or Capacity
	Displaced Estimate[units.VolumeUnit] // by the element and its hardware, below that level
	Retained  Estimate[units.VolumeUnit] // what stays on the walls, below the drain and in the element
}

// holds is the liquid in the filter: what is filled less what is displaced.
func (d Draining) holds() (Estimate[units.VolumeUnit], error) {
	if err := cmp.Or(checkEstimate("filled volume", d.Filled), checkEstimate("displaced volume", d.Displaced)); err != nil {
		return volumes{}, err
	}
	return less("liquid in the filter", d.Filled, d.Displaced)
}

// Out is the liquid that the drain lets out: what is filled less what is displaced and what is
// retained. Where low would be below zero it is zero, since no volume is.
//
// Errors: *InputError, ErrNegative where more is displaced and retained than is filled by the best
// figures or where a figure is below zero, ErrMissing for a figure that wasn't given.
func (d Draining) Out() (Estimate[units.VolumeUnit], error) {
	held, err := d.holds()
	if err != nil {
		return volumes{}, err
	}
	if err := checkEstimate("retained volume", d.Retained); err != nil {
		return volumes{}, err
	}
	return less("liquid that comes out", held, d.Retained)
}

// less subtracts volumes; low stops at zero, best must not pass it.
func less(what string, a, b volumes) (volumes, error) {
	e, err := a.Sub(b)
	if err != nil {
		return volumes{}, err
	}
	if e.Best.Sign() < 0 {
		return volumes{}, refuse(what, e.Best.String(), "below zero", "no more taken off than is there", ErrNegative)
	}
	if e.Low.Sign() < 0 {
		e.Low = e.Low.Unit().Of(0)
	}
	return e, nil
}

// Displacement is the volume that a part of this mass and density displaces, in litres at twelve
// places: a steel centre tube, a body of glass fibre. Low is of the low mass.
//
// Errors: *InputError, ErrNegative and ErrMissing as for every figure, ErrMissing for a density of zero.
func Displacement(part Estimate[units.MassUnit], density units.Density) (Estimate[units.VolumeUnit], error) {
	if err := cmp.Or(checkEstimate("mass of the part", part), positive("density", density)); err != nil {
		return volumes{}, err
	}
	rho := new(big.Rat).Inv(density.RatIn(units.KilogramPerCubicMetre))
	m := ends(part, units.Kilogram)
	return litres([3]*big.Rat{product(m[0], rho), product(m[1], rho), product(m[2], rho)}, part.From)
}

// RetainedByWeighing is the fuel in an element that was put on a scale dry and again wet: the
// difference of the readings, brought from air to mass and from mass to litres at the temperature
// of the fuel, at twelve places. What the air does to the dry element cancels.
//
// Errors: *InputError, ErrNegative where the wet element isn't the heavier by the best figures, and
// as [Fuel.Mass].
func RetainedByWeighing(dry, wet Estimate[units.MassUnit], f Fuel, at units.Temperature) (Estimate[units.VolumeUnit], error) {
	if err := cmp.Or(checkEstimate("dry element", dry), checkEstimate("wet element", wet), f.check(at)); err != nil {
		return volumes{}, err
	}
	d, w := ends(dry, units.Kilogram), ends(wet, units.Kilogram)
	density := f.densityAt(at).rat()
	lift := new(big.Rat).Sub(density, air) // ρ·(1 - 1.2/ρ)
	scale := new(big.Rat).Sub(weights, air)
	perKilogram := product(scale, new(big.Rat).Inv(weights), new(big.Rat).Inv(lift))
	v := [3]*big.Rat{new(big.Rat).Sub(w[0], d[2]), new(big.Rat).Sub(w[1], d[1]), new(big.Rat).Sub(w[2], d[0])}
	if v[1].Sign() < 0 {
		return volumes{}, refuse("wet element", wet.Best.String(), "lighter than the dry one, "+plain.Cut(dry.Best.String()),
			"the two the right way round", ErrNegative)
	}
	v[0] = larger(v[0], new(big.Rat))
	for i := range v {
		v[i] = product(v[i], perKilogram)
	}
	return litres(v, Weakest(dry.From, wet.From))
}

// WetMass is the mass of something that holds liquid, such as a used element: dry and what it retains at
// the liquid's density, low with low and high with high, in kilograms at twelve places, as firm as the
// weakest of the three. The density is the one at the temperature at which the volume was measured, such
// as [Fuel.DensityAt] gives. A weighed figure is better; take it where there is one.
//
// Errors: as [Estimate.Check]; *InputError (ErrNegative) for anything below zero; units.ErrRange for a
// result too large.
func WetMass(dry Estimate[units.MassUnit], retained Estimate[units.VolumeUnit], density Estimate[units.DensityUnit]) (Estimate[units.MassUnit], error) {
	if err := cmp.Or(checkEstimate("dry mass", dry), checkEstimate("retained volume", retained), checkEstimate("density", density)); err != nil {
		return Estimate[units.MassUnit]{}, err
	}
	m, v, d := ends(dry, units.Kilogram), ends(retained, units.CubicMetre), ends(density, units.KilogramPerCubicMetre)
	for i := range m {
		m[i] = new(big.Rat).Add(m[i], product(v[i], d[i]))
	}
	return rounded(m[0], m[1], m[2], units.Kilogram, massPlaces, Weakest(dry.From, Weakest(retained.From, density.From)))
}
