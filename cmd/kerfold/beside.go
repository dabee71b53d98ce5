package main

import (
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// lockName is the file in an unfinished folder that its writer holds locked. The
// lock falls when the writer ends, however it ends.
const lockName = ".lock"

// beside makes the folder that is written, and clears away those whose writers
// were killed.
func (f *folder) beside() error {
	prefix := "." + filepath.Base(f.path) + ".writing-"
	clearStale(filepath.Dir(f.path), prefix)
	temp, err := os.MkdirTemp(filepath.Dir(f.path), prefix)
	if err != nil {
		return err
	}
	f.temp, f.lock = temp, flock.New(filepath.Join(temp, lockName))
	_, err = f.lock.TryLock()
	return err
}

// release gives the lock up and removes its file.
func (f *folder) release() error {
	if f.lock == nil {
		return nil
	}
	lock := f.lock
	f.lock = nil
	if err := lock.Unlock(); err != nil {
		return err
	}
	return os.Remove(lock.Path())
}

// staleAfter keeps clearStale off folders that were made but not yet locked.
const staleAfter = time.Minute

// clearStale removes unfinished folders nobody is writing. What cannot be
// removed stays; it is in nobody's way.
func clearStale(dir, prefix string) {
	found, err := filepath.Glob(filepath.Join(dir, prefix+"*"))
	if err != nil {
		return
	}
	for _, name := range found {
		st, err := os.Stat(name)
		if err != nil || time.Since(st.ModTime()) < staleAfter {
			continue
		}
		lock := flock.New(filepath.Join(name, lockName))
		if held, err := lock.TryLock(); err == nil && held {
			lock.Unlock()
			os.RemoveAll(name)
		}
	}
}
