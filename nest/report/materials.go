package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"kerfold/cost"
)

// WriteMaterials lists materials by name: how they are cut, how fast, and where
// that number comes from.
func WriteMaterials(w io.Writer, materials []cost.Material) error {
	out := &stickyWriter{w: w}
	list := slices.Clone(materials)
	slices.SortFunc(list, func(a, b cost.Material) int { return strings.Compare(a.Name, b.Name) })
	t := &textTable{
		head: []string{"material", "process", "family", "number", "", "source"},
		left: map[int]bool{0: true, 1: true, 2: true, 4: true, 5: true},
	}
	for i := range list {
		m := &list[i]
		q, name := m.Machinability, "machinability"
		if m.Process == cost.Plain {
			q, name = m.PlainK, "plain_k"
		}
		t.rows = append(t.rows, []string{oneLine(m.Name), string(m.Process), string(m.Family), fmt.Sprintf("%.4g", q.Value), name, cmp.Or(string(q.Source), "-")})
	}
	t.write(out)
	fmt.Fprint(out, "\nA job file, or a material_file, changes any of them; test cuts teach your own numbers: kerfold tune.\n")
	return out.err
}
