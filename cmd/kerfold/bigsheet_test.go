//go:build unix

package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"kerfold/nest/week"
)

// bigKinds is how many kinds of parts an order sheet of a large shop names.
const bigKinds = 320

// A bigGroup is a material with a thickness and its sheets.
type bigGroup struct {
	material         string
	thickness        float64
	width, high, fee int
}

var bigGroups = []bigGroup{
	{"mild steel", 3, 2500, 1250, 95},
	{"mild steel", 6, 2500, 1250, 180},
	{"mild steel", 10, 2500, 1250, 300},
	{"stainless 304", 2, 2000, 1000, 150},
	{"stainless 304", 5, 2000, 1000, 340},
	{"aluminium 6061", 2, 2500, 1250, 85},
	{"aluminium 6061", 4, 2500, 1250, 160},
	{"cork", 3, 1500, 1000, 24},
	{"cork", 6, 1500, 1000, 45},
	{"glass-epoxy laminate", 3, 1200, 1000, 70},
}

// writeBigJob writes a job with a table of so many orders and a rack, all made
// from the seed, and names the job file.
func writeBigJob(tb testing.TB, dir string, rows int, seed uint64) string {
	tb.Helper()
	rng := rand.New(rand.NewPCG(seed, 5000))
	var stock strings.Builder
	for i, g := range bigGroups {
		fmt.Fprintf(&stock, "S%d,%s,%v,%d,%d,400,%d\n", i+1, g.material, g.thickness, g.width, g.high, g.fee)
	}
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			tb.Fatal(err)
		}
	}
	write("rack.csv", "id,material,thickness_mm,width_mm,height_mm,count,cost\n"+stock.String())
	write("orders.csv", bigOrders(rows, rng))
	write("big.yaml", `version: 1
start: 2031-03-03
days: 20
register: rack.csv
order_tables: [orders.csv]
machines:
  - {id: jet 1, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, max_stack_mm: 60, hours_per_day: 16}
  - {id: jet 2, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, max_stack_mm: 60, hours_per_day: 16}
  - {id: jet 3, process: plain, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.2, table_x_mm: 3000, table_y_mm: 1500, max_stack_mm: 60, hours_per_day: 16}
`)
	if err := os.CopyFS(filepath.Join(dir, "drawings"), os.DirFS("../../testdata/week/drawings")); err != nil {
		tb.Fatal(err)
	}
	return filepath.Join(dir, "big.yaml")
}

// bigDrawings hold one part each.
var bigDrawings = []string{"mount-bracket", "gusset", "base-plate", "lifting-lug", "pipe-saddle", "corner-pad", "bottle-cradle", "gear-blank", "cable-tray-plate", "handle-bracket"}

func bigOrders(rows int, rng *rand.Rand) string {
	heads := []string{"id", "part", "customer", "drawing", "shape", "sides", "width mm", "height mm", "diameter mm", "bore mm", "bolt circle mm", "bolts", "bolt hole mm", "across flats mm", "corner radius mm", "quantity", "material", "thickness mm", "due"}
	at := map[string]int{}
	for i, h := range heads {
		at[h] = i
	}
	kinds := make([]map[string]string, bigKinds)
	for i := range kinds {
		kinds[i] = bigKind(i, rng)
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(heads)
	for i := range rows {
		rec := make([]string, len(heads))
		for key, text := range kinds[rng.IntN(bigKinds)] {
			rec[at[key]] = text
		}
		rec[at["id"]] = fmt.Sprintf("K-%05d", i+1)
		rec[at["customer"]] = fmt.Sprintf("customer %d", rng.IntN(60)+1)
		rec[at["quantity"]] = strconv.Itoa(1 + rng.IntN(6))
		rec[at["due"]] = time.Date(2031, 3, 4+rng.IntN(25), 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
		w.Write(rec)
	}
	w.Flush()
	return b.String()
}

// bigKind draws one kind of part: its shape and what it is cut from.
func bigKind(i int, rng *rand.Rand) map[string]string {
	g := bigGroups[rng.IntN(len(bigGroups))]
	k := map[string]string{"part": fmt.Sprintf("part %d", i+1), "material": g.material, "thickness mm": fmt.Sprint(g.thickness)}
	size := func(low, high int) int { return low + rng.IntN(high-low) }
	put := func(key string, x int) { k[key] = strconv.Itoa(x) }
	switch rng.IntN(8) {
	case 0, 1:
		k["shape"] = "rectangle"
		put("width mm", size(40, 400))
		put("height mm", size(30, 250))
		put("corner radius mm", size(0, 12))
	case 2:
		k["shape"] = "disc"
		put("diameter mm", size(40, 220))
	case 3:
		d := size(60, 260)
		k["shape"] = "ring"
		put("diameter mm", d)
		put("bore mm", d*size(40, 80)/100)
	case 4:
		d := size(90, 280)
		k["shape"] = "flange"
		put("diameter mm", d)
		put("bore mm", d*40/100)
		put("bolt circle mm", d*75/100)
		put("bolts", 4+2*rng.IntN(3))
		put("bolt hole mm", 9)
	case 5:
		k["shape"] = "obround"
		put("width mm", size(90, 300))
		put("height mm", size(30, 80))
	case 6:
		k["shape"] = "polygon"
		put("sides", size(5, 9))
		put("across flats mm", size(40, 160))
		if k["sides"] == "5" || k["sides"] == "7" {
			k["sides"] = "6"
		}
	default:
		k["drawing"] = "drawings/" + bigDrawings[rng.IntN(len(bigDrawings))] + ".dxf"
	}
	return k
}

// A sheet of 5,000 orders is read, checked and planned to a first complete plan
// in less than a minute of processor time on each of two cores. The plan is
// complete when every group is laid out; then it is told to end.
func TestBigOrderSheet(t *testing.T) {
	if testing.Short() {
		t.Skip("takes about a minute")
	}
	name := writeBigJob(t, t.TempDir(), 5000, 1)
	start := cpuSeconds(t)
	job, err := loadJob(name)
	if err != nil {
		t.Fatal(err)
	}
	read := cpuSeconds(t)
	ctx, enough := context.WithCancel(context.Background())
	defer enough()
	p, err := week.Make(ctx, job, week.Options{Effort: 0.001, Seed: 1, Workers: min(2, runtime.NumCPU()), Progress: func(p week.Progress) {
		if p.Stage == "search" {
			enough()
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	planned := cpuSeconds(t)
	sheets, short := 0, 0
	for i := range p.Groups {
		sheets += p.Groups[i].SheetsUsed()
	}
	for _, o := range p.Orders {
		short += o.Wanted - min(o.Wanted, o.Placed)
	}
	t.Logf("%d orders: read in %.1f s, planned in %.1f s of processor time; %d groups, %d sheets, %d parts without a place",
		len(job.Orders), read-start, planned-read, len(p.Groups), sheets, short)
	if short > 0 || len(job.Orders) != 5000 {
		t.Errorf("%d orders, %d parts without a place", len(job.Orders), short)
	}
	if planned-start > 2*60 {
		t.Errorf("%.0f s of processor time, more than a minute of two cores", planned-start)
	}
}
