// Package dbcheck takes every value of the library that a database may hold through PostgreSQL and SQLite,
// by every driver, out and back.
package dbcheck

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"flag"
	"fmt"
	"math/big"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	_ "github.com/jackc/pgx/v5/stdlib"
	"github.com/lib/pq"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	_ "modernc.org/sqlite"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

var update = flag.Bool("update", false, "write the table into DEVELOPERS.md")

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// stored is a type with some of its values, and how each way takes them.
type stored struct {
	name string
	ways map[string]func(t *testing.T, d database) // by the names of ways
}

// The ways, in the order of the table.
var ways = []string{"text column", "JSONB column", "field of a struct in JSONB", "NULL into sql.Null", "text[]", "batch copy"}

// database is one driver's.
type database struct {
	name string
	*sql.DB
	jsonb string    // the type of a JSONB column
	own   *pgx.Conn // the driver without database/sql
}

// same compares by what a database would hold.
func same[T any](t *testing.T, want, got T) {
	t.Helper()
	require.Equal(t, must(any(want).(driver.Valuer).Value()), must(any(got).(driver.Valuer).Value()))
}

// reads scans the one column of the one row that a query gives.
func (d database) reads(t *testing.T, into any, query string, arguments ...any) {
	t.Helper()
	if d.own != nil {
		require.NoError(t, d.own.QueryRow(context.Background(), query, arguments...).Scan(into), query)
		return
	}
	require.NoError(t, d.QueryRow(query, arguments...).Scan(into), query)
}

func of[T any](values ...T) stored {
	one := func(t *testing.T, d database, what func(t *testing.T, d database, v T)) {
		for _, v := range values {
			what(t, d, v)
		}
	}
	each := func(what func(t *testing.T, d database, v T)) func(*testing.T, database) {
		return func(t *testing.T, d database) { one(t, d, what) }
	}
	postgres := func(t *testing.T, d database) bool { return d.name != "SQLite" }
	name, _, _ := strings.Cut(fmt.Sprintf("%T", values[0]), "[")
	return stored{name, map[string]func(*testing.T, database){
		"text column": each(func(t *testing.T, d database, v T) {
			var back, bytes T
			d.reads(t, &back, "select cast($1 as text)", v)
			same(t, v, back)
			d.reads(t, &bytes, "select cast(cast($1 as text) as "+map[bool]string{true: "bytea", false: "blob"}[postgres(t, d)]+")", text(v))
			same(t, v, bytes)
		}),
		"JSONB column": each(func(t *testing.T, d database, v T) {
			var back T
			d.reads(t, &back, "select "+d.jsonb, string(must(json.Marshal(v))))
			same(t, v, back)
		}),
		"field of a struct in JSONB": each(func(t *testing.T, d database, v T) {
			type row struct{ V T }
			var text string
			d.reads(t, &text, "select cast("+d.jsonb+" as text)", string(must(json.Marshal(row{v}))))
			var back row
			require.NoError(t, json.Unmarshal([]byte(text), &back))
			same(t, v, back.V)
		}),
		"NULL into sql.Null": each(func(t *testing.T, d database, v T) {
			var back sql.Null[T]
			d.reads(t, &back, "select cast($1 as text)", v)
			require.True(t, back.Valid)
			same(t, v, back.V)
			d.reads(t, &back, "select cast(null as text)")
			require.False(t, back.Valid)
			var bare T
			if d.own == nil {
				require.Error(t, d.QueryRow("select cast(null as text)").Scan(&bare))
			}
		}),
		"text[]": func(t *testing.T, d database) {
			var back []T
			switch {
			case !postgres(t, d):
				return
			case d.name == "lib/pq":
				d.reads(t, pq.Array(&back), "select cast($1 as text[])", pq.Array(values))
			case d.own == nil: // database/sql over pgx knows no arrays of such types: take text
				return
			default:
				d.reads(t, &back, "select cast($1 as text[])", values)
			}
			require.Len(t, back, len(values))
			for i := range values {
				same(t, values[i], back[i])
			}
		},
		"batch copy": func(t *testing.T, d database) {
			if d.own == nil {
				return
			}
			ctx := context.Background()
			_, err := d.own.Exec(ctx, "create temporary table if not exists copied (place int, v text); truncate copied")
			require.NoError(t, err)
			n, err := d.own.CopyFrom(ctx, pgx.Identifier{"copied"}, []string{"place", "v"}, pgx.CopyFromSlice(len(values), func(i int) ([]any, error) { return []any{i, values[i]}, nil }))
			require.NoError(t, err)
			require.EqualValues(t, len(values), n)
			for i, v := range values {
				var back T
				d.reads(t, &back, "select v from copied where place = $1", i)
				same(t, v, back)
			}
		},
	}}
}

// text is the value's own text: the bytes of a column are read as the text is.
func text[T any](v T) string { return fmt.Sprint(must(any(v).(driver.Valuer).Value())) }

// enum is of all the constants that a type writes.
func enum[T ~uint8]() stored {
	var all []T
	for i := range 256 {
		if _, err := any(T(i)).(driver.Valuer).Value(); err == nil {
			all = append(all, T(i))
		}
	}
	return of(all...)
}

func unit[U units.Unit]() stored { return of(every[U]()...) }

func every[U units.Unit]() (all []U) {
	for i := range 256 {
		if _, err := units.FromRat(big.NewRat(1, 1), U(i), 0, units.ToNearestEven); err == nil {
			all = append(all, U(i))
		}
	}
	return all
}

// quantities are some in every unit of a kind.
func quantities[U units.Unit]() stored {
	var all []units.Quantity[U]
	for _, u := range every[U]() {
		for _, x := range []*big.Rat{big.NewRat(1250, 100), big.NewRat(-1, 8), new(big.Rat)} {
			if q, err := units.FromRat(x, u, 3, units.ToNearestEven); err == nil {
				all = append(all, q)
			}
		}
	}
	return of(all...)
}

var all = []stored{
	quantities[units.TorqueUnit](), quantities[units.LengthUnit](), quantities[units.MassUnit](), quantities[units.VolumeUnit](), quantities[units.FlowUnit](),
	quantities[units.DensityUnit](), quantities[units.PressureUnit](), quantities[units.AngleUnit](), quantities[units.ShareUnit](), quantities[units.TemperatureDifferenceUnit](),
	unit[units.TorqueUnit](), unit[units.LengthUnit](), unit[units.MassUnit](), unit[units.VolumeUnit](), unit[units.FlowUnit](),
	unit[units.DensityUnit](), unit[units.PressureUnit](), unit[units.AngleUnit](), unit[units.ShareUnit](), unit[units.TemperatureDifferenceUnit](),
	of(units.MustParseTemperature("15.0 °C"), units.MustParseTemperature("-40 °F"), units.MustParseTemperature("0 K")), enum[units.TemperatureScale](),
	of(torque.MustParseBand("145 to 190 in-lb"), torque.MustParseBand("25 N·m ± 10 %"), torque.MustParseBand("max. 12.50 N·m")),
	enum[torque.Rule](), enum[torque.Acceptance](), enum[torque.DeviationBasis](), enum[torque.Agreement](),
	of(turn.MustParse("3/4 turn"), turn.Turn{}, turn.MustParse("15°")), of(turn.MustParseInstruction("3/4 to 1 turn after gasket contact")),
	of(must(turn.ParseSequence("40 N·m then 45° + 1/8 turn"))), of(turn.MustParseThread("1-12 UNF-2A-LH"), turn.MustParseThread("M20 × 1.5")),
	of(must(turn.ParsePart("1/3")), turn.Part{}), of(must(turn.NewRing([]string{"A", "Ü", "C"}, turn.Clockwise))),
	enum[turn.Hand](), enum[turn.Action](), enum[turn.Rotation](), enum[turn.View](), enum[turn.Datum](), enum[turn.Reach](), enum[turn.Contact](), enum[turn.Match](),
	of(must(drain.Exactly(units.MustParseVolume("1.50 L"), drain.Weighed))), of(must(drain.Exactly(units.MustParseMass("1.50 kg"), drain.Stated))),
	of(must(drain.ParseStatedDensity("35.2 °API"))), of(drain.Duration(0), drain.Duration(90e9), drain.Duration(1)),
	enum[drain.Provenance](), enum[drain.Answer](), enum[drain.Guard](),
	of(waste.MustParseDate("2026-03-31"), waste.MustParseDate("0001-01-01")), of(waste.Zone("Europe/Vienna"), waste.Zone("+01:00")), enum[waste.Stream](), enum[waste.Determination](),
	enum[usfederal.ContainerCode](), enum[usfederal.UnitCode](),
	of(fillPart("half of the bowl"), fillPart("50 %")),
	enum[service.Kind](), enum[service.Side](), enum[service.AdapterKind](), enum[service.Fit](), enum[service.Verdict](), enum[service.Basis](), enum[service.Level](),
}

func fillPart(text string) (f service.FillPart) {
	if err := f.UnmarshalText([]byte(text)); err != nil {
		panic(err)
	}
	return f
}

// databases are what the tests write into and read back from. Sources: postgresql-15, sqlite.
func databases(t *testing.T) []database {
	at := os.Getenv("PGURL")
	require.NotEmpty(t, at, "call the script run, which starts PostgreSQL")
	open := func(name, driver, source, jsonb string) database {
		db, err := sql.Open(driver, source)
		require.NoError(t, err)
		t.Cleanup(func() { db.Close() })
		return database{name: name, DB: db, jsonb: jsonb}
	}
	own, err := pgx.Connect(context.Background(), at)
	require.NoError(t, err)
	t.Cleanup(func() { own.Close(context.Background()) })
	return []database{{name: "pgx", own: own, jsonb: "cast($1::text as jsonb)"}, open("database/sql with pgx", "pgx", at, "cast($1::text as jsonb)"),
		open("lib/pq", "postgres", at, "cast($1::text as jsonb)"), open("SQLite", "sqlite", ":memory:", "json(jsonb($1))")}
}

// Every type, every way, every driver; the table in DEVELOPERS.md says how many types went which way.
func TestOutAndBack(t *testing.T) {
	passed := map[string]map[string]int{}
	dbs := databases(t)
	for _, way := range ways {
		passed[way] = map[string]int{}
		for _, d := range dbs {
			if skipped[way] != nil && !slices.Contains(skipped[way], d.name) {
				continue
			}
			for _, s := range all {
				if t.Run(way+"/"+d.name+"/"+s.name, func(t *testing.T) { s.ways[way](t, d) }) {
					passed[way][d.name]++
				}
			}
		}
	}
	table := "| way, out and back |"
	for _, d := range dbs {
		table += " " + d.name + " |"
	}
	table += "\n|---|" + strings.Repeat("---|", len(dbs)) + "\n"
	for _, way := range ways {
		table += "| " + way + " |"
		for _, d := range dbs {
			if n, there := passed[way][d.name]; there {
				table += fmt.Sprintf(" %d of %d |", n, len(all))
			} else {
				table += " – |"
			}
		}
		table += "\n"
	}
	const begin, end = "<!-- databases: testdata/dbcheck/run -update -->\n", "<!-- end of databases -->"
	text := string(must(os.ReadFile("../../DEVELOPERS.md")))
	before, rest, found := strings.Cut(text, begin)
	old, after, ended := strings.Cut(rest, end)
	require.True(t, found && ended, "DEVELOPERS.md has no place for the table")
	if *update {
		require.NoError(t, os.WriteFile("../../DEVELOPERS.md", []byte(before+begin+table+end+after), 0o644))
		return
	}
	assert.Equal(t, table, old)
}

// skipped lists the drivers that have a way at all, where not all have it.
var skipped = map[string][]string{"text[]": {"pgx", "lib/pq"}, "batch copy": {"pgx"}}

// What the table of encodings says has a column is here.
func TestEveryStoredTypeIsHere(t *testing.T) {
	_, table, _ := strings.Cut(string(must(os.ReadFile("../../DEVELOPERS.md"))), "<!-- encodings:")
	table, _, _ = strings.Cut(table, "\n\n")
	rows := regexp.MustCompile(`(?m)^\| ([a-z]+\.\w+) \|[^|]*\|[^|]*\| (\S+) \|`).FindAllStringSubmatch(table, -1)
	require.Greater(t, len(rows), 15)
	for _, row := range rows {
		here := slices.ContainsFunc(all, func(s stored) bool { return s.name == row[1] })
		assert.Equal(t, row[2] != "–", here || row[1] == "waste.Posting", row[1])
	}
	enums := regexp.MustCompile(`reflect\.TypeFor\[(\w+\.\w+)\]\(\), "`).FindAllStringSubmatch(string(must(os.ReadFile("../../service/encodings_test.go"))), -1)
	require.Greater(t, len(enums), 20)
	for _, row := range enums {
		assert.True(t, slices.ContainsFunc(all, func(s stored) bool { return s.name == row[1] }), row[1])
	}
}

// An enumeration is in a column by its name, whatever the driver: who counts on the constant's number reads
// another thing after the next release.
func TestEnumerationsByName(t *testing.T) {
	for _, d := range databases(t) {
		var text string
		d.reads(t, &text, "select cast($1 as text)", turn.RightHand)
		assert.Equal(t, "right hand", text, d.name)
		d.reads(t, &text, "select cast($1 as text)", units.InchPound)
		assert.Equal(t, "in-lb", text, d.name)
		var hand turn.Hand
		if d.own == nil {
			assert.Error(t, d.QueryRow("select 1").Scan(&hand), d.name)
			var bare units.Torque
			assert.Error(t, d.QueryRow("select cast(12.5 as real)").Scan(&bare), "%s: a number without a unit", d.name)
		}
	}
}

// A date column gives and takes dates; a driver may give its midnight in any form.
func TestDateColumn(t *testing.T) {
	for _, d := range databases(t) {
		day := waste.MustParseDate("2026-03-31")
		var back waste.Date
		if d.name == "SQLite" {
			must(d.Exec("create table dated (on_day date)"))
			must(d.Exec("insert into dated values ($1)", day))
			d.reads(t, &back, "select on_day from dated")
		} else {
			d.reads(t, &back, "select cast($1::text as date)", day.String())
			assert.Equal(t, day, back, d.name)
			var later time.Time
			d.reads(t, &later, "select cast($1::text as date) + 1", day)
			assert.Equal(t, "2026-04-01", later.Format(time.DateOnly), d.name)
		}
		assert.Equal(t, day, back, d.name)
	}
}

// A quantity in a numeric column keeps its places: its number goes in as text, and comes out as text that is
// read with the unit which the column is known to be in.
func TestNumericColumn(t *testing.T) {
	for _, d := range databases(t)[:3] {
		for _, text := range []string{"12.50 N·m", "0.00 N·m", "-3.125 N·m", "1200 N·m", "0.000000000000000000000000000001 N·m"} {
			q := units.MustParseTorque(text)
			number, _, _ := strings.Cut(q.String(), " ")
			var column string
			d.reads(t, &column, "select cast(cast($1::text as numeric) as text)", number)
			back, err := units.ParseTorque(column + " N·m")
			require.NoError(t, err)
			assert.Equal(t, q, back, "%s: %s", d.name, text)
		}
	}
}

// Keys sort in the database as quantities compare.
func TestSortKeys(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	all := every[units.TorqueUnit]()
	byKey := map[string]units.Torque{}
	var keys []string
	for range 2000 {
		q, err := units.FromRat(big.NewRat(random.Int64N(2_000_000)-1_000_000, 1+random.Int64N(1000)), all[random.IntN(len(all))], random.IntN(12), units.ToNearestEven)
		require.NoError(t, err)
		if _, there := byKey[q.SortKey()]; !there {
			keys = append(keys, q.SortKey())
			byKey[q.SortKey()] = q
		}
		require.True(t, q.Equal(byKey[q.SortKey()]))
	}
	for _, d := range databases(t) {
		collate := map[bool]string{true: `collate "C"`, false: ""}[d.name != "SQLite"]
		var sorted string
		if d.name == "SQLite" {
			d.reads(t, &sorted, "select group_concat(value, ',') from (select value from json_each($1) order by value "+collate+")", string(must(json.Marshal(keys))))
		} else {
			d.reads(t, &sorted, "select string_agg(k, ',' order by k "+collate+") from json_array_elements_text($1::json) k", string(must(json.Marshal(keys))))
		}
		last := units.Torque{}
		for i, key := range strings.Split(sorted, ",") {
			require.True(t, i == 0 || last.Less(byKey[key]), "%s: %v before %v", d.name, last, byKey[key])
			last = byKey[key]
		}
	}
}

// A record is verified as a column gives it back. JSONB keeps the last of two keys alike and hides the first, so
// that one which was doubled is found in a text column alone.
func TestRecord(t *testing.T) {
	rules := must(service.ReadRules(must(os.ReadFile("../../examples/reviewbatch/demo-rules.json"))))
	plan := must(service.NewPlan(must(service.ReadJob(must(os.ReadFile("../../examples/reviewbatch/demo.json")))), rules))
	reading, _, _ := strings.Cut(string(must(os.ReadFile("../../examples/reviewbatch/demo.ndjson"))), "\n")
	record := string(must(must(plan.Review(must(service.ReadAsDone([]byte(reading))))).Record()))
	doubled := strings.Replace(record, `"complete":`, `"complete":false,"complete":`, 1)
	for _, d := range databases(t) {
		for _, column := range []string{"cast($1 as text)", "cast(" + d.jsonb + " as text)"} {
			var text string
			d.reads(t, &text, "select "+column, record)
			back, err := service.ReadRecord([]byte(text))
			require.NoError(t, err, d.name)
			assert.True(t, back.Verified, d.name)
			again, err := json.Marshal(back)
			require.NoError(t, err)
			assert.Equal(t, record, string(again), d.name)
			d.reads(t, &text, "select "+column, doubled)
			_, err = service.ReadRecord([]byte(text))
			assert.Equal(t, d.name != "SQLite" && strings.Contains(column, "jsonb"), err == nil, "%s: %s", d.name, column)
			d.reads(t, &text, "select "+column, strings.Replace(record, `"complete":true`, `"complete":false`, 1))
			_, err = service.ReadRecord([]byte(text))
			assert.ErrorIs(t, err, service.ErrAltered, d.name)
		}
	}
}
