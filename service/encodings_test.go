package service_test

import (
	"bytes"
	"database/sql"
	"database/sql/driver"
	"encoding"
	"encoding/gob"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// enums are the enumerations with all their words, in the order of their constants. Words are what
// records hold: one that changes can't be read any more.
var enums = []struct {
	of    reflect.Type
	words string // parted by |
}{
	{reflect.TypeFor[torque.Rule](), "simple acceptance|guarded by U|guarded for 95 %|non-binary"},
	{reflect.TypeFor[torque.Acceptance](), "accepted|conditionally accepted|conditionally rejected|rejected|inconclusive"},
	{reflect.TypeFor[torque.DeviationBasis](), "of dial or reference|of dial|of reference|of full scale|absolute"},
	{reflect.TypeFor[torque.Agreement](), "agrees|shares a third unit|disagrees"},
	{reflect.TypeFor[turn.Hand](), "right hand|left hand"},
	{reflect.TypeFor[turn.Action](), "tightening|loosening"},
	{reflect.TypeFor[turn.Rotation](), "clockwise|counterclockwise|left to right|right to left"},
	{reflect.TypeFor[turn.View](), "facing the closed end|from the head side|from beside, closed end down|from beside, closed end up|" +
		"facing the closed end, in a mirror|from the head side, in a mirror|from beside, closed end down, in a mirror|from beside, closed end up, in a mirror"},
	{reflect.TypeFor[turn.Datum](), "gasket contact|finger tight|snug"},
	{reflect.TypeFor[turn.Reach](), "in the window|short|over|unclear"},
	{reflect.TypeFor[turn.Contact](), "as expected|second gasket likely|too early|gasket likely missing|contact likely missed|too late"},
	{reflect.TypeFor[turn.Match](), "fits|may spin home and let go|should not start|does not engage|another thread"},
	{reflect.TypeFor[drain.Provenance](), "weighed|measured|stated|assumed"},
	{reflect.TypeFor[drain.Answer](), "no|yes|undecided"},
	{reflect.TypeFor[drain.Guard](), "clear|caution|stop"},
	{reflect.TypeFor[waste.Stream](), "drained fuel|fuel-water mix|wet element|drained element|gaskets|absorbents|spent cleaner|other waste"},
	{reflect.TypeFor[waste.Determination](), "undetermined|hazardous|not counted"},
	{reflect.TypeFor[usfederal.ContainerCode](), "DM|DW|DF|TP|TT|TC|DT|CY|CM|CW|CF|BA|HG"},
	{reflect.TypeFor[usfederal.UnitCode](), "K|P|L|G|M|T|N|Y"},
	{reflect.TypeFor[service.Kind](), "screw-on bowl|spin-on canister|drop-in element|in-line"},
	{reflect.TypeFor[service.Side](), "suction|pressure"},
	{reflect.TypeFor[service.AdapterKind](), "strap wrench|chain wrench"},
	{reflect.TypeFor[service.Fit](), "dry|prefill"},
	{reflect.TypeFor[service.Verdict](), "pass|seated|undecided|not recorded|fail|unchanged"},
	{reflect.TypeFor[service.Basis](), "mass|scale, corrected|volume|partly planned|planned|not stated"},
	{reflect.TypeFor[service.Level](), "NOTE|CAUTION|WARNING|STOP"},
}

func TestEnumerationsAreTheirWords(t *testing.T) {
	for _, enum := range enums {
		t.Run(enum.of.String(), func(t *testing.T) {
			words := strings.Split(enum.words, "|")
			var written []string
			for i := range 256 {
				v := reflect.New(enum.of).Elem()
				v.SetUint(uint64(i))
				text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
				if err != nil {
					refusesToWrite(t, v, err)
					continue
				}
				written = append(written, string(text))
				assert.Equal(t, string(text), fmt.Sprint(v.Interface()))
				comesBack(t, v, string(text))
			}
			assert.Equal(t, words, written)
			refusesToRead(t, enum.of, words)
		})
	}
}

func refusesToWrite(t *testing.T, v reflect.Value, err error) {
	var parse *units.ParseError
	require.ErrorAs(t, err, &parse)
	require.ErrorIs(t, err, units.ErrRange)
	assert.Equal(t, fmt.Sprintf("%s(%d)", v.Type().Name(), v.Uint()), fmt.Sprint(v.Interface()))
	_, err = json.Marshal(v.Interface())
	require.Error(t, err)
	_, err = v.Interface().(driver.Valuer).Value()
	require.ErrorIs(t, err, units.ErrRange)
	require.Error(t, gob.NewEncoder(new(bytes.Buffer)).EncodeValue(v))
}

// comesBack writes a value in every encoding and reads it again, from other spellings too.
func comesBack(t *testing.T, v reflect.Value, word string) {
	same := func(how string, read func(into any) error) {
		back := reflect.New(v.Type())
		require.NoError(t, read(back.Interface()), how)
		assert.Equal(t, v.Interface(), back.Elem().Interface(), how)
	}
	for _, spelt := range []string{word, strings.ToUpper(word), strings.ReplaceAll(word, " ", "-"), " " + strings.ReplaceAll(word, "-", "  ")} {
		same(spelt, func(into any) error { return into.(encoding.TextUnmarshaler).UnmarshalText([]byte(spelt)) })
		same(spelt, func(into any) error { return into.(sql.Scanner).Scan(spelt) })
	}
	data, err := json.Marshal(v.Interface())
	require.NoError(t, err)
	assert.JSONEq(t, fmt.Sprintf("%q", word), string(data))
	same("JSON", func(into any) error { return json.Unmarshal(data, into) })
	column, err := v.Interface().(driver.Valuer).Value()
	require.NoError(t, err)
	assert.Equal(t, word, column)
	var binary bytes.Buffer
	require.NoError(t, gob.NewEncoder(&binary).EncodeValue(v))
	assert.Contains(t, binary.String(), word, "gob holds the word")
	same("gob", func(into any) error { return gob.NewDecoder(&binary).Decode(into) })
}

func refusesToRead(t *testing.T, of reflect.Type, words []string) {
	kept := reflect.New(of)
	require.NoError(t, kept.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(words[0])))
	want := kept.Elem().Interface()
	for _, text := range []string{"", "maybe", words[0] + ".", "\xff", of.Name() + "(1)", "1", strings.Repeat("x", 1<<20)} {
		err := kept.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
		var parse *units.ParseError
		require.ErrorAs(t, err, &parse)
		require.ErrorIs(t, err, units.ErrSyntax)
		assert.Contains(t, err.Error(), words[0])
		assert.Less(t, len(err.Error()), 600)
	}
	for _, data := range []string{"null", "1", "true", "{}", `["` + words[0] + `"]`} {
		require.ErrorIs(t, json.Unmarshal([]byte(data), kept.Interface()), units.ErrSyntax, data)
	}
	for _, column := range []any{nil, int64(1), 1.0, true, "1"} {
		require.ErrorIs(t, kept.Interface().(sql.Scanner).Scan(column), units.ErrSyntax)
	}
	assert.Equal(t, want, kept.Elem().Interface(), "it stays as it was")
}
