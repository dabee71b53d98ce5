package cost

// How far a material's machinability may be from the tabled one: batches and
// alloys of one name differ. [Derived] judgement, the second for numbers that
// are less sure; test cuts replace both.
const (
	spreadSure   = 0.12
	spreadUnsure = 0.25
)

type abrasiveRow struct {
	name   string
	family Family
	nm     float64
	spread float64
	source Source
	rho    float64
	pierce PierceMethod // the material's wish, empty for none
	traits []trait
}

// SourceMachinability tags the machinability numbers: the published table,
// recalled.
const SourceMachinability = "machinability number, from memory, unverified"

var abrasiveRows = []abrasiveRow{
	{"mild steel", Metal, 87, spreadSure, SourceMachinability, 7850, "", nil},
	{"hardened tool steel", Metal, 80, spreadSure, SourceMachinability, 7800, "", []trait{hasChromium}},
	{"stainless 304", Metal, 82, spreadUnsure, SourceMachinability, 8000, "", []trait{hasNickel, hasChromium}},
	{"stainless 316", Metal, 83, spreadUnsure, SourceMachinability, 8000, "", []trait{hasNickel, hasChromium}},
	{"cast iron", Metal, 121, spreadUnsure, SourceMachinability, 7200, "", nil},
	{"aluminium 6061", Metal, 213, spreadSure, SourceMachinability, 2700, "", []trait{aluminium}},
	{"copper", Metal, 110, spreadSure, SourceMachinability, 8960, "", nil},
	{"beryllium copper", Metal, 110, spreadUnsure, "derived: taken as copper", 8250, "", []trait{hasBeryllium}},
	{"titanium", Metal, 115, spreadSure, SourceMachinability, 4510, "", nil},
	{"zinc alloy", Metal, 136, spreadUnsure, SourceMachinability, 6600, "", nil},
	{"lead", Metal, 490, spreadUnsure, SourceMachinability, 11340, "", []trait{hasLead}},
	{"granite", Stone, 322, spreadSure, SourceMachinability, 2700, Moving, []trait{brittle}},
	{"marble", Stone, 535, spreadUnsure, SourceMachinability, 2700, "", []trait{brittle}},
	{"glass", Glass, 596, spreadUnsure, SourceMachinability, 2500, "", []trait{brittle}},
	{"laminated glass", Glass, 596, spreadUnsure, "derived: taken as glass", 2400, "", []trait{brittle, laminate}},
	{"tempered glass", Glass, 596, spreadUnsure, "derived: taken as glass", 2500, "", []trait{brittle, tempered}},
	{"silicon carbide", Ceramic, 12.6, spreadUnsure, SourceMachinability, 3100, "", []trait{brittle}},
	{"alumina 85 %", Ceramic, 17, spreadUnsure, SourceMachinability, 3400, "", []trait{brittle}},
	{"alumina 90 %", Ceramic, 10, spreadUnsure, SourceMachinability, 3600, "", []trait{brittle}},
	{"graphite", Ceramic, 738, spreadUnsure, SourceMachinability, 1800, "", []trait{brittle}},
	{"acrylic", Plastic, 690, spreadSure, SourceMachinability, 1190, LowPressure, nil},
	{"nylon", Plastic, 538, spreadUnsure, SourceMachinability, 1140, "", nil},
	{"polypropylene", Plastic, 985, spreadUnsure, SourceMachinability, 910, "", nil},
	{"glass-epoxy laminate", Composite, 520, spreadUnsure, Unverified, 1850, "", []trait{laminate, fibrous}},
	{"carbon-epoxy laminate", Composite, 480, spreadUnsure, Unverified, 1550, "", []trait{laminate, fibrous}},
	{"pine", Wood, 2637, spreadSure, SourceMachinability, 500, "", nil},
}

func (r abrasiveRow) material() Material {
	m := Material{
		Name: r.name, Process: Abrasive, Family: r.family, Pierce: r.pierce,
		Machinability:     Quantity{Value: r.nm, RelStdDev: r.spread, Source: r.source},
		ThicknessExponent: DefaultAbrasiveThicknessExponent,
		DensityKgPerM3:    density(r.rho),
		LimitSource:       CommonPractice,
	}
	m.addTraits(r.traits)
	return m
}
