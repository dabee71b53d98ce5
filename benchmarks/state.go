package main

import (
	"fmt"
	"os/exec"
	"runtime"
	"strings"
)

// A state is what a record says of where it was made.
type state struct {
	commit, engine, machine string
}

// engineFiles is the code that decides a layout, and the release of Go.
var engineFiles = []string{":(top,glob)nest/*.go", ":(top,glob)geom/*.go", ":(top)go.mod", ":(top,exclude,glob)**/*_test.go"}

// stateHere asks git. The engine must be as committed: a record names the commit
// that repeats it.
func stateHere() (state, error) {
	s := state{machine: machine()}
	changed, err := git(append([]string{"status", "--porcelain", "--"}, engineFiles...)...)
	if err != nil {
		return s, err
	}
	if changed != "" {
		return s, fmt.Errorf("the searches differ from the commit that is checked out; commit first, so that a record can name what it was made with:\n%s", changed)
	}
	if s.commit, err = git("rev-parse", "--short=12", "HEAD"); err != nil {
		return s, err
	}
	s.engine, err = git(append([]string{"log", "-1", "--format=%h", "--abbrev=12", "HEAD", "--"}, engineFiles...)...)
	return s, err
}

func git(args ...string) (string, error) {
	out, err := exec.Command("git", args...).Output()
	if err != nil {
		return "", fmt.Errorf("git %s: %w; recording needs the repository and git", args[0], err)
	}
	return strings.TrimSpace(string(out)), nil
}

// machine names processor, cores, compiler and system.
func machine() string {
	return fmt.Sprintf("%s, %d cores, %s %s/%s", processor(), runtime.NumCPU(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
