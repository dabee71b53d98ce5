package nest

// A unit is what is placed as one: a copy of a kind, or one set of a kit, whose
// copies must lie on one sheet together.
type unit struct {
	kinds  []int32 // one entry per copy
	area   float64
	filler bool
}

// A demand is how many of each unit to place: wanted ones, and then those that
// are welcome where they cost nothing.
type demand struct {
	units   []unit
	wanted  []int
	welcome []int
}

// demandOf splits the problem into units. The first units are the problem's
// parts, in order, so that a unit's index is its part's; sets of kits follow. A
// part that belongs to a kit is wanted only through the kit. On a strip every
// kit is together anyway and the parts stand alone.
func demandOf(p Problem, kinds []kind) demand {
	n := len(p.Parts)
	d := demand{units: make([]unit, n), wanted: make([]int, n), welcome: make([]int, n)}
	for i, part := range p.Parts {
		d.units[i] = unit{kinds: []int32{int32(i)}, area: kinds[i].area, filler: part.Filler}
		if part.Filler {
			d.welcome[i] = part.Quantity + part.Extra
			continue
		}
		d.wanted[i] = part.Quantity
		d.welcome[i] = part.Extra
	}
	if p.StripWidth == 0 {
		d.addKits(p)
	}
	return d
}

// addKits turns the parts of every kit into sets: as many as divide all its
// quantities. Fillers and copies beyond the order stay single only where the
// part is in no kit.
func (d *demand) addKits(p Problem) {
	var names []string
	members := map[string][]int{}
	for i, part := range p.Parts {
		if part.Kit == "" || part.Filler || part.Quantity == 0 {
			continue
		}
		if members[part.Kit] == nil {
			names = append(names, part.Kit)
		}
		members[part.Kit] = append(members[part.Kit], i)
	}
	for _, name := range names {
		if len(members[name]) > 1 || p.Parts[members[name][0]].PerKit > 1 {
			d.addKit(p, members[name])
		}
	}
}

func (d *demand) addKit(p Problem, parts []int) {
	sets := d.sets(p, parts)
	var u unit
	for _, i := range parts {
		for range d.wanted[i] / sets {
			u.kinds = append(u.kinds, int32(i))
		}
		u.area += d.units[i].area * float64(d.wanted[i]/sets)
		d.wanted[i], d.welcome[i] = 0, 0
	}
	d.units = append(d.units, u)
	d.wanted = append(d.wanted, sets)
	d.welcome = append(d.welcome, 0)
}

// sets is how many sets the members of a kit make: as the copies per set say,
// when they all say the same and divide the quantities, else as many as divide
// all quantities.
func (d *demand) sets(p Problem, parts []int) int {
	given := d.wanted[parts[0]] / max(1, p.Parts[parts[0]].PerKit)
	common := 0
	for _, i := range parts {
		if d.wanted[i] != given*p.Parts[i].PerKit {
			given = 0
		}
		common = divisor(common, d.wanted[i])
	}
	if given > 0 {
		return given
	}
	return common
}

// divisor is the greatest common divisor.
func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
