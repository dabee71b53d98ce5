package main

import (
	"os"
	"runtime/debug"
	"strconv"
	"strings"
)

// clockTick is the unit in which Linux counts a process's time, in seconds: it is
// a hundredth of a second on every common system (proc(5)).
const clockTick = 0.01

// tellsProcessorTime says whether [cpuSeconds] can know.
func tellsProcessorTime() bool {
	_, err := os.Stat("/proc/self/stat")
	return err == nil
}

// cpuSeconds is the processor time this process has used, by all its threads; 0
// where the system does not tell.
func cpuSeconds() float64 {
	data, err := os.ReadFile("/proc/self/stat")
	if err != nil {
		return 0
	}
	// The second field, the program's name, stands in parentheses and may hold
	// anything; user and system time are fields 14 and 15.
	fields := strings.Fields(string(data[strings.LastIndexByte(string(data), ')')+1:]))
	if len(fields) < 13 {
		return 0
	}
	user, err1 := strconv.ParseFloat(fields[11], 64)
	system, err2 := strconv.ParseFloat(fields[12], 64)
	if err1 != nil || err2 != nil {
		return 0
	}
	return (user + system) * clockTick
}

// forgetPeak gives unused memory back and starts the measure of resident memory
// anew, where the system allows it.
func forgetPeak() {
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // without it the peak is that of all runs so far, which is no less
}

// peakMiB is the memory that was resident at most since [forgetPeak]; 0 where the
// system does not tell.
func peakMiB() float64 {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for _, line := range strings.Split(string(data), "\n") {
		if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			kib, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(rest), " kB"), 64)
			if err != nil {
				return 0
			}
			return kib / 1024
		}
	}
	return 0
}
