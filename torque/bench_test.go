package torque

import (
	"testing"

	"github.com/shopspring/decimal"

	"example.com/snugturn/units"
)

func BenchmarkContains(b *testing.B) {
	band, reading := MustParseBand("145 to 190 in-lb"), units.MustParseTorque("18.5 N·m")
	b.ReportAllocs()
	for b.Loop() {
		if !band.Contains(reading) {
			b.Fatal("outside")
		}
	}
}

// The same question by decimals alone, for comparison.
func BenchmarkContainsDecimal(b *testing.B) {
	low, high := decimal.RequireFromString("145"), decimal.RequireFromString("190")
	factor := decimal.RequireFromString("0.1129848290276167")
	reading := decimal.RequireFromString("18.5")
	b.ReportAllocs()
	for b.Loop() {
		if reading.LessThan(low.Mul(factor)) || high.Mul(factor).LessThan(reading) {
			b.Fatal("outside")
		}
	}
}

func BenchmarkDecide(b *testing.B) {
	band := MustParseBand("145 to 190 in-lb")
	m := Measurement{Value: units.MustParseTorque("18.5 N·m"), Expanded: units.MustParseTorque("0.6 N·m")}
	for rule := SimpleAcceptance; rule.valid(); rule++ {
		b.Run(rule.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if d, err := band.Decide(m, rule); err != nil || d.Acceptance != Accepted {
					b.Fatal(d, err)
				}
			}
		})
	}
}

func BenchmarkCountMillion(b *testing.B) {
	band := MustParseBand("145 to 190 in-lb")
	readings := make([]units.Torque, 1_000_000)
	for i := range readings {
		switch i % 4 {
		case 0:
			readings[i] = units.InchPound.Of(int64(200 + i%130))
		case 1:
			readings[i] = units.NewtonMetre.Of(int64(20 + i%20))
		case 2:
			readings[i] = units.MustParseTorque("21.5 ft-lb")
		default:
			readings[i] = units.MustParseTorque("2.95 kgf·m")
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		inside := 0
		for i := range readings {
			if band.Contains(readings[i]) {
				inside++
			}
		}
		if inside == 0 || inside == len(readings) {
			b.Fatal(inside)
		}
	}
}

func BenchmarkParseBand(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseBand("145-190 in-lb"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSet(b *testing.B) {
	w, band := shopWrench(), MustParseBand("145 to 190 in-lb")
	for name, a := range map[string]Adapter{"plain": {}, "crowfoot at 45°": {Offset: units.Millimetre.Of(50), Angle: units.Degree.Of(45)}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := w.Set(band, a); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func TestContainsAllocatesNothing(t *testing.T) {
	band, reading := MustParseBand("145 to 190 in-lb"), units.MustParseTorque("18.5 N·m")
	if n := testing.AllocsPerRun(100, func() { band.Contains(reading) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
