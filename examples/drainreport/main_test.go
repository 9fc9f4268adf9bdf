package main

import (
	"errors"
	"strings"
	"testing"

	"example.com/snugturn/drain"
)

// 1.244 kg: worked by hand from the older equations' K0 = 186.9696 and K1 = 0.4862 (Source: d1250-80): 829.33 kg/m³
// at 30 °C. Water has 995.65 kg/m³ there (Source: water-table): 60 mL are 0.0597 kg. The drum by Source: adr-2013.
const want = `Catch                clear: caught at 30 °C, 22 °C below the least flash point of 52 °C
In the pan           1.5 L (1.45 L to 1.55 L, measured) at 30 °C
The same at 20 °C    1.4872 L
Mass                 1.244 kg (1.202 kg to 1.286 kg, measured)
A scale in air shows 1.2424 kg
Water                60 mL, 0.0597 kg: into a container of its own; more than last time: have the tank checked
Drum                 room for 28 L (26 L to 29 L, measured) below the fill limit of ADR 2013, 4.1.1.4 (b)
                     17 to 19 such services until it is full
Prefill              pour in 0.80 L, which leaves 0.90 L (0.80 L to 1.10 L, stated) to prime
Key cycles of 30 s   2 (1 to 3)
Crank, attempt 1     after 0 s of rest at most 10 s; that makes 10 s
Crank, attempt 2     after 120 s of rest at most 10 s; that makes 140 s
Else look for        a closed fuel cock, or an empty tank
                     air drawn in on the suction side: such a joint stays dry; look for bubbles in the return or a clear line
                     a gasket left on the head, or two of them
                     fuel near its cloud point, waxing the new element
                     a pump without its supply or its relay
`

func reportOf(t *testing.T, args ...string) string {
	t.Helper()
	var out strings.Builder
	if err := run(args, &out); err != nil {
		t.Fatal(args, err)
	}
	return out.String()
}

func TestReport(t *testing.T) {
	if got := reportOf(t); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, cause := range drain.PrimingChecklist() {
		if causes[cause] == "" || !strings.Contains(reportOf(t), causes[cause]) {
			t.Error("a cause is left out:", cause)
		}
	}
}

// At its least flash point or above, fuel is to cool before anything is planned with it.
func TestHotFuelCoolsFirst(t *testing.T) {
	const cool = "let it cool to more than 10 °C below the least flash point"
	for at, hot := range map[string]bool{"60 °C": true, "52 °C": true, "51.9 °C": false, "42 °C": false, "41.9 °C": false} {
		got := reportOf(t, "-read", at)
		if strings.Contains(got, cool) != (at != "41.9 °C") {
			t.Errorf("at %s:\n%s", at, got)
		}
		for _, planned := range []string{"Drum", "Prefill", "Key cycles", "Crank"} {
			if strings.Contains(got, planned) == hot {
				t.Errorf("at %s, %s:\n%s", at, planned, got)
			}
			if i, j := strings.Index(got, cool), strings.Index(got, planned); !hot && i > j {
				t.Errorf("at %s, %s is planned before it is to cool", at, planned)
			}
		}
	}
}

// A density belongs to the temperature that is stated with it: 829.33 kg/m³ at 30 °C are 840 at 15 °C.
func TestDensityAtItsTemperature(t *testing.T) {
	for args, mass := range map[string]string{
		"829.33 kg/m³ 30 °C": "1.244 kg", "829.33 kg/m³ 15 °C": "1.228 kg", "840 kg/m³ 59 °F": "1.244 kg",
	} {
		words := strings.SplitN(args, " ", 3)
		got := reportOf(t, "-density", words[0]+" "+words[1], "-density-at", words[2])
		if !strings.Contains(got, "Mass                 "+mass) {
			t.Errorf("%s:\n%s", args, got)
		}
	}
}

// 36.8 °API are 839.9 kg/m³ at 60 °F (141.5/(36.8 + 131.5) times 999.016 kg/m³; Source: api-11-1), whether 60 °F is said or not.
func TestDensityInDegreesAPI(t *testing.T) {
	want := reportOf(t, "-density", "839.933 kg/m³", "-density-at", "60 °F")
	for _, args := range [][]string{{"-density", "36.8 °API"}, {"-density", "36.8 API", "-density-at", "60 °F"}} {
		if got := reportOf(t, args...); got != want {
			t.Errorf("%v:\n%s\nwant\n%s", args, got, want)
		}
	}
}

func TestReportRefuses(t *testing.T) {
	for _, e := range []struct {
		args []string
		want error
	}{
		{[]string{"-density", "0.84 kg/m³"}, drain.ErrDensity},
		{[]string{"-read", "160 °C"}, drain.ErrTemperature},
		{[]string{"-volume", "-1 L"}, drain.ErrNegative},
		{[]string{"-water", "-1 L"}, drain.ErrNegative},
		{[]string{"-density-at", "160 °C"}, drain.ErrTemperature},
		{[]string{"-density", "36.8 °API", "-density-at", "15 °C"}, drain.ErrTemperature},
	} {
		if err := run(e.args, &strings.Builder{}); !errors.Is(err, e.want) {
			t.Errorf("%v: %v, want %v", e.args, err, e.want)
		}
	}
	if err := run([]string{"-volume", "1 gal"}, &strings.Builder{}); err == nil || !strings.Contains(err.Error(), "imp gal") {
		t.Errorf("a gallon of nobody's: %v", err)
	}
}

func TestHowItEnds(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
	}{{nil, 0}, {[]string{"-h"}, 0}, {[]string{"-nothing"}, 2}, {[]string{"stray"}, 2}, {[]string{"-volume", "1 gal"}, 2}, {[]string{"-density", "8 kg/m³"}, 1}} {
		var out, problems strings.Builder
		if code := ended(c.args, &out, &problems); code != c.code || (code == 0) != (out.Len() > 0) {
			t.Errorf("%v: %d, %q, %q", c.args, code, &out, &problems)
		}
	}
}
