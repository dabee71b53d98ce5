package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strings"
)

// header states what a run's figures depend on.
func header(b budget) string {
	limit := fmt.Sprintf("effort %g", b.effort)
	if b.seconds > 0 {
		limit = fmt.Sprintf("%g s each", b.seconds)
	}
	return fmt.Sprintf("seed %d, %s, %d workers; %s; commit %s", b.seed, limit, b.workers, machine(), commit())
}

// processor is the processor's name where the system tells it.
func processor() string {
	f, err := os.Open("/proc/cpuinfo")
	if err != nil {
		return "unknown processor"
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if name, ok := strings.CutPrefix(lines.Text(), "model name"); ok {
			return strings.TrimSpace(strings.TrimLeft(name, "\t :"))
		}
	}
	return "unknown processor"
}

// commit names the state of the code: the build knows it, or git does.
func commit() string {
	out, err := exec.Command("git", "describe", "--always", "--dirty", "--abbrev=12").Output()
	if err != nil {
		return "unknown"
	}
	return strings.TrimSpace(string(out))
}
