package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// make plans a job, or what is left of it.
func (cmd *PlanCmd) make(ctx context.Context, job *shop.Job, o week.Options) (*week.Plan, error) {
	if cmd.Done == "" {
		if cmd.Earlier != "" || cmd.From != "" {
			return nil, errors.New("--earlier and --from belong to --done: say what is cut already")
		}
		return week.Make(ctx, job, o)
	}
	if cmd.BookStock {
		return nil, errors.New("--book-stock books a plan from its beginning, and --done has one in the middle: book the register when the week is cut")
	}
	earlier, err := cmd.earlier()
	if err != nil {
		return nil, err
	}
	done, name, err := cmd.done()
	if err != nil {
		return nil, err
	}
	p, err := week.Replan(ctx, job, earlier, done, o)
	return p, asNamed(err, filepath.Dir(name))
}

// earlier reads the plan that is being cut.
func (cmd *PlanCmd) earlier() (*week.Plan, error) {
	name := cmd.Earlier
	if name == "" {
		name = cmd.folder()
	}
	p, err := readPlanAt(name)
	if err != nil && cmd.Earlier == "" {
		return nil, fmt.Errorf("--done needs the plan that is being cut: %w; or name it with --earlier", err)
	}
	return p, err
}

// done reads what is cut, and returns the name of the file.
func (cmd *PlanCmd) done() (*shop.Done, string, error) {
	name := cmd.Done
	if st, err := os.Stat(name); err == nil && st.IsDir() {
		name = filepath.Join(name, "done.csv")
	}
	d, err := shop.ReadDone(os.DirFS(filepath.Dir(name)), filepath.Base(name))
	if err != nil {
		return nil, name, asNamed(err, filepath.Dir(name))
	}
	if cmd.From != "" {
		if d.From, d.FromSec, err = shop.ParseMoment(cmd.From); err != nil {
			return nil, name, fmt.Errorf("--from is %q: %w", cmd.From, err)
		}
	}
	return d, name, nil
}
