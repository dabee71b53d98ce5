package main

import (
	"fmt"
	"os"
	"path/filepath"

	"kerfold/nest/shop"
)

// BookCmd books a plan into the stock register it was made from.
type BookCmd struct {
	Plan     string `arg:"" help:"Folder of a plan, or its plan.json."`
	Register string `arg:"" help:"Stock register (YAML or CSV) the plan was made from."`
}

// Run rewrites the register.
func (cmd *BookCmd) Run(c *console) error {
	p, err := readPlanAt(cmd.Plan)
	if err != nil {
		return err
	}
	if p.RegisterSum == "" {
		return fmt.Errorf("%s was made without a stock register, so nothing can be booked: plan again with --register %s", cmd.Plan, cmd.Register)
	}
	if err := shop.Bookable(cmd.Register); err != nil {
		return fmt.Errorf("%s: %w", cmd.Register, err)
	}
	if _, err := os.Stat(cmd.Register); err != nil {
		return unread(cmd.Register, "the stock register", err)
	}
	r := &rack{path: cmd.Register}
	if r.lock, err = lockRegister(cmd.Register, "booking "+filepath.Base(cmd.Plan)); err != nil {
		return err
	}
	defer r.close()
	if r.data, err = os.ReadFile(cmd.Register); err != nil {
		return unread(cmd.Register, "the stock register", err)
	}
	if shop.RegisterSum(r.data) != p.RegisterSum {
		return fmt.Errorf("the stock register %s is not the one %s was made from: another plan was booked into it, or somebody changed it; plan again",
			cmd.Register, cmd.Plan)
	}
	if err := r.prepare(p); err != nil {
		return err
	}
	kept, err := r.replace()
	if err != nil {
		return err
	}
	r.tell(c, kept)
	return nil
}
