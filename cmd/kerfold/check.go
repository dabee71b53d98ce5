package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"kerfold/nest/report"
	"kerfold/nest/week"
)

// CheckCmd checks a plan from disk.
type CheckCmd struct {
	Plan string `arg:"" help:"plan.json, or the folder it lies in."`
}

// Run reads the plan and has every layout judged anew.
func (cmd *CheckCmd) Run(c *console) error {
	name := cmd.Plan
	if st, err := os.Stat(name); err == nil && st.IsDir() {
		name = filepath.Join(name, "plan.json")
	}
	data, err := readPlanFile(name)
	if err != nil {
		return err
	}
	p, err := decodePlan(name, data)
	if err != nil {
		return err
	}
	derived, err := report.Derived(data, p)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	faults := 0
	for i := range p.Groups {
		faults += tellFaults(c, &p.Groups[i])
	}
	for _, text := range append(week.Audit(p), derived...) {
		fmt.Fprintln(c.out, text)
		faults++
	}
	if faults > 0 {
		c.say("%s: %d fault(s) found", name, faults)
		return errProblems
	}
	fmt.Fprintln(c.out, passed(p))
	return nil
}

func readPlan(name string) (*week.Plan, error) {
	data, err := readPlanFile(name)
	if err != nil {
		return nil, err
	}
	return decodePlan(name, data)
}

func readPlanFile(name string) ([]byte, error) {
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: there is no such file; name a plan.json, or the folder that plan wrote", name)
	}
	if err != nil {
		return nil, unread(name, "the plan", err)
	}
	return data, nil
}

func decodePlan(name string, data []byte) (*week.Plan, error) {
	if text := bytes.TrimSpace(data); len(text) > 0 && text[0] != '{' {
		return nil, fmt.Errorf("%s: this is not a plan.json; name the one that plan wrote, or its folder", name)
	}
	p, err := report.ReadPlan(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return p, nil
}

// tellFaults prints what the judge finds in a group, and counts it.
func tellFaults(c *console, g *week.Group) int {
	r := week.Judge(g)
	for _, v := range r.Violations {
		where := g.ID
		if v.Use >= 0 && v.Use < len(g.Layouts) {
			where = g.Layouts[v.Use].ID
		}
		fmt.Fprintf(c.out, "%s: %s\n", where, v.Text)
	}
	if r.More > 0 {
		fmt.Fprintf(c.out, "%s: and %d more\n", g.ID, r.More)
	}
	return len(r.Violations) + r.More
}

func passed(p *week.Plan) string {
	layouts, sheets, parts := 0, 0, 0
	for i := range p.Groups {
		g := &p.Groups[i]
		layouts += len(g.Layouts)
		for k := range g.Layouts {
			sheets += g.Layouts[k].Repeats
			parts += g.Layouts[k].Repeats * len(g.Layouts[k].Placements)
		}
	}
	return "passed: " + strings.Join([]string{counted(layouts, "layout"), counted(sheets, "sheet"), counted(parts, "part")}, ", ")
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
