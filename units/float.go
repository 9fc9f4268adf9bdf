package units

import (
	"math"
	"math/big"
)

// Floats are a way out, for plots and statistics. None decides anything here.

func nan() float64 { return math.NaN() }

// ConvertFloat64s converts numbers of unit from into numbers of unit to, as many as the shorter
// slice holds; dst and src may be the same slice. Where either is no unit of the kind, dst is
// filled with NaN.
//
// Each result is the double nearest to the exact product, between 1e-270 and 1e300 in magnitude.
// The one exception is a product that lies exactly halfway between two doubles, or within 1 part
// in 2^104 of that: there either neighbour may come out, unless the factor is itself a double, as
// 12 and 1000 are. The factor is held in two doubles and joined with one fused multiply-add, which
// gives the same bits on every machine. NaN, infinities and signed zeros come out as they went in.
func ConvertFloat64s[U Unit](dst, src []float64, from, to U) {
	n := min(len(dst), len(src))
	dst, src = dst[:n], src[:n]
	r, ok := from.kind().ratio(uint8(from), uint8(to))
	if !ok {
		for i := range dst {
			dst[i] = nan()
		}
		return
	}
	high, low := r.twoDoubles()
	if low == 0 {
		for i, x := range src {
			dst[i] = x * high
		}
		return
	}
	fused(dst, src, high, low)
}

// fused is src·(high + low), each rounded once, in the order of the slices, which are of one length. Eight at a time, since
// the compiler asks before every FMA whether the processor has one: counting each as well makes a
// large conversion slower than memory. float64 keeps the product from being fused too.
func fused(dst, src []float64, high, low float64) {
	for ; len(src) >= 8; dst, src = dst[8:], src[8:] {
		d, s := (*[8]float64)(dst), (*[8]float64)(src)
		d[0] = math.FMA(s[0], high, float64(s[0]*low))
		d[1] = math.FMA(s[1], high, float64(s[1]*low))
		d[2] = math.FMA(s[2], high, float64(s[2]*low))
		d[3] = math.FMA(s[3], high, float64(s[3]*low))
		d[4] = math.FMA(s[4], high, float64(s[4]*low))
		d[5] = math.FMA(s[5], high, float64(s[5]*low))
		d[6] = math.FMA(s[6], high, float64(s[6]*low))
		d[7] = math.FMA(s[7], high, float64(s[7]*low))
	}
	for i, x := range src {
		dst[i] = math.FMA(x, high, float64(x*low))
	}
}

// twoDoubles is the factor as a sum. The first is rounded toward zero, so that both have one sign:
// an infinity times the factor would otherwise be infinity less infinity.
func (r ratio) twoDoubles() (high, low float64) {
	factor := r.rat()
	high, _ = new(big.Float).SetPrec(53).SetMode(big.ToZero).SetRat(factor).Float64()
	low, _ = factor.Sub(factor, new(big.Rat).SetFloat64(high)).Float64()
	return high, low
}
