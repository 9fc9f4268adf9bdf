package torque

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

// Printed tables: the numbers are the documents', the acceptances are worked by hand. None of them rounds its
// second unit inward, and no published table that does was found; inward ones are in TestCheckForms, computed.
// Sources: tm-9-2350-311, tm-10-4320-346, tm-10-3510-220, tm-9-2330-384, tb-43-0218.
func TestCheckPublishedTables(t *testing.T) {
	for _, c := range []struct {
		source, first, second string
		pairs                 string
		want                  Agreement
	}{
		{"TM 9-2350-311-20-2 F-2", "lb-ft", "N·m", "18/24 4/5 13/18 600/813 50/68 450/610 170/230 44/60 131/178 15/20 75/102 30/41 60/81", Agrees},
		{"TM 10-4320-346-12&P H-2", "lb-in", "N·m", "2.0/0.23 117.0/13.22", Agrees},
		{"TM 10-4320-346-12&P H-1, made with 1.356", "lb-ft", "N·m", "1280/1736 1440/1953 1325/1797 1125/1526 1460/1980 1800/2441 1960/2658 1940/2631 2913/3950 3160/4285 3000/4068", Agrees},
		{"TM 10-4320-346-12&P H-1, row 1-1/4-12 UNF grade 8", "lb-ft", "N·m", "1820/2712", Disagrees},
		{"TM 10-3510-220-24, the same row", "lb-ft", "N·m", "2000/2712", Agrees},
		{"TM 9-2330-384-14&P H-1 (column pairing inferred)", "lb-ft", "N·m", "45-55/61-75 55-70/75-95 65-85/88-115 80-100/108-136 100-140/136-190 25-35/34-48 50-70/68-94 60-80/81-109", Agrees},
		{"TB 43-0218", "lb-in", "N·m", "50-70/6-8 30/3 80-100/9-11", Agrees},
	} {
		rows := strings.Fields(c.pairs)
		if len(rows) == 0 {
			t.Fatal("an empty table proves nothing")
		}
		for _, row := range rows {
			first, second, _ := strings.Cut(row, "/")
			text := fmt.Sprintf("%s %s (%s %s)", first, c.first, second, c.second)
			p, err := ParsePrintedLimit(text)
			if err != nil {
				t.Errorf("%s: %v", c.source, err)
				continue
			}
			if f := p.Compare(); f.Agreement != c.want {
				t.Errorf("%s: %s: %v, %v", c.source, text, f.Agreement, f)
			}
		}
	}
}

func TestCheckSaysByHowMuch(t *testing.T) {
	p, err := ParsePrintedLimit("1820 lb-ft (2712 N·m)")
	if err != nil {
		t.Fatal(err)
	}
	f := p.Compare()
	// 1820 lb-ft = 2467.589 N·m; 1820.5 lb-ft is 2468.267, and 2711.5 is 243.233 above it.
	if f.Agreement != Disagrees || f.Converted.String() != "2467.6 N·m" || f.Gap.String() != "243.24 N·m" {
		t.Errorf("%+v", f)
	}
	if _, err := p.Band(); !errors.Is(err, ErrDisagree) || !strings.Contains(err.Error(), "1820 ft-lb is 2467.6 N·m, not 2712 N·m") {
		t.Errorf("%v", err)
	}
}

func TestCheckForms(t *testing.T) {
	for _, c := range []struct {
		text string
		want Agreement
		says string
	}{
		{"145-190 in-lb (16-21 N·m)", Agrees, "agrees"},
		{"16-21 N·m [145-190 in-lb]", Agrees, "agrees"},
		{"25 ~ 35 N·m {2.5 ~ 3.6 kgf·m}", Agrees, "agrees"},
		{"16-21 N·m / 145-190 in-lb", Agrees, "agrees"},
		{"16-21 N·m\u00a0/\u3000145-190 in-lb", Agrees, "agrees"},
		{"16-21 N·m\u3000(145-190 in-lb)\u3000", Agrees, "agrees"},
		{"145-190 in-lb (16-23 N·m)", Disagrees, "190 in-lb is 21.5 N·m, not 23 N·m"},
		{"22 ft-lb ± 10 % (30 N·m ± 10 %)", Agrees, "agrees"},
		{"30 ± 3 N·m (22 ± 2 ft-lb)", Agrees, "agrees"},
		{"30 +5/-0 N·m (22 +4/-0 ft-lb)", Agrees, "agrees"},
		{"30 N·m +10/-5 % (22 ft-lb +10/-5 %)", Agrees, "agrees"},
		{"max 40 N·m (29.5 ft-lb)", Agrees, "agrees"},
		{"40 N·m (29.5 ft-lb) max", Agrees, "agrees"},
		{"40 N·m max (max 39.5 ft-lb)", Disagrees, "not 39.5 ft-lb"},
		{"22 ft-lb (29 N·m)", SharesThirdUnit, "3 kgf·m"},
		{"22-29 ft-lb (29-39 N·m)", SharesThirdUnit, "3 kgf·m and 4 kgf·m"},
		// The second rounded inward: 20.337 to 27.116, 5.649 to 7.909, 70.503 to 82.705 N·m, computed.
		{"180-240 in-lb (21-27 N·m)", Agrees, "agrees"},
		{"50-70 in-lb (6-7 N·m)", Agrees, "agrees"},
		{"52-61 ft-lb (71-82 N·m)", Agrees, "agrees"}, // not 7.2 kgf·m and 8.4 kgf·m
		// 69.5 to 70.5 and 81.5 to 82.5 N·m overlap 51.5 to 52.5 and 60.5 to 61.5 ft-lb, computed. 620 and 730 in-lb lie
		// in both too, by chance: every second pair of numbers has such a pair.
		{"52-61 ft-lb (70-82 N·m)", Agrees, "agrees"},
		{"52-61 ft-lb (69-82 N·m)", Disagrees, "apart by 0.33 N·m"},
		{"180-240 in-lb (20.4-27.1 N·m, 15-20 ft-lb)", Agrees, "agrees"},
		{"145-190 in-lb (17-21 N·m, 13-15 ft-lb, 1.7-2.1 kgf·m)", Agrees, "agrees"},
		{"180-240 in-lb (21.0-27.0 N·m)", Disagrees, "180 in-lb is 20.34 N·m, not 21.0 N·m"}, // 20.4 to 27.1 is inward
		{"180-240 in-lb (22-27 N·m)", Disagrees, "not 22 N·m"},
		{"21-27 N·m (180-240 in-lb)", Disagrees, "apart"}, // the second allows more than the first
		{"100.00 ft-lb (135.60 N·m)", Agrees, "agrees"},   // 135.58 is right; made with 1.356
		{"135.60 N·m (100.00 ft-lb)", Agrees, "agrees"},   // the same, stated the other way
		{"100.00 ft-lb (135.56 N·m)", Disagrees, "apart"}, // as far off on the other side
		{"1000.0 in-lb (113.00 N·m)", Agrees, "agrees"},   // made with 0.113
		{"10.197 kgf·m (100.02 N·m)", Disagrees, "apart"}, // no pounds, no allowance
		{"50 ft-lb (600 in-lb)", Agrees, "agrees"},
		// 190 in-lb is 21.4671 N·m, 15.8333 ft-lb and 2.1890 kgf·m, computed from the definitions.
		{"190 in-lb (21 N·m, 16 ft-lb)", Agrees, "agrees"},
		{"190 in-lb (21 N·m; 16 ft-lb; 2.19 kgf·m)", Agrees, "agrees"},
		{"190 in-lb (21 N·m / 16 ft-lb)", Agrees, "agrees"},
		{"190 in-lb (21 N·m) (16 ft-lb)", Agrees, "agrees"},
		{"190 in-lb (21 N·m) [16 ft-lb]", Agrees, "agrees"},
		{"190 in-lb / 21 N·m / 16 ft-lb", Agrees, "agrees"},
		{"190 in-lb / 21 N·m (16 ft-lb)", Agrees, "agrees"},
		{"190 in-lb (21 N·m,16 ft-lb)", Agrees, "agrees"},
		{"max 190 in-lb (21 N·m, 16 ft-lb)", Agrees, "agrees"},
		{"190 in-lb (21 N·m, 16 ft-lb) max", Agrees, "agrees"},
		{"190 in-lb (21 N·m, 26 ft-lb)", Disagrees, "190 in-lb is 15.8 ft-lb, not 26 ft-lb"},
		{"190 in-lb (31 N·m, 16 ft-lb)", Disagrees, "190 in-lb is 21.5 N·m, not 31 N·m"},
		{"190 in-lb (31 N·m, 6 ft-lb)", Disagrees, "not 6 ft-lb"},                                 // 13 N·m off on the one, 13 on the other
		{"30 N·m (22.3 ft-lb, 264 in-lb)", Disagrees, "22.3 ft-lb is 267.6 in-lb, not 264 in-lb"}, // each overlaps 29.5 to 30.5 N·m
		{"30 N·m (45 ft-lb, 100 in-lb)", Disagrees, "30 N·m is 22.1 ft-lb, not 45 ft-lb"},         // the first before the others
		{"145-190 in-lb (16-21 N·m, 12-16 ft-lb)", Agrees, "agrees"},
		{"30 +5, -0 N·m (22 +4, -0 ft-lb, 266 +44, -0 in-lb)", Agrees, "agrees"},
		{"30 +5 / -0 N·m / 22 +4 / -0 ft-lb", Agrees, "agrees"},
		{"22 ft-lb (29 N·m, 3 kgf·m)", SharesThirdUnit, "3 kgf·m"},
		{"3 kgf·m (22 ft-lb, 29 N·m)", Agrees, "agrees"},              // both are made from the first
		{"100.00 ft-lb (1200.0 in-lb, 135.60 N·m)", Agrees, "agrees"}, // made with 1.356
		// A tolerance in parentheses belongs to what is before it.
		{"30 N·m (±3) (22 ft-lb (±2))", Agrees, "agrees"},
		{"30 (±3) N·m (22 (±2) ft-lb)", Agrees, "agrees"},
		{"30 N·m (±10 %) / 22 ft-lb (±10 %)", Agrees, "agrees"},
		{"30 N·m [+5/-0] (22 ft-lb +4/-0)", Agrees, "agrees"},
	} {
		p, err := ParsePrintedLimit(c.text)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		f := p.Compare()
		if f.Agreement != c.want || !strings.Contains(f.String(), c.says) {
			t.Errorf("%s: %v; want %v saying %q", c.text, f, c.want, c.says)
		}
		if strings.Contains(c.text, "135.60") != (f.Shop && !strings.Contains(c.text, "113")) {
			t.Errorf("%s: shop factor %v", c.text, f.Shop)
		}
		if again, err := ParsePrintedLimit(p.String()); err != nil || again.String() != p.String() || len(again.sides) != len(p.sides) {
			t.Errorf("%s prints as %v, which reads as %v, %v", c.text, p, again, err)
		}
	}
}

// The first stated value is the requirement: another product's rule, by analogy. Source: 16-cfr-1211.
func TestFirstStatedGoverns(t *testing.T) {
	for text, want := range map[string]string{
		"145-190 in-lb (16-21 N·m)":               "145 to 190 in-lb",
		"16-21 N·m (145-190 in-lb)":               "16 to 21 N·m",
		"max 40 N·m (29.5 ft-lb)":                 "0 to 40 N·m",
		"145-190 in-lb (16-21 N·m, 12-16 ft-lb)":  "145 to 190 in-lb",
		"12-16 ft-lb / 145-190 in-lb / 16-21 N·m": "12 to 16 ft-lb",
		"30 N·m (±3) (22 ft-lb ±2)":               "27 to 33 N·m",
	} {
		p, err := ParsePrintedLimit(text)
		if err != nil {
			t.Fatal(err)
		}
		if b, err := p.Band(); err != nil || b.String() != want {
			t.Errorf("%s: %v, %v", text, b, err)
		}
	}
	p, err := ParsePrintedLimit("30 N·m (22 ft-lb)")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Band(); !errors.Is(err, ErrNoTolerance) {
		t.Errorf("%v", err)
	}
	if _, err := (PrintedLimit{}).Band(); !errors.Is(err, units.ErrRange) {
		t.Errorf("%v", err)
	}
	if f := (PrintedLimit{}).Compare(); f.Agreement != 0 || f.String() != "Agreement(0)" || (PrintedLimit{}).String() != "invalid printed limit" {
		t.Errorf("%v", f)
	}
}

func TestParsePrintedLimitRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		want error
		says string
	}{
		{"", units.ErrSyntax, "no second unit"},
		{"145-190 in-lb", units.ErrSyntax, "no second unit"},
		{"145-190 in-lb (16-21 N·m", units.ErrSyntax, "no second unit"},
		{"145-190 in-lb (16-21 in-lb)", units.ErrSyntax, "both sides are in in-lb"},
		{"145-190 in-lb (30 N·m)", units.ErrSyntax, "one side is a band"},
		{"145-190 in-lb (max 21 N·m)", units.ErrSyntax, "one side is a band"},
		{"145-190 in-lb (16-21 N·m) dry", units.ErrSyntax, "after the second unit"},
		{"145-190 in-lb (16-21 nm)", units.ErrAmbiguous, "newton metre"},
		{"145-190 in-lb (21-16 N·m)", ErrOrder, "lower limit first"},
		{"0 in-lb (0 N·m)", units.ErrSyntax, "zero"},
		{"in-lb (25 N·m)", units.ErrSyntax, "no number"},
		{"25 N·m ()", units.ErrSyntax, "no number"},
		{"25 N·m (" + strings.Repeat("2", 200) + ")", units.ErrRange, "192"},
		{"190 in-lb (21 N·m, 16)", units.ErrNoUnit, "no unit"},
		{"190 in-lb (21, 16 ft-lb)", units.ErrNoUnit, "no unit"},
		{"190 in-lb (21,5 N·m)", units.ErrAmbiguous, "decimal comma"},
		{"190 in-lb (21 N·m,)", units.ErrSyntax, "no number"},
		{"190 in-lb (, 21 N·m)", units.ErrSyntax, "no number"},
		{"190 in-lb (21 N·m, , 16 ft-lb)", units.ErrSyntax, "no number"},
		{"190 in-lb (21 N·m, 16 ft-lb", units.ErrSyntax, "no second unit"},
		{"190 in-lb (21 N·m, 21 N·m)", units.ErrSyntax, "both sides are in N·m"},
		{"190 in-lb (21 N·m, 190 in-lb)", units.ErrSyntax, "both sides are in in-lb"},
		{"190 in-lb (21 N·m, 12-16 ft-lb)", units.ErrSyntax, "one side is a band"},
		{"190 in-lb (21 N·m, max)", units.ErrSyntax, "no number"},
		{"190 in-lb (21 N·m, 16 quux)", units.ErrUnknownUnit, "quux"},
		{"190 in-lb (21 N·m) dry (16 ft-lb)", units.ErrSyntax, "after the second unit"},
		{"190 in-lb (21 N·m) / 16 ft-lb", units.ErrSyntax, "after the second unit"},
		{"190 in-lb, 21 N·m, 16 ft-lb", units.ErrSyntax, "no second unit"},
		{"190 in-lb (21 N·m (16 ft-lb))", units.ErrSyntax, "after the second unit"},
		{"190 in-lb (21 N·m (16 ft-lb)", units.ErrSyntax, "isn't closed"},
		{"25 N·m (18 ft-lb) (±10 %)", units.ErrSyntax, "each side"},
		{"25 N·m (±3)", units.ErrSyntax, "no second unit"},
		{"25 N·m (±3, 18 ft-lb ±2)", units.ErrSyntax, "no second unit"},
		{"25 N·m ±3 (18 ft-lb)", units.ErrSyntax, "one side is a band"},
		{"25 N·m /18 ft-lb", units.ErrSyntax, "no second unit"},
		{"25 N·m/ 18 ft-lb", units.ErrSyntax, "no second unit"},
		{"/ 18 ft-lb", units.ErrSyntax, "no second unit"},
		{"18 ft-lb /", units.ErrSyntax, "no second unit"},
	} {
		p, err := ParsePrintedLimit(c.text)
		var parse *units.ParseError
		if !errors.As(err, &parse) || !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) || p.valid() {
			t.Errorf("%q: %v, %v", c.text, p, err)
		}
	}
}

// 220 to 310 in-lb: common practice, no source.
func TestUnitSlips(t *testing.T) {
	b := MustParseBand("220 to 310 in-lb")
	for reading, want := range map[string][]units.TorqueUnit{
		"30 in-lb":  {units.NewtonMetre},
		"25 ft-lb":  nil, // in the band
		"30 ft-lb":  {units.NewtonMetre},
		"22 in-lb":  {units.FootPound},
		"25 in-lb":  {units.NewtonMetre, units.FootPound},
		"3 ft-lb":   {units.KilogramForceMetre},
		"250 N·m":   {units.InchPound},
		"300 kgf·m": {units.InchPound},
		// Just outside: 26 ft-lb are 312 in-lb, and 28.4 are 340.8, within a tenth of 310.
		"311 in-lb": nil, "341 in-lb": nil, "219 in-lb": nil, "198 in-lb": nil,
		"26 ft-lb": nil, "28.4 ft-lb": nil, "28.5 ft-lb": {units.NewtonMetre},
		"1 in-lb":   nil,
		"260 in-lb": nil,
	} {
		if got := b.UnitSlips(units.MustParseTorque(reading)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", reading, got, want)
		}
	}
	if got := (Band{}).UnitSlips(units.NewtonMetre.Of(1)); got != nil {
		t.Errorf("%v", got)
	}
}
