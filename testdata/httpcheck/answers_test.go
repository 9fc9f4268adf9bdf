// Package httpcheck holds what examples/httpservice answers against its description, with a validator and a client
// written elsewhere; `run` makes the client, keeps the answers and starts the service.
package httpcheck

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"
)

const example = "../../examples/"

// exchange is what the service's tests keep of a request and its answer.
type exchange struct {
	Method, Target     string
	Header, AnswerHead http.Header
	Body, Answer       []byte
	Status             int
}

func description(t *testing.T) *openapi3.T {
	t.Helper()
	doc, err := openapi3.NewLoader().LoadFromFile(example + "httpservice/openapi.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(context.Background()); err != nil {
		t.Fatal(err)
	}
	return doc
}

func init() {
	openapi3filter.RegisterBodyDecoder("application/problem+json", openapi3filter.RegisteredBodyDecoder("application/json"))
	openapi3filter.RegisterBodyDecoder("text/html", openapi3filter.RegisteredBodyDecoder("text/plain"))
}

// Every answer of the service's own tests is as described, and so is every request that it took. Source: openapi-clients.
func TestAnswers(t *testing.T) {
	doc := description(t)
	doc.Servers = nil // it is "/", which the router would take away from each path
	router, err := legacy.NewRouter(doc)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(os.Getenv("HTTPSERVICE_ANSWERS"), "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var e exchange
		if err := json.Unmarshal(text, &e); err != nil {
			t.Fatal(err)
		}
		r, err := http.NewRequest(e.Method, "/", bytes.NewReader(e.Body))
		if err != nil {
			t.Fatal(err)
		}
		if r.URL, err = r.URL.Parse("http://localhost" + e.Target); err != nil {
			t.Fatal(err)
		}
		r.Header = e.Header
		route, parameters, err := router.FindRoute(r)
		if unknown := (*routers.RouteError)(nil); errors.As(err, &unknown) {
			problem(t, doc, e)
			seen["elsewhere"]++
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		input := &openapi3filter.RequestValidationInput{Request: r, PathParams: parameters, Route: route}
		if e.Status == http.StatusOK {
			if err := openapi3filter.ValidateRequest(context.Background(), input); err != nil {
				t.Errorf("%s %s was taken: %.2000s", e.Method, e.Target, err)
			}
			seen[route.Path]++
		} else {
			seen["problems"]++
		}
		answer := &openapi3filter.ResponseValidationInput{RequestValidationInput: input, Status: e.Status, Header: e.AnswerHead,
			Options: &openapi3filter.Options{IncludeResponseStatus: true}}
		if err := openapi3filter.ValidateResponse(context.Background(), answer.SetBodyBytes(e.Answer)); err != nil {
			t.Errorf("%s %s: %d: %.2000s", e.Method, e.Target, e.Status, err)
		}
	}
	t.Log(seen)
	for path := range doc.Paths.Map() {
		if seen[path] == 0 {
			t.Errorf("no answer of %s", path)
		}
	}
	if seen["problems"] < 40 || seen["elsewhere"] == 0 || seen["/v1/sheet"] < 40 {
		t.Error("few answers")
	}
}

// problem holds what is answered where nothing is described.
func problem(t *testing.T, doc *openapi3.T, e exchange) {
	t.Helper()
	var value any
	if err := json.Unmarshal(e.Answer, &value); err != nil {
		t.Errorf("%s %s: %v", e.Method, e.Target, err)
		return
	}
	if e.Status != 404 && e.Status != 405 || !strings.HasPrefix(e.AnswerHead.Get("Content-Type"), "application/problem+json") {
		t.Errorf("%s %s: %d", e.Method, e.Target, e.Status)
	}
	if err := doc.Components.Schemas["Problem"].Value.VisitJSON(value, openapi3.EnableJSONSchema2020()); err != nil {
		t.Errorf("%s %s: %d: %v", e.Method, e.Target, e.Status, err)
	}
}
