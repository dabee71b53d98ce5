package shop

import (
	"fmt"
	"strings"

	"kerfold/cost"
)

// Bands of a machine's numbers. Orifices 0.07–0.5 mm, up to 1 mm for food, and
// pressures up to about 600 MPa are common practice.
var (
	pumpPressure = limits{
		low: 20, high: 700, usualLow: 100, usualHigh: 620,
		hint: "if ksi or bar was meant, write pressure_ksi or pressure_bar",
	}
	orificeBore = limits{low: 0.03, high: 1.5, usualLow: 0.07, usualHigh: 1, hint: "if thousandths of an inch were meant, write orifice_in"}
	tubeBore    = limits{low: 0.2, high: 4, usualLow: 0.4, usualHigh: 2}
)

// machines reads the waterjets.
func (l *loader) machines(top *fields) {
	top.records("machines", l.machine)
	if !top.has("machines") {
		top.fault(spot{file: l.name}, "no machines", "describe at least one under machines:")
	}
}

func (l *loader) machine(v *value) {
	f := l.log.open(v, "machine "+plainScalar(v, "id"))
	m := cost.Machine{Source: cost.JobFile}
	var ok bool
	if m.ID, ok = f.text("id"); !ok {
		f.missing("name it, such as id: jet 1", "id")
	}
	if p, ok := f.choice("process", string(cost.Plain), string(cost.Abrasive)); ok {
		m.Process = cost.Process(p)
	} else {
		f.missing("write process: abrasive or process: plain", "process")
	}
	if s, ok := f.text("source"); ok {
		m.Source = cost.Source(s)
	}
	f.machinePump(&m)
	f.machineHead(&m)
	f.machineMotion(&m)
	f.machinePierce(&m)
	f.machineShop(&m)
	partDays := f.partDays("hours_on", m.ID)
	f.done()
	l.note("machines", f)
	if first, twice := l.machineAt[m.ID]; twice && m.ID != "" {
		f.fault(f.at("id"), fmt.Sprintf("id %s is used twice, first at %s", m.ID, first), "give each machine its own id")
	}
	l.machineAt[m.ID] = v.at
	if !f.faulty {
		f.machineWhole(&m)
	}
	if !f.faulty {
		l.job.Machines = append(l.job.Machines, m)
		l.job.PartDays = append(l.job.PartDays, partDays...)
	}
}

// machineWhole asks the cost model whether the machine is possible as a whole.
func (f *fields) machineWhole(m *cost.Machine) {
	if err := m.Validate(); err != nil {
		f.fault(f.v.at, strings.ReplaceAll(err.Error(), "machine "+m.ID+": ", ""), "")
		return
	}
	for _, bore := range []float64{m.OrificeMM, m.PlainOrificeMM} {
		if bore == 0 || f.faulty {
			continue
		}
		if err := cost.CheckPump(*m, bore); err != nil {
			f.fault(f.at(f.spelled("orifice", &length)), strings.ReplaceAll(err.Error(), "machine "+m.ID+": ", ""), "")
		}
	}
	for _, w := range m.Warnings() {
		f.warn(f.v.at, strings.ReplaceAll(w, "machine "+m.ID+": ", ""), "")
	}
}

// need reads a quantity that must be there.
func (f *fields) need(key string, d *dimension, lim limits, why string) float64 {
	x, ok := f.quantity(key, d, lim)
	if !ok {
		f.missing(why, d.keys(key)...)
	}
	return x
}

func (f *fields) machinePump(m *cost.Machine) {
	m.PressureMPa = f.need("pressure", &pressure, pumpPressure, "give the pump's pressure, such as pressure_mpa: 380 or pressure: 55 ksi")
	m.PressureRipple, _ = f.number("pressure_ripple", limits{low: 0, high: 0.3})
	m.MotorKW, _ = f.quantity("motor", &power, limits{low: 0.5, high: 500})
	m.MotorToJet, _ = f.number("motor_to_jet", limits{low: 0.1, high: 1})
}

func (f *fields) machineHead(m *cost.Machine) {
	m.OrificeMM = f.need("orifice", &length, orificeBore, "give the orifice's bore, such as orifice_mm: 0.33 or orifice: 0.013 in")
	m.PlainOrificeMM, _ = f.quantity("plain_orifice", &length, orificeBore)
	m.OrificeCd, _ = f.number("orifice_cd", limits{low: 0.3, high: 1})
	m.StandOffMM, _ = f.quantity("stand_off", &length, limits{low: 0.1, high: 30})
	m.TubeMM, _ = f.quantity("tube", &length, tubeBore)
	m.AbrasiveGPerMin, _ = f.quantity("abrasive", &massFlow, limits{low: 1, high: 5000, usualLow: 50, usualHigh: 1500})
	m.AbrasiveFactor, _ = f.number("abrasive_factor", limits{low: 0.05, high: 2})
	if m.Process != cost.Abrasive {
		return
	}
	if m.TubeMM == 0 {
		f.missing("give the mixing tube's bore, such as tube_mm: 1.02", length.keys("tube")...)
	}
	if m.AbrasiveGPerMin == 0 {
		f.missing("give the abrasive's flow, such as abrasive_g_per_min: 350", massFlow.keys("abrasive")...)
	}
}

func (f *fields) machineMotion(m *cost.Machine) {
	m.FeedCapMMPerMin, _ = f.quantity("feed_cap", &speed, limits{low: 1, high: 500000})
	m.RapidMMPerMin, _ = f.quantity("rapid", &speed, limits{low: 100, high: 500000})
	m.AccelMMPerS2, _ = f.quantity("acceleration", &acceleration, limits{low: 1, high: 100000})
	m.CornerDeviationMM, _ = f.quantity("corner_deviation", &length, limits{low: 0.0001, high: 5})
	m.ArcErrorMM, _ = f.quantity("arc_error", &length, limits{low: 0, high: 5})
}

func (f *fields) machinePierce(m *cost.Machine) {
	if w, ok := f.choice("pierce", string(cost.Stationary), string(cost.Moving), string(cost.LowPressure)); ok {
		m.Pierce = cost.PierceMethod(w)
	}
	m.PierceFixedSec, _ = f.quantity("pierce_time", &duration, limits{low: 0, high: 600})
	m.PierceSecPerMM, _ = f.number("pierce_s_per_mm", limits{low: 0, high: 100})
	m.LowPressureMPa, _ = f.quantity("low_pressure", &pressure, limits{low: 5, high: 400})
	m.HeadSec, _ = f.quantity("head_time", &duration, limits{low: 0, high: 60})
}

func (f *fields) machineShop(m *cost.Machine) {
	m.TableXMM = f.need("table_x", &length, limits{low: 50, high: 50000}, "give the table's size along x, such as table_x_mm: 3000")
	m.TableYMM = f.need("table_y", &length, limits{low: 50, high: 50000}, "give the table's size along y, such as table_y_mm: 1500")
	m.MaxStackMM, _ = f.quantity("max_stack", &length, limits{low: 0, high: 500})
	m.MaxLayers, _ = f.whole("max_layers", 1, 1000)
	var ok bool
	if m.HoursPerDay, ok = f.number("hours_per_day", limits{low: 0, high: 24, open: true}); !ok {
		f.missing("give the hours it cuts in a day, such as hours_per_day: 8", "hours_per_day")
	}
	if m.Tables, ok = f.whole("tables", 1, 4); !ok {
		m.Tables = 1
	}
}
