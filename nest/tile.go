package nest

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Tile looks for layouts without any waste: blanks that divide a sheet, cut-up
// sheets put together again. It takes problems without spacing, margin and kits
// whose parts have exactly the area of a whole number of equal sheets (or a
// strip) and may lie on them in some turn, and returns [ErrUnsupported] for others.
//
// In such a layout the leftmost and then lowest point of the free space is a
// corner of some part, and that part's side runs along the free space's border
// there, or else a wedge would stay empty. So at every step only the parts with
// a side of just that direction need be tried, and a depth-first search over
// them gets far. It is restarted with the parts in other orders. What it cannot
// finish it leaves to the genetic search: the sheets it filled stay.
func Tile(ctx context.Context, p Problem, o Options) (Result, error) {
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	j, ok := newJob(pre)
	if !ok {
		return Result{}, ErrUnsupported
	}
	return j.run(ctx, o)
}

// A tileJob is what to tile.
type tileJob struct {
	pre    *prepared // on sheets, also where the caller asked for a strip
	fits   *fits
	caller *prepared
	sheets int
	point  *inner   // where a point may lie: on the sheet
	solids []*nofit // per shape, where a point may not lie: inside
	leads  []lead   // per shape
}

// A lead is the leftmost, then lowest corner of a shape and the side that leaves
// it counter-clockwise.
type lead struct {
	x, y, ux, uy, length float64
}

// tileShare is how far, as a share, the parts' area may be from that of whole
// sheets: the rounding of areas.
const tileShare = 1e-9

func newJob(caller *prepared) (*tileJob, bool) {
	p := caller.problem
	pre := caller
	if p.StripWidth > 0 {
		pre = caller.asSheet()
	}
	if pre == nil || len(pre.grounds) != 1 || p.Spacing > 0 || p.Margin > 0 || len(pre.grounds[0].region) != 1 {
		return nil, false
	}
	for i, part := range p.Parts {
		if part.Kit != "" || part.Filler || len(pre.kinds[i].distinct) == 0 {
			return nil, false
		}
	}
	sheets := wantedArea(pre) / pre.grounds[0].area
	n := math.Round(sheets)
	if n < 1 || math.Abs(sheets-n) > tileShare*n || n > float64(pre.grounds[0].count) {
		return nil, false
	}
	if pre = pre.exact(); p.StripWidth == 0 {
		caller = pre
	}
	return &tileJob{pre: pre, fits: newFits(pre, nil), caller: caller, sheets: int(n)}, true
}

// exact is the problem on its sheet as it is, without the allowance: what leaves
// no waste leaves no room for it either.
func (pre *prepared) exact() *prepared {
	e := *pre
	e.grounds = slices.Clone(pre.grounds)
	e.grounds[0].region = []orb.Polygon{geom.NormalPolygon(geom.SnapPolygon(pre.problem.Sheets[0].Outline))}
	return &e
}

func wantedArea(pre *prepared) float64 {
	area := 0.0
	for i, k := range pre.kinds {
		area += k.area * float64(pre.problem.Parts[i].Quantity)
	}
	return area
}

// asSheet is a strip problem as one of a sheet of the length that would waste
// nothing, or nil when that is no grid length.
func (pre *prepared) asSheet() *prepared {
	p := pre.problem
	length := wantedArea(pre) / p.StripWidth
	if length <= 0 || length > geom.MaxCoordinate || geom.Snap(length) != length {
		return nil
	}
	grain := stripGrainDeg
	p.Sheets = []Sheet{{ID: "strip", Outline: orb.Polygon{geom.RectRing(0, 0, length, p.StripWidth)}, Count: 1, Grain: &grain}}
	p.StripWidth = 0
	sheet, err := prepare(p)
	if err != nil {
		return nil
	}
	return sheet
}

// setUp works out what all tries share.
func (j *tileJob) setUp() {
	j.point = fitInner(geom.Region{Rings: j.pre.grounds[0].region[0]})
	for _, s := range j.pre.shapes {
		j.solids = append(j.solids, newNofit(geom.Region{Rings: s.outline}))
		j.leads = append(j.leads, leadOf(s))
	}
}

func leadOf(s shape) lead {
	ring := s.outline[0]
	first := 0
	for i, p := range ring {
		if lessPoint(p, ring[first]) {
			first = i
		}
	}
	p, q := ring[first], ring[(first+1)%len(ring)]
	l := lead{x: p[0], y: p[1], length: math.Hypot(q[0]-p[0], q[1]-p[1])}
	l.ux, l.uy = (q[0]-p[0])/l.length, (q[1]-p[1])/l.length
	return l
}

// tileTries is how many tries run side by side, whatever the workers.
const tileTries = 4

// run tries until all sheets are full or the effort is spent, and completes what
// is left.
func (j *tileJob) run(ctx context.Context, o Options) (Result, error) {
	j.setUp()
	pace := newPace(o)
	tries := make([]*tiling, tileTries)
	for i := range tries {
		tries[i] = newTiling(j, rand.New(rand.NewPCG(o.Seed, tileStream+uint64(i))))
		tries[i].noise = tileNoise * float64(i/2) // the first ones take the parts by area
	}
	var best []*field
	limit := firstTileNodes
	for round := 0; ; round++ {
		sideBySide(o.Workers, tries, func(i int, t *tiling) { t.try(ctx, limit, i%2 == 0, &pace) })
		for _, t := range tries {
			pace.done += int64(t.nodes) * tileNodeWork
			if len(t.best) > len(best) {
				best = t.best
			}
		}
		if len(best) == j.sheets || ctx.Err() != nil || pace.share() >= tileUntil || j.hopeless(tries, limit) {
			return j.result(ctx, best, o)
		}
		limit *= 3
	}
}

// hopeless tells whether more nodes would be lost: when tries in all turns came to
// their end, so that there is nothing else to try, or when after a fair number none has
// got far. Cut-up sheets are seldom put together at once, but parts that never were
// one sheet get stuck near its start.
func (j *tileJob) hopeless(tries []*tiling, limit int) bool {
	deepest := 0.0
	for _, t := range tries {
		if t.ended && !t.drawn {
			return true
		}
		deepest = max(deepest, t.deepest)
	}
	return limit >= hopelessAfter && deepest < hopelessShare*j.pre.grounds[0].area
}

const (
	tileStream     = 1 << 33
	tileNoise      = 1.0
	firstTileNodes = 500
	// hopelessAfter is how many nodes a try must have had, and hopelessShare of a
	// sheet it must have filled, to go on. Jigsaws fill half of one in the first
	// 500 nodes.
	hopelessAfter = 4500
	hopelessShare = 1.0 / 3
	// tileNodeWork is a node's work in the decoder's unit.
	tileNodeWork = 4000
	// tileUntil is the share of the effort after which the genetic search takes
	// over.
	tileUntil = 0.5
)

// result reports the filled sheets and has the rest laid out by other means.
func (j *tileJob) result(ctx context.Context, full []*field, o Options) (Result, error) {
	r := Result{Layouts: layoutsOf(full)}
	if len(full) < j.sheets {
		if j.caller != j.pre {
			return Result{}, ErrUnsupported
		}
		rest := j.rest(full)
		more, err := Genetic(ctx, rest, o.part(tileUntil, 1))
		if err != nil {
			return Result{}, err
		}
		r.Layouts, r.Stats = append(r.Layouts, more.Layouts...), more.Stats
	}
	stats := r.Stats
	if j.caller != j.pre {
		r = stripOf(j.caller, r.Layouts[0])
	} else {
		r = sheetsResult(j.pre, r.Layouts)
	}
	r.Stats = stats
	r.Stats.Seed, r.Stats.Effort, r.Stats.Won = o.Seed, o.Effort, "tiling"
	return r.ended(ctx), nil
}

// stripOf reports a layout found on a sheet as one on the strip.
func stripOf(pre *prepared, l Layout) Result {
	fd := newField(pre, newFits(pre, nil), &pre.grounds[0], &clipper{})
	for _, p := range l.Placements {
		fd.place(pre.kinds[p.Part].spot(int32(p.Part), p))
	}
	return stripResult(pre, []*field{fd})
}

// rest is the problem without what lies on the full sheets.
func (j *tileJob) rest(full []*field) Problem {
	p := j.pre.problem
	p.Parts, p.Sheets = slices.Clone(p.Parts), slices.Clone(p.Sheets)
	p.Sheets[0].Count -= len(full)
	for _, fd := range full {
		for _, s := range fd.placed {
			p.Parts[s.kind].Quantity--
		}
	}
	return p
}

// A tiling is one depth-first search.
type tiling struct {
	job    *tileJob
	rng    *rand.Rand
	clip   clipper
	left   []int     // per kind
	rank   []float64 // per kind; larger ones are tried first
	noise  float64   // of the ranks, as a share of the area
	drawn  bool      // parts lie as drawn
	fd     *field
	free   *front // of a point
	full   []*field
	best   []*field
	nodes  int
	limit  int
	choice [][]spot // scratch per depth
	stop   func() bool

	deepest float64 // most area that was filled of one sheet
	ended   bool    // every way was looked at
}

func newTiling(j *tileJob, rng *rand.Rand) *tiling {
	return &tiling{job: j, rng: rng, clip: clipper{split: true}}
}

// try searches until all sheets are full or limit nodes were looked at.
func (t *tiling) try(ctx context.Context, limit int, drawn bool, p *pace) {
	pre := t.job.pre
	t.left, t.rank = t.left[:0], t.rank[:0]
	for i, k := range pre.kinds {
		t.left = append(t.left, pre.problem.Parts[i].Quantity)
		t.rank = append(t.rank, k.area*(1+t.noise*(t.rng.Float64()-0.5)))
	}
	t.drawn, t.full, t.best, t.nodes, t.limit, t.deepest = drawn, nil, nil, 0, limit, 0
	t.stop = func() bool { return ctx.Err() != nil || p.spent != nil && p.spent() >= 1 }
	t.ended = !t.sheet() && t.nodes < t.limit
}

// sheet begins an empty sheet. It tells whether all sheets could be filled.
func (t *tiling) sheet() bool {
	if len(t.full) > len(t.best) {
		t.best = slices.Clone(t.full)
	}
	if len(t.full) == t.job.sheets {
		return true
	}
	fd, free := t.fd, t.free
	t.fd = newField(t.job.pre, t.job.fits, &t.job.pre.grounds[0], &t.clip)
	t.free = &front{segs: slices.Clone(t.job.point.border), dead: -1}
	done := t.fill(0)
	t.fd, t.free = fd, free
	return done
}

// fill covers the free corner in every way there is.
func (t *tiling) fill(depth int) bool {
	if t.nodes++; t.nodes >= t.limit || t.nodes%64 == 0 && t.stop() {
		t.nodes = max(t.nodes, t.limit)
		return false
	}
	used := t.fd.usedArea()
	t.deepest = max(t.deepest, used)
	if used >= t.fd.ground.area*(1-tileShare) {
		t.full = append(t.full, t.fd.copy())
		done := t.sheet()
		t.full = t.full[:len(t.full)-1]
		return done
	}
	c, ok := t.corner()
	if !ok {
		return false
	}
	for _, s := range t.fitting(c, depth) {
		t.put(s)
		if t.fill(depth + 1) {
			return true
		}
		t.takeBack()
		if t.nodes >= t.limit {
			return false
		}
	}
	return false
}

func (t *tiling) put(s spot) {
	t.left[s.kind]--
	t.fd.place(s)
	t.clip.step(t.free, newPlacedNo(t.job.solids[s.shape], s.x, s.y), t.job.point)
}

func (t *tiling) takeBack() {
	last := len(t.fd.placed) - 1
	t.left[t.fd.placed[last].kind]++
	t.fd.rollback(last)
	t.free.rollback(last)
}

// fitting lists the copies that fit the corner, those of high rank first.
func (t *tiling) fitting(c corner, depth int) []spot {
	for len(t.choice) <= depth {
		t.choice = append(t.choice, nil)
	}
	list := t.choice[depth][:0]
	pre := t.job.pre
	for k, n := range t.left {
		if n == 0 {
			continue
		}
		turns := pre.kinds[k].distinct
		if t.drawn {
			turns = turns[:1]
		}
		for _, turn := range turns {
			if s, ok := t.at(c, int32(k), turn); ok {
				list = append(list, s)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b spot) int { return cmp.Compare(t.rank[b.kind], t.rank[a.kind]) })
	t.choice[depth] = list
	return list
}

// at places a part's lead into the corner, if its side runs along the border.
func (t *tiling) at(c corner, kind, turn int32) (spot, bool) {
	shape := t.job.pre.kinds[kind].turns[turn].shape
	l := &t.job.leads[shape]
	if l.ux*c.ux+l.uy*c.uy <= 0 || math.Abs(l.ux*c.uy-l.uy*c.ux)*min(l.length, c.length) > tileTolerance {
		return spot{}, false
	}
	s := spot{kind: kind, turn: turn, shape: shape, x: geom.Snap(c.x - l.x), y: geom.Snap(c.y - l.y)}
	if !t.job.fits.on(0, shape).holds(s.x, s.y) {
		return spot{}, false
	}
	for _, o := range t.fd.placed {
		if t.job.fits.apart(o.shape, shape).blocks(s.x-o.x, s.y-o.y) {
			return spot{}, false
		}
	}
	return s, true
}

// tileTolerance is how far, in millimetres, a side may leave the border it runs
// along.
const tileTolerance = 2 * geom.TouchTolerance

// A corner is the leftmost, then lowest point of the free space and the border
// that leaves it with the free space on its left.
type corner struct {
	x, y, ux, uy, length float64
}

// probe is how far, in millimetres, the test for free space beside a border
// looks: well beyond all tolerances, well within any part.
const probe = 32 * geom.TouchTolerance

// corner finds the corner. The front of a point also has the seams between
// parts that touch; only pieces with free space beside them count.
func (t *tiling) corner() (corner, bool) {
	best := corner{x: math.Inf(1)}
	for _, s := range t.free.segs {
		length := s.length()
		if length <= probe || min(s.ax, s.bx) > best.x+contactTolerance {
			continue
		}
		for _, ray := range [2]seg{s, {s.bx, s.by, s.ax, s.ay}} {
			c := corner{ray.ax, ray.ay, (ray.bx - ray.ax) / length, (ray.by - ray.ay) / length, length}
			if c.before(best) && t.freeOnLeft(c) {
				best = c
			}
		}
	}
	return best, !math.IsInf(best.x, 1)
}

// before orders corners by place, and rays from one place by direction, from
// straight down over right to straight up.
func (c corner) before(d corner) bool {
	switch {
	case c.x < d.x-contactTolerance:
		return true
	case c.x > d.x+contactTolerance:
		return false
	case c.y < d.y-contactTolerance:
		return true
	case c.y > d.y+contactTolerance:
		return false
	}
	return c.ux*d.uy-c.uy*d.ux > 0
}

func (t *tiling) freeOnLeft(c corner) bool {
	x := c.x + c.ux*c.length/2 - c.uy*probe
	y := c.y + c.uy*c.length/2 + c.ux*probe
	return t.job.point.holds(x, y) && t.free.free(x, y, len(t.free.near))
}
