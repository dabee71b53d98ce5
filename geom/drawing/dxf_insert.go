package drawing

import (
	"strconv"
	"strings"

	"kerfold/geom"
)

// An insert places copies of a block.
type insert struct {
	block      string // in capitals
	name       string
	at         vec3
	scale      vec3
	turnDeg    float64
	cols, rows int
	dx, dy     float64 // between columns and rows
	normal     vec3
}

// maxNesting bounds how deep blocks may hold blocks. Real drawings nest three
// or four deep.
const maxNesting = 32

// insert reads an INSERT.
func (p *parser) insert(f *fields) shape {
	if f.name.code != 2 {
		return nil
	}
	s := &insert{
		name: p.text(f.name), at: f.point(10), scale: vec3{1, 1, 1}, turnDeg: f.real[40],
		cols: max(1, f.int[0]), rows: max(1, f.int[1]), dx: f.real[34], dy: f.real[35], normal: f.normal,
	}
	s.block = strings.ToUpper(s.name)
	for i, code := range []int{41, 42, 43} {
		if f.given(code) {
			s.scale[i] = f.real[code-10]
		}
	}
	return s
}

// draw draws every copy.
func (s *insert) draw(p *pen, m affine3) {
	b, ok := p.insertable(s)
	if !ok {
		return
	}
	b.open = true
	defer func() { b.open = false }()
	place := shift3(s.at).after(turned(s.turnDeg))
	if s.normal != (vec3{0, 0, 1}) {
		place = extruded(s.normal).after(place)
	}
	inner := scale3(s.scale[0], s.scale[1], s.scale[2]).after(shift3(b.base.scale(-1)))
	for row := range s.rows {
		for col := range s.cols {
			if p.spent() {
				p.tooMuch()
				return
			}
			step := shift3(vec3{float64(col) * s.dx, float64(row) * s.dy})
			p.copyOf(b, m.after(place).after(step).after(inner))
		}
	}
}

// insertable returns the block to be copied, or says why it cannot be.
func (p *pen) insertable(s *insert) (*blockDef, bool) {
	f := Finding{Level: Problem, Line: p.from.line, Handle: p.from.name(), Layer: p.draft.layers[p.layer].name}
	b, ok := p.doc.blocks[s.block]
	switch {
	case !ok:
		f.Kind, f.Text = BlockMissing, "block "+strconv.Quote(s.name)+" is inserted but not in the file; ask for a drawing with its blocks, or exploded"
	case b.external:
		f.Kind, f.Text = BlockMissing, "block "+strconv.Quote(s.name)+" lives in another file; ask for a drawing with references bound"
	case b.open || len(p.hosts) >= maxNesting:
		f.Kind, f.Text = BlockRecursive, "block "+strconv.Quote(s.name)+" inserts itself, or blocks are nested too deep; this copy was left out"
	default:
		return b, true
	}
	p.draft.log.add(f)
	return nil, false
}

// copyOf draws the entities of a block.
func (p *pen) copyOf(b *blockDef, m affine3) {
	host := p.context
	p.hosts = append(p.hosts, host)
	p.draft.copying = true
	for i := range b.entities {
		if p.spent() {
			p.tooMuch()
			break
		}
		p.entity(&b.entities[i], &b.entities[i].origin, m)
	}
	for _, o := range b.others {
		p.other(o)
	}
	p.hosts = p.hosts[:len(p.hosts)-1]
	p.context = host
	p.draft.copying = len(p.hosts) > 0
}

// spent counts a copy or an entity of one, and reports whether there were
// enough of them: copies of nothing cost time too.
func (p *pen) spent() bool {
	p.visits++
	return p.draft.full() || p.visits > 4*p.draft.maximum
}

func (p *pen) tooMuch() {
	p.draft.log.add(Finding{
		Kind: TooMuch, Level: Problem,
		Text: "copies of blocks multiply beyond what a drawing of this size can mean; the rest was left out: explode the blocks, or send the part alone",
	})
}

// turned turns about the z axis.
func turned(deg float64) affine3 { return turn3(geom.SinCosDeg(deg)) }
