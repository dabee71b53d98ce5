package shop

import (
	"cmp"
	"slices"
	"strings"
)

// A Problem is one thing wrong in a job and how to mend it.
type Problem struct {
	File         string
	Line, Column int    // from 1; 0 where there is none
	Subject      string // the order, machine, sheet … it concerns, "" for the file
	Fact, Mend   string
}

// Where is "file:line:column", as far as known.
func (p Problem) Where() string { return spot{p.File, p.Line, p.Column}.String() }

// Error is "file:line:column: subject: fact: mend".
func (p Problem) Error() string {
	parts := []string{p.Where(), p.Subject, p.Fact, p.Mend}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ": ")
}

// Problems is everything found wrong in a job, one line each.
type Problems []Problem

// Error lists the problems, one a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives errors.As and errors.Is each problem.
func (ps Problems) Unwrap() []error {
	errs := make([]error, len(ps))
	for i, p := range ps {
		errs[i] = p
	}
	return errs
}

// sorted orders problems by file as first met, then by place in it, and keeps
// one of those that say the same of the same place: defaults serve many orders.
func (ps Problems) sorted(rank map[string]int) Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(rank[a.File], rank[b.File]),
			cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	var out Problems
	for _, p := range ps {
		if !slices.ContainsFunc(out[max(0, len(out)-8):], p.same) {
			out = append(out, p)
		}
	}
	return out
}

func (p Problem) same(q Problem) bool {
	return p.Fact == q.Fact && p.Line > 0 && p.File == q.File && p.Line == q.Line && p.Column == q.Column
}
