package drain

import (
	"errors"
	"testing"

	"example.com/snugturn/units"
)

func length(text string) lengths {
	return must(Exactly(units.MustParseLength(text), Measured))
}

func lengthOf(low, best, high string) lengths {
	return must(NewEstimate(units.MustParseLength(low), units.MustParseLength(best), units.MustParseLength(high), Measured))
}

// The figures are multiples of π; testdata/oracles adds up slices. Sources: oeis-pi, oracle-fuel.
func TestVesselVolumes(t *testing.T) {
	cylinder := Cylinder{length("20 cm"), length("10 cm")}
	cone := ConeFrustum{length("20 cm"), length("40 cm"), length("10 cm")}
	funnel := ConeFrustum{length("40 cm"), length("20 cm"), length("10 cm")}
	stated := StatedCapacity{Volume: must(Exactly(volume("0.75 L"), Stated)), Height: length("5 cm")}
	unknown := StatedCapacity{Volume: must(Exactly(volume("0.75 L"), Stated))}
	const π, sevenThirds = "3.141592653589 L to 3.141592653590 L", "7.330382858376 L to 7.330382858377 L"
	for _, e := range []struct {
		name string
		got  volumes
		want string
	}{
		{"cylinder", must(cylinder.Capacity()), π},
		{"half of it", must(cylinder.Filled(length("50 mm"))), "1.570796326794 L to 1.570796326795 L"},
		{"frustum", must(cone.Capacity()), sevenThirds},
		{"the same upside down", must(funnel.Capacity()), sevenThirds},
		// to half its height the frustum is one of 20 to 30 cm: π/12·5·(400+600+900) cm³ = 19/24·π L
		{"half of it", must(cone.Filled(length("5 cm"))), "2.487094184091 L to 2.487094184092 L"},
		{"stated", must(unknown.Capacity()), "0.75 L to 0.75 L"},
		{"stated, empty", must(stated.Filled(length("0 cm"))), "0.000000000000 L to 0.000000000000 L"},
		{"stated, to the rim", must(stated.Filled(length("5 cm"))), "0.750000000000 L to 0.750000000000 L"},
		{"stack", must(Stack{cylinder, unknown}.Capacity()), "3.891592653589 L to 3.891592653590 L"},
		{"stack to the lower rim", must(Stack{stated, cylinder}.Filled(length("5 cm"))), "0.750000000000 L to 0.750000000000 L"},
		{"stack into the upper", must(Stack{stated, cylinder}.Filled(length("10 cm"))), "2.320796326794 L to 2.320796326795 L"},
		{"stack full", must(Stack{cone, cylinder}.Filled(length("20 cm"))), "10.471975511965 L to 10.471975511966 L"},
		{"a stack in a stack", must(Stack{Stack{cone}, cylinder}.Filled(length("20 cm"))), "10.471975511965 L to 10.471975511966 L"},
	} {
		if got := e.got.Low.String() + " to " + e.got.High.String(); got != e.want {
			t.Errorf("%s: %s, want %s", e.name, got, e.want)
		}
	}
}

// A bowl of 9 to 11 cm, level 4 to 6 cm: the low corner has both low, the high corner both high.
func TestVesselCorners(t *testing.T) {
	bowl := Cylinder{lengthOf("9 cm", "10 cm", "11 cm"), lengthOf("19 cm", "20 cm", "21 cm")}
	got := must(bowl.Filled(lengthOf("4 cm", "5 cm", "6 cm")))
	if want := "0.393 L (0.254 L to 0.571 L, measured)"; got.RoundIn(units.Litre, 3).String() != want {
		t.Errorf("%s, want %s", got.RoundIn(units.Litre, 3), want)
	}
	// A level whose high end is above the rim is taken at the rim there.
	rim := must(bowl.Filled(lengthOf("18 cm", "20 cm", "30 cm")))
	if full := must(bowl.Capacity()); !rim.High.Equal(full.High) {
		t.Errorf("over the rim %s, want %s", rim.High, full.High)
	}
	// A wide top makes a low vessel the fuller one below the same level, until it overflows: the
	// largest volume below 10 cm is that of the height 10 cm, inside the estimate.
	cone := ConeFrustum{length("10 cm"), length("30 cm"), lengthOf("8 cm", "12 cm", "20 cm")}
	inside := must(cone.Filled(length("10 cm")))
	at := must(ConeFrustum{length("10 cm"), length("30 cm"), length("10 cm")}.Capacity())
	if !inside.High.Equal(at.High) {
		t.Errorf("high %s, want %s", inside.High, at.High)
	}
	// Where the level has a spread too, it is that of the level's high end: π/12·11·(100+200+400) cm³.
	cone = ConeFrustum{length("10 cm"), length("20 cm"), lengthOf("9 cm", "10 cm", "12 cm")}
	inside = must(cone.Filled(lengthOf("8 cm", "9 cm", "11 cm")))
	at = must(ConeFrustum{length("10 cm"), length("20 cm"), length("11 cm")}.Capacity())
	if !inside.High.Equal(at.High) || at.Best.Round(6, units.ToNearestEven).String() != "2.015855 L" {
		t.Errorf("high %s, want %s", inside.High, at.High)
	}
}

// With a spread in everything the best is that of the best figures, and the ends are those of the
// height that holds least and most below the level: the tall one, where the top is wide.
func TestFrustumCorners(t *testing.T) {
	at := func(bottom, top, height, level string) volumes {
		return must(ConeFrustum{length(bottom), length(top), length(height)}.Filled(length(level)))
	}
	wide := must(ConeFrustum{lengthOf("9 cm", "10 cm", "11 cm"), lengthOf("19 cm", "20 cm", "21 cm"), lengthOf("10 cm", "12 cm", "14 cm")}.Filled(lengthOf("7 cm", "8 cm", "9 cm")))
	narrow := must(ConeFrustum{lengthOf("19 cm", "20 cm", "21 cm"), lengthOf("9 cm", "10 cm", "11 cm"), lengthOf("10 cm", "12 cm", "14 cm")}.Filled(lengthOf("7 cm", "8 cm", "9 cm")))
	for _, e := range []struct {
		name      string
		got, want units.Volume
	}{
		{"wide, low", wide.Low, at("9 cm", "19 cm", "14 cm", "7 cm").Low},
		{"wide, best", wide.Best, at("10 cm", "20 cm", "12 cm", "8 cm").Best},
		{"wide, high", wide.High, at("11 cm", "21 cm", "10 cm", "9 cm").High},
		{"narrow, low", narrow.Low, at("19 cm", "9 cm", "10 cm", "7 cm").Low},
		{"narrow, best", narrow.Best, at("20 cm", "10 cm", "12 cm", "8 cm").Best},
		{"narrow, high", narrow.High, at("21 cm", "11 cm", "14 cm", "9 cm").High},
	} {
		if !e.got.Equal(e.want) {
			t.Errorf("%s: %s, want %s", e.name, e.got, e.want)
		}
	}
}

// What is stated is as firm as the weaker of its volume and its height, where that is known.
func TestStatedCapacityIsAsFirmAsItsWeaker(t *testing.T) {
	stated, rim := must(Exactly(volume("0.75 L"), Stated)), must(Exactly(units.MustParseLength("5 cm"), Assumed))
	for _, e := range []struct {
		vessel Vessel
		level  lengths
		want   Provenance
	}{
		{StatedCapacity{stated, rim}, length("5 cm"), Assumed}, {StatedCapacity{stated, length("5 cm")}, length("5 cm"), Stated},
		{StatedCapacity{stated, length("5 cm")}, rim, Assumed}, {StatedCapacity{must(Exactly(volume("0.75 L"), Measured)), length("5 cm")}, length("0 cm"), Measured},
	} {
		if got := must(e.vessel.Filled(e.level)); got.From != e.want {
			t.Errorf("%+v at %s: %v, want %v", e.vessel, e.level, got.From, e.want)
		}
	}
}

func TestVesselRefusals(t *testing.T) {
	good := Cylinder{length("20 cm"), length("10 cm")}
	negative := must(Exactly(units.MustParseLength("-1 cm"), Measured))
	unknown := StatedCapacity{Volume: must(Exactly(volume("0.75 L"), Stated))}
	stated := StatedCapacity{Volume: unknown.Volume, Height: length("5 cm")}
	for name, e := range map[string]struct{ err, want error }{
		"no diameter":           {second(Cylinder{Height: length("1 cm")}.Capacity()), ErrMissing},
		"diameter of zero":      {second(Cylinder{length("0 cm"), length("1 cm")}.Capacity()), ErrMissing},
		"negative height":       {second(Cylinder{length("1 cm"), negative}.Capacity()), ErrNegative},
		"no level":              {second(good.Filled(lengths{})), ErrMissing},
		"negative level":        {second(good.Filled(negative)), ErrNegative},
		"above the rim":         {second(good.Filled(length("11 cm"))), units.ErrRange},
		"frustum without a top": {second(ConeFrustum{Bottom: length("1 cm"), Height: length("1 cm")}.Capacity()), ErrMissing},
		"no stated capacity":    {second(StatedCapacity{}.Capacity()), ErrMissing},
		"shape unknown":         {second(stated.Filled(length("2 cm"))), ErrMissing},
		"height unknown":        {second(unknown.Filled(length("2 cm"))), ErrMissing},
		"stated height of zero": {second(StatedCapacity{unknown.Volume, length("0 cm")}.Capacity()), ErrMissing},
		"stated height below":   {second(StatedCapacity{unknown.Volume, negative}.Capacity()), ErrNegative},
		"empty stack":           {second(Stack{}.Capacity()), ErrMissing},
		"nil in a stack":        {second(Stack{nil}.Filled(length("1 cm"))), ErrMissing},
		"unknown in a stack":    {second(Stack{unknown, good}.Filled(length("1 cm"))), ErrMissing},
		"bad one in a stack":    {second(Stack{Cylinder{}}.Capacity()), ErrMissing},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

func TestDraining(t *testing.T) {
	d := Draining{Filled: litresOf("1.9", "2.0", "2.1"), Displaced: litresOf("0.25", "0.3", "0.35"), Retained: litresOf("0.1", "0.2", "0.4")}
	if got, want := must(d.holds()).String(), "1.7 L (1.55 L to 1.85 L, measured)"; got != want {
		t.Errorf("holds %s, want %s", got, want)
	}
	if got, want := must(d.Out()).String(), "1.5 L (1.15 L to 1.75 L, measured)"; got != want {
		t.Errorf("comes out %s, want %s", got, want)
	}
	d.Retained = litresOf("0.1", "0.2", "1.6")
	if got, want := must(d.Out()).String(), "1.5 L (0 L to 1.75 L, measured)"; got != want {
		t.Errorf("comes out %s, want %s", got, want)
	}
	d.Retained = litresOf("1.8", "1.8", "1.8")
	for name, e := range map[string]struct{ err, want error }{
		"more retained than held": {second(d.Out()), ErrNegative},
		"retained not given":      {second(Draining{Filled: d.Filled, Displaced: d.Displaced}.Out()), ErrMissing},
		"displaced not given":     {second(Draining{Filled: d.Filled, Retained: d.Retained}.Out()), ErrMissing},
		"negative volume":         {second(Draining{Filled: litresOf("-1", "1", "1"), Displaced: d.Displaced}.holds()), ErrNegative},
		"more displaced":          {second(Draining{Filled: d.Displaced, Displaced: d.Filled}.holds()), ErrNegative},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

// Archimedes: what is put in displaces its volume. 0.6 kg of steel of 7800 kg/m³ is 1/13 L.
func TestDisplacementAndRetention(t *testing.T) {
	part := must(Exactly(mass("0.6 kg"), Weighed))
	got := must(Displacement(part, density("7800 kg/m³")))
	if want := "0.076923 L (0.076923 L to 0.076924 L, weighed)"; got.RoundIn(units.Litre, 6).String() != want {
		t.Errorf("%s, want %s", got.RoundIn(units.Litre, 6), want)
	}
	// An element weighed dry and wet gives back what was put in by mass and scale reading.
	f, at := fuel(t, "840 kg/m³ at 15 °C"), temperature("25 °C")
	m := must(f.Mass(volume("0.25 L"), at))
	shown := must(ScaleReading(m, must(f.DensityAt(at))))
	dry := must(Exactly(mass("0.480 kg"), Weighed))
	wet := must(dry.Add(must(Exactly(shown, Weighed))))
	retained := must(RetainedByWeighing(dry, wet, f, at))
	if want := "0.250000000 L"; retained.Best.RoundIn(units.Litre, 9, units.ToNearestEven).String() != want {
		t.Errorf("retained %s, want %s", retained.Best, want)
	}
	if _, err := RetainedByWeighing(wet, dry, f, at); !errors.Is(err, ErrNegative) {
		t.Errorf("lighter when wet: %v", err)
	}
	// Two readings with a spread: at least the lightest wet less the heaviest dry, at most the other way round.
	spread := func(low, best, high string) Estimate[units.MassUnit] {
		return must(NewEstimate(mass(low), mass(best), mass(high), Weighed))
	}
	apart := must(RetainedByWeighing(spread("0.45 kg", "0.50 kg", "0.52 kg"), spread("0.70 kg", "0.71 kg", "0.80 kg"), f, at))
	for _, e := range [][2]units.Volume{
		{apart.Low, must(RetainedByWeighing(spread("0.52 kg", "0.52 kg", "0.52 kg"), spread("0.70 kg", "0.70 kg", "0.70 kg"), f, at)).Low},
		{apart.Best, must(RetainedByWeighing(spread("0.50 kg", "0.50 kg", "0.50 kg"), spread("0.71 kg", "0.71 kg", "0.71 kg"), f, at)).Best},
		{apart.High, must(RetainedByWeighing(spread("0.45 kg", "0.45 kg", "0.45 kg"), spread("0.80 kg", "0.80 kg", "0.80 kg"), f, at)).High},
	} {
		if !e[0].Equal(e[1]) {
			t.Errorf("retained %s, want %s", e[0], e[1])
		}
	}
	if e := must(RetainedByWeighing(dry, dry, f, at)); e.High.Sign() != 0 {
		t.Errorf("as heavy wet as dry, yet %s", e)
	}
	if e := must(RetainedByWeighing(spread("0.45 kg", "0.50 kg", "0.52 kg"), spread("0.50 kg", "0.51 kg", "0.51 kg"), f, at)); e.Low.Sign() != 0 {
		t.Errorf("no volume is below zero: %s", e)
	}
	if _, err := Displacement(part, density("0 kg/m³")); !errors.Is(err, ErrMissing) {
		t.Errorf("no density: %v", err)
	}
	// wet = dry + retained·ρ
	all := must(WetMass(dry, MustExactly(volume("0.25 L"), Assumed), MustExactly(must(f.DensityAt(at)), Stated)))
	if sum, _ := dry.Best.Add(m); !all.Best.Equal(sum) || all.From != Assumed {
		t.Errorf("wet mass %s, want %s, assumed", all, sum)
	}
}

// Low goes with low and high with high, whatever makes them; what can't be is refused.
func TestWetMassKeepsEnds(t *testing.T) {
	dry := must(NewEstimate(mass("1 kg"), mass("1.1 kg"), mass("1.3 kg"), Weighed))
	held := must(NewEstimate(volume("0 L"), volume("0.1 L"), volume("0.2 L"), Measured))
	rho := must(NewEstimate(density("800 kg/m³"), density("830 kg/m³"), density("850 kg/m³"), Assumed))
	got := must(WetMass(dry, held, rho)) // 1 + 0, 1.1 + 0.083, 1.3 + 0.17
	if got.Low.String() != "1.000000000000 kg" || got.Best.String() != "1.183000000000 kg" || got.High.String() != "1.470000000000 kg" || got.From != Assumed {
		t.Errorf("got %s", got)
	}
	below := dry
	below.Low = mass("-1 kg")
	for name, err := range map[string]error{"dry below zero": second(WetMass(below, held, rho)), "no volume": second(WetMass(dry, volumes{}, rho)),
		"no density": second(WetMass(dry, held, Estimate[units.DensityUnit]{}))} {
		var typed *InputError
		if !errors.As(err, &typed) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := WetMass(dry, MustExactly(volume("100000000000000000000 m³"), Stated), MustExactly(density("1000000 kg/m³"), Stated)); !errors.Is(err, units.ErrRange) {
		t.Errorf("too large: %v", err)
	}
}

// 12 (10 to 14) against weighings just outside and at either end.
func TestEstimatesAgreeWhereOneValueIsLeft(t *testing.T) {
	e := must(NewEstimate(mass("10 kg"), mass("12 kg"), mass("14 kg"), Assumed))
	for text, want := range map[string]bool{"9.999 kg": false, "10 kg": true, "12 kg": true, "14 kg": true, "14.001 kg": false, "29.1 kg": false} {
		w := MustExactly(mass(text), Weighed)
		if one, two := must(e.Agrees(w)), must(w.Agrees(e)); one != want || two != want {
			t.Errorf("%s and %s agree: %v and %v, want %v", e, w, one, two, want)
		}
	}
	if _, err := e.Agrees(Estimate[units.MassUnit]{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no estimate: %v", err)
	}
}

func TestMustPanics(t *testing.T) {
	for name, f := range map[string]func(){
		"from nowhere": func() { MustExactly(mass("2 kg"), 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			f()
		}()
	}
}
