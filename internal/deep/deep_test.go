package deep

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCopy(t *testing.T) {
	type inner struct{ List []int }
	type outer struct {
		One    *inner
		Many   []inner
		Empty  []int
		None   []int
		shared *int
	}
	n := 1
	given := outer{One: &inner{[]int{1}}, Many: []inner{{[]int{2}}}, Empty: []int{}, shared: &n}
	kept := Copy(given)
	assert.Equal(t, given, kept)
	given.One.List[0], given.Many[0].List[0] = 7, 7
	given.Many[0] = inner{}
	assert.Equal(t, outer{One: &inner{[]int{1}}, Many: []inner{{[]int{2}}}, Empty: []int{}, shared: &n}, kept)
	assert.NotNil(t, kept.Empty)
	assert.Nil(t, kept.None)
}
