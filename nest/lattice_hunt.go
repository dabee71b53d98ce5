package nest

import (
	"context"
	"math/rand/v2"

	"kerfold/geom"
)

// A latHunt looks for the densest cells of a part. Motifs and directions of rows are
// searched side by side, each with a random stream of its own.
type latHunt struct {
	ctx     context.Context
	turns   []Turn
	most    int // copies in a motif
	gap     float64
	seed    uint64
	workers int
	thrift  float64 // share of the usual number of starts
}

// latRowStarts is latStarts for rows of a given direction, which leave less to
// search.
const latRowStarts = 24

// A latQuest is the search among one motif's cells with rows of one direction.
type latQuest struct {
	motif []Turn
	rows  latRows
	index int // of the motif
	found []latCell
}

// cells finds the densest cells of all motifs, a few for each direction of rows. An outline of many convex pieces is searched with in a simpler form,
// which contains it, and the best cells are tightened in full. When time is up each
// motif has at least one cell, dense or not.
func (h latHunt) cells(k *sepKind, rows ...latRows) []latCell {
	coarse := k.coarser()
	var quests []*latQuest
	for _, r := range rows {
		for i, motif := range latMotifs(h.turns, max(1, h.most)) {
			quests = append(quests, &latQuest{motif: motif, rows: r, index: i})
		}
	}
	sideBySide(h.workers, quests, func(_ int, q *latQuest) { h.search(&coarse, q) })
	var all []latCell
	for _, r := range rows {
		var cells []latCell
		for _, q := range quests {
			if q.rows == r {
				cells = append(cells, q.found...)
			}
		}
		latSort(cells)
		all = append(all, cells[:min(len(cells), latKeptCells)]...)
	}
	return h.tightened(k, &coarse, all)
}

func (h latHunt) search(k *sepKind, q *latQuest) {
	starts := latStarts
	if q.rows != latAnyhow {
		starts = latRowStarts
	}
	starts = max(1, int(float64(starts*len(q.motif))*h.thrift))
	rng := rand.New(rand.NewPCG(h.seed, uint64(q.index)+1+uint64(q.rows)<<32))
	q.found = latSearch(h.ctx, latNewMotif(k, q.motif, h.gap), q.rows, rng, starts)
}

// tightened fits cells of a simpler outline to the outline itself.
func (h latHunt) tightened(k, coarse *sepKind, cells []latCell) []latCell {
	if len(coarse.pieces) == len(k.pieces) || len(k.pieces) > latFinePieces {
		return cells
	}
	list := make([]*latCell, len(cells))
	for i := range cells {
		list[i] = &cells[i]
	}
	sideBySide(h.workers, list, func(_ int, c *latCell) {
		if h.ctx.Err() != nil {
			return // legal as it is
		}
		var t latTightener
		c.latMotif = latNewMotif(k, c.turns, h.gap)
		t.tighten(c)
	})
	latSort(cells)
	return cells
}

const (
	latCoarsePieces = 12    // convex pieces above which an outline is simplified
	latFinePieces   = 80    // convex pieces up to which cells are tightened in full
	latCoarseness   = 0.004 // how far, as a share of its size, a simpler outline may grow
)

// coarser returns the kind with an outline of fewer pieces that contains it.
func (k *sepKind) coarser() sepKind {
	c := *k
	for tol := k.size * latCoarseness; len(c.pieces) > latCoarsePieces && tol < k.size/8; tol *= 2 {
		c.lean = geom.SimplifyOutwardWithin(k.lean, geom.PolygonLength(k.lean)*tol/k.area, tol)
		c.pieces = geom.ConvexPieces(c.lean)
		c.hull = geom.ConvexHull(c.lean[0])
	}
	return c
}

// latKeptCells is how many cells are tried on a sheet: a looser one may meet
// its edges better.
const latKeptCells = 8
