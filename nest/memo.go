package nest

import (
	"encoding/binary"
	"math"
	"sync"

	"github.com/paulmach/orb"
)

// A Memo keeps no-fit polygons between searches of problems that share
// outlines and spacing, such as the same parts in other quantities. It never
// changes a result. The zero Memo is ready for use, by several goroutines.
type Memo struct {
	mu    sync.Mutex
	ids   map[string]int // of bodies, by their coordinates
	pairs map[[2]int]*nofit
	edges int // of all pairs
}

// memoEdges is how many edges a memo keeps, in all some 300 MB; past that it
// begins anew, so that jobs of hundreds of kinds fit in memory.
const memoEdges = 3_000_000

// names numbers the bodies of a problem's shapes; equal bodies have equal
// numbers in all problems.
func (m *Memo) names(shapes []shape) []int {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.ids == nil {
		m.ids, m.pairs = map[string]int{}, map[[2]int]*nofit{}
	}
	ids := make([]int, len(shapes))
	for i := range shapes {
		key := bodyKey(shapes[i].body)
		id, known := m.ids[key]
		if !known {
			id = len(m.ids)
			m.ids[key] = id
		}
		ids[i] = id
	}
	return ids
}

func bodyKey(p orb.Polygon) string {
	var b []byte
	for _, ring := range p {
		b = binary.LittleEndian.AppendUint64(b, uint64(len(ring)))
		for _, pt := range ring {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(pt[0]))
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(pt[1]))
		}
	}
	return string(b)
}

// pair returns what was kept for two bodies, or makes and keeps it.
func (m *Memo) pair(key [2]int, work func() *nofit) *nofit {
	m.mu.Lock()
	n := m.pairs[key]
	m.mu.Unlock()
	if n != nil {
		return n
	}
	n = work()
	m.mu.Lock()
	defer m.mu.Unlock()
	if first := m.pairs[key]; first != nil {
		return first
	}
	if m.edges += len(n.edges); m.edges > memoEdges {
		clear(m.pairs)
		m.edges = len(n.edges)
	}
	m.pairs[key] = n
	return n
}
