package shop

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
)

// allStock reads the stock of the job file and of the register it names.
func (l *loader) allStock(top *fields) {
	top.records("stock", func(v *value) { l.stockLine(v, false) })
	for _, v := range l.registerLines(top) {
		l.registerLine(v)
	}
}

// registerLine reads a line of a register, which needs an id: by it the line is
// found again when sheets are taken out.
func (l *loader) registerLine(v *value) {
	if v.kind == record && v.find("id") == nil {
		l.log.fault(v.at, "stock", "id is missing", "give every line of a register an id of its own, such as id: R-041")
		l.badStock++
		return
	}
	l.stockLine(v, true)
}

func (l *loader) stockLine(v *value, inRegister bool) {
	f := l.log.open(v, "stock")
	s := Stock{Where: v.at.String()}
	f.stockNames(&s, l, inRegister)
	f.stockSheet(&s)
	f.stockNeed(&s)
	f.done()
	l.note("stock", f)
	if f.faulty {
		l.badStock++
		return
	}
	l.stockAt[s.ID] = v.at
	l.job.Stock = append(l.job.Stock, s)
}

// stranger reports whether a register's material is one this job does not know
// and no slip of one it does: a shop's register holds more than a job needs.
func (l *loader) stranger(written string) bool {
	if l.asWritten {
		return false
	}
	if _, ok := l.names.find(written); ok {
		return false
	}
	_, slip := nearest(written, l.names.names)
	return !slip
}

func (f *fields) stockNames(s *Stock, l *loader, inRegister bool) {
	s.ID, _ = f.text("id")
	if s.ID == "" && !f.has("id") {
		s.ID = fmt.Sprintf("stock %d", len(l.stockAt)+1)
	}
	f.subject = "stock " + s.ID
	if first, twice := l.stockAt[s.ID]; twice && s.ID != "" {
		f.fault(f.at("id"), fmt.Sprintf("id %s is used twice, first at %s", s.ID, first), "give each kind of sheet and each remnant its own id")
	}
	l.stockAt[s.ID] = f.v.at
	var ok bool
	switch s.Material, ok = f.text("material"); {
	case !ok:
		f.missing("name the material, such as material: mild steel", "material")
	case inRegister && l.stranger(s.Material):
		f.warn(f.at("material"), fmt.Sprintf("material %q is not known here: the line stays as it is", s.Material),
			"describe it under materials: if it is to be cut")
	default:
		s.Material = l.materialName(f, s.Material)
	}
	s.Lot, _ = f.text("lot")
	s.Location, _ = f.text("location")
	s.Source, _ = f.text("source")
	s.Origin, _ = f.text("origin")
	s.Note, _ = f.text("note")
}

// materialName finds a material by the name written.
func (l *loader) materialName(f *fields, written string) string {
	if l.asWritten {
		return written
	}
	name, ok := l.names.find(written)
	if !ok && !isAsbestos(cost.Material{}, written) { // a forbidden sheet is refused, known or not
		mend := "describe it under materials:, or use one that is known; " + materialMeant(written, l.names.names)
		if near, ok := nearest(written, l.names.names); ok {
			mend = fmt.Sprintf("did you mean %s? otherwise describe it under materials:", near)
		}
		f.fault(f.at("material"), fmt.Sprintf("material %q is not known", written), mend)
		return written
	}
	if !ok {
		name = written
	}
	if isAsbestos(l.job.Materials[name], name) {
		f.fault(f.at("material"), fmt.Sprintf("%s holds asbestos: no such sheet is planned or cut here", name),
			"its dust kills and it is banned in most places (EU REACH Annex XVII entry 6; US EPA 2024); leave the order out and ask your safety officer")
	}
	return name
}

// stockSheet reads the sheet's outline and its blocked zones.
func (f *fields) stockSheet(s *Stock) {
	kind, ok := f.choice("shape", "rectangle", "disc", "outline")
	switch {
	case ok:
	case f.has("shape"):
		f.knowShapes()
		return
	case f.has(length.keys("points")...):
		kind = "outline"
	default:
		kind = "rectangle"
	}
	shape, _, ok := f.shape(kind)
	if !ok {
		f.known = append(f.known, "blocked")
		return
	}
	s.Remnant = kind == "outline"
	b := shape.Bounds()
	dx, dy := -geom.Snap(b.Min[0]), -geom.Snap(b.Min[1])
	s.Outline = snapped(moved(shape.Outer, 0, dx, dy)).Oriented(true)
	f.blocked(s, orb.Point{dx, dy})
}

// blocked reads the zones no part may touch. They may reach over the edge, but
// must not lie beside the sheet.
func (f *fields) blocked(s *Stock, shift orb.Point) {
	items := f.items("blocked")
	if len(items) > maxHoles {
		f.fault(f.at("blocked"), fmt.Sprintf("blocked lists %d zones, more than %d", len(items), maxHoles), "join them into fewer")
		return
	}
	edge := flat(s.Outline)
	for i, item := range items {
		z := f.log.open(item, fmt.Sprintf("%s, blocked zone %d", f.subject, i+1))
		if c, ok := z.cutout(orb.Point{}, shift); ok {
			ring := flat(c)
			if !meet(ring, edge) && !inside(ring, edge) {
				z.fault(item.at, "the zone lies beside the sheet", "x and y are from the sheet's lower left corner to the zone's middle")
			}
			s.Blocked = append(s.Blocked, c.Oriented(true))
		}
		z.done()
		f.faulty = f.faulty || z.faulty
	}
}

func (f *fields) stockNeed(s *Stock) {
	var ok bool
	if s.ThicknessMM, ok = f.quantity("thickness", &length, thickness); !ok {
		f.missing("give the thickness, such as thickness_mm: 6 or thickness: 1/4 in", length.keys("thickness")...)
	}
	s.ThicknessMM = roundThickness(s.ThicknessMM)
	if s.Count, ok = f.whole("count", 0, maxQuantity); !ok {
		s.Count = 1
	}
	if is, ok := f.flag("remnant"); ok {
		s.Remnant = is
	}
	if s.Cost, ok = f.number("cost", limits{low: 0, high: 1e7}); !ok && !f.has("cost") && !s.Remnant {
		f.warn(f.v.at, "no cost", "it counts as nothing; write cost: with the price of one sheet")
	}
	if deg, ok := f.quantity("grain", &angle, limits{low: -360, high: 360}); ok {
		s.GrainDeg = grainDeg(deg)
	}
	s.Since, _ = f.date("since")
}

// AreaMM2 is the usable area of one sheet: the outline less the blocked zones,
// which are counted whole.
func (s *Stock) AreaMM2() float64 {
	a := math.Abs(s.Outline.Area())
	for _, b := range s.Blocked {
		a -= math.Abs(b.Area())
	}
	return math.Max(0, a)
}

// Size is the sheet's box along x and y, in mm.
func (s *Stock) Size() (x, y float64) {
	b := s.Outline.Bounds()
	return b.Max[0] - b.Min[0], b.Max[1] - b.Min[1]
}
