package main

import (
	"kerfold/cost"
	"kerfold/nest/shop"
)

// An inUnits is the flag that says in what units people read the results.
type inUnits struct {
	Units string `help:"Units of what people read: metric or us (inch, ksi, gallon, pound). Default: what the job file says under units, else metric. Tables and files that programs read are metric." enum:"metric,us," default:"" placeholder:"SYSTEM"`
}

// put makes the flag's units the job's, where it is given.
func (u inUnits) put(job *shop.Job) {
	if u.Units != "" {
		job.Units, _ = cost.ParseUnitSystem(u.Units)
	}
}
