package drain

import (
	"testing"
	"time"

	"example.com/snugturn/units"
)

func BenchmarkFuelAt(b *testing.B) {
	rho, at := density("840 kg/m³"), temperature("15 °C")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FuelAt(rho, at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDensityAt(b *testing.B) {
	f, at := must(FuelAt(density("840 kg/m³"), temperature("15 °C"))), temperature("60 °C")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := f.DensityAt(at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMass(b *testing.B) {
	f, at, v := must(FuelAt(density("840 kg/m³"), temperature("15 °C"))), temperature("60 °C"), volume("1.5 L")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := f.Mass(v, at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTotalOfThousand(b *testing.B) {
	all := make([]volumes, 1000)
	for i := range all {
		all[i] = litresOf("1.4", "1.5", "1.6")
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Sum(units.Litre, all...); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFilled(b *testing.B) {
	bowl := Stack{ConeFrustum{lengthOf("4 cm", "5 cm", "6 cm"), length("9 cm"), length("6 cm")}, Cylinder{length("9 cm"), length("20 cm")}}
	level := lengthOf("17 cm", "18 cm", "19 cm")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := bowl.Filled(level); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkKeyCycles(b *testing.B) {
	void, flow, efficiency := litresOf("1.2", "1.5", "2.1"), flowOf("1", "1.5", "2"), units.Percent.Of(80)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, _, err := KeyCycles(void, flow, 30*time.Second, efficiency); err != nil {
			b.Fatal(err)
		}
	}
}
