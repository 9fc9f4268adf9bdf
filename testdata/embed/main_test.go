package main

import (
	"runtime"
	"sync"
	"testing"

	"example.com/snugturn/units"
)

// Importing the library starts nothing. The test's own goroutine and the one that waits for it
// are all there are.
func TestNothingStarted(t *testing.T) {
	if n := runtime.NumGoroutine(); n > 2 {
		t.Errorf("%d goroutines", n)
	}
}

// A server asks from many goroutines at once, the first of them finding nothing built yet.
func TestManyAtOnce(t *testing.T) {
	var all sync.WaitGroup
	for range 32 {
		all.Add(1)
		go func() {
			defer all.Done()
			a, err := units.ParseTorque("1 ft-lb")
			if err != nil {
				t.Error(err)
				return
			}
			if b := units.InchPound.Of(12); !a.Equal(b) { // one foot is twelve inches, by definition
				t.Errorf("%v is not %v", a, b)
			}
		}()
	}
	all.Wait()
}
