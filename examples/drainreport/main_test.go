package main

import (
	"errors"
	"strings"
	"testing"

	"example.com/snugturn/drain"
)

// 1.2116 kg, 1.2100 on the scale and 1.4486 L at 20 °C: API MPMS 11.1-2004, computed (D).
const want = `Catch                stop: caught at 60 °C, 8 °C above the least flash point of 52 °C
In the pan           1.5 L (1.45 L to 1.55 L, measured) at 60 °C
The same at 20 °C    1.4486 L
Mass                 1.212 kg (1.171 kg to 1.253 kg, measured)
A scale in air shows 1.2100 kg
Drum                 room for 28 L (26 L to 29 L, measured) below the fill limit of ADR 4.1.1.4 (b)
                     17 to 19 such services until it is full
Prefill              pour in 0.80 L, which leaves 0.90 L (0.80 L to 1.10 L, stated) to prime
Key cycles of 30 s   2 (1 to 3)
Crank, attempt 1     after 0 s of rest at most 10 s; that makes 10 s
Crank, attempt 2     after 120 s of rest at most 10 s; that makes 140 s
Else look for        a closed fuel cock, or an empty tank
`

func TestReport(t *testing.T) {
	var out strings.Builder
	if err := run(nil, &out); err != nil {
		t.Fatal(err)
	}
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
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
	} {
		if err := run(e.args, &strings.Builder{}); !errors.Is(err, e.want) {
			t.Errorf("%v: %v, want %v", e.args, err, e.want)
		}
	}
	if err := run([]string{"-volume", "1 gal"}, &strings.Builder{}); err == nil || !strings.Contains(err.Error(), "imp gal") {
		t.Errorf("a gallon of nobody's: %v", err)
	}
}
