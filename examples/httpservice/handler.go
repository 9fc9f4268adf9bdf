package main

import (
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

const maxBody = 1 << 20 // as much as a job file may have

// problem is a problem details object (RFC 9457, section 3.1), with what is wrong in the job file
// as an extension member.
type problem struct {
	Title  string  `json:"title"` // no type: about:blank, so the title is that of the status
	Status int     `json:"status"`
	Detail string  `json:"detail,omitempty"`
	Errors []where `json:"errors,omitempty"`
}

type where struct {
	Path    string `json:"path"`
	Problem string `json:"problem"`
	Want    string `json:"want,omitempty"`
}

func handler(rules service.Rules) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("/sheet", func(w http.ResponseWriter, r *http.Request) { answerSheet(w, r, rules) })
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		fail(w, http.StatusNotFound, "POST a job file to /sheet", nil)
	})
	return mux
}

func answerSheet(w http.ResponseWriter, r *http.Request, rules service.Rules) {
	if r.Method != http.MethodPost {
		w.Header().Set("Allow", http.MethodPost)
		fail(w, http.StatusMethodNotAllowed, "POST a job file here", nil)
		return
	}
	if !isJSON(r.Header) {
		w.Header().Set("Accept", "application/json")
		w.Header().Set("Accept-Encoding", "identity")
		fail(w, http.StatusUnsupportedMediaType, "send the job file as application/json, not compressed", nil)
		return
	}
	form, ok := prefer(r.Header.Values("Accept"))
	if !ok {
		fail(w, http.StatusNotAcceptable, "there are application/json, text/html and text/plain", nil)
		return
	}
	data, err := read(w, r)
	if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
		fail(w, http.StatusRequestEntityTooLarge, "a job file has at most 1 MiB", nil)
		return
	} else if err != nil {
		fail(w, http.StatusBadRequest, "the body ended early", nil)
		return
	}
	job, err := service.ReadJob(data)
	if errors.Is(err, service.ErrJSON) {
		fail(w, http.StatusBadRequest, "the body is no JSON", err)
		return
	} else if err != nil {
		fail(w, http.StatusUnprocessableEntity, "the job file can't be right", err)
		return
	}
	plan, err := service.NewPlan(job, rules)
	if err != nil {
		fail(w, http.StatusUnprocessableEntity, "the job can't be planned", err)
		return
	}
	words := language(r.Header.Values("Accept-Language"))
	laid := words.Sheet(plan, r.URL.Query().Has("numbers"))
	answer, err := form.render(laid)
	if err != nil {
		fail(w, http.StatusInternalServerError, "the sheet can't be written", nil)
		return
	}
	w.Header().Set("Content-Security-Policy", sheet.Policy())
	w.Header().Set("Content-Language", laid.Lang)
	send(w, http.StatusOK, form.mediaType, answer)
}

// isJSON asks the client to say that it sends JSON: what a form on a foreign page may send without
// being asked first is refused. (RFC 9110, sections 8.3, 8.4 and 15.5.16.)
func isJSON(h http.Header) bool {
	media, parameters, err := mime.ParseMediaType(h.Get("Content-Type"))
	charset, coding := parameters["charset"], h.Get("Content-Encoding")
	return err == nil && media == "application/json" &&
		(charset == "" || strings.EqualFold(charset, "utf-8")) && (coding == "" || strings.EqualFold(coding, "identity"))
}

// read refuses a body that says it is too large before any of it is sent, and stops at the bound
// where nothing is said.
func read(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	if r.ContentLength > maxBody {
		return nil, &http.MaxBytesError{Limit: maxBody}
	}
	return io.ReadAll(http.MaxBytesReader(w, r.Body, maxBody))
}

type form struct {
	mediaType string
	render    func(sheet.Sheet) ([]byte, error)
}

// forms are in the order of preference where the client has none.
var forms = []form{
	{"application/json", sheet.Sheet.JSON},
	{"text/html; charset=utf-8", sheet.Sheet.HTML},
	{"text/plain; charset=utf-8", func(s sheet.Sheet) ([]byte, error) { return []byte(s.Text()), nil }},
}

// prefer picks a form by the Accept field (RFC 9110, section 12.5.1): for each form the most
// specific range that names it gives its weight; the heaviest wins, the first of equals.
func prefer(accept []string) (best form, ok bool) {
	field := strings.Join(accept, ",")
	if strings.TrimSpace(field) == "" {
		return forms[0], true
	}
	heaviest := 0.0
	for _, f := range forms {
		name, _, _ := mime.ParseMediaType(f.mediaType)
		if weight := weigh(name, field); weight > heaviest {
			best, heaviest = f, weight
		}
	}
	return best, heaviest > 0
}

func weigh(name, field string) (weight float64) {
	kind, _, _ := strings.Cut(name, "/")
	specific := 0
	for _, part := range strings.Split(field, ",") {
		media, parameters, err := mime.ParseMediaType(part)
		if err != nil {
			continue
		}
		s := map[string]int{"*/*": 1, kind + "/*": 2, name: 3}[media]
		if s <= specific {
			continue
		}
		specific, weight = s, 1
		if q, given := parameters["q"]; given {
			if weight, err = strconv.ParseFloat(q, 64); err != nil || !(weight >= 0 && weight <= 1) {
				weight = 0
			}
		}
	}
	return weight
}

// language picks the words by the Accept-Language field (RFC 9110, section 12.5.4): the range of the heaviest weight
// that there are words for, by its first subtag (RFC 4647, section 3.4); English where there are none.
func language(accept []string) *sheet.Words {
	best, heaviest := sheet.English(), 0.0
	for _, part := range strings.Split(strings.Join(accept, ","), ",") {
		tag, parameter, _ := strings.Cut(strings.ReplaceAll(part, " ", ""), ";")
		weight := 1.0
		if q, given := strings.CutPrefix(parameter, "q="); given {
			weight, _ = strconv.ParseFloat(q, 64) // 0 where it is malformed
		}
		if words, err := sheet.In(tag); err == nil && weight > heaviest && weight <= 1 {
			best, heaviest = words, weight
		}
	}
	return best
}

func fail(w http.ResponseWriter, status int, detail string, err error) {
	p := problem{Title: http.StatusText(status), Status: status, Detail: detail}
	var all service.JobErrors
	errors.As(err, &all)
	for _, one := range all {
		p.Errors = append(p.Errors, where{one.Path, one.Problem, one.Want})
	}
	text, _ := json.Marshal(p) // strings and a number
	send(w, status, "application/problem+json", text)
}

func send(w http.ResponseWriter, status int, mediaType string, text []byte) {
	h := w.Header()
	h.Set("Content-Type", mediaType)
	h.Set("Content-Length", strconv.Itoa(len(text)))
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	h.Set("Vary", "Accept, Accept-Language")
	w.WriteHeader(status)
	w.Write(text) // a client that has gone is told nothing
}
