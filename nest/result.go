package nest

import "kerfold/geom"

// A Placement is one copy of a part in its pose.
type Placement struct {
	Part int // index into Problem.Parts
	Pose geom.Pose
}

// A Layout is one sheet (or the strip) with the parts on it.
type Layout struct {
	Sheet      int // index into Problem.Sheets; 0 for a strip
	Placements []Placement
}

// Status says why a search stopped.
type Status int

const (
	// Finished: the effort asked for was spent.
	Finished Status = iota
	// Limit: the context's deadline passed; the layout is the best so far.
	Limit
	// Cancelled: the caller cancelled; the layout is the best so far.
	Cancelled
	// Infeasible: not every part can be placed, see Result.Unplaced and Warnings.
	Infeasible
)

// Stats counts what a search did.
type Stats struct {
	Seed        uint64
	Effort      float64
	Decodes     int64  // complete layouts built by bottom-left placement
	Moves       int64  // part moves tried by separation
	Won         string // the arm that found the result: "bottom-left", "genetic", "separation", "lattice", "nested", "tiling"
	Generations int
}

// A Result is the best legal layout a search found.
type Result struct {
	Layouts []Layout
	// Length is the strip length used in millimetres; 0 for sheets.
	Length float64
	// Density is part area over sheet (or strip) area used, 0 to 1.
	Density float64
	// Unplaced counts, by part index, the wanted copies that found no place.
	Unplaced map[int]int
	Status   Status
	Stats    Stats
	Warnings []string
	// Bound is what no plan for the wanted copies placed here could go below,
	// and Gap the share by which the sheets' cost, or the strip's length, is
	// above it. Rest is the largest rectangle left of the least used sheet. Only
	// [Solve] sets these three.
	Bound Bound
	Gap   float64
	Rest  Rest
}

// Progress is a search's report of its best layout so far.
type Progress struct {
	Done    float64 // share of the effort spent, 0 to 1
	Density float64
	Length  float64 // strips only
	Sheets  int
	Arm     string
}

// Options says how hard to search.
type Options struct {
	// Seed is the root of every random stream.
	Seed uint64
	// Effort is the work to spend: 1 is a quick run of about a second on one
	// core for a few dozen parts; time grows in proportion. 0 means 1, or no
	// limit of its own where Spent is given.
	Effort float64
	// Workers is how many goroutines may work at once; 0 means 1. It never
	// changes the result.
	Workers int
	// Spent, where not nil, tells what share (0 to 1) of the time the caller
	// allows has passed. A search that cools or narrows towards its end paces
	// itself by it, and stops at 1. The result then depends on the machine.
	Spent func() float64
	// Memo, where not nil, keeps what can be used again by the next search of
	// the same outlines. It never changes the result.
	Memo *Memo
	// Progress, where not nil, is called now and then from one goroutine at a
	// time. It must return quickly.
	Progress func(Progress)
}
