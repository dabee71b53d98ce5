package week

import "math"

// A moneyBound works out what a group costs at least.
type moneyBound struct {
	t      *task
	need   need
	sheets int // fewest
	floors []sheetFloor
	price  float64 // of a mm² of remnant
}

// shared is the bound that shares every sheet's money among its parts by the room
// they take, at the machine and depth that suit each best.
func (m *moneyBound) shared(r remnantBound) float64 {
	return m.sum(func(i int, f sheetFloor) float64 {
		money := math.Max(0, f.money-r.worth[f.sheet])*m.need.grown[i]/m.need.usable[f.sheet] + r.worth[f.sheet]*r.area[i]/r.full[f.sheet]
		return f.tariff.copyFloor(i) + money
	})
}

// whole is the bound that takes whole sheets, each at the machine and depth where it
// costs least. Where another suits a part's cutting better, the part pays its share
// of what a sheet costs more there.
func (m *moneyBound) whole(r remnantBound) (float64, error) {
	least := m.leastFloors()
	cutting := m.sum(func(i int, f sheetFloor) float64 {
		return f.tariff.copyFloor(i) + (f.money-least[f.sheet])*m.need.grown[i]/m.need.usable[f.sheet]
	})
	b := sheetBound{room: m.need.usable, full: r.full, least: m.sheets}
	for s := range m.t.group.Sheets {
		b.fixed, b.fill = append(b.fixed, math.Max(0, least[s]-r.worth[s])), append(b.fill, r.worth[s])
		b.count = append(b.count, m.t.group.Sheets[s].Count)
	}
	for i := range m.t.group.Parts {
		if o := &m.t.group.Parts[i]; !o.Filler {
			b.need += float64(o.Quantity) * m.need.grown[i]
			b.area += float64(o.Quantity) * r.area[i]
		}
	}
	sheets, err := b.solve()
	return cutting + sheets, err
}

// sum adds the wanted copies up, each where it costs least. Fillers are worth more
// than their cutting, at most by what a remnant of their size is.
func (m *moneyBound) sum(each func(part int, f sheetFloor) float64) float64 {
	total := 0.0
	for i := range m.t.group.Parts {
		o := &m.t.group.Parts[i]
		if o.Filler {
			total -= float64(o.Quantity) * m.price * m.t.area[i]
			continue
		}
		least := math.Inf(1)
		for _, f := range m.floors {
			if m.need.usable[f.sheet] > 0 {
				least = math.Min(least, each(i, f))
			}
		}
		if !math.IsInf(least, 1) { // else nothing can be cut
			total += float64(o.Quantity) * least
		}
	}
	return total
}

// bears tells whether no sheet's remnant could bring more than the sheet costs: the
// bounds do not hold then.
func (m *moneyBound) bears(r remnantBound) bool {
	for s, least := range m.leastFloors() {
		if !(r.worth[s] <= least) {
			return false
		}
	}
	return true
}

// leastFloors is what a sheet of each kind costs at least.
func (m *moneyBound) leastFloors() []float64 {
	least := make([]float64, len(m.t.group.Sheets))
	for s := range least {
		least[s] = math.Inf(1)
		for _, f := range m.floors {
			if f.sheet == s {
				least[s] = math.Min(least[s], f.money)
			}
		}
		if math.IsInf(least[s], 1) {
			least[s] = 0
		}
	}
	return least
}
