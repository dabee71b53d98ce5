package main

import (
	"fmt"

	"kerfold/cost"
	"kerfold/nest/shop"
)

// An inUnits is the flag that says in what units people read the results.
type inUnits struct {
	Units string `help:"Units of what people read: metric or us (inch, ksi, gallon, pound). Default: what the job file says under units, else metric. Tables and files that programs read are metric." placeholder:"SYSTEM"`
}

// put makes the flag's units the job's, where it is given.
func (u inUnits) put(job *shop.Job) error {
	if u.Units == "" {
		return nil
	}
	units, err := cost.ParseUnitSystem(u.Units)
	if err != nil {
		return fmt.Errorf("--units: %w", err)
	}
	job.Units = units
	return nil
}
