package units

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"
)

// Each benchmark of an operation stands beside the raw decimal operation it is held against;
// the ratio is the quotient of the two times in one run.

var (
	sinkQuantity Torque
	sinkDecimal  decimal.Decimal
	sinkInt      int
	sinkError    error
)

func BenchmarkCompareAcrossUnits(b *testing.B) {
	b.ReportAllocs()
	p, q := InchPound.Of(220), MustParseTorque("24.86 N·m")
	for b.Loop() {
		sinkInt = p.Compare(q)
	}
}

func BenchmarkCompareSameUnit(b *testing.B) {
	b.ReportAllocs()
	p, q := InchPound.Of(220), InchPound.Of(310)
	for b.Loop() {
		sinkInt = p.Compare(q)
	}
}

func BenchmarkCompareDecimal(b *testing.B) {
	b.ReportAllocs()
	p, q := decimal.RequireFromString("220"), decimal.RequireFromString("24.86")
	for b.Loop() {
		sinkInt = p.Cmp(q)
	}
}

func BenchmarkInTerminating(b *testing.B) {
	b.ReportAllocs()
	q := InchPound.Of(220)
	for b.Loop() {
		sinkQuantity = q.In(NewtonMetre)
	}
}

func BenchmarkInTerminatingDecimalMul(b *testing.B) {
	b.ReportAllocs()
	q, factor := decimal.RequireFromString("220"), decimal.RequireFromString("0.1129848290276167")
	for b.Loop() {
		sinkDecimal = q.Mul(factor)
	}
}

func BenchmarkInRepeating(b *testing.B) {
	b.ReportAllocs()
	q := MustParseTorque("24.86 N·m")
	for b.Loop() {
		sinkQuantity = q.In(InchPound)
	}
}

func BenchmarkInRepeatingDecimalQuoRem(b *testing.B) {
	b.ReportAllocs()
	q, factor := decimal.RequireFromString("24.86"), decimal.RequireFromString("0.1129848290276167")
	for b.Loop() {
		sinkDecimal, _ = q.QuoRem(factor, 31)
	}
}

func BenchmarkRoundIn(b *testing.B) {
	b.ReportAllocs()
	q := InchPound.Of(220)
	for b.Loop() {
		sinkQuantity = q.RoundIn(NewtonMetre, 2, ToPositiveInf)
	}
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuantity, sinkError = ParseTorque("220 in-lb")
	}
}

func BenchmarkParseSpelling(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuantity, sinkError = ParseTorque("24.86 Nm")
	}
}

func BenchmarkParseDecimal(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkDecimal, sinkError = decimal.NewFromString("220")
	}
}

// The bare loop that ConvertFloat64s is held against: one multiplication by a rounded factor.
func multiply(dst, src []float64, factor float64) {
	for i, x := range src {
		dst[i] = x * factor
	}
}

func benchmarkFloats(b *testing.B, n int, convert func(dst, src []float64)) {
	b.ReportAllocs()
	b.SetBytes(int64(8 * n))
	src, dst := make([]float64, n), make([]float64, n)
	for i := range src {
		src[i] = float64(i)
	}
	convert(dst, src) // so that no page is touched for the first time while the clock runs
	for b.Loop() {
		convert(dst, src)
	}
}

func BenchmarkFloats(b *testing.B) {
	for _, size := range []struct {
		name string
		n    int
	}{{"64Ki", 1 << 16}, {"16Mi", 1 << 24}} {
		b.Run("Convert/"+size.name, func(b *testing.B) {
			benchmarkFloats(b, size.n, func(dst, src []float64) { ConvertFloat64s(dst, src, InchPound, NewtonMetre) })
		})
		b.Run("Multiply/"+size.name, func(b *testing.B) {
			benchmarkFloats(b, size.n, func(dst, src []float64) { multiply(dst, src, 0.1129848290276167) })
		})
	}
}

func BenchmarkAppendText(b *testing.B) {
	b.ReportAllocs()
	q, buffer := MustParseTorque("24.86 N·m"), make([]byte, 0, 64)
	for b.Loop() {
		buffer, sinkError = q.AppendText(buffer[:0])
	}
}

// BenchmarkRatio runs an operation and the raw one it is held against turn by turn, so that
// whatever else the machine does slows both, and reports the quotient of their times as "x".
func BenchmarkRatio(b *testing.B) {
	p, q := InchPound.Of(220), MustParseTorque("24.86 N·m")
	d, e, factor := decimal.RequireFromString("220"), decimal.RequireFromString("24.86"), decimal.RequireFromString("0.1129848290276167")
	src, dst := make([]float64, 1<<16), make([]float64, 1<<16)
	for _, c := range []struct {
		name      string
		ours, raw func()
	}{
		{"Compare/decimal.Cmp", func() { sinkInt = p.Compare(q) }, func() { sinkInt = d.Cmp(e) }},
		{"InTerminating/decimal.Mul", func() { sinkQuantity = p.In(NewtonMetre) }, func() { sinkDecimal = d.Mul(factor) }},
		{"InRepeating/decimal.QuoRem", func() { sinkQuantity = q.In(InchPound) }, func() { sinkDecimal, _ = e.QuoRem(factor, 31) }},
		{"Parse/decimal.NewFromString", func() { sinkQuantity, sinkError = ParseTorque("220 in-lb") },
			func() { sinkDecimal, sinkError = decimal.NewFromString("220") }},
		{"ConvertFloat64s/multiply", func() { ConvertFloat64s(dst, src, InchPound, NewtonMetre) },
			func() { multiply(dst, src, 0.1129848290276167) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			times := func(do func()) time.Duration {
				start := time.Now()
				for range 256 {
					do()
				}
				return time.Since(start)
			}
			var ours, raw time.Duration
			for b.Loop() {
				ours += times(c.ours)
				raw += times(c.raw)
			}
			b.ReportMetric(float64(ours)/float64(raw), "x")
			b.ReportMetric(0, "ns/op")
		})
	}
}
