package drain

import (
	"errors"
	"slices"
	"testing"
	"time"

	"example.com/snugturn/units"
)

func flowOf(low, best, high string) Estimate[units.FlowUnit] {
	f := func(text string) units.Flow { return units.MustParseFlow(text + " L/min") }
	return must(NewEstimate(f(low), f(best), f(high), Stated))
}

// cycles = ceil(V/(Q·t·η)), worked by hand, never rounded to nearest; testdata/oracles lets the pump run. Source: oracle-fuel.
func TestKeyCycles(t *testing.T) {
	for _, e := range []struct {
		name              string
		void              volumes
		flow              Estimate[units.FlowUnit]
		on                time.Duration
		efficiency        string
		least, best, most int
	}{
		{"1.5 L, 2 L/min, 30 s: 1.5 cycles", litresOf("1.5", "1.5", "1.5"), flowOf("2", "2", "2"), 30 * time.Second, "100 %", 2, 2, 2},
		{"exactly two", litresOf("2", "2", "2"), flowOf("2", "2", "2"), 30 * time.Second, "100 %", 2, 2, 2},
		{"a drop more than two", litresOf("2.000001", "2.000001", "2.000001"), flowOf("2", "2", "2"), 30 * time.Second, "100 %", 3, 3, 3},
		{"a range", litresOf("1.2", "1.5", "2.1"), flowOf("1", "1.5", "2"), 30 * time.Second, "80 %", 2, 3, 6},
		{"nothing to fill", litresOf("0", "0", "0.1"), flowOf("2", "2", "2"), 30 * time.Second, "100 %", 0, 0, 1},
		{"a third of a cycle's flow is no decimal", litresOf("0.1", "0.1", "0.1"), flowOf("1", "1", "1"), 2 * time.Second, "100 %", 3, 3, 3},
	} {
		least, best, most, err := KeyCycles(e.void, e.flow, e.on, units.MustParseShare(e.efficiency))
		if err != nil || least != e.least || best != e.best || most != e.most {
			t.Errorf("%s: %d, %d, %d, %v; want %d, %d, %d", e.name, least, best, most, err, e.least, e.best, e.most)
		}
	}
}

func TestPrimingRefusals(t *testing.T) {
	void, flow, on, whole := litresOf("1", "1", "1"), flowOf("2", "2", "2"), 30*time.Second, units.Percent.Of(100)
	cycles := func(v volumes, f Estimate[units.FlowUnit], on time.Duration, e units.Share) error {
		_, _, _, err := KeyCycles(v, f, on, e)
		return err
	}
	strokes := func(v, stroke volumes, e units.Share) error {
		_, _, _, err := HandStrokes(v, stroke, e)
		return err
	}
	for name, e := range map[string]struct{ err, want error }{
		"no flow":               {cycles(void, Estimate[units.FlowUnit]{}, on, whole), ErrMissing},
		"flow of zero":          {cycles(void, flowOf("0", "1", "1"), on, whole), ErrMissing},
		"negative flow":         {cycles(void, flowOf("-1", "1", "1"), on, whole), ErrNegative},
		"no on-time":            {cycles(void, flow, 0, whole), ErrMissing},
		"negative on-time":      {cycles(void, flow, -on, whole), ErrNegative},
		"no efficiency":         {cycles(void, flow, on, units.Share{}), ErrMissing},
		"negative efficiency":   {cycles(void, flow, on, units.MustParseShare("-50 %")), ErrNegative},
		"more than all":         {cycles(void, flow, on, units.Percent.Of(101)), units.ErrRange},
		"efficiency of no unit": {cycles(void, flow, on, units.ShareUnit(9).Of(80)), ErrMissing},
		"no void":               {cycles(volumes{}, flow, on, whole), ErrMissing},
		"negative void":         {cycles(litresOf("-1", "1", "1"), flow, on, whole), ErrNegative},
		"too many cycles":       {cycles(litresOf("1000000", "1000000", "1000001"), flow, on, whole), units.ErrRange},
		"void left, no flow":    {second(VoidLeft(void, flowOf("0", "0", "0"), on, whole, 1)), ErrMissing},
		"minus one cycle":       {second(VoidLeft(void, flow, on, whole, -1)), ErrNegative},
		"no void to be left":    {second(VoidLeft(volumes{}, flow, on, whole, 1)), ErrMissing},
		"no stroke":             {strokes(void, volumes{}, whole), ErrMissing},
		"stroke of zero":        {strokes(void, litresOf("0", "1", "1"), whole), ErrMissing},
		"stroke's efficiency":   {strokes(void, void, units.Share{}), ErrMissing},
		"share of two":          {second(PrefillPlan(void, units.Percent.Of(200), 2)), units.ErrRange},
		"negative share":        {second(PrefillPlan(void, units.Percent.Of(-100), 2)), ErrNegative},
		"nothing to hold":       {second(PrefillPlan(volumes{}, units.Percent.Of(100), 2)), ErrMissing},
		"no crank limit":        {second(Cranking{Rest: Duration(on), Attempts: 3}.Plan()), ErrMissing},
		"no rest":               {second(Cranking{Limit: Duration(on), Attempts: 3}.Plan()), ErrMissing},
		"no attempts":           {second(Cranking{Limit: Duration(on), Rest: Duration(on)}.Plan()), ErrMissing},
		"negative attempts":     {second(Cranking{Duration(on), Duration(on), -1}.Plan()), ErrNegative},
		"negative rest":         {second(Cranking{Duration(on), -Duration(on), 1}.Plan()), ErrNegative},
		"too many attempts":     {second(Cranking{Duration(on), Duration(on), 101}.Plan()), units.ErrRange},
		"cranking for a month":  {second(Cranking{Duration(700 * time.Hour), Duration(on), 1}.Plan()), units.ErrRange},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

// A limit itself is still allowed: a million cycles, a hundred attempts, a day each.
func TestPrimingLimitsAreInside(t *testing.T) {
	day := 24 * time.Hour
	cranks, err := Cranking{Limit: Duration(day), Rest: Duration(day), Attempts: 100}.Plan()
	if err != nil || len(cranks) != 100 || cranks[99].Cranked != 100*day || cranks[99].Elapsed != 199*day {
		t.Errorf("%d attempts, %v", len(cranks), err)
	}
	if _, _, most, err := KeyCycles(litresOf("1000000", "1000000", "1000000"), flowOf("2", "2", "2"), 30*time.Second, units.Percent.Of(100)); err != nil || most != 1_000_000 {
		t.Errorf("%d, %v", most, err)
	}
	for _, e := range []time.Duration{day + 1, 700 * time.Hour} {
		if _, err := (Cranking{Limit: Duration(time.Second), Rest: Duration(e), Attempts: 1}).Plan(); !errors.Is(err, units.ErrRange) {
			t.Errorf("a rest of %v: %v", e, err)
		}
	}
}

func TestVoidLeft(t *testing.T) {
	void, flow := litresOf("1.2", "1.5", "2.1"), flowOf("1", "1.5", "2")
	for _, e := range []struct {
		cycles int
		want   string
	}{
		{0, "1.500 L (1.200 L to 2.100 L, stated)"},
		{1, "0.900 L (0.400 L to 1.700 L, stated)"},
		{2, "0.300 L (0.000 L to 1.300 L, stated)"},
		{3, "0.000 L (0.000 L to 0.900 L, stated)"},
		{6, "0.000 L (0.000 L to 0.000 L, stated)"},
	} {
		got, err := VoidLeft(void, flow, 30*time.Second, units.Percent.Of(80), e.cycles)
		if err != nil || got.RoundIn(units.Litre, 3).String() != e.want {
			t.Errorf("after %d: %s, %v; want %s", e.cycles, got.RoundIn(units.Litre, 3), err, e.want)
		}
	}
}

func TestStrokesAndPrefill(t *testing.T) {
	least, best, most, err := HandStrokes(litresOf("0.3", "0.35", "0.4"), litresOf("0.005", "0.006", "0.007"), units.Percent.Of(90))
	if err != nil || least != 48 || best != 65 || most != 89 { // 47.6, 64.8, 88.9
		t.Errorf("%d, %d, %d strokes, %v", least, best, most, err)
	}
	got, err := PrefillPlan(litresOf("1.15", "1.25", "1.4"), units.Percent.Of(75), 2)
	if err != nil || got.Pour.String() != "0.86 L" || got.Void.String() != "0.39 L (0.29 L to 0.54 L, measured)" {
		t.Errorf("pour %s, void %s, %v", got.Pour, got.Void, err)
	}
	none, err := PrefillPlan(litresOf("1.15", "1.25", "1.4"), units.Share{}, 2)
	if err != nil || none.Pour.Sign() != 0 || !none.Void.Best.Equal(volume("1.25 L")) {
		t.Errorf("without a prefill pour %s, void %s, %v", none.Pour, none.Void, err)
	}
}

// 15 s, and the least of 3 to 5 min. Source: tm-5-5420-202.
func TestCrankingPlan(t *testing.T) {
	steps, err := Cranking{Limit: Duration(15 * time.Second), Rest: Duration(3 * time.Minute), Attempts: 3}.Plan()
	want := []CrankStep{
		{1, 0, 15 * time.Second, 15 * time.Second, 15 * time.Second},
		{2, 3 * time.Minute, 15 * time.Second, 30 * time.Second, 3*time.Minute + 30*time.Second},
		{3, 3 * time.Minute, 15 * time.Second, 45 * time.Second, 6*time.Minute + 45*time.Second},
	}
	if err != nil || len(steps) != len(want) {
		t.Fatalf("%v, %v", steps, err)
	}
	for i := range want {
		if steps[i] != want[i] {
			t.Errorf("%+v, want %+v", steps[i], want[i])
		}
	}
	if causes := PrimingChecklist(); !slices.Contains(causes, "suction-air") || !slices.Contains(causes, "waxed-fuel") {
		t.Errorf("nothing to look for on the suction side or of the cold: %v", causes)
	}
}
