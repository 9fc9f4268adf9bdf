package shop

import "testing"

func TestInside(t *testing.T) {
	for set, want := range map[int]bool{9: false, 10: true, 20: true, 21: false} {
		if inside(table[0], set) != want {
			t.Errorf("inside at %d isn't %v", set, want)
		}
	}
}

func TestTooFar(t *testing.T) {
	if !tooFar(21, 20) || tooFar(19, 20) {
		t.Error("too far")
	}
}

func TestSteps(t *testing.T) {
	out, err := steps(2)
	if len(out) != 2 || out[0] != "click" || err != nil {
		t.Error(out, err)
	}
	if _, err := steps(49); err == nil {
		t.Error("49 of 48")
	}
}

func TestLeast(t *testing.T) {
	if least() != 9 {
		t.Error(least())
	}
}
