// Pagecheck prints the pages of jobs for pagecheck.py, which recomputes what is on them: a question a line on standard input,
// {"job", "machine", "rules"}, and of a review {"done"} too, and an answer a line on standard output. It computes nothing itself.
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
	Done    json.RawMessage `json:"done"`
}

// answer has the pages in each language that there are words for.
type answer struct {
	Pages  map[string]forms  `json:"pages,omitempty"`
	Record string            `json:"record,omitempty"` // its bytes
	Words  map[string]string `json:"words,omitempty"`  // it in words
	Error  string            `json:"error,omitempty"`
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
	if q.Done != nil {
		return record(plan, q.Done)
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

// record is what is kept of a job that was done, and says.
func record(plan *service.Plan, readings []byte) (answer, error) {
	done, err := service.ReadAsDone(readings)
	if err != nil {
		return answer{}, err
	}
	review, err := plan.Review(done)
	if err != nil {
		return answer{}, err
	}
	data, err := review.Record()
	if err != nil {
		return answer{}, err
	}
	read, err := service.ReadRecord(data)
	if err != nil {
		return answer{}, err
	}
	a := answer{Record: string(data), Words: map[string]string{}}
	for _, tag := range sheet.Languages() {
		words, err := sheet.In(tag)
		if err != nil {
			return a, err
		}
		if a.Words[tag], err = words.Record(read); err != nil {
			return a, err
		}
	}
	return a, nil
}
