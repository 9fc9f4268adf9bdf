package drain

import (
	"encoding"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.com/snugturn/units"
)

// word tries what every small type has to do: each value is written as its word and comes back, no
// other text is read, and what is none of the constants isn't written.
func word[T named, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, want ...string) {
	t.Helper()
	write := func(v T) ([]byte, error) { return any(v).(encoding.TextMarshaler).MarshalText() }
	for i, text := range want {
		v := T(i + 1)
		data, err := json.Marshal(v)
		if err != nil || string(data) != `"`+text+`"` || v.String() != text {
			t.Errorf("%v is %s in JSON, %v; want %s", v, data, err, text)
		}
		var back T
		if err := json.Unmarshal(data, &back); err != nil || back != v {
			t.Errorf("%s comes back as %v, %v", data, back, err)
		}
	}
	for _, bad := range []string{"", strings.ToUpper(want[0]), want[0] + " ", "maybe", "\xff", strings.Repeat("x", 1e6)} {
		kept := T(1)
		err := P(&kept).UnmarshalText([]byte(bad))
		var input *InputError
		if !errors.Is(err, units.ErrSyntax) || !errors.As(err, &input) || kept != 1 || len(err.Error()) > 300 ||
			!strings.Contains(err.Error(), want[0]) {
			t.Errorf("%q is read as %v, %v", units.Cut(bad), kept, err)
		}
	}
	for _, bad := range []string{"1", "true", "{}", `["` + want[0] + `"]`} {
		if kept := T(1); json.Unmarshal([]byte(bad), &kept) == nil || kept != 1 {
			t.Errorf("%s is read as %v", bad, kept)
		}
	}
	for _, stray := range []T{0, T(len(want) + 1), 255} {
		if text, err := write(stray); !errors.Is(err, ErrMissing) || text != nil {
			t.Errorf("%v is written as %q, %v", stray, text, err)
		}
	}
}

func TestWords(t *testing.T) {
	word[Provenance](t, "weighed", "measured", "stated", "assumed")
	word[Answer](t, "no", "yes", "undecided")
	word[Guard](t, "clear", "caution", "stop")
	word[Group](t, "gasoline", "transition", "jet fuel", "fuel oil")
	word[WaterEquation](t, "Tanaka 2001", "Patterson and Morris 1994", "Kell 1975")
}
