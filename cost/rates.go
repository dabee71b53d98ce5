package cost

// Rates are prices and shop times. Money is in Currency. They are used as they
// stand, zeros included, but for ClampFactor, whose zero means the default;
// [DefaultRates] gives a full demo set.
type Rates struct {
	Currency         string
	MachinePerHour   float64 // machine and its share of the floor, without operator
	LabourPerHour    float64
	AbrasivePerKg    float64
	PowerPerKWh      float64
	WaterPerM3       float64
	DisposalPerKg    float64 // spent abrasive and fines
	TubePrice        float64
	OrificePrice     float64
	TubeLifeH        float64
	OrificeLifeH     float64
	LoadSecPerSheet  float64 // put one sheet on and take its parts off
	StackPrepSec     float64 // clamp and square a stack
	StackLayerSec    float64 // each layer of a stack, on top of StackPrepSec
	SetupSec         float64 // change of material or thickness
	UnloadSecPerPart float64
	LayerGapMM       float64 // air between layers of a stack
	// ProgramSec is an operator's time for each different layout: to program,
	// load and check it. It weighs in the choice between plans, not in ledgers.
	ProgramSec float64
	// LatePerHour is what one order costs for every hour between the end of its
	// due date and its end, a working day counting 24; each step of priority
	// doubles it. It weighs in the choice between plans, not in ledgers.
	LatePerHour float64
	ClampFactor float64 // φ: share of the solid's speed a clamped stack reaches; default 0.9

	// UnattendedShare is the share of the head's time without an operator; 0
	// means that one stands by throughout.
	UnattendedShare float64

	// CoverSheets is how many sacrificial sheets a stack gets (2: above and
	// below), each CoverMM thick and CoverPrice dear. They are cut as if of the
	// stack's own material.
	CoverSheets int
	CoverMM     float64
	CoverPrice  float64

	// OvertimePerHour is what an hour of overtime of one machine costs on top of
	// the usual rates; ExtraShiftPerHour the same of a shift that is not worked
	// otherwise. OvertimeMostH bounds a machine's overtime a day, hours.
	OvertimePerHour   float64
	ExtraShiftPerHour float64
	OvertimeMostH     float64

	// Source says where these numbers come from; empty is [JobFile].
	Source Source
}

// Where a shop names no price of overtime, an hour costs half the labour rate
// on top ("time and a half"), an hour of an extra shift the whole of it ("double
// time"), and four hours a day are the most. Common practice; agreements and the
// law of the place decide.
const (
	OvertimeShare        = 0.5
	ExtraShiftShare      = 1
	DefaultOvertimeMostH = 4
)

// DefaultRates are illustrative prices and shop times, all [Demo] unless a
// shop replaces them.
func DefaultRates() Rates {
	return Rates{
		Currency:       "EUR",
		MachinePerHour: 60, LabourPerHour: 40,
		AbrasivePerKg: 0.50, // about USD 494/t [USGS Minerals Yearbook 2016]
		PowerPerKWh:   0.20, WaterPerM3: 4, DisposalPerKg: 0.15,
		TubePrice: 120, OrificePrice: 25, TubeLifeH: 70, OrificeLifeH: 70,
		LoadSecPerSheet: 240, StackPrepSec: 180, StackLayerSec: 120, SetupSec: 600,
		UnloadSecPerPart: 3, ProgramSec: 300, LatePerHour: 15, ClampFactor: DefaultClampFactor.Value,
		OvertimePerHour:   OvertimeShare * 40,
		ExtraShiftPerHour: ExtraShiftShare * 40,
		OvertimeMostH:     DefaultOvertimeMostH,
		Source:            Demo,
	}
}
