package waste

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// Names and offsets. Sources: rfc-9557, rfc-3339.
func TestZones(t *testing.T) {
	for _, good := range []string{"UTC", "+00:00", "+01:00", "-03:30", "+14:00", "-23:59", "Europe/Vienna",
		"America/Argentina/Buenos_Aires", "America/Port-au-Prince", "Etc/GMT+5", "Etc/UTC", "_x/.y"} {
		var zone Zone
		require.NoError(t, zone.UnmarshalText([]byte(good)), good)
		assert.Equal(t, good, string(zone), "as written")
	}
	for bad, want := range map[string]error{
		"": units.ErrSyntax, "Z": units.ErrAmbiguous, "CST": units.ErrAmbiguous, "utc": units.ErrAmbiguous,
		"+1:00": units.ErrSyntax, "+0100": units.ErrSyntax, "+01.00": units.ErrSyntax, "+a1:00": units.ErrSyntax,
		"+24:00": units.ErrRange, "+01:60": units.ErrRange, "-00:00": units.ErrSyntax, "+01:00:00": units.ErrSyntax,
		"Europe/": units.ErrSyntax, "/Vienna": units.ErrSyntax, "Europe//Vienna": units.ErrSyntax, "../etc": units.ErrSyntax,
		"Europe/..": units.ErrSyntax, "Europe/Vienna ": units.ErrSyntax, "Europe/2": units.ErrSyntax, "Europe/-x": units.ErrSyntax,
		"Europe/Zürich": units.ErrSyntax, "a/\x00": units.ErrSyntax, strings.Repeat("a/", 40) + "b": units.ErrRange,
	} {
		zone := Zone("before")
		var parse *units.ParseError
		err := zone.UnmarshalText([]byte(bad))
		require.ErrorAs(t, err, &parse, bad)
		assert.ErrorIs(t, err, want, bad)
		assert.Equal(t, Zone("before"), zone)
		assert.Less(t, len(err.Error()), 250)
	}
}
