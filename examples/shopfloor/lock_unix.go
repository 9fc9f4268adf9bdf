//go:build linux || darwin || freebsd || netbsd || openbsd

package main

import (
	"fmt"
	"os"
	"syscall"
)

const canSyncFolders = true

// lock holds a file until the process ends, however it ends.
func lock(name string) (func(), error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o640)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, fmt.Errorf("%w: %s", errBusy, name)
	}
	return func() { f.Close() }, nil
}
