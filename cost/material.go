package cost

// Process is how a material is cut.
type Process string

const (
	Plain    Process = "plain"    // water alone
	Abrasive Process = "abrasive" // water with garnet or the like
)

// A Material is what the cut model knows of a sheet material.
type Material struct {
	Name    string
	Process Process
	// Machinability is the Nm of the abrasive formula; PlainK the K of the plain
	// jet's power law. Only the one of the Process is used.
	Machinability Quantity
	PlainK        Quantity
	// ThicknessExponent is the exponent of thickness in the speed (1.15 for the
	// abrasive formula, 1 for the plain jet).
	ThicknessExponent Quantity
	DensityKgPerM3    Quantity
	// FeedCapMMPerMin bounds the feed by what the sheet bears; 0 is no bound
	// beyond the machine's.
	FeedCapMMPerMin Quantity
	// MaxStackMM and MaxLayers bound a stack; 0 is the machine's limit alone.
	MaxStackMM float64
	MaxLayers  int
	// Hazards drive cautions, low-pressure piercing and refusals.
	Brittle, Laminate, Tempered, Fibrous, Aluminium, Asbestos bool
	ToxicMetals                                               []string // lead, beryllium copper, nickel, chromium …
}

// A Machine is one waterjet with its pump and head.
type Machine struct {
	ID          string
	Process     Process // what the head is fitted for; an abrasive head can run plain with another nozzle
	PressureMPa float64
	MotorKW     float64 // pump motor's rated power
	OrificeMM   float64
	TubeMM      float64 // mixing tube bore; 0 for a plain head
	// AbrasiveGPerMin is the abrasive flow; AbrasiveFactor 1 for garnet.
	AbrasiveGPerMin, AbrasiveFactor float64
	FeedCapMMPerMin                 float64
	RapidMMPerMin                   float64
	AccelMMPerS2                    float64
	CornerDeviationMM               float64 // path deviation allowed at a corner
	TableXMM, TableYMM              float64
	MaxStackMM                      float64
	MaxLayers                       int
	HoursPerDay                     float64
	Tables                          int // 2: one is loaded while the other cuts
}

// Rates are prices and shop times. Money is in Currency.
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
	ClampFactor      float64 // φ: share of the solid's speed a clamped stack reaches
}
