package main

import _ "embed" // for the example, which is part of the program

//go:embed example.yaml
var exampleJob []byte

// ExampleCmd prints a job to start from.
type ExampleCmd struct{}

// Run prints the example job.
func (cmd *ExampleCmd) Run(c *console) error {
	_, err := c.out.Write(exampleJob)
	return err
}
