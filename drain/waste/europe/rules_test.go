package europe_test

import (
	"testing"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// 16 01 21* is from memory; all codes are candidates. Sources: list-of-waste, list-of-waste-m.
func TestListOfWasteCandidates(t *testing.T) {
	codes := map[string]bool{}
	for _, c := range europe.RuleSet().Candidates {
		codes[c.Code] = true
	}
	for _, code := range []string{"13 07 01*", "13 07 03*", "13 08 02*", "15 02 02*", "16 01 07*", "16 01 21*"} {
		assert.True(t, codes[code], code)
	}
	assert.Len(t, codes, 6)
	a, err := europe.RuleSet().Ask(waste.DrainedElement)
	require.NoError(t, err)
	assert.Len(t, a.Candidates, 3, "a fuel filter isn't literally an oil filter: a choice")
}
