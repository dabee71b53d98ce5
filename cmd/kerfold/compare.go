package main

import (
	"os"
	"path/filepath"

	"kerfold/nest/report"
	"kerfold/nest/week"
)

// CompareCmd puts two plans side by side.
type CompareCmd struct {
	A    string `arg:"" name:"a" help:"plan.json, or the folder it lies in."`
	B    string `arg:"" name:"b" help:"The plan to put beside it."`
	All  bool   `help:"List every change, also those that nobody plans by."`
	JSON bool   `name:"json" help:"Write the comparison as JSON."`
}

// Run reads both plans and prints what differs. Plans may differ as they like:
// that is no problem found.
func (cmd *CompareCmd) Run(c *console) error {
	a, err := readPlanAt(cmd.A)
	if err != nil {
		return err
	}
	b, err := readPlanAt(cmd.B)
	if err != nil {
		return err
	}
	if cmd.JSON {
		return report.WriteComparisonJSON(c.out, report.Compare(a, b))
	}
	return report.WriteComparison(c.out, report.Compare(a, b), cmd.All)
}

// readPlanAt reads a plan by its file or by its folder.
func readPlanAt(name string) (*week.Plan, error) {
	if st, err := os.Stat(name); err == nil && st.IsDir() {
		name = filepath.Join(name, "plan.json")
	}
	return readPlan(name)
}
