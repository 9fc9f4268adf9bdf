package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// An entry is one thing somebody put down. Entries are added and never changed: a correction is another entry,
// and so is taking one back.
type entry struct {
	Seq       int               `json:"seq"`   // from 1, of a job
	Token     string            `json:"token"` // of the form it came with: the same answer with it twice is one entry
	At        time.Time         `json:"at"`
	By        string            `json:"by"`
	Job       string            `json:"job"`
	Revision  int               `json:"revision"` // of the job when it was put down
	Ask       string            `json:"ask"`      // what it answers
	From      int               `json:"from"`     // the entry that was shown when the form was made; 0 for none
	Answer    map[string]string `json:"answer,omitempty"`
	Withdraws int               `json:"withdraws,omitempty"` // the entry that is taken back
	Aside     bool              `json:"aside,omitempty"`     // made from an entry that was no longer the last: kept, and doesn't count

	Also []string `json:"-"` // who gave the same answer before, where the entry is one of those that count
}

// Names are all who gave the answer.
func (e entry) Names() string { return strings.Join(append(slices.Clone(e.Also), e.By), ", ") }

// A store keeps the entries of a folder's jobs, each in a file of its own.
type store struct {
	folder string
	before func(step string) error // called before each step to the disk; an error is the end there
	unlock func()
	now    func() time.Time

	mu      sync.Mutex
	entries map[string][]entry // by job
}

var errBusy = errors.New("another shopfloor works in this folder")

// openStore locks a folder and reads what is in it. What a write was broken off in the middle of is no entry.
func openStore(folder string) (*store, error) {
	if err := os.MkdirAll(filepath.Join(folder, "entries"), 0o750); err != nil {
		return nil, err
	}
	unlock, err := lock(filepath.Join(folder, "lock"))
	if err != nil {
		return nil, err
	}
	s := &store{folder: folder, before: func(string) error { return nil }, unlock: unlock, now: time.Now, entries: map[string][]entry{}}
	if err := s.read(); err != nil {
		unlock()
		return nil, err
	}
	return s, nil
}

func (s *store) close() { s.unlock() }

func (s *store) read() error {
	return filepath.WalkDir(filepath.Join(s.folder, "entries"), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if strings.HasSuffix(path, ".new") { // never confirmed
			return os.Remove(path)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		var e entry
		if err := json.Unmarshal(data, &e); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		s.entries[e.Job] = append(s.entries[e.Job], e) // in the order of their names
		if want := len(s.entries[e.Job]); e.Seq != want || s.path(e) != path {
			return fmt.Errorf("%s: entry %d of job %s, where entry %d should be", path, e.Seq, e.Job, want)
		}
		return nil
	})
}

// path is where an entry is kept. Nothing that anybody typed is in it.
func (s *store) path(e entry) string {
	sum := sha256.Sum256([]byte(e.Job))
	return filepath.Join(s.folder, "entries", hex.EncodeToString(sum[:16]), fmt.Sprintf("%06d.json", e.Seq))
}

// of are the entries of a job.
func (s *store) of(job string) []entry {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.entries[job])
}

// names are those who put something down.
func (s *store) names() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	names := map[string]bool{}
	for _, all := range s.entries {
		for _, e := range all {
			names[e.By] = true
		}
	}
	return slices.Sorted(maps.Keys(names))
}

// add keeps an entry: when it returns without an error, the entry is on the disk. The same again with the
// same token gives the entry that was kept. One that was made from an entry which isn't the last of its question is kept aside, unless it
// says the same.
func (s *store) add(e entry) (entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	all := s.entries[e.Job]
	for _, old := range all {
		if old.Token == e.Token && old.Ask == e.Ask && old.Withdraws == e.Withdraws && maps.Equal(old.Answer, e.Answer) {
			return old, nil
		}
	}
	if last := current(all, e.Revision)[e.Ask]; last.Seq != e.From {
		if e.Withdraws == 0 && last.Token == e.Token && last.By == e.By {
			e.From = last.Seq // back to the form, and another answer: a correction
		} else if e.Withdraws == 0 && last.Seq > 0 && maps.Equal(last.Answer, e.Answer) {
			e.From = last.Seq // the same thing, said by two: both names are kept
		} else {
			e.Aside = true
		}
	}
	e.Seq, e.At = len(all)+1, s.now()
	if err := s.write(e); err != nil {
		return entry{}, err
	}
	s.entries[e.Job] = append(all, e)
	return e, nil
}

// write puts a file in its place in an order that loses nothing: all of it under another name, from the
// memory of the machine to the disk, then its own name, then the folder's list of names. Where a folder can't
// be brought to the disk by itself, as on Windows, the last step is the system's.
func (s *store) write(e entry) error {
	data, err := json.Marshal(e)
	if err != nil {
		return err
	}
	path := s.path(e)
	folder := filepath.Dir(path)
	if _, err := os.Stat(folder); errors.Is(err, fs.ErrNotExist) {
		if err := s.before("make folder"); err != nil {
			return err
		}
		if err := os.Mkdir(folder, 0o750); err != nil {
			return err
		}
		if err := s.syncFolder(filepath.Dir(folder)); err != nil {
			return err
		}
	}
	if err := s.before("create"); err != nil {
		return err
	}
	f, err := os.OpenFile(path+".new", os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o640)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := s.before("write"); err != nil {
		return err
	}
	if _, err := f.Write(append(data, '\n')); err != nil {
		return err
	}
	if err := s.before("sync"); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := s.before("rename"); err != nil {
		return err
	}
	if err := os.Rename(path+".new", path); err != nil {
		return err
	}
	return s.syncFolder(folder)
}

func (s *store) syncFolder(folder string) error {
	if err := s.before("sync folder"); err != nil {
		return err
	}
	d, err := os.Open(folder)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && canSyncFolders {
		return err
	}
	return s.before("confirm")
}

// current are the answers that count, by question: of each the last that wasn't taken back, for this revision
// of the job.
func current(all []entry, revision int) map[string]entry {
	gone := map[int]bool{}
	for _, e := range all {
		if e.Withdraws > 0 && !e.Aside {
			gone[e.Withdraws] = true
		}
	}
	last, people := map[string]entry{}, map[string][]string{}
	for _, e := range all {
		if e.Revision == revision && !e.Aside && e.Withdraws == 0 && !gone[e.Seq] {
			if !maps.Equal(last[e.Ask].Answer, e.Answer) {
				people[e.Ask] = nil
			}
			people[e.Ask] = append(people[e.Ask], e.By)
			last[e.Ask] = e
		}
	}
	for ask, e := range last {
		named := map[string]bool{e.By: true}
		for _, name := range people[ask] {
			if !named[name] {
				named[name], e.Also = true, append(e.Also, name)
			}
		}
		last[ask] = e
	}
	return last
}

// asides are answers that wait beside those that count until somebody says which is right.
func asides(all []entry, revision int) (waiting []entry) {
	settled := map[int]bool{}
	for _, e := range all {
		if e.Withdraws > 0 {
			settled[e.Withdraws] = true
		}
	}
	for _, e := range all {
		if e.Revision == revision && e.Aside && e.Withdraws == 0 && !settled[e.Seq] {
			waiting = append(waiting, e)
		}
	}
	return waiting
}

// lastOf is the newest entry of all.
func lastOf(all []entry) entry {
	if len(all) == 0 {
		return entry{}
	}
	return all[len(all)-1]
}
