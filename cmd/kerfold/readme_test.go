package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// readmeCommands returns the README's lines that call the tool of this name.
func readmeCommands(t *testing.T, tool string) []string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, line := range strings.Split(string(text), "\n") {
		if line = strings.TrimSpace(line); strings.HasPrefix(line, tool+" ") {
			out = append(out, line)
		}
	}
	return out
}

// The README promises two commands on a fresh machine. The first is run here as
// it stands, but quick and into a scratch folder; the second runs this test.
func TestReadmeCommandsDoTheirJobs(t *testing.T) {
	if testing.Short() {
		t.Skip("plans the demo week")
	}
	got := readmeCommands(t, "go")
	if len(got) != 2 || got[1] != "go test ./..." {
		t.Fatalf("the README's go commands are %q; want the main job and the tests", got)
	}
	dir := filepath.Join(t.TempDir(), "plan")
	args := append(strings.Fields(got[0])[1:], "--effort", "0.1", "--quiet", "--out", dir)
	cmd := exec.Command("go", args...)
	cmd.Dir = "../.."
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", got[0], err, out)
	}
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z./*-]+)` \\|").FindAllStringSubmatch(string(text), -1) {
		if found, _ := filepath.Glob(filepath.Join(dir, m[1])); len(found) == 0 {
			t.Errorf("the README says a plan holds %s; it does not", m[1])
		}
	}
}

func TestReadmeNamesEveryVerb(t *testing.T) {
	named := map[string]bool{}
	for _, line := range readmeCommands(t, "kerfold") {
		named[strings.Fields(line)[1]] = true
	}
	parser, err := kong.New(&commandLine{}, kong.Vars{"effort": "1"})
	if err != nil {
		t.Fatal(err)
	}
	verbs := map[string]bool{}
	for _, n := range parser.Model.Children {
		verbs[n.Name] = true
		if n.Name != "version" && !named[n.Name] {
			t.Errorf("the README leaves out the verb %s", n.Name)
		}
	}
	for verb := range named {
		if verb != "VERB" && !verbs[verb] {
			t.Errorf("the README names %s, which is no verb", verb)
		}
	}
}
