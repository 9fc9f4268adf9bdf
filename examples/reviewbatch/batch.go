package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/snugturn/service"
)

const longest = 1 << 20 // bytes of a line, of a job, of rules

// verdict is the answer to a line that was judged, refusal that to one that wasn't.
type verdict struct {
	Line       int      `json:"line"`
	Job        string   `json:"job"`
	Revision   int      `json:"revision"`
	Complete   bool     `json:"complete"`
	AsPlanned  bool     `json:"asPlanned"`
	Open       []string `json:"open,omitempty"`       // keep the job from being complete
	Departures []string `json:"departures,omitempty"` // are no pass either
}

type refusal struct {
	Line    int    `json:"line"`
	Problem string `json:"problem"`
}

type batch struct {
	jobs    []service.Job
	rules   service.Rules
	plans   map[string]*service.Plan
	records bool
}

func (b *batch) addJob(data []byte) error {
	job, err := service.ReadJob(data)
	if err != nil {
		return err
	}
	for _, other := range b.jobs {
		if key(other.ID, other.Revision) == key(job.ID, job.Revision) {
			return fmt.Errorf("job %s was given before; want each once", key(job.ID, job.Revision))
		}
	}
	b.jobs = append(b.jobs, job)
	return nil
}

// plan works the jobs out once the rules are known, in whatever order the two were named.
func (b *batch) plan() error {
	b.plans = make(map[string]*service.Plan, len(b.jobs))
	for _, job := range b.jobs {
		plan, err := service.NewPlan(job, b.rules)
		if err != nil {
			return err
		}
		b.plans[key(job.ID, job.Revision)] = plan
	}
	return nil
}

func (b *batch) setRules(data []byte) (err error) {
	if b.rules.Name != "" {
		return errors.New("rules were given before; want one file of them")
	}
	b.rules, err = service.ReadRules(data)
	return err
}

func key(job string, revision int) string { return fmt.Sprintf("%q, revision %d", job, revision) }

func (b *batch) judge(number int, l line) ([]byte, error) {
	if l.err != nil {
		return nil, l.err
	}
	done, err := service.ReadAsDone(l.text)
	if err != nil && !json.Valid(l.text) {
		return nil, fmt.Errorf("%w; want one whole record a line, not one spread over many", err)
	} else if err != nil {
		return nil, err
	}
	plan, ok := b.plans[key(done.Job, done.Revision)]
	if !ok {
		return nil, fmt.Errorf("job %s was not given; want one of %s", key(done.Job, done.Revision), b.given())
	}
	review, err := plan.Review(done)
	if err != nil {
		return nil, err
	}
	if b.records {
		return review.Record()
	}
	v := verdict{Line: number, Job: done.Job, Revision: done.Revision, Complete: review.Complete, AsPlanned: review.AsPlanned}
	for _, l := range review.Open() {
		v.Open = append(v.Open, l.String())
	}
	for _, l := range review.Departures() {
		v.Departures = append(v.Departures, l.String())
	}
	return json.Marshal(v)
}

// given lists some of the jobs: as many as fit a message.
func (b *batch) given() string {
	var keys []string
	for i, job := range b.jobs {
		if i == 10 {
			return strings.Join(append(keys, fmt.Sprintf("%d others", len(b.jobs)-i)), "; ")
		}
		keys = append(keys, key(job.ID, job.Revision))
	}
	return strings.Join(keys, "; ")
}

// line is a line, or why it can't be had.
type line struct {
	text []byte
	err  error
}

// lines reads line by line and holds no more than the longest in memory; a longer one is read
// past, so that the next is whole again.
func lines(in io.Reader) func(yield func(int, line) bool) {
	return func(yield func(int, line) bool) {
		r := bufio.NewReaderSize(in, longest)
		for number := 1; ; number++ {
			text, err := r.ReadSlice('\n')
			l := line{text: text}
			if errors.Is(err, bufio.ErrBufferFull) {
				l = line{err: fmt.Errorf("more than %d bytes in one line", longest)}
				for errors.Is(err, bufio.ErrBufferFull) {
					_, err = r.ReadSlice('\n')
				}
			}
			end := err != nil
			if end && !errors.Is(err, io.EOF) {
				l.err = err
			}
			if end && l.err == nil && len(l.text) == 0 {
				return
			}
			if !yield(number, l) || end {
				return
			}
		}
	}
}

// fromFile lets a flag read a file of bounded length.
func fromFile(use func([]byte) error) func(string) error {
	return func(name string) error {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		data, err := io.ReadAll(io.LimitReader(f, longest+1))
		if err != nil {
			return err
		}
		return use(data)
	}
}
