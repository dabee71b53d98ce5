package shop

import (
	"fmt"
	"strings"

	"kerfold/cost"
)

// validateMachines reports groups no machine can cut.
func (l *loader) validateMachines(groups []*groupFit) {
	for _, g := range groups {
		m := l.job.Materials[g.key.Material]
		if isAsbestos(m, g.key.Material) {
			continue // reported where it is named
		}
		if reasons, ok := l.cutters(g, m); !ok {
			o := &l.job.Orders[g.orders[0]]
			l.log.fault(l.orderAt[o.ID], o.name(), fmt.Sprintf("no machine can cut %s %s mm: %s",
				g.key.Material, short(g.key.ThicknessMM), strings.Join(reasons, "; ")), "add a machine that can, or leave the order out")
		}
	}
}

// cutters says whether a machine can cut the group from a sheet it has, and if
// not, why for each.
func (l *loader) cutters(g *groupFit, m cost.Material) (reasons []string, ok bool) {
	for i := range l.job.Machines {
		why := l.refusal(&l.job.Machines[i], g, m)
		if why == "" {
			return nil, true
		}
		reasons = append(reasons, fmt.Sprintf("%s: %s", l.job.Machines[i].ID, why))
	}
	return reasons, false
}

// refusal is why a machine cannot cut a group; empty is that it can.
func (l *loader) refusal(mc *cost.Machine, g *groupFit, m cost.Material) string {
	if m.Process == cost.Abrasive && mc.Process == cost.Plain {
		return "its head is plain and the material wants abrasive"
	}
	if mc.MaxStackMM > 0 && g.key.ThicknessMM > mc.MaxStackMM {
		return fmt.Sprintf("it takes up to %s mm", short(mc.MaxStackMM))
	}
	setup := cost.Setup{Machine: *mc, Material: m, Rates: l.job.Rates, ThicknessMM: g.key.ThicknessMM, Grade: g.key.Grade, Layers: 1}
	if err := setup.Check(); err != nil {
		return strings.ReplaceAll(err.Error(), "\n", ", ")
	}
	if len(g.stock) == 0 {
		return "" // the missing stock is reported by itself
	}
	for _, i := range g.stock {
		if TakesSheet(mc, &l.job.Stock[i]) {
			return ""
		}
	}
	return fmt.Sprintf("no sheet in stock lies on its table of %s x %s mm", short(mc.TableXMM), short(mc.TableYMM))
}

// TakesSheet says whether a sheet lies on a machine's table, as it is or turned
// by a quarter.
func TakesSheet(m *cost.Machine, s *Stock) bool {
	x, y := s.Size()
	return x <= m.TableXMM && y <= m.TableYMM || x <= m.TableYMM && y <= m.TableXMM
}
