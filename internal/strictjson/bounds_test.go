package strictjson_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

type bounds struct {
	Count  int            `json:"count" bound:"1..6"`
	Left   *int           `json:"left,omitempty" bound:"0..6"`
	Texts  []string       `json:"texts,omitempty" bound:"..2"`
	Volume units.Volume   `json:"volume" bound:">0"`
	Length units.Length   `json:"length,omitzero" bound:">=0"`
	Time   *time.Duration `json:"time,omitempty" bound:">0"`
	Any    string         `json:"any"`
	Inside []bounds2      `json:"inside,omitempty" bound:"..2"`
}

type bounds2 struct {
	Rest time.Duration `json:"rest" bound:">=0"`
}

func TestBounds(t *testing.T) {
	n := func(n int) *int { return &n }
	litre := units.Litre.Of(1)
	second := time.Second
	minus := -time.Second
	for want, v := range map[string]bounds{
		"":                                  {Count: 1, Left: n(0), Texts: []string{"", ""}, Volume: litre, Time: &second, Inside: []bounds2{{0}, {1}}},
		"count: 7; 1 to 6":                  {Count: 7, Volume: litre},
		"count: 0; 1 to 6":                  {Volume: litre},
		"left: -1; 0 to 6":                  {Count: 6, Left: n(-1), Volume: litre},
		"texts: 3 of them; at most 2":       {Count: 6, Texts: []string{"", "", ""}, Volume: litre},
		"volume: 0 L; more than zero":       {Count: 6, Volume: units.Litre.Of(0)},
		"length: -1 mm; zero or more":       {Count: 6, Volume: litre, Length: units.Millimetre.Of(-1)},
		"time: -1s; more than zero":         {Count: 6, Volume: litre, Time: &minus},
		"inside[1].rest: -1s; zero or more": {Count: 6, Volume: litre, Inside: []bounds2{{}, {minus}}},
		"inside: 3 of them; at most 2":      {Count: 6, Volume: litre, Inside: []bounds2{{minus}, {minus}, {minus}}}, // isn't looked into
	} {
		said := ""
		strictjson.Reader{}.Bounds(v, func(string) bool { return false }, func(path, problem, want string, cause error) {
			assert.Equal(t, strictjson.ErrRange, cause)
			said += path + ": " + problem + "; " + want
		})
		assert.Equal(t, want, said)
		strictjson.Reader{}.Bounds(&v, func(string) bool { return true }, func(path, _, _ string, _ error) { t.Error(path, "was known to be wrong") })
	}
}
