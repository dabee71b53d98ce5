package week

import (
	"slices"
	"strings"

	"kerfold/cost"
)

// cautions are the hazards of what is cut, each once, in the order in which the
// groups bring them up. One that does not hold for every group names its groups.
func (m *maker) cautions(p *Plan) []string {
	var texts []string
	groups := map[string][]string{}
	for i, t := range m.tasks {
		for _, text := range t.cautions(&p.Groups[i]) {
			if groups[text] == nil {
				texts = append(texts, text)
			}
			groups[text] = append(groups[text], t.group.ID)
		}
	}
	for i, text := range texts {
		if ids := groups[text]; len(ids) < len(m.tasks) {
			texts[i] = strings.Join(ids, ", ") + ": " + text
		}
	}
	return texts
}

// everyJob are the topics that hold for all water jet work. They stand in the
// plan's cautions, not on every group's sheets.
var everyJob = []cost.Topic{
	cost.TopicInjection, cost.TopicNoise, cost.TopicMachine, cost.TopicEstimate, cost.TopicWater, cost.TopicDust,
}

// cautions are the hazards of one group on the machines that can cut it, at its
// deepest stack.
func (t *task) cautions(g *Group) []string {
	depth := 1
	for k := range g.Layouts {
		depth = max(depth, g.Layouts[k].Depth())
	}
	var out []string
	seen := map[string]bool{}
	for _, machine := range t.machines {
		cs, err := cost.Cautions(withWebs(t.setup(machine, depth), t.group.Parts))
		if err != nil { // refused; the group's warnings say so
			continue
		}
		for _, c := range cs {
			if !seen[c.Text] {
				seen[c.Text] = true
				out = append(out, c.Text)
				if !slices.Contains(everyJob, c.Topic) {
					g.Cautions = append(g.Cautions, c.Text)
				}
			}
		}
	}
	return out
}
