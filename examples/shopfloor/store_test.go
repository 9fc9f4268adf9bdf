package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMain is also a program of its own: it adds entries to the folder SHOPFLOOR_FOLDER and is killed before
// step SHOPFLOOR_KILL of all the steps to the disk.
func TestMain(m *testing.M) {
	folder := os.Getenv("SHOPFLOOR_FOLDER")
	if folder == "" {
		os.Exit(m.Run())
	}
	s, err := openStore(folder)
	if err != nil {
		os.Stderr.WriteString(err.Error())
		os.Exit(3)
	}
	steps, _ := strconv.Atoi(os.Getenv("SHOPFLOOR_KILL"))
	s.before = func(string) error {
		if steps--; steps < 0 {
			p, err := os.FindProcess(os.Getpid())
			if err == nil {
				err = p.Kill()
			}
			time.Sleep(time.Minute)
			return err
		}
		return nil
	}
	for i := 1; ; i++ {
		e, err := s.add(entry{Token: "t" + strconv.Itoa(i), By: "Ann", Job: "J", Ask: "a" + strconv.Itoa(i), Answer: map[string]string{"yes": "no"}})
		if err != nil {
			os.Exit(4)
		}
		os.Stdout.WriteString(strconv.Itoa(e.Seq) + "\n") // confirmed
	}
}

func openTemp(t *testing.T) *store {
	t.Helper()
	s, err := openStore(t.TempDir())
	require.NoError(t, err)
	t.Cleanup(s.close)
	return s
}

func answered(token, ask string, from int, yes string) entry {
	return entry{Token: token, By: "Ann", Job: "J", Ask: ask, From: from, Answer: map[string]string{"yes": yes}}
}

// The order that loses nothing: all of it on the disk under another name, then the name, then the folder.
func TestOrderOfSteps(t *testing.T) {
	s := openTemp(t)
	var steps []string
	s.before = func(step string) error { steps = append(steps, step); return nil }
	_, err := s.add(answered("t1", "a", 0, "no"))
	require.NoError(t, err)
	assert.Equal(t, []string{"make folder", "sync folder", "confirm", "create", "write", "sync", "rename", "sync folder", "confirm"}, steps)
	steps = nil
	_, err = s.add(answered("t2", "b", 0, "no"))
	require.NoError(t, err)
	assert.Equal(t, []string{"create", "write", "sync", "rename", "sync folder", "confirm"}, steps)
}

// A process that is killed between any two steps leaves a folder that can be read, with everything in it that was
// confirmed and at most the one entry more that was about to be.
func TestKilledAnywhere(t *testing.T) {
	self, err := os.Executable()
	require.NoError(t, err)
	for kill := range 22 { // three entries and their folder
		folder := t.TempDir()
		c := exec.Command(self)
		c.Env = append(os.Environ(), "SHOPFLOOR_FOLDER="+folder, "SHOPFLOOR_KILL="+strconv.Itoa(kill))
		out, err := c.Output()
		if errors.Is(err, syscall.ENOEXEC) {
			return // an emulator runs the test, and the system can't run it without; TestStoppedAnywhere breaks off as a kill would
		}
		require.Error(t, err, "it is killed")
		if status, ok := c.ProcessState.Sys().(syscall.WaitStatus); ok {
			require.False(t, status.Exited(), "killed, and not ended by itself: %v", err)
		}
		confirmed := strings.Count(string(out), "\n")
		s, err := openStore(folder)
		require.NoError(t, err, "killed before step %d", kill)
		kept := len(s.of("J"))
		assert.GreaterOrEqual(t, kept, confirmed, "killed before step %d", kill)
		assert.LessOrEqual(t, kept, confirmed+1, "killed before step %d", kill)
		left, err := filepath.Glob(filepath.Join(folder, "entries", "*", "*.new"))
		require.NoError(t, err)
		assert.Empty(t, left)
		e, err := s.add(answered("after", "z", 0, "no"))
		require.NoError(t, err)
		assert.Equal(t, kept+1, e.Seq)
		s.close()
	}
}

// The same with the process alive: the folder as it is before any step can be read.
func TestStoppedAnywhere(t *testing.T) {
	stop := errors.New("stopped")
	for kill := range 16 {
		s := openTemp(t)
		steps, confirmed := kill, 0
		s.before = func(string) error {
			if steps--; steps < 0 {
				return stop
			}
			return nil
		}
		for _, ask := range []string{"a", "b"} {
			if _, err := s.add(answered("t"+ask, ask, 0, "no")); err != nil {
				require.ErrorIs(t, err, stop)
				break
			}
			confirmed++
		}
		s.close()
		again, err := openStore(s.folder)
		require.NoError(t, err, "stopped before step %d", kill)
		assert.Contains(t, []int{confirmed, confirmed + 1}, len(again.of("J")))
		again.close()
	}
}

// What can't be written isn't confirmed, and what comes after takes its place.
func TestFailedStep(t *testing.T) {
	s := openTemp(t)
	full := errors.New("no space")
	for _, step := range []string{"make folder", "create", "write", "sync", "rename", "sync folder"} {
		s.before = func(now string) error {
			if now == step {
				return full
			}
			return nil
		}
		_, err := s.add(answered("failed "+step, "a", 0, "no"))
		require.ErrorIs(t, err, full)
		assert.Empty(t, s.of("J"))
	}
	s.before = func(string) error { return nil }
	e, err := s.add(answered("t", "a", 0, "yes"))
	require.NoError(t, err)
	assert.Equal(t, 1, e.Seq)
	s.close()
	again, err := openStore(s.folder)
	require.NoError(t, err)
	defer again.close()
	require.Len(t, again.of("J"), 1)
	assert.Equal(t, "yes", again.of("J")[0].Answer["yes"])
}

func TestSecondProcessIsRefused(t *testing.T) {
	s := openTemp(t)
	_, err := openStore(s.folder)
	require.ErrorIs(t, err, errBusy)
	s.close()
	again, err := openStore(s.folder)
	require.NoError(t, err)
	again.close()
}

func TestSentTwiceCountsOnce(t *testing.T) {
	s := openTemp(t)
	first, err := s.add(answered("t", "a", 0, "no"))
	require.NoError(t, err)
	second, err := s.add(answered("t", "a", 0, "no"))
	require.NoError(t, err)
	assert.Equal(t, first, second)
	assert.Len(t, s.of("J"), 1)
}

// Two people who give the same answer are both named, and neither overwrites the other.
func TestSameAnswerKeepsBothNames(t *testing.T) {
	s := openTemp(t)
	ann, err := s.add(answered("t1", "a", 0, "no"))
	require.NoError(t, err)
	bob, err := s.add(entry{Token: "t2", By: "Bob", Job: "J", Ask: "a", Answer: map[string]string{"yes": "no"}})
	require.NoError(t, err)
	assert.False(t, bob.Aside)
	now := current(s.of("J"), 0)["a"]
	assert.Equal(t, "Ann, Bob", now.Names())
	assert.Empty(t, asides(s.of("J"), 0))
	s.close()
	again, err := openStore(s.folder)
	require.NoError(t, err)
	defer again.close()
	assert.Equal(t, "Ann, Bob", current(again.of("J"), 0)["a"].Names())
	_, err = again.add(entry{Token: "t3", By: "Bob", Job: "J", Ask: "a", From: bob.Seq, Withdraws: bob.Seq})
	require.NoError(t, err)
	assert.Equal(t, ann.Seq, current(again.of("J"), 0)["a"].Seq, "who takes it back takes back their own")
	_, err = again.add(entry{Token: "t4", By: "Ann", Job: "J", Ask: "a", From: ann.Seq, Answer: ann.Answer})
	require.NoError(t, err)
	assert.Equal(t, "Ann", current(again.of("J"), 0)["a"].Names(), "one who says it twice is one")
}

// Ten times as many who say the same take ten times as much, and not the square.
func TestManySayTheSame(t *testing.T) {
	took := func(n int) uint64 {
		var all []entry
		for i := range n {
			e := answered(fmt.Sprint(i), "q", i, "no")
			e.Seq, e.By = i+1, fmt.Sprint("P", i)
			all = append(all, e)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		now := current(all, all[0].Revision)["q"]
		runtime.ReadMemStats(&after)
		require.Len(t, now.Also, n-1)
		return after.TotalAlloc - before.TotalAlloc
	}
	assert.Less(t, took(4000), 25*took(400))
}

// An answer made from an entry that isn't the last is kept aside, and the other counts until somebody chooses.
func TestTwoAnswers(t *testing.T) {
	s := openTemp(t)
	ann, err := s.add(answered("t1", "a", 0, "no"))
	require.NoError(t, err)
	bob, err := s.add(entry{Token: "t2", By: "Bob", Job: "J", Ask: "a", Answer: map[string]string{"yes": "yes"}})
	require.NoError(t, err)
	assert.True(t, bob.Aside)
	assert.Equal(t, ann, current(s.of("J"), 0)["a"])
	assert.Equal(t, []entry{bob}, asides(s.of("J"), 0))

	used, err := s.add(entry{Token: "t3", By: "Bob", Job: "J", Ask: "a", From: ann.Seq, Answer: bob.Answer})
	require.NoError(t, err)
	assert.Equal(t, used, current(s.of("J"), 0)["a"])
	_, err = s.add(entry{Token: "t4", By: "Bob", Job: "J", Ask: "a", From: used.Seq, Withdraws: bob.Seq})
	require.NoError(t, err)
	assert.Empty(t, asides(s.of("J"), 0))
	assert.Equal(t, used, current(s.of("J"), 0)["a"], "settling what was aside changes nothing that counts")
	assert.Len(t, s.of("J"), 4, "nothing is erased")
}

func TestTakenBack(t *testing.T) {
	s := openTemp(t)
	first, err := s.add(answered("t1", "a", 0, "no"))
	require.NoError(t, err)
	second, err := s.add(answered("t2", "a", first.Seq, "yes"))
	require.NoError(t, err)
	_, err = s.add(entry{Token: "t3", By: "Ann", Job: "J", Ask: "a", From: second.Seq, Withdraws: second.Seq})
	require.NoError(t, err)
	assert.Equal(t, first, current(s.of("J"), 0)["a"], "what was there before counts again")
	late, err := s.add(entry{Token: "t4", By: "Bob", Job: "J", Ask: "a", From: second.Seq, Withdraws: second.Seq})
	require.NoError(t, err)
	assert.True(t, late.Aside)
	assert.Equal(t, first, current(s.of("J"), 0)["a"])
	assert.Empty(t, current(s.of("J"), 1), "of another revision nothing counts")
}

// A job's ID is never part of a file's name.
func TestNamesOfFiles(t *testing.T) {
	s := openTemp(t)
	for _, job := range []string{"../../up", "C:\\x", "a/b", "", strings.Repeat("x", 300), "\x00"} {
		_, err := s.add(entry{Token: "t", By: "Ann", Job: job, Ask: "a"})
		require.NoError(t, err)
	}
	files, err := filepath.Glob(filepath.Join(s.folder, "entries", "????????????????????????????????", "000001.json"))
	require.NoError(t, err)
	assert.Len(t, files, 6)
	all, err := filepath.Glob(filepath.Join(s.folder, "*"))
	require.NoError(t, err)
	assert.Len(t, all, 2, "entries and lock")
}

func TestBrokenFolder(t *testing.T) {
	for name, text := range map[string]string{"no JSON": "{", "another's": `{"seq":1,"job":"other"}`, "a gap": `{"seq":2,"job":"J"}`} {
		s := openTemp(t)
		_, err := s.add(answered("t", "a", 0, "no"))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(s.path(entry{Job: "J", Seq: 1}), []byte(text), 0o600))
		s.close()
		_, err = openStore(s.folder)
		assert.ErrorContains(t, err, "000001.json", name)
	}
}

// Back to a form that was sent, and another answer: that is a correction, and not the same form twice.
func TestSentAgainWithAnotherAnswer(t *testing.T) {
	s := openTemp(t)
	_, err := s.add(answered("t", "a", 0, "no"))
	require.NoError(t, err)
	second, err := s.add(answered("t", "a", 0, "yes"))
	require.NoError(t, err)
	assert.False(t, second.Aside)
	assert.Equal(t, second, current(s.of("J"), 0)["a"])
	_, err = s.add(answered("u", "a", second.Seq, "no"))
	require.NoError(t, err)
	late, err := s.add(answered("t", "a", 0, "maybe"))
	require.NoError(t, err)
	assert.True(t, late.Aside, "another form came between")
}
