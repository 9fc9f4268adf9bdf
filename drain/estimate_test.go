package drain

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

// litresOf is an estimate of three texts, measured.
func litresOf(low, best, high string) volumes {
	return must(NewEstimate(volume(low+" L"), volume(best+" L"), volume(high+" L"), Measured))
}

// huge is near the largest volume there is.
func huge() volumes {
	return MustExactly(units.MustParseVolume("900000000000000000000000 m³"), Stated)
}

func TestEstimateRefusals(t *testing.T) {
	one, two := units.Litre.Of(1), units.Litre.Of(2)
	stray := units.VolumeUnit(99).Of(1)
	for name, e := range map[string]struct {
		err  error
		want error
	}{
		"low above best":        {second(NewEstimate(two, one, two, Measured)), ErrOrder},
		"best above high":       {second(NewEstimate(one, two, one, Measured)), ErrOrder},
		"low above high":        {second(NewEstimate(two, two, one, Measured)), ErrOrder},
		"no provenance":         {second(NewEstimate(one, one, one, 0)), ErrMissing},
		"unknown provenance":    {second(NewEstimate(one, one, one, 5)), ErrMissing},
		"stray unit":            {second(NewEstimate(stray, stray, stray, Measured)), ErrMissing},
		"stray unit of low":     {second(NewEstimate(stray, one, two, Measured)), ErrMissing},
		"stray unit of best":    {second(NewEstimate(one, stray, two, Measured)), ErrMissing},
		"stray unit of high":    {second(NewEstimate(one, two, stray, Measured)), ErrMissing},
		"the zero value":        {volumes{}.Check(), ErrMissing},
		"zero in a sum":         {second(litresOf("1", "1", "1").Add(volumes{})), ErrMissing},
		"zero from a sum":       {second(litresOf("1", "1", "1").Sub(volumes{})), ErrMissing},
		"zero scaled":           {second(volumes{}.Scale(decimal.New(1, 0))), ErrMissing},
		"zero in a total":       {second(Sum(units.Litre, volumes{})), ErrMissing},
		"total in a stray unit": {second(Sum(units.VolumeUnit(99), litresOf("1", "1", "1"))), ErrMissing},
		"negative factor":       {second(litresOf("1", "1", "1").Scale(decimal.New(-1, 0))), ErrNegative},
		"costly factor":         {second(litresOf("1", "1", "1").Scale(decimal.New(1, 1e8))), units.ErrRange},
		"negative spread":       {second(PlusMinus(one, two.Neg(), Measured)), ErrNegative},
		"a sum past the range":  {second(huge().Add(huge())), units.ErrRange},
		"a spread past it":      {second(PlusMinus(huge().Best, huge().Best, Stated)), units.ErrRange},
		"past the range":        {second(huge().Scale(decimal.New(9, 0))), units.ErrRange},
		"unknown word":          {new(Provenance).UnmarshalText([]byte("guessed")), units.ErrSyntax},
		"a long word":           {new(Provenance).UnmarshalText(make([]byte, 1e6)), units.ErrSyntax},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
		if e.err != nil && len(e.err.Error()) > 400 {
			t.Errorf("%s: an error of %d bytes", name, len(e.err.Error()))
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestEstimateArithmetic(t *testing.T) {
	a := litresOf("1.4", "1.5", "1.6")
	b := must(NewEstimate(units.MustParseVolume("100 mL"), units.MustParseVolume("200 mL"), units.MustParseVolume("250 mL"), Assumed))
	for _, e := range []struct {
		got  volumes
		want string
	}{
		{must(a.Add(b)), "1.7 L (1.5 L to 1.85 L, assumed)"},
		{must(a.Sub(b)), "1.3 L (1.15 L to 1.5 L, assumed)"},
		{must(a.Scale(number("2.5"))), "3.75 L (3.5 L to 4 L, measured)"},
		{must(Sum(units.Millilitre, a, b)), "1700 mL (1500 mL to 1850 mL, assumed)"},
		{must(Sum[units.VolumeUnit](units.Litre)), "0 L (0 L to 0 L, measured)"},
		{must(PlusMinus(volume("1.50 L"), volume("25 mL"), Measured)), "1.50 L (1.475 L to 1.525 L, measured)"},
		// a third of a US gallon is no decimal of litres: low goes down, high up
		{must(Exactly(units.USGallon.Of(1), Stated)).RoundIn(units.Litre, 3), "3.785 L (3.785 L to 3.786 L, stated)"},
	} {
		if e.got.String() != e.want {
			t.Errorf("%s, want %s", e.got, e.want)
		}
	}
}

// What 34 digits don't hold is rounded outward: the true value stays inside.
func TestSpreadsAreRoundedOutward(t *testing.T) {
	best, tiny := volume("9.999999999999999999999999999999998 L"), volume("0.0000000000000000000000000000000001 L")
	e := must(PlusMinus(best, tiny, Measured))
	if !e.Low.Less(best) || !best.Less(e.High) {
		t.Errorf("%s within %s: %s", best, tiny, e)
	}
	for _, sum := range []volumes{must(e.Add(must(Exactly(tiny, Measured)))), must(e.Sub(must(Exactly(tiny, Measured)))), must(Sum(units.Litre, e, must(Exactly(tiny, Measured))))} {
		if !sum.Low.Less(sum.Best) || !sum.Best.Less(sum.High) {
			t.Errorf("%s", sum)
		}
	}
	if e := must(PlusMinus(volume("1 L"), volume("0 L"), Measured)); !e.Low.Equal(e.High) {
		t.Errorf("no spread: %s", e)
	}
}

func TestEstimateJSON(t *testing.T) {
	e := must(NewEstimate(volume("1.4 L"), volume("1.50 L"), volume("1.6 L"), Weighed))
	data, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"low":{"value":"1.4","unit":"L"},"best":{"value":"1.50","unit":"L"},"high":{"value":"1.6","unit":"L"},"from":"weighed"}`
	if string(data) != want {
		t.Errorf("%s, want %s", data, want)
	}
	var back volumes
	if err := json.Unmarshal(data, &back); err != nil || back.String() != e.String() {
		t.Errorf("back as %s, %v", back, err)
	}
	if _, err := json.Marshal(volumes{}); !errors.Is(err, ErrMissing) {
		t.Errorf("the zero Estimate marshals: %v", err)
	}
}

func TestWeakest(t *testing.T) {
	all := []Provenance{Weighed, Measured, Stated, Assumed}
	for i, p := range all {
		for j, q := range all {
			if got := Weakest(p, q); got != all[max(i, j)] {
				t.Errorf("weakest of %v and %v: %v", p, q, got)
			}
		}
		if got := Weakest(p, 0); got != 0 {
			t.Errorf("weakest of %v and none: %v", p, got)
		}
		if got := Weakest(0, p); got != 0 {
			t.Errorf("weakest of none and %v: %v", p, got)
		}
	}
}

// An estimate under plain encoding/json is held to what a job file holds it to.
func TestEstimateIsStrictInJSON(t *testing.T) {
	const good = `{"low":"1 L","best":{"value":"1.50","unit":"L"},"high":"2 L","from":"measured"}`
	var e volumes
	if err := json.Unmarshal([]byte(good), &e); err != nil || e.String() != "1.50 L (1 L to 2 L, measured)" {
		t.Fatalf("%v, %v", e, err)
	}
	back, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	var again volumes
	if err := json.Unmarshal(back, &again); err != nil || again.String() != e.String() {
		t.Errorf("%s: %v, %v", back, again, err)
	}
	for text, want := range map[string]error{
		`null`: nil, `"1 L"`: nil, `[]`: nil, `{}`: units.ErrSyntax,
		strings.Replace(good, `"low":"1 L",`, ``, 1):                         units.ErrSyntax,
		strings.Replace(good, `,"from":"measured"`, ``, 1):                   units.ErrSyntax,
		strings.Replace(good, `"measured"`, `null`, 1):                       units.ErrSyntax,
		strings.Replace(good, `"measured"`, `2`, 1):                          units.ErrSyntax,
		strings.Replace(good, `"measured"`, `"guessed"`, 1):                  units.ErrSyntax,
		strings.Replace(good, `"1 L"`, `null`, 1):                            units.ErrSyntax,
		strings.Replace(good, `"1 L"`, `1`, 1):                               units.ErrSyntax,
		strings.Replace(good, `"1 L"`, `{"value":"1","unit":"½ L"}`, 1):      units.ErrSyntax,
		strings.Replace(good, `"1 L"`, `"3 L"`, 1):                           ErrOrder,
		strings.Replace(good, `"low"`, `"Low"`, 1):                           units.ErrSyntax,
		strings.Replace(good, `"low":"1 L"`, `"low":"1 L","low":"1 L"`, 1):   units.ErrSyntax,
		strings.Replace(good, `"low":"1 L"`, `"low":"1 L","mean":"1 L"`, 1):  units.ErrSyntax,
		strings.Replace(good, `"1 L"`, `"`+strings.Repeat(" ", 5000)+`"`, 1): units.ErrSyntax,
	} {
		err := e.UnmarshalJSON([]byte(text))
		if err == nil || want != nil && !errors.Is(err, want) || len(err.Error()) > 400 {
			t.Errorf("%.80s: %v", text, err)
		}
		if e.String() != "1.50 L (1 L to 2 L, measured)" {
			t.Fatalf("%s changed it to %v", text, e)
		}
	}
}
