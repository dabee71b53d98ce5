package main

import (
	"fmt"
	"path/filepath"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// openRack readies the register the job reads, and tells when somebody is
// booking it while this plan only reads it.
func (cmd *PlanCmd) openRack(c *console, job *shop.Job) (*rack, error) {
	path := cmd.Register
	if path == "" {
		path = filepath.Join(filepath.Dir(cmd.Job), filepath.FromSlash(job.Register))
	}
	r, err := openRack(job, path, "planning "+filepath.Base(cmd.Job), cmd.BookStock)
	if err != nil || r.path == "" || cmd.BookStock {
		return r, err
	}
	if who := heldBy(r.path); who != "" {
		c.say("the stock register %s is being booked by %s: this plan may count on the same sheets", r.path, who)
	}
	return r, nil
}

// put writes the plan's folder, and where asked for books it in the register.
// What can fail comes first; then the folder and the register are put in place,
// each in one step.
func (cmd *PlanCmd) put(c *console, out *folder, r *rack, p *week.Plan) error {
	if err := r.prepare(p); err != nil {
		if cmd.BookStock {
			return err
		}
		c.say("no register is proposed: %v", err)
	}
	if err := out.write(p, r.file()...); err != nil {
		return err
	}
	if !cmd.BookStock {
		return out.finish()
	}
	if err := r.unchanged(); err != nil {
		return err
	}
	if err := out.finish(); err != nil {
		return err
	}
	kept, err := r.replace()
	if err != nil {
		return fmt.Errorf("%w; the plan is in %s, and kerfold book books it", err, out.path)
	}
	r.tell(c, kept)
	return nil
}
