package drawing

// maxAlike bounds how many findings of one kind are kept apart; more of the
// kind are counted on the last one kept.
const maxAlike = 200

// A log gathers findings in the order in which they are made.
type log struct {
	findings []Finding
	alike    map[alike]int // index of the finding that counts for its like
	kinds    map[Kind]int  // how many are kept of a kind
	last     map[Kind]int  // index of the newest of a kind
}

// alike says which findings count as one: those without a place that say the
// same about the same layer.
type alike struct {
	kind  Kind
	text  string
	layer string
}

func newLog() *log {
	return &log{alike: map[alike]int{}, kinds: map[Kind]int{}, last: map[Kind]int{}}
}

// add records a finding. Its Count is 1 where it says nothing else.
func (l *log) add(f Finding) {
	f.Count = max(f.Count, 1)
	key := alike{f.Kind, f.Text, f.Layer}
	if !f.HasAt {
		if i, ok := l.alike[key]; ok {
			l.findings[i].Count += f.Count
			return
		}
	}
	if l.kinds[f.Kind] >= maxAlike {
		l.findings[l.last[f.Kind]].Count += f.Count
		return
	}
	l.kinds[f.Kind]++
	l.last[f.Kind] = len(l.findings)
	if !f.HasAt {
		l.alike[key] = len(l.findings)
	}
	l.findings = append(l.findings, f)
}
