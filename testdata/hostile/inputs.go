// Package hostile measures what texts that no shop would write take to be read or refused.
package hostile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
)

// input makes a text of about that many bytes.
type input struct {
	name string
	make func(size int) string
}

// fill repeats a part between two others.
func fill(before, part, after string) func(int) string {
	return func(size int) string {
		return before + strings.Repeat(part, max(0, size-len(before)-len(after))/len(part)) + after
	}
}

// numbered repeats a part with a number of its own.
func numbered(before, part, after string) func(int) string {
	return func(size int) string {
		var b strings.Builder
		b.WriteString(before)
		for i := 0; b.Len() < size-len(after); i++ {
			if i > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, part, i)
		}
		return b.String() + after
	}
}

// texts are for what reads a value.
var texts = []input{
	{"digits", fill("", "9", "")},
	{"digits with a unit", fill("", "9", " N·m")},
	{"decimals", fill("0.", "0", "1 in-lb")},
	{"a giant fraction", fill("1/", "9", " turn")},
	{"vulgar fractions", fill("", "½", "")},
	{"an exponent of 999,999,999", func(int) string { return "1e999999999 L" }},
	{"a long exponent", fill("1e", "9", " L")},
	{"signs", fill("", "±", "5 N·m")},
	{"blanks", fill("5", " ", "N·m")},
	{"wide blanks", fill("5", "\u3000", "N·m")},
	{"line ends", fill("", "\n", "")},
	{"NUL", fill("", "\x00", "")},
	{"invalid UTF-8", fill("", "\xff", "")},
	{"text turned round", fill("5 N", "\u202e", "·m")},
	{"combining marks", fill("5 N", "\u0301", "·m")},
	{"look-alikes of digits", fill("", "\uff15", " \uff2e·\uff4d")},
	{"joiners", fill("5 N", "·", "m")},
	{"words", fill("", "half a turn then ", "")},
	{"brackets", fill("", "(", "")},
	{"quotation marks", fill("", `"`, "")},
	{"backslashes", fill(`"`, `\`, "")},
	{"a JSON string", fill(`"`, "9", `"`)},
	{"an escaped JSON string", fill(`"`, `\u0039`, `"`)},
}

// documents are for what reads JSON.
var documents = []input{
	{"open lists", fill("", "[", "")},
	{"nested lists", func(size int) string { return strings.Repeat("[", size/2) + strings.Repeat("]", size/2) }},
	{"nested objects", func(size int) string { return strings.Repeat(`{"a":`, size/6) + "1" + strings.Repeat("}", size/6) }},
	{"commas", fill("[", ",", "]")},
	{"numbers in a list", fill("[1", ",1", "]")},
	{"objects in a list", fill("[{}", ",{}", "]")},
	{"one key, again and again", fill(`{"version":1`, `,"version":1`, "}")},
	{"unknown keys", numbered("{", `"k%d":1`, "}")},
	{"a long key", fill(`{"`, "k", `":1}`)},
	{"a long number", fill(`{"version":`, "9", "}")},
	{"a long exponent in JSON", fill(`{"version":1e`, "9", "}")},
	{"an exponent in JSON", func(int) string { return `{"version":1e999999999}` }},
	{"blanks in JSON", fill("{", " ", "}")},
	{"invalid UTF-8 in JSON", fill(`{"a":"`, "\xff", `"}`)},
	{"half surrogates", fill(`{"a":"`, `\ud83d`, `"}`)},
	{"empty stations", fill(`{"version":1,"stations":[{}`, `,{}`, "]}")},
	{"stations of nothing", fill(`{"version":1,"stations":[null`, `,null`, "]}")},
	{"marks", numbered(`{"version":1,"stations":[{"tighten":{"marks":{"labels":[`, `"M%d"`, "]}}}]}")},
	{"wrenches", fill(`{"version":1,"shop":{"wrenches":[{"id":"W"}`, `,{"id":"W"}`, "]}}")},
	{"a long text", fill(`{"version":1,"machine":"`, "x", `"}`)},
	{"a list for a text", fill(`{"version":1,"machine":["x"`, `,"x"`, "]}")},
	{"a long quantity", fill(`{"version":1,"fuel":{"density":"0.`, "0", `1 kg/L"}}`)},
	{"readings", fill(`{"version":1,"job":"T-1","stations":[{"id":"1","torque":["5 N·m"`, `,"5 N·m"`, "]}]}")},
	{"remarks", fill(`{"version":1,"remarks":["x"`, `,"x"`, "]}")},
	{"categories", fill(`{"name":"x","asOf":"2026-01-01","categories":[{"name":"a"}`, `,{"name":"a"}`, "]}")},
	{"pages", fill(`{"version":1,"pages":[{"sections":[]}`, `,{"sections":[]}`, "]}")},
}

// lines are for ledgers and tables.
var lines = []input{
	{"postings", postings},
	{"one posting, again and again", func(size int) string { return strings.Repeat(posting(1), 1+size/len(posting(1))) }},
	{"withdrawals", func(size int) string {
		var b strings.Builder
		for i := 0; b.Len() < size; i++ {
			fmt.Fprintf(&b, `{"version":1,"at":"2026-03-04T16:30:00Z","by":"Ann","withdrawal":{"job":"J%d","revision":%d}}`+"\n", i%7, i)
		}
		return b.String()
	}},
	{"revisions of one line", func(size int) string {
		var b strings.Builder
		for i := 0; b.Len() < size; i++ {
			b.WriteString(strings.Replace(posting(1), `"revision":0`, fmt.Sprintf(`"revision":%d`, i), 1))
		}
		return b.String()
	}},
	{"drums", func(size int) string {
		var b strings.Builder
		for i := 0; b.Len() < size; i++ {
			fmt.Fprintf(&b, `{"version":1,"at":"2026-03-04T16:30:00Z","by":"Ann","drum":{"event":"opened","revision":0,"date":"2026-03-01","container":{"id":"D%d"}}}`+"\n", i)
		}
		return b.String()
	}},
	{"objects, a line each", fill("", "{}\n", "")},
	{"a row of commas", fill("job,line\n", ",", "\n")},
	{"rows of commas", fill("job,line\n", ",\n", "")},
	{"a header of commas", fill("", ",", "\n")},
	{"an open quotation mark", fill("job,line\n\"", "x\n", "")},
	{"remark after remark", fill("", "# x\n", "")},
}

func posting(job int) string {
	return fmt.Sprintf(`{"version":1,"at":"2026-03-09T17:00:00Z","by":"Ann","entry":{"job":"J%d","revision":0,"line":1,"date":"2026-03-09",`+
		`"stream":"absorbents","determination":"undetermined","mass":{"low":"1 kg","best":"1.5 kg","high":"2 kg","from":"assumed"}}}`+"\n", job)
}

func postings(size int) string {
	var b strings.Builder
	for i := 0; b.Len() < size; i++ {
		b.WriteString(posting(i))
	}
	return b.String()
}

// forms are for what reads what a browser sends.
var forms = []input{
	{"a long field", fill("token=x&revision=1&from=0&ask=keyCycles&a.value=", "9", "")},
	{"a long name of a field", fill("token=x&revision=1&from=0&ask=keyCycles&a.", "v", "=1")},
	{"a long question", fill("token=x&revision=1&from=0&ask=tick:", "9", "&a.done=yes")},
	{"a long name of somebody", fill("by=", "x", "")},
	{"one field, again and again", fill("a.value=1", "&a.value=1", "")},
	{"fields", func(size int) string {
		var b strings.Builder
		for i := 0; b.Len() < size; i++ {
			fmt.Fprintf(&b, "a.f%d=1&", i)
		}
		return b.String()
	}},
	{"ampersands", fill("", "&", "")},
	{"percent signs", fill("by=", "%", "")},
	{"NUL in a form", fill("by=", "%00", "")},
	{"invalid UTF-8 in a form", fill("by=", "%ff", "")},
	{"text turned round in a form", fill("by=", "%E2%80%AE", "")},
}

// addresses are for what a browser asks for.
var addresses = []input{
	{"a deep path", fill("/job/", "a/", "")},
	{"slashes", fill("/job/", "/", "")},
	{"the folder above", fill("/job/", "../", "")},
	{"the folder above, escaped", fill("/job/", "%2e%2e%2f", "")},
	{"a long query", fill("/who?back=", "x", "")},
	{"fields of a query", fill("/who?", "a&", "")},
}

// floorJob is a line with a job of shopfloor's.
func floorJob(i int) string {
	var b bytes.Buffer
	if err := json.Compact(&b, file("examples/shopfloor/demo/jobs/cartridge.json")); err != nil {
		panic(err)
	}
	return strings.Replace(b.String(), "PUMP-0012", fmt.Sprint("J", i), 1) + "\n"
}

func floorJobs() []input {
	return []input{
		{"jobs", func(size int) string {
			var b strings.Builder
			for i := 0; b.Len() < size; i++ {
				b.WriteString(floorJob(i))
			}
			return b.String()
		}},
		{"one job, again and again", func(size int) string { return strings.Repeat(floorJob(0), 1+size/len(floorJob(0))) }},
		{"files that are no jobs", fill("", "{"+strings.Repeat(" ", 1000)+"}\n", "")},
	}
}

// entries are what was put down for one job.
var entries = []input{
	entered("one answer of many people", `"by":"P%d","ask":"stations[0].dragged","answer":{"yes":"no"}`),
	entered("corrections", `"by":"Ann","ask":"stations[0].dragged","answer":{"yes":"no","n":"%d"}`),
	entered("answers that wait", `"by":"Ann","ask":"stations[0].dragged","aside":true,"answer":{"n":"%d"}`),
	entered("answers taken back", `"by":"Ann","ask":"stations[0].dragged","withdraws":%d`),
	entered("answers to questions that nobody asks", `"by":"Ann","ask":"q%d","answer":{"yes":"no"}`),
}

func entered(name, part string) input {
	return input{name, func(size int) string {
		var b strings.Builder
		for i := 1; b.Len() < size; i++ {
			fmt.Fprintf(&b, `{"seq":%d,"token":"t%d","at":"2026-12-03T10:42:00Z","job":"J0","revision":1,"from":%d,"pad":"%0200d",`+part+"}\n", i, i, i-1, 0, i-1)
		}
		return b.String()
	}}
}
