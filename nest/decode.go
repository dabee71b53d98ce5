package nest

import "math"

// A gene is one step of a placing order: a kind, and an index into its turns or
// AnyTurn.
type gene struct {
	kind int32
	turn int32
}

// A stripDecoder turns placing orders into layouts of a strip. It keeps the
// layout of the order it decoded last, so that an order which begins alike is
// decoded from where the two part.
type stripDecoder struct {
	pre   *prepared
	field *field
	genes []gene    // those placed, in order
	reach []float64 // right end of the layout after each
	fill  []float64 // sum of area·right end after each
	count int64     // layouts completed
}

func newStripDecoder(pre *prepared, nos *nofits) *stripDecoder {
	return &stripDecoder{pre: pre, field: newField(pre, nos, &pre.grounds[0], &clipper{})}
}

// A score rates a decoded strip; lower is better.
type score struct {
	length float64 // right end of the layout, mm
	fill   float64 // mean right end of the parts weighted by area, mm
}

func (a score) less(b score) bool {
	return a.length < b.length || a.length == b.length && a.fill < b.fill
}

var neverPlaced = score{length: math.Inf(1), fill: math.Inf(1)}

// decode places the genes in order. It gives up, with ok false, when the layout
// gets longer than limit or a part fits nowhere.
func (d *stripDecoder) decode(genes []gene, limit float64) (sc score, ok bool) {
	d.rollback(d.shared(genes))
	for _, g := range genes[len(d.genes):] {
		if !d.place(g) {
			return neverPlaced, false
		}
		if d.reach[len(d.reach)-1] > limit {
			return neverPlaced, false
		}
	}
	d.count++
	return d.score(), true
}

// shared is how many first genes are already placed.
func (d *stripDecoder) shared(genes []gene) int {
	n := 0
	for n < len(genes) && n < len(d.genes) && genes[n] == d.genes[n] {
		n++
	}
	return n
}

func (d *stripDecoder) rollback(n int) {
	d.genes, d.reach, d.fill = d.genes[:n], d.reach[:n], d.fill[:n]
	d.field.rollback(n)
}

func (d *stripDecoder) score() score {
	last := len(d.genes) - 1
	if last < 0 {
		return score{}
	}
	return score{length: d.reach[last], fill: d.fill[last]}
}

// place puts one gene's part where it ends leftmost.
func (d *stripDecoder) place(g gene) bool {
	at, ok := d.field.spot(g.kind, g.turn)
	if !ok {
		return false
	}
	d.field.place(at)
	k := &d.pre.kinds[g.kind]
	end := at.x + d.pre.shapes[at.shape].w
	reach, fill := end, k.area*end
	if n := len(d.genes); n > 0 {
		reach, fill = max(reach, d.reach[n-1]), fill+d.fill[n-1]
	}
	d.genes = append(d.genes, g)
	d.reach = append(d.reach, reach)
	d.fill = append(d.fill, fill)
	return true
}
