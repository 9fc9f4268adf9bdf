package units

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"
)

// Each benchmark of an operation is next to the raw decimal operation it is held against;
// the ratio is the quotient of the two times in one run.

var (
	sinkQuantity Torque
	sinkDecimal  decimal.Decimal
	sinkInt      int
	sinkError    error
)

func BenchmarkCompareAcrossUnits(b *testing.B) {
	b.ReportAllocs()
	p, q := InchPound.Of(145), MustParseTorque("16.39 N·m")
	for b.Loop() {
		sinkInt = p.Compare(q)
	}
}

func BenchmarkCompareSameUnit(b *testing.B) {
	b.ReportAllocs()
	p, q := InchPound.Of(145), InchPound.Of(190)
	for b.Loop() {
		sinkInt = p.Compare(q)
	}
}

func BenchmarkCompareDecimal(b *testing.B) {
	b.ReportAllocs()
	p, q := decimal.RequireFromString("145"), decimal.RequireFromString("16.39")
	for b.Loop() {
		sinkInt = p.Cmp(q)
	}
}

func BenchmarkInTerminating(b *testing.B) {
	b.ReportAllocs()
	q := InchPound.Of(145)
	for b.Loop() {
		sinkQuantity = q.In(NewtonMetre)
	}
}

func BenchmarkInTerminatingDecimalMul(b *testing.B) {
	b.ReportAllocs()
	q, factor := decimal.RequireFromString("145"), decimal.RequireFromString("0.1129848290276167")
	for b.Loop() {
		sinkDecimal = q.Mul(factor)
	}
}

func BenchmarkInRepeating(b *testing.B) {
	b.ReportAllocs()
	q := MustParseTorque("16.39 N·m")
	for b.Loop() {
		sinkQuantity = q.In(InchPound)
	}
}

func BenchmarkInRepeatingDecimalQuoRem(b *testing.B) {
	b.ReportAllocs()
	q, factor := decimal.RequireFromString("16.39"), decimal.RequireFromString("0.1129848290276167")
	for b.Loop() {
		sinkDecimal, _ = q.QuoRem(factor, 31)
	}
}

func BenchmarkRoundIn(b *testing.B) {
	b.ReportAllocs()
	q := InchPound.Of(145)
	for b.Loop() {
		sinkQuantity = q.RoundIn(NewtonMetre, 2, ToPositiveInf)
	}
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuantity, sinkError = ParseTorque("145 in-lb")
	}
}

func BenchmarkParseSpelling(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkQuantity, sinkError = ParseTorque("16.39 Nm")
	}
}

func BenchmarkParseDecimal(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkDecimal, sinkError = decimal.NewFromString("145")
	}
}

// The bare loop that ConvertFloat64s is held against: one multiplication by a rounded factor.
func multiply(dst, src []float64, factor float64) {
	for i, x := range src {
		dst[i] = x * factor
	}
}

// 16 Mi doubles don't fit a cache, 64 Ki do.
var floatSizes = []struct {
	name string
	n    int
}{{"64Ki", 1 << 16}, {"16Mi", 1 << 24}}

// floats are two slices with every page touched before the clock runs.
func floats(n int) (dst, src []float64) {
	dst, src = make([]float64, n), make([]float64, n)
	for i := range src {
		dst[i], src[i] = 1, float64(i)
	}
	return dst, src
}

func BenchmarkFloats(b *testing.B) {
	for _, size := range floatSizes {
		for _, c := range []struct {
			name string
			do   func(dst, src []float64)
		}{
			{"Convert/", func(dst, src []float64) { ConvertFloat64s(dst, src, InchPound, NewtonMetre) }},
			{"Multiply/", func(dst, src []float64) { multiply(dst, src, 0.1129848290276167) }},
		} {
			b.Run(c.name+size.name, func(b *testing.B) {
				b.ReportAllocs()
				b.SetBytes(int64(8 * size.n))
				dst, src := floats(size.n)
				for b.Loop() {
					c.do(dst, src)
				}
			})
		}
	}
}

func BenchmarkAppendText(b *testing.B) {
	b.ReportAllocs()
	q, buffer := MustParseTorque("16.39 N·m"), make([]byte, 0, 64)
	for b.Loop() {
		buffer, sinkError = q.AppendText(buffer[:0])
	}
}

// turnByTurn runs an operation and the raw one it is held against in turns of n, so that whatever
// else the machine does slows both, and reports the quotient of their times as "x".
func turnByTurn(b *testing.B, n int, ours, raw func()) {
	times := func(do func()) time.Duration {
		start := time.Now()
		for range n {
			do()
		}
		return time.Since(start)
	}
	var our, their time.Duration
	for b.Loop() {
		our += times(ours)
		their += times(raw)
	}
	b.ReportMetric(float64(our)/float64(their), "x")
	b.ReportMetric(0, "ns/op")
}

func BenchmarkRatio(b *testing.B) {
	p, q := InchPound.Of(145), MustParseTorque("16.39 N·m")
	d, e, factor := decimal.RequireFromString("145"), decimal.RequireFromString("16.39"), decimal.RequireFromString("0.1129848290276167")
	for _, c := range []struct {
		name      string
		ours, raw func()
	}{
		{"Compare/decimal.Cmp", func() { sinkInt = p.Compare(q) }, func() { sinkInt = d.Cmp(e) }},
		{"InTerminating/decimal.Mul", func() { sinkQuantity = p.In(NewtonMetre) }, func() { sinkDecimal = d.Mul(factor) }},
		{"InRepeating/decimal.QuoRem", func() { sinkQuantity = q.In(InchPound) }, func() { sinkDecimal, _ = e.QuoRem(factor, 31) }},
		{"Parse/decimal.NewFromString", func() { sinkQuantity, sinkError = ParseTorque("145 in-lb") },
			func() { sinkDecimal, sinkError = decimal.NewFromString("145") }},
	} {
		b.Run(c.name, func(b *testing.B) { turnByTurn(b, 256, c.ours, c.raw) })
	}
	for _, size := range floatSizes {
		b.Run("ConvertFloat64s/multiply/"+size.name, func(b *testing.B) {
			dst, src := floats(size.n)
			turnByTurn(b, 1,
				func() { ConvertFloat64s(dst, src, InchPound, NewtonMetre) },
				func() { multiply(dst, src, 0.1129848290276167) })
		})
	}
}
