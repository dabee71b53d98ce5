package report

// FormatVersion is the version of plan.json this package writes and reads.
const FormatVersion = 1

// A PlanFile is plan.json: a plan as it lies on disk. Lengths are mm, angles
// degrees counter-clockwise, times seconds, money in Currency. Numbers are
// written so that reading them back gives the same float64, and nothing in it
// tells when, where or how fast it was made, so equal plans are equal bytes.
type PlanFile struct {
	Version       int           `json:"kerfold_plan"`
	Job           string        `json:"job"`
	Units         string        `json:"units,omitempty"`
	Seed          uint64        `json:"seed"`
	Effort        float64       `json:"effort"`
	Status        string        `json:"status"`
	Currency      string        `json:"currency"`
	Total         LedgerFile    `json:"total"`
	Between       LedgerFile    `json:"between"`
	RemnantCredit float64       `json:"remnant_credit"`
	Seconds       float64       `json:"seconds"`
	SecondsRange  RangeFile     `json:"seconds_range"`
	MoneyRange    RangeFile     `json:"money_range"`
	Days          []string      `json:"days"`
	WeekDays      int           `json:"week_days"`
	DayStartSec   float64       `json:"day_start_s"`
	FromSec       float64       `json:"from_s"`
	Machines      []MachineFile `json:"machines"`
	Groups        []GroupFile   `json:"groups"`
	Calendar      []SlotFile    `json:"calendar"`
	Orders        []OrderFile   `json:"orders"`
	Cures         []CureFile    `json:"cures"`
	CuresTried    int           `json:"cures_tried"`
	Done          []DoneFile    `json:"done"`
	Changes       []string      `json:"changes"`
	OvertimeHour  float64       `json:"overtime_per_hour"`
	ShiftHour     float64       `json:"extra_shift_per_hour"`
	Stock         []SheetFile   `json:"stock_after"`
	Remnants      RuleFile      `json:"remnant_rule,omitzero"`
	Register      string        `json:"register,omitempty"`
	RegisterSum   string        `json:"register_sha256,omitempty"`
	Warnings      []string      `json:"warnings"`
	Cautions      []string      `json:"cautions"`
}

// A GroupFile is one group: what is wanted, what there is, and the layouts.
type GroupFile struct {
	ID            string       `json:"id"`
	Material      string       `json:"material"`
	ThicknessMM   float64      `json:"thickness_mm"`
	Grade         string       `json:"grade"`
	Process       string       `json:"process"`
	SpacingMM     float64      `json:"spacing_mm"`
	MarginMM      float64      `json:"margin_mm"`
	Status        string       `json:"status"`
	Yield         float64      `json:"yield"`
	SheetMM2      float64      `json:"sheet_mm2"`
	PartMM2       float64      `json:"part_mm2"`
	Seconds       float64      `json:"seconds"`
	SecondsRange  RangeFile    `json:"seconds_range"`
	MoneyRange    RangeFile    `json:"money_range"`
	Cost          LedgerFile   `json:"cost"`
	RemnantCredit float64      `json:"remnant_credit"`
	Parts         []PartFile   `json:"parts"`
	Sheets        []SheetFile  `json:"sheets"`
	Layouts       []LayoutFile `json:"layouts"`
	Unplaced      []CountFile  `json:"unplaced"`
	Surplus       []CountFile  `json:"surplus"`
	Ways          []WayFile    `json:"ways"`
	Bound         BoundFile    `json:"bound"`
	Search        SearchFile   `json:"search"`
	Warnings      []string     `json:"warnings"`
	Cautions      []string     `json:"cautions"`
}

// A ContourFile is a closed outline: [x, y] or [x, y, bulge] per vertex, the
// bulge being that of the segment which leaves the vertex, tan(sweep/4),
// positive counter-clockwise.
type ContourFile [][]float64

// A PartFile is one order line: its true outline and what it asks for.
type PartFile struct {
	Order       string        `json:"order"`
	Part        string        `json:"part"`
	Customer    string        `json:"customer,omitempty"`
	Note        string        `json:"note,omitempty"`
	Outer       ContourFile   `json:"outer"`
	Holes       []ContourFile `json:"holes,omitempty"`
	Quantity    int           `json:"quantity"`
	Extra       int           `json:"extra,omitempty"`
	Angles      []float64     `json:"angles"`
	FreeAngle   bool          `json:"free_angle,omitempty"`
	Mirror      bool          `json:"mirror,omitempty"`
	GrainDeg    *float64      `json:"grain_deg,omitempty"`
	Kit         string        `json:"kit,omitempty"`
	PerKit      int           `json:"per_kit,omitempty"`
	Filler      bool          `json:"filler,omitempty"`
	ToleranceMM float64       `json:"tolerance_mm,omitempty"`
	Due         string        `json:"due,omitempty"`
	DueSec      float64       `json:"due_s,omitempty"`
	Priority    int           `json:"priority,omitempty"`
}

// A SheetFile is one kind of sheet, or a remnant.
type SheetFile struct {
	ID          string        `json:"id"`
	Material    string        `json:"material"`
	ThicknessMM float64       `json:"thickness_mm"`
	Outline     ContourFile   `json:"outline"`
	Blocked     []ContourFile `json:"blocked,omitempty"`
	Count       int           `json:"count"`
	Cost        float64       `json:"cost"`
	GrainDeg    *float64      `json:"grain_deg,omitempty"`
	Remnant     bool          `json:"remnant,omitempty"`
	Lot         string        `json:"lot,omitempty"`
	Location    string        `json:"location,omitempty"`
	Since       string        `json:"since,omitempty"`
	Source      string        `json:"source,omitempty"`
	Origin      string        `json:"origin,omitempty"`
	Note        string        `json:"note,omitempty"`
}

// A RuleFile is the rule by which remnants are kept.
type RuleFile struct {
	MinSideMM   float64 `json:"least_side_mm"`
	ValueShare  float64 `json:"value_share"`
	UpkeepMoney float64 `json:"upkeep_money"`
	Sever       bool    `json:"sever,omitempty"`
	Location    string  `json:"location,omitempty"`
	Source      string  `json:"source,omitempty"`
}

// A LayoutFile is parts on a sheet and how it is cut.
type LayoutFile struct {
	ID            string          `json:"id"`
	Sheet         int             `json:"sheet"` // index into the group's sheets
	Repeats       int             `json:"repeats"`
	Yield         float64         `json:"yield"`
	SheetMM2      float64         `json:"sheet_mm2"`
	PartMM2       float64         `json:"part_mm2"`
	Cost          LedgerFile      `json:"cost"`
	Placements    []PlacementFile `json:"placements"`
	Runs          []RunFile       `json:"runs"`
	Remnant       ContourFile     `json:"remnant,omitempty"`
	RemnantID     string          `json:"remnant_id,omitempty"`
	RemnantCredit float64         `json:"remnant_credit,omitempty"`
	CutMM         float64         `json:"cut_mm"`
	LeadMM        float64         `json:"lead_mm"`
	RapidMM       float64         `json:"rapid_mm"`
	Cuts          []CutFile       `json:"cuts"`
	SeverMM       float64         `json:"sever_mm,omitempty"`
	Severing      []SeverFile     `json:"severing,omitempty"`
	Notes         []string        `json:"notes,omitempty"`
}

// A PlacementFile is one copy of a part: mirrored (x becomes -x) if so said,
// then turned about the part's origin, then moved.
type PlacementFile struct {
	Part   int     `json:"part"` // index into the group's parts
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Angle  float64 `json:"angle"`
	Mirror bool    `json:"mirror,omitempty"`
}

// A CutFile is one contour in cutting order; the contour itself is the
// placement's, hole -1 being its outer one.
type CutFile struct {
	Placement int         `json:"placement"`
	Hole      int         `json:"hole"`
	Pierce    [2]float64  `json:"pierce"`
	LeadIn    ContourFile `json:"lead_in,omitempty"`
	LeadOut   ContourFile `json:"lead_out,omitempty"`
	TabMM     float64     `json:"tab_mm,omitempty"`
	Rapid     ContourFile `json:"rapid,omitempty"`
	Over      int         `json:"over,omitempty"`
}

// A SeverFile is a cut that frees the remnant, made after all others.
type SeverFile struct {
	Pierce   [2]float64  `json:"pierce"`
	FromEdge bool        `json:"from_edge,omitempty"`
	LeadIn   ContourFile `json:"lead_in,omitempty"`
	Path     ContourFile `json:"path"`
	LeadOut  ContourFile `json:"lead_out,omitempty"`
	Rapid    ContourFile `json:"rapid,omitempty"`
	Over     int         `json:"over,omitempty"`
}

// A RunFile is a stack cut some times in the same way. Cost is of one stack.
type RunFile struct {
	Depth       int        `json:"depth"`
	Count       int        `json:"count"`
	Machine     string     `json:"machine"`
	FeedMMMin   float64    `json:"feed_mm_per_min"`
	LawMMMin    float64    `json:"power_law_mm_per_min"`
	Limit       string     `json:"limit"`
	Pierces     int        `json:"pierces"`
	CutMM       float64    `json:"cut_mm"`
	CutSec      float64    `json:"cut_s"`
	PierceSec   float64    `json:"pierce_s"`
	RapidSec    float64    `json:"rapid_s"`
	HandleSec   float64    `json:"handle_s"`
	OccupiedSec float64    `json:"occupied_s"`
	LawSec      float64    `json:"law_s"`
	CapSec      float64    `json:"cap_s"`
	MotionSec   float64    `json:"motion_s"`
	LagSec      float64    `json:"lag_s"`
	Cost        LedgerFile `json:"cost"`
}

// A RangeFile is a range that holds the true value with probability Level.
type RangeFile struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
	Level  float64 `json:"level"`
}

// A LedgerFile is what work uses and where its money goes.
type LedgerFile struct {
	Total float64   `json:"total"`
	Money MoneyFile `json:"money"`
	Usage UsageFile `json:"usage"`
}

// A MoneyFile is where money goes.
type MoneyFile struct {
	Material float64 `json:"material"`
	Machine  float64 `json:"machine"`
	Labour   float64 `json:"labour"`
	Abrasive float64 `json:"abrasive"`
	Power    float64 `json:"power"`
	Water    float64 `json:"water"`
	Disposal float64 `json:"disposal"`
	Wear     float64 `json:"wear"`
	Cover    float64 `json:"cover"`
}

// A UsageFile is what is used up.
type UsageFile struct {
	JetSec      float64 `json:"jet_s"`
	HeadSec     float64 `json:"head_s"`
	HandleSec   float64 `json:"handle_s"`
	OccupiedSec float64 `json:"occupied_s"`
	LabourSec   float64 `json:"labour_s"`
	WaterL      float64 `json:"water_l"`
	AbrasiveKg  float64 `json:"abrasive_kg"`
	EnergyKWh   float64 `json:"energy_kwh"`
	KerfKg      float64 `json:"kerf_kg"`
	SludgeKg    float64 `json:"sludge_kg"`
	TubeH       float64 `json:"tube_h"`
	OrificeH    float64 `json:"orifice_h"`
	Sheets      float64 `json:"sheets"`
	Covers      float64 `json:"covers"`
}

// A CountFile is so many copies of a part.
type CountFile struct {
	Part  int `json:"part"`
	Count int `json:"count"`
}

// A WayFile is one manner of cutting the group that was compared.
type WayFile struct {
	Name    string  `json:"name"`
	Chosen  bool    `json:"chosen,omitempty"`
	Layouts int     `json:"layouts"`
	Sheets  int     `json:"sheets"`
	Surplus int     `json:"surplus"`
	Short   int     `json:"short"`
	Money   float64 `json:"money"`
	Late    float64 `json:"late"`
	// Moved is what dearer machines and set-ups add on a trial calendar.
	Moved float64 `json:"moved,omitempty"`
	// LateKnown is false where no trial calendar was made.
	LateKnown bool    `json:"late_known,omitempty"`
	Seconds   float64 `json:"seconds"`
}

// A BoundFile says how good the group's plan could be at best.
type BoundFile struct {
	Sheets   int     `json:"sheets"`
	Money    float64 `json:"money"`
	Columns  int     `json:"columns"`
	MixMoney float64 `json:"mix_money"`
	MixWhole float64 `json:"mix_whole"`
	MixParts float64 `json:"mix_parts"`
}

// A SearchFile says what the layout search did.
type SearchFile struct {
	Arm     string  `json:"arm"`
	Effort  float64 `json:"effort"`
	Decodes int64   `json:"decodes"`
	Moves   int64   `json:"moves"`
}

// A MachineFile is one machine and its load.
type MachineFile struct {
	ID          string    `json:"id"`
	HoursPerDay float64   `json:"hours_per_day"`
	Hours       []float64 `json:"hours"` // on each of the plan's days
	Tables      int       `json:"tables"`
	BusySec     float64   `json:"busy_s"`
	SetupSec    float64   `json:"setup_s"`
	Setups      int       `json:"setups"`
	Slots       int       `json:"slots"`
}

// A SlotFile is one stack on one machine. Seconds count from the start of the
// working day, days index the plan's days.
type SlotFile struct {
	Machine  string  `json:"machine"`
	Layout   string  `json:"layout"`
	Depth    int     `json:"depth"`
	Piece    string  `json:"piece,omitempty"`
	SetupSec float64 `json:"setup_s"`
	WorkSec  float64 `json:"work_s"`
	LoadSec  float64 `json:"load_s"`
	StartDay int     `json:"start_day"`
	StartSec float64 `json:"start_s"`
	EndDay   int     `json:"end_day"`
	EndSec   float64 `json:"end_s"`
}

// An OrderFile says when an order is done.
type OrderFile struct {
	Order     string  `json:"order"`
	Group     string  `json:"group"`
	Wanted    int     `json:"wanted"`
	Placed    int     `json:"placed"`
	Due       string  `json:"due,omitempty"`
	DueSec    float64 `json:"due_s,omitempty"`
	FinishDay int     `json:"finish_day"` // -1 when nothing of it is cut
	FinishSec float64 `json:"finish_s"`
	Late      bool    `json:"late"`
	LateDays  int     `json:"late_days"`
	LateSec   float64 `json:"late_s"` // open hours of the machine that cuts the last copy
}

// A DoneFile is a layout that was begun before this plan was made.
type DoneFile struct {
	Layout   string       `json:"layout"`
	Sheet    string       `json:"sheet"`
	Cut      int          `json:"cut"` // sheets, since the first plan
	PerSheet []CopiesFile `json:"per_sheet"`
	Scrapped []CopiesFile `json:"scrapped"`
}

// A CopiesFile is so many copies of an order.
type CopiesFile struct {
	Order string `json:"order"`
	Count int    `json:"count"`
}

// A CureFile is a change that would bring late orders in time.
type CureFile struct {
	Steps    []StepFile  `json:"steps"`
	Money    float64     `json:"money"`
	Premium  float64     `json:"premium"`
	Saves    []string    `json:"saves"`
	Days     []string    `json:"days"`
	Open     [][]float64 `json:"open"` // hours by machine and day
	Calendar []SlotFile  `json:"calendar"`
}

// A StepFile is one change of a cure.
type StepFile struct {
	Kind    string   `json:"kind"`
	Machine string   `json:"machine,omitempty"`
	Day     string   `json:"day,omitempty"`
	Hours   float64  `json:"hours,omitempty"`
	Layout  string   `json:"layout,omitempty"`
	Depth   int      `json:"depth,omitempty"`
	Orders  []string `json:"orders,omitempty"`
}
