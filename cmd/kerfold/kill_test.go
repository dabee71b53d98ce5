package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"kerfold/nest/shop"
)

// killings is how often a plan is killed.
const killings = 200

// A plan killed at any moment leaves the old folder or the new one, and the old
// register or the new one, each whole; a register that is rewritten has its plan
// and its copy beside it, and the next plan is not held up.
func TestKilledAtAnyMoment(t *testing.T) {
	if testing.Short() {
		t.Skip("takes about a minute")
	}
	if runtime.GOOS != "linux" && runtime.GOOS != "darwin" {
		t.Skip("folders are exchanged in several steps here, and a kill between them leaves the old one under another name")
	}
	s := newKillStage(t)
	rng := rand.New(rand.NewPCG(1, 6))
	seen := map[string]int{}
	for i := range killings {
		s.reset()
		when := s.moments[i%len(s.moments)]
		s.killAt(when, rng)
		seen[when.name+": "+s.state()]++
	}
	for _, name := range sortedNames(seen) {
		t.Logf("%4d killed %s", seen[name], name)
	}
	s.expectBoth(seen)
	s.reset()
	if out, err := s.command("2").CombinedOutput(); err != nil {
		t.Errorf("the plan after the last killing: %v\n%s", err, out)
	}
}

const killJob = `version: 1
start: 2031-03-03
days: 5
register: rack.csv
machines:
  - {id: jet, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, max_stack_mm: 60, hours_per_day: 8}
orders:
  - {id: K-1, shape: ring, diameter_mm: 200, bore_mm: 60, quantity: 6, material: mild steel, thickness_mm: 3}
  - {id: K-2, shape: rectangle, width_mm: 250, height_mm: 130, quantity: 5, material: mild steel, thickness_mm: 3}
`

const killRack = "id,material,thickness_mm,width_mm,height_mm,count,cost\nMS3,mild steel,3,1000,500,24,40\n"

// A killStage is a folder in which plans are killed, and what may be left there.
type killStage struct {
	t                    *testing.T
	dir, program, before string // before holds the old plan
	oldRack, newRack     string
	oldPlan, newPlan     string // fingerprints of the folders
	moments              []killMoment
}

// A killMoment is a wait: for a file to appear, then for a random part of a span.
type killMoment struct {
	name  string
	after string // a pattern; "" is the start
	span  time.Duration
}

func newKillStage(t *testing.T) *killStage {
	s := &killStage{t: t, dir: t.TempDir(), oldRack: killRack}
	s.program = filepath.Join(t.TempDir(), "kerfold")
	if out, err := exec.Command("go", "build", "-o", s.program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	s.write("job.yaml", killJob)
	s.write("rack.csv", killRack)
	s.must(s.command("1"))
	s.before = filepath.Join(t.TempDir(), "before")
	s.check(os.Rename(s.path("job-plan"), s.before))
	s.oldPlan = fingerprint(t, s.before)

	s.reset()
	whole, writing := s.must(s.command("2"))
	s.newPlan, s.newRack = fingerprint(t, s.path("job-plan")), s.read("rack.csv")
	if s.newPlan == s.oldPlan || s.newRack == s.oldRack {
		t.Fatal("old and new cannot be told apart")
	}
	s.moments = []killMoment{
		{"while planning or writing", "", whole + whole/8},
		{"while writing", ".job-plan.writing-*/plan.json", writing},
		{"while putting in place", ".job-plan.writing-*/layouts/G1-L1.dxf", writing / 4},
		{"while booking", "rack.before-*", writing / 16},
	}
	return s
}

func (s *killStage) path(name string) string { return filepath.Join(s.dir, name) }

func (s *killStage) check(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

func (s *killStage) write(name, text string) {
	s.check(os.WriteFile(s.path(name), []byte(text), 0o644))
}

func (s *killStage) read(name string) string {
	data, err := os.ReadFile(s.path(name))
	s.check(err)
	return string(data)
}

// command is a plan that books, its seed as given.
func (s *killStage) command(seed string) *exec.Cmd {
	cmd := exec.Command(s.program, "plan", "job.yaml", "--effort", "0.001", "--workers", "1", "--quiet", "--book-stock", "--seed", seed)
	cmd.Dir = s.dir
	return cmd
}

// must runs a plan to its end and measures it, and how much of that is writing.
func (s *killStage) must(cmd *exec.Cmd) (whole, writing time.Duration) {
	s.t.Helper()
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	start := time.Now()
	s.check(cmd.Start())
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	began := time.Duration(0)
	for {
		select {
		case err := <-done:
			if err != nil {
				s.t.Fatalf("%v\n%s", err, out.String())
			}
			whole = time.Since(start)
			return whole, whole - began
		default:
		}
		if began == 0 && s.appeared(".job-plan.writing-*/plan.json") {
			began = time.Since(start)
		}
		time.Sleep(100 * time.Microsecond)
	}
}

func (s *killStage) appeared(pattern string) bool {
	found, _ := filepath.Glob(s.path(pattern))
	return len(found) > 0
}

// reset puts the old plan and the old register back, and clears the rest away.
func (s *killStage) reset() {
	entries, err := os.ReadDir(s.dir)
	s.check(err)
	for _, e := range entries {
		if e.Name() != "job.yaml" && e.Name() != ".rack.csv.lock" {
			s.check(os.RemoveAll(s.path(e.Name())))
		}
	}
	s.write("rack.csv", s.oldRack)
	s.check(os.CopyFS(s.path("job-plan"), os.DirFS(s.before)))
}

// killAt starts a plan and kills it.
func (s *killStage) killAt(m killMoment, rng *rand.Rand) {
	cmd := s.command("2")
	s.check(cmd.Start())
	done := make(chan struct{})
	go func() { cmd.Wait(); close(done) }()
	for m.after != "" && !s.appeared(m.after) {
		select {
		case <-done:
			return
		default:
			time.Sleep(50 * time.Microsecond)
		}
	}
	select {
	case <-done:
	case <-time.After(time.Duration(rng.Int64N(int64(m.span) + 1))):
	}
	cmd.Process.Kill()
	<-done
}

// state says what is left, and fails where that is broken.
func (s *killStage) state() string {
	plan, rack := "broken", "broken"
	switch fingerprint(s.t, s.path("job-plan")) {
	case s.oldPlan:
		plan = "old"
	case s.newPlan:
		plan = "new"
	}
	switch s.read("rack.csv") {
	case s.oldRack:
		rack = "old"
	case s.newRack:
		rack = "new"
	}
	state := fmt.Sprintf("plan %s, register %s", plan, rack)
	if plan == "broken" || rack == "broken" || rack == "new" && plan == "old" {
		s.t.Errorf("%s", state)
	}
	s.checkCopies(rack)
	return state
}

// checkCopies looks at the copy of the register: whole, and there before the
// register is another.
func (s *killStage) checkCopies(rack string) {
	copies, _ := filepath.Glob(s.path("rack.before-*"))
	if rack == "new" && len(copies) != 1 {
		s.t.Errorf("the register is new, and %d copies are kept", len(copies))
	}
	for _, name := range copies {
		if got := s.read(filepath.Base(name)); got != s.oldRack {
			s.t.Errorf("the copy %s holds %q", name, got)
		}
	}
	if _, _, err := shop.ReadRegister("rack.csv", []byte(s.read("rack.csv")), nil); err != nil {
		s.t.Errorf("the register cannot be read: %v", err)
	}
}

// expectBoth fails where the killings hit one side only: then they proved little.
func (s *killStage) expectBoth(seen map[string]int) {
	sides := map[bool]int{}
	for name, n := range seen {
		sides[bytes.HasSuffix([]byte(name), []byte("plan old, register old"))] += n
	}
	if sides[true] < killings/10 || sides[false] < killings/20 {
		s.t.Errorf("%d killings left the old, %d something new: not spread over the run", sides[true], sides[false])
	}
}

// fingerprint is a hash of a folder's files and their names.
func fingerprint(t *testing.T, dir string) string {
	t.Helper()
	sum := sha256.New()
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		fmt.Fprintf(sum, "%s %d\n", name, len(data))
		sum.Write(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

func sortedNames(m map[string]int) []string {
	var names []string
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
