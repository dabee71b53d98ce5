package main

import (
	"context"
	"sync"

	"kerfold/nest"
)

// A budget is how hard to search: effort, or seconds where they are positive.
type budget struct {
	seconds, effort float64
	seed            uint64
	workers         int
	processor       bool // seconds are processor time, see [clock]
}

// A point of a curve is a best layout and when it was found.
type point struct {
	seconds, density float64
	sheets           int
}

// An outcome is one search on one instance.
type outcome struct {
	in      instance
	search  string
	result  nest.Result
	seconds float64
	curve   []point
	faults  []string // what the judges found wrong
	err     error
}

// attempt runs one search on one instance.
func attempt(ctx context.Context, in instance, s search, b budget) outcome {
	out := outcome{in: in, search: s.name}
	p := in.problem()
	clock := b.clock()
	o := nest.Options{Seed: b.seed, Effort: b.effort, Workers: b.workers}
	if b.seconds > 0 {
		var end context.CancelFunc
		ctx, end = clock.within(ctx, b.seconds)
		defer end()
		o.Effort = 0
		o.Spent = func() float64 { return clock.seconds() / b.seconds }
	}
	c := curve{in: in, clock: clock}
	o.Progress = c.note
	out.result, out.err = s.run(ctx, p, o)
	out.seconds = clock.seconds()
	if out.err == nil {
		c.add(out.seconds, out.result.Density, len(out.result.Layouts))
		out.faults = judge(in, out.result)
	}
	out.curve = c.points
	return out
}

// A curve records how the best layout improves with time.
type curve struct {
	in     instance
	clock  clock
	mu     sync.Mutex
	points []point
}

// note takes a search's report.
func (c *curve) note(p nest.Progress) {
	density := p.Density
	if density == 0 && p.Length > 0 {
		density = c.in.area() / (c.in.StripWidth * p.Length)
	}
	c.add(c.clock.seconds(), density, p.Sheets)
}

// add appends a point when it is better than the last one.
func (c *curve) add(seconds, density float64, sheets int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if n := len(c.points); n == 0 || density > c.points[n-1].density {
		c.points = append(c.points, point{seconds, density, sheets})
	}
}

// fSquared is the mean of the bins' squared utilisation.
func (o outcome) fSquared() float64 {
	if len(o.result.Layouts) == 0 {
		return 0
	}
	sum := 0.0
	for _, l := range o.result.Layouts {
		u := o.in.used(l) / (o.in.Bin[0] * o.in.Bin[1])
		sum += u * u
	}
	return sum / float64(len(o.result.Layouts))
}

// fullest is the use of the fullest bin.
func (o outcome) fullest() float64 {
	most := 0.0
	for _, l := range o.result.Layouts {
		most = max(most, o.in.used(l)/(o.in.Bin[0]*o.in.Bin[1]))
	}
	return most
}
