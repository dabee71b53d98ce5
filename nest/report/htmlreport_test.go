package report

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/week"
)

func reportOf(t *testing.T, p *week.Plan) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteReport(&b, p); err != nil {
		t.Fatal(err)
	}
	keep(t, "report.html", b.Bytes())
	return b.String()
}

// keep leaves what a test wrote in the folder KERFOLD_KEEP, to be looked at.
func keep(t *testing.T, name string, data []byte) {
	t.Helper()
	if dir := os.Getenv("KERFOLD_KEEP"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, strings.ReplaceAll(t.Name(), "/", "-")+"-"+name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// widePlan is the sample plan with as many layouts and parts on each as asked
// for, on the days of a week.
func widePlan(layouts, copies int) *week.Plan {
	p := samplePlan()
	for len(p.Days) < 5 {
		p.Days = append(p.Days, p.Days[len(p.Days)-1].AddDate(0, 0, 1))
	}
	p.WeekDays, p.Calendar = 4, nil
	g := &p.Groups[0]
	l := g.Layouts[0]
	for len(l.Placements) < copies {
		n := len(l.Placements)
		l.Placements = append(l.Placements, nest.Placement{
			Part: n % 2, Pose: geom.Pose{X: float64(37 * n % 700), Y: float64(53 * n % 380), AngleDeg: float64(90 * (n % 4))},
		})
	}
	l.Route.Cuts = nil
	sampleRoute(g, &l)
	g.Layouts = nil
	for i := range layouts {
		l.ID, l.Placements = fmt.Sprintf("G1-L%d", i+1), slices.Clone(l.Placements)
		g.Layouts = append(g.Layouts, l)
		p.Calendar = append(p.Calendar, week.Slot{
			Layout: i, Machine: i % 2, Depth: 3, StartDay: i / 2 % 5, EndDay: i / 2 % 5, SetupSec: 300, WorkSec: 1500,
			StartSec: float64(i / 10 * 1900), EndSec: float64(i/10*1900 + 1800),
		})
	}
	for i := range p.Machines {
		p.Machines[i].Hours = slices.Repeat([]float64{8}, len(p.Days))
	}
	p.Cures = nil
	return p
}

var (
	idsOf   = regexp.MustCompile(` id="([^"]+)"`)
	linksOf = regexp.MustCompile(` href="([^"]+)"`)
	refsOf  = regexp.MustCompile(` aria-labelledby="([^"]+)"`)
)

// Every link and every reference leads to an id that is there once, and none
// leads out of the page.
func TestReportHangsTogether(t *testing.T) {
	page := reportOf(t, widePlan(7, 6))
	ids := map[string]int{}
	for _, m := range idsOf.FindAllStringSubmatch(page, -1) {
		if ids[m[1]]++; ids[m[1]] > 1 {
			t.Errorf("id %q is there twice", m[1])
		}
	}
	links := linksOf.FindAllStringSubmatch(page, -1)
	if len(links) < 7*6 {
		t.Fatalf("only %d links found", len(links))
	}
	for _, m := range links {
		if m[1] == "data:," {
			continue
		}
		if id, local := strings.CutPrefix(m[1], "#"); !local || ids[id] == 0 {
			t.Errorf("link to %q leads nowhere on the page", m[1])
		}
	}
	for _, m := range refsOf.FindAllStringSubmatch(page, -1) {
		for _, id := range strings.Fields(m[1]) {
			if ids[id] == 0 {
				t.Errorf("label %q is not on the page", id)
			}
		}
	}
	for _, out := range []string{"http:", "https:", "@import", "ZgotmplZ", "<no value>", "NaN", "Inf"} {
		if strings.Contains(page, out) {
			t.Errorf("%q on the page", out)
		}
	}
}

func TestReportSaysWhatMatters(t *testing.T) {
	page := reportOf(t, samplePlan())
	for _, want := range []string{
		"2 orders in 1 group, 1 late, 1 not complete",
		`<th scope="row">K-102/1</th><td>bracket, left and right</td>`,
		`<td class="bad">1 day late</td>`,
		`<td class="bad">4 missing</td>`,
		"Load and cut <b>a stack of 3 &#43; 1 sheet</b>",
		"“one layout 4 times” was chosen at 360.00 EUR; “each sheet by itself” comes to 410.00 EUR",
		"&#43;50.00", // the other way's difference
		"4 sheets of AL-6-1000x600 checked",
		"Cut 2 of 2 done (single sheet)",
		"hydrogen",
		`<th scope="row">AL-6-1000x600</th><td>sheet</td><td>aluminium 6061</td><td class="n">6</td><td class="n">1000 × 600</td><td>rack 3</td><td class="n">20</td><td class="n">84.00</td><td class="n">6</td><td class="n">4</td><td class="n"><b>2</b></td>`,
		`class="box t0 late"`,
		"kept as a remnant where 50.0 % of what its area cost is more than 3.73 EUR for handling and storage, and no side is shorter than 200 mm (demo).",
		"4 remnants marked R-042 and racked",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in the report", want)
		}
	}
}

// A name cannot become markup or script.
func TestReportEscapes(t *testing.T) {
	p := samplePlan()
	const nasty = `</title><script>alert("x")</script>'&`
	p.Job, p.Groups[0].Parts[0].Part, p.Groups[0].Parts[0].Note, p.Groups[0].Sheets[0].ID = nasty, nasty, nasty, nasty
	page := reportOf(t, p)
	if got, want := strings.Count(page, "<script>"), 1; got != want {
		t.Errorf("%d script elements, want %d", got, want)
	}
	if strings.Contains(page, "</title><script>") {
		t.Error("a name closed its element")
	}
}

func TestReportOfNothing(t *testing.T) {
	page := reportOf(t, &week.Plan{Job: "empty"})
	if !strings.Contains(page, "Every order is complete and in time.") {
		t.Error("an empty plan is not said to be in time")
	}
}

// Sixty crowded layouts stay below eight megabytes, because a part's outline is
// written once; and the same plan is the same page.
func TestReportSize(t *testing.T) {
	p := widePlan(60, 150)
	first, again := reportOf(t, p), reportOf(t, p)
	if first != again {
		t.Error("the same plan gave two different pages")
	}
	if most := 8 << 20; len(first) > most {
		t.Errorf("the report has %d bytes, more than %d", len(first), most)
	}
	t.Logf("60 layouts of 150 parts: %.2f MB", float64(len(first))/1e6)
}

// A copy's transform puts a vertex where its pose does.
func TestPoseTransform(t *testing.T) {
	for _, c := range []struct {
		pose geom.Pose
		want string
	}{
		{geom.Pose{X: 3, Y: 4}, "translate(3 -4)"},
		{geom.Pose{X: 3, Y: 4, AngleDeg: 90}, "translate(3 -4)rotate(-90)"},
		{geom.Pose{X: -3, AngleDeg: 12.345678, Mirror: true}, "translate(-3 0)rotate(-12.345678)scale(-1 1)"},
	} {
		if got := poseTransform(c.pose); got != c.want {
			t.Errorf("%+v: %s, want %s", c.pose, got, c.want)
		}
	}
}

// A stack over the night is drawn to the end of one day and from the start of
// the next, set-up first.
func TestBarsOverNight(t *testing.T) {
	p := samplePlan()
	p.Calendar = []week.Slot{{SetupSec: 1800, WorkSec: 3600, StartSec: 7*3600 + 1800, EndDay: 1, EndSec: 3600}}
	bars := newTimeline(p).Bars
	if len(bars) != 2 || !bars[0].Setup || bars[1].Setup {
		t.Fatalf("bars %+v, want the set-up on the first day and the work on the second", bars)
	}
	if bars[0].X != "276.75" || bars[0].W != "13.25" || bars[1].X != "298" || bars[1].W != "26.5" {
		t.Errorf("bars at %s+%s and %s+%s", bars[0].X, bars[0].W, bars[1].X, bars[1].W)
	}
}

// Every run of equal stacks has its number in the picture and in the table, and
// no two numbers of a machine overlap.
func TestEveryRunIsNumbered(t *testing.T) {
	p := widePlan(60, 4)
	line := newTimeline(p)
	if len(line.Slots) == 0 {
		t.Fatal("no runs")
	}
	marked := map[int]bool{}
	for i, b := range line.Bars {
		if b.Mark == "" {
			continue
		}
		marked[b.number] = true
		for _, c := range line.Bars[:i] {
			if c.Mark == "" || c.machine != b.machine || c.MarkY != b.MarkY {
				continue
			}
			x, _ := strconv.ParseFloat(b.MarkX, 64)
			y, _ := strconv.ParseFloat(c.MarkX, 64)
			if math.Abs(x-y) < (markWidth(b.Mark)+markWidth(c.Mark))/2-0.01 {
				t.Errorf("%s and %s overlap", b.Mark, c.Mark)
			}
		}
	}
	for _, l := range line.Slots {
		if !marked[l.Number] {
			t.Errorf("run %d (%s) has no number in the picture", l.Number, l.Layout)
		}
	}
}

// The calendar of a cure shows the hours it opens.
func TestCuredCalendarShowsOvertime(t *testing.T) {
	p := samplePlan()
	line := cureTimelines(p)[0]
	if !line.Overtime || newTimeline(p).Overtime {
		t.Error("overtime is shown in the plan, or not in its cure")
	}
	var names []string
	for _, s := range line.Slots {
		names = append(names, s.Sheets)
	}
	if got := strings.Join(names, "; "); !strings.Contains(got, "urgent parts") || !strings.Contains(got, "other parts") {
		t.Errorf("the divided layout is told as %q", got)
	}
}

// Loading that a second table hides behind the cut is no share of the machine's
// time; what the shares add up to is what the machine is held.
func TestTimeSplitLeavesHiddenLoadingOut(t *testing.T) {
	l := &week.Layout{Runs: []week.Run{{
		Depth: 1, Count: 2, OccupiedSec: 600,
		Time: cost.Time{CutSec: 400, PierceSec: 150, RapidSec: 50, HandleSec: 300},
	}}}
	lines, _, hidden := timeSplit(l)
	if len(lines) != 3 || lines[0].Share != "66.7 %" || hidden != "10 min 00 s of loading beside it, on the other table" {
		t.Errorf("all loading hidden: %+v, %q", lines, hidden)
	}
	l.Runs[0].OccupiedSec = 650
	lines, _, hidden = timeSplit(l)
	if len(lines) != 4 || lines[3].Name != "waiting to be loaded" || lines[3].Time != "1 min 40 s" || !strings.HasPrefix(hidden, "8 min 20 s") {
		t.Errorf("some loading hidden: %+v, %q", lines, hidden)
	}
	l.Runs[0].OccupiedSec = 900
	if lines, _, hidden = timeSplit(l); lines[3].Share != "33.3 %" || hidden != "" {
		t.Errorf("one table: %+v, %q", lines, hidden)
	}
}

// Every group's bound stands in the table of groups and on its layouts' pages.
func TestReportShowsBounds(t *testing.T) {
	p := samplePlan()
	g := &p.Groups[0]
	g.Ways = []week.Way{{Name: week.DirectName, Money: 115}}
	g.Bound = week.Bound{Sheets: 3, Money: 100}
	if l := groupLines(p)[0]; l.Least != "3" || l.Above != "15.0 %" {
		t.Errorf("group line %q, %q", l.Least, l.Above)
	}
	want := "No plan of G1 uses fewer than 3 sheets; this one cuts 4 and costs at most 15.0 % more than the cheapest could."
	if why := layoutPages(p)[0].Why; !slices.Contains(why, want) {
		t.Errorf("%q is not among %q", want, why)
	}
	g.Bound = week.Bound{}
	if l := groupLines(p)[0]; l.Least != "-" || l.Above != "-" || groupBoundWords(g) != "" {
		t.Errorf("no bound: %q, %q, %q", l.Least, l.Above, groupBoundWords(g))
	}
}
