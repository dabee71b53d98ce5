package report

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"kerfold/cost"
	"kerfold/nest/week"
)

// A measure writes lengths and amounts for people, in one system of units. What
// comes in is metric.
type measure struct {
	units cost.UnitSystem
	names []string // that look like amounts and stay as they are
}

// measureOf is how a plan's readers want to read it.
func measureOf(p *week.Plan) measure {
	m := measure{units: p.Units}
	if m.units == cost.Metric {
		return m
	}
	for i := range p.Machines {
		m.keep(p.Machines[i].ID)
	}
	for i := range p.Groups {
		g := &p.Groups[i]
		m.keep(g.Material)
		for k := range g.Parts {
			m.keep(g.Parts[k].ID, g.Parts[k].Part, g.Parts[k].Customer, g.Parts[k].Note)
		}
		for k := range g.Sheets {
			m.keep(g.Sheets[k].ID, g.Sheets[k].Location)
		}
	}
	return m
}

// measureOfBid is measureOf for a bid in a system of units.
func measureOfBid(b *week.Bid, units cost.UnitSystem) measure {
	m := measure{units: units}
	for i := range b.Groups {
		g := &b.Groups[i]
		m.keep(g.Material)
		m.keep(g.Orders...)
		for _, s := range g.Sheets {
			m.keep(s.ID)
		}
	}
	m.keep(b.Machines...)
	return m
}

// measureOfStudy is measureOf for a study in a system of units.
func measureOfStudy(s *week.Study, units cost.UnitSystem) measure {
	m := measure{units: units}
	m.keep(s.Order.ID, s.Order.Part, s.Order.Material, s.Sheet.ID, s.Job.Setup.Machine.ID)
	return m
}

// keep notes names that are not to be taken for amounts, such as "plate 3 mm".
func (m *measure) keep(names ...string) {
	for _, n := range names {
		if amount.MatchString(n) {
			m.names = append(m.names, n)
		}
	}
}

// unit is the name of a metric unit's counterpart.
func (m measure) unit(metric string) string {
	_, u := m.units.Show(0, metric)
	return u
}

// bare writes a length without its unit.
func (m measure) bare(mm float64) string { return lengthIn(mm, m.units) }

// length writes a length with its unit.
func (m measure) length(mm float64) string { return m.bare(mm) + " " + m.unit("mm") }

// area writes the two sides of something.
func (m measure) sides(x, y float64) string { return m.bare(x) + " × " + m.bare(y) }

// size is sides with the unit.
func (m measure) size(x, y float64) string { return m.sides(x, y) + " " + m.unit("mm") }

// feed writes a speed without its unit.
func (m measure) feed(mmPerMin float64) string {
	if m.units == cost.Metric {
		return fmt.Sprintf("%.0f", mmPerMin)
	}
	v, _ := m.units.Show(mmPerMin, "mm/min")
	return sensible(v)
}

// lengthIn writes a length without its unit.
func lengthIn(mm float64, units cost.UnitSystem) string {
	if units == cost.Metric {
		return Length(mm)
	}
	v, _ := units.Show(mm, "mm")
	return inches(v)
}

// inches writes a length in inches to about a hundredth of a millimetre where it is
// small, and coarser where it is a sheet's.
func inches(v float64) string {
	places := 4
	switch a := math.Abs(v); {
	case a >= 10:
		places = 2
	case a >= 0.1:
		places = 3
	}
	return rounded(v, places)
}

// sensible writes an amount with three digits or so.
func sensible(v float64) string {
	places := 3
	switch a := math.Abs(v); {
	case a >= 100:
		places = 0
	case a >= 10:
		places = 1
	case a >= 1:
		places = 2
	}
	return rounded(v, places)
}

func rounded(v float64, places int) string {
	p := math.Pow(10, float64(places))
	return strconv.FormatFloat(math.Round(v*p)/p, 'f', -1, 64)
}

// amount is a number, or several, with a metric unit behind, as messages have it:
// "3 mm", "1000 x 500 mm", "0.2 to 0.4 mm".
var amount = regexp.MustCompile(`(-?\d+(?:\.\d+)?(?:(?: ?[x×] ?| to | or |–)-?\d+(?:\.\d+)?)*) ?(mm/min|mm/s²|mm/s|mm²|mm|m²|m³|kg/m³|kg|g/min|MPa|L/min|L|kW|m/s)(\PL|$)`)

var number = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// text writes a message's amounts in the system of units. Names stay as they are.
func (m measure) text(s string) string {
	if m.units == cost.Metric {
		return s
	}
	for i, n := range m.names {
		s = strings.ReplaceAll(s, n, held(i))
	}
	s = amount.ReplaceAllStringFunc(s, m.amount)
	for i, n := range m.names {
		s = strings.ReplaceAll(s, held(i), n)
	}
	return s
}

// held stands for a name while its text is rewritten.
func held(i int) string { return "\x00" + strings.Repeat("\x01", i) + "\x00" }

func (m measure) amount(s string) string {
	part := amount.FindStringSubmatch(s)
	metric := part[2]
	write := sensible
	if metric == "mm" {
		write = inches
	}
	return number.ReplaceAllStringFunc(part[1], func(n string) string {
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return n
		}
		v, _ = m.units.Show(v, metric)
		return write(v)
	}) + " " + m.unit(metric) + part[3]
}

// texts is text for a list.
func (m measure) texts(list []string) []string {
	if m.units == cost.Metric {
		return list
	}
	return each(list, m.text)
}
