package drain

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

func TestTimesAsTheTradeWritesThem(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"2 mins": 2 * time.Minute, "2 min": 2 * time.Minute, "2min": 2 * time.Minute, "1 minute": time.Minute, "2 MINUTES": 2 * time.Minute,
		"30 s": 30 * time.Second, "30s": 30 * time.Second, "30 sec": 30 * time.Second, "30 secs.": 30 * time.Second, "1 second": time.Second, "15 seconds": 15 * time.Second,
		"1 h": time.Hour, "2 hr": 2 * time.Hour, "2 hrs": 2 * time.Hour, "1 hour": time.Hour, "2 Hours": 2 * time.Hour,
		"1 min 30 s": 90 * time.Second, "1min30s": 90 * time.Second, "1 minute and 30 seconds": 90 * time.Second, "1 h 59 min 59.5 s": 2*time.Hour - 500*time.Millisecond,
		"2.5 min": 150 * time.Second, "0.5 s": 500 * time.Millisecond, "0.000000001 s": 1, "90 s": 90 * time.Second, "90 min": 90 * time.Minute,
		"24 h": 24 * time.Hour, "0 s": 0, " 3\u00a0min ": 3 * time.Minute,
	} {
		d := Duration(-1)
		require.NoError(t, d.UnmarshalText([]byte(text)), text)
		assert.Equal(t, want, time.Duration(d), text)
	}
}

func TestTimesRefused(t *testing.T) {
	for text, want := range map[string]error{
		"": units.ErrSyntax, " ": units.ErrSyntax, "30": units.ErrNoUnit, "min": units.ErrSyntax, "-5 s": units.ErrSyntax, ".5 min": units.ErrSyntax,
		"1:30": units.ErrAmbiguous, "2:00 min": units.ErrAmbiguous, "1,5 min": units.ErrAmbiguous, "2 m": units.ErrAmbiguous, "2m30s": units.ErrAmbiguous,
		"2 ms": units.ErrUnknownUnit, "2 µs": units.ErrUnknownUnit, "2 ns": units.ErrUnknownUnit, "1 day": units.ErrUnknownUnit, "30\"": units.ErrUnknownUnit,
		"3 0 s": units.ErrUnknownUnit, "1 .5 min": units.ErrUnknownUnit, "1. min": units.ErrUnknownUnit, "1e1 s": units.ErrUnknownUnit,
		"30 s 1 min": units.ErrSyntax, "30 s 30 s": units.ErrSyntax, "1.5 min 10 s": units.ErrSyntax, "30 s,": units.ErrSyntax, "1 min and": units.ErrSyntax,
		"1 min 60 s": units.ErrRange, "1 h 90 min": units.ErrRange, "25 h": units.ErrRange, "24 h 1 s": units.ErrRange, "0.0000000001 s": units.ErrRange,
		strings.Repeat("9", 40) + " s": units.ErrRange, "30 s" + strings.Repeat(" ", 70) + "garbage": units.ErrRange, strings.Repeat("1 h ", 1<<20): units.ErrRange,
	} {
		d := Duration(time.Second)
		err := d.UnmarshalText([]byte(text))
		var parse *units.ParseError
		require.ErrorAs(t, err, &parse, plain.Cut(text))
		assert.ErrorIs(t, err, want, plain.Cut(text))
		assert.Less(t, len(err.Error()), 300)
		assert.Equal(t, Duration(time.Second), d, "changed by what was refused")
	}
}

// What is printed is read again, zero too; what couldn't be is refused.
func TestTimesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Duration(rapid.Int64Range(0, int64(24*time.Hour)).Draw(t, "time"))
		if rapid.Bool().Draw(t, "whole") {
			d -= d % Duration(time.Second)
		}
		text, err := d.MarshalText()
		require.NoError(t, err)
		for _, text := range []string{string(text), d.String()} {
			back := Duration(-1)
			require.NoError(t, back.UnmarshalText([]byte(text)))
			require.Equal(t, d, back, text)
		}
	})
	assert.Equal(t, "0 s", Duration(0).String())
	for d, want := range map[Duration]string{-1: "-0.000000001 s", -1 << 63: "-153722867 min 16.854775807 s", Duration(25 * time.Hour): "1500 min"} {
		_, err := d.MarshalText()
		assert.ErrorIs(t, err, units.ErrRange)
		assert.Equal(t, want, d.String())
	}
}
