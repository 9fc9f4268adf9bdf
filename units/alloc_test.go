package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What may allocate, and how often. Times are for the benchmarks.
func TestAllocations(t *testing.T) {
	p, q, buffer := InchPound.Of(145), MustParseTorque("16.39 N·m"), make([]byte, 0, 64)
	cool, warm := MustParseTemperature("15.5 °C"), MustParseTemperature("60 °F")
	for name, c := range map[string]struct {
		budget float64
		do     func()
	}{
		"Compare across units": {0, func() { sinkInt = p.Compare(q) }},
		"Compare temperatures": {0, func() { sinkInt = cool.Compare(warm) }},
		"In, terminating":      {0, func() { sinkQuantity = p.In(NewtonMetre) }},
		"In, repeating":        {0, func() { sinkQuantity = q.In(InchPound) }},
		"RoundIn":              {0, func() { sinkQuantity = p.RoundIn(NewtonMetre, 2, ToPositiveInf) }},
		"Add across units":     {0, func() { sinkQuantity, _ = q.Add(p) }},
		"Parse":                {0, func() { sinkQuantity, sinkError = ParseTorque("145 in-lb") }},
		"Parse a spelling":     {0, func() { sinkQuantity, sinkError = ParseTorque("16.39 Nm") }},
		"Parse a fraction":     {0, func() { sinkQuantity, sinkError = ParseTorque("1½ N·m") }},
		"AppendText":           {0, func() { buffer, sinkError = q.AppendText(buffer[:0]) }},
		"String":               {1, func() { sinkString = q.String() }},
	} {
		assert.LessOrEqual(t, testing.AllocsPerRun(100, c.do), c.budget, name)
	}
}

var sinkString string
