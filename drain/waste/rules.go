package waste

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/deep"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

// Source says where a rule is published and how well that is known.
type Source struct {
	Cite string `json:"cite"`
	// Grade is S where the published text was seen, S2 for a copy of it, D for what follows by
	// arithmetic, M where the rule or a part of it is from memory or a reading, and must be looked
	// up before anybody relies on it.
	Grade string `json:"grade"`
}

// grades are the grades in words, as a source prints.
var grades = map[string]string{"S": "text seen", "S2": "copy seen", "D": "by arithmetic", "M": "from memory"}

// String is the citation and what its grade says: "40 CFR 260.10, text seen", "40 CFR 261.31, from memory".
func (s Source) String() string { return s.Cite + ", " + cmp.Or(grades[s.Grade], "of no known grade") }

// RuleSet is one jurisdiction's rules as data. It is plain data so that it can be printed, kept
// next to a record, compared by [RuleSet.Hash], and extended: see [RuleSet.Derive].
//
// Its JSON has one form: what encoding/json writes of it, each mass and volume with the digits and
// the unit it was given in. [ParseRuleSet] reads that back, and equal sets have equal bytes.
type RuleSet struct {
	Name string `json:"name"` // "US federal"
	// AsOf is the day the set was put together from the copies its sources name. It is no promise
	// that those copies were current on that day.
	AsOf       Date        `json:"asOf"`
	Based      string      `json:"based,omitempty"` // the hash of the set this one was derived from
	Period     Period      `json:"period,omitzero"` // what is counted by; the calendar month where it is zero
	Categories []Category  `json:"categories,omitempty"`
	Satellite  Satellite   `json:"satellite,omitzero"`
	Fill       FillRule    `json:"fill,omitzero"`
	Questions  []Question  `json:"questions,omitempty"`
	Candidates []Candidate `json:"candidates,omitempty"`
	Notes      []Remark    `json:"notes,omitempty"`
}

// Category is a generator category: what a period's hazardous waste makes of a site.
// Categories stand in a set from the smallest up; the last is open.
type Category struct {
	Name      string     `json:"name"` // "SQG"
	Title     string     `json:"title"`
	UpTo      units.Mass `json:"upTo"`      // the limit of the period's mass; 0 kg in the open category
	Including bool       `json:"including"` // whether the limit itself still belongs to it
	Open      bool       `json:"open"`
	Source    Source     `json:"source"`

	Days      int        `json:"days,omitempty"`    // how long waste may stay on site; 0 where the set has no such rule
	FarDays   int        `json:"farDays,omitempty"` // where it must go farther than Far; 0 where there is no such rule
	Far       string     `json:"far,omitempty"`     // "200 miles or more to where it is taken"
	OnSite    units.Mass `json:"onSite"`            // how much may be on site at once; 0 kg where the set has no such rule
	OnSiteIn  bool       `json:"onSiteIncluding"`   // whether exactly that much is still within
	DaysFrom  Source     `json:"daysSource,omitzero"`
	LimitFrom Source     `json:"onSiteSource,omitzero"`
}

// String is the category with its source, and the [Caveat].
func (c Category) String() string {
	return fmt.Sprintf("%s, %s (%s)\n%s", c.Name, c.Title, c.Source, Caveat)
}

// Satellite is the rule for containers where the waste arises; zero where the set has none.
type Satellite struct {
	Limit  units.Volume `json:"limit"`
	Days   int          `json:"days"` // consecutive calendar days to move what is over the limit
	Source Source       `json:"source"`
}

// FillRule is the rule for how full of liquid fuel a container may be closed; zero where the set has none.
type FillRule struct {
	By     string `json:"by"` // "not full of liquid at 55 °C" or "degree of filling"
	Source Source `json:"source"`
}

// The ways to limit a filling.
const (
	notFullAt55     = "not full of liquid at 55 °C" // [drain.FullAt55]
	degreeOfFilling = "degree of filling"           // [drain.FillLimit]
)

// Limit is the most that a container of a capacity may hold of a fuel when it is filled at a
// temperature.
//
// Errors: *Error (ErrNotCovered) for the zero FillRule and any other way; as [drain.FillLimit].
func (l FillRule) Limit(fuel drain.Fuel, capacity units.Volume, filledAt units.Temperature) (units.Volume, error) {
	switch l.By {
	case notFullAt55:
		return drain.FullAt55(fuel, capacity, filledAt)
	case degreeOfFilling:
		return drain.FillLimit(fuel, capacity, filledAt)
	}
	return units.Volume{}, refuse("fill limit", "by", l.By, "no way to limit a filling", notFullAt55+", or "+degreeOfFilling, ErrNotCovered)
}

// Question is a hint of a hazard, put as a question. It decides nothing.
type Question struct {
	Streams []Stream `json:"streams"`
	Code    string   `json:"code,omitempty"` // the waste code that is possible
	Text    string   `json:"text"`
	Source  Source   `json:"source"`
}

// Candidate is a code of a list of wastes that may suit a stream. The choice is the classifier's.
type Candidate struct {
	Stream Stream `json:"stream"`
	Code   string `json:"code"`
	Title  string `json:"title"`
	Source Source `json:"source"`
}

// Remark is something a set wants read next to its answers.
type Remark struct {
	Text   string `json:"text"`
	Source Source `json:"source"`
}

// Hash identifies the contents of a set: "sha256:" and the digest, in hexadecimal, of its JSON.
// Whatever changes a rule, a citation or the date changes it. A new field in these types changes
// it too, so a record keeps the set itself next to the hash.
//
// Errors: as [RuleSet.Check].
func (r RuleSet) Hash() (string, error) {
	if err := r.Check(); err != nil {
		return "", err
	}
	data, err := json.Marshal(r)
	if err != nil {
		return "", refuse("rule set", r.Name, "", err.Error(), "fields that can be written", units.ErrRange)
	}
	sum := sha256.Sum256(data)
	return "sha256:" + hex.EncodeToString(sum[:]), nil
}

// Derive is a copy to build another set on: a state's rules on the federal ones. The copy shares
// nothing with r and names it by its hash; change its fields, each with its source, and let
// [RuleSet.Check] look at the result.
//
// Errors: as [RuleSet.Check], for r; *Error (drain.ErrMissing) without a name, (units.ErrRange) for a
// date that is invalid.
func (r RuleSet) Derive(name string, asOf Date) (RuleSet, error) {
	hash, err := r.Hash()
	if err != nil {
		return RuleSet{}, err
	}
	r = deep.Copy(r)
	r.Name, r.AsOf, r.Based = name, asOf, hash
	if err := r.Check(); err != nil {
		return RuleSet{}, err
	}
	return r, nil
}

// ParseRuleSet reads the JSON of a set, at most 1 MiB. Unknown fields are refused: a misspelled
// limit must not pass for none. So are fields given twice, since the second would pass for the first,
// and null, which would pass for false.
//
// Errors: *Error (units.ErrSyntax, units.ErrRange), and as [RuleSet.Check].
func ParseRuleSet(data []byte) (RuleSet, error) {
	const want = "the JSON of one rule set"
	var r ruleSetFields
	switch bad := (strictjson.Reader{Bytes: 1 << 20, Text: maxText, Partial: true}).First(data, &r); {
	case bad == nil:
	case bad.Problem == "": // a value says for itself what would be accepted
		return RuleSet{}, refuse("rule set", bad.Path, "", bad.Cause.Error(), "", units.ErrSyntax)
	case bad.Cause == strictjson.ErrSize:
		return RuleSet{}, refuse("rule set", bad.Path, "", bad.Problem, cmp.Or(bad.Want, want), units.ErrRange)
	default:
		return RuleSet{}, refuse("rule set", bad.Path, "", bad.Problem, cmp.Or(bad.Want, want), units.ErrSyntax)
	}
	if err := RuleSet(r).Check(); err != nil {
		return RuleSet{}, err
	}
	return RuleSet(r), nil
}

// ruleSetFields is a RuleSet without its methods.
type ruleSetFields RuleSet

// UnmarshalJSON is [ParseRuleSet]: a set inside another document is read as strictly as one that
// stands alone. On an error r stays as it was.
func (r *RuleSet) UnmarshalJSON(data []byte) error {
	set, err := ParseRuleSet(data)
	if err == nil {
		*r = set
	}
	return err
}

// Check says what is wrong with a set; nil where nothing is. Every rule must have its source, and
// every text must be one line of at most 1,000 bytes in which every character is seen.
//
// Errors: *Error (drain.ErrMissing, units.ErrRange, units.ErrSyntax).
func (r RuleSet) Check() error {
	const what = "rule set"
	if err := oneLine("name", r.Name, "the jurisdiction"); err != nil {
		return err
	}
	if max(len(r.Categories), len(r.Questions), len(r.Candidates), len(r.Notes)) > maxRules {
		return refuse(what, "", r.Name, "more than 1,000 of a kind", "fewer", units.ErrRange)
	}
	if r.Based != "" && !isHash(r.Based) {
		return refuse(what, "based", r.Based, "no hash of a set", `"sha256:" and 64 hexadecimal digits`, units.ErrSyntax)
	}
	if !r.AsOf.valid() {
		return refuse(what, "as of", r.AsOf.String(), "no date", "the day the set was put together", units.ErrRange)
	}
	return cmp.Or(r.Period.check(), r.checkCategories(), r.Satellite.check(), r.Fill.check(), r.checkTexts())
}

func (r RuleSet) checkCategories() error {
	const what = "rule set"
	names := map[string]bool{}
	for i, c := range r.Categories {
		field := fmt.Sprintf("categories[%d]", i)
		if err := c.check(field); err != nil {
			return err
		}
		switch last := i == len(r.Categories)-1; {
		case c.Open != last:
			return refuse(what, field, c.Name, "open, or last and not open", "the last category open, and no other", units.ErrRange)
		case i > 0 && !c.Open && !r.Categories[i-1].UpTo.Less(c.UpTo):
			return refuse(what, field, c.Name, "doesn't reach beyond the one before", "rising limits", units.ErrRange)
		case names[c.Name]:
			return refuse(what, field, c.Name, "given twice", "a name of its own", units.ErrRange)
		}
		names[c.Name] = true
	}
	return nil
}

func (s Satellite) check() error {
	if s.Days == 0 && s.Limit.Sign() == 0 && s.Source == (Source{}) {
		return nil
	}
	if s.Days < 0 || s.Days > maxDays || !s.Limit.Valid() || s.Limit.Sign() <= 0 {
		return refuse("rule set", "satellite", "", "no limit or impossible days", "a volume and 0 to 3,660 days", units.ErrRange)
	}
	return s.Source.check("satellite")
}

func (l FillRule) check() error {
	switch l.By {
	case notFullAt55, degreeOfFilling:
		return l.Source.check("fill")
	}
	if l == (FillRule{}) {
		return nil
	}
	return refuse("rule set", "fill", l.By, "no way to limit a filling", notFullAt55+", or "+degreeOfFilling, units.ErrRange)
}

// Bounds of a set: far beyond any real one, so that checking stays cheap and a text can't pass for
// several lines of an output.
const (
	maxDays  = 3660
	maxRules = 1000 // of each kind
	maxText  = 1000 // bytes
)

// oneLine refuses a text that isn't there, is too long, or isn't one line.
func oneLine(field, text, want string) error {
	const what = "rule set"
	switch {
	case len(text) > maxText:
		return refuse(what, field, text, "longer than 1,000 bytes", want, units.ErrRange)
	case plain.Blank(text):
		return refuse(what, field, text, "none given", want, drain.ErrMissing)
	}
	return seen(what, field, text)
}

func (c Category) check(field string) error {
	return cmp.Or(
		oneLine(field, c.Name, "a name such as SQG"),
		oneLine(field, c.Title, "what the name stands for"),
		c.checkLimits(field),
		c.checkDays(field),
		c.Source.check(field))
}

// checkLimits looks at what a period and what is on site may come to.
func (c Category) checkLimits(field string) error {
	const what = "rule set"
	switch {
	case !c.UpTo.Valid() || c.UpTo.Sign() < 0 || !c.Open && c.UpTo.Sign() == 0:
		return refuse(what, field, c.UpTo.String(), "no limit", "a mass above zero", units.ErrRange)
	case c.Open && (c.UpTo.Sign() != 0 || c.Including):
		return refuse(what, field, c.UpTo.String(), "a limit on an open category", "none", units.ErrRange)
	case !c.OnSite.Valid() || c.OnSite.Sign() < 0:
		return refuse(what, field, c.OnSite.String(), "no limit", "a mass, or 0 kg for none", units.ErrRange)
	case c.OnSite.Sign() > 0 || c.LimitFrom != (Source{}):
		return c.LimitFrom.check(field + " on site")
	}
	return nil
}

// checkDays looks at how long waste may stay.
func (c Category) checkDays(field string) error {
	const what = "rule set"
	switch {
	case c.Days < 0 || c.Days > maxDays || c.FarDays < 0 || c.FarDays > maxDays:
		return refuse(what, field, c.Name, "impossible days", "0 to 3,660", units.ErrRange)
	case c.FarDays > 0 && c.FarDays < c.Days:
		return refuse(what, field, c.Name, "the longer time is shorter than the common one", "no fewer days", units.ErrRange)
	}
	if c.FarDays > 0 || c.Far != "" {
		if err := oneLine(field, c.Far, "the condition of the longer time"); err != nil {
			return err
		}
	}
	if c.Days > 0 || c.FarDays > 0 || c.DaysFrom != (Source{}) {
		return c.DaysFrom.check(field + " days")
	}
	return nil
}

// isHash reports whether a text is written as [RuleSet.Hash] writes one.
func isHash(text string) bool {
	digits, ok := strings.CutPrefix(text, "sha256:")
	return ok && len(digits) == 2*sha256.Size && strings.Trim(digits, "0123456789abcdef") == ""
}

func (r RuleSet) checkTexts() error {
	const what = "rule set"
	for i, q := range r.Questions {
		field := fmt.Sprintf("questions[%d]", i)
		if len(q.Streams) == 0 {
			return refuse(what, field, q.Text, "no streams", "those it is about", drain.ErrMissing)
		}
		for _, s := range q.Streams {
			if !streams.Has(s) {
				return refuse(what, field, s.String(), "no stream", "one of the streams", units.ErrRange)
			}
		}
		code := q.Code
		if code == "" {
			code = "none"
		}
		if err := cmp.Or(oneLine(field, q.Text, "a question"), oneLine(field, code, "a waste code"), q.Source.check(field)); err != nil {
			return err
		}
	}
	for i, c := range r.Candidates {
		field := fmt.Sprintf("candidates[%d]", i)
		if !streams.Has(c.Stream) {
			return refuse(what, field, c.Code, "no stream", "one of the streams", units.ErrRange)
		}
		if err := cmp.Or(oneLine(field, c.Code, "a code"), oneLine(field, c.Title, "its title"), c.Source.check(field)); err != nil {
			return err
		}
	}
	for i, n := range r.Notes {
		field := fmt.Sprintf("notes[%d]", i)
		if err := cmp.Or(oneLine(field, n.Text, "the note"), n.Source.check(field)); err != nil {
			return err
		}
	}
	return nil
}

func (s Source) check(field string) error {
	if err := oneLine(field+" source", s.Cite, "where it is published"); err != nil {
		return err
	}
	if _, ok := grades[s.Grade]; !ok {
		return refuse("rule set", field+" source", s.Grade, "no grade", "S, S2, D or M", units.ErrRange)
	}
	return nil
}

// Category finds a category by its name.
//
// Errors: *Error (ErrNotCovered), with the names there are.
func (r RuleSet) Category(name string) (Category, error) {
	names := make([]string, 0, len(r.Categories))
	for _, c := range r.Categories {
		if c.Name == name {
			return c, nil
		}
		names = append(names, c.Name)
	}
	want := strings.Join(names, ", ")
	if want == "" {
		want = "a rule set that has categories"
	}
	return Category{}, refuse("category", "", name, "not in "+r.Name, want, ErrNotCovered)
}

// Ask lists the set's questions on a stream, in the set's order.
//
// Errors: as [RuleSet.Check]; *Error (units.ErrRange) for an unknown stream.
func (r RuleSet) Ask(stream Stream) (Answers, error) {
	if err := r.Check(); err != nil {
		return Answers{}, err
	}
	if !streams.Has(stream) {
		return Answers{}, refuse("question", "stream", stream.String(), "unknown value", "one of the streams", units.ErrRange)
	}
	a := Answers{Stream: stream, Rules: r.Name, AsOf: r.AsOf, Caveat: Caveat}
	for _, q := range r.Questions {
		if slices.Contains(q.Streams, stream) {
			a.Questions = append(a.Questions, q)
		}
	}
	for _, c := range r.Candidates {
		if c.Stream == stream {
			a.Candidates = append(a.Candidates, c)
		}
	}
	return a, nil
}

// Answers are the questions to answer about one stream, and the codes to choose from. The answers
// are the generator's.
type Answers struct {
	Stream     Stream      `json:"stream"`
	Rules      string      `json:"rules"`
	AsOf       Date        `json:"asOf"`
	Questions  []Question  `json:"questions,omitempty"`
	Candidates []Candidate `json:"candidates,omitempty"`
	Caveat     string      `json:"caveat"`
}

// String lists them, each with its source, and ends with the [Caveat].
func (a Answers) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, under %s as of %s\n", a.Stream, a.Rules, a.AsOf)
	for _, q := range a.Questions {
		b.WriteString("  ? ")
		if q.Code != "" {
			b.WriteString(q.Code + " possible: ")
		}
		fmt.Fprintf(&b, "%s (%s)\n", q.Text, q.Source)
	}
	for _, c := range a.Candidates {
		fmt.Fprintf(&b, "  candidate %s %s (%s)\n", c.Code, c.Title, c.Source)
	}
	b.WriteString(Caveat)
	return b.String()
}
