package main

import (
	"io"

	"kerfold/cost"
	"kerfold/nest/report"
	"kerfold/nest/shop"
)

// ExampleCmd prints a job to start from.
type ExampleCmd struct{}

// Run prints the example job.
func (cmd *ExampleCmd) Run(c *console) error {
	_, err := io.WriteString(c.out, shop.Example())
	return err
}

// ReferenceCmd prints what a job file may hold.
type ReferenceCmd struct {
	Of string `arg:"" name:"topic" optional:"" help:"job for the keys of a job file, materials for the materials built in." enum:"job,materials" default:"job"`
}

// Run prints the reference.
func (cmd *ReferenceCmd) Run(c *console) error {
	if cmd.Of == "materials" {
		return report.WriteMaterials(c.out, cost.Builtin())
	}
	_, err := io.WriteString(c.out, shop.Reference())
	return err
}
