package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"strings"

	"example.com/snugturn/service"
)

const longest = 1 << 20 // bytes of a line, of a job, of rules

// verdict is the answer to a line that was judged, refusal that to one that wasn't.
type verdict struct {
	Line       int             `json:"line"`
	Job        string          `json:"job"`
	Revision   int             `json:"revision"`
	Complete   bool            `json:"complete"`
	AsPlanned  bool            `json:"asPlanned"`
	Open       []service.Line  `json:"open,omitempty"`       // keep the job from being complete
	Departures []service.Line  `json:"departures,omitempty"` // are no pass either
	Hash       string          `json:"recordSHA256"`         // the record's own hash, which the same inputs always give
	Record     json.RawMessage `json:"record,omitempty"`
}

type refusal struct {
	Line    int    `json:"line"`
	Problem string `json:"problem"`
}

// batch is read-only once it is planned, so that all workers share it.
type batch struct {
	jobs    []service.Job
	rules   service.Rules
	plans   map[string]*service.Plan
	records bool
}

// addJobs takes one job a line, or one job spread over as many as it likes.
func (b *batch) addJobs(in io.Reader) error {
	data, err := io.ReadAll(io.LimitReader(in, longest+1))
	if err == nil && json.Valid(data) {
		return b.addJob(data)
	}
	for number, l := range lines(io.MultiReader(bytes.NewReader(data), in)) {
		if l.err == nil && len(bytes.TrimSpace(l.text)) > 0 {
			l.err = b.addJob(l.text)
		}
		if l.err != nil {
			return fmt.Errorf("line %d: %w", number, l.err)
		}
	}
	return err
}

func (b *batch) addJob(data []byte) error {
	job, err := service.ReadJob(data)
	b.jobs = append(b.jobs, job)
	return err
}

func (b *batch) setRules(in io.Reader) error {
	if b.rules.Name != "" {
		return errors.New("rules were given before; want one file of them")
	}
	data, err := io.ReadAll(io.LimitReader(in, longest+1))
	if err == nil {
		b.rules, err = service.ReadRules(data)
	}
	return err
}

// plan works the jobs out once the rules are known, in whatever order the two were named.
func (b *batch) plan() error {
	b.plans = make(map[string]*service.Plan, len(b.jobs))
	for _, job := range b.jobs {
		plan, err := service.NewPlan(job, b.rules)
		if err != nil {
			return err
		}
		if b.plans[key(job.ID, job.Revision)] != nil {
			return fmt.Errorf("job %s was given before; want each once", key(job.ID, job.Revision))
		}
		b.plans[key(job.ID, job.Revision)] = plan
	}
	return nil
}

func key(job string, revision int) string { return fmt.Sprintf("%q, revision %d", job, revision) }

// judge is the answer to a line, and whether it could be judged.
func (b *batch) judge(number int, l line) (answer []byte, judged bool) {
	v, err := b.review(number, l)
	if err == nil {
		answer, err = json.Marshal(v)
	}
	if err != nil {
		answer, _ = json.Marshal(refusal{number, err.Error()})
	}
	return append(answer, '\n'), err == nil
}

func (b *batch) review(number int, l line) (v verdict, err error) {
	if l.err != nil {
		return v, l.err
	}
	done, err := service.ReadAsDone(l.text)
	if err != nil && !json.Valid(l.text) {
		return v, fmt.Errorf("%w; want one whole record a line, not one spread over many", err)
	} else if err != nil {
		return v, err
	}
	plan, ok := b.plans[key(done.Job, done.Revision)]
	if !ok {
		return v, fmt.Errorf("job %s was not given; want one of %s", key(done.Job, done.Revision), b.given())
	}
	review, err := plan.Review(done)
	if err != nil {
		return v, err
	}
	record, err := review.Record()
	if err != nil {
		return v, err
	}
	var sealed struct{ SHA256 string }
	if err := json.Unmarshal(record, &sealed); err != nil {
		return v, err
	}
	v = verdict{Line: number, Job: done.Job, Revision: done.Revision, Complete: review.Complete, AsPlanned: review.AsPlanned,
		Open: review.Open(), Departures: review.Departures(), Hash: sealed.SHA256}
	if b.records {
		v.Record = record
	}
	return v, nil
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

// task is a line on its way to a worker, and the place where its answer will be.
type task struct {
	number int
	line   line
	answer []byte
	judged bool
	done   chan struct{}
}

// answers judges lines on so many workers and gives the answers in the order of the lines. No more tasks
// are under way than twice the workers, so that memory doesn't grow with the file.
func (b *batch) answers(all iter.Seq2[int, line], workers int) iter.Seq[*task] {
	return func(yield func(*task) bool) {
		work, order, stop := make(chan *task), make(chan *task, 2*workers), make(chan struct{})
		defer close(stop)
		go func() {
			defer close(order)
			defer close(work)
			for number, l := range all {
				if l.err == nil && len(bytes.TrimSpace(l.text)) == 0 {
					continue // a blank line says nothing
				}
				t := &task{number: number, line: line{bytes.Clone(l.text), l.err}, done: make(chan struct{})}
				for _, to := range []chan *task{order, work} {
					select {
					case to <- t:
					case <-stop:
						return
					}
				}
			}
		}()
		for range workers {
			go func() {
				for t := range work {
					t.answer, t.judged = b.judge(t.number, t.line)
					close(t.done)
				}
			}()
		}
		for t := range order {
			if <-t.done; !yield(t) {
				return
			}
		}
	}
}

// line is a line, or why it can't be had.
type line struct {
	text []byte
	err  error
}

// lines reads line by line and holds no more than the longest in memory; a longer one is read
// past, so that the next is whole again.
func lines(in io.Reader) iter.Seq2[int, line] {
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

// resume opens a file of answers to go on with: what a process that was killed left of a last answer is
// cut off, and last is the number of the last whole one. Answers are written one by one in the order of
// their lines, so that none before it is missing.
func resume(name string) (f *os.File, last int, err error) {
	f, err = os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, 0, err
	}
	var whole int64
	r := bufio.NewReader(f)
	for {
		text, readErr := r.ReadBytes('\n')
		if readErr != nil {
			if readErr != io.EOF {
				err = readErr
			}
			break
		}
		var answer struct{ Line int }
		if err = json.Unmarshal(text, &answer); err != nil || answer.Line <= last {
			err = fmt.Errorf("%s: no answers of this program behind line %d: %q", name, last, text[:min(len(text), 40)])
			break
		}
		whole, last = whole+int64(len(text)), answer.Line
	}
	if err == nil {
		err = f.Truncate(whole)
	}
	if err == nil {
		_, err = f.Seek(whole, io.SeekStart)
	}
	if err != nil {
		f.Close()
	}
	return f, last, err
}
