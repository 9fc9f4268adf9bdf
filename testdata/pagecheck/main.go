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

type answer struct {
	Text    string `json:"text,omitempty"`
	HTML    string `json:"html,omitempty"`
	Spanish string `json:"spanish,omitempty"`
	Error   string `json:"error,omitempty"`
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
	spanish, err := sheet.In("es")
	if err != nil {
		return answer{}, err
	}
	s := sheet.English().Sheet(plan, true)
	page, err := s.HTML()
	return answer{Text: s.Text(), HTML: string(page), Spanish: spanish.Sheet(plan, true).Text()}, err
}
