package misread

import (
	"strings"
	"testing"

	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
)

func TestError(t *testing.T) {
	err := Error("label", "BOWL #7", 5, "a number sign", "letters", units.ErrSyntax)
	assert.EqualError(t, err, `label "BOWL #7" at byte 5: a number sign; want letters`)
	assert.ErrorIs(t, err, units.ErrSyntax)
	assert.LessOrEqual(t, len(Error("label", strings.Repeat("x", 1<<20), 0, "long", "less", units.ErrRange).Input), 51)
}
