package service

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLedger(t *testing.T) {
	var steps []Isolation
	for i := range 54 {
		steps = append(steps, Isolation{What: letters(i), ForPriming: i%25 == 1})
	}
	l := ledger(steps)
	assert.Len(t, l.Out, 54)
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 53: "BB"} {
		assert.Equal(t, want, l.Out[i].Letter)
	}
	var early []string
	for _, step := range l.Priming {
		early = append(early, step.Letter)
	}
	assert.Equal(t, []string{"AZ", "AA", "B"}, early, "last out, first back")
	for i, step := range l.Back {
		assert.Equal(t, l.Out[53-i], step)
	}
	assert.Equal(t, Isolations{}, ledger(nil))
}
