package report

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"

	"kerfold/cost"
	"kerfold/nest/week"
)

// StudyVersion is the version of the study's JSON form.
const StudyVersion = 1

// A StudyFile is a comparison of stack depths as JSON. Times are seconds and
// money is for all parts together.
type StudyFile struct {
	Version   int            `json:"version"`
	Currency  string         `json:"currency"`
	Order     string         `json:"order"`
	Part      string         `json:"part,omitempty"`
	Quantity  int            `json:"quantity"`
	Material  string         `json:"material"`
	Thickness float64        `json:"thickness_mm"`
	Grade     string         `json:"grade"`
	Machine   string         `json:"machine"`
	Sheet     string         `json:"sheet"`
	PerSheet  int            `json:"per_sheet"`
	Yield     float64        `json:"yield"`
	Best      int            `json:"best_layers"`
	BreakEven *int           `json:"break_even_parts"` // null where there is none up to break_even_searched
	Searched  int            `json:"break_even_searched"`
	Depths    []StudyDepth   `json:"depths"`
	Stack     int            `json:"stack_layers,omitempty"` // what what_if compares with single sheets
	WhatIf    []StudyWhatIf  `json:"what_if,omitempty"`
	Causes    []StudyCause   `json:"assumptions"`
	Cautions  []StudyCaution `json:"cautions"`
	Warnings  []string       `json:"warnings,omitempty"`
}

// A StudyDepth is one depth of a study.
type StudyDepth struct {
	Layers      int           `json:"layers"`
	Refusal     string        `json:"refusal,omitempty"`
	FullRuns    int           `json:"full_runs"`
	RestLayers  int           `json:"rest_layers"`
	RestPer     int           `json:"rest_per_layer"`
	Sheets      int           `json:"sheets"`
	Surplus     int           `json:"surplus"`
	Feed        float64       `json:"feed_mm_per_min"`
	Bound       string        `json:"bounded_by"`
	BoundShare  float64       `json:"bounded_share"` // of cut_s, 0 to 1
	CutSec      float64       `json:"cut_s"`
	LawSec      float64       `json:"law_s"`   // of cut_s: by the power law alone
	CapSec      float64       `json:"cap_s"`   // what feed caps add
	LagSec      float64       `json:"lag_s"`   // what arcs and corners slowed for the edge add
	AccelSec    float64       `json:"accel_s"` // what the acceleration adds
	PierceSec   float64       `json:"pierce_s"`
	RapidSec    float64       `json:"rapid_s"`
	HandleSec   float64       `json:"handle_s"`
	MachineSec  StudyInterval `json:"machine_s"`
	Money       StudyInterval `json:"money"`
	Wins        float64       `json:"wins"`
	BottomIndex float64       `json:"bottom_grade_index"`
	BottomGrade string        `json:"bottom_grade"`
	EdgeOff     float64       `json:"edge_off_mm"`
	Taper       float64       `json:"taper_mm"`
	WaterL      float64       `json:"water_l"`
	AbrasiveKg  float64       `json:"abrasive_kg"`
	SludgeKg    float64       `json:"sludge_kg"`
	EnergyKWh   float64       `json:"energy_kwh"`
}

// A StudyInterval is a range with its probability.
type StudyInterval struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
	Level  float64 `json:"level"`
}

// A StudyWhatIf is the choice with one assumed number taken otherwise: the best
// depth, and what stack_layers saves against single sheets, 0 to 1, below 0 for a
// loss. The first one has everything as assumed.
type StudyWhatIf struct {
	Change       string  `json:"change"`
	BestLayers   int     `json:"best_layers"`
	MoneySaved   float64 `json:"money_saved"`
	MachineSaved float64 `json:"machine_time_saved"`
	Refusal      string  `json:"refusal,omitempty"`
}

// A StudyCause is an assumption behind the ranges.
type StudyCause struct {
	Key    string  `json:"key"`
	Text   string  `json:"text"`
	Spread float64 `json:"spread"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"`
}

// A StudyCaution is a caution with what it is about.
type StudyCaution struct {
	Topic string `json:"topic"`
	Text  string `json:"text"`
}

// NewStudyFile puts a study into its file form.
func NewStudyFile(s *week.Study) StudyFile {
	f := StudyFile{
		Version: StudyVersion, Currency: s.Job.Setup.Rates.Currency, Order: s.Order.ID, Part: s.Order.Part, Quantity: s.Order.Quantity,
		Material: s.Order.Material, Thickness: s.Order.ThicknessMM, Grade: s.Order.Grade.String(), Machine: s.Job.Setup.Machine.ID,
		Sheet: s.Sheet.ID, PerSheet: s.PerSheet, Yield: s.Yield, Best: s.Depths[s.Best].Depth, Searched: s.BreakEvenLimit,
		Causes: []StudyCause{}, Cautions: []StudyCaution{}, Warnings: s.Warnings,
	}
	if s.BreakEven > 0 {
		f.BreakEven = &s.BreakEven
	}
	for i := range s.Depths {
		f.Depths = append(f.Depths, studyDepth(&s.Depths[i]))
	}
	f.Stack = s.Stack
	for _, x := range s.WhatIfs {
		f.WhatIf = append(f.WhatIf, StudyWhatIf{x.Change, x.Best, x.MoneySaved, x.SecondsSaved, x.Refusal})
	}
	for _, a := range cost.Assumptions(s.Job.Setup.At(s.Depths[s.Best].Depth)) {
		f.Causes = append(f.Causes, StudyCause{a.Key, a.Text, a.Spread, a.Unit, string(a.Source)})
	}
	for _, c := range s.Cautions {
		f.Cautions = append(f.Cautions, StudyCaution{string(c.Topic), c.Text})
	}
	return f
}

func studyDepth(d *cost.PartDepth) StudyDepth {
	if !d.Allowed() {
		return StudyDepth{Layers: d.Depth, Refusal: d.Refusal}
	}
	u := d.Ledger.Usage
	return StudyDepth{
		Layers: d.Depth, FullRuns: d.FullRuns, RestLayers: d.Rest.Layers, RestPer: d.Rest.PerLayer, Sheets: d.Sheets, Surplus: d.Surplus,
		Feed: d.Speed.MMPerMin, Bound: string(d.Limit), BoundShare: d.LimitShare,
		LawSec: d.Time.LawSec, CapSec: d.Time.CapSec, LagSec: d.Time.LagSec, AccelSec: d.Time.AccelSec(),
		CutSec: d.Time.CutSec, PierceSec: d.Time.PierceSec, RapidSec: d.Time.RapidSec, HandleSec: d.Time.HandleSec,
		MachineSec: StudyInterval(d.SecondsEstimate.Interval(cost.DefaultLevel)), Money: StudyInterval(d.MoneyEstimate.Interval(cost.DefaultLevel)),
		Wins: d.Wins, BottomIndex: d.Bottom.Index, BottomGrade: gradeWords(d.Bottom), EdgeOff: d.Bottom.ShiftMM, Taper: d.Bottom.TaperMM,
		WaterL: u.WaterL, AbrasiveKg: u.AbrasiveKg, SludgeKg: u.SludgeKg, EnergyKWh: u.EnergyKWh,
	}
}

// WriteStudyJSON writes studies as a JSON list.
func WriteStudyJSON(w io.Writer, studies []*week.Study) error {
	files := make([]StudyFile, len(studies))
	for i, s := range studies {
		files[i] = NewStudyFile(s)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(files)
}

var studyColumns = []string{
	"order", "part", "material", "thickness_mm", "grade", "quantity", "machine", "sheet", "per_sheet", "yield", "layers", "refusal", "best",
	"full_runs", "rest_layers", "rest_per_layer", "sheets", "surplus", "feed_mm_per_min", "bounded_by", "bounded_share",
	"cut_s", "law_s", "cap_s", "lag_s", "accel_s", "pierce_s", "rapid_s", "handle_s", "machine_s_low", "machine_s", "machine_s_high", "money_low", "money", "money_high", "currency", "wins",
	"bottom_grade", "edge_off_mm", "taper_mm", "water_l", "abrasive_kg", "sludge_kg", "energy_kwh",
}

// WriteStudyCSV writes studies as one table, a row a depth.
func WriteStudyCSV(w io.Writer, studies []*week.Study) error {
	out := csv.NewWriter(w)
	if err := out.Write(studyColumns); err != nil {
		return err
	}
	for _, s := range studies {
		f := NewStudyFile(s)
		for i := range f.Depths {
			if err := out.Write(studyRow(&f, &f.Depths[i])); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

func studyRow(f *StudyFile, d *StudyDepth) []string {
	x := func(v float64) string { return strconv.FormatFloat(v, 'g', 8, 64) }
	n := strconv.Itoa
	row := []string{
		f.Order, f.Part, f.Material, x(f.Thickness), f.Grade, n(f.Quantity), f.Machine, f.Sheet, n(f.PerSheet), x(f.Yield),
		n(d.Layers), d.Refusal, map[bool]string{true: "yes"}[d.Layers == f.Best],
	}
	if d.Refusal != "" {
		return append(row, make([]string, len(studyColumns)-len(row))...)
	}
	return append(
		row, n(d.FullRuns), n(d.RestLayers), n(d.RestPer), n(d.Sheets), n(d.Surplus), x(d.Feed), d.Bound, x(d.BoundShare),
		x(d.CutSec), x(d.LawSec), x(d.CapSec), x(d.LagSec), x(d.AccelSec), x(d.PierceSec), x(d.RapidSec), x(d.HandleSec), x(d.MachineSec.Low), x(d.MachineSec.Likely), x(d.MachineSec.High),
		x(d.Money.Low), x(d.Money.Likely), x(d.Money.High), f.Currency, x(d.Wins),
		d.BottomGrade, x(d.EdgeOff), x(d.Taper), x(d.WaterL), x(d.AbrasiveKg), x(d.SludgeKg), x(d.EnergyKWh),
	)
}
