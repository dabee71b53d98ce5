//go:build unix

package main

import (
	"testing"

	"golang.org/x/sys/unix"
)

// cpuSeconds is the processor time this process has used.
func cpuSeconds(tb testing.TB) float64 {
	tb.Helper()
	var u unix.Rusage
	if err := unix.Getrusage(unix.RUSAGE_SELF, &u); err != nil {
		tb.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}
