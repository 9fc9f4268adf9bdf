package service

import (
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// Package sheet imports this one, so that the tests that stand inside it are given what it makes by
// those outside.

// Lays gives the tests of this package what package sheet makes of a plan and of its schema.
var Lays struct {
	Out    func(*Plan) Laid
	Type   reflect.Type
	Schema func() []byte
}

// Laid is a sheet as package sheet lays it out, to be written in any form.
type Laid interface {
	JSON() ([]byte, error)
	HTML() ([]byte, error)
	Text() string
}

// Sheet is what a program reads of a sheet in JSON.
type Sheet struct {
	Pages             []Page
	Notices, Findings []Item
	Sections          []Section // what is about one thing, wherever it stands
	laid              Laid
}

type Page struct {
	Code, Station, Title string
	Sections             []Section
}

type Section struct {
	Code, Station, Title string
	Items                []Item
}

type Item struct {
	Kind, Code, Words, Level, Where, Source string
	Values                                  Texts
	Table                                   *Table
}

// Texts are values as text: "30 N·m", a list with semicolons.
type Texts map[string]string

func (t *Texts) UnmarshalJSON(data []byte) error {
	var all map[string]any
	err := json.Unmarshal(data, &all)
	*t = Texts{}
	for name, v := range all {
		switch x := v.(type) {
		case map[string]any:
			if v = fmt.Sprint(x["value"], " ", x["unit"]); x["unit"] == nil {
				v = fmt.Sprint(x)
			}
		case []any:
			v = strings.ReplaceAll(strings.Trim(fmt.Sprint(x), "[]"), " ", ", ")
		}
		(*t)[name] = fmt.Sprint(v)
	}
	return err
}

type Table struct {
	Heads   []string
	Columns [][]string
}

func (p *Plan) Sheet() (s Sheet) {
	s.laid = Lays.Out(p)
	data, err := s.JSON()
	if err == nil {
		err = json.Unmarshal(data, &s)
	}
	if err != nil && len(p.Stations) > 0 {
		panic(err)
	}
	for _, page := range s.Pages {
		for _, part := range page.Sections {
			s.gather(part)
		}
	}
	return s
}

// gather puts the parts of a station together, and all that is filled in by hand.
func (s *Sheet) gather(part Section) {
	switch part.Code {
	case "notice":
		s.Notices = part.Items
		return
	case "findings", "notes":
		s.Findings = append(s.Findings, part.Items...)
		return
	case "off", "on", "tighten", "signed":
		part.Code = "station"
	}
	for _, it := range part.Items {
		if it.Kind == "blank" {
			if it.Values["station"] == "" {
				it.Values = Texts{"station": part.Station}
			}
			s.join(Section{Code: "record", Items: []Item{it}})
		}
	}
	if part.Code != "record" {
		s.join(part)
	}
}

func (s *Sheet) join(part Section) {
	for i, old := range s.Sections {
		if old.Code == part.Code && old.Station == part.Station {
			s.Sections[i].Items = append(s.Sections[i].Items, part.Items...)
			return
		}
	}
	s.Sections = append(s.Sections, part)
}

func (p *Plan) Text() string          { return Lays.Out(p).Text() }
func (s Sheet) Text() string          { return s.laid.Text() }
func (s Sheet) HTML() ([]byte, error) { return s.laid.HTML() }
func (s Sheet) JSON() ([]byte, error) { return s.laid.JSON() }

// told is a finding in words.
type told struct {
	*Finding
	Words  string
	Values Texts
}

func finding(p *Plan, code string) *told {
	for i, f := range p.Findings {
		if f.Code != code {
			continue
		}
		for _, it := range p.Sheet().Findings {
			if it.Code == code && it.Where == f.Where && strings.EqualFold(it.Level, f.Level.String()) {
				return &told{&p.Findings[i], it.Words, it.Values}
			}
		}
	}
	return nil
}

func htmlOf(t testing.TB, p *Plan) string {
	t.Helper()
	page, err := Lays.Out(p).HTML()
	require.NoError(t, err)
	return string(page)
}

// quiet takes the tags and escapes out of a page.
func quiet(page string) string {
	page = regexp.MustCompile(`<span lang="" translate="no">(.*?)</span>`).ReplaceAllString(page, "$1")
	page = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(page, " ")
	return flat(strings.NewReplacer("&#39;", "'", "&amp;", "&", "&#34;", `"`, "&lt;", "<", "&gt;", ">", "&#43;", "+").Replace(page))
}

// everyJob is the jobs there are in files, and variants that set off the findings.
func everyJob(t *testing.T) map[string]Job {
	t.Helper()
	jobs := map[string]Job{}
	for _, file := range []string{"../examples/servicesheet/demo.json", "testdata/jobs/cartridge.json",
		"testdata/jobs/two-stations.json", "testdata/jobs/three-stations.json", "testdata/jobs/cover-and-cap.json"} {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		job, err := ReadJob(text)
		require.NoError(t, err)
		jobs[file] = job
	}
	jobs["bench"] = benchPlan(t).Job
	warm := benchPlan(t, append(withWrenches(`{"id": "W-1.5", "lowest": "2.5 N·m", "highest": "9.5 N·m", "step": "0.5 N·m", "deviation": "4 %", "calibratedUntil": "2026-12-31"}`,
		`{"id": "W-2.5", "lowest": "2.5 N·m", "highest": "9.5 N·m", "step": "0.5 N·m", "deviation": "4 %", "calibratedUntil": "2025-12-31"}`),
		`"caughtAt": "60 °C"`, `"caughtAt": "41.5 °C"`, `"measuredAt": "60 °C"`, `"measuredAt": "40.5 °C"`,
		`"waste": {`, `"waste": {"month": {"rules": "US federal", "soFar": {"low": "99.5 kg", "best": "99.6 kg", "high": "99.7 kg", "from": "weighed"}},
			"drum": {"capacity": "20.5 L", "inside": {"low": "17.5 L", "best": "18.5 L", "high": "19.5 L", "from": "measured"}, "filledAt": "20.5 °C"},`)...).Job
	warm.Shop.PanHolds = units.MustParseVolume("1.25 L")
	jobs["warm, small pan, no wrench"] = warm
	jobs["two units"] = benchPlan(t, `"torque": "150 to 230 in-lb"`, `"printed": "22-29 ft-lb (29-39 N·m)"`).Job
	jobs["units that disagree"] = benchPlan(t, `"torque": "150 to 230 in-lb"`, `"printed": "1820.5-1840.5 lb-ft (2712-2740 N·m)"`).Job
	jobs["another unit meant"] = benchPlan(t, append(withWrenches(wide), `"150 to 230 in-lb"`, `"150.5 to 230.5 ft-lb"`)...).Job
	jobs["more than a turn"] = benchPlan(t, `"3/4 turn after gasket contact"`, `"1 1/4 to 1 1/2 turns after gasket contact"`).Job
	return jobs
}
