package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestRecordsComeBack writes records a line each and reads them back.
func TestRecordsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp("", "records")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(dir)
		var want []record
		for range rapid.IntRange(0, 4).Draw(t, "records") {
			r := record{
				Instance: rapid.String().Draw(t, "instance"), Note: rapid.String().Draw(t, "note"), Fault: rapid.String().Draw(t, "fault"),
				Seed: rapid.Uint64().Draw(t, "seed"), Density: rapid.Float64().Draw(t, "density"), Bins: rapid.Int().Draw(t, "bins"),
			}
			for range rapid.IntRange(1, 3).Draw(t, "points") {
				r.Curve = append(r.Curve, [3]float64{rapid.Float64().Draw(t, "s"), rapid.Float64().Draw(t, "d"), 2})
			}
			want = append(want, r)
			if err := appendRecord(dir, r); err != nil {
				t.Fatal(err)
			}
		}
		got, err := readRecords(dir)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Fatalf("wrote %+v, read %+v, error %v", want, got, err)
		}
	})
}

func TestBadRecordIsLocated(t *testing.T) {
	dir := t.TempDir()
	for _, line := range []string{"{", `{"instance": "a"}{`, `{"colour": 1}`} {
		if err := writeWhole(filepath.Join(dir, recordsFile), []byte("{\"instance\":\"a\"}\n"+line+"\n")); err != nil {
			t.Fatal(err)
		}
		if _, err := readRecords(dir); err == nil || !strings.Contains(err.Error(), "records.jsonl:2: ") {
			t.Errorf("%s: error %v", line, err)
		}
	}
}

func TestNewestRecordCounts(t *testing.T) {
	list := newest([]record{{Instance: "a", Density: 1}, {Instance: "b", Density: 2}, {Instance: "a", Density: 3}, {Instance: "a", Seed: 2, Density: 4}})
	var got []float64
	for _, r := range list {
		got = append(got, r.Density)
	}
	if fmt.Sprint(got) != "[3 2 4]" {
		t.Errorf("kept %v", got)
	}
}

// TestDigestFollowsTheProblem changes one thing of an instance at a time.
func TestDigestFollowsTheProblem(t *testing.T) {
	was := jigsawStrip(8, 8).digest()
	if was == "unknown" || was != jigsawStrip(8, 8).digest() {
		t.Fatalf("digest %q is not stable", was)
	}
	for name, change := range map[string]func(*instance){
		"width":    func(in *instance) { in.StripWidth++ },
		"spacing":  func(in *instance) { in.Spacing = 3 },
		"margin":   func(in *instance) { in.Margin = 3 },
		"bin":      func(in *instance) { in.Bin[1]++ },
		"quantity": func(in *instance) { in.Parts[3].Quantity++ },
		"angle":    func(in *instance) { in.Parts[3].Angles = []float64{90} },
		"outline":  func(in *instance) { in.Parts[3].Outline[0][1][0] += 0.5 },
	} {
		in := jigsawStrip(8, 8)
		change(&in)
		if in.digest() == was {
			t.Errorf("another %s, the same digest", name)
		}
	}
}

// newRecording is one that records built-in instances into a folder.
func newRecording(t *testing.T, dir, engine string) (*recording, *bytes.Buffer) {
	t.Helper()
	out := &bytes.Buffer{}
	r, err := parseRecording([]string{"-dir", dir}, out)
	if err != nil {
		t.Fatal(err)
	}
	// These end as soon as they have found the known best, long before the limit.
	r.series = []series{{"trial", "jigsaw08,jigsaw3x8", []string{"tile", "solve"}, 60, true}}
	r.out, r.talk, r.today = out, out, "2026-01-02"
	r.state = state{"c0ffee", engine, "a machine"}
	return &r, out
}

// TestRecordingGoesOn interrupts a recording, takes it up again, repeats it and
// changes the engine.
func TestRecordingGoesOn(t *testing.T) {
	dir := t.TempDir()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	r, out := newRecording(t, dir, "e1")
	if code := r.run(ctx); code != 130 {
		t.Fatalf("interrupted: exit %d: %s", code, out)
	}
	for _, c := range []struct {
		engine, says string
		records      int
	}{{"e1", "0 recorded already", 4}, {"e1", "0 to do", 4}, {"e2", "4 to do", 8}} {
		r, out := newRecording(t, dir, c.engine)
		if code := r.run(t.Context()); code != 0 {
			t.Fatalf("exit %d: %s", code, out)
		}
		list, err := readRecords(dir)
		if err != nil || len(list) != c.records || !strings.Contains(out.String(), c.says) {
			t.Errorf("engine %s: %d records, want %d, error %v; said %s", c.engine, len(list), c.records, err, out)
		}
	}
	list, _ := readRecords(dir)
	for _, r := range list {
		if !r.strip() && r.Fullest != 100 {
			t.Errorf("%s: the fullest sheet has %v %%", r.key(), r.Fullest)
		}
		if r.Fault != "" || r.Density <= 0 || len(r.Curve) == 0 || r.Engine == "" || r.Parts == 0 {
			t.Errorf("record %+v", r)
		}
	}
	text, err := os.ReadFile(filepath.Join(dir, pageFile))
	if err != nil || !strings.Contains(string(text), "| jigsaw08 | 8 | length 1000 |") || !strings.Contains(string(text), "(results/pictures/jigsaw3x8.svg)") {
		t.Errorf("error %v, page %s", err, text)
	}
}

func TestWrongRecordings(t *testing.T) {
	for _, args := range [][]string{{"record", "x"}, {"record", "-series", "none", "-dir", "."}, {"record", "-workers", "0", "-dir", "."}, {"page", "x"}, {"page", "-seconds", "1"}, {"record", "-dir", "no/such/folder"}} {
		var out, talk bytes.Buffer
		if code := run(t.Context(), args, &out, &talk); code != 2 || talk.Len() == 0 {
			t.Errorf("%v: exit %d, said %q", args, code, talk.String())
		}
	}
	for why, args := range map[string][]string{
		"an instance that no series has": {"-instances", "none"},
		"a search that no series has":    {"-search", "lattice"},
		"a search that there is not":     {"-search", "none"},
	} {
		r, err := parseRecording(append([]string{"-dir", ".", "-series", "built-in-10"}, args...), &bytes.Buffer{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := r.jobs(); err == nil {
			t.Errorf("no error for %s", why)
		}
	}
}

// TestRecordingNarrowed asks for one search of a series on one of its instances.
func TestRecordingNarrowed(t *testing.T) {
	r, err := parseRecording([]string{"-dir", ".", "-series", "built-in-10", "-instances", "jigsaw08", "-search", "solve"}, &bytes.Buffer{})
	if err != nil {
		t.Fatal(err)
	}
	jobs, err := r.jobs()
	if err != nil || len(jobs) != 1 || jobs[0].way.name != "solve" || jobs[0].in.Name != "jigsaw08" {
		t.Errorf("jobs %+v, error %v", jobs, err)
	}
}
