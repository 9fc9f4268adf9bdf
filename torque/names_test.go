package torque

import (
	"encoding"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

func roundTrip[T named, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, values ...T) {
	t.Helper()
	if len(values) == 0 {
		t.Fatal("nothing to try")
	}
	for _, v := range values {
		text, err := any(v).(encoding.TextMarshaler).MarshalText()
		if err != nil || string(text) != v.String() {
			t.Errorf("%v writes %q, %v", v, text, err)
		}
		var again T
		if err := P(&again).UnmarshalText(text); err != nil || again != v {
			t.Errorf("%q reads as %v, %v", text, again, err)
		}
	}
	kept := values[0]
	for _, bad := range []string{"", "Pass ", "no rule", strings.Repeat("x", 1000)} {
		err := P(&kept).UnmarshalText([]byte(bad))
		var parse *units.ParseError
		if !errors.As(err, &parse) || kept != values[0] || len(err.Error()) > 400 || !strings.Contains(err.Error(), values[0].String()) {
			t.Errorf("%q: %v, %v", units.Cut(bad), kept, err)
		}
	}
	if _, err := any(T(200)).(encoding.TextMarshaler).MarshalText(); !errors.Is(err, units.ErrSyntax) {
		t.Errorf("200 is written: %v", err)
	}
}

func TestNamesRoundTrip(t *testing.T) {
	roundTrip(t, SimpleAcceptance, GuardedByU, Guarded95, FourWay)
	roundTrip(t, Pass, ConditionalPass, ConditionalFail, Fail, Undecided)
	roundTrip(t, EitherBasis, OfDial, OfReference, OfFullScale, Absolute)
	roundTrip(t, AddAlways, AddFromAThird)
	roundTrip(t, InBand, Seated, NotTight, NotShownSeated, AboveBand, PastStop, Dragging)
	roundTrip(t, NotObserved, Yes, No)
	if _, err := Rule(0).MarshalText(); err == nil {
		t.Error("no rule is written")
	}
}

func TestWrenchInJSON(t *testing.T) {
	text, err := json.Marshal(shopWrench())
	if err != nil {
		t.Fatal(err)
	}
	var w Wrench
	if err := json.Unmarshal(text, &w); err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(w)
	if err != nil || string(again) != string(text) {
		t.Errorf("%s\n%s %v", text, again, err)
	}
	s, err := w.Set(MustParseBand("27 to 33 N·m"), Adapter{})
	if err != nil || s.Dial.String() != "30.0 N·m" {
		t.Errorf("%v %v", s, err)
	}
}
