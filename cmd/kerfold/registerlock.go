package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// A registerLock keeps a stock register for one booking at a time. The lock is
// on a file of its own beside the register, because the register itself is
// replaced; it falls when its holder ends, however it ends. The file stays and
// says who holds it, from its second byte on: the first is what is locked, and
// on some systems nobody else can read that. Network drives that know no locks
// refuse it, which is told; the fingerprint of the register still guards it.
type registerLock struct {
	file *flock.Flock
	path string
}

func registerLockPath(register string) string {
	return filepath.Join(filepath.Dir(register), "."+filepath.Base(register)+".lock")
}

// lockRegister takes the lock, or says at once who has it.
func lockRegister(register, purpose string) (*registerLock, error) {
	l := &registerLock{path: registerLockPath(register)}
	l.file = flock.New(l.path)
	held, err := l.file.TryLock()
	switch {
	case err != nil:
		return nil, fmt.Errorf("the stock register %s cannot be locked for booking: %w: make its folder writable, or plan without --book-stock", register, err)
	case !held:
		return nil, fmt.Errorf("the stock register %s is being booked by %s: wait until that is done, or plan without --book-stock",
			register, holder(l.path))
	}
	l.sign(purpose)
	return l, nil
}

// sign writes who holds the lock. It only serves messages, so that it may fail.
func (l *registerLock) sign(purpose string) {
	f, err := os.OpenFile(l.path, os.O_WRONLY, 0)
	if err != nil {
		return
	}
	defer f.Close()
	host, _ := os.Hostname()
	text := fmt.Sprintf("process %d on %s since %s, %s", os.Getpid(), host, time.Now().Format("2006-01-02 15:04"), purpose)
	f.WriteAt([]byte("\n" + text + "\n")[1:], 1)
	f.Truncate(int64(1 + len(text) + 1))
}

// holder says who holds a lock, as far as known.
func holder(path string) string {
	f, err := os.Open(path)
	if err != nil {
		return "another process"
	}
	defer f.Close()
	text := make([]byte, 500)
	n, _ := f.ReadAt(text, 1)
	if who := strings.TrimSpace(string(text[:n])); who != "" {
		return who
	}
	return "another process"
}

// heldBy says who is booking a register just now; empty is nobody.
func heldBy(register string) string {
	path := registerLockPath(register)
	if _, err := os.Stat(path); err != nil {
		return ""
	}
	l := flock.New(path)
	held, err := l.TryLock()
	switch {
	case err != nil:
		return ""
	case held:
		l.Unlock()
		return ""
	}
	return holder(path)
}

func (l *registerLock) release() {
	if l != nil {
		l.file.Unlock()
	}
}
