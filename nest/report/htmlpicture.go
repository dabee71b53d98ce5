package report

import (
	"fmt"
	"strconv"
	"strings"

	"kerfold/geom"
	"kerfold/nest/week"
)

// A partKind is an outline drawn once and used by every copy of the part.
type partKind struct{ ID, Path string }

// upright turns mathematics' y axis into the page's, millimetre for millimetre.
var upright = view{scale: 1}

func partKinds(p *week.Plan) []partKind {
	var out []partKind
	for i := range p.Groups {
		g := &p.Groups[i]
		used := make([]bool, len(g.Parts))
		for k := range g.Layouts {
			for _, pl := range g.Layouts[k].Placements {
				used[pl.Part] = true
			}
		}
		for k := range g.Parts {
			if used[k] {
				out = append(out, partKind{kindID(g, k), upright.shapePath(g.Parts[k].Shape)})
			}
		}
	}
	return out
}

func kindID(g *week.Group, part int) string { return fmt.Sprintf("%s-p%d", g.ID, part+1) }

// A picture is one layout in sheet millimetres.
type picture struct {
	ViewBox, Aspect string
	Title, Desc     string
	Sheet           string
	Blocked         []string
	Remnant         string
	Copies          []partCopy
	Leads, Pierces  string
	Zones           []zoneText
}

// A partCopy is one part where it lies, and its number.
type partCopy struct {
	Kind, Transform, Title string
	Number, Tint           int
	X, Y, Size             string
	Turned, Tight          bool
	Lead                   string // from the number of an equal part beside it, which it shares
}

// A zoneText names a blocked zone or the remnant.
type zoneText struct{ Text, X, Y, Size string }

func newPicture(p *week.Plan, g *week.Group, l *week.Layout) picture {
	s := &g.Sheets[l.Sheet]
	b := s.Outline.Bounds()
	w, h := max(b.Max[0]-b.Min[0], 1), max(b.Max[1]-b.Min[1], 1)
	rim := max(w, h) / 150
	scale := printScale(w+2*rim, h+2*rim, len(legendRows(g, l)))
	pic := picture{
		ViewBox: strings.Join([]string{num(b.Min[0] - rim), num(-b.Max[1] - rim), num(w + 2*rim), num(h + 2*rim)}, " "),
		Aspect:  num((w + 2*rim) / (h + 2*rim)),
		Title:   "Layout " + l.ID,
		Desc: fmt.Sprintf("%s on %s, %s; %s of the sheet becomes parts. The table of parts names the numbers.",
			plural(len(l.Placements), "part"), s.ID, measure{units: p.Units}.size(w, h), Percent(l.Yield())),
		Sheet: upright.closedPath(s.Outline), Leads: leadPath(l), Pierces: piercePath(l), Copies: partCopies(g, l, scale),
	}
	for _, z := range s.Blocked {
		pic.Blocked = append(pic.Blocked, upright.closedPath(z))
		pic.Zones = append(pic.Zones, newZoneText(z, "blocked", scale))
	}
	if l.Remnant != nil {
		pic.Remnant = upright.closedPath(l.Remnant)
		pic.Zones = append(pic.Zones, newZoneText(l.Remnant, "remnant", scale))
	}
	return pic
}

// The room that the printed page gives a picture, mm: across on Letter, which is
// the narrower of the two papers, and upwards in usual and in small print.
const (
	printWide, printHigh, printHighDense = 161.0, 77.0, 69.0
)

// printScale is mm on paper for one of the sheet, when the page is printed.
func printScale(w, h float64, rows int) float64 {
	high := printHigh
	if rows > denseRows {
		high = printHighDense
	}
	return min(printWide/w, high/h)
}

func partCopies(g *week.Group, l *week.Layout, scale float64) []partCopy {
	var out []partCopy
	for i, n := range numberPlaces(placedParts(g, l), scale) {
		pl := &l.Placements[i]
		o := &g.Parts[pl.Part]
		c := partCopy{
			Kind: kindID(g, pl.Part), Transform: poseTransform(pl.Pose), Number: pl.Part + 1, Tint: pl.Part % tints,
			Title: fmt.Sprintf("%d: %s, order %s, turned %s°%s", pl.Part+1, o.Part, o.ID, Length(pl.Pose.AngleDeg), turnedOver(pl.Pose)),
			X:     num(n.at[0]), Y: num(-n.at[1] + 0.36*n.size/scale), Size: num(n.size / scale), Turned: pl.Pose.Mirror, Tight: n.tight,
		}
		if n.led {
			c.Lead = upright.openPath(geom.Path{{P: n.at}, {P: n.to}})
		}
		out = append(out, c)
	}
	return out
}

// poseTransform is a pose on the page, where turning is the other way round.
func poseTransform(p geom.Pose) string {
	s := "translate(" + num(p.X) + " " + num(-p.Y) + ")"
	if p.AngleDeg != 0 {
		s += "rotate(" + strconv.FormatFloat(-p.AngleDeg, 'f', -1, 64) + ")"
	}
	if p.Mirror {
		s += "scale(-1 1)"
	}
	return s
}

func leadPath(l *week.Layout) string {
	var b strings.Builder
	for i := range l.Route.Cuts {
		b.WriteString(upright.openPath(l.Route.Cuts[i].LeadIn))
		b.WriteString(upright.openPath(l.Route.Cuts[i].LeadOut))
	}
	for _, s := range l.Route.Severing {
		b.WriteString(upright.openPath(s.Way()))
	}
	return b.String()
}

// piercePath is a stroke without length per pierce; a round cap makes it a dot.
func piercePath(l *week.Layout) string {
	var b strings.Builder
	for i := range l.Route.Cuts {
		x, y := upright.at(l.Route.Cuts[i].Pierce)
		b.WriteString("M" + num(x) + " " + num(y) + "h0")
	}
	return b.String()
}

func newZoneText(c geom.Contour, text string, scale float64) zoneText {
	box := c.Bounds()
	w := (box.Max[0] - box.Min[0]) * scale
	mid := box.Center()
	font := max(leastText, min(plainNumber, w*0.95/(emWidth*float64(len(text))))) / scale
	return zoneText{Text: text, X: num(mid[0]), Y: num(-mid[1] + 0.36*font), Size: num(font)}
}
