package cost

// Process is how a material is cut.
type Process string

// The processes.
const (
	Plain    Process = "plain"    // water alone
	Abrasive Process = "abrasive" // water with garnet or the like
)

// Family groups materials that share the limits of the plain jet and the
// cautions that apply to them.
type Family string

// The families.
const (
	Metal     Family = "metal"
	Stone     Family = "stone"
	Glass     Family = "glass"
	Ceramic   Family = "ceramic"
	Plastic   Family = "plastic"
	Composite Family = "composite"
	Wood      Family = "wood"
	Rubber    Family = "rubber"
	Foam      Family = "foam"
	Textile   Family = "textile" // leather, felt, cloth
	Board     Family = "board"   // paper, card, corrugated, gypsum board
)

// A Material is what the cut model knows of a sheet material. Zero quantities
// mean "the model's default"; see [Material.Filled].
type Material struct {
	Name    string
	Process Process
	Family  Family
	// Machinability is the Nm of the abrasive formula; PlainK the K of the plain
	// jet's power law, in mm/min at 1 MPa, a 1 mm orifice and 1 mm of thickness.
	// Only the one of the Process is used.
	Machinability Quantity
	PlainK        Quantity
	// ThicknessExponent is the exponent of thickness in the speed (1.15 for the
	// abrasive formula, 1 for the plain jet).
	ThicknessExponent Quantity
	// PressureExponent and OrificeExponent belong to the plain jet's power law
	// (start values 1.5 and 1.2); the abrasive formula has its own.
	PressureExponent Quantity
	OrificeExponent  Quantity
	// PierceSec (t0, seconds) and PierceFactor (κ) override the pierce law's
	// constants for this material; zero is the pierce method's default.
	PierceSec    Quantity
	PierceFactor Quantity
	// Pierce is the pierce method this material wants; empty leaves it to the
	// machine, and to low pressure for brittle sheet.
	Pierce          PierceMethod
	DensityKgPerM3  Quantity
	FeedCapMMPerMin Quantity // what the sheet bears; 0 is no bound beyond the machine's
	// MaxStackMM and MaxLayers bound a stack; 0 is the machine's limit alone,
	// except that brittle and laminated sheet is then cut singly. LimitSource is
	// where these two come from.
	MaxStackMM  float64
	MaxLayers   int
	LimitSource Source
	// Hazards drive cautions, low-pressure piercing and refusals.
	Brittle, Laminate, Tempered, Fibrous, Aluminium, Asbestos bool
	ToxicMetals                                               []string // lead, beryllium copper, nickel, chromium …
	// Calibration, where not nil, is what test cuts say about this material's
	// numbers taken together; it replaces their separate spreads.
	Calibration *Calibration
}

// Filled returns m with its zero quantities set to the model's defaults, and
// its spreads taken from its calibration where it has one.
func (m Material) Filled() Material {
	if m.Process == Plain {
		m.ThicknessExponent = m.ThicknessExponent.or(DefaultPlainThicknessExponent)
		m.PressureExponent = m.PressureExponent.or(DefaultPlainPressureExponent)
		m.OrificeExponent = m.OrificeExponent.or(DefaultPlainOrificeExponent)
	} else {
		m.ThicknessExponent = m.ThicknessExponent.or(DefaultAbrasiveThicknessExponent)
	}
	if m.LimitSource == "" {
		m.LimitSource = JobFile
	}
	return m
}

// coefficient is the material's own number in its speed law: Nm or K.
func (m Material) coefficient() Quantity {
	if m.Process == Plain {
		return m.PlainK
	}
	return m.Machinability
}
