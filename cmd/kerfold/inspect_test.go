package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// The exit code of inspect tells a drawing that closes from one that does not,
// and both from a file that is no drawing.
func TestInspectExitCodes(t *testing.T) {
	dir := t.TempDir()
	write := func(name, data string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(data), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	square := write("square.svg", `<svg width="9mm" viewBox="0 0 9 9"><path d="M0 0h9v9h-9z"/></svg>`)
	hook := write("hook.svg", `<svg width="9mm" viewBox="0 0 9 9"><path d="M0 0h9v9"/></svg>`)
	spoilt := write("spoilt.svg", `<svg width="9mm" viewBox="0 0 9 9"><path d="M0 0h9v9h-9z"/><path d="M1 1h1v"/></svg>`)
	notes := write("notes.txt", "forty by friday")
	for _, c := range []struct {
		why  string
		args []string
		want int
	}{
		{"closes", []string{square}, exitDone},
		{"does not close", []string{hook}, exitProblems},
		{"closes, but something in it is unreadable", []string{spoilt}, exitProblems},
		{"one of two does not close", []string{square, hook}, exitProblems},
		{"no drawing", []string{square, notes}, exitInput},
		{"no file", nil, exitInput},
	} {
		var out, talk bytes.Buffer
		if got := run(append([]string{"inspect"}, c.args...), &out, &talk); got != c.want {
			t.Errorf("%s: exit code %d, want %d\n%s%s", c.why, got, c.want, &out, &talk)
		}
	}
}
