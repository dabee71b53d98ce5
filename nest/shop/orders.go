package shop

import (
	"fmt"
	"math"
	"path"
	"strings"

	"kerfold/cost"
	"kerfold/geom"
)

// Bounds of an order. Beyond them a slip is likelier than a wish.
const (
	maxQuantity = 1_000_000
	maxPriority = 1000
)

var (
	thickness = limits{low: 0.01, high: 500, usualLow: 0.05, usualHigh: 300}
	taper     = limits{low: 0, high: 10}
)

// order reads one order, which a drawing with several parts may make several.
func (l *loader) order(v *value, defaults *value, dates dateOrder) []Order {
	v = withDefaults(v, defaults)
	f := l.log.open(v, l.orderName(v))
	f.dates = dates
	o := Order{Where: v.at.String()}
	f.orderNames(&o, l)
	f.orderNeed(&o)
	if o.Material != "" {
		o.Material = l.materialName(f, o.Material)
	}
	f.orderTurns(&o)
	f.orderKit(&o)
	orders := l.orderShapes(f, &o)
	f.done()
	l.note("orders", f)
	if f.faulty {
		l.badOrders++
		return nil
	}
	for i := range orders {
		l.orderAt[orders[i].ID] = v.at
	}
	return orders
}

// orderName names an order in messages as well as what is written allows.
func (l *loader) orderName(v *value) string {
	id, part := plainScalar(v, "id"), plainScalar(v, "part")
	switch {
	case id != "" && part != "" && id != part:
		return fmt.Sprintf("order %s (%s)", id, part)
	case id != "":
		return "order " + id
	case part != "":
		return "part " + part
	}
	return "an order"
}

func plainScalar(v *value, key string) string {
	if got := v.find(key); got != nil && got.val.kind == scalar && len(got.val.text) <= 60 {
		return got.val.text
	}
	return ""
}

func (f *fields) orderNames(o *Order, l *loader) {
	o.ID, _ = f.text("id")
	o.Part, _ = f.text("part")
	o.Customer, _ = f.text("customer")
	o.Note, _ = f.text("note")
	if o.ID == "" && !f.has("id") {
		o.ID = l.freeID(o.Part)
		if f.subject == "an order" {
			f.subject = "order " + o.ID
		}
	}
	if first, twice := l.ids[o.ID]; twice && o.ID != "" {
		f.fault(f.at("id"), fmt.Sprintf("id %s is used twice, first at %s", o.ID, first), "give each order its own id, such as K-104/2")
		return
	}
	l.ids[o.ID] = f.at("id")
}

// freeID makes an id for an order without one: the part's name, or a number.
func (l *loader) freeID(part string) string {
	if _, taken := l.ids[part]; part != "" && !taken {
		return part
	}
	for n := len(l.ids) + 1; ; n++ {
		id := fmt.Sprintf("order %d", n)
		if part != "" {
			id = fmt.Sprintf("%s, order %d", part, n)
		}
		if _, taken := l.ids[id]; !taken {
			return id
		}
	}
}

func (f *fields) orderNeed(o *Order) {
	var ok bool
	if o.Quantity, ok = f.whole("quantity", 1, maxQuantity); !ok {
		f.missing("say how many, such as quantity: 12", "quantity")
	}
	o.Extra = f.overRun("over_run", o.Quantity)
	if o.Material, ok = f.text("material"); !ok {
		f.missing("name the material, such as material: mild steel", "material")
	}
	if o.ThicknessMM, ok = f.quantity("thickness", &length, thickness); !ok {
		f.missing("give the sheet's thickness, such as thickness_mm: 6 or thickness: 1/4 in", length.keys("thickness")...)
	}
	o.ThicknessMM = roundThickness(o.ThicknessMM)
	o.Grade = f.grade("grade")
	o.Due, o.DueSec = f.dueMoment("due")
	o.Priority, _ = f.whole("priority", -maxPriority, maxPriority)
	o.Filler, _ = f.flag("filler")
	o.ToleranceMM, _ = f.quantity("tolerance", &length, taper)
}

// roundThickness makes equal thicknesses equal that were written in different
// units: to a thousandth of a millimetre.
func roundThickness(x float64) float64 { return math.Round(x*1000) / 1000 }

// overRun reads a number of parts or a share of the quantity, rounded down.
func (f *fields) overRun(key string, quantity int) int {
	v, ok := f.scalar(key)
	if !ok {
		return 0
	}
	share, percent := strings.CutSuffix(strings.TrimSpace(v.text), "%")
	if !percent {
		n, _ := f.whole(key, 0, maxQuantity)
		return n
	}
	x, mend := parseNumber(share)
	if mend != "" || x < 0 || x > 100 {
		f.fault(v.at, fmt.Sprintf("%s is %s", key, quoteText(v.text)), "write a number of parts, or a share from 0 % to 100 %")
		return 0
	}
	return int(math.Floor(float64(quantity)*x/100 + 1e-9))
}

// grade reads a named grade; medium where there is none.
func (f *fields) grade(key string) cost.Grade {
	var names []string
	for g := cost.Separate; g <= cost.Fine; g++ {
		names = append(names, g.String())
	}
	word, ok := f.choice(key, names...)
	if !ok {
		return cost.Medium
	}
	g, _ := cost.ParseGrade(word)
	return g
}

func (f *fields) orderTurns(o *Order) {
	o.Angles, o.FreeAngle = f.rotations("rotations")
	o.Mirror, _ = f.flag("mirror")
	if deg, ok := f.quantity("grain", &angle, limits{low: -360, high: 360}); ok {
		o.GrainDeg = grainDeg(deg)
	}
}

// grainDeg reduces a direction to [0, 180): grain has no sense.
func grainDeg(deg float64) *float64 {
	d := math.Mod(geom.NormalDeg(deg), 180)
	return &d
}

func (f *fields) orderKit(o *Order) {
	o.Kit, _ = f.text("kit")
	per, ok := f.whole("per_kit", 1, maxQuantity)
	switch {
	case ok && o.Kit == "":
		f.fault(f.at("per_kit"), "per_kit without a kit", "name the kit with kit: or remove per_kit")
	case ok:
		o.PerKit = per
	case o.Kit != "":
		o.PerKit = 1
	}
	if o.PerKit > 0 && o.Quantity%o.PerKit != 0 {
		f.fault(f.at("quantity"), fmt.Sprintf("quantity %d does not make whole kits of %d", o.Quantity, o.PerKit),
			fmt.Sprintf("make quantity a multiple of per_kit, such as %d", (o.Quantity/o.PerKit+1)*o.PerKit))
	}
}

// orderShapes reads the shape, from a drawing or from sizes.
func (l *loader) orderShapes(f *fields, o *Order) []Order {
	drawn, named := f.has("drawing"), f.has("shape")
	switch {
	case drawn && named:
		f.fault(f.at("shape"), "the order names a drawing and a shape", "keep one")
		f.get("shape")
		return l.drawnOrders(f, o)
	case drawn:
		return l.drawnOrders(f, o)
	}
	kind, ok := f.choice("shape", shapeKinds...)
	if !ok {
		f.knowDrawing()
		if !named {
			f.fault(f.v.at, "neither drawing nor shape", "name a drawing (drawing: bracket.dxf) or a shape ("+listing(shapeKinds)+")")
		}
		f.knowShapes()
		return nil
	}
	return f.plainOrder(o, kind)
}

func (f *fields) plainOrder(o *Order, kind string) []Order {
	s, name, ok := f.shape(kind)
	if ok {
		f.cutouts("holes", &s)
	}
	f.known = append(f.known, "holes", "drawing")
	if !ok {
		return nil
	}
	o.Shape = normal(s)
	if o.Part == "" {
		o.Part = name
	}
	return []Order{*o}
}

// partName is a drawing's name without folder and ending.
func partName(file string) string {
	return strings.TrimSuffix(path.Base(file), path.Ext(file))
}
