package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"kerfold/nest/report"
	"kerfold/nest/shop"
)

// What the program writes follows the schema it prints.
func TestWrittenPlanFollowsSchema(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "small.yaml")
	if err := os.WriteFile(job, []byte(shop.Example()), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "plan")
	if code := run([]string{"plan", job, "--effort", "0.01", "--out", out}, io.Discard, io.Discard); code != exitDone {
		t.Fatalf("exit code %d", code)
	}
	data, err := os.ReadFile(filepath.Join(out, "plan.json"))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	schema, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.PlanSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("plan.schema.json", schema); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(plan); err != nil {
		t.Error(err)
	}
	if bytes.Contains(data, []byte(dir)) {
		t.Error("the plan names the folder it was made in")
	}
}
