package main

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"html"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/catalogue"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the outputs in testdata anew")

var today = waste.MustParseDate("2026-12-15")

// outcome is what a call printed, its problems, and how it ended.
func outcome(stdin string, args ...string) (out, problems string, code int) {
	var o, p strings.Builder
	code = ended(args, strings.NewReader(stdin), &o, &p, false, today)
	return o.String(), p.String(), code
}

func output(t require.TestingT, args ...string) string {
	out, problems, code := outcome("", args...)
	require.Equal(t, 0, code, problems)
	return out
}

// stored writes a file to read.
func stored(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// The figures in the text are checked by hand below.
func TestWholeOutput(t *testing.T) {
	for name, args := range map[string][]string{"us.txt": nil, "eu.txt": {"-set", "eu"}, "us.html": {"-format", "html"}, "us.csv": {"-format", "csv"},
		"us.json": {"-format", "json"}, "ledger.jsonl": {"-format", "ledger"}, "label.html": {"-label", "D-08", "-ask", "Ann, extension 12"}} {
		path := filepath.Join("testdata", name)
		got := output(t, args...)
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, strings.ReplaceAll(string(want), "\r\n", "\n"), got, name)
	}
}

func demo(t *testing.T) (*books, *office) {
	var b books
	require.NoError(t, b.load("month.csv", strings.NewReader(invented), false))
	o, err := look(&b, usfederal.RuleSet(), today, usfederal.Kilograms, false)
	require.NoError(t, err)
	return &b, o
}

// November of month.csv by hand: 138.0 lb of 0.45359237 kg and 36 kg are hazardous, 1.48 kg are undetermined:
// 98.59574706 kg, and 100.07574706 kg if all of it is. Nothing of revision 0 or of W-104 is in them.
func TestTotalsByHand(t *testing.T) {
	b, o := demo(t)
	assert.Equal(t, "98.59574706 kg", o.Period.Hazardous.Best.String())
	assert.Equal(t, "1.48 kg", o.Period.Undetermined.Best.String())
	assert.Equal(t, []string{"VSQG", "SQG"}, []string{o.Period.Lowest, o.Period.Highest})
	assert.Equal(t, 23, b.read)
	assert.Equal(t, 1, b.again)
	require.Len(t, o.Shipments, 1)
	assert.EqualValues(t, 150, o.Shipments[0].Form[0].Quantity, "167.4 kg less the drum's 17.4 kg")
	for _, d := range o.Drums {
		if d.Container.ID == "D-07" {
			assert.Equal(t, 122, d.Days(today), "16 August to 15 December, both counted")
		}
	}
}

// What to do first begins within twelve lines, with no hash, source or note before what follows, and no line of
// anything is wider than 100 columns.
func TestTheAnswerComesFirst(t *testing.T) {
	many := strings.Join(header[:], ",") + "\n"
	for n := range 30 {
		many += fmt.Sprintf("W-%d,0,1,2026-03-02,drained fuel,undetermined,150,kg,weighed,%s-%d,Ann,2026-03-02T16:00:00Z,,,,,,,,,,\n", n, strings.Repeat("d", 60), n)
		many += fmt.Sprintf(",,,2026-03-01,,,,,,%s-%d,Ann,2026-03-01T16:00:00Z,opened,,,,,,,,,\n", strings.Repeat("d", 60), n)
		many += fmt.Sprintf("W-%d,0,2,2026-03-02,absorbents,undetermined,1,kg,weighed,%s-%d,Ann,2026-03-02T16:00:00Z,,,,,,,,,,\n", n, strings.Repeat("d", 60), n)
		many += fmt.Sprintf("W-%d,0,3,2026-02-02,drained fuel,undetermined,1,kg,weighed,%s-%d,Ann,2026-03-02T16:00:00Z,,,,,,,,,,\n", n, strings.Repeat("d", 60), n)
	}
	hard, _, _ := outcome(many, "-invented", "-")
	for name, text := range map[string]string{"us": output(t), "eu": output(t, "-set", "eu"), "pounds": output(t, "-unit", "P"), "much to do": hard} {
		first, _, found := strings.Cut(text, "Generator category\n")
		require.True(t, found, name)
		assert.LessOrEqual(t, strings.Count(first, "\n"), 12, name)
		assert.NotRegexp(t, `sha256|\(|\[|note|CFR`, first, name)
		assert.Contains(t, first, "Invented for demonstration")
		for line := range strings.Lines(text) {
			assert.LessOrEqual(t, wrap.Columns(strings.TrimSuffix(line, "\n")), 100, line)
		}
		assert.NotContains(t, text, "{", name)
		assert.NotRegexp(t, `non-?hazardous|not hazardous|harmless`, strings.ToLower(text), name)
	}
	assert.Contains(t, output(t), "Ship drum D-07 by 2027-02-11", "180 days from 16 August, the first counted") // Source: 40-cfr-262-16.
	assert.Contains(t, output(t), "very small quantity generator, VSQG")
	late := output(t, "-on", "2027-02-12")
	assert.Contains(t, late, "Ship drum D-07 at once: its last day was 2027-02-11")
}

// head is the header of all columns.
func head() string { return strings.Join(header[:], ",") + "\n" }

const good = "W-1,0,1,2026-03-02,drained fuel,hazardous,1.5,kg,weighed,DM 1,Ann,2026-03-02T16:00:00Z,,,,,,,,,,\n"

func european() string {
	text := strings.NewReplacer(",", ";", ".", ",").Replace(head())
	return text + "W-1;0;1;2026-03-02;drained fuel;hazardous;1,5;kg;assumed;DM 1;Ann;2026-03-02T16:00:00+01:00;;1,25;1,75;;;;;;;\n"
}

func loaded(text string, semicolon bool) (*books, error) {
	var b books
	return &b, b.load("x.csv", strings.NewReader(text), semicolon)
}

func TestSemicolonsAndDecimalCommasOnlyWhenAsked(t *testing.T) {
	out, problems, code := outcome(european(), "-semicolon", "-on", "2026-03-31", "-")
	require.Equal(t, 0, code, problems)
	assert.Contains(t, out, "1.5 kg (1.25 kg to 1.75 kg), assumed")
	_, problems, code = outcome(european(), "-")
	assert.Equal(t, 1, code)
	assert.Contains(t, problems, "-semicolon")

	// A decimal comma in a file of commas is a field too many, or, quoted, an ambiguous number.
	_, err := loaded(head()+strings.Replace(good, "1.5", "1,5", 1), false)
	require.ErrorContains(t, err, "x.csv: line 2: 23 fields")
	_, err = loaded(head()+strings.Replace(good, "1.5", `"1,5"`, 1), false)
	require.ErrorIs(t, err, units.ErrAmbiguous)
	_, err = loaded(strings.Replace(european(), "1,5;", "1.500;", 1), true)
	require.Error(t, err, "a point among decimal commas")
	_, err = loaded(strings.Replace(european(), "1,5;", "1.500,5;", 1), true)
	require.Error(t, err, "a point and a comma")
	_, err = loaded(strings.Replace(european(), "1,5;", "1,500,0;", 1), true)
	require.ErrorIs(t, err, units.ErrAmbiguous, "a second comma")
}

// Whatever is refused is refused with its line, and nothing is printed.
func TestRowsRefused(t *testing.T) {
	_, err := loaded("\ufeff# Invented\n"+head()+good, false)
	require.NoError(t, err, "a spreadsheet's mark is passed over")
	opened := ",,,2026-03-01,,,17,kg,weighed,DM 1,Ann,2026-03-01T08:00:00Z,opened,,,,,DM,208 L,200 L,400 kg,\n"
	_, err = loaded(head()+opened, false)
	require.NoError(t, err)
	for name, c := range map[string]struct {
		row  string
		line int
	}{
		"nothing":               {"", 0},
		"no header":             {good, 1},
		"other header":          {strings.Replace(head(), "best", "most", 1), 1},
		"unknown column":        {strings.Replace(head(), "mark", "marks", 1), 1},
		"a column twice":        {strings.Replace(head(), "mark", "job", 1), 1},
		"a field too few":       {head() + strings.Replace(good, ",,,,\n", ",,,\n", 1), 2},
		"revision":              {head() + strings.Replace(good, "W-1,0", "W-1,x", 1), 2},
		"negative revision":     {head() + strings.Replace(good, "W-1,0", "W-1,-1", 1), 2},
		"line":                  {head() + strings.Replace(good, "0,1,", "0,1.5,", 1), 2},
		"line 0":                {head() + strings.Replace(good, "0,1,", "0,0,", 1), 2},
		"date":                  {head() + strings.Replace(good, "2026-03-02,", "02.03.2026,", 1), 2},
		"no date":               {head() + strings.Replace(good, "2026-03-02,", ",", 1), 2},
		"stream":                {head() + strings.Replace(good, "drained fuel", "fuel", 1), 2},
		"determination":         {head() + strings.Replace(good, "hazardous", "", 1), 2},
		"mass":                  {head() + strings.Replace(good, "1.5", "", 1), 2},
		"no volume's unit":      {head() + strings.Replace(good, "kg", "kWh", 1), 2},
		"volume of water mix":   {head() + strings.NewReplacer("kg", "L", "drained fuel", "fuel-water mix").Replace(good), 2},
		"volume, temperature":   {head() + strings.Replace(good, "kg", "L", 1), 2},
		"temperature of a mass": {head() + strings.Replace(good, "Z,,,,", "Z,,,,25 °C", 1), 2},
		"ton":                   {head() + strings.Replace(good, "kg", "ton", 1), 2},
		"only low":              {head() + strings.Replace(good, "Z,,,", "Z,,1,", 1), 2},
		"low above best":        {head() + strings.Replace(good, "Z,,,,", "Z,,2,3,", 1), 2},
		"only high":             {head() + strings.Replace(good, "Z,,,,", "Z,,,2,", 1), 2},
		"provenance":            {head() + strings.Replace(good, "weighed", "guessed", 1), 2},
		"container":             {head() + strings.Replace(good, "DM 1", " DM 1", 1), 2},
		"nobody":                {head() + strings.Replace(good, "Ann", "", 1), 2},
		"at no time":            {head() + strings.Replace(good, "2026-03-02T16:00:00Z", "", 1), 2},
		"in no zone":            {head() + strings.Replace(good, ":00Z", ":00", 1), 2},
		"a bare quote":          {head() + good + strings.Replace(good, "DM 1", `D"M"`, 1), 3},
		"quotes across lines":   {head() + good + strings.Replace(good, "DM 1", "\"DM\n1\"", 1), 3},
		"a quote left open":     {head() + good + strings.Replace(good, "DM 1", `"DM 1`, 1) + good, 3},
		"long":                  {head() + strings.Replace(good, "1.5", strings.Repeat("9", 1<<16), 1), 2},
		"withdrawn with mass":   {head() + "W-1,1,,,,,1.5,,,,Ann,2026-03-02T16:00:00Z,withdrawn,,,,,,,,,\n", 2},
		"what":                  {head() + strings.Replace(good, "Z,,", "Z,emptied,", 1), 2},
		"opened with a job":     {head() + "W-1" + opened, 2},
		"opened without label":  {head() + strings.Replace(opened, "DM 1", "", 1), 2},
		"limit above the brim":  {head() + strings.Replace(opened, "200 L", "209 L", 1), 2},
		"holds in kg":           {head() + strings.Replace(opened, "208 L", "208 kg", 1), 2},
		"holds no unit":         {head() + strings.Replace(opened, "208 L", "208", 1), 2},
		"mark in litres":        {head() + strings.Replace(opened, "400 kg", "400 L", 1), 2},
		"weighed as a drum":     {head() + strings.NewReplacer("opened", "weighed").Replace(opened), 2},
		"weighed with nothing":  {head() + ",,,2026-03-01,,,,,,DM 1,Ann,2026-03-01T08:00:00Z,weighed,,,,,,,,,\n", 2},
		"closed with a paper":   {head() + ",,,2026-03-01,,,,,,DM 1,Ann,2026-03-01T08:00:00Z,closed,,,,,,,,,7\n", 2},
	} {
		for _, remark := range []string{"", "# a remark\n# \"another\n"} {
			b, err := loaded(remark+c.row, false)
			require.Error(t, err, name)
			assert.Less(t, len(err.Error()), 600, name)
			if c.line > 0 {
				assert.Contains(t, err.Error(), fmt.Sprintf("x.csv: line %d:", c.line+strings.Count(remark, "\n")), name)
			}
			_ = b
		}
		out, _, code := outcome(c.row, "-")
		assert.Equal(t, 1, code, name)
		assert.Empty(t, out, name)
	}
}

// What contradicts itself is said with its line and ends with 1; the page is there, nothing is lost and nothing
// counted twice.
func TestDoubtsHaveTheirLine(t *testing.T) {
	drum := func(what, day, rest string) string {
		return ",,," + day + ",,," + rest + ",DM 1,Ann," + day + "T08:00:00Z," + what + ",,,,,,,,,\n"
	}
	const none = ",,"
	for name, c := range map[string]struct{ rows, want string }{
		"below the tare":        {drum("opened", "2026-03-01", "17,kg,weighed") + good + drum("weighed", "2026-03-03", "15,kg,weighed"), "less than its tare: the weight doesn't count; x.csv: line 4"},
		"shipped twice":         {drum("opened", "2026-03-01", none) + good + drum("shipped", "2026-03-03", none) + drum("shipped", "2026-03-04", none), "was shipped on 2026-03-03 and on 2026-03-04: 2026-03-03 counts; x.csv: line 5"},
		"into a closed drum":    {drum("opened", "2026-02-01", none) + drum("closed", "2026-03-01", none) + good, "went into drum DM 1 after 2026-03-01, when it was closed; x.csv: line 4"},
		"correction of nothing": {strings.Replace(good, "W-1,0", "W-1,1", 1), "W-1 has revision 1, and there is nothing that it corrects; x.csv: line 2"},
		"a slow clock":          {strings.Replace(good, "2026-03-02T", "2026-02-27T", 1), "put down on 2026-02-27, before its day, 2026-03-02: look at the clock of Ann; x.csv: line 2"},
		"a clock that differs":  {good + strings.NewReplacer("W-1,0", "W-1,1", "T16", "T15").Replace(good), "W-1, revision 1, was put down before what it corrects: look at the clock of Ann; x.csv: line 3"},
		"two of one revision":   {strings.Replace(good, "1.5", "1.4", 1) + good, "Two entries for W-1, line 1, of one revision"},
	} {
		path := stored(t, "x.csv", head()+c.rows)
		out, problems, code := outcome("", "-on", "2026-03-31", path)
		assert.Equal(t, 1, code, name)
		said := strings.ReplaceAll(problems, path, "x.csv")
		assert.Contains(t, said, c.want, name)
		assert.Contains(t, out, "Hazardous as determined: 1.5 kg, weighed", name)
		assert.Contains(t, out, "To look into", name)
	}
}

// The line is that of the file it is in, whichever of several.
func TestDoubtsOfSeveralFilesHaveTheirLine(t *testing.T) {
	fine, wrong := stored(t, "fine.csv", "# a remark\n"+head()+good), stored(t, "wrong.csv", head()+strings.NewReplacer("W-1,0", "W-2,1").Replace(good))
	for _, files := range [][]string{{fine, wrong}, {wrong, fine}, {fine, wrong, fine}} {
		_, problems, code := outcome("", append([]string{"-on", "2026-03-31"}, files...)...)
		assert.Equal(t, 1, code)
		assert.Equal(t, "wastemonth: W-2 has revision 1, and there is nothing that it corrects; "+wrong+": line 2\n", problems)
	}
}

// Two vans' files in either order, one of them twice, and the ledger that comes of them: one page.
func TestAnyOrderOneAnswer(t *testing.T) {
	lines := strings.SplitAfter(invented, "\n")
	at := strings.Index(invented, "what,job")
	heading := lines[strings.Count(invented[:at], "\n")]
	rows := lines[strings.Count(invented[:at], "\n")+1:]
	one, two := stored(t, "one.csv", heading+strings.Join(rows[:11], "")), stored(t, "two.csv", heading+strings.Join(rows[11:], ""))
	ledger := stored(t, "ledger.jsonl", output(t, "-format", "ledger"))
	_, whole, _ := strings.Cut(output(t), "To do first")
	count := regexp.MustCompile(`Postings read: .*`)
	whole = count.ReplaceAllString(whole, "")
	for _, files := range [][]string{{one, two}, {two, one}, {two, one, two}, {ledger}, {ledger, one}, {two, ledger, ledger}} {
		_, got, _ := strings.Cut(output(t, append([]string{"-on", today.String()}, files...)...), "To do first")
		assert.Equal(t, whole, count.ReplaceAllString(got, ""), "%v", files)
	}
	again := output(t, "-format", "ledger", two, ledger, one)
	assert.Equal(t, output(t, "-format", "ledger"), again, "the same bytes")
}

// A line of a ledger that isn't one has its number; so has that of a second file.
func TestLedgerLinesRefused(t *testing.T) {
	ledger := output(t, "-format", "ledger")
	for name, change := range map[string][2]string{"torn": {ledger[len(ledger)-20:], ""}, "unknown": {`"by":"van 2"`, `"from":"van 2"`}, "later": {`"version":1`, `"version":2`}} {
		path := stored(t, "l.jsonl", strings.Replace(ledger, change[0], change[1], 1))
		out, problems, code := outcome("", path)
		assert.Equal(t, 1, code, name)
		assert.Empty(t, out, name)
		assert.Regexp(t, `l\.jsonl: line \d+: `, problems, name)
	}
	_, problems, _ := outcome("", stored(t, "good.csv", head()+good), stored(t, "bad.csv", head()+good+"x\n"))
	assert.Contains(t, problems, "bad.csv: line 3: 1 fields")
}

// A table's fields are no formulas, whatever the labels are.
func TestNoFieldIsAFormula(t *testing.T) {
	for _, label := range []string{"=1+1", "+1", "-1", "@x", "＝1"} {
		row := strings.Replace(good, "DM 1", label, 1)
		out, problems, _ := outcome(head()+strings.NewReplacer("hazardous", "undetermined", "drained fuel", "absorbents").Replace(row)+
			",,,2026-03-01,,,,,,"+label+",Ann,2026-03-01T08:00:00Z,opened,,,,,,,,,\n", "-format", "csv", "-")
		table, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		require.NoError(t, err, problems)
		found := false
		for _, fields := range table {
			for _, field := range fields {
				assert.NotRegexp(t, `^[=+\-@\t\r＝＋－＠]`, field)
				found = found || field == "'"+label
			}
		}
		assert.True(t, found, label)
	}
}

// What is there never prints as nothing.
func TestNothingPrintsAsZeroThatIsnt(t *testing.T) {
	w, err := speak("en")
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		text := "0." + strings.Repeat("0", rapid.IntRange(0, 50).Draw(t, "zeros")) + fmt.Sprint(rapid.IntRange(1, 9999).Draw(t, "digits")) + " kg"
		printed := w.value(drain.MustExactly(units.MustParseMass(text), drain.Weighed))
		assert.Regexp(t, `[1-9]`, printed)
	})
	small := strings.Replace(good, "1.5", "0.0004", 1)
	out, _, code := outcome(head()+small, "-on", "2026-03-31", "-")
	require.Equal(t, 0, code)
	assert.NotRegexp(t, `[^\d.]0(\.0+)? (kg|L)`, out)

	shipped := head() + strings.Replace(good, "1.5", "0.2", 1) + ",,,2026-03-01,,,,,,DM 1,Ann,2026-03-01T08:00:00Z,opened,,,,,DM,,,,\n" +
		",,,2026-03-09,,,,,,DM 1,Ann,2026-03-09T08:00:00Z,shipped,,,,,,,,,7\n"
	for _, args := range [][]string{{"-unit", "K"}, {"-unit", "P"}} {
		out, problems, code := outcome(shipped, append(args, "-on", "2026-03-31", "-")...)
		require.Equal(t, 0, code, problems)
		assert.Contains(t, strings.Join(strings.Fields(out), " "), "0.2 kg, weighed of drained fuel rounds to 0")
		assert.NotContains(t, out, "metal drum, 0")
	}
}

// Undetermined waste is no line of a paper, nor is a mixture, nor what the generator determined not to count.
func TestAShipmentsPaper(t *testing.T) {
	rows := head()
	for n, what := range []string{"drained fuel,hazardous", "drained fuel,hazardous", "gaskets,hazardous", "gaskets,undetermined", "absorbents,not counted", "drained fuel,hazardous"} {
		label, kind := fmt.Sprintf("D-%d", n), "DM"
		if n == 5 {
			kind = "barrel"
		}
		rows += fmt.Sprintf("W-%d,0,1,2026-03-02,%s,20,kg,weighed,%s,Ann,2026-03-02T16:00:00Z,,,,,,,,,,\n", n, what, label) +
			",,,2026-03-01,,,,,," + label + ",Ann,2026-03-01T08:00:00Z,opened,,,,," + kind + ",,,,\n" +
			",,,2026-03-09,,,,,," + label + ",Ann,2026-03-09T08:00:00Z,shipped,,,,,,,,,7\n"
	}
	rows += "W-9,0,1,2026-03-02,absorbents,hazardous,1,kg,weighed,D-2,Ann,2026-03-02T16:00:00Z,,,,,,,,,,\n"
	var b books
	require.NoError(t, b.load("x.csv", strings.NewReader(rows), false))
	for _, european := range []bool{false, true} {
		o, err := look(&b, usfederal.RuleSet(), today, usfederal.Kilograms, european)
		require.NoError(t, err)
		require.Len(t, o.Shipments, 1)
		s := o.Shipments[0]
		assert.Equal(t, []string{"D-0, D-1"}, s.drums, "two drums of one kind with one waste are a line")
		if european {
			require.Len(t, s.Notes, 1)
			assert.Equal(t, "40.0 kg", s.Notes[0].Kilograms.String())
		} else {
			require.Len(t, s.Form, 1)
			assert.EqualValues(t, 40, s.Form[0].Quantity)
			assert.Equal(t, 2, s.Form[0].Containers)
		}
		var codes []string
		for _, a := range s.NotOnIt {
			codes = append(codes, a.Drums[0]+" "+a.Code)
		}
		assert.Equal(t, []string{"D-2 ship.mixed", "D-3 ship.undetermined", "D-4 ship.other", "D-5 ship.kind"}, codes)
	}
}

// The label says what is in the drum and whom to ask, and determines nothing.
func TestLabel(t *testing.T) {
	text := output(t, "-label", "D-07")
	assert.Contains(t, text, "drained fuel: hazardous waste, as the generator determined")
	assert.Contains(t, text, ">2026-08-16<")
	assert.Contains(t, text, ">the office<")
	for _, label := range []string{"B-02", "D-08", "D-09", "B-01"} {
		text := output(t, "-label", label)
		assert.NotRegexp(t, `non-?hazardous|not hazardous|harmless`, strings.ToLower(text))
		_, body, _ := strings.Cut(text, "</style>")
		assert.NotContains(t, body, "{")
	}
	_, problems, code := outcome("", "-label", "D-99")
	assert.Equal(t, 1, code)
	assert.Contains(t, problems, "no such drum")
	out, _, _ := outcome(head()+strings.Replace(good, "DM 1", "<b>", 1), "-label", "<b>", "-ask", "<i>", "-")
	assert.NotContains(t, out, "<b>")
	assert.NotContains(t, out, "<i>")
	assert.Contains(t, out, "&lt;b&gt;")
}

// The program asks for no code that isn't in the words of every language.
func TestWords(t *testing.T) {
	all, err := catalogue.Embedded(files)
	require.NoError(t, err)
	assert.Equal(t, []string{"en", "es"}, catalogue.Tags(all))
	english := all[0].Sentences
	var source strings.Builder
	for _, name := range []string{"page.go", "print.go", "office.go", "words.go", "../../drain/waste/notice.go", "../../drain/waste/drum.go"} {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		source.Write(text)
	}
	codes := regexp.MustCompile(`"((?:do|ask|doubt|change|ship|label|tier|hold|drum|period|counted|shipment)\.?[a-z-]+(?:\.[a-z-]+)?)"`)
	asked := 0
	for _, m := range codes.FindAllStringSubmatch(source.String(), -1) {
		if strings.Contains(m[1], ".") && !strings.HasSuffix(m[1], ".") && m[1] != "period.month" && m[1] != "label.title" {
			assert.NotEmpty(t, english[m[1]], m[1])
			asked++
		}
	}
	assert.Greater(t, asked, 60)
	_, problems, code := outcome("", "-lang", "xx")
	assert.Equal(t, 2, code)
	assert.Contains(t, problems, "no words/xx.txt")
}

// Nothing on the pages of a month comes from anywhere but the catalogue, the input and the rule set: in a language with
// letters of its own no other word is seen.
func TestPseudoMonth(t *testing.T) {
	b, o := demo(t)
	english, err := speak("en")
	require.NoError(t, err)
	w := words{&catalogue.Catalogue{Sentences: map[string]string{}}}
	for code, sentence := range english.Sentences {
		in := false
		w.Sentences[code] = strings.Map(func(r rune) rune {
			in = r == '{' || in && r != '}'
			if !in && unicode.IsLetter(r) {
				return 'ж'
			}
			return r
		}, sentence)
	}
	latin := regexp.MustCompile(`\p{Latin}+`)
	rules, err := json.Marshal(usfederal.RuleSet())
	require.NoError(t, err)
	hash, err := usfederal.RuleSet().Hash()
	require.NoError(t, err)
	known := map[string]bool{}
	for _, word := range latin.FindAllString(invented+string(rules)+" kg L lb "+hash, -1) {
		known[word] = true
	}
	check := func(what, text string) {
		for _, word := range latin.FindAllString(text, -1) {
			if !known[word] {
				known[word] = true
				t.Errorf("%s: %q", what, word)
			}
		}
	}
	tags := regexp.MustCompile(`(?s)<(style|title)>.*?</(style|title)>|<[^>]*>`)
	var text, page strings.Builder
	require.NoError(t, o.page(w, false).text(&text))
	check("text", text.String())
	require.NoError(t, o.page(w, true).html(&page, "qps"))
	check("page", html.UnescapeString(tags.ReplaceAllString(page.String(), " ")))
	assert.Greater(t, strings.Count(text.String(), "ж"), 500)
	assert.NotZero(t, b.read)
	for _, d := range o.Drums {
		var label strings.Builder
		require.NoError(t, o.label(w, d.Container.ID, "Ann", "qps", &label))
		check("label of "+d.Container.ID, html.UnescapeString(tags.ReplaceAllString(label.String(), " ")))
	}
}

// JSON has codes and values, and reads as JSON.
func TestJSON(t *testing.T) {
	var o struct {
		Invented bool           `json:"invented"`
		ToDo     []waste.Notice `json:"toDo"`
		Period   waste.Statement
	}
	require.NoError(t, json.Unmarshal([]byte(output(t, "-format", "json")), &o))
	assert.True(t, o.Invented)
	assert.Equal(t, "do.ship", o.ToDo[0].Code)
	assert.Equal(t, "98.59574706 kg", o.Period.Hazardous.Best.String())
}

// A derived set as a file may count by another period than a month.
func TestASetAsAFile(t *testing.T) {
	rules, err := usfederal.RuleSet().Derive("Invented State", today)
	require.NoError(t, err)
	rules.Period = waste.Period{Months: 3}
	data, err := json.Marshal(rules)
	require.NoError(t, err)
	text := output(t, "-set", stored(t, "rules.json", string(data)))
	assert.Contains(t, text, "By what is entered for 2026-10-01 to 2026-12-31")
	_, problems, code := outcome("", "-set", stored(t, "rules.json", "{}"))
	assert.Equal(t, 1, code)
	assert.Contains(t, problems, "rule set")
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestHowItEnds(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
	}{
		{nil, 0}, {[]string{"-"}, 0}, {[]string{"-h"}, 0}, {[]string{"-nothing"}, 2}, {[]string{"-set", "mars"}, 2}, {[]string{"-unit", "kg"}, 2}, {[]string{"-unit"}, 2},
		{[]string{"-format", "pdf"}, 2}, {[]string{"-on", "tomorrow"}, 2}, {[]string{"no such file.csv"}, 1}, {[]string{"-semicolon", "-"}, 1},
	} {
		out, problems, code := outcome(invented, c.args...)
		assert.Equal(t, c.code, code, "%v: %s", c.args, problems)
		assert.Equal(t, code == 0, out != "", "%v: whole or absent", c.args)
		assert.Equal(t, code != 0, problems != "", "%v", c.args)
	}
	var problems strings.Builder
	assert.Equal(t, 1, ended(nil, nil, full{}, &problems, false, today))
	assert.Contains(t, problems.String(), "no space left")
	out, _, _ := outcome(invented, "-")
	assert.Equal(t, output(t), out)
}

// On a terminal it says how far it is, and only there.
func TestProgress(t *testing.T) {
	for _, terminal := range []bool{false, true} {
		var out, problems strings.Builder
		assert.Equal(t, 0, ended([]string{"-on", "2027-01-01", "-"}, &generated{n: 100_001}, &out, &problems, terminal, today), problems.String())
		assert.Equal(t, map[bool]string{true: "\r50000 postings read\r100000 postings read\n"}[terminal], problems.String())
		assert.Contains(t, out.String(), "Postings read: 100001; sent again: 0")
	}
}

// A job's number may begin with #: behind the header every line is a row.
func TestNoRowIsPassedOver(t *testing.T) {
	b, err := loaded("# invented\n# \"quoted\n"+head()+strings.Replace(good, "W-1", "#12", 1), false)
	require.NoError(t, err)
	assert.True(t, b.invented)
	for e := range b.Entries() {
		assert.Equal(t, "#12", e.Job)
	}
	assert.Equal(t, 1, b.read)
	_, err = loaded("# invented\n"+head()+good+"# a remark\n", false)
	require.ErrorContains(t, err, "line 4")
}

// commas are without end, and counted.
type commas struct{ read int }

func (c *commas) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ','
	}
	c.read += len(p)
	return len(p), nil
}

func TestARowIsBounded(t *testing.T) {
	for start, want := range map[string]string{head(): "x: line 2: longer than 64 KiB", `{"version":1,`: "x: line 1: posting: 65536 bytes of text; want at most 16384 bytes"} {
		endless := &commas{}
		var b books
		err := b.load("x", io.MultiReader(strings.NewReader(start), endless), false)
		require.ErrorContains(t, err, want)
		assert.Less(t, endless.read, 1<<20)
	}
	_, err := loaded(head()+`W-1,"`+strings.Repeat("\n", 1<<20), false)
	require.ErrorContains(t, err, "line 2: ends within quotation marks")
}

func FuzzLoad(f *testing.F) {
	f.Add(invented, false)
	f.Add(european(), true)
	f.Add(`{"version":1,"at":"2026-03-04T16:30:00Z","by":"Ann","withdrawal":{"job":"J","revision":1}}`, false)
	f.Fuzz(func(t *testing.T, text string, semicolon bool) {
		b, err := loaded(text, semicolon)
		if err != nil {
			assert.NotEmpty(t, err.Error())
			return
		}
		o, err := look(b, usfederal.RuleSet(), today, usfederal.Kilograms, false)
		if err != nil {
			require.ErrorIs(t, err, units.ErrRange, "more than 10^24 kg")
			return
		}
		w, err := speak("en")
		require.NoError(t, err)
		require.NoError(t, o.page(w, true).csv(new(strings.Builder)))
		var page, shown strings.Builder
		require.NoError(t, o.page(w, true).html(&page, "en"))
		assert.NotContains(t, page.String(), "<script")
		require.NoError(t, o.page(w, true).text(&shown))
		assert.Empty(t, plain.Hidden(strings.ReplaceAll(shown.String(), "\n", " ")))
	})
}
