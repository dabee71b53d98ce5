package cost

// The pressure and orifice at which the textbook speeds are taken to have been
// cut; the textbook gives only ranges (nozzle 0.1–0.3 mm) [Derived]. The spread
// of the constants made from them reflects that.
const (
	textbookMPa       = 350
	textbookOrificeMM = 0.2
	spreadTextbook    = 0.40
	spreadDemo        = 0.50
)

// SourcePlainK tags constants made from textbook speeds.
const SourcePlainK Source = "derived from a textbook speed (from memory, unverified) at an assumed 350 MPa, 0.2 mm orifice"

// softLayers is the usual depth of a stack of soft sheet, three or four layers.
const softLayers = 4

type plainRow struct {
	name    string
	family  Family
	mm      float64 // thickness of the known cut
	mPerMin float64 // its speed
	spread  float64
	source  Source
	rho     float64
	feedCap float64 // mm/min that the sheet bears, 0 for no bound
	traits  []trait
}

var plainRows = []plainRow{
	{"leather", Textile, 2.2, 20, spreadTextbook, SourcePlainK, 900, 0, nil},
	{"polyester cloth", Textile, 2, 150, spreadTextbook, SourcePlainK, 700, 0, []trait{fibrous}},
	{"aramid cloth", Textile, 3, 3, spreadTextbook, SourcePlainK, 1000, 0, []trait{fibrous}},
	{"felt", Textile, 5, 10, spreadDemo, Demo, 250, 12000, []trait{fibrous}},
	{"gasket rubber", Rubber, 3, 8, spreadDemo, Demo, 1300, 15000, nil},
	{"silicone rubber", Rubber, 3, 6, spreadDemo, Demo, 1200, 12000, nil},
	{"sponge rubber", Foam, 10, 12, spreadDemo, Demo, 250, 12000, nil},
	{"polyurethane foam", Foam, 20, 15, spreadDemo, Demo, 40, 12000, nil},
	{"polyethylene foam", Foam, 20, 12, spreadDemo, Demo, 35, 12000, nil},
	{"cork", Wood, 3, 10, spreadDemo, Demo, 240, 15000, nil},
	{"fibre gasket sheet", Board, 1.5, 6, spreadDemo, Demo, 1700, 15000, []trait{fibrous}},
	{"graphite sheet", Board, 2.3, 5, spreadTextbook, SourcePlainK, 1000, 0, nil},
	{"pvc", Plastic, 3, 0.5, spreadTextbook, SourcePlainK, 1400, 0, nil},
	{"gypsum board", Board, 10, 6, spreadTextbook, SourcePlainK, 800, 0, nil},
	{"corrugated board", Board, 7, 200, spreadTextbook, SourcePlainK, 120, 0, nil},
	{"pulp sheet", Board, 2, 120, spreadTextbook, SourcePlainK, 500, 0, nil},
	{"plywood", Wood, 6, 1, spreadTextbook, SourcePlainK, 600, 0, nil},
}

func (r plainRow) material() Material {
	k := PlainK(PlainCut{PressureMPa: textbookMPa, OrificeMM: textbookOrificeMM, ThicknessMM: r.mm}, r.mPerMin*mmPerM)
	m := Material{
		Name: r.name, Process: Plain, Family: r.family,
		PlainK:            Quantity{Value: k, RelStdDev: r.spread, Source: r.source},
		ThicknessExponent: DefaultPlainThicknessExponent,
		PressureExponent:  DefaultPlainPressureExponent,
		OrificeExponent:   DefaultPlainOrificeExponent,
		DensityKgPerM3:    density(r.rho),
		MaxLayers:         softLayers, LimitSource: CommonPractice,
	}
	if r.feedCap > 0 {
		m.FeedCapMMPerMin = Quantity{Value: r.feedCap, RelStdDev: 0.2, Source: Demo}
	}
	m.addTraits(r.traits)
	return m
}
