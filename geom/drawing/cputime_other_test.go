//go:build !unix

package drawing

import "time"

var started = time.Now()

// cpuTime is the time by the clock where the system does not tell better.
func cpuTime() time.Duration { return time.Since(started) }
