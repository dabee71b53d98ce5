package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"kerfold/nest/week"
)

// WriteDoneList writes the floor's list: every layout with how many sheets of it
// are cut, to be filled in and given to the next plan. What is known to be cut
// stands in it already.
func WriteDoneList(w io.Writer, p *week.Plan) error {
	out := csv.NewWriter(w)
	out.Write([]string{"layout", "cut", "scrapped"})
	listed := map[string]bool{}
	for _, l := range p.Done {
		listed[l.ID] = true
		var scrap []string
		for _, c := range l.Scrapped {
			scrap = append(scrap, fmt.Sprintf("%s: %d", c.Order, c.Count))
		}
		out.Write([]string{l.ID, strconv.Itoa(l.Cut), strings.Join(scrap, " | ")})
	}
	for _, page := range layoutIDs(p) {
		if !listed[page] {
			out.Write([]string{page, "0", ""})
		}
	}
	out.Flush()
	return out.Error()
}

func layoutIDs(p *week.Plan) []string {
	var ids []string
	for i := range p.Groups {
		for k := range p.Groups[i].Layouts {
			ids = append(ids, p.Groups[i].Layouts[k].ID)
		}
	}
	return ids
}
