//go:build unix

package drawing

import (
	"syscall"
	"time"
)

// cpuTime is the processor time this process has used; unlike the clock it
// does not count what other programs take.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
