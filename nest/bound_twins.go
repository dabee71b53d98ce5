package nest

// twinsOf says of every part which is the first with the same outline: orders of
// one outline come by the hundred, and what is true of one is measured once.
func twinsOf(parts []Part) []int {
	first := map[string]int{}
	twins := make([]int, len(parts))
	for i := range parts {
		key := bodyKey(parts[i].Outline)
		if _, known := first[key]; !known {
			first[key] = i
		}
		twins[i] = first[key]
	}
	return twins
}

// sizeOnce is size, measured once for parts of one outline.
func (b *bounder) sizeOnce(part int) {
	if t := b.twins[part]; t < part && b.counts[t] > 0 {
		b.area[part], b.filled[part], b.discs[part] = b.area[t], b.filled[t], b.discs[t]
		return
	}
	b.size(part)
}

// twinHoles is the holes of the first wanted part before this one with its
// outline, among those listed.
func (b *bounder) twinHoles(list []holeKind, part int) (holes []holeKind, ok bool) {
	t := b.twins[part]
	if t == part || b.counts[t] == 0 {
		return nil, false
	}
	for _, h := range list {
		if h.part == t {
			h.part = part
			holes = append(holes, h)
		}
	}
	return holes, true
}
