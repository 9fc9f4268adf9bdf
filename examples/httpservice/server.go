package main

import (
	"context"
	crypto "crypto/rand"
	_ "embed"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"math/rand/v2"
	"mime"
	"net/http"
	"os"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"example.com/snugturn/service"
)

const (
	maxBody     = 1 << 20 // as much as a job file may have
	maxInFlight = 64      // requests whose bodies are held
	maxUnsent   = 4       // of these, those whose answers are made or sent
)

// server holds no more than maxInFlight bodies and maxUnsent answers, and works on one for each processor.
type server struct {
	rules                     service.Rules
	log                       *slog.Logger
	inFlight, unsent, work    places
	bodyTime, wait, writeTime time.Duration
	draining                  atomic.Bool
	endpoints                 map[string]endpoint
}

type endpoint struct {
	method string
	serve  func(*reply, *http.Request)
}

// answer is what a request gets if nothing is wrong.
type answer struct {
	mediaType string
	header    map[string]string // besides those of every answer
	body      []byte
}

func newServer(rules service.Rules, log *slog.Logger) *server {
	s := &server{rules: rules, log: log, bodyTime: 10 * time.Second, wait: 30 * time.Second, writeTime: 30 * time.Second,
		inFlight: make(places, maxInFlight), unsent: make(places, maxUnsent), work: make(places, runtime.GOMAXPROCS(0))}
	s.endpoints = map[string]endpoint{
		"/v1/plan":          {http.MethodPost, s.posted(s.plan)},
		"/v1/sheet":         {http.MethodPost, s.posted(s.sheet)},
		"/v1/review":        {http.MethodPost, s.posted(s.review)},
		"/v1/record/verify": {http.MethodPost, s.posted(s.verify)},
		"/v1/openapi.json":  {http.MethodGet, s.openAPI},
		"/healthz":          {http.MethodGet, s.health},
	}
	return s
}

// places are taken and given back.
type places chan struct{}

func (p places) take(ctx context.Context) error {
	select {
	case p <- struct{}{}:
		return nil
	case <-ctx.Done():
	}
	if ctx.Err() == context.DeadlineExceeded {
		return busy()
	}
	return ctx.Err()
}

var requestID = regexp.MustCompile(`^[0-9A-Za-z._-]{1,64}$`)

// ServeHTTP gives every answer the same safe headers and an id, the client's own where it has a plain one, and logs it.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	began, id, to := time.Now(), r.Header.Get("X-Request-Id"), &reply{ResponseWriter: w}
	if !requestID.MatchString(id) {
		id = crypto.Text()
	}
	h := w.Header()
	h.Set("X-Request-Id", id)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	defer func() {
		s.log.Info("request", "id", id, "method", r.Method, "path", r.URL.Path, "status", to.status, "bytes", to.bytes,
			"ms", time.Since(began).Milliseconds(), "gone", r.Context().Err() != nil)
	}()
	http.NewResponseController(w).SetWriteDeadline(time.Time{}) // that of the answer before on this connection
	e, ok := s.endpoints[r.URL.Path]
	switch {
	case !ok:
		s.fail(to, &failure{status: http.StatusNotFound, detail: "there is nothing here; /v1/openapi.json says what there is"})
	case r.Method != e.method && !(r.Method == http.MethodHead && e.method == http.MethodGet):
		h.Set("Allow", e.method)
		s.fail(to, &failure{status: http.StatusMethodNotAllowed, detail: "this takes " + e.method})
	default:
		e.serve(to, r)
	}
}

// reply is where an answer goes, and what the log has of it; status 0 is one that nobody was there for.
type reply struct {
	http.ResponseWriter
	status, bytes int
}

// posted takes a body in and has it answered when its turn comes. What makes the answer asks the context between its
// steps whether the client is still there.
func (s *server) posted(make func(context.Context, *http.Request, []byte) (answer, error)) func(*reply, *http.Request) {
	return func(w *reply, r *http.Request) {
		http.NewResponseController(w.ResponseWriter).SetReadDeadline(time.Now().Add(s.bodyTime))
		select {
		case s.inFlight <- struct{}{}:
			defer func() { <-s.inFlight }()
		default:
			s.fail(w, busy())
			return
		}
		turn, cancel := context.WithTimeout(r.Context(), s.wait)
		defer cancel()
		body, err := read(w, r)
		if err == nil {
			err = s.unsent.take(turn)
		}
		if err != nil {
			s.fail(w, err)
			return
		}
		defer func() { <-s.unsent }() // when it is sent
		a, err := func() (answer, error) {
			if err := s.work.take(turn); err != nil {
				return answer{}, err
			}
			defer func() { <-s.work }()
			return make(r.Context(), r, body)
		}()
		if err != nil {
			s.fail(w, err)
			return
		}
		s.send(w, http.StatusOK, a)
	}
}

// read refuses what isn't said to be JSON, and what says it is too large before any of it is sent; it stops at the
// bound where nothing is said, and at the read deadline, which stays where it was unless all has come.
func read(w *reply, r *http.Request) ([]byte, error) {
	tooLarge := &failure{status: http.StatusRequestEntityTooLarge, detail: "a body has at most 1 MiB"}
	if !isJSON(r.Header) {
		return nil, &failure{status: http.StatusUnsupportedMediaType, detail: "send application/json, not compressed",
			header: map[string]string{"Accept": "application/json", "Accept-Encoding": "identity"}}
	}
	if r.ContentLength > maxBody {
		return nil, tooLarge
	}
	body, err := io.ReadAll(http.MaxBytesReader(w.ResponseWriter, r.Body, maxBody))
	switch bound := (*http.MaxBytesError)(nil); {
	case errors.As(err, &bound):
		return nil, tooLarge
	case errors.Is(err, os.ErrDeadlineExceeded):
		return nil, &failure{status: http.StatusRequestTimeout, detail: "the body came too slowly", header: map[string]string{"Connection": "close"}}
	case err != nil:
		return nil, &failure{status: http.StatusBadRequest, detail: "the body ended early"}
	}
	http.NewResponseController(w.ResponseWriter).SetReadDeadline(time.Time{})
	return body, nil
}

// isJSON asks the client to say that it sends JSON: what a form on a foreign page may send without
// being asked first is refused. (RFC 9110, sections 8.3, 8.4 and 15.5.16.)
func isJSON(h http.Header) bool {
	media, parameters, err := mime.ParseMediaType(h.Get("Content-Type"))
	charset, coding := parameters["charset"], h.Get("Content-Encoding")
	return err == nil && media == "application/json" &&
		(charset == "" || strings.EqualFold(charset, "utf-8")) && (coding == "" || strings.EqualFold(coding, "identity"))
}

// send gives a client some time to take the answer, from now.
func (s *server) send(w *reply, status int, a answer) {
	h := w.Header()
	h.Set("Content-Type", a.mediaType)
	h.Set("Content-Length", strconv.Itoa(len(a.body)))
	if s.draining.Load() {
		h.Set("Connection", "close")
	}
	for name, value := range a.header {
		h.Set(name, value)
	}
	http.NewResponseController(w.ResponseWriter).SetWriteDeadline(time.Now().Add(s.writeTime))
	w.WriteHeader(status)
	w.status = status
	w.bytes, _ = w.Write(a.body) // to a client that has gone there is nothing to say
}

//go:embed openapi.json
var description []byte

func (s *server) openAPI(w *reply, _ *http.Request) {
	s.send(w, http.StatusOK, answer{mediaType: "application/json", body: description})
}

func (s *server) health(w *reply, _ *http.Request) {
	if s.draining.Load() {
		s.fail(w, &failure{status: http.StatusServiceUnavailable, detail: "about to stop"})
		return
	}
	s.send(w, http.StatusOK, answer{mediaType: "application/json", body: []byte(`{"ok":true}`)})
}

// failure is an error that knows its status.
type failure struct {
	status int
	detail string
	errs   []wrong
	header map[string]string
}

func (f *failure) Error() string { return f.detail }

// problem is a problem details object (RFC 9457, section 3.1), with what is wrong in the body as an extension member.
type problem struct {
	Title  string  `json:"title"` // no type: about:blank, so the title is that of the status
	Status int     `json:"status"`
	Detail string  `json:"detail"`
	Errors []wrong `json:"errors,omitempty"`
}

// wrong is one thing that is wrong in a body.
type wrong struct {
	Pointer string `json:"pointer"` // JSON Pointer (RFC 6901) into the body
	Code    string `json:"code"`    // as service.JobError.Code and service.Codes have them
	Problem string `json:"problem"`
	Want    string `json:"want,omitempty"`
}

// busy sends a client away for a while, not all of them for the same.
func busy() *failure {
	return &failure{status: http.StatusServiceUnavailable, detail: "too much to do; ask again after the seconds in Retry-After",
		header: map[string]string{"Retry-After": strconv.Itoa(1 + rand.N(3))}}
}

// refused is what the library has to say against a part of the body: "" for the whole, "/job" for that member.
func refused(part, detail string, err error) *failure {
	f := &failure{status: http.StatusUnprocessableEntity, detail: detail}
	if errors.Is(err, service.ErrJSON) {
		f.status, f.detail = http.StatusBadRequest, "the body is no JSON"
	}
	var all service.JobErrors
	errors.As(err, &all)
	for _, one := range all {
		f.errs = append(f.errs, wrong{part + pointer(one.Path), one.Code(), one.Problem, one.Want})
	}
	return f
}

// pointer makes the JSON Pointer (RFC 6901) of a path: "stations[1].tighten" is "/stations/1/tighten". A key that isn't
// plain is quoted in a path, and cut if it is long; what it is in is pointed at then.
func pointer(path string) string {
	path, _, _ = strings.Cut(path, `"`)
	path = strings.NewReplacer("[", "/", "]", "", ".", "/").Replace(strings.TrimSuffix(path, "."))
	return strings.TrimSuffix("/"+path, "/")
}

// fail answers with what is wrong, if there is anybody left to hear it.
func (s *server) fail(w *reply, err error) {
	if errors.Is(err, context.Canceled) {
		panic(http.ErrAbortHandler)
	}
	f := &failure{}
	if !errors.As(err, &f) {
		s.log.Error("unexpected", "error", err)
		f = &failure{status: http.StatusInternalServerError, detail: "this can't be answered"}
	}
	text, _ := json.Marshal(problem{http.StatusText(f.status), f.status, f.detail, f.errs}) // texts and a number
	s.send(w, f.status, answer{"application/problem+json", f.header, text})
}
