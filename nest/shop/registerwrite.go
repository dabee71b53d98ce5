package shop

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"time"

	"kerfold/cost"
	"kerfold/geom"
)

// LoadRegister reads a stock register by itself: the YAML form that
// [MarshalRegister] writes, or a table. Materials nil means the built-in ones.
// The error, where not nil, is a [Problems].
func LoadRegister(fsys fs.FS, name string, materials map[string]cost.Material) (stock []Stock, warnings []string, err error) {
	l := newLoader(fsys, name)
	data, err := l.read(name)
	if err != nil {
		l.log.fault(spot{file: name}, "", fmt.Sprintf("the register cannot be read: %v", plainReason(err)), l.fileMend(name))
		return nil, nil, l.log.err()
	}
	return ReadRegister(name, data, materials)
}

// ReadRegister is LoadRegister of a register's content; the name says its form.
func ReadRegister(name string, data []byte, materials map[string]cost.Material) (stock []Stock, warnings []string, err error) {
	l := newLoader(nil, name)
	l.job.Materials = materials
	if materials == nil {
		l.job.Materials = cost.BuiltinMap()
	}
	l.names = newNameList(sortedKeys(l.job.Materials))
	return l.readRegister(data)
}

func (l *loader) readRegister(data []byte) (stock []Stock, warnings []string, err error) {
	for _, v := range l.registerData(l.name, spot{file: l.name}, data) {
		l.registerLine(v)
	}
	if err := l.log.err(); err != nil {
		return nil, nil, err
	}
	return l.job.Stock, l.log.texts(), nil
}

// MarshalRegister writes stock as a register that [LoadRegister] reads back
// equal, apart from where it is written.
func MarshalRegister(stock []Stock) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# stock register\nversion: %d\nstock:", Version)
	if len(stock) == 0 {
		b.WriteString(" []")
	}
	b.WriteString("\n")
	for i := range stock {
		writeStock(&b, &stock[i])
	}
	return []byte(b.String())
}

func writeStock(b *strings.Builder, s *Stock) {
	put := func(key, text string) {
		if text != "" {
			fmt.Fprintf(b, "    %s: %s\n", key, text)
		}
	}
	fmt.Fprintf(b, "  - id: %s\n", quoteYAML(s.ID))
	put("material", quoteYAML(s.Material))
	put("thickness_mm", exact(s.ThicknessMM))
	if x, y, ok := boxSize(s.Outline); ok {
		put("width_mm", exact(x))
		put("height_mm", exact(y))
	} else {
		put("points_mm", pointsYAML(s.Outline))
	}
	if len(s.Blocked) > 0 {
		b.WriteString("    blocked:\n")
	}
	for _, z := range s.Blocked {
		fmt.Fprintf(b, "      - points_mm: %s\n", pointsYAML(z))
	}
	put("count", strconv.Itoa(s.Count))
	put("cost", exact(s.Cost))
	if s.GrainDeg != nil {
		put("grain_deg", exact(*s.GrainDeg))
	}
	put("remnant", map[bool]string{true: "yes", false: "no"}[s.Remnant])
	put("lot", quoteYAML(s.Lot))
	put("location", quoteYAML(s.Location))
	if !s.Since.IsZero() {
		put("since", s.Since.Format(time.DateOnly))
	}
	put("source", quoteYAML(s.Source))
	put("origin", quoteYAML(s.Origin))
	put("note", quoteYAML(s.Note))
}

// boxSize is the size of an outline that is a rectangle at the origin, written
// as RectContour does.
func boxSize(c geom.Contour) (x, y float64, ok bool) {
	if len(c) != 4 {
		return 0, 0, false
	}
	x, y = c[2].P[0], c[2].P[1]
	for i, v := range geom.RectContour(0, 0, x, y) {
		if c[i] != v {
			return 0, 0, false
		}
	}
	return x, y, true
}

func pointsYAML(c geom.Contour) string {
	points := make([]string, len(c))
	for i, v := range c {
		points[i] = "[" + exact(v.P[0]) + ", " + exact(v.P[1]) + "]"
		if v.Bulge != 0 {
			points[i] = "[" + exact(v.P[0]) + ", " + exact(v.P[1]) + ", " + exact(v.Bulge) + "]"
		}
	}
	return "[" + strings.Join(points, ", ") + "]"
}

// exact writes a number so that it reads back the same.
func exact(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// quoteYAML writes text in double quotes; JSON strings are YAML. Empty text is
// left out.
func quoteYAML(s string) string {
	if s == "" {
		return ""
	}
	q, _ := json.Marshal(s)
	return string(q)
}
