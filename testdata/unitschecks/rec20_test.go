package unitschecks

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

// Rows of the list: code, our symbol, the printed factor with a point for its comma, its base unit, and "D" where
// the row is deprecated. Source: rec20.
const rec20Rows = `
NU   N·m       1              N·m
B48  kN·m      1e3            N·m
D83  mN·m      1e-3           N·m
DN   dN·m      1e-1           N·m
J72  cN·m      1e-2           N·m
F88  N·cm      1e-2           N·m
F21  in-lb     1.12985e-1     N·m
M92  ft-lb     1.355818       N·m
L41  in-oz     7.061552e-3    N·m
B38  kgf·m     9.80665        N·m  D
MTQ  m³        1              m³
LTR  L         1e-3           m³
MLT  mL        1e-6           m³
CLT  cL        1e-5           m³
DLT  dL        1e-4           m³
HLT  hL        1e-1           m³
CMQ  cm³       1e-6           m³
INQ  in³       16.387064e-6   m³
GLL  US_gal    3.785412e-3    m³
PTI  imp_pt    5.68261e-4     m³
QTI  imp_qt    1.1365225e-3   m³
PTL  US_pt     4.731765e-4    m³
QTL  US_qt     9.463529e-4    m³
OZI  imp_fl_oz 2.841306e-5    m³
KGM  kg        1              kg
GRM  g         1e-3           kg
MGM  mg        1e-6           kg
TNE  t         1e3            kg
LBR  lb        0.45359237     kg
ONZ  oz        2.834952e-2    kg
LTN  long_ton  1.016047e3     kg
STN  short_ton 0.9071847e3    kg
KMQ  kg/m³     1              kg/m³
23   g/cm³     1e3            kg/m³
GJ   g/mL      1e3            kg/m³
B35  kg/L      1e3            kg/m³
87   lb/ft³    1.601846e1     kg/m³
GE   lb/US_gal 1.198264e2     kg/m³
K71  lb/imp_gal 99.77637      kg/m³
MTR  m         1              m
CMT  cm        1e-2           m
MMT  mm        1e-3           m
4H   µm        1e-6           m
INH  in        25.4e-3        m
FOT  ft        0.3048         m
KMT  km        1e3            m
SMI  mi        1609.344       m
PAL  Pa        1              Pa
KPA  kPa       1e3            Pa
MPA  MPa       1e6            Pa
A97  hPa       1e2            Pa
BAR  bar       1e5            Pa
MBR  mbar      1e2            Pa
ATM  atm       101325         Pa
PS   psi       6.894757e3     Pa
E42  kgf/cm²   9.80665e4      Pa
F79  inHg      3.38639e3      Pa
F78  inH2O     2.49089e2      Pa
HN   mmHg      133.3224       Pa   D
HP   mmH2O     9.80665        Pa   D
`

// asked is what a code means to each kind.
type asked struct {
	symbol string
	base   string
	factor *big.Rat
	err    error
}

func ask[U units.Unit](code, base string) (asked, bool) {
	to, err := units.ParseUnit[U](base)
	if err != nil {
		return asked{}, false
	}
	u, err := units.FromRec20[U](code)
	return asked{u.String(), base, units.Factor(u, to), err}, true
}

func TestRec20(t *testing.T) {
	rows := 0
	for _, line := range strings.Split(strings.TrimSpace(rec20Rows), "\n") {
		f := strings.Fields(line)
		code, symbol, printed, base := f[0], strings.ReplaceAll(f[1], "_", " "), f[2], f[3]
		var got asked
		found := false
		for _, of := range []func(string, string) (asked, bool){
			ask[units.TorqueUnit], ask[units.VolumeUnit], ask[units.MassUnit], ask[units.DensityUnit],
			ask[units.LengthUnit], ask[units.PressureUnit],
		} {
			if a, ok := of(code, base); ok {
				got, found = a, true
			}
		}
		if !found || got.symbol != symbol {
			t.Errorf("%s: %q, want %q", code, got.symbol, symbol)
			continue
		}
		if deprecated := len(f) > 4; deprecated != errors.Is(got.err, units.ErrCaveat) || !deprecated && got.err != nil {
			t.Errorf("%s: %v", code, got.err)
		}
		checkPrinted(t, code, printed, got.factor)
		rows++
	}
	if rows < 45 {
		t.Errorf("only %d rows", rows)
	}
}

// The rows of volume flow, whose printed factors are in m³/s. Source: rec20.
func TestRec20Flows(t *testing.T) {
	for _, row := range []struct{ code, symbol, printed string }{
		{"MQH", "m³/h", "2.77778e-4"},
		{"L2", "L/min", "1.66667e-5"},
		{"41", "mL/min", "1.66667e-8"},
		{"G2", "US gal/min", "6.309020e-5"},
		{"G50", "US gal/h", "1.0515e-6"},
		{"G3", "imp gal/min", "7.57682e-5"},
		{"K27", "imp gal/h", "1.262803e-6"},
	} {
		u, err := units.FromRec20[units.FlowUnit](row.code)
		if err != nil || u.String() != row.symbol {
			t.Errorf("%s: %v, %v", row.code, u, err)
			continue
		}
		perSecond := units.Factor(u, units.LitrePerHour)
		checkPrinted(t, row.code, row.printed, perSecond.Quo(perSecond, big.NewRat(3_600_000, 1)))
	}
}

// Angles, whose printed factors are rounded from π: only that the codes belong. Source: rec20.
func TestRec20Angles(t *testing.T) {
	for code, want := range map[string]units.AngleUnit{"DD": units.Degree, "M44": units.Revolution} {
		if u, err := units.FromRec20[units.AngleUnit](code); err != nil || u != want {
			t.Errorf("%s: %v, %v", code, u, err)
		}
	}
}

// checkPrinted allows half a unit of the last printed digit.
func checkPrinted(t *testing.T, code, printed string, exact *big.Rat) {
	value, _ := new(big.Rat).SetString(printed)
	digits, exponent, _ := strings.Cut(printed, "e")
	_, fraction, _ := strings.Cut(digits, ".")
	half, _ := new(big.Rat).SetString("0.5e" + cmpOr(exponent, "0"))
	for range fraction {
		half.Quo(half, big.NewRat(10, 1))
	}
	gap := new(big.Rat).Sub(value, exact)
	if gap.Abs(gap).Cmp(half) > 0 {
		t.Errorf("%s prints %s, we have %s", code, printed, exact.FloatString(15))
	}
}

func cmpOr(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// The list prints 4.546 092 E-3 m³ for the imperial gallon, which is 4.546 09 E-3 m³ by definition:
// the reason why no factor is taken from it. Sources: rec20, nist-sp811-b8.
func TestRec20Misprint(t *testing.T) {
	u, err := units.FromRec20[units.VolumeUnit]("GLI")
	if err != nil || u != units.ImperialGallon {
		t.Fatal(u, err)
	}
	printed, _ := new(big.Rat).SetString("4.546092e-3")
	if units.Factor(u, units.CubicMetre).Cmp(printed) == 0 {
		t.Error("the misprint got in")
	}
}

// Conversions between units of ours, with their outcomes as printed: to the significant digits of the value.
// Source: ucum-tests.
func TestUCUMConversions(t *testing.T) {
	for _, c := range []struct{ id, value, from, to, outcome string }{
		{"3-101", "6.3", "m", "m", "6.3"},
		{"3-102", "6.3", "mm", "m", "0.0063"},
		{"3-103", "6.3", "mm", "cm", "0.63"},
		{"3-118", "6.30", "[in_i]", "m", "0.160"},
		{"3-119", "6.300", "[in_i]", "cm", "16.0"},
	} {
		from, err := units.FromUCUM[units.LengthUnit](c.from)
		if err != nil {
			t.Fatal(err)
		}
		to, err := units.FromUCUM[units.LengthUnit](c.to)
		if err != nil {
			t.Fatal(err)
		}
		_, fraction, _ := strings.Cut(c.outcome, ".")
		q := units.MustParseLength(c.value+" "+from.String()).RoundIn(to, len(fraction), units.ToNearestEven)
		if got := q.Magnitude().StringFixed(int32(len(fraction))); got != c.outcome {
			t.Errorf("%s: %s, want %s", c.id, got, c.outcome)
		}
	}
}

// 3-125 makes a metre of mercury 133 322 000 g·s⁻²·m⁻¹, that is 133 322 Pa. The conventional
// millimetre here is 13.5951 kg/L under standard gravity, 2.9 parts in a million more,
// and the code says so. Sources: ucum-tests, nist-sp811-b8.
func TestUCUMMercury(t *testing.T) {
	unit, err := units.FromUCUM[units.PressureUnit]("mm[Hg]")
	if !errors.Is(err, units.ErrCaveat) || unit.String() != "mmHg" {
		t.Fatal(unit, err)
	}
	more := units.Factor(unit, units.Pascal)
	more.Quo(more, big.NewRat(133322, 1000))
	more.Sub(more, big.NewRat(1, 1))
	if more.Cmp(big.NewRat(28, 10_000_000)) < 0 || more.Cmp(big.NewRat(30, 10_000_000)) > 0 {
		t.Errorf("apart by %s", more.FloatString(9))
	}
}

// The validation cases whose whole code is one of our units: valid there, read here, written alike.
func TestUCUMValidation(t *testing.T) {
	for _, code := range strings.Fields("[foz_br] [ft_i] [in_i] [gal_br] [lb_av] [oz_av] [pt_br] [qt_br] " +
		"cm cm3 g kg l m mm mg ml mm[Hg] deg Cel mL mL/min L kPa t") {
		if written, found := anyUCUM(code); !found || !strings.EqualFold(written, code) {
			t.Errorf("%s: %q, %v", code, written, found)
		}
	}
	for _, code := range []string{"iU", "g/12h", "mL/2h", "molv", "m/", "10+3/ul", "in_i", "[IN_I]", "LB_AV", "nm"} {
		if written, found := anyUCUM(code); found {
			t.Errorf("%s is no code of ours, read as %s", code, written)
		}
	}
}

// anyUCUM looks a code up in every kind and writes back what it found.
func anyUCUM(code string) (written string, found bool) {
	for _, look := range []func(string) (string, bool){look[units.TorqueUnit], look[units.AngleUnit], look[units.VolumeUnit],
		look[units.MassUnit], look[units.DensityUnit], look[units.LengthUnit], look[units.FlowUnit], look[units.PressureUnit]} {
		if written, found := look(code); found {
			return written, true
		}
	}
	if code == "Cel" {
		written, err := units.Celsius.UCUM()
		return written, err == nil
	}
	return "", false
}

func look[U units.Unit](code string) (string, bool) {
	unit, err := units.FromUCUM[U](code)
	if err != nil && !errors.Is(err, units.ErrCaveat) {
		return "", false
	}
	written, err := any(unit).(interface{ UCUM() (string, error) }).UCUM()
	return written, err == nil || errors.Is(err, units.ErrCaveat)
}
