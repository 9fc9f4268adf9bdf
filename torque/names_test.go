package torque

import (
	"encoding/json"
	"testing"
)

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
