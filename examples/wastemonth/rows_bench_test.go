package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain/waste"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// generated are n rows of a CSV, four to a service, made as they are read: an invented shop's.
type generated struct {
	n, made int
	rest    []byte
}

func (g *generated) Read(p []byte) (int, error) {
	for len(g.rest) < len(p) && g.made < g.n {
		if g.made == 0 {
			g.rest = append(g.rest, strings.Join(header[:high+1], ",")+"\n"...)
		}
		i := g.made
		g.rest = fmt.Appendf(g.rest, "W-%d,0,%d,2026-%02d-%02d,%s,hazardous,%d.5,kg,measured,DM %d,van %d,2027-01-%02dT16:%02d:00-06:00,,%d.25,%d.75\n",
			i/4, i%4+1, i/100_000%12+1, i/4000%28+1, waste.DrainedFuel+waste.Stream(i%8), i*7919%500, i/400, i/4%3, i/4000%28+1, i/4%60, i*7919%500, i*7919%500)
		g.made++
	}
	if len(g.rest) == 0 {
		return 0, io.EOF
	}
	n := copy(p, g.rest)
	g.rest = g.rest[:copy(g.rest, g.rest[n:])]
	return n, nil
}

// text is all that a generator makes.
func text(n int) string {
	data, _ := io.ReadAll(&generated{n: n})
	return string(data)
}

// heap is what is in use after a collection.
func heap() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// What a row leaves behind in the ledger. Measured are 160 bytes on linux/amd64 with four rows to a job; an entry of
// its own is 112, the rest is its job's.
func TestMemoryOfARow(t *testing.T) {
	const n = 100_000
	before := heap()
	var b books
	require.NoError(t, b.load("generated", &generated{n: n}, false))
	perRow := float64(heap()-before) / n
	t.Logf("%.0f bytes a row", perRow)
	assert.Less(t, perRow, 200.0)
	runtime.KeepAlive(&b)
}

// BenchmarkRows reads a million rows with encoding/csv alone and into a ledger, in turn, and reports what a row
// costs beside csv's own work. Measured are 0.26 to 0.43 µs for csv and 0.64 to 0.70 µs for the rest, on two cores
// of an EPYC that had other work too.
func BenchmarkRows(b *testing.B) {
	const n = 1_000_000
	all := text(n)
	var alone, ours int64
	b.ReportAllocs()
	for b.Loop() {
		start := time.Now().UnixNano()
		in := csv.NewReader(strings.NewReader(all))
		in.ReuseRecord = true
		for {
			if _, err := in.Read(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				b.Fatal(err)
			}
		}
		middle := time.Now().UnixNano()
		var l books
		if err := l.load("generated", strings.NewReader(all), false); err != nil {
			b.Fatal(err)
		}
		alone += middle - start
		ours += time.Now().UnixNano() - middle
		if l.read != n {
			b.Fatal(l.read)
		}
		runtime.KeepAlive(&l)
	}
	b.ReportMetric(float64(alone)/float64(b.N)/n, "csv-ns/row")
	b.ReportMetric(float64(ours-alone)/float64(b.N)/n, "own-ns/row")
	b.ReportMetric(float64(ours)/float64(alone), "times-csv")
}
