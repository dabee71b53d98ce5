package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"kerfold/geom"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// WriteStock writes what is left after the plan as a stock register that the
// next job can name: register: stock-after.yaml.
func WriteStock(w io.Writer, p *week.Plan) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Stock after the plan %s has been cut. Name this file in the next job\n", oneLine(p.Job))
	fmt.Fprintf(&b, "# with register:. Remnants are the pieces worth keeping; measure before use.\n")
	fmt.Fprintf(&b, "version: %d\nstock:", shop.Version)
	if len(p.Stock) == 0 {
		b.WriteString(" []")
	}
	b.WriteString("\n")
	for i := range p.Stock {
		stockEntry(&b, &p.Stock[i])
	}
	_, err := w.Write(b.Bytes())
	return err
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func stockEntry(b *bytes.Buffer, s *shop.Stock) {
	fmt.Fprintf(b, "  - id: %s\n", quoted(s.ID))
	field := func(key, val string) { fmt.Fprintf(b, "    %s: %s\n", key, val) }
	field("material", quoted(s.Material))
	field("thickness_mm", decimal(s.ThicknessMM))
	outlineFields(field, s.Outline)
	field("count", strconv.Itoa(s.Count))
	field("cost", decimal(s.Cost))
	if s.GrainDeg != nil {
		field("grain_deg", decimal(*s.GrainDeg))
	}
	if s.Remnant {
		field("remnant", "true")
	}
	for _, kv := range [][2]string{{"lot", s.Lot}, {"location", s.Location}, {"source", s.Source}} {
		if kv[1] != "" {
			field(kv[0], quoted(kv[1]))
		}
	}
	if !s.Since.IsZero() {
		field("since", encodeDay(s.Since))
	}
	if len(s.Blocked) > 0 {
		b.WriteString("    blocked:\n")
	}
	for _, z := range s.Blocked {
		fmt.Fprintf(b, "      - {shape: outline, points_mm: %s}\n", points(z))
	}
}

// outlineFields writes an outline as a rectangle where it is one at the origin,
// else by its corners.
func outlineFields(field func(key, val string), c geom.Contour) {
	box := c.Bounds()
	if isRect(c) && box.Min[0] == 0 && box.Min[1] == 0 {
		field("shape", "rectangle")
		field("width_mm", decimal(box.Max[0]))
		field("height_mm", decimal(box.Max[1]))
		return
	}
	field("shape", "outline")
	field("points_mm", points(c))
}

// isRect reports whether a contour is an axis-parallel rectangle.
func isRect(c geom.Contour) bool {
	if len(c) != 4 {
		return false
	}
	for i, v := range c {
		q := c[(i+1)%4].P
		if v.Bulge != 0 || (v.P[0] != q[0]) == (v.P[1] != q[1]) {
			return false
		}
	}
	return true
}

func points(c geom.Contour) string {
	text, err := json.Marshal(encodeContour(c))
	if err != nil { // only NaN and Inf cannot be written, and no contour holds them
		return "[]"
	}
	return string(text)
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// quoted writes a text so that YAML reads it as that text: a JSON string is one
// of YAML's.
func quoted(s string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		return `""`
	}
	return strings.TrimSpace(b.String())
}
