package cost

// A Setup is what is cut with what: the input of every speed, time and price.
type Setup struct {
	Machine     Machine
	Material    Material
	Rates       Rates
	ThicknessMM float64 // one layer
	Grade       Grade
	Layers      int // sheets cut at once; 0 means 1
	// ToleranceMM is the edge error an order allows at the bottom of the stack
	// (jet lag on arcs and taper); 0 means by grade.
	ToleranceMM float64
	// ThinWebs names the parts with a web between two cuts of no more than
	// [ThinWebMM] of SolidMM; the cautions name them.
	ThinWebs string
}

// Depth returns the number of layers, at least 1.
func (s Setup) Depth() int { return max(1, s.Layers) }

// At returns s with another number of layers.
func (s Setup) At(layers int) Setup {
	s.Layers = layers
	return s
}

// filled applies the defaults of machine and material.
func (s Setup) filled() Setup {
	s.Machine = s.Machine.Filled()
	s.Material = s.Material.Filled()
	s.Layers = s.Depth()
	setDefault(&s.Rates.ClampFactor, DefaultClampFactor.Value)
	if s.Rates.Source == "" {
		s.Rates.Source = JobFile
	}
	return s
}

// orificeMM is the jewel in use: an abrasive head may run plain with another.
func (s Setup) orificeMM() float64 {
	if s.Material.Process == Plain && s.Machine.PlainOrificeMM > 0 {
		return s.Machine.PlainOrificeMM
	}
	return s.Machine.OrificeMM
}

// jetMM is the diameter of the cutting jet as the pierce and kerf laws see it:
// the mixing tube's bore, or the orifice of a plain jet.
func (s Setup) jetMM() float64 {
	if s.Material.Process == Plain {
		return s.orificeMM()
	}
	return s.Machine.TubeMM
}

// isStack says whether anything but one bare sheet lies under the head.
func (s Setup) isStack() bool { return s.Depth() > 1 }

// covers is the number of sacrificial sheets; a single layer has none.
func (s Setup) covers() int {
	if !s.isStack() {
		return 0
	}
	return s.Rates.CoverSheets
}

// SolidMM is the thickness in mm that the jet cuts: the layers and their cover
// sheets, without the gaps.
func (s Setup) SolidMM() float64 {
	return float64(s.Depth())*s.ThicknessMM + float64(s.covers())*s.Rates.CoverMM
}

// GapsMM is the air between the sheets of the stack in mm.
func (s Setup) GapsMM() float64 {
	return float64(s.Depth()-1+s.covers()) * s.Rates.LayerGapMM
}

// HeightMM is the height of the stack in mm, gaps included.
func (s Setup) HeightMM() float64 { return s.SolidMM() + s.GapsMM() }
