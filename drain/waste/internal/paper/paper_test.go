package paper

import (
	"math/big"
	"testing"

	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
)

func TestNearestGoesUpAtATie(t *testing.T) {
	for _, c := range []struct {
		text    string
		n       int64
		tie, ok bool
	}{
		{"0", 0, false, true}, {"0.49", 0, false, true}, {"0.5", 1, true, true}, {"1.5", 2, true, true}, {"2.5", 3, true, true},
		{"1/3", 0, false, true}, {"999999999.4", Most, false, true}, {"999999999.5", 0, true, false}, {"1e40", 0, false, false},
	} {
		x, _ := new(big.Rat).SetString(c.text)
		n, tie, ok := Nearest(x)
		assert.Equal(t, []any{c.n, c.tie, c.ok}, []any{n, tie, ok}, c.text)
	}
}

func TestShowMarksWhatIsRounded(t *testing.T) {
	for text, want := range map[string]string{"1.5 kg": "1.5 kg", "1.5000 kg": "1.500 kg", "1.50001 kg": "about 1.500 kg",
		"0.00041 kg": "about 0.0004 kg", "0.0000 kg": "0.000 kg"} {
		assert.Equal(t, want, Show(units.MustParseMass(text)))
	}
}
