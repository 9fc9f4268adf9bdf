package main

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/snugturn/turn"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func Example() {
	if err := run(nil, os.Stdout); err != nil {
		panic(err)
	}
	// Output:
	// Tighten 2/3 to 5/6 turn after gasket contact.
	//
	// Marks   1 2 3 4 5 6, clockwise facing the closed end; the index is at 2 to begin with.
	// Turn    clockwise, facing the closed end (right hand).
	// Passing 1 after 1/6 turn, 6 after 1/3 turn, 5 after 1/2 turn, 4 after 2/3 turn, 3 after 5/6 turn.
	// Done    stop midway between 4 and 3; never past 3.
	// Draws   1.21 mm to 1.51 mm closer (1-14 UNS).
	//
	// Too far is not put right by turning back. The manufacturer's instructions come first.
}

func TestDrawing(t *testing.T) {
	for _, view := range []string{"facing the closed end", "from the head side"} {
		file := filepath.Join(t.TempDir(), "ring.svg")
		var out strings.Builder
		require.NoError(t, run([]string{"-view", view, "-svg", file}, &out))
		assert.Contains(t, out.String(), view)
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		var root struct{ XMLName xml.Name }
		require.NoError(t, xml.Unmarshal(data, &root))
		assert.Equal(t, "svg", root.XMLName.Local)
	}
}

func TestLeftHandThreadTurnsTheOtherWay(t *testing.T) {
	var out strings.Builder
	require.NoError(t, run([]string{"-thread", "1-12 UNF-LH"}, &out))
	assert.Contains(t, out.String(), "Turn    counterclockwise, facing the closed end (left hand).")
	assert.Contains(t, out.String(), "stop midway between 6 and 1")
}

func TestContactBetweenMarks(t *testing.T) {
	var out strings.Builder
	require.NoError(t, run([]string{"-at", "between 1 and 2", "-do", "5/6 to 1 turn after gasket contact"}, &out))
	assert.Contains(t, out.String(), "the index is midway between 2 and 1 to begin with")
	assert.Contains(t, out.String(), "stop at 2; never past midway between 2 and 1, once round")
}

func TestSpanish(t *testing.T) {
	file := filepath.Join(t.TempDir(), "ring.svg")
	var out strings.Builder
	require.NoError(t, run([]string{"-lang", "es-MX", "-svg", file}, &out))
	assert.Contains(t, out.String(), "Apretar 2/3 a 5/6 de vuelta después del contacto del empaque.")
	assert.Contains(t, out.String(), "Listo   pare a la mitad entre 4 y 3; nunca pase 3.")
	assert.Contains(t, out.String(), "rige el inglés")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Contains(t, string(data), "MÁX")
	assert.ErrorContains(t, run([]string{"-lang", "qaa"}, &out), "en or es")
}

func TestRefused(t *testing.T) {
	for _, args := range [][]string{
		{"-do", "3/4 turn"}, {"-marks", "A"}, {"-marks", "A a"}, {"-at", "X"}, {"-at", "1/2 turn past 2"}, {"-at", "between 2 and 4"}, {"-hand", "both"}, {"-view", "from Mars"},
		{"-hand", "left hand"}, {"-thread", "NPT"}, {"stray"}, {"-nothing"}, {"-order", "left to right"},
		{"-svg", filepath.Join(t.TempDir(), "no", "such", "folder.svg")},
	} {
		assert.Error(t, run(args, &strings.Builder{}), args)
	}
	assert.ErrorIs(t, run([]string{"-at", "at X"}, &strings.Builder{}), turn.ErrUnknownMark)
}

func TestHowItEnds(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "ring.svg")
	for _, c := range []struct {
		args []string
		code int
	}{{nil, 0}, {[]string{"-h"}, 0}, {[]string{"-nothing"}, 2}, {[]string{"stray"}, 2}, {[]string{"-do", "3/4 turn"}, 2}, {[]string{"-marks", "A"}, 1},
		{[]string{"-svg", file}, 0}, {[]string{"-svg", file}, 0}, {[]string{"-svg", filepath.Join(dir, "none", "ring.svg")}, 1}} {
		var out, problems strings.Builder
		code := ended(c.args, &out, &problems)
		assert.Equal(t, c.code, code, "%v: %s", c.args, &problems)
		assert.Equal(t, code == 0, out.Len() > 0, "%v: whole or absent", c.args)
	}
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, files, 1, "nothing but the drawing is left")
	if _, err := os.Stat("/dev/full"); err == nil {
		var out, problems strings.Builder
		assert.Equal(t, 1, ended([]string{"-svg", "/dev/full"}, &out, &problems))
	}
}
