package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func output(t *testing.T, args ...string) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, run(args, strings.NewReader(""), &b))
	return b.String()
}

// file writes a CSV to read.
func file(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "month.csv")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// After a wanted change: go run . >testdata/us.txt; go run . -set eu >testdata/eu.txt; read both. The
// figures in them are checked by hand below.
func TestWholeOutput(t *testing.T) {
	for name, args := range map[string][]string{"us.txt": nil, "eu.txt": {"-set", "eu"}} {
		want, err := os.ReadFile(filepath.Join("testdata", name))
		require.NoError(t, err)
		assert.Equal(t, strings.ReplaceAll(string(want), "\r\n", "\n"), output(t, args...), name)
	}
}

// The sums of month.csv by hand: 31.20 kg, and 138.0 lb of 0.45359237 kg, and 0.9 kg are hazardous;
// nothing of the first W-103, of W-104 or of the second copy of W-102 is in them.
func TestTotalsByHand(t *testing.T) {
	l, err := read(strings.NewReader(invented), false)
	require.NoError(t, err)
	s, err := l.Statement(2026, time.March, usfederal.RuleSet())
	require.NoError(t, err)
	assert.Equal(t, "94.69574706 kg", s.Hazardous.Best.String(), "31.20 + 62.59574706 + 0.9")
	assert.Equal(t, "6.980388555 kg", s.Undetermined.Best.String(), "1.52 + 0.680388555 + 0.20 + 3.1 + 1.48")
	assert.Equal(t, "VSQG", s.Lowest, "94.7 kg")
	assert.Equal(t, "SQG", s.Highest, "94.7 kg and up to 7.8 kg")
	s, err = l.Statement(2026, time.April, usfederal.RuleSet())
	require.NoError(t, err)
	assert.Equal(t, "8.4 kg", s.NotCounted.Best.String())
}

func TestLinesInPounds(t *testing.T) {
	text := output(t, "-unit", "P")
	assert.Contains(t, text, "quantity 207 P (pounds)", "93.796 kg are 206.8 lb")
	assert.Contains(t, text, "quantity 0 P (pounds)", "0.20 kg are 0.44 lb")
}

func european() string {
	text := strings.NewReplacer(",", ";", ".", ",").Replace(strings.Join(header[:], ",") + "\n")
	return text + "W-1;0;1;2026-03-02;drained fuel;hazardous;1,25;1,5;1,75;kg;assumed;DM 1;208,2 L\n"
}

func TestSemicolonsAndDecimalCommasOnlyWhenAsked(t *testing.T) {
	path := file(t, european())
	assert.Contains(t, output(t, "-semicolon", path), "1.5 kg (1.25 kg to 1.75 kg, assumed)")
	require.ErrorContains(t, run([]string{path}, strings.NewReader(""), &strings.Builder{}), "-semicolon")

	// A decimal comma in a file of commas is a field too many, or, quoted, an ambiguous number.
	head := strings.Join(header[:], ",") + "\n"
	_, err := read(strings.NewReader(head+"W-1,0,1,2026-03-02,drained fuel,hazardous,,1,5,,kg,weighed,DM 1,208 L\n"), false)
	require.ErrorContains(t, err, "line 2: 14 fields")
	_, err = read(strings.NewReader(head+`W-1,0,1,2026-03-02,drained fuel,hazardous,,"1,5",,kg,weighed,DM 1,`), false)
	require.ErrorIs(t, err, units.ErrAmbiguous)
	_, err = read(strings.NewReader(strings.Replace(european(), "1,5;", "1.500;", 1)), true)
	require.ErrorContains(t, err, "a point among decimal commas")
	_, err = read(strings.NewReader(strings.Replace(european(), "1,5;", "1,500,0;", 1)), true)
	require.ErrorIs(t, err, units.ErrAmbiguous, "a second comma")
}

func TestRowsRefused(t *testing.T) {
	head := strings.Join(header[:], ",") + "\n"
	const good = "W-1,0,1,2026-03-02,drained fuel,hazardous,,1.5,,kg,weighed,DM 1,208 L\n"
	_, err := read(strings.NewReader("\ufeff"+head+good), false)
	require.NoError(t, err, "a spreadsheet's mark is passed over")
	for name, text := range map[string]string{
		"nothing":             "",
		"no header":           good,
		"other header":        strings.Replace(head, "low", "least", 1),
		"a field too few":     head + strings.Replace(good, ",208 L", "", 1),
		"revision":            head + strings.Replace(good, "W-1,0", "W-1,x", 1),
		"negative revision":   head + strings.Replace(good, "W-1,0", "W-1,-1", 1),
		"line":                head + strings.Replace(good, "0,1,", "0,1.5,", 1),
		"line 0":              head + strings.Replace(good, "0,1,", "0,0,", 1),
		"date":                head + strings.Replace(good, "2026-03-02", "02.03.2026", 1),
		"stream":              head + strings.Replace(good, "drained fuel", "fuel", 1),
		"determination":       head + strings.Replace(good, "hazardous", "", 1),
		"mass":                head + strings.Replace(good, "1.5", "", 1),
		"unit":                head + strings.Replace(good, "kg", "L", 1),
		"ton":                 head + strings.Replace(good, "kg", "ton", 1),
		"only low":            head + strings.Replace(good, ",,1.5", ",1,1.5", 1),
		"low above best":      head + strings.Replace(good, ",1.5,,", ",2,1.5,3,", 1),
		"only high":           head + strings.Replace(good, "1.5,,", "1.5,2,", 1),
		"provenance":          head + strings.Replace(good, "weighed", "guessed", 1),
		"container":           head + strings.Replace(good, "DM 1", " DM 1", 1),
		"quote":               head + strings.Replace(good, "DM 1", `D"M`, 1),
		"long":                head + strings.Replace(good, "1.5", strings.Repeat("9", 1<<16), 1),
		"changed":             head + good + strings.Replace(good, "1.5", "1.6", 1),
		"withdrawn with mass": head + "W-1,1,,,withdrawn,,,1.5,,,,,\n",
		"withdrawn line":      head + good + "W-1,0,,,withdrawn,,,,,,,,\n",
	} {
		_, err := read(strings.NewReader(text), false)
		require.Error(t, err, name)
		assert.Less(t, len(err.Error()), 600, name)
	}
}

func TestArgumentsRefused(t *testing.T) {
	for _, args := range [][]string{{"-set", "mars"}, {"-unit", "kg"}, {"-unit"}, {"no such file.csv"}} {
		require.Error(t, run(args, strings.NewReader(""), &strings.Builder{}), "%v", args)
	}
}

func TestWhatCannotBeALineSaysWhy(t *testing.T) {
	head := strings.Join(header[:], ",") + "\n"
	path := file(t, head+"W-1,0,1,2026-03-02,drained fuel,hazardous,,1.5,,kg,weighed,,\n"+
		"W-1,0,2,2026-03-02,gaskets,hazardous,,1.5,,kg,weighed,X,\n")
	assert.Contains(t, output(t, path), "No line for drained fuel (hazardous): batch: containers: none given")
	assert.Contains(t, output(t, path), "No line for gaskets (hazardous): container \"X\": want a label that begins with its code")
	assert.Contains(t, output(t, "-set", "eu", path), "No line for drained fuel (hazardous)")
	assert.Contains(t, output(t, "-unit", "G", path), "No line for gaskets")
}

// 206 kg of fuel are 222 L and more, which no drum of 208 L holds, whatever they were determined to be
// and in however many rows and months they came; a mark binds what is no liquid.
func TestMoreThanADrumHolds(t *testing.T) {
	head := strings.Join(header[:], ",") + "\n"
	rows := func(first, second, holds string) string {
		return file(t, head+"W-1,0,1,2026-03-02,"+first+",,kg,weighed,DM 1,"+holds+"\nW-2,0,1,2026-04-02,"+second+",,kg,weighed,DM 1,\n")
	}
	for name, c := range map[string]struct{ path, want string }{
		"206 kg of fuel": {rows("drained fuel,hazardous,,150", "drained fuel,undetermined,,56", "208 L"), "DM 1 holds 208 L and can't hold the 206 kg"},
		"fuel and water": {rows("drained fuel,hazardous,,150", "fuel-water mix,undetermined,,56", "208 L"), "DM 1 holds 208 L and can't hold the 206 kg"},
		"elements":       {rows("drained element,hazardous,,350", "gaskets,undetermined,,56", "400 kg"), "DM 1 may weigh 400 kg and can't hold the 406 kg"},
		"it fits":        {rows("drained fuel,hazardous,,150", "drained fuel,undetermined,,42", "208 L"), ""},
		"marked, fits":   {rows("drained element,hazardous,,350", "gaskets,undetermined,,49", "400 kg"), ""},
		"not known":      {rows("drained fuel,hazardous,,150", "drained fuel,undetermined,,56", ""), ""},
	} {
		text := output(t, c.path)
		assert.Contains(t, text, c.want, name)
		assert.Equal(t, c.want != "", strings.Contains(text, "can't hold"), name)
	}
	one := file(t, head+"W-1,0,1,2026-03-02,drained fuel,hazardous,,206,,kg,weighed,DM 1,208 L\n")
	for _, rules := range []string{"us", "eu"} {
		text := output(t, "-set", rules, one)
		assert.Contains(t, text, "No line for drained fuel (hazardous): batch: quantity \"206 kg\": more than the containers hold")
		assert.Contains(t, text, "DM 1 holds 208 L and can't hold the 206 kg")
	}
	for _, holds := range []string{"208", "-208 L", "lots", "208 L/min"} {
		_, err := read(strings.NewReader(head+"W-1,0,1,2026-03-02,drained fuel,hazardous,,1,,kg,weighed,DM 1,"+holds+"\n"), false)
		require.Error(t, err, holds)
		assert.Less(t, len(err.Error()), 300)
	}
	_, err := read(strings.NewReader(head+"W-1,0,1,2026-03-02,drained fuel,hazardous,,1,,kg,weighed,DM 1,208 L\nW-1,0,2,2026-03-02,drained fuel,hazardous,,1,,kg,weighed,DM 1,200 L\n"), false)
	require.ErrorContains(t, err, "line 3: DM 1 holds")
	_, err = read(strings.NewReader(head+"W-1,0,1,2026-03-02,drained fuel,hazardous,,1,,kg,weighed,,208 L\n"), false)
	require.ErrorContains(t, err, "without a container")
}

func FuzzRead(f *testing.F) {
	f.Add(invented, false)
	f.Add(european(), true)
	f.Fuzz(func(t *testing.T, text string, semicolon bool) {
		l, err := read(strings.NewReader(text), semicolon)
		if err != nil {
			assert.NotEmpty(t, err.Error())
			return
		}
		again, err := read(strings.NewReader(text), semicolon)
		require.NoError(t, err)
		assert.Equal(t, len(l.Entries()), len(again.Entries()))
		for _, m := range l.Months() {
			if _, err := l.Statement(m.Year, m.Month, usfederal.RuleSet()); err != nil {
				require.ErrorIs(t, err, units.ErrRange, "more than 10^24 kg")
			}
		}
	})
}

// rows is a CSV of n rows, four to a service.
func rows(n int) string {
	var b strings.Builder
	b.WriteString(strings.Join(header[:], ",") + "\n")
	for i := range n {
		fmt.Fprintf(&b, "W-%d,0,%d,2026-03-%02d,%s,hazardous,%d.25,%d.5,%d.75,kg,measured,DM %d,\n",
			i/4, i%4+1, i%31+1, waste.Streams()[i%8], i%9, i%9, i%9, i/400)
	}
	return b.String()
}

// BenchmarkRead reads 100,000 rows and adds them up. The ledger holds 20 MB afterwards
// (HeapAlloc after a collection, linux/amd64).
func BenchmarkRead(b *testing.B) {
	text := rows(100_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		l, err := read(strings.NewReader(text), false)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := l.Statement(2026, time.March, usfederal.RuleSet()); err != nil {
			b.Fatal(err)
		}
	}
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestHowItEnds(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
	}{
		{nil, 0}, {[]string{"-"}, 0}, {[]string{"-h"}, 0}, {[]string{"-nothing"}, 2}, {[]string{"-set", "mars"}, 2}, {[]string{"-unit", "kg"}, 2},
		{[]string{"a.csv", "b.csv"}, 2}, {[]string{"no such file.csv"}, 1}, {[]string{"-semicolon"}, 1},
	} {
		var out, problems strings.Builder
		code := ended(c.args, strings.NewReader(invented), &out, &problems)
		assert.Equal(t, c.code, code, "%v: %s", c.args, &problems)
		assert.Equal(t, code == 0, out.Len() > 0, "%v: whole or absent", c.args)
		assert.Equal(t, code != 0, problems.Len() > 0, "%v", c.args)
	}
	var problems strings.Builder
	assert.Equal(t, 1, ended(nil, nil, full{}, &problems))
	assert.Contains(t, problems.String(), "no space left")
	assert.Equal(t, output(t), func() string {
		var out strings.Builder
		require.NoError(t, run([]string{"-"}, strings.NewReader(invented), &out))
		return out.String()
	}())
}

// A job's number may begin with #: behind the header every line is a row.
func TestNoRowIsPassedOver(t *testing.T) {
	head := strings.Join(header[:], ",") + "\n"
	row := "#12,0,1,2026-03-02,absorbents,hazardous,,1.5,,kg,weighed,DM 1,\n"
	l, err := read(strings.NewReader("# invented\n# \"quoted\n"+head+row), false)
	require.NoError(t, err)
	require.Len(t, l.Entries(), 1)
	assert.Equal(t, "#12", l.Entries()[0].Job)
	_, err = read(strings.NewReader("# invented\n"+head+row+"# a remark\n"), false)
	require.ErrorContains(t, err, "line 4: ")
}

// commas are as many as are asked for.
type commas struct{ read int }

func (c *commas) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ','
	}
	c.read += len(p)
	return len(p), nil
}

func TestARowIsBounded(t *testing.T) {
	head := strings.Join(header[:], ",") + "\n"
	endless := &commas{}
	_, err := read(io.MultiReader(strings.NewReader(head), endless), false)
	require.ErrorContains(t, err, "line 2: longer than 64 KiB")
	assert.Less(t, endless.read, 1<<20)
	_, err = read(strings.NewReader(head+`W-1,"`+strings.Repeat("\n", 1<<20)), false)
	require.ErrorContains(t, err, "line 2: ends within quotation marks")
}
