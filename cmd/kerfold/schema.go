package main

import "kerfold/nest/report"

// SchemaCmd prints a schema.
type SchemaCmd struct {
	File string `arg:"" enum:"plan,bid" default:"plan" help:"Which file: plan or bid."`
}

// Run prints the schema.
func (cmd *SchemaCmd) Run(c *console) error {
	schema := report.PlanSchema()
	if cmd.File == "bid" {
		schema = report.BidSchema()
	}
	_, err := c.out.Write(schema)
	return err
}
