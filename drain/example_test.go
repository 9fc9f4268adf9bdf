package drain_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

// The machine, its filter and every figure of these examples are invented.

func check(err error) {
	if err != nil {
		panic(err)
	}
}

// value is for the examples' brevity: a program handles its errors.
func value[T any](v T, err error) T {
	check(err)
	return v
}

func litres(low, best, high string, from drain.Provenance) drain.Estimate[units.VolumeUnit] {
	return value(drain.NewEstimate(units.MustParseVolume(low+" L"), units.MustParseVolume(best+" L"), units.MustParseVolume(high+" L"), from))
}

func exactly(text string) drain.Estimate[units.LengthUnit] {
	return value(drain.Exactly(units.MustParseLength(text), drain.Measured))
}

func diesel() drain.Fuel {
	return value(drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.Celsius.Of(15)))
}

// From the volume in the pan to what the scale shows: 1.5 L, read while it had 60 °C.
func Example() {
	fuel, err := drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.Celsius.Of(15))
	check(err)
	hot := units.Celsius.Of(60)
	caught := units.MustParseVolume("1.5 L")

	mass, err := fuel.Mass(caught, hot)
	check(err)
	rho, err := fuel.DensityAt(hot)
	check(err)
	scale, err := drain.ScaleReading(mass, rho)
	check(err)
	cold, err := fuel.Volume(caught, drain.VolumeAt{Temperature: hot, Base: units.Celsius.Of(20)})
	check(err)

	fmt.Println("density at 60 °C:", rho.Round(2, units.ToNearestEven))
	fmt.Println("mass:            ", mass.Round(4, units.ToNearestEven))
	fmt.Println("a scale shows:   ", scale.Round(4, units.ToNearestEven))
	fmt.Println("at 20 °C:        ", cold.Round(4, units.ToNearestEven))
	// Output:
	// density at 60 °C: 807.77 kg/m³
	// mass:             1.2116 kg
	// a scale shows:    1.2100 kg
	// at 20 °C:         1.4486 L
}

func ExampleFuelAt() {
	// A hydrometer showed 0.8332 kg/L in a sample of 25 °C.
	fuel, err := drain.FuelAt(units.MustParseDensity("0.8332 kg/L"), units.Celsius.Of(25))
	check(err)
	rho, at := fuel.Density()
	fmt.Println(rho, "at", at)
	fmt.Println(value(fuel.DensityAt(units.Celsius.Of(15))).Round(1, units.ToNearestEven))

	_, err = drain.FuelAt(units.MustParseDensity("0.84 kg/m³"), units.Celsius.Of(15))
	fmt.Println(err)
	fmt.Println(errors.Is(err, drain.ErrDensity))
	// Output:
	// 0.8332 kg/L at 25 °C
	// 840.3 kg/m³
	// density of the fuel "0.84 kg/m³ at 15 °C": outside the tables; want 610.6 to 1163.5 kg/m³ at 60 °F (API MPMS 11.1-2004, refined products)
	// true
}

// A published example, 7.1-3 (Source: api-11-1): 865.6 kg/m³ at 15 °C, brought from 87.32 °C to 15 °C.
func ExampleFuel_VolumeFactor() {
	fuel := value(drain.FuelAt(units.MustParseDensity("865.6 kg/m³"), units.Celsius.Of(15)))
	at := drain.VolumeAt{Temperature: units.MustParseTemperature("87.32 °C"), Base: units.Celsius.Of(15)}
	fmt.Println(value(fuel.VolumeFactor(at)))
	// Output:
	// 0.940416747194276276
}

func ExampleFuel_MassOf() {
	caught := litres("1.45", "1.5", "1.55", drain.Measured)
	mass, err := diesel().MassOf(caught, units.Celsius.Of(25))
	check(err)
	fmt.Println(mass.RoundIn(units.Kilogram, 3))
	// Output: 1.249 kg (1.207 kg to 1.291 kg, measured)
}

func ExampleMassFromScale() {
	// What the scale shows is less than the mass: air lifts fuel more than it lifts weights.
	mass, err := drain.MassFromScale(units.MustParseMass("1.2100 kg"), units.MustParseDensity("807.77 kg/m³"))
	check(err)
	fmt.Println(mass.Round(4, units.ToNearestEven))
	shown := value(drain.ScaleReading(mass, units.MustParseDensity("807.77 kg/m³")))
	fmt.Println(shown.Round(4, units.ToNearestEven))
	// Output:
	// 1.2116 kg
	// 1.2100 kg
}

func ExampleFuel_APIGravity() {
	fuel := diesel() // 840 kg/m³ at 15 °C, which is not 60 °F
	fmt.Println(value(fuel.APIGravity(2)), "°API, relative density", value(fuel.RelativeDensity(4)))

	// A fuel sold by its gravity.
	same := value(value(drain.ParseStatedDensity("36.87 °API")).Fuel(units.Temperature{}))
	fmt.Println(value(same.DensityAt(units.Celsius.Of(15))).Round(1, units.ToNearestEven), "at 15 °C")
	// Output:
	// 36.87 °API, relative density 0.8404
	// 840.0 kg/m³ at 15 °C
}

func ExampleNewEstimate() {
	pan, err := drain.NewEstimate(units.MustParseVolume("1.4 L"), units.MustParseVolume("1.5 L"), units.MustParseVolume("1.6 L"), drain.Measured)
	check(err)
	fmt.Println(pan)
	_, err = drain.NewEstimate(units.Litre.Of(2), units.Litre.Of(1), units.Litre.Of(3), drain.Measured)
	fmt.Println(err)
	fmt.Println(drain.Estimate[units.VolumeUnit]{}.Check())

	var input *drain.InputError
	fmt.Println(errors.As(err, &input), input.What, errors.Unwrap(err) == drain.ErrOrder, input.Error() == err.Error())
	// Output:
	// 1.5 L (1.4 L to 1.6 L, measured)
	// estimate "2 L, 1 L, 3 L": not in order; want low <= best <= high
	// estimate "0 m³": doesn't say where it comes from; want weighed, measured, stated or assumed
	// true estimate true true
}

func ExamplePlusMinus() {
	// A vessel graduated in 50 mL, read to half a graduation.
	fmt.Println(value(drain.PlusMinus(units.MustParseVolume("1.50 L"), units.MustParseVolume("25 mL"), drain.Measured)))
	fmt.Println(value(drain.Exactly(units.MustParseVolume("1 US qt"), drain.Stated)))
	// Output:
	// 1.50 L (1.475 L to 1.525 L, measured)
	// 1 US qt (1 US qt to 1 US qt, stated)
}

func ExampleEstimate_Add() {
	bowl, element := litres("1.4", "1.5", "1.6", drain.Measured), litres("0.1", "0.2", "0.4", drain.Assumed)
	fmt.Println("together:", value(bowl.Add(element)))
	fmt.Println("without: ", value(bowl.Sub(element)))
	fmt.Println("of four: ", value(bowl.Scale(decimal.New(4, 0))))
	fmt.Println("in all:  ", value(drain.Sum(units.Millilitre, bowl, element)))
	fmt.Println("printed: ", bowl.RoundIn(units.USQuart, 2))
	// Output:
	// together: 1.7 L (1.5 L to 2.0 L, assumed)
	// without:  1.3 L (1.0 L to 1.5 L, assumed)
	// of four:  6 L (5.6 L to 6.4 L, measured)
	// in all:   1700 mL (1500 mL to 2000 mL, assumed)
	// printed:  1.59 US qt (1.47 US qt to 1.70 US qt, measured)
}

func ExampleProvenance() {
	var p drain.Provenance
	fmt.Println(p)
	check(p.UnmarshalText([]byte("weighed")))
	fmt.Println(p)
	fmt.Println("with something assumed:", drain.Weakest(p, drain.Assumed))
	// Output:
	// Provenance(0)
	// weighed
	// with something assumed: assumed
}

// Words stand in JSON, and can be read without this package.
func ExampleAnswer() {
	type service struct {
		From  drain.Provenance
		Over  drain.Answer
		Guard drain.Guard
	}
	data := value(json.Marshal(service{drain.Measured, drain.Undecided, drain.FlashCaution}))
	fmt.Println(string(data))
	var back service
	check(json.Unmarshal(data, &back))
	fmt.Println(back.Over, back.Guard, back.From)

	fmt.Println(json.Unmarshal([]byte(`{"Over":"perhaps"}`), &back))
	fmt.Println(back.Over)
	// Output:
	// {"From":"measured","Over":"undecided","Guard":"caution"}
	// undecided caution measured
	// answer "perhaps": unknown; want no, yes or undecided
	// undecided
}

// A bowl that narrows to its drain under a canister; the level stands 16 to 18 cm above the drain.
func ExampleStack() {
	bowl := drain.ConeFrustum{Bottom: exactly("4 cm"), Top: exactly("9 cm"), Height: exactly("6 cm")}
	canister := drain.Cylinder{Diameter: exactly("9 cm"), Height: exactly("20 cm")}
	filter := drain.Stack{bowl, canister}
	level := value(drain.PlusMinus(units.Centimetre.Of(17), units.Centimetre.Of(1), drain.Measured))

	fmt.Println("bowl:    ", value(bowl.Capacity()).RoundIn(units.Millilitre, 0))
	fmt.Println("half way:", value(bowl.Filled(exactly("3 cm"))).RoundIn(units.Millilitre, 0))
	fmt.Println("canister:", value(canister.Capacity()).RoundIn(units.Millilitre, 0))
	fmt.Println("10 cm:   ", value(canister.Filled(exactly("10 cm"))).RoundIn(units.Millilitre, 0))
	fmt.Println("both:    ", value(filter.Capacity()).RoundIn(units.Millilitre, 0))
	fmt.Println("filled:  ", value(filter.Filled(level)).RoundIn(units.Millilitre, 0))
	// Output:
	// bowl:     209 mL (208 mL to 209 mL, measured)
	// half way: 66 mL (66 mL to 67 mL, measured)
	// canister: 1272 mL (1272 mL to 1273 mL, measured)
	// 10 cm:    636 mL (636 mL to 637 mL, measured)
	// both:     1481 mL (1481 mL to 1482 mL, measured)
	// filled:   909 mL (845 mL to 973 mL, measured)
}

func ExampleVessel() {
	vessels := []drain.Vessel{
		drain.Cylinder{Diameter: exactly("9 cm"), Height: exactly("20 cm")},
		drain.ConeFrustum{Bottom: exactly("4 cm"), Top: exactly("9 cm"), Height: exactly("6 cm")},
		drain.Stack{drain.Cylinder{Diameter: exactly("9 cm"), Height: exactly("10 cm")}},
	}
	for _, v := range vessels {
		fmt.Println(value(v.Capacity()).Best.RoundIn(units.Millilitre, 0, units.ToNearestEven),
			"and to 5 cm", value(v.Filled(exactly("5 cm"))).Best.RoundIn(units.Millilitre, 0, units.ToNearestEven))
	}
	// Output:
	// 1272 mL and to 5 cm 318 mL
	// 209 mL and to 5 cm 151 mL
	// 636 mL and to 5 cm 318 mL
}

func ExampleStatedCapacity() {
	bowl := drain.StatedCapacity{Volume: litres("0.35", "0.35", "0.35", drain.Stated), Height: exactly("8 cm")}
	fmt.Println(value(bowl.Capacity()))
	fmt.Println(value(bowl.Filled(exactly("8 cm"))).RoundIn(units.Litre, 2))
	_, err := bowl.Filled(exactly("4 cm"))
	fmt.Println(err)
	// Output:
	// 0.35 L (0.35 L to 0.35 L, stated)
	// 0.35 L (0.35 L to 0.35 L, stated)
	// level: part of a vessel whose shape isn't known; want a level at the bottom or the rim, or the vessel's dimensions
}

func ExampleDraining() {
	d := drain.Draining{
		Filled:    litres("1.9", "2.0", "2.1", drain.Measured),
		Displaced: litres("0.25", "0.3", "0.35", drain.Stated),
		Retained:  litres("0.1", "0.2", "0.4", drain.Assumed),
	}
	fmt.Println("holds:    ", value(d.Filled.Sub(d.Displaced)))
	fmt.Println("comes out:", value(d.Out()))
	// Output:
	// holds:     1.7 L (1.55 L to 1.85 L, stated)
	// comes out: 1.5 L (1.15 L to 1.75 L, assumed)
}

func ExampleRetainedByWeighing() {
	on := func(text string) drain.Estimate[units.MassUnit] {
		return value(drain.PlusMinus(units.MustParseMass(text), units.Gram.Of(5), drain.Weighed))
	}
	retained, err := drain.RetainedByWeighing(on("0.480 kg"), on("0.700 kg"), diesel(), units.Celsius.Of(25))
	check(err)
	fmt.Println("retained: ", retained.RoundIn(units.Litre, 3))
	wet := value(drain.WetMass(on("0.480 kg"), retained, drain.MustExactly(value(diesel().DensityAt(units.Celsius.Of(25))), drain.Stated)))
	fmt.Println("wet:      ", wet.RoundIn(units.Kilogram, 3))
	tube := value(drain.Displacement(on("0.390 kg"), units.KilogramPerCubicMetre.Of(7800)))
	fmt.Println("displaced:", tube.RoundIn(units.Litre, 3), "by a steel tube")
	// Output:
	// retained:  0.264 L (0.252 L to 0.277 L, weighed)
	// wet:       0.700 kg (0.685 kg to 0.716 kg, stated)
	// displaced: 0.050 L (0.049 L to 0.051 L, weighed) by a steel tube
}

func ExampleLayers() {
	bowl := drain.Cylinder{Diameter: exactly("9 cm"), Height: exactly("10 cm")}
	water, fuel, err := drain.Layers(bowl, exactly("2 cm"), exactly("8 cm"))
	check(err)
	fmt.Println("water:", water.Best.RoundIn(units.Millilitre, 0, units.ToNearestEven))
	fmt.Println("fuel: ", fuel.Best.RoundIn(units.Millilitre, 0, units.ToNearestEven))
	fmt.Println("water:", value(drain.WaterMass(water, units.Celsius.Of(20))).Best.RoundIn(units.Gram, 0, units.ToNearestEven))
	// Output:
	// water: 127 mL
	// fuel:  382 mL
	// water: 127 g
}

func ExampleWaterDensityAt() {
	fmt.Println(value(drain.WaterDensityAt(units.Celsius.Of(20))).Round(3, units.ToNearestEven))
	fmt.Println(value(drain.WaterDensityAt(units.Fahrenheit.Of(60))).Round(4, units.ToNearestEven))
	// Output:
	// 998.207 kg/m³
	// 999.0170 kg/m³
}

func ExampleNewWaterTrend() {
	services := []drain.Estimate[units.VolumeUnit]{
		litres("0.04", "0.05", "0.06", drain.Measured),
		litres("0.07", "0.08", "0.09", drain.Measured),
		litres("0.15", "0.18", "0.22", drain.Measured),
	}
	trend, err := drain.NewWaterTrend(services, units.MustParseVolume("0.2 L"))
	check(err)
	fmt.Println("rising:", trend.Rising)
	fmt.Println("over the threshold:", trend.Over, "with", trend.Last)
	// Output:
	// rising: yes
	// over the threshold: undecided with 0.18 L (0.15 L to 0.22 L, measured)
}

func ExampleFlashGuard() {
	for _, g := range drain.Grades() {
		finding, err := drain.FlashGuard(g.LeastFlash, units.Celsius.Of(45), units.CelsiusDifference.Of(8))
		check(err)
		fmt.Println(g.Name+":", finding)
	}
	fmt.Println(drain.FlashClear, drain.FlashCaution, drain.FlashStop)
	// Output:
	// No. 1-D: stop: caught at 45 °C, 7 °C above the least flash point of 38 °C
	// No. 2-D: caution: caught at 45 °C, 7 °C below the least flash point of 52 °C
	// No. 2-D, Maryland November to April: stop: caught at 45 °C, 2 °C above the least flash point of 43 °C
	// EN 590: clear: caught at 45 °C, 10 °C below the least flash point of 55 °C
	// clear caution stop
}

func ExampleKeyCycles() {
	void := litres("1.2", "1.5", "2.1", drain.Assumed)
	flow := value(drain.PlusMinus(units.MustParseFlow("1.5 L/min"), units.MustParseFlow("0.5 L/min"), drain.Stated))
	efficiency := units.Percent.Of(80)
	least, best, most, err := drain.KeyCycles(void, flow, 30*time.Second, efficiency)
	check(err)
	fmt.Printf("%d key cycles, %d to %d\n", best, least, most)
	for n := 1; n <= 3; n++ {
		left := value(drain.VoidLeft(void, flow, 30*time.Second, efficiency, n))
		fmt.Printf("after %d: %s left\n", n, left.RoundIn(units.Litre, 1))
	}
	// Output:
	// 3 key cycles, 2 to 6
	// after 1: 0.9 L (0.4 L to 1.7 L, assumed) left
	// after 2: 0.3 L (0.0 L to 1.3 L, assumed) left
	// after 3: 0.0 L (0.0 L to 0.9 L, assumed) left
}

func ExamplePrefillPlan() {
	refill, err := drain.PrefillPlan(litres("1.15", "1.25", "1.4", drain.Stated), units.Percent.Of(75), 2)
	check(err)
	fmt.Println("pour", refill.Pour, "and prime", refill.Void)
	stroke := litres("0.005", "0.006", "0.007", drain.Stated)
	least, best, most, err := drain.HandStrokes(refill.Void, stroke, units.Percent.Of(90))
	check(err)
	fmt.Printf("by hand %d strokes, %d to %d\n", best, least, most)
	// Output:
	// pour 0.86 L and prime 0.39 L (0.29 L to 0.54 L, stated)
	// by hand 73 strokes, 47 to 120
}

func ExampleCranking_Plan() {
	// Invented limits; yours are in the manual of the machine.
	steps, err := drain.Cranking{Limit: drain.Duration(10 * time.Second), Rest: drain.Duration(2 * time.Minute), Attempts: 3}.Plan()
	check(err)
	for _, s := range steps {
		fmt.Printf("%d: rest %v, crank %v (%v in all, %v gone)\n", s.Attempt, s.Rest, s.Crank, s.Cranked, s.Elapsed)
	}
	fmt.Println("then look for:", drain.PrimingChecklist()[0])
	// Output:
	// 1: rest 0s, crank 10s (10s in all, 10s gone)
	// 2: rest 2m0s, crank 10s (20s in all, 2m20s gone)
	// 3: rest 2m0s, crank 10s (30s in all, 4m30s gone)
	// then look for: no-fuel
}

func ExampleFilling() {
	drum := units.USGallon.Of(55)
	limit, err := drain.FillLimit(diesel(), drum, units.Celsius.Of(20))
	check(err)
	c := drain.Filling{Limit: limit, Inside: litres("170", "171", "172", drain.Measured)}
	service := litres("1.4", "1.5", "1.6", drain.Measured)
	least, best, most, err := c.Services(service)
	check(err)
	fmt.Println("ADR 4.1.1.4 (b):", limit.RoundIn(units.Litre, 1, units.ToNegativeInf))
	fmt.Println("just full at 55 °C:", value(drain.FullAt55(diesel(), drum, units.Celsius.Of(20))).RoundIn(units.Litre, 1, units.ToNegativeInf))
	fmt.Println("left:", value(c.Left()).RoundIn(units.Litre, 1))
	fmt.Println("takes a service:", value(c.Takes(service)))
	fmt.Printf("services until full: %d, %d to %d\n", best, least, most)
	// Output:
	// ADR 4.1.1.4 (b): 198.8 L
	// just full at 55 °C: 201.9 L
	// left: 27.8 L (26.8 L to 28.9 L, measured)
	// takes a service: yes
	// services until full: 18, 16 to 20
}

// What a file says of an estimate is all of it or nothing.
func ExampleEstimate_UnmarshalJSON() {
	var out drain.Estimate[units.VolumeUnit]
	fmt.Println(json.Unmarshal([]byte(`{"low": "1.4 L", "best": "1.5 L", "high": "1.6 L", "from": "measured"}`), &out), out)
	fmt.Println(json.Unmarshal([]byte(`{"low": "1.7 L", "best": "1.5 L", "high": "1.6 L", "from": "measured"}`), &out))
	fmt.Println(json.Unmarshal([]byte(`{"best": "1.5 L", "from": null}`), &out))
	// Output:
	// <nil> 1.5 L (1.4 L to 1.6 L, measured)
	// estimate "1.7 L, 1.5 L, 1.6 L": not in order; want low <= best <= high
	// estimate "{\"best\": \"1.5 L\", \"from\": null}": low: missing; want {"low", "best", "high", "from"}
}

func ExampleFuel_VolumeOf() {
	fuel, err := drain.FuelAt(units.MustParseDensity("840 kg/m³"), units.Celsius.Of(15))
	check(err)
	warm, err := drain.PlusMinus(units.MustParseVolume("2.0 L"), units.MustParseVolume("0.1 L"), drain.Measured)
	check(err)
	cold, err := fuel.VolumeOf(warm, drain.VolumeAt{Temperature: units.Celsius.Of(60), Base: units.Celsius.Of(15)})
	fmt.Println(cold.RoundIn(units.Litre, 3), err)
	// Output: 1.923 L (1.827 L to 2.020 L, measured) <nil>
}

// A drum read in pounds and written down in kilograms.
func ExampleEstimate_Agrees() {
	estimated := value(drain.NewEstimate(units.Kilogram.Of(10), units.Kilogram.Of(12), units.Kilogram.Of(14), drain.Assumed))
	fmt.Println(estimated.Agrees(drain.MustExactly(units.MustParseMass("13.2 kg"), drain.Weighed)))
	fmt.Println(estimated.Agrees(drain.MustExactly(units.MustParseMass("29.1 kg"), drain.Weighed)))
	// Output:
	// true <nil>
	// false <nil>
}

func ExampleDuration() {
	fmt.Println(drain.Duration(90 * time.Second))
	// Output: 1 min 30 s
}
