package main

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// xmlInstance is the part of the public collection's XML form that describes the
// problem. Its polygons are lists of segments; pieces refer to them by id.
type xmlInstance struct {
	XMLName     xml.Name     `xml:"nesting"`
	Name        string       `xml:"name"`
	Description string       `xml:"description"`
	Boards      []xmlPiece   `xml:"problem>boards>piece"`
	Lot         []xmlPiece   `xml:"problem>lot>piece"`
	Polygons    []xmlPolygon `xml:"polygons>polygon"`
}

type xmlPiece struct {
	ID         string         `xml:"id,attr"`
	Quantity   string         `xml:"quantity,attr"`
	Angles     []xmlAngle     `xml:"orientation>enumeration"`
	Components []xmlComponent `xml:"component"`
}

type xmlAngle struct {
	Angle string `xml:"angle,attr"`
}

type xmlComponent struct {
	Polygon string `xml:"idPolygon,attr"`
	Type    string `xml:"type,attr"`
	X       string `xml:"xOffset,attr"`
	Y       string `xml:"yOffset,attr"`
}

type xmlPolygon struct {
	ID       string       `xml:"id,attr"`
	Segments []xmlSegment `xml:"lines>segment"`
}

type xmlSegment struct {
	X0 string `xml:"x0,attr"`
	Y0 string `xml:"y0,attr"`
}

// readXML reads a strip instance in the public collection's XML form. The
// board's height is the strip's width. The form's y axis may point down; the
// outlines are taken as they are, as the published layouts of the collection do.
func readXML(data []byte) (instance, error) {
	var x xmlInstance
	if err := xml.Unmarshal(data, &x); err != nil {
		return instance{}, err
	}
	rings, err := x.rings()
	if err != nil {
		return instance{}, err
	}
	in := instance{Name: strings.ToLower(x.Name), Source: x.Description}
	if len(x.Boards) != 1 {
		return instance{}, fmt.Errorf("%d boards; this reader takes one, whose height is the strip's width", len(x.Boards))
	}
	board, err := x.Boards[0].outline(rings)
	if err != nil {
		return instance{}, err
	}
	box := geom.Bounds(board)
	in.StripWidth = box.Max[1] - box.Min[1]
	for _, piece := range x.Lot {
		p, err := piece.part(rings)
		if err != nil {
			return instance{}, fmt.Errorf("piece %q: %w", piece.ID, err)
		}
		in.Parts = append(in.Parts, p)
	}
	return in, in.check()
}

// rings reads the polygons by id.
func (x xmlInstance) rings() (map[string]orb.Ring, error) {
	rings := map[string]orb.Ring{}
	for _, p := range x.Polygons {
		var ring orb.Ring
		for i, s := range p.Segments {
			px, err := xmlNumber(s.X0)
			if err != nil {
				return nil, fmt.Errorf("polygon %q, segment %d: %w", p.ID, i+1, err)
			}
			py, err := xmlNumber(s.Y0)
			if err != nil {
				return nil, fmt.Errorf("polygon %q, segment %d: %w", p.ID, i+1, err)
			}
			ring = append(ring, orb.Point{px, py})
		}
		rings[p.ID] = ring
	}
	return rings, nil
}

func (p xmlPiece) part(rings map[string]orb.Ring) (part, error) {
	outline, err := p.outline(rings)
	if err != nil {
		return part{}, err
	}
	quantity := 1
	if p.Quantity != "" {
		if quantity, err = strconv.Atoi(strings.TrimSpace(p.Quantity)); err != nil {
			return part{}, fmt.Errorf("quantity %q is not a whole number", p.Quantity)
		}
	}
	out := part{ID: p.ID, Quantity: quantity, Outline: outline}
	for _, a := range p.Angles {
		deg, err := xmlNumber(a.Angle)
		if err != nil {
			return part{}, err
		}
		out.Angles = append(out.Angles, deg)
	}
	return out, nil
}

// outline is the piece's first component of type 0; components of type 1 are its
// holes.
func (p xmlPiece) outline(rings map[string]orb.Ring) (orb.Polygon, error) {
	var outer, holes orb.Polygon
	for _, c := range p.Components {
		ring, ok := rings[c.Polygon]
		if !ok {
			return nil, fmt.Errorf("piece %q refers to polygon %q, which is not in the file", p.ID, c.Polygon)
		}
		dx, errX := xmlNumber(c.X)
		dy, errY := xmlNumber(c.Y)
		if errX != nil || errY != nil {
			return nil, fmt.Errorf("piece %q: offset (%q, %q) is not a pair of numbers", p.ID, c.X, c.Y)
		}
		moved := geom.TranslatePolygon(orb.Polygon{ring}, orb.Point{dx, dy})[0]
		if strings.TrimSpace(c.Type) == "1" {
			holes = append(holes, moved)
		} else {
			outer = append(outer, moved)
		}
	}
	if len(outer) != 1 {
		return nil, fmt.Errorf("piece %q has %d outer contours; this reader takes one", p.ID, len(outer))
	}
	return append(outer, holes...), nil
}

// xmlNumber reads a number; nothing is 0.
func xmlNumber(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return v, nil
}
