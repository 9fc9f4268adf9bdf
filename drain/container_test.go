package drain

import (
	"errors"
	"testing"

	"example.com/snugturn/units"
)

// The rules are published (Source: adr-2013), the per cents computed from the published equations of fuel; at 55 °C
// it is the quotient of two factors that testdata/oracles recomputes (Source: oracle-fuel). For 860 kg/m³ at 20 °C the quotient of two rounded factors, 0.96697/0.99590, would be
// 97.10; rounded once it is 97.0947.
func TestFillLimits(t *testing.T) {
	drum := units.Litre.Of(100) // so that litres are per cents
	for _, e := range []struct{ rho, at, full, adr string }{
		{"820", "15 °C", "96.43", "94.94"}, {"840", "15 °C", "96.59", "95.08"}, {"845", "15 °C", "96.62", ""}, {"860", "15 °C", "96.70", "95.17"},
		{"820", "20 °C", "96.86", "95.36"}, {"840", "20 °C", "97.00", "95.49"}, {"845", "20 °C", "97.03", ""}, {"860", "20 °C", "97.09", "95.56"},
		{"820", "5 °C", "", "94.10"}, {"840", "5 °C", "", "94.28"}, {"860", "5 °C", "", "94.39"},
	} {
		f := fuel(t, e.rho+" kg/m³ at 15 °C")
		for _, rule := range []struct {
			name, want string
			limit      func(Fuel, units.Volume, units.Temperature) (units.Volume, error)
		}{{"just full", e.full, FullAt55}, {"ADR (b)", e.adr, FillLimit}} {
			got, err := rule.limit(f, drum, temperature(e.at))
			if err != nil || rule.want != "" && got.Round(2, units.ToNearestEven).Magnitude().StringFixed(2) != rule.want {
				t.Errorf("%s, %s at %s: %s, %v; want %s", rule.name, e.rho, e.at, got, err, rule.want)
			}
		}
	}
	f := fuel(t, "840 kg/m³ at 15 °C")
	for _, e := range []struct{ got, want string }{
		{must(FullAt55(f, drum, temperature("55 °C"))).String(), "100.000000 L"},
		{must(FullAt55(f, drum, temperature("70 °C"))).String(), "100.000000 L"},
		{must(FillLimit(f, drum, temperature("50 °C"))).String(), "98.000000 L"},
		{must(FillLimit(f, drum, temperature("70 °C"))).String(), "98.000000 L"},
	} {
		if e.got != e.want {
			t.Errorf("%s, want %s", e.got, e.want)
		}
	}
}

// No fill limit is rounded up, not even where the next number of six places is the nearer.
func TestFillLimitsAreRoundedDown(t *testing.T) {
	f := fuel(t, "840 kg/m³ at 15 °C")
	for _, e := range []struct {
		name, capacity, want string
		limit                func(units.Volume) (units.Volume, error)
	}{
		{"just full", "1.0000019 L", "1.000001 L", func(v units.Volume) (units.Volume, error) { return FullAt55(f, v, fiftyFive) }},
		{"ADR (b)", "1.00000199 L", "0.980001 L", func(v units.Volume) (units.Volume, error) { return FillLimit(f, v, fifty) }}, // 0.9800019502
	} {
		if got, err := e.limit(volume(e.capacity)); err != nil || got.String() != e.want {
			t.Errorf("%s of %s: %s, %v; want %s", e.name, e.capacity, got, err, e.want)
		}
	}
	// a hotter filling leaves less to swell: 0.01 °C below 55 °C is below the whole
	if got := must(FullAt55(f, units.Litre.Of(100), temperature("54.99 °C"))); !got.Less(units.Litre.Of(100)) {
		t.Errorf("at 54.99 °C %s", got)
	}
}

func TestContainer(t *testing.T) {
	drum := Filling{Limit: volume("195 L"), Inside: litresOf("170", "171", "172")}
	if got, want := must(drum.Left()).String(), "24 L (23 L to 25 L, measured)"; got != want {
		t.Errorf("left %s, want %s", got, want)
	}
	for _, e := range []struct {
		coming volumes
		want   Answer
	}{
		{litresOf("20", "21", "23"), Yes}, {litresOf("20", "21", "24"), Undecided}, {litresOf("25", "25", "25"), Undecided},
		{litresOf("26", "27", "28"), No}, {litresOf("0", "0", "0"), Yes},
	} {
		if got, err := drum.Takes(e.coming); err != nil || got != e.want {
			t.Errorf("takes %s: %v, %v; want %v", e.coming, got, err, e.want)
		}
	}
	least, best, most, err := drum.Services(litresOf("1.4", "1.5", "1.6"))
	if err != nil || least != 14 || best != 16 || most != 17 { // 23/1.6, 24/1.5, 25/1.4
		t.Errorf("%d, %d, %d services, %v", least, best, most, err)
	}
}

func TestContainerRefusals(t *testing.T) {
	f := fuel(t, "840 kg/m³ at 15 °C")
	full := Filling{Limit: volume("10 L"), Inside: litresOf("11", "11", "12")}
	empty := Filling{Limit: volume("10 L"), Inside: litresOf("0", "0", "0")}
	services := func(c Filling, each volumes) error {
		_, _, _, err := c.Services(each)
		return err
	}
	at := temperature("15 °C")
	for name, e := range map[string]struct{ err, want error }{
		"overfull":           {second(full.Left()), ErrFull},
		"overfull, services": {services(full, litresOf("1", "1", "1")), ErrFull},
		"no limit":           {second(Filling{Inside: full.Inside}.Left()), ErrMissing},
		"contents not given": {second(Filling{Limit: full.Limit}.Takes(full.Inside)), ErrMissing},
		"coming not given":   {second(empty.Takes(volumes{})), ErrMissing},
		"negative coming":    {second(empty.Takes(litresOf("-1", "1", "1"))), ErrNegative},
		"service of zero":    {services(empty, litresOf("0", "1", "1")), ErrMissing},
		"a drop each":        {services(empty, litresOf("0.000001", "0.000001", "0.000001")), units.ErrRange},
		"no capacity":        {second(FullAt55(f, volume("0 L"), at)), ErrMissing},
		"negative capacity":  {second(FillLimit(f, volume("-1 L"), at)), ErrNegative},
		"no fuel":            {second(FillLimit(Fuel{}, volume("1 L"), at)), ErrMissing},
		"filled too hot":     {second(FullAt55(f, volume("1 L"), temperature("151 °C"))), ErrTemperature},
	} {
		if !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

// What is not one of the constants prints as what it is.
func TestStrayWords(t *testing.T) {
	for _, e := range []struct{ got, want string }{
		{Answer(0).String(), "Answer(0)"}, {Guard(9).String(), "Guard(9)"},
		{Provenance(5).String(), "Provenance(5)"},
	} {
		if e.got != e.want {
			t.Errorf("%s, want %s", e.got, e.want)
		}
	}
}

func TestErrorsWithoutAWant(t *testing.T) {
	if got, want := (&InputError{What: "pump flow", Problem: "unknown"}).Error(), "pump flow: unknown"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
