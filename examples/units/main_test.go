package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// 145 in-lb: inch, pound and standard gravity by definition (Source: nist-sp811-b8):
// 145 x 0.0254 x 0.45359237 x 9.80665 N·m. 52 °C x 1.8 + 32.
func TestOutput(t *testing.T) {
	var out bytes.Buffer
	run(&out)
	text := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{
		"0.1 + 0.2 0.30000000000000004", "is that 0.3? false",
		"0.1 L + 0.2 L 0.3 L", "rounded off? true", "300 mL? true",
		"all its digits 16.3828002090044215", "foot-pounds, to a hundredth 12.08 ft-lb", "190 in-lb to a hundredth 21.47 N·m", "as a high limit 21.46 N·m",
		"52 °C 125.6 °F",
		"a volume of 2 gal", "a volume of 1,5 L", "a volume of 30 N·m",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "<nil>", "all four are refused")
}
