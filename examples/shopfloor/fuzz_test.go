package main

import (
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// kept is what a store has, as text.
func kept(t *testing.T, s *store) string {
	text, err := json.Marshal(s.entries)
	require.NoError(t, err)
	return string(text)
}

// FuzzForms: whatever is asked for and sent, line by line, a path alone or a path and a form, has an answer that is no
// panic and no status of 500. What is refused keeps nothing; what isn't keeps at most one entry, and the disk has what the
// memory has. And no answer that was taken keeps the jobs from being read afterwards.
func FuzzForms(f *testing.F) {
	folder := f.TempDir()
	require.NoError(f, makeDemo(folder))
	rules, err := readRules(filepath.Join(folder, "rules.json"))
	require.NoError(f, err)
	s, err := openStore(folder)
	require.NoError(f, err)
	f.Cleanup(s.close)
	floor := newFloor(s, rules, true, true, slog.New(slog.NewTextHandler(io.Discard, nil)))
	s.now = func() time.Time { return time.Date(2026, 12, 3, 10, 42, 0, 0, time.UTC) }
	planned := map[string]*floorJob{}
	floor.load = func(file string) *floorJob {
		if planned[file] == nil {
			planned[file] = planJob(file, rules, floor.words)
		}
		j := *planned[file]
		j.answers(s)
		return &j
	}
	cold, err := floor.jobOf(id("COLD-0417"))
	require.NoError(f, err)
	out, _ := cold.ask("stations[0].out")
	cold.Current = map[string]entry{out.Key: {Seq: 1, By: "Ann", At: s.now(), Answer: map[string]string{"value": "0.3", "at": "26"}}}
	cold.judge()
	job := "/job/" + id("COLD-0417")
	form := func(ask, filled string) string {
		return job + "/answer token=" + url.QueryEscape(ask) + "&revision=1&from=0&ask=" + url.QueryEscape(ask) + "&" + filled
	}
	after := form("stations[1].marks.before", "a.place=3%7C4") + "\n"
	for _, requests := range []string{
		"/who\n/who by=Ann&back=/job/x\n/style.css\n/shop.js\n/who?back=//x",
		job + "\n" + job + "/steps/2\n" + job + "/saved/1\n" + job + "/both/1\n" + job + "/ring/1\n" + job + "/ask/" + id("stations[0].torque"),
		form("stations[0].dragged", "a.yes=no"),
		form("stations[0].torque", "a.value=17.2&a.clicked=yes&a.gap=no"),
		form("stations[0].torque", "a.value=170&a.clicked=no&a.gap=yes&a.unit=in-lb"),
		form("stations[0].out", "a.value=0.3&a.spread=0.02&a.at=26"),
		form("stations[0].water", "a.none=yes") + "\n" + form("stations[0].water", "a.value=0.06&a.at=26"),
		after + form("stations[1].marks.after", "a.place=6&a.passes=0") + "\n" + job + "/ring/1\n" + job + "/saved/2",
		after + form("stations[1].marks.after", "a.place=4%7C5&a.share=1/3&a.passes=1"),
		form("stations[1].marks.before", "a.place=unseen") + "\n" + form("stations[1].marks.before", "a.place=drags"),
		form("keyCycles", "a.value=4") + "\n" + form("cranks", "a.crank1=8&a.rest2=120&a.crank2=10") + "\n" + form("meter", "a.hours=1204"),
		form("weights[0]", "a.value=1.36&a.spread=0.02") + "\n" + form("restored[0]", "a.yes=yes") + "\n" + form("restored[1]", "a.yes=no"),
		form(cold.steps()[0].Key, "a.done=yes") + "\n" + job + "/undo token=u&revision=1&from=1&seq=1",
		form("taken", "a.by=Ann") + "\n" + form("taken", "a.by=Bob") + "\n" + job + "/both/2",
		form("stations[0].out", "a.value=0.3&a.at=26") + "\n" + form("asked:stations[0].out", "a.about="+cold.about(out)+"&a.who=Joe&a.said=it+may&a.stay=yes"),
		form("stations[0].dragged", "a.yes=no&token=a\xff") + "\n" + form("stations[0].dragged", "a.yes=%ff%00"),
		"/job/" + id("DOZ-0031") + "/answer token=x&revision=1&from=0&ask=stations%5B0%5D.angle&a.value=170&a.tool=G-1&a.spread=1",
		"/job/" + id("PUMP-0012") + "/answer token=x&revision=1&from=0&ask=stations%5B0%5D.torque&a.value=25&a.clicked=yes&a.gap=no&a.tool=T-1",
	} {
		f.Add("Ann", requests)
	}
	f.Fuzz(func(t *testing.T, by, requests string) {
		require.NoError(t, os.RemoveAll(filepath.Join(folder, "entries")))
		require.NoError(t, os.Mkdir(filepath.Join(folder, "entries"), 0o750))
		clear(s.entries)
		send := func(by, method, path, form string) int {
			r, err := http.NewRequest(method, "http://127.0.0.1/", strings.NewReader(form))
			require.NoError(t, err)
			if r.URL, err = url.ParseRequestURI(path); err != nil {
				return 0
			}
			r.RequestURI = path
			r.Header = http.Header{"Cookie": {"by=" + by}, "Origin": {"http://127.0.0.1"}, "Content-Type": {"application/x-www-form-urlencoded"}}
			w := httptest.NewRecorder()
			floor.ServeHTTP(w, r)
			return w.Code
		}
		count := func() (n int) {
			for _, all := range s.entries {
				n += len(all)
			}
			return n
		}
		for i, line := range strings.SplitN(requests, "\n", 7) {
			if i == 6 {
				break
			}
			path, form, post := strings.Cut(line, " ")
			method := map[bool]string{false: http.MethodGet, true: http.MethodPost}[post]
			before, had := kept(t, s), count()
			status := send(by, method, path, form)
			require.Less(t, status, 500, "%s %s", method, line)
			if status != http.StatusSeeOther {
				require.Equal(t, before, kept(t, s), "%s %s is answered with %d", method, line, status)
			}
			require.LessOrEqual(t, count(), had+1)
		}
		again := &store{folder: folder, entries: map[string][]entry{}}
		require.NoError(t, again.read())
		require.Equal(t, kept(t, s), kept(t, again), "the disk has what the memory has")
		for job := range s.entries {
			for _, page := range []string{"", "/working"} {
				require.Equal(t, http.StatusOK, send("Ann", http.MethodGet, "/job/"+id(job)+page, ""), "%v", s.entries)
			}
			j, err := floor.jobOf(id(job))
			require.NoError(t, err)
			require.NoError(t, j.ReviewErr, "what was taken one by one is read together")
		}
	})
}
