package main

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
)

// Sizes of a picture in pixels.
const (
	pictureWidth = 760.0
	stripTall    = 360.0 // at most, for a strip
	sheetSide    = 180.0 // at most, for one of several sheets
	pictureEdge  = 8.0
	captionTall  = 24.0
)

// mostPictureBytes keeps the page quick to load.
const mostPictureBytes = 60_000

// pictureName is the file of an instance's picture, from the benchmarks folder.
func pictureName(instance string) string { return "results/pictures/" + instance + ".svg" }

// bestKept picks of each instance the densest record whose layout was kept; of
// equally dense ones the first, or that with the fuller sheet.
func bestKept(list []record) []record {
	var best []record
	for _, r := range list {
		if r.Layout == "" {
			continue
		}
		i := slices.IndexFunc(best, func(b record) bool { return b.Instance == r.Instance })
		switch {
		case i < 0:
			best = append(best, r)
		case r.denser(best[i]):
			best[i] = r
		}
	}
	return best
}

// pictureTable shows the pictures of some records, two in a row.
func (v view) pictureTable(w io.Writer, list []record) {
	best := bestKept(list)
	if len(best) == 0 {
		return
	}
	t := table{head: []string{"the densest recorded layouts", ""}}
	for pair := range slices.Chunk(best, 2) {
		var cells []string
		for _, r := range pair {
			cells = append(cells, fmt.Sprintf("![%s](%s)<br>%s: %s", r.Instance, pictureName(r.Instance), r.Instance, r.credit()))
		}
		if len(cells) < 2 {
			cells = append(cells, "")
		}
		t.row(cells...)
	}
	t.write(w)
}

// credit says of a layout what it reaches and what made it, with a link to it.
func (r record) credit() string {
	return fmt.Sprintf("%.2f %% by [%s](results/%s)", r.Density, columnOf(r), r.Layout)
}

// pictures draws the best layout of each instance. An instance whose outlines are
// not to be found keeps the picture it has.
func (p page) pictures(records []record) ([]madeFile, error) {
	v := viewOf(records)
	known, err := settings{data: p.data, instances: "all"}.load(io.Discard)
	if err != nil {
		return nil, err
	}
	var files []madeFile
	var unknown []string
	for _, r := range slices.Concat(bestKept(v.strips), bestKept(v.families), bestKept(v.builtIn)) {
		i := slices.IndexFunc(known, func(in instance) bool { return in.Name == r.Instance && in.digest() == r.Problem })
		if i < 0 {
			unknown = append(unknown, r.Instance)
			continue
		}
		data, err := p.picture(known[i], r)
		if err != nil {
			return nil, err
		}
		files = append(files, madeFile{pictureName(r.Instance), data})
	}
	if len(unknown) > 0 {
		fmt.Fprintf(p.talk, "benchmarks: no outlines as they were recorded of %s; these pictures stay as they are\n", strings.Join(unknown, ", "))
	}
	return files, nil
}

// picture draws a record's layout, with as many of its sheets as the bytes of a
// picture allow.
func (p page) picture(in instance, r record) ([]byte, error) {
	result, err := readKept(p.dir, r.Layout, in)
	if err != nil {
		return nil, err
	}
	all := stacks(result.Layouts)
	for {
		data := drawLayout(in, all, r)
		if len(data) <= mostPictureBytes {
			return data, nil
		}
		if len(all) == 1 {
			return nil, fmt.Errorf("%s: the picture has %d bytes, more than %d", filepath.Base(r.Layout), len(data), mostPictureBytes)
		}
		all = all[:len(all)-1]
	}
}

// A sketch is a picture in the making: sheets in rows, every kind of part
// defined once and used where it lies.
type sketch struct {
	bytes.Buffer
	in       instance
	scale    float64 // pixels a unit
	decimals int     // of lengths in units, a fiftieth of a pixel or finer
}

// drawLayout draws a strip lying from left to right, or sheets in rows, equal ones
// once.
func drawLayout(in instance, all []stack, r record) []byte {
	w, h := r.Length, in.StripWidth
	if !in.strip() {
		w, h = in.Bin[0], in.Bin[1]
	}
	s := sketch{in: in, scale: min((pictureWidth-2*pictureEdge)/w, stripTall/h)}
	if n := float64(len(all)); n > 1 {
		small := min(sheetSide*math.Sqrt(max(1, w/h))/w, sheetSide/h)
		s.scale = max(small, min((pictureWidth-(n+1)*pictureEdge)/n/w, stripTall/h)) // a few fill the row
	}
	s.decimals = max(0, int(math.Ceil(math.Log10(50*s.scale))))
	s.page(all, w, h, caption(r, all))
	return s.Bytes()
}

// caption says what the picture shows.
func caption(r record, all []stack) string {
	text := fmt.Sprintf("%s: %d parts, %.2f %%", r.Instance, r.Parts, r.Density)
	switch {
	case r.strip():
		text += fmt.Sprintf(", length %.6g", r.Length)
	case sheets(all) < r.Bins:
		text += fmt.Sprintf(", %d of %d sheets", sheets(all), r.Bins)
	default:
		text += fmt.Sprintf(", %d sheets", r.Bins)
	}
	return html.EscapeString(text + "; " + columnOf(r).String())
}

// page writes the whole picture of sheets of w by h units.
func (s *sketch) page(all []stack, w, h float64, text string) {
	stepX, stepY := w*s.scale+pictureEdge, h*s.scale+pictureEdge
	if sheets(all) > len(all) {
		stepY += captionTall
	}
	inRow := min(max(1, int((pictureWidth-pictureEdge)/stepX)), len(all))
	rows := (len(all) + inRow - 1) / inRow
	wide := max(pictureEdge+float64(inRow)*stepX, 420)
	tall := pictureEdge + float64(rows)*stepY + captionTall
	fmt.Fprintf(s, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f">`, wide, tall, wide, tall)
	fmt.Fprintf(s, "\n<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n", text)
	s.kinds(all)
	for i, l := range all {
		x, y := pictureEdge+float64(i%inRow)*stepX, pictureEdge+float64(i/inRow)*stepY
		s.sheet(l.Layout, x, y, w, h)
		if l.times > 1 {
			s.text(x, y+h*s.scale+captionTall*0.7, fmt.Sprintf("%d sheets like this", l.times))
		}
	}
	s.text(pictureEdge, tall-9, text)
	fmt.Fprintln(s, "</svg>")
}

func (s *sketch) text(x, y float64, words string) {
	fmt.Fprintf(s, "<text x=\"%.1f\" y=\"%.1f\" font-family=\"sans-serif\" font-size=\"13\">%s</text>\n", x, y, words)
}

// kinds defines the outline of every kind of part that is used.
func (s *sketch) kinds(all []stack) {
	used := make([]bool, len(s.in.Parts))
	for _, l := range all {
		for _, p := range l.Placements {
			used[p.Part] = true
		}
	}
	fmt.Fprintln(s, "<defs>")
	for i, p := range s.in.Parts {
		if used[i] {
			fmt.Fprintf(s, "<path id=\"k%d\" fill=\"%s\" d=\"%s\"/>\n", i, tint(i), s.path(p.Outline))
		}
	}
	fmt.Fprintln(s, "</defs>")
}

// tints fill parts by kind, in turn. They differ in lightness too.
var tints = []string{"#d9e4dc", "#9fb8ad", "#efe3c2", "#c4b183", "#dcd3e2", "#a99cb8"}

func tint(kind int) string { return tints[kind%len(tints)] }

func (s *sketch) path(p orb.Polygon) string {
	var d strings.Builder
	for _, ring := range p {
		for i, v := range geom.OpenRing(ring) {
			d.WriteString([]string{"L", "M"}[b2i(i == 0)])
			d.WriteString(s.number(v[0]) + " " + s.number(v[1]))
		}
		d.WriteString("Z")
	}
	return d.String()
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// number prints a length in units as short as it can be.
func (s *sketch) number(x float64) string {
	return strconv.FormatFloat(rounded(x, s.decimals)+0, 'f', -1, 64)
}

// sheet draws one sheet with its upper left corner at a point of the picture. The
// picture's y runs down and the sheet's up.
func (s *sketch) sheet(l nest.Layout, x, y, w, h float64) {
	fmt.Fprintf(s, "<g transform=\"translate(%.2f %.2f)scale(%.6g -%.6g)\" stroke=\"#222\" stroke-width=\"%.3g\" fill-rule=\"evenodd\">\n",
		x, y+h*s.scale, s.scale, s.scale, 0.6/s.scale)
	fmt.Fprintf(s, "<path fill=\"#f4f4f4\" stroke-width=\"%.3g\" d=\"M0 0H%sV%sH0Z\"/>\n", 1.4/s.scale, s.number(w), s.number(h))
	for _, p := range l.Placements {
		turn := ""
		if p.Pose.AngleDeg != 0 {
			turn = "rotate(" + strconv.FormatFloat(rounded(p.Pose.AngleDeg, 2), 'f', -1, 64) + ")"
		}
		fmt.Fprintf(s, "<use href=\"#k%d\" transform=\"translate(%s %s)%s\"/>\n", p.Part, s.number(p.Pose.X), s.number(p.Pose.Y), turn)
	}
	fmt.Fprintln(s, "</g>")
}
