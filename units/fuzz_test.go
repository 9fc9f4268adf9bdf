package units

import (
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"runtime"
	"strings"
	"testing"
)

// seeds are texts on both sides of every rule of the grammar.
var seeds = []string{
	"", "145 in-lb", "12.50 N·m", "-0.00 N·m", ".5 kgf·cm", "1½ in", "3/4\"", "2-1/8 in", "1/3 in", "1,5 L", "5 gal", "30 nm", "60 °C",
	"-459.67 °F", "−12 N⋅m", "1e999999999 L", "9999999999999999999999999999999999 mg", "0.000000000000000000000000000000000001 Pa",
	"7 lb/US gal", "12 imp fl oz", "90 l/hr", "30 PSI", "\xff\xfe", "12\u00a0N\u2009m", "5 \" Hg", "1⁄2 rev", "5 kg/cm²",
	"0" + strings.Repeat("\x9d", 126), "0\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x80\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\x9d\xf0\x9d\x1d\x9d\x9d\x9d\x9d\x9d\x9d\x9d5N\xa2\xdfe\x9d\x9c\x9d\x9d\x9d\x9d",
	"145 in-lb -", "5 N^m", "5'", "4.5 ℓ", "10 µm", "999999999999999999999999.5 N·m",
}

// FuzzParse: whatever is read prints as text that reads back to the same text; whatever is refused
// is refused with a ParseError that is short.
func FuzzParse(f *testing.F) {
	for _, text := range seeds {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		fixedPoint(t, text, ParseTorque)
		fixedPoint(t, text, ParseAngle)
		fixedPoint(t, text, ParseVolume)
		fixedPoint(t, text, ParseMass)
		fixedPoint(t, text, ParseDensity)
		fixedPoint(t, text, ParseLength)
		fixedPoint(t, text, ParseFlow)
		fixedPoint(t, text, ParsePressure)
		fixedPoint(t, text, Parse[TemperatureDifferenceUnit])
		fixedPoint(t, text, ParseTemperature)
		fixedPoint(t, text, ParseShare)
	})
}

// FuzzUnit: a unit that is read by its name or by a code has that code, and what is refused is refused short.
func FuzzUnit(f *testing.F) {
	for _, text := range []string{"N·m", "in-lb", "US gal", "gal", "[lb_av]", "KGM", "LTR", "%", "°C", "ft lbs", "N.m", "[in_i].[lbf_av]", "\xff", "", "kgf·m\u202e"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		unitOf[TorqueUnit](t, text)
		unitOf[AngleUnit](t, text)
		unitOf[VolumeUnit](t, text)
		unitOf[MassUnit](t, text)
		unitOf[DensityUnit](t, text)
		unitOf[LengthUnit](t, text)
		unitOf[FlowUnit](t, text)
		unitOf[PressureUnit](t, text)
		unitOf[ShareUnit](t, text)
		unitOf[TemperatureDifferenceUnit](t, text)
	})
}

func unitOf[U Unit](t *testing.T, text string) {
	short := func(err error) {
		problem, ok := err.(*ParseError)
		if !ok || len(problem.Input) > 51 || len(err.Error()) > 900 || problem.Unwrap() == nil {
			t.Fatalf("%q: %#v", text, err)
		}
	}
	if u, err := ParseUnit[U](text); err != nil {
		short(err)
	} else if back, err := ParseUnit[U](u.String()); err != nil || back != u {
		t.Fatalf("%q is %v, which is %v, %v", text, u, back, err)
	}
	for _, code := range []struct {
		from func(string) (U, error)
		of   func(U) (string, error)
	}{
		{FromUCUM[U], func(u U) (string, error) { return any(u).(interface{ UCUM() (string, error) }).UCUM() }},
		{FromRec20[U], func(u U) (string, error) { return any(u).(interface{ Rec20() (string, error) }).Rec20() }},
	} {
		u, err := code.from(text)
		if err != nil {
			short(err)
		} else if c, err := code.of(u); err != nil {
			t.Fatalf("%q is %v, which has no code: %v", text, u, err)
		} else if back, err := code.from(c); err != nil || back != u {
			t.Fatalf("%q is %v, coded %q, which is %v, %v", text, u, c, back, err)
		}
	}
}

// FuzzFromRat: a fraction is rounded to a quantity in its range that is as near as its last place says, or refused.
func FuzzFromRat(f *testing.F) {
	f.Add("1/3", uint8(0), 4, uint8(0))
	f.Add("-22/7", uint8(2), 60, uint8(1))
	f.Add("1e23", uint8(1), -5, uint8(2))
	f.Add("999999999999999999999999999999999999999999/7", uint8(3), math.MaxInt, uint8(0))
	f.Fuzz(func(t *testing.T, text string, unit uint8, places int, mode uint8) {
		if len(text) > 100 || strings.ContainsAny(text, "eEpP") && len(text) > 8 { // what big.Rat makes of an exponent is not ours
			return
		}
		x, ok := new(big.Rat).SetString(text)
		if !ok {
			return
		}
		u := TorqueUnit(unit % uint8(len(torqueKind.rows)))
		rounding := []Rounding{ToNearestEven, ToPositiveInf, ToNegativeInf}[mode%3]
		q, err := FromRat(x, u, places, rounding)
		if err != nil {
			if !errors.Is(err, ErrRange) || len(err.Error()) > 600 {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		switch diff := new(big.Rat).Sub(q.RatIn(u), x); {
		case !q.Valid(), rounding == ToPositiveInf && diff.Sign() < 0, rounding == ToNegativeInf && diff.Sign() > 0:
			t.Fatalf("%q to %d places is %v", text, places, q)
		}
	})
}

// allocated is what a call allocates: the least of a few tries, since others allocate meanwhile.
func allocated(call func()) uint64 {
	least := uint64(math.MaxUint64)
	for range 3 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		call()
		runtime.ReadMemStats(&after)
		least = min(least, after.TotalAlloc-before.TotalAlloc)
	}
	return least
}

func fixedPoint[Q interface {
	String() string
	Valid() bool
}](t *testing.T, text string, parse func(string) (Q, error)) {
	q, err := parse(text)
	if err != nil {
		problem, ok := err.(*ParseError)
		if !ok || len(problem.Input) > 51 || problem.Offset < 0 || problem.Offset > len(text) || problem.Unwrap() == nil {
			t.Fatalf("%q: %#v", text, err)
		}
		if q.String() != (*new(Q)).String() {
			t.Fatalf("%q: %v beside an error", text, q)
		}
		if len(text)%11 > 0 { // to measure what it costs takes a hundred times as long as to read it
			return
		}
		if bytes := allocated(func() { _, sinkError = parse(text) }); bytes > 4096 {
			t.Fatalf("%q: %d bytes to refuse it", text, bytes)
		}
		return
	}
	back, err := parse(q.String())
	if err != nil || back.String() != q.String() || !q.Valid() {
		t.Fatalf("%q: %v, then %v %v", text, q, back, err)
	}
}

// FuzzConvert: a conversion is in range in every unit, and says truly whether it is exact.
func FuzzConvert(f *testing.F) {
	f.Add(uint64(0), uint64(145), uint8(0), false, uint8(3), uint8(0))
	f.Add(uint64(542101086242752), uint64(4477988020393345023), uint8(10), true, uint8(0), uint8(10)) // 10^34 - 1
	f.Fuzz(func(t *testing.T, high, low uint64, places uint8, neg bool, from, to uint8) {
		k := torqueKind
		n := number{coef: u128{high, low}, places: places % (maxPlaces + 1)}.signed(neg)
		from, to = from%uint8(len(k.rows)), to%uint8(len(k.rows))
		if !n.coef.less(pow10wide[maxDigits]) || !k.inRange(n, from) {
			return
		}
		q := quantity(n, TorqueUnit(from))
		there, exact := q.Exact(TorqueUnit(to))
		if !there.num().coef.less(pow10wide[maxDigits]) || exact != (there.Compare(q) == 0) {
			t.Fatalf("%v is %v, exactly: %t", q, there, exact)
		}
		if low, high := q.RoundIn(TorqueUnit(to), 2, ToNegativeInf), q.RoundIn(TorqueUnit(to), 2, ToPositiveInf); low.Compare(q) > 0 || high.Compare(q) < 0 {
			t.Fatalf("%v lies outside %v to %v", q, low, high)
		}
	})
}

// FuzzJSON: nothing panics, a refused text leaves the receiver alone, an accepted one is written
// back and read to the same text.
func FuzzJSON(f *testing.F) {
	for _, text := range seeds {
		quoted, _ := json.Marshal(text)
		f.Add(string(quoted))
	}
	f.Add(`{"value":"145","unit":"in-lb"}`)
	f.Add(`{"value":"145","value":"1","unit":"in-lb"}`)
	f.Add(`{"value":{"a":[1]},"unit":"in-lb"}`)
	f.Add(`{"value":"145 in-","unit":"lb"}`)
	f.Add(`{"value":"` + strings.Repeat("9", 900) + `","unit":"in-lb"}`)
	f.Add(`{"` + strings.Repeat("\u2028", 300) + `":"1"}`)
	f.Fuzz(func(t *testing.T, text string) {
		q := InchPound.Of(7)
		if err := q.UnmarshalJSON([]byte(text)); err != nil {
			if q.String() != "7 in-lb" || strings.TrimSpace(err.Error()) == "" {
				t.Fatalf("%q left %v", text, q)
			}
			const decoder = 4096 // what the scan of encoding/json takes is not ours
			if bytes := allocated(func() { sinkError = q.UnmarshalJSON([]byte(text)) }); bytes > 4096+decoder {
				t.Fatalf("%q: %d bytes to refuse it", text, bytes)
			}
			return
		}
		data, err := q.MarshalJSON()
		var back Torque
		if err != nil || back.UnmarshalJSON(data) != nil || back.String() != q.String() {
			t.Fatalf("%q: %v, %s, %v", text, q, data, err)
		}
	})
}
