package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
)

var update = flag.Bool("update", false, "write testdata/demo.* anew, to be read before they are kept")

func call(in string, args ...string) (code int, out, problems string) {
	var o, p bytes.Buffer
	code = run(args, strings.NewReader(in), &o, &p)
	return code, o.String(), p.String()
}

// The sheet of the demonstration job in each format, as it was last read by a person.
func TestDemoSheet(t *testing.T) {
	for name, format := range map[string]string{"demo.txt": "text", "demo.html": "html", "demo.json": "json", "demo.es.txt": "text", "demo.es.html": "html", "demo.es.json": "json"} {
		lang, file := "en", filepath.Join("testdata", name)
		if strings.Contains(name, ".es.") {
			lang = "es"
		}
		code, out, problems := call("", "-format", format, "-lang", lang)
		require.Zero(t, code, problems)
		assert.Empty(t, problems)
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(out), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), out, name)
	}
	_, text, _ := call("", "-format", "text")
	_, usual, _ := call("")
	assert.Equal(t, text, usual, "text unless asked otherwise")
}

func TestJobFromFileAndStandardInput(t *testing.T) {
	_, want, _ := call("")
	code, fromInput, problems := call(string(demo), "-job", "-", "-rules", "demo-rules.json")
	require.Zero(t, code, problems)
	assert.Equal(t, want, fromInput)
	code, fromFile, problems := call("", "-job", "demo.json", "-rules", "demo-rules.json")
	require.Zero(t, code, problems)
	assert.Equal(t, want, fromFile)
}

// A job of ten lines over the card of its machine prints what the long form prints, but for the card's
// name; what is wrong is said with the file that it stands in.
func TestJobOnMachineCard(t *testing.T) {
	job, err := os.ReadFile("demo-job.json")
	require.NoError(t, err)
	assert.LessOrEqual(t, bytes.Count(job, []byte("\n")), 12)
	_, long, _ := call("", "-numbers")
	code, short, problems := call(string(job), "-machine", "demo-machine.json", "-job", "-", "-rules", "demo-rules.json", "-numbers")
	require.Zero(t, code, problems)
	card := "   -   Machine card: Standby generator 2, state of 2026-06.\n"
	assert.Equal(t, 1, strings.Count(short, card))
	assert.Equal(t, long, strings.Replace(short, card, "", 1))

	for _, c := range []struct {
		in, machine string
		code        int
		says        string
	}{
		{strings.Replace(string(job), `"38 °C"`, `"38"`, 1), "demo-machine.json", 1, "standard input on demo-machine.json: job.fuel.caughtAt: "},
		{string(job), "demo.json", 1, "standard input on demo.json: machine.card: missing"},
		{string(job), "none.json", 1, "none.json: open none.json"},
	} {
		code, out, problems := call(c.in, "-machine", c.machine, "-job", "-")
		assert.Equal(t, c.code, code)
		assert.Empty(t, out)
		assert.Contains(t, problems, c.says)
	}
	code, _, problems = call("", "-machine", "demo-machine.json")
	assert.Equal(t, 2, code)
	assert.Contains(t, problems, "name one with -job")
}

// A record is put into words, and first what has become of it.
func TestRecord(t *testing.T) {
	const kept = "../../service/testdata/"
	code, out, problems := call("", "-record", kept+"record.json")
	require.Zero(t, code, problems)
	assert.True(t, strings.HasPrefix(out, "VERIFIED: release "+service.Release+" "), out)
	for _, want := range []string{"Job T-1, revision 1, done 2026-03-09: complete", "stations[0].torque: pass: ", "drained fuel: ", "A leak at any stage fails."} {
		assert.Contains(t, out, want)
	}
	code, out, problems = call("", "-record", kept+"other-release.json")
	require.Zero(t, code, problems)
	assert.True(t, strings.HasPrefix(out, "BY ANOTHER RELEASE, 0.0.9, and not verified"), out)
	assert.Contains(t, out, "stations[0].seated, seat: pass before, now seated\n")
	assert.Contains(t, out, "stations[1].leaks.late, leak.hot: pass before, now no line\n")

	text, err := os.ReadFile(kept + "record.json")
	require.NoError(t, err)
	code, out, problems = call(strings.Replace(string(text), "Invented engine", "Another engine", 1), "-record", "-")
	assert.Equal(t, 1, code)
	assert.Empty(t, out)
	assert.True(t, strings.HasPrefix(problems, "servicesheet: standard input: ALTERED: "), problems)
	code, out, problems = call("{}", "-record", "-")
	assert.Equal(t, 1, code)
	assert.Empty(t, out+strings.TrimPrefix(problems, "servicesheet: standard input: ALTERED: sha256: not the hash of what is here; want the record as it was written\n"))
	code, out, problems = call("", "-record", kept+"record.json", "-lang", "es")
	require.Zero(t, code, problems)
	assert.Contains(t, out, "VERIFICADO")
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "rige el inglés")
	code, _, problems = call("", "-record", kept+"record.json", "-numbers")
	assert.Equal(t, 2, code)
	assert.Contains(t, problems, "-record: with other flags")
}

// Another job has the rules that are named, or none.
func TestRules(t *testing.T) {
	for want, args := range map[string][]string{
		`"sources.rules"`:    {"-job", "demo.json", "-rules", "demo-rules.json"},
		`"sources.no-rules"`: {"-job", "demo.json"},
	} {
		code, out, problems := call("", append(args, "-numbers", "-format", "json")...)
		require.Zero(t, code, problems)
		assert.Contains(t, strings.Join(strings.Fields(out), " "), want)
	}
}

func TestShopUnit(t *testing.T) {
	for unit, want := range map[string]string{
		"ft-lb": ">>> 10.9 to 14.5 ft-lb", "in-lb": ">>> 130 to 175 in-lb", "Nm": ">>> 14.7 to 19.7 N·m",
		"kgf·cm": ">>> 150 to 201 kgf·cm",
	} {
		code, out, problems := call("", "-units", unit)
		require.Zero(t, code, problems)
		assert.Contains(t, out, want)
	}
}

// Each unit says what it measures; what it doesn't measure stays as the job says.
func TestUnitsOfEveryKind(t *testing.T) {
	code, out, problems := call("", "-numbers", "-units", "N·m, L,kg,°F")
	require.Zero(t, code, problems)
	for _, want := range []string{">>> 14.7 to 19.7 N·m", "0.02 / 0.06 / 0.15 L", "1.090 / 1.361 / 1.625 kg"} {
		assert.Contains(t, out, want)
	}
	assert.Contains(t, out, "°F")
	for _, unwanted := range []string{"US gal", " lb", "mL (assumed)"} {
		assert.NotContains(t, out, unwanted)
	}
}

func TestRefusals(t *testing.T) {
	folder := t.TempDir()
	huge := filepath.Join(folder, "huge.json")
	require.NoError(t, os.WriteFile(huge, bytes.Repeat([]byte("x"), 10<<20), 0o644))
	for _, c := range []struct {
		name string
		args []string
		in   string
		code int
		want string
	}{
		{"unknown flag", []string{"-colour"}, "", 2, "flag provided but not defined"},
		{"one argument too many", []string{"demo.json"}, "", 2, "-job"},
		{"ASCII of a page", []string{"-ascii", "-format", "html"}, "", 2, "it is for text"},
		{"unknown language", []string{"-lang", "qaa"}, "", 2, "want en or es"},
		{"unknown format", []string{"-format", "pdf"}, "", 2, "text, html or json"},
		{"unit of another kind", []string{"-units", "bar"}, "", 2, "pressure"},
		{"ambiguous unit", []string{"-units", "nm"}, "", 2, "nautical mile"},
		{"one of several", []string{"-units", "L,gal"}, "", 2, "whose gallon"},
		{"nothing between", []string{"-units", "L,,kg"}, "", 2, "no unit"},
		{"no such file", []string{"-job", filepath.Join(folder, "none.json")}, "", 1, "none.json"},
		{"a folder", []string{"-job", folder}, "", 1, "directory"},
		{"10 MB", []string{"-job", huge}, "", 1, "1 MiB"},
		{"nothing", []string{"-job", "-"}, "", 1, "JSON"},
		{"no such rules", []string{"-rules", filepath.Join(folder, "none.json")}, "", 1, "none.json"},
		{"rules that are a job", []string{"-rules", "demo.json"}, "", 1, "demo.json: "},
		{"two errors", []string{"-job", "-"}, strings.NewReplacer(`"8 L"`, `"2 gal"`, `"843.2 kg/m³"`, `"84 kg/m³"`).Replace(string(demo)), 1, "fuel.density"},
	} {
		code, out, problems := call(c.in, c.args...)
		assert.Equal(t, c.code, code, c.name)
		assert.Empty(t, out, c.name)
		assert.Contains(t, problems, c.want, c.name)
		assert.Less(t, len(problems), 2000, c.name)
	}
	_, _, problems := call(strings.NewReplacer(`"8 L"`, `"2 gal"`, `"843.2 kg/m³"`, `"84 kg/m³"`).Replace(string(demo)), "-job", "-")
	assert.Contains(t, problems, "servicesheet: standard input: shop.panHolds: ", "every line says whose it is")
	assert.Len(t, strings.Split(strings.TrimSpace(problems), "\n"), 2)
}

func TestHelp(t *testing.T) {
	code, _, problems := call("", "-h")
	assert.Zero(t, code)
	assert.Contains(t, problems, "-units UNITS")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, os.ErrClosed }

func TestFullDisk(t *testing.T) {
	var problems bytes.Buffer
	assert.Equal(t, 1, run(nil, nil, full{}, &problems))
	assert.Contains(t, problems.String(), "standard output")
}
