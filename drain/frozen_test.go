package drain

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/testdata/frozen"
	"example.com/snugturn/units"
)

// What tables of calls can't name: a fuel by its density, and the vessels.
func withFuel[R any](do func(Fuel) (R, error)) func(units.Density, units.Temperature) (R, error) {
	return func(density units.Density, at units.Temperature) (R, error) {
		f, err := FuelAt(density, at)
		if err != nil {
			var none R
			return none, err
		}
		return do(f)
	}
}

type frozenVessel struct {
	Cylinder *Cylinder
	Cone     *ConeFrustum
	Stated   *StatedCapacity
	Stack    []frozenVessel
}

func (v frozenVessel) vessel() Vessel {
	switch {
	case v.Cylinder != nil:
		return *v.Cylinder
	case v.Cone != nil:
		return *v.Cone
	case v.Stated != nil:
		return *v.Stated
	}
	s := Stack{}
	for _, part := range v.Stack {
		s = append(s, part.vessel())
	}
	return s
}

type (
	anyVolume = Estimate[units.VolumeUnit]
	anyLength = Estimate[units.LengthUnit]
	anyMass   = Estimate[units.MassUnit]
)

var frozenCalls = frozen.Of(frozen.Calls{
	"FillLimit": func(d units.Density, at units.Temperature, capacity units.Volume, filled units.Temperature) (units.Volume, error) {
		return withFuel(func(f Fuel) (units.Volume, error) { return FillLimit(f, capacity, filled) })(d, at)
	},
	"FullAt55": func(d units.Density, at units.Temperature, capacity units.Volume, filled units.Temperature) (units.Volume, error) {
		return withFuel(func(f Fuel) (units.Volume, error) { return FullAt55(f, capacity, filled) })(d, at)
	},
	"Fuel.APIGravity": func(d units.Density, at units.Temperature, places int) (decimal.Decimal, error) {
		return withFuel(func(f Fuel) (decimal.Decimal, error) { return f.APIGravity(places) })(d, at)
	},
	"Fuel.RelativeDensity": func(d units.Density, at units.Temperature, places int) (decimal.Decimal, error) {
		return withFuel(func(f Fuel) (decimal.Decimal, error) { return f.RelativeDensity(places) })(d, at)
	},
	"Fuel.DensityAt": func(d units.Density, at, other units.Temperature) (units.Density, error) {
		return withFuel(func(f Fuel) (units.Density, error) { return f.DensityAt(other) })(d, at)
	},
	"Fuel.MassOf": func(d units.Density, at units.Temperature, v anyVolume, measured units.Temperature) (anyMass, error) {
		return withFuel(func(f Fuel) (anyMass, error) { return f.MassOf(v, measured) })(d, at)
	},
	"Fuel.Mass": func(d units.Density, at units.Temperature, v units.Volume, measured units.Temperature) (units.Mass, error) {
		return withFuel(func(f Fuel) (units.Mass, error) { return f.Mass(v, measured) })(d, at)
	},
	"Fuel.Volume": func(d units.Density, at units.Temperature, v units.Volume, to VolumeAt) (units.Volume, error) {
		return withFuel(func(f Fuel) (units.Volume, error) { return f.Volume(v, to) })(d, at)
	},
	"Fuel.VolumeOf": func(d units.Density, at units.Temperature, v anyVolume, to VolumeAt) (anyVolume, error) {
		return withFuel(func(f Fuel) (anyVolume, error) { return f.VolumeOf(v, to) })(d, at)
	},
	"Fuel.VolumeFactor": func(d units.Density, at units.Temperature, to VolumeAt) (decimal.Decimal, error) {
		return withFuel(func(f Fuel) (decimal.Decimal, error) { return f.VolumeFactor(to) })(d, at)
	},
	"FuelAt": func(d units.Density, at units.Temperature) (StatedDensity, error) {
		return withFuel(func(f Fuel) (StatedDensity, error) { d, _ := f.Density(); return StateDensity(d), nil })(d, at)
	},
	"RetainedByWeighing": func(d units.Density, at units.Temperature, dry, wet anyMass, t units.Temperature) (anyVolume, error) {
		return withFuel(func(f Fuel) (anyVolume, error) { return RetainedByWeighing(dry, wet, f, t) })(d, at)
	},
	"Vessel.Capacity": func(v frozenVessel) (anyVolume, error) { return v.vessel().Capacity() },
	"Vessel.Filled":   func(v frozenVessel, level anyLength) (anyVolume, error) { return v.vessel().Filled(level) },
	"Layers": func(v frozenVessel, between, surface anyLength) (anyVolume, anyVolume, error) {
		return Layers(v.vessel(), between, surface)
	},
	"HandStrokes": HandStrokes, "KeyCycles": KeyCycles, "MassFromScale": MassFromScale, "PrimingChecklist": PrimingChecklist,
	"ScaleReading": ScaleReading, "WaterDensityAt": WaterDensityAt, "Displacement": Displacement, "VoidLeft": VoidLeft,
	"WaterMass": WaterMass, "WetMass": WetMass, "FlashGuard": FlashGuard, "Grades": Grades, "Weakest": Weakest, "PrefillPlan": PrefillPlan,
	"ParseStatedDensity": ParseStatedDensity, "StateDensity": StateDensity, "NewWaterTrend": NewWaterTrend,
	"StatedDensity.Fuel": func(d StatedDensity, at units.Temperature) (units.Density, error) {
		f, err := d.Fuel(at)
		density, _ := f.Density()
		return density, err
	},
	"Stray":   strays,
	"Exactly": Exactly[units.VolumeUnit], "NewEstimate": NewEstimate[units.MassUnit], "PlusMinus": PlusMinus[units.LengthUnit],
	"Sum": Sum[units.MassUnit],
	"Duration.Span": func(text string) (time.Duration, error) {
		var d Duration
		err := d.UnmarshalText([]byte(text))
		return time.Duration(d), err
	},
}, Answer(0), Cranking{}, Draining{}, Duration(0), anyVolume{}, Filling{}, Guard(0), Provenance(0), StatedDensity{})

// strays are errors about what no text can say: units and scales that are none, what is nil, a column of a number.
func strays(what string) error {
	one, stray, kilogram := units.Litre.Of(1), units.VolumeUnit(99).Of(1), MustExactly(units.Kilogram.Of(1), Weighed)
	litre, level := MustExactly(one, Measured), MustExactly(units.Millimetre.Of(1), Measured)
	f, _ := FuelAt(units.KilogramPerCubicMetre.Of(840), fifteen)
	nowhere := units.TemperatureScale(9).Of(20)
	return map[string]func() error{
		"estimate":          func() error { return second(Exactly(stray, Measured)) },
		"low":               func() error { return second(NewEstimate(stray, one, one, Measured)) },
		"high":              func() error { return second(NewEstimate(one, one, stray, Measured)) },
		"spread":            func() error { return second(PlusMinus(one, stray, Measured)) },
		"middle":            func() error { return second(PlusMinus(stray, one, Measured)) },
		"total":             func() error { return second(Sum(units.VolumeUnit(99), litre)) },
		"density":           func() error { return second(Displacement(kilogram, units.DensityUnit(99).Of(1))) },
		"share":             func() error { _, _, _, err := HandStrokes(litre, litre, units.ShareUnit(99).Of(1)); return err },
		"prefill":           func() error { return second(PrefillPlan(litre, units.ShareUnit(99).Of(1), 1)) },
		"limit":             func() error { return second(Filling{Limit: stray, Inside: litre}.Left()) },
		"temperature":       func() error { return second(FuelAt(units.KilogramPerCubicMetre.Of(840), nowhere)) },
		"water":             func() error { return second(WaterDensityAt(nowhere)) },
		"catch":             func() error { return second(FlashGuard(fifteen, nowhere, units.KelvinDifference.Of(1))) },
		"flash point":       func() error { return second(FlashGuard(nowhere, fifteen, units.KelvinDifference.Of(1))) },
		"volume":            func() error { return second(f.Mass(stray, fifteen)) },
		"estimate's column": func() error { return new(anyVolume).Scan(7) },
		"time's column":     func() error { return new(Duration).Scan(7) },
		"density's column":  func() error { return new(StatedDensity).Scan(7) },
		"no fuel":           func() error { return second(FillLimit(Fuel{}, one, fifteen)) },
		"no fuel's gravity": func() error { return second(Fuel{}.APIGravity(1)) },
		"no fuel weighed":   func() error { return second(RetainedByWeighing(kilogram, kilogram, Fuel{}, fifteen)) },
		"fuel in JSON":      func() error { return second(f.MarshalJSON()) },
		"no vessel":         func() error { return third(Layers(nil, level, level)) },
		"nil in a stack":    func() error { return second(Stack{Cylinder{level, level}, nil}.Capacity()) },
	}[what]()
}

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
