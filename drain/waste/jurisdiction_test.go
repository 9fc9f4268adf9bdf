package waste_test

import (
	"encoding/json"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An invented jurisdiction with a form of its own, made of what the package exports and nothing else:
// it counts by two sizes, gives 30 days, and its form wants pounds in tens, rounded up, and one of two
// words for the container.
func invented() waste.RuleSet {
	source := waste.Source{Cite: "the invented province's waste order", Grade: "M"}
	return waste.RuleSet{Name: "Invented Province", AsOf: waste.MustParseDate("2026-12-01"),
		Categories: []waste.Category{
			{Name: "minor", Title: "minor site", UpTo: units.Pound.Of(50), Source: source},
			{Name: "major", Title: "major site", Open: true, Source: source, Days: 30, DaysFrom: source},
		},
		Candidates: []waste.Candidate{{Stream: waste.DrainedFuel, Code: "IP-7", Title: "motor fuels", Source: source}},
		Questions:  []waste.Question{{Streams: []waste.Stream{waste.DrainedFuel}, Code: "IP-7", Text: "Was it ever mixed?", Source: source}},
	}
}

type inventedLine struct {
	Tens      int64
	Container string
}

func newInventedLine(b waste.Batch, container string) (inventedLine, error) {
	if err := b.Check(); err != nil {
		return inventedLine{}, err
	}
	if container != "tub" && container != "sack" {
		return inventedLine{}, &waste.Error{What: "invented line", Field: "container", Input: container, Problem: "unknown", Want: "tub or sack", Err: units.ErrSyntax}
	}
	tens := b.Mass.High.RoundIn(units.Pound, -1, units.ToPositiveInf).RatIn(units.Pound)
	return inventedLine{tens.Num().Int64() / 10, container}, nil
}

func TestAnotherJurisdictionNeedsNothingOfTheCore(t *testing.T) {
	rules := invented()
	require.NoError(t, rules.Check())
	data, err := json.Marshal(rules)
	require.NoError(t, err)
	back, err := waste.ParseRuleSet(data)
	require.NoError(t, err)
	one, err := rules.Hash()
	require.NoError(t, err)
	two, err := back.Hash()
	require.NoError(t, err)
	assert.Equal(t, one, two)

	var l waste.Ledger
	put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, mass(t, "20 kg", "22 kg", "23 kg", drain.Assumed)))
	s, err := l.Statement(waste.MustParseDate("2026-03-01"), rules)
	require.NoError(t, err)
	assert.Equal(t, []string{"minor", "major"}, []string{s.Lowest, s.Highest}, "50 lb are 22.68 kg")
	last, err := rules.OffSiteBy("major", waste.MustParseDate("2026-03-04"), false)
	require.NoError(t, err)
	assert.Equal(t, "2026-04-02", last.String())
	asked, err := rules.Ask(waste.DrainedFuel)
	require.NoError(t, err)
	assert.Equal(t, "IP-7", asked.Candidates[0].Code)

	b := waste.Batch{Description: "motor fuel", Stream: s.Streams[0].Stream, Mass: s.Streams[0].Mass, Containers: []waste.Container{{ID: "tub 1"}}}
	line, err := newInventedLine(b, "tub")
	require.NoError(t, err)
	assert.Equal(t, inventedLine{6, "tub"}, line, "23 kg are 50.7 lb")
	_, err = newInventedLine(b, "DM")
	refused(t, err, units.ErrSyntax, "another country's code")
}
