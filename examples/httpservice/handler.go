package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

// planned is a job's plan, unless the client has gone or the job can't be.
func (s *server) planned(ctx context.Context, part string, data []byte) (*service.Plan, error) {
	job, err := service.ReadJob(data)
	if err != nil {
		return nil, refused(part, "the job file can't be right", err)
	} else if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	plan, err := service.NewPlan(job, s.rules)
	if err != nil {
		return nil, refused(part, "the job can't be planned", err)
	}
	return plan, ctx.Err()
}

type finding struct {
	service.Message
	Level   service.Level `json:"level"`
	Where   string        `json:"where"`
	Sources []string      `json:"sources,omitempty"`
}

func (s *server) plan(ctx context.Context, _ *http.Request, body []byte) (answer, error) {
	plan, err := s.planned(ctx, "", body)
	if err != nil {
		return answer{}, err
	}
	findings := []finding{}
	for _, f := range plan.Findings {
		findings = append(findings, finding(f))
	}
	return asJSON(map[string]any{"findings": findings, "wants": append([]service.Line{}, plan.Wants()...)})
}

func (s *server) sheet(ctx context.Context, r *http.Request, body []byte) (answer, error) {
	form, ok := prefer(r.Header.Values("Accept"))
	if !ok {
		return answer{}, &failure{status: http.StatusNotAcceptable, detail: "there are application/json, text/html and text/plain"}
	}
	plan, err := s.planned(ctx, "", body)
	if err != nil {
		return answer{}, err
	}
	laid := language(r.Header.Values("Accept-Language")).Sheet(plan, r.URL.Query().Has("numbers"))
	if ctx.Err() != nil {
		return answer{}, ctx.Err()
	}
	text, err := form.render(laid)
	return answer{form.mediaType, map[string]string{"Content-Security-Policy": sheet.Policy() + "; frame-ancestors 'none'",
		"Content-Language": laid.Lang, "Vary": "Accept, Accept-Language"}, text}, err
}

func (s *server) review(ctx context.Context, _ *http.Request, body []byte) (answer, error) {
	if s.rules == (service.Rules{}) {
		return answer{}, &failure{status: http.StatusNotImplemented, detail: "started without rules, this judges nothing"}
	}
	var parts struct{ Job, AsDone once }
	in := json.NewDecoder(bytes.NewReader(body))
	in.DisallowUnknownFields()
	if !json.Valid(body) {
		return answer{}, refused("", "", service.JobErrors{{Problem: "no JSON", Err: service.ErrJSON}})
	} else if err := in.Decode(&parts); err != nil || parts.Job == nil || parts.AsDone == nil {
		return answer{}, &failure{status: http.StatusUnprocessableEntity, detail: "this isn't what can be reviewed",
			errs: []wrong{{"", "wrong-type", "other members", "an object of job and asDone, each once"}}}
	}
	plan, err := s.planned(ctx, "/job", parts.Job)
	if err != nil {
		return answer{}, err
	}
	done, err := service.ReadAsDone(parts.AsDone)
	if err != nil {
		return answer{}, refused("/asDone", "the readings can't be right", err)
	}
	review, err := plan.Review(done)
	if err != nil {
		return answer{}, refused("/asDone", "the readings don't fit the job", err)
	}
	record, err := review.Record()
	if err != nil {
		return answer{}, refused("", "the record can't be written", err)
	}
	return answer{mediaType: "application/json", body: record}, nil
}

// once is JSON that is given once.
type once json.RawMessage

func (o *once) UnmarshalJSON(text []byte) error {
	if *o != nil {
		return errors.New("given twice")
	}
	*o = append(once{}, text...)
	return nil
}

type difference struct {
	Where string          `json:"where"`
	Code  string          `json:"code"`
	Old   service.Verdict `json:"old,omitzero"`
	New   service.Verdict `json:"new,omitzero"`
}

func (s *server) verify(_ context.Context, _ *http.Request, body []byte) (answer, error) {
	record, err := service.ReadRecord(body)
	if err != nil {
		return answer{}, refused("", "this isn't a record as it was written", err)
	}
	outcome, differences := map[bool]string{true: "verified", false: "other release"}[record.Verified], []difference{}
	for _, d := range record.Differences {
		differences = append(differences, difference(d))
	}
	return asJSON(map[string]any{"outcome": outcome, "release": record.Release, "sha256": record.SHA256, "differences": differences})
}

func asJSON(of any) (answer, error) {
	text, err := json.Marshal(of)
	return answer{mediaType: "application/json", body: text}, err
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
		s := map[string]int{"*/*": 1, kind + "/*": 2, name: 3}[media]
		if err != nil || s <= specific {
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
