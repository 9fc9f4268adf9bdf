package service

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/snugturn/units"
)

func TestBadPreferences(t *testing.T) {
	for _, c := range []struct {
		field, path string
		want        error
	}{
		{`"volume": "gal"`, "preferences.volume", units.ErrAmbiguous},
		{`"volume": "kg"`, "preferences.volume", units.ErrOtherKind},
		{`"mass": "L"`, "preferences.mass", units.ErrOtherKind},
		{`"length": "furlong"`, "preferences.length", units.ErrUnknownUnit},
		{`"temperature": "bar"`, "preferences.temperature", units.ErrOtherKind},
		{`"decimalComma": "yes"`, "preferences.decimalComma", errType},
		{`"pressure": "bar"`, "preferences.pressure", errUnknownField},
	} {
		_, err := ReadJob([]byte(strings.Replace(bench, `"version": 1,`, `"version": 1, "preferences": {`+c.field+`},`, 1)))
		assert.ErrorIs(t, err, c.want, c.field)
		assert.ErrorContains(t, err, c.path+": ")
	}
	// A comma is for printing: in a job file it stays refused, whatever the job prefers.
	text := strings.Replace(bench, `"version": 1,`, `"version": 1, "preferences": {"decimalComma": true},`, 1)
	_, err := ReadJob([]byte(strings.Replace(text, `"panHolds": "10 L"`, `"panHolds": "1,5 L"`, 1)))
	assert.ErrorIs(t, err, units.ErrAmbiguous)
}
