// Package unitlibs puts general-purpose unit libraries of the Go registry beside package units: which of
// the conversions of a filter job each has, how far its answers are from the exact ones, and what one takes.
package unitlibs

import (
	"flag"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"

	general "github.com/bcicen/go-units"
	typed "github.com/martinlindhe/unit"
	"periph.io/x/conn/v3/physic"

	"example.com/snugturn/units"
)

var update = flag.Bool("update", false, "write the table into README.md")

// conversion is one of a filter job. Exact is what the definitions of the units give: the international pound
// and yard (0.45359237 kg, 0.9144 m), the standard acceleration 9.80665 m/s², the gallon of 231 in³.
// Sources: 24-fr-5348, nist-sp811-b8, nist-hb44-c, go-unit-libs.
type conversion struct {
	what  string
	exact *big.Rat
}

func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic(text)
	}
	return r
}

func product(factors ...string) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range factors {
		p.Mul(p, rat(f))
	}
	return p
}

var conversions = []conversion{
	{"145 in-lb in N·m", product("145", "0.45359237", "9.80665", "0.0254")},
	{"20 ft-lb in N·m", product("20", "0.45359237", "9.80665", "0.3048")},
	{"2.5 US gal in L", product("2.5", "231", "16.387064", "1/1000")},
	{"12 US fl oz in mL", product("12", "231/128", "16.387064")},
	{"3.5 lb in kg", product("3.5", "0.45359237")},
	{"0.4375 in in mm", product("0.4375", "25.4")},
	{"45 psi in kPa", product("45", "0.45359237", "9.80665", "100000000/64516", "1/1000")},
	{"140 °F in °C", rat("60")},
	{"a difference of 30 °F in K", rat("50/3")},
	{"7.01 lb/US gal in kg/m³", product("7.01", "0.45359237", "1/231", "1000000000000/16387064")},
}

// library gives its answers in the order of conversions, nil where it has no such units. What is computed
// from its constants by a program of its own doesn't count as its answer.
type library struct {
	module  string
	answers []func() *big.Rat
}

func float(f func() float64) func() *big.Rat {
	return func() *big.Rat { return new(big.Rat).SetFloat64(f()) }
}

func through(x float64, from, to general.Unit) func() *big.Rat {
	return float(func() float64 { return general.MustConvertFloat(x, from, to).Float() })
}

func ours[U units.Unit](text string, to U) func() *big.Rat {
	return func() *big.Rat { return units.MustParse[U](text).RatIn(to) }
}

var libraries = []library{
	{"example.com/snugturn/units", []func() *big.Rat{
		ours("145 in-lb", units.NewtonMetre), ours("20 ft-lb", units.NewtonMetre), ours("2.5 US gal", units.Litre), ours("12 US fl oz", units.Millilitre),
		ours("3.5 lb", units.Kilogram), ours("0.4375 in", units.Millimetre), ours("45 psi", units.Kilopascal),
		func() *big.Rat { return units.MustParseTemperature("140 °F").RatIn(units.Celsius) },
		func() *big.Rat { return units.FahrenheitDifference.Of(30).RatIn(units.KelvinDifference) },
		ours("7.01 lb/US gal", units.KilogramPerCubicMetre),
	}},
	{"github.com/bcicen/go-units", []func() *big.Rat{
		nil, nil, through(2.5, general.FluidGallon, general.Liter), through(12, general.CustomaryFluidOunce, general.MilliLiter),
		through(3.5, general.Pound, general.KiloGram), through(0.4375, general.Inch, general.MilliMeter), through(45, general.Psi, general.KiloPascal),
		through(140, general.Fahrenheit, general.Celsius), nil, nil,
	}},
	{"github.com/martinlindhe/unit", []func() *big.Rat{
		nil, nil, float(func() float64 { return (2.5 * typed.USLiquidGallon).Liters() }), float(func() float64 { return (12 * typed.USFluidOunce).Milliliters() }),
		float(func() float64 { return (3.5 * typed.AvoirdupoisPound).Kilograms() }), float(func() float64 { return (0.4375 * typed.Inch).Millimeters() }),
		float(func() float64 { return (45 * typed.PoundsPerSquareInch).Kilopascals() }), float(func() float64 { return typed.FromFahrenheit(140).Celsius() }), nil, nil,
	}},
	{"periph.io/x/conn/v3/physic", []func() *big.Rat{
		nil, nil, nil, nil,
		func() *big.Rat { return big.NewRat(int64(35*physic.PoundMass/10), int64(physic.KiloGram)) },
		func() *big.Rat { return big.NewRat(int64(4375*physic.Inch/10000), int64(physic.MilliMetre)) },
		nil,
		func() *big.Rat {
			return big.NewRat(int64(140*physic.Fahrenheit+physic.ZeroFahrenheit-physic.ZeroCelsius), int64(physic.Celsius))
		},
		func() *big.Rat { return big.NewRat(int64(30*physic.Fahrenheit), int64(physic.Kelvin)) }, nil,
	}},
}

// difference is how far an answer is from the exact value, as a part of it.
func difference(got, want *big.Rat) *big.Rat {
	d := new(big.Rat).Sub(got, want)
	return d.Abs(d.Quo(d, want))
}

func table(t *testing.T) string {
	var b strings.Builder
	fmt.Fprintf(&b, "| library | of %d conversions | furthest from the exact value, relative |\n|---|---|---|\n", len(conversions))
	for _, l := range libraries {
		if len(l.answers) != len(conversions) {
			t.Fatalf("%s: %d answers", l.module, len(l.answers))
		}
		has, worst, at := 0, new(big.Rat), ""
		for i, answer := range l.answers {
			if answer == nil {
				continue
			}
			has++
			if d := difference(answer(), conversions[i].exact); d.Cmp(worst) > 0 {
				worst, at = d, conversions[i].what
			}
		}
		far := "exact"
		if worst.Sign() > 0 {
			f, _ := worst.Float64()
			far = fmt.Sprintf("%.0e, %s", f, at)
		}
		name := "`" + l.module + "`" + version(t, l.module)
		fmt.Fprintf(&b, "| %s | %d | %s |\n", name, has, far)
	}
	return b.String()
}

// version is the one that go.mod asks for, and of a pseudo-version its day; "" for ours, which is this checkout.
func version(t *testing.T, module string) string {
	text, err := os.ReadFile("go.mod")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if f := strings.Fields(line); len(f) == 2 && f[0] != "module" && f[0] != "example.com/snugturn" && strings.HasPrefix(module+"/", f[0]+"/") {
			v, revision, dated := strings.Cut(f[1], "-")
			if dated {
				v += " of " + revision[:len("20060102")]
			}
			return " " + v
		}
	}
	return ""
}

// Ours are exact, in every conversion; the others' are what they are.
func TestOursAreExact(t *testing.T) {
	for i, answer := range libraries[0].answers {
		if got := answer(); got.Cmp(conversions[i].exact) != 0 {
			t.Errorf("%s: %s, not %s", conversions[i].what, got.RatString(), conversions[i].exact.RatString())
		}
	}
	for _, l := range libraries[1:] {
		for i, answer := range l.answers {
			if answer != nil && difference(answer(), conversions[i].exact).Cmp(big.NewRat(1, 1000)) > 0 {
				t.Errorf("%s is called wrongly here: %s is %s", l.module, conversions[i].what, answer().FloatString(9))
			}
		}
	}
}

// The table in README.md is this program's.
func TestReadmeTable(t *testing.T) {
	const begin, end = "<!-- made by testdata/unitlibs: go test -run Readme -update -->\n", "<!-- end -->"
	file := filepath.Join("..", "..", "README.md")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(text), begin)
	old, after, ended := strings.Cut(rest, end)
	if !found || !ended {
		t.Fatal("README.md has no place for the table")
	}
	switch made := table(t); {
	case *update:
		if err := os.WriteFile(file, []byte(before+begin+made+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
	case made != old:
		t.Errorf("README.md has\n%s\nand not\n%s", old, made)
	}
}
