package nest

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// A herd is the population of the genetic search. Every generation each walker
// improves its own order by a fixed amount of work; then the weaker ones give
// way to children of the better. Walkers share nothing while they walk, so they
// walk side by side and are joined by their place in the herd: the result is the
// same for any number of workers.
type herd struct {
	pre     *prepared
	fits    *fits
	dem     demand
	usable  [][]int32 // per kind, the turns worth trying
	size    float64   // of a layout without waste, in the unit of its reach
	area    float64   // of what is wanted
	walkers []*walker
	rng     *rand.Rand
	pace    pace
	gens    int
	best    key
	winner  int
}

// Tuning of the herd, found on generated problems and the public strips.
const (
	herdSize = 6
	// breedEvery is how many generations pass between two children.
	breedEvery = 8
	// generationWork is one walker's work in a generation.
	generationWork = workPerEffort / 40
	// Heat is a share of the best value: a neighbour worse by that share is
	// accepted with probability 1/e. It falls geometrically.
	firstHeat = 0.01
	lastHeat  = 0.001
	// fillWeight is the weight, in the walkers' rating, of how far right the
	// parts lie on the whole against how far the layout reaches.
	fillWeight = 0.3
)

func newHerd(pre *prepared, fits *fits, o Options) *herd {
	h := &herd{
		pre: pre, fits: fits, dem: demandOf(pre.problem, pre.kinds),
		rng: rand.New(rand.NewPCG(o.Seed, 0)),
	}
	h.pace = newPace(o)
	h.sift()
	h.measure()
	plan := openingOrder(pre)
	for i := range herdSize {
		w := &walker{
			dec: newDecoder(pre, fits, h.dem.units, plan),
			rng: rand.New(rand.NewPCG(o.Seed, uint64(i)+1)),
			by:  rating{reach: 1 - fillWeight, fill: 2 * fillWeight / max(h.area, 1)},
		}
		w.dec.usable = h.usable
		h.walkers = append(h.walkers, w)
	}
	return h
}

// sift finds the turns worth trying, and takes units that fit nowhere alone out
// of the demand; the result misses them and says so.
func (h *herd) sift() {
	h.usable = make([][]int32, len(h.pre.kinds))
	for k := range h.usable {
		h.usable[k] = h.fits.usable(k)
	}
	for u := range h.dem.units {
		for _, k := range h.dem.units[u].kinds {
			if len(h.usable[k]) == 0 {
				h.dem.wanted[u] = 0
			}
		}
	}
}

// measure sets the herd's area and size.
func (h *herd) measure() {
	for u, n := range h.dem.wanted {
		h.area += h.dem.units[u].area * float64(n)
	}
	g := &h.pre.grounds[groundsByPrice(h.pre)[0]]
	if g.strip {
		h.size = h.area / g.width
	} else {
		h.size = h.area / g.area * g.cost
	}
}

func newPace(o Options) pace {
	p := pace{effort: o.Effort * workPerEffort, spent: o.Spent}
	if o.Effort <= 0 {
		p.effort = workPerEffort
		if o.Spent != nil {
			p.effort = math.Inf(1)
		}
	}
	return p
}

// run lets generations pass until the pace or ctx says stop.
func (h *herd) run(ctx context.Context, o Options) {
	if len(orderBy(h.pre, h.dem, byArea)) == 0 {
		return
	}
	sideBySide(o.Workers, h.walkers, func(i int, w *walker) { w.start(h.firstOrder(i, w.rng)) })
	h.join(o)
	for ctx.Err() == nil && h.pace.share() < 1 {
		heat := h.heat()
		sideBySide(o.Workers, h.walkers, func(_ int, w *walker) {
			w.tryPlan(heat * h.size)
			w.walk(ctx, heat*h.size, h.quantum())
		})
		h.gens++
		h.join(o)
		h.breed()
	}
}

// quantum is a walker's work in one generation: less in a short search, so that
// it has generations at all.
func (h *herd) quantum() int64 {
	return int64(min(generationWork, h.pace.effort/float64(20*herdSize)))
}

func (h *herd) heat() float64 {
	return firstHeat * math.Pow(lastHeat/firstHeat, h.pace.share())
}

// join counts what the walkers did and finds the best of them.
func (h *herd) join(o Options) {
	h.pace.done = 0
	for i, w := range h.walkers {
		h.pace.done += w.dec.clip.work
		if i == 0 || w.key.less(h.best) {
			h.best, h.winner = w.key, i
		}
	}
	if o.Progress != nil {
		h.report(o.Progress)
	}
}

// firstOrder is what a walker starts from: the units ranked by a measure of its
// own, with random turns.
func (h *herd) firstOrder(i int, rng *rand.Rand) []gene {
	measures := []measure{byArea, byLength, byWidth, byConcavity, byPerimeter}
	genes := orderBy(h.pre, h.dem, measures[i%len(measures)])
	for k := range genes {
		h.randomTurn(&genes[k], rng)
	}
	return genes
}

func (h *herd) randomTurn(g *gene, rng *rand.Rand) {
	u := &h.dem.units[g.unit]
	if len(u.kinds) == 1 {
		turns := h.usable[u.kinds[0]]
		g.turn = turns[rng.IntN(len(turns))]
	}
}

// breed replaces the order of the walker that stands worst by a child of two
// others; the better of them leads. It happens every few generations only, so
// that a child has time to settle before it is judged.
func (h *herd) breed() {
	if h.gens%breedEvery != 0 {
		return
	}
	rank := h.ranking()
	worst := rank[len(rank)-1]
	lead := rank[h.rng.IntN(len(rank)/2)]
	follow := rank[h.rng.IntN(len(rank)-1)]
	worst.trial = cross(worst.trial, lead.order, follow.order, len(h.dem.units), h.rng)
	worst.start(worst.trial)
}

// ranking lists the walkers by where they stand, best first.
func (h *herd) ranking() []*walker {
	rank := slices.Clone(h.walkers)
	slices.SortStableFunc(rank, func(a, b *walker) int { return cmp.Compare(a.value, b.value) })
	return rank
}
