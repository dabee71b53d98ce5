package drawing

import "strings"

// An svgStyle holds the few properties that decide whether an element is an
// outline.
type svgStyle struct {
	hidden       bool // display: none, which hides everything inside
	invisible    bool // visibility, which an element inside may undo
	dashed       bool
	stroke, fill string
}

// newSVGStyle is the style of an SVG without any.
func newSVGStyle() svgStyle { return svgStyle{stroke: "none", fill: "black"} }

// inherit returns the style of an element inside one of this style.
func (s svgStyle) inherit(e *element) svgStyle {
	for _, a := range e.attr {
		s.set(a.Name.Local, a.Value)
	}
	for _, decl := range strings.Split(e.get("style"), ";") {
		if name, value, ok := strings.Cut(decl, ":"); ok {
			s.set(strings.TrimSpace(name), value)
		}
	}
	return s
}

func (s *svgStyle) set(name, value string) {
	value = strings.ToLower(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(value), "!important")))
	switch name {
	case "display":
		s.hidden = s.hidden || value == "none"
	case "visibility":
		s.invisible = value == "hidden" || value == "collapse"
	case "stroke-dasharray":
		s.dashed = strings.Trim(value, "0., ") != "" && value != "none"
	case "stroke":
		s.stroke = value
	case "fill":
		s.fill = value
	}
}
