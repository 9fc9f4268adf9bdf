package clock

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"example.com/snugturn/units"
)

func Example() {
	t, err := Parse("1 minute and 30 secs")
	fmt.Println(Format(t), err)
	_, err = Parse("1:30")
	fmt.Println(err)
	fmt.Println(CheckZone("Europe/Vienna"))
	// Output:
	// 1 min 30 s <nil>
	// time "1:30" at byte 1: not plain digits and a unit; it could be minutes and seconds or hours and minutes; want a time such as 30 s, 2 min or 1 min 30 s
	// <nil>
}

func TestBounds(t *testing.T) {
	whole, err := Parse("24 h")
	assert.NoError(t, err)
	assert.Equal(t, Day, whole)
	_, err = Parse("24 h 1 s")
	assert.ErrorIs(t, err, units.ErrRange)
	assert.Equal(t, "-2 min 0.5 s", Format(-2*time.Minute-time.Second/2))
	assert.ErrorIs(t, CheckZone("+24:00"), units.ErrRange)
	assert.ErrorIs(t, CheckZone("CST"), units.ErrAmbiguous)
}
