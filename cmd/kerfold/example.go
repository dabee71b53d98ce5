package main

import (
	"io"

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
type ReferenceCmd struct{}

// Run prints the reference.
func (cmd *ReferenceCmd) Run(c *console) error {
	_, err := io.WriteString(c.out, shop.Reference())
	return err
}
