package drain

import (
	"fmt"
	"math/big"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// waterEquation is a published equation for the density of air-free water at atmospheric pressure, with the range in
// °C that it is published for. They differ by some 3 parts in a million; which one was used belongs next to the figure.
type waterEquation struct {
	name          string
	coldest, warm int64
	density       func(t *big.Rat) *big.Rat // kg/m³ of °C
}

var (
	byTanaka = &waterEquation{"Tanaka 2001", 0, 40, tanaka} // recommended by CIPM
	byKell   = &waterEquation{"Kell 1975", 0, 100, kell}    // where water is liquid
)

func exact(text string) *big.Rat {
	x, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("drain: the constant " + text + " is no number")
	}
	return x
}

func exacts(texts ...string) []*big.Rat {
	xs := make([]*big.Rat, len(texts))
	for i, text := range texts {
		xs[i] = exact(text)
	}
	return xs
}

// series is c[0] + c[1]·x + c[2]·x² + …, exactly.
func series(x *big.Rat, c []*big.Rat) *big.Rat {
	sum := new(big.Rat).Set(c[len(c)-1])
	for i := len(c) - 2; i >= 0; i-- {
		sum.Mul(sum, x).Add(sum, c[i])
	}
	return sum
}

// The coefficients, from copies of the papers in open programs (S2), held against the densities
// that were computed from the published ones. A copy of Kell's with 16.897850 in its denominator is
// about too; its two digits stand the wrong way round.
var (
	tanakaA = exacts("-3.983035", "301.797", "522528.9", "69.34881", "999.974950")
	kellTop = exacts("999.83952", "16.945176", "-7.9870401e-3", "-46.170461e-6", "105.56302e-9", "-280.54253e-12")
	kellLow = exacts("1", "16.879850e-3")
)

// tanaka is a5·(1 - (t+a1)²·(t+a2)/(a3·(t+a4))).
func tanaka(t *big.Rat) *big.Rat {
	t1, t2, t4 := new(big.Rat).Add(t, tanakaA[0]), new(big.Rat).Add(t, tanakaA[1]), new(big.Rat).Add(t, tanakaA[3])
	x := product(t1, t1, t2)
	x.Quo(x, product(tanakaA[2], t4))
	return product(tanakaA[4], x.Sub(big.NewRat(1, 1), x))
}

func kell(t *big.Rat) *big.Rat {
	return new(big.Rat).Quo(series(t, kellTop), series(t, kellLow))
}

// densityAt is the density of water by this equation, in kg/m³ at twelve places, rounded once.
//
// Errors: *InputError, ErrTemperature outside the equation's range, ErrMissing for the zero Temperature.
func (e *waterEquation) densityAt(t units.Temperature) (units.Density, error) {
	x, err := e.exactAt(t)
	if err != nil {
		return units.Density{}, err
	}
	return units.FromRat(x, units.KilogramPerCubicMetre, densityPlaces, units.ToNearestEven)
}

func (e *waterEquation) exactAt(t units.Temperature) (*big.Rat, error) {
	if !t.Valid() {
		return nil, refuse("temperature of the water", t.String(), "the scale is not one of the constants", "°C, °F or K", ErrMissing)
	}
	if t.Less(units.Celsius.Of(e.coldest)) || units.Celsius.Of(e.warm).Less(t) {
		return nil, refuse("temperature of the water", t.String(), "outside the equation's range",
			fmt.Sprintf("%d to %d °C (%s)", e.coldest, e.warm, e.name), ErrTemperature)
	}
	// 1e-12 °C is far below what any thermometer shows, and the fifth power of it a number of a few hundred bits.
	return e.density(rational.Round(t.RatIn(units.Celsius), 12).Rat()), nil
}

// WaterDensityAt is the density of water by Tanaka's equation up to 40 °C and by Kell's above, to
// 100 °C. At 40 °C Kell's is 0.0006 kg/m³ the higher, 6 parts in 10 million.
//
// Errors: *InputError (ErrTemperature) outside 0 to 100 °C.
func WaterDensityAt(t units.Temperature) (units.Density, error) {
	return equationFor(t).densityAt(t)
}

func equationFor(t units.Temperature) *waterEquation {
	if units.Celsius.Of(40).Less(t) {
		return byKell
	}
	return byTanaka
}

// WaterMass is the mass of a volume of water measured at a temperature, in kilograms at twelve
// places, by the equation that [WaterDensityAt] takes. Water from a separator holds fuel, dirt and
// additives too; weigh it where the figure matters.
//
// Errors: as [WaterDensityAt] and [Estimate.Check]; *InputError (ErrNegative) for a volume below zero.
func WaterMass(v Estimate[units.VolumeUnit], at units.Temperature) (Estimate[units.MassUnit], error) {
	if err := checkEstimate("volume of water", v); err != nil {
		return Estimate[units.MassUnit]{}, err
	}
	rho, err := equationFor(at).exactAt(at)
	if err != nil {
		return Estimate[units.MassUnit]{}, err
	}
	x := ends(v, units.CubicMetre)
	return rounded(product(rho, x[0]), product(rho, x[1]), product(rho, x[2]), units.Kilogram, massPlaces, v.From)
}

// Layers splits what is in a vessel into the water at the bottom and the fuel on it, from the
// height of the interface and of the surface above the vessel's bottom. The element must stand above
// both or displace next to nothing there; otherwise take what it displaces off yourself.
//
// Errors: as [Vessel] Filled; *InputError (ErrOrder) where the interface is above the surface.
func Layers(v Vessel, interfaceAt, surface Estimate[units.LengthUnit]) (water, fuel Estimate[units.VolumeUnit], err error) {
	if v == nil {
		return volumes{}, volumes{}, refuse("vessel", "", "nil", "a vessel", ErrMissing)
	}
	if surface.Best.Less(interfaceAt.Best) {
		return volumes{}, volumes{}, refuse("interface", interfaceAt.Best.String(), "above the surface, "+surface.Best.String(),
			"water under the fuel", ErrOrder)
	}
	if water, err = v.Filled(interfaceAt); err != nil {
		return volumes{}, volumes{}, err
	}
	all, err := v.Filled(surface)
	if err != nil {
		return volumes{}, volumes{}, err
	}
	fuel, err = less("fuel on the water", all, water)
	return water, fuel, err
}

// WaterTrend is what the water of several services says.
type WaterTrend struct {
	Last   Estimate[units.VolumeUnit]
	Over   Answer // is the last above the threshold
	Rising Answer // is each of the last three above the one before; Undecided below three services
}

// NewWaterTrend judges the water drained at each service, the oldest first, against a threshold
// that the manufacturer's instructions or the fleet set. A rise over three services, or one beyond the
// threshold, says to look at the tank (common practice, no source).
//
// Errors: as [Estimate.Check]; *InputError (ErrMissing) without any service or with a threshold of zero.
func NewWaterTrend(services []Estimate[units.VolumeUnit], threshold units.Volume) (WaterTrend, error) {
	if err := positive("threshold of water", threshold); err != nil {
		return WaterTrend{}, err
	}
	for _, e := range services {
		if err := checkEstimate("water drained", e); err != nil {
			return WaterTrend{}, err
		}
	}
	n := len(services)
	if n == 0 {
		return WaterTrend{}, refuse("water drained", "", "no service", "one or more", ErrMissing)
	}
	last := services[n-1]
	trend := WaterTrend{Last: last, Over: above(last.Low, last.High, threshold), Rising: Undecided}
	if n >= 3 {
		trend.Rising = both(rises(services[n-3], services[n-2]), rises(services[n-2], last))
	}
	return trend, nil
}

// rises says whether b is above a.
func rises(a, b volumes) Answer {
	switch {
	case a.High.Less(b.Low):
		return Yes
	case !a.Low.Less(b.High):
		return No
	}
	return Undecided
}

func both(a, b Answer) Answer {
	switch {
	case a == No || b == No:
		return No
	case a == Yes && b == Yes:
		return Yes
	}
	return Undecided
}
