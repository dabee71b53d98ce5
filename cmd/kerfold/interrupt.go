package main

import (
	"context"
	"errors"
	"os"
	"os/signal"
	"sync"
	"syscall"
)

// errStopped ends a command that was told twice to stop.
var errStopped = errors.New("stopped")

// An interrupts listens for Ctrl-C: the first asks for the best result so far,
// the second stops at once.
type interrupts struct {
	mu       sync.Mutex
	tidy     []func()
	signals  chan os.Signal
	cancel   context.CancelFunc
	finished chan struct{}
}

// listen derives a context that the first interrupt ends.
func listen(parent context.Context, c *console) (context.Context, *interrupts) {
	ctx, cancel := context.WithCancel(parent)
	in := &interrupts{signals: make(chan os.Signal, 2), cancel: cancel, finished: make(chan struct{})}
	signal.Notify(in.signals, os.Interrupt, syscall.SIGTERM)
	go in.wait(c)
	return ctx, in
}

func (in *interrupts) wait(c *console) {
	for n := 0; ; n++ {
		select {
		case <-in.finished:
			return
		case <-in.signals:
		}
		if n == 0 {
			c.say("finishing with the best plan so far; interrupt again to stop at once")
			in.cancel()
			continue
		}
		in.tidyUp()
		c.say("stopped; nothing was written")
		os.Exit(exitStopped)
	}
}

// onStop registers what the second interrupt has to clear away.
func (in *interrupts) onStop(f func()) {
	in.mu.Lock()
	defer in.mu.Unlock()
	in.tidy = append(in.tidy, f)
}

func (in *interrupts) tidyUp() {
	in.mu.Lock()
	defer in.mu.Unlock()
	for _, f := range in.tidy {
		f()
	}
}

// close stops listening.
func (in *interrupts) close() {
	signal.Stop(in.signals)
	close(in.finished)
	in.cancel()
}
