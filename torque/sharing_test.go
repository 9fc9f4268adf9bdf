package torque

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"example.com/snugturn/units"
)

// The race detector holds it: no method changes what goroutines share, and each gets the same answers.
func TestGoroutinesMayShare(t *testing.T) {
	band, wrench := MustParseBand("145 to 190 in-lb"), shopWrench()
	wrench.CalibratedUntil = time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
	printed, err := ParsePrintedLimit("22-29 ft-lb (29-39 N·m)")
	if err != nil {
		t.Fatal(err)
	}
	ask := func() string {
		set, err := wrench.Set(band, Adapter{Offset: units.Millimetre.Of(50), Angle: units.Degree.Of(45)})
		decision, notDecided := band.Decide(Measurement{Value: units.InchPound.Of(170), Expanded: units.InchPound.Of(6)}, Guarded95)
		inward, crossed := band.Inward(units.NewtonMetre, 1)
		best, choices := Choose([]Wrench{wrench, wrench}, band, Adapter{}, wrench.CalibratedUntil)
		governing, refused := printed.Band()
		least, most := set.Delivers(units.FootPound, 2)
		return fmt.Sprint(set.Dial, least, most, err, decision.Acceptance, notDecided, inward, crossed, best, choices[0].Setting.Dial,
			printed.Compare(), governing, refused)
	}
	want, answers := ask(), make([]string, 8)
	var all sync.WaitGroup
	for i := range answers {
		all.Add(1)
		go func() { defer all.Done(); answers[i] = ask() }()
	}
	all.Wait()
	for _, got := range answers {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
