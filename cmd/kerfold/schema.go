package main

import "kerfold/nest/report"

// SchemaCmd prints a schema.
type SchemaCmd struct {
	File string `arg:"" enum:"plan" default:"plan" help:"Which file: plan."`
}

// Run prints the schema.
func (cmd *SchemaCmd) Run(c *console) error {
	_, err := c.out.Write(report.PlanSchema())
	return err
}
