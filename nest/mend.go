package nest

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// A mender improves a layout on many sheets a few sheets at a time: it takes the
// sheet that is used least and some others, lays their parts out anew with a
// herd of their own, and keeps what is cheaper or leaves more in one piece (large
// neighbourhood search, Shaw 1998). So the weakest sheet empties.
type mender struct {
	ctx    context.Context
	pre    *prepared
	fits   *fits
	o      Options
	rng    *rand.Rand
	memo   *Memo
	fields []*field
	stats  Stats
}

// mendEffort is the effort spent on one choice of sheets, at most.
const mendEffort = 0.5

// mend improves layouts, or, where there are none, those of one bottom-left pass.
func mend(ctx context.Context, pre *prepared, fits *fits, start []Layout, o Options) (Result, error) {
	m := mender{ctx: ctx, pre: pre, fits: fits, o: o, rng: rand.New(rand.NewPCG(o.Seed, mendStream)), memo: o.Memo}
	if m.memo == nil {
		m.memo = &Memo{}
	}
	m.stats = Stats{Seed: o.Seed, Effort: o.Effort, Decodes: 1, Won: "genetic"}
	for _, l := range start {
		m.fields = append(m.fields, pre.fieldOf(fits, l))
	}
	if len(start) == 0 {
		m.fields = packSheets(ctx, pre, fits, o.Workers)
	}
	p := newPace(o)
	for p.share() < 1 && ctx.Err() == nil && len(m.fields) > 1 {
		effort := min(mendEffort, (p.effort-float64(p.done))/workPerEffort)
		if err := m.round(effort); err != nil {
			return Result{}, err
		}
		p.done += int64(math.Ceil(effort * workPerEffort))
		m.report(p.share())
	}
	r := finishSheets(ctx, pre, fits, m.fields).ended(ctx)
	r.Stats = m.stats
	return r, nil
}

// mendStream keeps the mender's random numbers apart from the herds'.
const mendStream = 1 << 32

// round lays some sheets out anew.
func (m *mender) round(effort float64) error {
	chosen := m.choose()
	sub, parts, sheets := m.problem(chosen)
	o := Options{Seed: m.rng.Uint64(), Effort: effort, Workers: m.o.Workers}
	pre, err := prepare(sub)
	if err != nil {
		return err
	}
	r := genetic(m.ctx, pre, newFits(pre, m.memo), o)
	m.stats.Decodes += r.Stats.Decodes
	m.stats.Generations += r.Stats.Generations
	fields := m.adopt(r, parts, sheets)
	if r.missing() == 0 && m.improves(fields, chosen) {
		m.replace(chosen, fields)
	}
	return nil
}

// choose picks the sheet that is used least and others at random, as many as
// one herd can take on, and at least one.
func (m *mender) choose() []int {
	weakest := 0
	for i, fd := range m.fields {
		if fd.use() < m.fields[weakest].use() {
			weakest = i
		}
	}
	chosen, copies := []int{weakest}, len(m.fields[weakest].placed)
	most := 2 + m.rng.IntN(3)
	for _, i := range m.rng.Perm(len(m.fields)) {
		n := len(m.fields[i].placed)
		if i == weakest || len(chosen) > 1 && (copies+n > herdCopies || len(chosen) >= most) {
			continue
		}
		chosen = append(chosen, i)
		copies += n
	}
	slices.Sort(chosen)
	return chosen
}

// use is the covered share of a field.
func (fd *field) use() float64 { return fd.usedArea() / fd.ground.area }

// problem is the layout of the chosen sheets as a problem of its own: their
// parts, and their grounds with the free ones. It comes with the indices of its
// parts and sheets in the whole.
func (m *mender) problem(chosen []int) (sub Problem, parts, sheets []int) {
	whole := m.pre.problem
	sub = Problem{Spacing: whole.Spacing, Margin: whole.Margin}
	counts := make([]int, len(whole.Parts))
	free := freeGrounds(m.pre, m.fields)
	for _, i := range chosen {
		free[m.fields[i].ground.index]++
		for _, s := range m.fields[i].placed {
			counts[s.kind]++
		}
	}
	for i, n := range counts {
		if n > 0 {
			part := whole.Parts[i]
			part.Quantity, part.Extra = n, 0
			sub.Parts, parts = append(sub.Parts, part), append(parts, i)
		}
	}
	for g, n := range free {
		if n > 0 {
			s := whole.Sheets[m.pre.grounds[g].sheet]
			s.Count, s.Cost = n, m.pre.grounds[g].cost
			sub.Sheets, sheets = append(sub.Sheets, s), append(sheets, g)
		}
	}
	return sub, parts, sheets
}

// adopt turns a part problem's layouts into fields of the whole.
func (m *mender) adopt(r Result, parts, sheets []int) []*field {
	fields := make([]*field, len(r.Layouts))
	for i, l := range r.Layouts {
		fields[i] = newField(m.pre, m.fits, &m.pre.grounds[sheets[l.Sheet]], &clipper{})
		for _, pl := range l.Placements {
			kind := int32(parts[pl.Part])
			fields[i].place(m.pre.kinds[kind].spot(kind, pl))
		}
	}
	return fields
}

// spot is the inverse of turned.pose.
func (k *kind) spot(kind int32, pl Placement) spot {
	for i, t := range k.turns {
		if t.AngleDeg == pl.Pose.AngleDeg && t.Mirror == pl.Pose.Mirror {
			return spot{kind: kind, turn: int32(i), shape: t.shape, x: pl.Pose.X + t.dx, y: pl.Pose.Y + t.dy}
		}
	}
	panic("nest: a placement in a turn the part does not have")
}

// improves tells whether fields are better than the chosen ones: cheaper, or as
// cheap with the use less even, so that the weakest is nearer to empty.
func (m *mender) improves(fields []*field, chosen []int) bool {
	was := make([]*field, len(chosen))
	for i, at := range chosen {
		was[i] = m.fields[at]
	}
	if a, b := fieldsCost(fields), fieldsCost(was); a != b {
		return a < b
	}
	return unevenness(fields) > unevenness(was)
}

func fieldsCost(fields []*field) float64 {
	sum := 0.0
	for _, fd := range fields {
		sum += fd.ground.cost
	}
	return sum
}

func unevenness(fields []*field) float64 {
	sum := 0.0
	for _, fd := range fields {
		sum += fd.use() * fd.use()
	}
	return sum
}

// replace puts fields in the place of the chosen ones.
func (m *mender) replace(chosen []int, fields []*field) {
	var kept []*field
	for i, fd := range m.fields {
		if !slices.Contains(chosen, i) {
			kept = append(kept, fd)
		}
	}
	m.fields = append(kept, fields...)
}

func (m *mender) report(done float64) {
	if m.o.Progress == nil {
		return
	}
	used, bought := 0.0, 0.0
	for _, fd := range m.fields {
		used += fd.usedArea()
		bought += fd.ground.area
	}
	m.o.Progress(Progress{Done: done, Density: used / bought, Sheets: len(m.fields), Arm: "genetic"})
}
