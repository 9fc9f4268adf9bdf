package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// 220 in-lb: inch, pound and standard gravity by definition (NIST SP 811, App. B.8):
// 220 x 0.0254 x 0.45359237 x 9.80665 N·m. 52 °C x 1.8 + 32.
func TestOutput(t *testing.T) {
	var out bytes.Buffer
	run(&out)
	text := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{
		"0.1 + 0.2 0.30000000000000004", "is that 0.3? false",
		"0.1 L + 0.2 L 0.3 L", "rounded off? true", "300 mL? true",
		"all its digits 24.856662386075674", "foot-pounds, to a hundredth 18.33 ft-lb", "310 in-lb to a hundredth 35.03 N·m", "as a high limit 35.02 N·m",
		"52 °C 125.6 °F",
		"a volume of 2 gal", "a volume of 1,5 L", "a volume of 30 N·m",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "<nil>", "all four are refused")
}
