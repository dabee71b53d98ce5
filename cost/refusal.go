package cost

import "fmt"

// A Refusal says why a cut or a stack is not allowed, and what would mend it. It
// is the error of functions that check a [Setup].
type Refusal struct {
	Code   RefusalCode
	Reason string
}

// A RefusalCode classes refusals.
type RefusalCode string

// The classes of refusals: by what the sheet is made of, by what the process
// cannot do, and by what bounds a stack.
const (
	RefuseHazard   RefusalCode = "hazard"
	RefuseTempered RefusalCode = "tempered"
	RefuseProcess  RefusalCode = "process"
	RefuseTooThick RefusalCode = "too thick"
	RefuseBrittle  RefusalCode = "brittle"
	RefuseLaminate RefusalCode = "laminate"
	RefuseLayers   RefusalCode = "layers"
	RefuseHeight   RefusalCode = "height"
	RefuseQuality  RefusalCode = "quality"
)

// Error is the reason.
func (r *Refusal) Error() string { return r.Reason }

func refuse(code RefusalCode, format string, args ...any) *Refusal {
	return &Refusal{Code: code, Reason: fmt.Sprintf(format, args...)}
}

// refuseMaterial says why a material is not cut at all, or nil.
func refuseMaterial(m Material) *Refusal {
	switch {
	case m.Asbestos || namesAsbestos(m.Name):
		return refuse(RefuseHazard, "material %s: contains asbestos; the job is refused: cutting it is banned in most places (EU REACH Annex XVII entry 6; US EPA 2024)", m.Name)
	case m.Tempered:
		return refuse(RefuseTempered, "material %s: tempered glass shatters when it is cut: cut it before tempering", m.Name)
	}
	return nil
}

// refuseProcess says why this head cannot cut this material, or nil.
func refuseProcess(s Setup) *Refusal {
	if s.Material.Process == Abrasive && s.Machine.Process == Plain {
		return refuse(RefuseProcess, "machine %s: its head runs without abrasive and %s needs abrasive: choose another machine", s.Machine.ID, s.Material.Name)
	}
	if s.Material.Process != Plain {
		return nil
	}
	limit, bounded := PlainLimitMM(s.Material.Family)
	if bounded && s.SolidMM() > limit.Value {
		return refuse(RefuseTooThick, "material %s: %.4g mm is beyond the %.4g mm that a plain jet cuts in %s [%s]: cut it with abrasive or fewer layers",
			s.Material.Name, s.SolidMM(), limit.Value, s.Material.Family, limit.Source)
	}
	return nil
}

// StackRefusal says why a stack of s.Layers layers is not allowed, or nil.
func StackRefusal(s Setup) *Refusal {
	s = s.filled()
	if !s.isStack() {
		return nil
	}
	if r := refuseFragile(s.Material); r != nil {
		return r
	}
	if r := refuseLayers(s); r != nil {
		return r
	}
	if r := refuseHeight(s); r != nil {
		return r
	}
	return refuseQuality(s)
}

func refuseFragile(m Material) *Refusal {
	if m.MaxLayers > 0 { // somebody has set how many it bears
		return nil
	}
	switch {
	case m.Brittle:
		return refuse(RefuseBrittle, "material %s is brittle: the lower sheets of a stack crack; set its layer limit to allow a stack", m.Name)
	case m.Laminate:
		return refuse(RefuseLaminate, "material %s is laminated: water between the layers of a stack lifts the plies; set its layer limit to allow a stack", m.Name)
	}
	return nil
}

func refuseLayers(s Setup) *Refusal {
	n := s.Depth()
	if limit := s.Material.MaxLayers; limit > 0 && n > limit {
		return refuse(RefuseLayers, "material %s: %d layers, its limit is %d [%s]", s.Material.Name, n, limit, s.Material.LimitSource)
	}
	if limit := s.Machine.MaxLayers; limit > 0 && n > limit {
		return refuse(RefuseLayers, "machine %s: %d layers, its limit is %d", s.Machine.ID, n, limit)
	}
	return nil
}

func refuseHeight(s Setup) *Refusal {
	h := s.HeightMM()
	if limit := s.Material.MaxStackMM; limit > 0 && h > limit {
		return refuse(RefuseHeight, "material %s: the stack is %.4g mm high, its limit is %.4g mm [%s]", s.Material.Name, h, limit, s.Material.LimitSource)
	}
	if limit := s.Machine.MaxStackMM; limit > 0 && h > limit {
		return refuse(RefuseHeight, "machine %s: the stack is %.4g mm high, its limit is %.4g mm", s.Machine.ID, h, limit)
	}
	return nil
}
