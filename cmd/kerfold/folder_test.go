package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A folder whose writer was killed is cleared away by the next; one that is
// being written is not.
func TestStaleFoldersAreCleared(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "plan")
	alive := &folder{path: out}
	if err := alive.beside(); err != nil {
		t.Fatal(err)
	}
	defer alive.discard()
	dead := filepath.Join(dir, ".plan.writing-dead")
	if err := os.Mkdir(dead, 0o755); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-2 * staleAfter)
	for _, name := range []string{dead, alive.temp} {
		if err := os.Chtimes(name, old, old); err != nil {
			t.Fatal(err)
		}
	}
	next := &folder{path: out}
	if err := next.beside(); err != nil {
		t.Fatal(err)
	}
	defer next.discard()
	if _, err := os.Stat(dead); err == nil {
		t.Error("the folder of a killed writer is still there")
	}
	if _, err := os.Stat(alive.temp); err != nil {
		t.Error("the folder of a living writer is gone")
	}
}

// Exchanging step by step ends like exchanging at once.
func TestSwapByRenaming(t *testing.T) {
	for name, swap := range map[string]func(a, b string) error{"at once": swap, "by steps": swapByRenaming} {
		dir := t.TempDir()
		a, b := filepath.Join(dir, "a"), filepath.Join(dir, "b")
		for _, d := range []string{a, b} {
			if err := os.MkdirAll(d, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(d, "name"), []byte(filepath.Base(d)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if err := swap(a, b); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for d, want := range map[string]string{a: "b", b: "a"} {
			got, err := os.ReadFile(filepath.Join(d, "name"))
			if err != nil || string(got) != want {
				t.Errorf("%s: %s holds %q (%v), want %q", name, d, got, err, want)
			}
		}
		if left, _ := filepath.Glob(filepath.Join(dir, "*")); len(left) != 2 {
			t.Errorf("%s: left over: %v", name, left)
		}
	}
}

// What a crash between the steps of an exchange leaves is put back.
func TestMendSwap(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan")
	for _, dir := range []string{path + ".old", path + ".writing"} {
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	mendSwap(path) // no plan in it yet
	if _, err := os.Stat(path); err == nil {
		t.Error("a folder without a plan was taken for one")
	}
	if err := os.WriteFile(filepath.Join(path+".old", "plan.json"), []byte(`{"kerfold_plan": 1}`), 0o644); err != nil {
		t.Fatal(err)
	}
	mendSwap(path)
	if !holdsPlan(path) {
		t.Error("the old plan is not back")
	}
}

func TestKeptNames(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a [b] c")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "rack.csv")
	for _, want := range []string{"rack.before-1.csv", "rack.before-2.csv"} {
		got := keptName(path)
		if filepath.Base(got) != want {
			t.Errorf("%s, want %s", got, want)
		}
		if err := os.WriteFile(got, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
