package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"kerfold/nest/report"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// PlanCmd plans a job.
type PlanCmd struct {
	Job     string   `arg:"" help:"Job file (YAML)."`
	Out     string   `help:"Folder to write; an earlier plan there is replaced. Default: the job file's name with -plan." placeholder:"DIR"`
	Effort  *float64 `help:"Work to spend, above 0: 1 is a quick run of a few seconds. The same effort and seed give the same plan on every machine. Default ${effort}, or as much as fits into --seconds." placeholder:"N"`
	Seconds *float64 `help:"Time to spend instead, above 0." placeholder:"N"`
	Seed    uint64   `help:"Root of all random choices." default:"1"`
	Workers int      `help:"Searches side by side; never changes the plan. Default: one per processor." placeholder:"N"`
	Force   bool     `help:"Replace the folder even if it holds other files; it is kept beside under another name."`
	Done    string   `help:"What is cut already: done.csv of the plan's folder filled in, a YAML file, or the folder. The rest is planned with as few changes as can be." placeholder:"FILE"`
	Earlier string   `help:"The plan that is being cut, with --done: plan.json or its folder. Default: the one that is replaced." placeholder:"PLAN"`
	From    string   `help:"Day and time from which the rest is planned, with --done, such as 2026-12-02 or '2026-12-02 10:30'. Default: where what is cut ends in the earlier plan." placeholder:"DATE"`
	Quiet   bool     `help:"No summary on standard output."`
	Explain bool     `help:"Print how the time and price of every run come about: every formula, input and source."`
	inUnits
	Register  string `help:"Stock register (YAML, CSV or XLSX) to use in place of the one the job names." placeholder:"FILE"`
	BookStock bool   `help:"Rewrite the stock register: sheets taken out, remnants put in; as it was it is kept beside. Default: only the register that would be left is written, into the plan's folder."`
}

// defaultEffort takes 20 to 30 s for a week of some hundred parts on two cores.
const defaultEffort = 8

// Run plans the job and writes the folder.
func (cmd *PlanCmd) Run(c *console) error {
	if err := cmd.validate(); err != nil {
		return err
	}
	start := time.Now()
	job, err := loadJobWith(cmd.Job, cmd.Register)
	if err != nil {
		return err
	}
	if err := cmd.inUnits.put(job); err != nil {
		return err
	}
	rack, err := cmd.openRack(c, job)
	if err != nil {
		return err
	}
	defer rack.close()
	out, err := openFolder(cmd.folder(), cmd.Job, cmd.Force)
	if err != nil {
		return err
	}
	p := newProgress(c.err, time.Duration(given(cmd.Seconds)*float64(time.Second)))
	c = &console{out: c.out, err: p.over(c.err)}
	ctx, in := listen(context.Background(), c)
	defer in.close()
	in.onStop(out.discard)
	defer out.discard()
	plan, err := cmd.make(ctx, job, cmd.options(start, p))
	p.done()
	if err != nil {
		return err
	}
	if err := cmd.put(c, out, rack, plan); err != nil {
		return err
	}
	if err := cmd.explain(c, job, plan); err != nil {
		return err
	}
	return cmd.tell(c, plan, out)
}

func (cmd *PlanCmd) validate() error {
	for _, n := range []struct {
		name, unset string
		value       *float64
	}{{"--effort", fmt.Sprintf("the default effort of %d", defaultEffort), cmd.Effort}, {"--seconds", "no limit in time", cmd.Seconds}} {
		if n.value != nil && (!(*n.value > 0) || *n.value > 1e6) {
			return fmt.Errorf("%s is %v: give a number above 0, up to a million; leave it out for %s", n.name, *n.value, n.unset)
		}
	}
	if cmd.Workers < 0 || cmd.Workers > 1024 {
		return fmt.Errorf("--workers is %d: give 1 to 1024", cmd.Workers)
	}
	return nil
}

// loadJob reads a job. The job sees names from its own folder on, so that a
// plan does not depend on where the job lies; faults are told as the user named
// the file.
func loadJob(name string) (*shop.Job, error) {
	dir := filepath.Dir(name)
	job, err := shop.Load(os.DirFS(dir), filepath.Base(name))
	return job, asNamed(err, dir)
}

// loadJobWith is loadJob with a register that stands in for the job's own.
func loadJobWith(name, register string) (*shop.Job, error) {
	if register == "" {
		return loadJob(name)
	}
	data, err := os.ReadFile(register)
	if err != nil {
		return nil, unread(register, "the stock register", err)
	}
	base := filepath.Base(register)
	dir := filepath.Dir(name)
	job, err := shop.LoadWith(os.DirFS(dir), filepath.Base(name), shop.LoadOptions{Register: base, RegisterData: data})
	return job, underNames(err, func(file string) string {
		if file == base {
			return register
		}
		return filepath.Join(dir, filepath.FromSlash(file))
	})
}

// underNames tells faults by the files' names as the user gave them.
func underNames(err error, name func(file string) string) error {
	var faults shop.Problems
	if !errors.As(err, &faults) {
		return err
	}
	for i := range faults {
		faults[i].File = name(faults[i].File)
	}
	return faults
}

// folder is where the plan goes.
func (cmd *PlanCmd) folder() string {
	if cmd.Out != "" {
		return cmd.Out
	}
	base := filepath.Base(cmd.Job)
	return strings.TrimSuffix(base, filepath.Ext(base)) + "-plan"
}

func (cmd *PlanCmd) options(start time.Time, p *progress) week.Options {
	o := week.Options{Seed: cmd.Seed, Effort: given(cmd.Effort), Workers: cmd.Workers, Progress: p.update}
	if o.Workers == 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if cmd.Seconds != nil {
		o.Clock = newWallClock(start, *cmd.Seconds)
	} else if o.Effort == 0 {
		o.Effort = defaultEffort
	}
	return o
}

// given is a number from the command line; 0 is none.
func given(n *float64) float64 {
	if n == nil {
		return 0
	}
	return *n
}

// explain prints how the plan's figures come about, where that is asked for.
func (cmd *PlanCmd) explain(c *console, job *shop.Job, plan *week.Plan) error {
	if !cmd.Explain {
		return nil
	}
	accounts, err := week.ExplainPlan(job, plan)
	if err != nil {
		return err
	}
	return report.WriteAccounts(c.out, accounts, plan.Units)
}

// tell prints the summary, and whether there are problems.
func (cmd *PlanCmd) tell(c *console, plan *week.Plan, out *folder) error {
	if !cmd.Quiet {
		if err := report.WriteSummary(c.out, plan); err != nil {
			return err
		}
	}
	c.say("wrote %s", out.path)
	if out.kept != "" {
		c.say("what was in %s is kept in %s", out.path, out.kept)
	}
	for _, o := range plan.Orders {
		if o.Placed < o.Wanted && !isFiller(plan, o) {
			c.say("not every part has a place; see %s", filepath.Join(out.path, "summary.txt"))
			return errProblems
		}
	}
	return nil
}

func isFiller(p *week.Plan, o week.OrderDate) bool {
	for i := range p.Groups[o.Group].Parts {
		if part := &p.Groups[o.Group].Parts[i]; part.ID == o.Order {
			return part.Filler
		}
	}
	return false
}
