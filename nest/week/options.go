package week

import (
	"context"
	"time"
)

// Options says how hard to plan.
type Options struct {
	// Seed is the root of every random stream.
	Seed uint64
	// Effort is the work to spend on the whole week: 1 is a quick run of a few
	// seconds. With a Clock it is the upper bound; 0 is none.
	Effort float64
	// Workers is how many goroutines may work at once; 0 means 1. It never
	// changes the plan.
	Workers int
	// Clock, where not nil, limits the time. The plan then depends on how fast
	// the machine is.
	Clock Clock
	// Remnants says which leftovers are worth keeping; zero is the job's rule.
	Remnants RemnantRule
	// MostLayouts caps the different layouts of a group's mix; 0 is no cap. Ways
	// that lay sheets out one by one are not held to it.
	MostLayouts int
	// Plain plans as one would without choosing: every group laid out once, every
	// sheet cut by itself. It is there to compare with.
	Plain bool
	// Progress, where not nil, is called now and then from one goroutine at a
	// time. It must return quickly.
	Progress func(Progress)
}

// A Clock lets the caller limit a plan in time; the planner reads none itself.
type Clock interface {
	// Left is how many seconds are left for the whole plan.
	Left() float64
	// Until is how many seconds there are until a deadline.
	Until(deadline time.Time) float64
	// Within derives a context that ends after so many seconds.
	Within(ctx context.Context, seconds float64) (context.Context, context.CancelFunc)
}

// Progress tells how far a plan is.
type Progress struct {
	Done   float64 // share of the work, 0 to 1
	Stage  string  // "first layouts", "search", "calendar"
	Group  string
	Sheets int // of the best plan so far
}
