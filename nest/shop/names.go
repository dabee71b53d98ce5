package shop

// A nameList finds names written a little differently: in other case, or with
// other signs between their parts.
type nameList struct {
	names  []string
	folded map[string]string
}

func newNameList(names []string) *nameList {
	n := &nameList{names: names, folded: map[string]string{}}
	for _, name := range names {
		key := foldWord(name)
		if _, taken := n.folded[key]; !taken {
			n.folded[key] = name
		}
	}
	return n
}

// find returns the name as listed.
func (n *nameList) find(name string) (string, bool) {
	for _, s := range n.names {
		if s == name {
			return s, true
		}
	}
	found, ok := n.folded[foldWord(name)]
	return found, ok
}
