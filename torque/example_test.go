package torque_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"time"

	"example.com/snugturn/torque"
	"example.com/snugturn/units"
)

// All tools and parts below are invented.

// A sheet says 145 to 190 in-lb for a bowl. The wrench on the bench has a newton metre scale in
// half-steps and ± 4 % on its certificate; a bowl wrench sticks out 50 mm from its drive.
func ExampleWrench_Set() {
	bowl := torque.MustParseBand("145 to 190 in-lb")
	wrench := torque.Wrench{
		Lowest: units.NewtonMetre.Of(10), Highest: units.NewtonMetre.Of(100), Step: units.MustParseTorque("0.5 N·m"),
		Deviation: units.Percent.Of(4),
		Length:    units.Millimetre.Of(350),
	}
	s, err := wrench.Set(bowl, torque.Adapter{Offset: units.Millimetre.Of(50)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("set the dial to", s.Dial)
	fmt.Println("that delivers", s.Delivered)
	fmt.Println("or, at the tool's deviation,", s.Least, "to", s.Most)
	fmt.Println(s.Delivers(units.FootPound, 2))
	fmt.Println("room to the limits:", s.AboveLow, "and", s.BelowHigh)
	// Output:
	// set the dial to 16.5 N·m
	// that delivers 166.900 in-lb
	// or, at the tool's deviation, 160.223 in-lb to 173.854 in-lb
	// 13.35 ft-lb 14.49 ft-lb
	// room to the limits: 15.223 in-lb and 16.146 in-lb
}

// Where there is no setting, the error says what would do.
func ExampleWrench_Set_refused() {
	bowl := torque.MustParseBand("145 to 190 in-lb")
	wrench := torque.Wrench{
		Lowest: units.NewtonMetre.Of(40), Highest: units.NewtonMetre.Of(200), Step: units.NewtonMetre.Of(1),
		Deviation: units.Percent.Of(4),
	}
	_, err := wrench.Set(bowl, torque.Adapter{})
	fmt.Println(errors.Is(err, torque.ErrOutOfScale))
	fmt.Println(err)

	wrench.Lowest, wrench.Step = units.NewtonMetre.Of(8), units.NewtonMetre.Of(16)
	_, err = wrench.Set(bowl, torque.Adapter{})
	fmt.Println(err)

	wrench.Deviation, wrench.DeviationBasis = units.Percent.Of(20), torque.OfDial
	_, err = wrench.Set(bowl, torque.Adapter{})
	fmt.Println(err)

	_, err = wrench.Set(bowl, torque.Adapter{Offset: units.Millimetre.Of(50)})
	fmt.Println(err)
	// Output:
	// true
	// torque band "145 to 190 in-lb": the wrench covers 40 N·m to 200 N·m in steps of 1 N·m; want a dial value between 17.07 N·m and 20.60 N·m
	// torque band "145 to 190 in-lb": the wrench covers 8 N·m to 200 N·m in steps of 16 N·m, of which none serves; want a dial value between 17.07 N·m and 20.60 N·m
	// torque band "145 to 190 in-lb": the band is ±13.4 % of its middle and the wrench is ±20 % of dial, so no setting is possible; want a more accurate wrench
	// lever "unknown length, adapter of 50 mm at 0°": the lever can't be worked out; want the distance from the middle of the grip to the drive; strap and chain wrenches have none that holds still
}

func ExampleDeviationBasis() {
	band := torque.MustParseBand("27 to 33 N·m")
	wrench := torque.Wrench{
		Lowest: units.NewtonMetre.Of(10), Highest: units.NewtonMetre.Of(100), Step: units.NewtonMetre.Of(1),
		Deviation: units.Percent.Of(4), AbsoluteDeviation: units.NewtonMetre.Of(1),
	}
	for _, basis := range []torque.DeviationBasis{torque.EitherBasis, torque.OfDial, torque.OfReference, torque.Absolute} {
		wrench.DeviationBasis = basis
		if s, err := wrench.Set(band, torque.Adapter{}); err == nil {
			fmt.Println(basis, s.Dial, s.Least, s.Most)
		}
	}
	wrench.DeviationBasis = torque.OfFullScale // 4 N·m either way is too much here
	_, err := wrench.Set(band, torque.Adapter{})
	fmt.Println(errors.Is(err, torque.ErrNotAccurate))
	// Output:
	// of dial or reference 30 N·m 28.80 N·m 31.25 N·m
	// of dial 30 N·m 28.80 N·m 31.20 N·m
	// of reference 30 N·m 28.84 N·m 31.25 N·m
	// absolute 30 N·m 29.00 N·m 31.00 N·m
	// true
}

func ExampleParseBand() {
	for _, text := range []string{
		"145 to 190 in-lb", "145–190 lb-in", "145 in-lb through 190 in-lb", "30 ± 3 N·m", "30 N·m ± 10 %", "30 +5/-0 N·m",
		"max 40 N·m", "30 N·m", "145-190 in-lb (16-21 N·m)",
	} {
		band, err := torque.ParseBand(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(band)
	}
	// Output:
	// 145 to 190 in-lb
	// 145 to 190 in-lb
	// 145 to 190 in-lb
	// 27 to 33 N·m
	// 27 to 33 N·m
	// 30 to 35 N·m
	// 0 to 40 N·m
	// torque band "30 N·m": a nominal value without a tolerance; want the tolerance too, such as "30 N·m ± 10 %", or both limits
	// torque band "145-190 in-lb (16-21 N·m)" at byte 14: a second value in parentheses; want a limit in one unit
}

// A manual says elsewhere that values alone are good to ± 10 %.
func ExamplePrintedLimit_Band_withoutTolerance() {
	ten := units.Percent.Of(10)
	p, _ := torque.ParsePrintedLimit("30 N·m (22 ft-lb)")
	_, err := p.Band()
	fmt.Println(err)
	fmt.Println(torque.PlusMinusPercent(p.Compare().First, ten))
	// Output:
	// printed torque "30 N·m (22 ft-lb)": 30 N·m without a tolerance; want its tolerance too, or both limits
	// 27 to 33 N·m <nil>
}

func ExampleBetween() {
	band, err := torque.Between(units.InchPound.Of(145), units.InchPound.Of(190))
	fmt.Println(band, err)
	_, err = torque.Between(units.InchPound.Of(190), units.InchPound.Of(145))
	fmt.Println(err)
	// Output:
	// 145 to 190 in-lb <nil>
	// torque band "190 in-lb to 145 in-lb": the low limit is above the high limit; want the lower limit first
}

func ExamplePlusMinus() {
	band, _ := torque.PlusMinus(units.NewtonMetre.Of(30), units.NewtonMetre.Of(3))
	fmt.Println(band)
	band, _ = torque.PlusMinusPercent(units.NewtonMetre.Of(30), units.MustParseShare("2.5 %"))
	fmt.Println(band)
	_, err := torque.PlusMinus(units.NewtonMetre.Of(30), units.NewtonMetre.Of(-3))
	fmt.Println(err)
	// Output:
	// 27 to 33 N·m
	// 29.25 to 30.75 N·m
	// torque "30 N·m ± -3 N·m": the tolerance is below zero; want a tolerance of zero or more
}

func ExamplePlusMinusPercent() {
	band, _ := torque.PlusMinusPercent(units.FootPound.Of(22), units.Percent.Of(10))
	fmt.Println(band)
	// Output: 19.8 to 24.2 ft-lb
}

func ExampleMustParseBand() {
	band := torque.MustParseBand("24.90 to 35.0 N·m")
	fmt.Println(band.Low(), "|", band.High())
	// Output: 24.90 N·m | 35.0 N·m
}

// Limits round inward, so that no value of the new band is outside the old one.
func ExampleBand_Inward() {
	band := torque.MustParseBand("145 to 190 in-lb")
	for _, to := range []struct {
		unit   units.TorqueUnit
		places int
	}{{units.NewtonMetre, 2}, {units.FootPound, 1}, {units.FootPound, 0}} {
		in, _ := band.Inward(to.unit, to.places)
		fmt.Println(in, band.Contains(in.Low()) && band.Contains(in.High()))
	}
	_, err := torque.MustParseBand("145 to 146 in-lb").Inward(units.NewtonMetre, 0)
	fmt.Println(err)
	// Output:
	// 16.39 to 21.46 N·m true
	// 12.1 to 15.8 ft-lb true
	// 13 to 15 ft-lb true
	// torque band "145 to 146 in-lb": rounded inward its limits cross, 17 N·m and 16 N·m; want more places
}

func ExampleBand_Contains() {
	band := torque.MustParseBand("145 to 190 in-lb")
	fmt.Println(band.Contains(units.InchPound.Of(190)))
	fmt.Println(band.Contains(units.MustParseTorque("16.38 N·m"))) // 144.98 in-lb
	// Output:
	// true
	// false
}

// The zero Band says that it is none, wherever it turns up.
func ExampleBand_Valid() {
	var band torque.Band
	fmt.Println(band.Valid(), band)
	_, err := json.Marshal(band)
	fmt.Println(errors.Is(err, units.ErrRange))
	// Output:
	// false invalid band
	// true
}

// A band is a string in JSON: text marshalling does it.
func ExampleBand_MarshalText() {
	type sheet struct {
		Bowl torque.Band `json:"bowl"`
	}
	text, _ := json.Marshal(sheet{torque.MustParseBand("24.90-35.0 N·m")})
	fmt.Println(string(text))
	var s sheet
	err := json.Unmarshal([]byte(`{"bowl": "30 N·m ± 10 %"}`), &s)
	fmt.Println(s.Bowl, err)
	line, _ := s.Bowl.AppendText([]byte("bowl "))
	fmt.Println(string(line))
	err = s.Bowl.UnmarshalText([]byte("30 N·m"))
	fmt.Println(s.Bowl, errors.Is(err, torque.ErrNoTolerance))
	// Output:
	// {"bowl":"24.90 to 35.0 N·m"}
	// 27 to 33 N·m <nil>
	// bowl 27 to 33 N·m
	// 27 to 33 N·m true
}

// In a database and in a log a band is the same text.
func ExampleBand_Value() {
	band := torque.MustParseBand("145-190 in-lb")
	stored, err := band.Value()
	fmt.Println(stored, err)
	var read torque.Band
	fmt.Println(read.Scan(stored), read.Equal(band))
	fmt.Println(read.Scan(nil))
	slog.New(slog.NewTextHandler(os.Stdout, &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		if a.Key == slog.TimeKey {
			return slog.Attr{}
		}
		return a
	}})).Info("tighten", "bowl", band)
	// Output:
	// 145 to 190 in-lb <nil>
	// <nil> true
	// torque band "": NULL is not accepted; use sql.Null; want limits such as "145 to 190 in-lb", "30 ± 3 N·m", "30 N·m ± 10 %", "30 +5/-0 N·m" or "max 40 N·m"
	// level=INFO msg=tighten bowl="145 to 190 in-lb"
}

// A technician wrote 19 where 19 in-lb can't be meant.
func ExampleBand_UnitSlips() {
	band := torque.MustParseBand("145 to 190 in-lb")
	for _, unit := range band.UnitSlips(units.InchPound.Of(19)) {
		fmt.Println("it would fit, had it been read in", unit)
	}
	// Output: it would fit, had it been read in N·m
}

func ExampleParsePrintedLimit() {
	for _, text := range []string{
		"145-190 in-lb (16-21 N·m)",
		"1820 lb-ft (2712 N·m)",
		"22-29 ft-lb (29-39 N·m)",
		"100.00 ft-lb (135.60 N·m)",
		"190 in-lb (21 N·m, 16 ft-lb)",
		"190 in-lb (21 N·m, 26 ft-lb)",
	} {
		p, err := torque.ParsePrintedLimit(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		found := p.Compare()
		fmt.Printf("%v: %v: %v\n", p, found.Agreement, found)
	}
	// Output:
	// 145 to 190 in-lb (16 to 21 N·m): agrees: agrees
	// 1820 ft-lb (2712 N·m): disagrees: 1820 ft-lb is 2467.6 N·m, not 2712 N·m: apart by 243.24 N·m
	// 22 to 29 ft-lb (29 to 39 N·m): shares a third unit: both come from 3 kgf·m and 4 kgf·m
	// 100.00 ft-lb (135.60 N·m): agrees: agrees
	// 190 in-lb (21 N·m, 16 ft-lb): agrees: agrees
	// 190 in-lb (21 N·m, 26 ft-lb): disagrees: 190 in-lb is 15.8 ft-lb, not 26 ft-lb: apart by 9.63 ft-lb
}

// A tolerance may be in parentheses; a number without a sign could be anything.
func ExampleParseBand_tolerance() {
	for _, text := range []string{"25 N·m (±3)", "25 N·m (+5/-0)", "25 N·m (3)"} {
		fmt.Println(torque.ParseBand(text))
	}
	// Output:
	// 22 to 28 N·m <nil>
	// 25 to 30 N·m <nil>
	// invalid band torque band "25 N·m (3)" at byte 8: the parentheses hold neither a tolerance with its sign nor a value with its unit; want a tolerance such as "(± 3)" or "(+5/-0)"
}

// The first stated governs, and only where the two agree.
func ExamplePrintedLimit_Band() {
	good, _ := torque.ParsePrintedLimit("17-21 N·m (150-190 in-lb)")
	band, err := good.Band()
	fmt.Println(band, err)

	bad, _ := torque.ParsePrintedLimit("17-21 N·m (150-290 in-lb)")
	_, err = bad.Band()
	fmt.Println(errors.Is(err, torque.ErrDisagree))
	fmt.Println(err)
	// Output:
	// 17 to 21 N·m <nil>
	// true
	// printed torque "17 to 21 N·m (150 to 290 in-lb)": 21 N·m is 185.9 in-lb, not 290 in-lb: apart by 99.21 in-lb; want the right limit from whoever wrote the sheet
}

func ExamplePrintedLimit_Compare() {
	p, _ := torque.ParsePrintedLimit("100.00 ft-lb (135.60 N·m)")
	found := p.Compare()
	fmt.Println(found.Agreement, found.First, "is", found.Converted, "and not", found.Second, "made with 1.356:", found.Shop)
	// Output: agrees 100.00 ft-lb is 135.582 N·m and not 135.60 N·m made with 1.356: true
}

// A published example (Source: ac-43-13-fig): 135 in-lb wanted, 10 in of wrench, 1.5 in of adapter.
func ExampleIndicated() {
	crowfoot := torque.Adapter{Offset: units.MustParseLength("1.5 in")}
	for _, angle := range []int64{0, 90, 180} {
		crowfoot.Angle = units.Degree.Of(angle)
		dial, err := torque.Indicated(units.InchPound.Of(135), units.Inch.Of(10), crowfoot)
		if err != nil {
			fmt.Println(err)
			continue
		}
		back, _ := torque.Delivered(dial, units.Inch.Of(10), crowfoot)
		fmt.Println(angle, dial.Round(2, units.ToNearestEven), back.Round(2, units.ToNearestEven))
	}
	// Output:
	// 0 117.39 in-lb 135.00 in-lb
	// 90 135.00 in-lb 135.00 in-lb
	// 180 158.82 in-lb 135.00 in-lb
}

func ExampleDelivered() {
	at, _ := torque.Delivered(units.FootPound.Of(30), units.Inch.Of(12), torque.Adapter{Offset: units.Inch.Of(4)})
	fmt.Println(at)
	// Output: 40 ft-lb
}

func ExampleBand_Decide() {
	band := torque.MustParseBand("20 to 30 N·m")
	reading := torque.Measurement{Value: units.MustParseTorque("20.9 N·m"), Expanded: units.NewtonMetre.Of(1)}
	for _, rule := range []torque.Rule{torque.SimpleAcceptance, torque.GuardedByU, torque.Guarded95, torque.NonBinary} {
		d, err := band.Decide(reading, rule)
		fmt.Println(rule, "-", d.Acceptance, d.Conformance.Decimal, err)
	}

	reading.Expanded = units.NewtonMetre.Of(6)
	reading.Value = units.NewtonMetre.Of(25)
	d, _ := band.Decide(reading, torque.GuardedByU)
	fmt.Println(d.Acceptance, "- no acceptance zone:", d.NoZone)

	_, err := band.Decide(torque.Measurement{Value: reading.Value}, torque.GuardedByU)
	fmt.Println(err)
	// Output:
	// simple acceptance - accepted 0.964 <nil>
	// guarded by U - rejected 0.964 <nil>
	// guarded for 95 % - accepted 0.964 <nil>
	// non-binary - conditionally accepted 0.964 <nil>
	// inconclusive - no acceptance zone: true
	// torque reading "25 N·m": the uncertainty isn't known, which is not zero, and the rule (guarded by U) needs it; want U at k = 2, or SimpleAcceptance
}

func ExampleBand_AcceptanceZone() {
	band := torque.MustParseBand("20 to 30 N·m")
	for _, rule := range []torque.Rule{torque.SimpleAcceptance, torque.Guarded95, torque.GuardedByU} {
		zone, err := band.AcceptanceZone(units.NewtonMetre.Of(1), rule, units.NewtonMetre, 2)
		fmt.Println(rule, "-", zone, err)
	}
	// Output:
	// simple acceptance - 20.00 to 30.00 N·m <nil>
	// guarded for 95 % - 20.83 to 29.17 N·m <nil>
	// guarded by U - 21.00 to 29.00 N·m <nil>
}

func ExampleChoose() {
	day := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }
	small := torque.Wrench{Name: "bench 1", Lowest: units.NewtonMetre.Of(2), Highest: units.NewtonMetre.Of(20), Step: units.MustParseTorque("0.2 N·m"),
		Deviation: units.Percent.Of(6), CalibratedUntil: day(2026, 12, 31)}
	late := torque.Wrench{Name: "bench 2", Lowest: units.NewtonMetre.Of(10), Highest: units.NewtonMetre.Of(100), Step: units.NewtonMetre.Of(1),
		Deviation: units.Percent.Of(4), CalibratedUntil: day(2026, 3, 31)}
	good := late
	good.Name, good.CalibratedUntil = "bench 3", day(2026, 12, 31)
	best, choices := torque.Choose([]torque.Wrench{small, late, good}, torque.MustParseBand("145 to 190 in-lb"), torque.Adapter{}, day(2026, 4, 2))
	for _, c := range choices {
		if c.Err != nil {
			fmt.Printf("%s: %v\n", c.Wrench.Name, c.Err)
		}
	}
	fmt.Println("take", choices[best].Wrench.Name, "at", choices[best].Setting.Dial)
	// Output:
	// bench 2: wrench "bench 2": calibrated until 2026-03-31, the job is on 2026-04-02; want a calibration that covers the job
	// take bench 3 at 19 N·m
}

// Set to 20.5 N·m, and clicked: what that shows is all that the wrench may deliver there.
func ExampleWrench_At() {
	nm := units.NewtonMetre.Of
	click := torque.Wrench{Lowest: nm(5), Highest: nm(50), Step: units.MustParseTorque("0.5 N·m"), Deviation: units.Percent.Of(4)}
	set, _ := click.At(units.MustParseTorque("20.5 N·m"), torque.Adapter{})
	fmt.Println(set.Delivers(units.NewtonMetre, 2))
	fmt.Println(torque.MustParseBand("19 to 22 N·m").AcceptsSetting(set), torque.MustParseBand("20 to 22 N·m").AcceptsSetting(set))
	_, err := click.At(units.MustParseTorque("20.3 N·m"), torque.Adapter{})
	fmt.Println(err)
	// Output:
	// 19.68 N·m 21.36 N·m
	// accepted inconclusive
	// torque "20.3 N·m": no setting of this wrench; want 5 N·m to 50 N·m in steps of 0.5 N·m
}

// 40 N·m, then degrees: where the sheet states no tolerance, the nearest setting and the tool that
// is least out.
func ExampleChooseNearest() {
	until := time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC)
	nm := units.NewtonMetre.Of
	click := torque.Wrench{Name: "click", CalibratedUntil: until, Lowest: nm(10), Highest: nm(100), Step: units.MustParseTorque("0.5 N·m"), Deviation: units.Percent.Of(4)}
	dial := torque.Wrench{Name: "dial", CalibratedUntil: until, Lowest: nm(20), Highest: nm(200), Step: nm(1), Deviation: units.Percent.Of(3)}
	small := torque.Wrench{Name: "small", CalibratedUntil: until, Lowest: nm(2), Highest: nm(20), Step: nm(1), Deviation: units.Percent.Of(6)}
	best, choices := torque.ChooseNearest([]torque.Wrench{click, dial}, nm(40), torque.Adapter{}, until)
	set := choices[best].Setting
	fmt.Println("take", choices[best].Wrench.Name, "at", set.Dial, "which delivers", set.Least, "to", set.Most)
	_, choices = torque.ChooseNearest([]torque.Wrench{small}, nm(40), torque.Adapter{}, until)
	err := choices[0].Err
	fmt.Println(err)
	// Output:
	// take dial at 40 N·m which delivers 38.80 N·m to 41.24 N·m
	// torque "40 N·m": the wrench covers 2 N·m to 20 N·m in steps of 1 N·m; want a dial value of 40.00 N·m
}

// A cap that meets its stop at no more than 25 N·m: any torque up to there is in the band, but a click at half of it
// would say nothing. The figures are invented.
func ExampleChooseToStop() {
	until := time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC)
	click := torque.Wrench{Name: "click", CalibratedUntil: until, Lowest: units.NewtonMetre.Of(5), Highest: units.NewtonMetre.Of(50),
		Step: units.MustParseTorque("0.5 N·m"), Deviation: units.Percent.Of(4)}
	band := torque.MustParseBand("max 25 N·m")
	best, choices := torque.Choose([]torque.Wrench{click}, band, torque.Adapter{}, until)
	fmt.Println("in the band:", choices[best].Setting.Dial)
	best, choices = torque.ChooseToStop([]torque.Wrench{click}, band, torque.Adapter{}, until)
	set := choices[best].Setting
	fmt.Println("to the stop:", set.Dial, "which delivers", set.Least, "to", set.Most)
	// Output:
	// in the band: 12.5 N·m
	// to the stop: 22.5 N·m which delivers 21.60000000000000 N·m to 23.43750000000000 N·m
}

// Rules and acceptances are words in a record, and an unknown word is refused with the choices.
func ExampleRule_UnmarshalText() {
	record, _ := json.Marshal(map[string]any{"rule": torque.GuardedByU, "acceptance": torque.ConditionallyAccepted, "basis": torque.OfDial})
	fmt.Println(string(record))
	var back struct {
		Rule       torque.Rule           `json:"rule"`
		Acceptance torque.Acceptance     `json:"acceptance"`
		Basis      torque.DeviationBasis `json:"basis"`
	}
	fmt.Println(json.Unmarshal(record, &back), back.Acceptance == torque.ConditionallyAccepted)
	var rule torque.Rule
	fmt.Println(rule.UnmarshalText([]byte("non-binary")), rule)
	fmt.Println(rule.UnmarshalText([]byte("strict")))
	// Output:
	// {"acceptance":"conditionally accepted","basis":"of dial","rule":"guarded by U"}
	// <nil> true
	// <nil> non-binary
	// decision rule "strict": unknown; want simple acceptance, guarded by U, guarded for 95 % or non-binary
}
