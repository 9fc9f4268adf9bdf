package unitlibs

import (
	"flag"
	"fmt"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	general "github.com/bcicen/go-units"
	typed "github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
	"periph.io/x/conn/v3/physic"

	"example.com/snugturn/units"
)

var measure = flag.Bool("speed", false, "measure all, and print the table")

const many = 1024 // of a batch

// author is a way to turn 3.5 lb into kilograms, a mass, which all libraries have. Each operation gives what it made, so that
// it can be held against the exact value; nil where there is no such operation. What is computed beforehand is what a program
// would keep: the number read, the factor.
type author struct {
	name    string
	convert func() float64 // 3.5 lb in kilograms
	parse   func() float64 // "3.5 lb", what was read in pounds
	format  func() string  // 3.5 lb as a text
	batch   func() float64 // 1,024 of them, the last
}

var operations = []string{"convert 3.5 lb to kg", `parse "3.5 lb"`, "format 3.5 lb", "convert 1,024 of them"}

func (a author) all() []func() { // what an operation gives is checked in another place
	var calls []func()
	for _, f := range []func() float64{a.convert, a.parse, nil, a.batch} {
		if f == nil {
			calls = append(calls, nil)
			continue
		}
		calls = append(calls, func() { sinkNumber = f() })
	}
	if a.format != nil {
		calls[2] = func() { sinkText = a.format() }
	}
	return calls
}

var (
	sinkNumber float64
	sinkText   string
	sinkMass   units.Mass
	sinkRat    *big.Rat
	sinkExact  decimal.Decimal
)

func inFloats(q units.Mass) float64 { f, _ := q.Magnitude().Float64(); return f }

// halves reads a number and its unit the way one does without a library.
func halves(text string) (number, unit string) {
	number, unit, _ = strings.Cut(text, " ")
	if unit != "lb" {
		panic(unit)
	}
	return number, unit
}

var text = "3.5 lb" // a variable, so that no compiler works it out

func authors() []author {
	mass := units.MustParseMass(text)
	masses := make([]units.Mass, many)
	pounds, kilos := make([]float64, many), make([]float64, many)
	number, factor := decimal.RequireFromString("3.5"), decimal.RequireFromString("0.45359237")
	numbers, rats := make([]decimal.Decimal, many), make([]*big.Rat, many)
	ratio, ratFactor := big.NewRat(7, 2), rat("0.45359237")
	for i := range many {
		masses[i], pounds[i], numbers[i], rats[i] = mass, 3.5, number, ratio
	}
	float, floatFactor := 3.5, 0.45359237
	value, typedMass, physical := general.NewValue(3.5, general.Pound), 3.5*typed.AvoirdupoisPound, 35*physic.PoundMass/10
	// What a benchmark calls leaves its value in a variable; float64 is made of it where the result is checked.
	return []author{
		{"snugturn/units, exact", func() float64 { sinkMass, _ = mass.Exact(units.Kilogram); return 0 },
			func() float64 { sinkMass, _ = units.ParseMass(text); return 0 },
			func() string { return mass.String() },
			func() float64 {
				for _, m := range masses {
					sinkMass, _ = m.Exact(units.Kilogram)
				}
				return 0
			}},
		{"snugturn/units, ConvertFloat64s", nil, nil, nil, func() float64 {
			units.ConvertFloat64s(kilos, pounds, units.Pound, units.Kilogram)
			return kilos[many-1]
		}},
		{"shopspring/decimal", func() float64 { sinkExact = number.Mul(factor); return 0 },
			func() float64 { n, _ := halves(text); sinkExact, _ = decimal.NewFromString(n); return 0 },
			func() string { return number.String() + " lb" },
			func() float64 {
				for _, n := range numbers {
					sinkExact = n.Mul(factor)
				}
				return 0
			}},
		{"math/big.Rat", func() float64 { sinkRat = new(big.Rat).Mul(ratio, ratFactor); return 0 },
			func() float64 { n, _ := halves(text); sinkRat, _ = new(big.Rat).SetString(n); return 0 },
			func() string { return ratio.FloatString(1) + " lb" },
			func() float64 {
				for _, r := range rats {
					sinkRat = new(big.Rat).Mul(r, ratFactor)
				}
				return 0
			}},
		{"float64", func() float64 { return float * floatFactor },
			func() float64 { n, _ := halves(text); f, _ := strconv.ParseFloat(n, 64); return f },
			func() string { return strconv.FormatFloat(float, 'g', -1, 64) + " lb" },
			func() float64 {
				for i, f := range pounds {
					kilos[i] = f * floatFactor
				}
				return kilos[many-1]
			}},
		{"bcicen/go-units", func() float64 { return general.MustConvertFloat(3.5, general.Pound, general.KiloGram).Float() },
			func() float64 {
				n, unit := halves(text)
				f, _ := strconv.ParseFloat(n, 64)
				u, err := general.Find(unit)
				if err != nil {
					panic(err)
				}
				return general.NewValue(f, u).Float()
			},
			func() string { return value.Fmt(general.FmtOptions{Label: true, Short: true, Precision: 6}) },
			func() float64 {
				for i, f := range pounds {
					kilos[i] = general.MustConvertFloat(f, general.Pound, general.KiloGram).Float()
				}
				return kilos[many-1]
			}},
		{"martinlindhe/unit", func() float64 { return typedMass.Kilograms() }, nil, nil,
			func() float64 {
				for i, f := range pounds {
					kilos[i] = (typed.Mass(f) * typed.AvoirdupoisPound).Kilograms()
				}
				return kilos[many-1]
			}},
		{"periph.io/x/conn/v3/physic", func() float64 { return float64(physical) / float64(physic.KiloGram) },
			func() float64 {
				var m physic.Mass
				if err := m.Set("3.5lb"); err != nil {
					panic(err)
				}
				return float64(m) / float64(physic.PoundMass)
			},
			func() string { return physical.String() },
			func() float64 {
				for i, f := range pounds {
					kilos[i] = float64(physic.Mass(f*float64(physic.PoundMass))) / float64(physic.KiloGram)
				}
				return kilos[many-1]
			}},
	}
}

// Each does what its column says, or its time says nothing: 3.5 lb is 1.587573295 kg by the definition of the pound.
func TestAuthorsDoTheSame(t *testing.T) {
	near := func(a author, what string, f func() float64, want float64) {
		if f == nil {
			return
		}
		sinkMass, sinkExact, sinkRat = units.Mass{}, decimal.Decimal{}, nil
		got := f()
		switch {
		case sinkMass.Sign() != 0:
			got = inFloats(sinkMass)
		case sinkRat != nil:
			got, _ = sinkRat.Float64()
		case !sinkExact.IsZero():
			got, _ = sinkExact.Float64()
		}
		if math.Abs(got-want) > want/1e6 {
			t.Errorf("%s, %s: %v and not %v", a.name, what, got, want)
		}
	}
	for _, a := range authors() {
		near(a, operations[0], a.convert, 1.587573295)
		near(a, operations[1], a.parse, 3.5)
		near(a, operations[3], a.batch, 1.587573295)
		if a.format != nil && !strings.HasPrefix(a.format(), "3.5 lb") && a.format() != "1.588kg" {
			t.Errorf("%s: %s", a.name, a.format())
		}
	}
}

// nanoseconds is what an operation takes: the least of three.
func nanoseconds(f func()) float64 {
	least := math.Inf(1)
	for range 3 {
		r := testing.Benchmark(func(b *testing.B) {
			for b.Loop() {
				f()
			}
		})
		least = min(least, float64(r.T.Nanoseconds())/float64(r.N))
	}
	return least
}

func speeds() string {
	var b strings.Builder
	b.WriteString("| ns (how many times ours) |")
	for _, o := range operations {
		b.WriteString(" " + o + " |")
	}
	b.WriteString("\n|" + strings.Repeat("---|", len(operations)+1))
	ours := make([]float64, len(operations))
	for _, a := range authors() {
		fmt.Fprintf(&b, "\n| %s |", a.name)
		for i, f := range a.all() {
			if f == nil {
				b.WriteString(" – |")
				continue
			}
			ns := nanoseconds(f)
			if ours[i] == 0 {
				ours[i] = ns
			}
			fmt.Fprintf(&b, " %s (%s) |", short(ns), short(ns/ours[i]))
		}
	}
	return b.String() + "\n"
}

// short is a number to two digits, or three above a hundred, without an exponent.
func short(x float64) string {
	digits := int(math.Floor(math.Log10(x))) // before the point, less one
	places := 1 - digits
	if digits >= 2 {
		places = 2 - digits
	}
	unit := math.Pow10(places)
	return strconv.FormatFloat(math.Round(x*unit)/unit, 'f', max(0, places), 64)
}

// The table in DEVELOPERS.md is what one run measured, of all of them: go test -run Speed -speed prints it, and with
// -update writes it. Without, it is held to have what a run would have measured.
func TestSpeed(t *testing.T) {
	const begin, end = "<!-- speed: go -C testdata/unitlibs test -run Speed -speed -update -->\n", "<!-- end of speed -->"
	name := filepath.Join("..", "..", "DEVELOPERS.md")
	file, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(file), begin)
	table, after, ended := strings.Cut(rest, end)
	if !found || !ended {
		t.Fatal("DEVELOPERS.md has no place for the table")
	}
	if *measure {
		if err := flag.Set("test.benchtime", "100ms"); err != nil {
			t.Fatal(err)
		}
		table = speeds()
		fmt.Print(table)
		if *update {
			if err := os.WriteFile(name, []byte(before+begin+table+end+after), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	lines := strings.Split(strings.TrimSuffix(table, "\n"), "\n")
	all := authors()
	if len(lines) != len(all)+2 {
		t.Fatalf("%d lines for %d", len(lines), len(all))
	}
	for i, a := range all {
		cells := strings.Split(strings.Trim(lines[i+2], "| "), " | ")
		if len(cells) != len(operations)+1 || cells[0] != a.name {
			t.Errorf("%q is no row of %s", lines[i+2], a.name)
			continue
		}
		for k, f := range a.all() {
			var ns, ratio float64
			n, _ := fmt.Sscanf(cells[k+1], "%g (%g)", &ns, &ratio)
			if (n == 2 && ns > 0 && ratio > 0) != (f != nil) {
				t.Errorf("%s, %s: %q", a.name, operations[k], cells[k+1])
			}
		}
	}
}
