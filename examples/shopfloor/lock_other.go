//go:build !(linux || darwin || freebsd || netbsd || openbsd)

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

const canSyncFolders = false

// lock makes a file that nobody else may make. It stays if the process is killed: the message says so.
func lock(name string) (func(), error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o640)
	if errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("%w: %s is there; if none runs, delete it", errBusy, name)
	}
	if err != nil {
		return nil, err
	}
	return func() { f.Close(); os.Remove(name) }, nil
}
