// Pagecheck prints the pages of jobs for pagecheck.py, which recomputes what is on them: a question a line on standard input,
// {"job", "machine", "rules"}, and an answer a line on standard output. It computes nothing itself.
package main

import (
	"bufio"
	"encoding/json"
	"log"
	"os"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

type question struct {
	Job     json.RawMessage `json:"job"`
	Machine json.RawMessage `json:"machine"`
	Rules   json.RawMessage `json:"rules"`
}

// answer has the pages in each language that there are words for.
type answer struct {
	Pages map[string]forms `json:"pages,omitempty"`
	Error string           `json:"error,omitempty"`
}

type forms struct {
	Text  string          `json:"text"`
	ASCII string          `json:"ascii"`
	HTML  string          `json:"html"`
	JSON  json.RawMessage `json:"json"`
}

func main() {
	in, out := json.NewDecoder(bufio.NewReader(os.Stdin)), json.NewEncoder(os.Stdout)
	for in.More() {
		var q question
		if err := in.Decode(&q); err != nil {
			log.Fatal(err)
		}
		a, err := pages(q)
		if err != nil {
			a.Error = err.Error()
		}
		if err := out.Encode(a); err != nil {
			log.Fatal(err)
		}
	}
}

// pages are all pages of a job, that of the numbers too.
func pages(q question) (answer, error) {
	job, err := service.ReadJob(q.Job)
	if q.Machine != nil {
		job, err = service.ReadJobOn(q.Machine, q.Job)
	}
	if err != nil {
		return answer{}, err
	}
	var rules service.Rules
	if q.Rules != nil {
		if rules, err = service.ReadRules(q.Rules); err != nil {
			return answer{}, err
		}
	}
	plan, err := service.NewPlan(job, rules)
	if err != nil {
		return answer{}, err
	}
	a := answer{Pages: map[string]forms{}}
	for _, tag := range sheet.Languages() {
		words, err := sheet.In(tag)
		if err != nil {
			return a, err
		}
		s := words.Sheet(plan, true)
		page, err := s.HTML()
		if err != nil {
			return a, err
		}
		data, err := s.JSON()
		if err != nil {
			return a, err
		}
		a.Pages[tag] = forms{Text: s.Text(), ASCII: s.ASCII(), HTML: string(page), JSON: data}
	}
	return a, nil
}
