package drain

import (
	"cmp"
	"math/big"

	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

// The equations of API MPMS Chapter 11.1-2004 (ASTM D1250-04, IP 200/04) for generalized refined
// products at atmospheric pressure. Names follow the standard's symbols.

// group is one of the standard's groups of refined products, which share a set of constants.
type group uint8

// The groups, by density at 60 °F. Each begins at its lower edge and ends before the next begins:
// 610.6, 770.352, 787.5195, 838.3127 and, included, 1163.5 kg/m³.
const (
	gasoline   group = iota + 1 // 610.6 kg/m³ and more
	transition                  // 770.352 and more
	jetFuel                     // 787.5195 and more: kerosene, and light diesel
	fuelOil                     // 838.3127 to 1163.5: most diesel
)

// constants are K0, K1 and K2 of a group and the density at 60 °F from which it counts.
type constants struct {
	from       fixed
	k0, k1, k2 fixed
}

var groups = [...]constants{
	gasoline:   {fixedText("610.6"), fixedText("192.4571"), fixedText("0.2438"), fixedInt(0)},
	transition: {fixedText("770.3520"), fixedText("1489.0670"), fixedInt(0), fixedText("-0.00186840")},
	jetFuel:    {fixedText("787.5195"), fixedText("330.3010"), fixedInt(0), fixedInt(0)},
	fuelOil:    {fixedText("838.3127"), fixedText("103.8720"), fixedText("0.2701"), fixedInt(0)},
}

var (
	heaviest   = fixedText("1163.5")
	thousand   = fixedInt(1000)                                                                             // kg/m³, below the heaviest at any temperature of the tables
	tiny       = fixedRat(new(big.Rat).SetFrac64(1, 1<<40)).mul(fixedRat(new(big.Rat).SetFrac64(1, 1<<40))) // kg/m³, some 1e-24
	delta60    = fixedText("0.01374979547")                                                                 // °F
	base68     = fixedText("60.0068749")                                                                    // 60 °F on the scale of 1968
	half       = fixedText("0.5")
	fourFifths = fixedText("0.8")
	eightFifth = fixedText("1.6")
	nineFifths = fixedText("1.8") // °F in a °C
	iceFahr    = fixedInt(32)     // °F
	tauUnit    = fixedInt(630)    // °C

	coldest = units.Celsius.Of(-50)
	hottest = units.Celsius.Of(150)
	sixty   = units.Fahrenheit.Of(60)
	fifteen = units.Celsius.Of(15)
)

// its90 are the coefficients a1 to a8 of the difference between the temperature scales of 1990
// and 1968, in °C over powers of t/630 °C.
var its90 = []fixed{fixedInt(0),
	fixedText("-0.148759"), fixedText("-0.267408"), fixedText("1.080760"), fixedText("1.269056"),
	fixedText("-4.089591"), fixedText("-1.871251"), fixedText("7.438081"), fixedText("-3.536296"),
}

// tStar is a temperature in °F on the scale of 1968, on which the standard's data were taken.
func tStar(t units.Temperature) fixed {
	c := fixedRat(t.RatIn(units.Celsius))
	c = c.sub(polynomial(c.div(tauUnit), its90...))
	return c.mul(nineFifths).add(iceFahr)
}

// star is the density at 60 °F of the scale of 1968 for a density at 60 °F of the scale of 1990; b is
// minus the slope of ln alpha over ln rho.
func (c *constants) star(rho fixed) (star, b fixed) {
	a := half.mul(delta60).mul(c.expansion(rho))
	b = c.k0.add(c.k0).add(c.k1.mul(rho)).div(c.k0.add(c.k1.add(c.k2.mul(rho)).mul(rho)))
	shift := a.mul(one.add(fourFifths.mul(a))).exp().sub(one)
	shift = shift.div(one.add(a.mul(one.add(eightFifth.mul(a))).mul(b)))
	return rho.mul(one.add(shift)), b
}

// expansion is (K0/rho + K1)/rho + K2, the coefficient of thermal expansion at 60 °F in 1/°F.
func (c *constants) expansion(rho fixed) fixed {
	return c.k0.div(rho).add(c.k1).div(rho).add(c.k2)
}

// alpha is the expansion at the density on the scale of 1968, and b as of star.
func (c *constants) alpha(rho60 fixed) (alpha, b fixed) {
	star, b := c.star(rho60)
	return c.expansion(star), b
}

// ctl is the volume at 60 °F of what is one unit of volume at t.
func ctl(alpha, t fixed) fixed {
	dt := t.sub(base68)
	x := alpha.mul(dt).mul(one.add(fourFifths.mul(alpha).mul(dt.add(delta60))))
	return x.neg().exp()
}

// ctl of a density at 60 °F, and d ln(ctl) / d ln(rho60).
func (c *constants) ctl(rho60, t fixed) (factor, slope fixed) {
	alpha, b := c.alpha(rho60)
	x := alpha.mul(t.sub(base68))
	return ctl(alpha, t), b.mul(x).mul(one.add(eightFifth.mul(x)))
}

// base solves rho60·ctl(rho60, t) = rho by Newton's steps. The standard stops at 1e-6 kg/m³; this
// goes on until the steps are below 1e-24, some five of them.
func (c *constants) base(rho, t fixed) fixed {
	rho60 := rho
	for range 40 {
		factor, slope := c.ctl(rho60, t)
		step := rho.div(factor).sub(rho60).div(one.add(slope))
		rho60 = rho60.add(step)
		if step.within(tiny) {
			break
		}
	}
	return rho60
}

// Fuel is a refined product whose density is known at one temperature, and by the standard's
// equations at every other between -50 and 150 °C. It is immutable; the zero Fuel is invalid and
// its methods say so.
//
// The equations are those of API MPMS Chapter 11.1-2004 (ASTM D1250-04) at atmospheric pressure,
// computed in whole numbers: the same bytes on every machine. Biodiesel follows them only roughly.
type Fuel struct {
	_       [0]func()
	rho60   fixed // kg/m³ at 60 °F
	alpha   fixed // at 60 °F, in 1/°F
	group   group
	density units.Density
	at      units.Temperature
}

const source = "API MPMS 11.1-2004"

// FuelAt is the fuel that has this density at this temperature: 840 kg/m³ at 15 °C, or what a
// hydrometer shows at the temperature of the sample. A hydrometer's glass shrinks and grows too;
// that correction (ASTM D1298) is to be made before. [ParseStatedDensity] reads a figure on a scale of
// gravity, which has the density at 60 °F.
//
// The group of products, and with it the constants, is chosen by the density at 60 °F. Near an
// edge two groups can both answer, or (a gap of some 1e-5 kg/m³ at 770.352) neither; then the
// heavier group is taken; the two differ by less than 1e-7 of the factor (9.1e-8 at 150 °C).
//
// Errors: *InputError, ErrTemperature outside -50 to 150 °C, ErrDensity where the density at 60 °F
// is outside 610.6 to 1163.5 kg/m³ or a density stated at 15 °C is above 1163.5, ErrMissing for a
// density of zero or a unit that isn't one of the constants.
func FuelAt(density units.Density, at units.Temperature) (Fuel, error) {
	if err := cmp.Or(positive("density of the fuel", density), inTables(at)); err != nil {
		return Fuel{}, err
	}
	f := Fuel{density: density, at: at}
	rho := fixedRat(density.RatIn(units.KilogramPerCubicMetre))
	if at.Equal(sixty) {
		f.rho60, f.group = rho, groupOf(rho)
	} else {
		f.rho60, f.group = solve(rho, tStar(at))
	}
	// The standard's examples refuse 1163.55 kg/m³ at 15 °C, though it is 1163.19 at 60 °F: the upper
	// edge holds for a density stated at that base too.
	if f.group == 0 || at.Equal(fifteen) && rho.cmp(heaviest) > 0 {
		return Fuel{}, refuse("density of the fuel", density.String()+" at "+at.String(), "outside the tables",
			"610.6 to 1163.5 kg/m³ at 60 °F ("+source+", refined products)", ErrDensity)
	}
	f.alpha, _ = groups[f.group].alpha(f.rho60)
	return f, nil
}

// inTables refuses a temperature beyond the standard.
func inTables(t units.Temperature) error {
	if !t.Valid() {
		return refuse("temperature of the fuel", t.String(), "the scale is not one of the constants", "°C, °F or K", ErrMissing)
	}
	if t.Less(coldest) || hottest.Less(t) {
		return refuse("temperature of the fuel", t.String(), "outside the tables", "-50 to 150 °C ("+source+")", ErrTemperature)
	}
	return nil
}

// groupOf is the group of a density at 60 °F, 0 where it is in none.
func groupOf(rho60 fixed) group {
	if rho60.cmp(heaviest) > 0 {
		return 0
	}
	for g := fuelOil; g >= gasoline; g-- {
		if rho60.cmp(groups[g].from) >= 0 {
			return g
		}
	}
	return 0
}

// solve is the density at 60 °F and the group of a density at another temperature. Within a group
// more density at 60 °F is more at any temperature, so that the edges are compared where the
// density was taken and only one group has to be solved for.
func solve(rho, t fixed) (fixed, group) {
	at := func(g group, rho60 fixed) fixed {
		factor, _ := groups[g].ctl(rho60, t)
		return rho60.mul(factor)
	}
	if rho.cmp(thousand) > 0 && rho.cmp(at(fuelOil, heaviest)) > 0 {
		return fixed{}, 0
	}
	for g := fuelOil; g >= gasoline; g-- {
		if rho.cmp(at(g, groups[g].from)) < 0 {
			continue
		}
		if g < fuelOil && rho.cmp(at(g, groups[g+1].from)) >= 0 {
			g++ // the gap: too light for the heavier group, too heavy for this one
		}
		return groups[g].base(rho, t), g
	}
	return fixed{}, 0
}

// check refuses the zero Fuel and a temperature beyond the tables.
func (f Fuel) check(at units.Temperature) error {
	if f.group == 0 {
		return refuse("fuel", "", "the zero Fuel has no density", "a Fuel made by FuelAt", ErrMissing)
	}
	return inTables(at)
}

// Density is the density as it was given, and the temperature at which.
func (f Fuel) Density() (density units.Density, at units.Temperature) { return f.density, f.at }

func (f Fuel) densityAt(t units.Temperature) fixed {
	switch {
	case t.Equal(f.at): // what was given is known better than what comes back
		return fixedRat(f.density.RatIn(units.KilogramPerCubicMetre))
	case t.Equal(sixty):
		return f.rho60
	}
	return f.rho60.mul(ctl(f.alpha, tStar(t)))
}

// The places to which computed figures are rounded, once, half-even. The standard's own worked
// examples print twelve.
const (
	densityPlaces = 12 // kg/m³
	massPlaces    = 12 // kg
	factorPlaces  = 18
)

// DensityAt is the fuel's density at a temperature, in kg/m³ at twelve places. At the temperature
// at which it was given it is what was given.
//
// Errors: *InputError, ErrTemperature outside -50 to 150 °C, ErrMissing for the zero Fuel.
func (f Fuel) DensityAt(t units.Temperature) (units.Density, error) {
	if err := f.check(t); err != nil {
		return units.Density{}, err
	}
	return units.FromRat(f.densityAt(t).rat(), units.KilogramPerCubicMetre, densityPlaces, units.ToNearestEven)
}

// VolumeAt says at which temperature a volume was measured and to which it is to be brought. Both
// have to be given.
type VolumeAt struct{ Temperature, Base units.Temperature }

// factor is the density at the one temperature over the density at the other. The standard's CTL at
// 60 °F itself is 1 + 5e-13, since its constants are rounded; here the density at 60 °F is rho60.
func (f Fuel) factor(at VolumeAt) fixed {
	return f.densityAt(at.Temperature).div(f.densityAt(at.Base))
}

// VolumeFactor is what a volume at at.Temperature is to be multiplied by to have the volume at
// at.Base, at eighteen places: CTL of the standard where the base is 60 °F, VCF of the tables for
// 15 or 20 °C, and good between any two temperatures. The inputs are not rounded before, as the
// standard's computational method asks; the table look-up method rounds them.
//
// Errors: *InputError, ErrTemperature outside -50 to 150 °C for either, ErrMissing for the zero Fuel.
func (f Fuel) VolumeFactor(at VolumeAt) (decimal.Decimal, error) {
	return f.volumeFactor(at, factorPlaces)
}

func (f Fuel) volumeFactor(at VolumeAt, places int) (decimal.Decimal, error) {
	if err := cmp.Or(f.check(at.Temperature), inTables(at.Base)); err != nil {
		return decimal.Decimal{}, err
	}
	q, err := units.FromRat(f.factor(at).rat(), units.CubicMetre, places, units.ToNearestEven)
	return q.Magnitude(), err
}

// Volume is the volume at at.Base of what was measured as v at at.Temperature, in v's unit at
// twelve places.
//
// Errors: as [Fuel.VolumeFactor]; *InputError (ErrNegative) for a volume below zero.
func (f Fuel) Volume(v units.Volume, at VolumeAt) (units.Volume, error) {
	if err := cmp.Or(checked("volume", v), f.check(at.Temperature), inTables(at.Base)); err != nil {
		return units.Volume{}, err
	}
	x := f.factor(at).rat()
	return units.FromRat(x.Mul(x, v.RatIn(v.Unit())), v.Unit(), massPlaces, units.ToNearestEven)
}

// Mass is the mass of a volume of the fuel measured at a temperature, in kilograms at twelve
// places. The temperature is the one at which the volume was read, not the one at which the fuel
// was caught. A scale in air shows less: see [ScaleReading].
//
// Errors: *InputError, ErrNegative for a volume below zero, ErrTemperature outside -50 to 150 °C,
// ErrMissing for the zero Fuel.
func (f Fuel) Mass(v units.Volume, at units.Temperature) (units.Mass, error) {
	if err := cmp.Or(checked("volume", v), f.check(at)); err != nil {
		return units.Mass{}, err
	}
	return massOf(f.densityAt(at), v, units.ToNearestEven)
}

// MassOf is [Fuel.Mass] of an estimate: low of the low volume, high of the high, each rounded
// outward at twelve places.
//
// Errors: as [Fuel.Mass] and [Estimate.Check].
func (f Fuel) MassOf(v Estimate[units.VolumeUnit], at units.Temperature) (Estimate[units.MassUnit], error) {
	if err := cmp.Or(checkEstimate("volume", v), f.check(at)); err != nil {
		return Estimate[units.MassUnit]{}, err
	}
	density := f.densityAt(at)
	low, err1 := massOf(density, v.Low, units.ToNegativeInf)
	best, err2 := massOf(density, v.Best, units.ToNearestEven)
	high, err3 := massOf(density, v.High, units.ToPositiveInf)
	return join(low, best, high, v.From, err1, err2, err3)
}

var massScale = new(big.Int).Exp(big.NewInt(10), big.NewInt(massPlaces), nil)

// massOf is density times volume, rounded in whole numbers: to reduce a fraction of so many bits takes longer
// than all else.
func massOf(density fixed, v units.Volume, mode units.Rounding) (units.Mass, error) {
	x := v.RatIn(units.CubicMetre)
	over := density.big()
	over.Mul(over, x.Num())
	over.Mul(over, massScale)
	under := new(big.Int).Lsh(x.Denom(), fractionBits)
	q, rest := over.QuoRem(over, under, new(big.Int))
	if q.BitLen() > 100 { // more than 10^18 kg
		return massInFractions(density, x, mode)
	}
	half := rest.Lsh(rest, 1).Cmp(under)
	if mode == units.ToPositiveInf && rest.Sign() > 0 || mode == units.ToNearestEven && (half > 0 || half == 0 && q.Bit(0) == 1) {
		q.Add(q, big.NewInt(1))
	}
	return units.New(decimal.NewFromBigInt(q, -massPlaces), units.Kilogram)
}

func massInFractions(density fixed, cubicMetres *big.Rat, mode units.Rounding) (units.Mass, error) {
	return units.FromRat(product(density.rat(), cubicMetres), units.Kilogram, massPlaces, mode)
}

// VolumeOf is [Fuel.Volume] for an estimate: low down, high up.
//
// Errors: as [Fuel.VolumeFactor] and [Estimate.Check]; *InputError (ErrNegative) for a volume below zero.
func (f Fuel) VolumeOf(v Estimate[units.VolumeUnit], at VolumeAt) (Estimate[units.VolumeUnit], error) {
	if err := cmp.Or(checkEstimate("volume", v), f.check(at.Temperature), inTables(at.Base)); err != nil {
		return volumes{}, err
	}
	factor, unit := f.factor(at).rat(), v.Best.Unit()
	volume := func(v units.Volume) *big.Rat { return product(factor, v.RatIn(unit)) }
	return rounded(volume(v.Low), volume(v.Best), volume(v.High), unit, massPlaces, v.From)
}

// rounded is an estimate at a number of places, low down and high up.
func rounded[U units.Unit](low, best, high *big.Rat, unit U, places int, from Provenance) (Estimate[U], error) {
	l, err1 := units.FromRat(low, unit, places, units.ToNegativeInf)
	b, err2 := units.FromRat(best, unit, places, units.ToNearestEven)
	h, err3 := units.FromRat(high, unit, places, units.ToPositiveInf)
	return join(l, b, h, from, err1, err2, err3)
}

var (
	air     = big.NewRat(12, 10)  // kg/m³
	weights = big.NewRat(8000, 1) // kg/m³
)

// ScaleReading is what a scale shows for a mass of this density: m·(1 - 1.2/ρ)/(1 - 1.2/8000),
// in m's unit at twelve places. Air lifts what is weighed more than it lifted the weights the scale
// was adjusted with; for fuel it comes to 0.13 % less. The air has the conventional 1.2 kg/m³, the
// weights the conventional 8000 kg/m³ (OIML D 28, seen in a copy).
//
// Errors: *InputError, ErrNegative for a mass below zero, units.ErrRange for a density of air or less.
func ScaleReading(m units.Mass, density units.Density) (units.Mass, error) {
	lift, err := buoyancy(m, density)
	if err != nil {
		return units.Mass{}, err
	}
	return units.FromRat(lift.Mul(lift, m.RatIn(m.Unit())), m.Unit(), massPlaces, units.ToNearestEven)
}

// MassFromScale is the mass of which a scale in air shows this reading, the way back from
// [ScaleReading].
//
// Errors: as [ScaleReading].
func MassFromScale(reading units.Mass, density units.Density) (units.Mass, error) {
	lift, err := buoyancy(reading, density)
	if err != nil {
		return units.Mass{}, err
	}
	return units.FromRat(lift.Quo(reading.RatIn(reading.Unit()), lift), reading.Unit(), massPlaces, units.ToNearestEven)
}

// buoyancy is the reading over the mass.
func buoyancy(m units.Mass, density units.Density) (*big.Rat, error) {
	if err := cmp.Or(checked("mass", m), positive("density", density)); err != nil {
		return nil, err
	}
	rho := density.RatIn(units.KilogramPerCubicMetre)
	if rho.Cmp(air) <= 0 {
		return nil, refuse("density", density.String(), "no heavier than air", "more than 1.2 kg/m³", units.ErrRange)
	}
	// (ρ - a)/ρ · w/(w - a) over whole numbers of tenths, so that one fraction is reduced and not four.
	n, d := rho.Num(), rho.Denom()
	over := new(big.Int).Mul(n, big.NewInt(10))
	over.Sub(over, new(big.Int).Mul(d, big.NewInt(12)))
	return new(big.Rat).SetFrac(over.Mul(over, big.NewInt(8000)), new(big.Int).Mul(n, big.NewInt(79988))), nil
}

// MarshalJSON is always an error: what a fuel is made of, its density and the temperature of that, is
// what to store.
//
// Errors: *InputError (units.ErrSyntax).
func (f Fuel) MarshalJSON() ([]byte, error) {
	return nil, refuse("fuel", "", "isn't stored as a whole", "its density and the temperature of that", units.ErrSyntax)
}
