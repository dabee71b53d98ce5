package cost

// A Machine is one waterjet with its pump and head. Zero fields marked
// "default" are filled by [Machine.Filled], which every function of this
// package applies.
type Machine struct {
	ID      string
	Process Process // what the head is fitted for; an abrasive head can run plain with another nozzle

	PressureMPa    float64
	PressureRipple float64 // half-width of the pressure's swing as a share; default 0.025
	MotorKW        float64 // pump motor's rated power; 0 is not known, and not checked
	MotorToJet     float64 // share of the motor's power that arrives in the jet; default 0.75

	OrificeMM      float64
	PlainOrificeMM float64 // orifice fitted for cutting without abrasive; default OrificeMM
	OrificeCd      float64 // discharge coefficient; default 0.65
	TubeMM         float64 // mixing tube bore; 0 for a plain head
	StandOffMM     float64 // default 2.5
	// AbrasiveGPerMin is the abrasive flow; AbrasiveFactor 1 for garnet (default).
	AbrasiveGPerMin, AbrasiveFactor float64

	FeedCapMMPerMin   float64 // fastest cutting feed; default by process
	RapidMMPerMin     float64 // fastest move with the jet off; default 10000
	AccelMMPerS2      float64 // along the path and towards a bend's centre; default 500
	CornerDeviationMM float64 // path deviation allowed at a corner; default 0.02
	ArcErrorMM        float64 // radial error the jet's lag may leave on arcs; default by grade

	Pierce PierceMethod // default moving for abrasive, stationary for plain
	// PierceFixedSec + PierceSecPerMM × thickness replace the pierce law where
	// the shop has its own pierce table; both 0 leaves the law.
	PierceFixedSec, PierceSecPerMM float64
	LowPressureMPa                 float64 // pressure of a gentle start; default 100
	// HeadSec is spent at every pierce beside piercing: valve, abrasive delay,
	// height. Default 1; a negative value means none.
	HeadSec float64

	TableXMM, TableYMM float64
	MaxStackMM         float64 // clear height under the head; 0 is no bound
	MaxLayers          int     // 0 is no bound
	HoursPerDay        float64
	Tables             int // 2: one is loaded while the other cuts; default 1

	// Source says where these numbers come from; default [JobFile].
	Source Source
}

// Filled returns m with its zero fields set to their defaults.
func (m Machine) Filled() Machine {
	plain := m.Process == Plain
	setDefault(&m.PressureRipple, DefaultRipple.Value)
	setDefault(&m.MotorToJet, DefaultMotorToJet.Value)
	setDefault(&m.PlainOrificeMM, m.OrificeMM)
	setDefault(&m.OrificeCd, DefaultCd.Value)
	setDefault(&m.StandOffMM, DefaultStandOffMM.Value)
	setDefault(&m.AbrasiveFactor, 1)
	setDefault(&m.FeedCapMMPerMin, defaultFeedCap(plain).Value)
	setDefault(&m.RapidMMPerMin, DefaultRapidMMPerMin.Value)
	setDefault(&m.AccelMMPerS2, DefaultAccelMMPerS2.Value)
	setDefault(&m.CornerDeviationMM, DefaultCornerDeviationMM.Value)
	setDefault(&m.LowPressureMPa, DefaultLowPressureMPa.Value)
	setDefault(&m.HeadSec, DefaultHeadSec.Value)
	if m.Tables == 0 {
		m.Tables = 1
	}
	if m.Source == "" {
		m.Source = JobFile
	}
	return m
}

func setDefault(p *float64, v float64) {
	if *p == 0 {
		*p = v
	}
}
