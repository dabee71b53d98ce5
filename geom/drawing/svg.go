package drawing

import (
	"errors"
	"strings"

	"github.com/paulmach/orb"
)

// topLayer is the name of the layer of SVG elements outside any group.
const topLayer = "(top)"

// maxDepth bounds how deep elements may be nested.
const maxDepth = 200

// An svgReader draws the elements of an SVG file.
type svgReader struct {
	pen
	ids    map[string]*element
	layers map[*element]int // groups that are layers
	depth  int
}

// A svgState is what elements inherit.
type svgState struct {
	m            affine2 // user units to mm, y up
	layer        int
	viewW, viewH float64 // viewport in user units, for percentages
	style        svgStyle
	layerOff     bool // hidden together with its layer
}

// readSVG draws an SVG file onto the draft.
func readSVG(data []byte, d *draft, o Options) (Intake, error) {
	root, err := parseXML(data, d.log)
	if err != nil {
		return Intake{}, err
	}
	svg := root.find("svg")
	if svg == nil {
		return Intake{}, errors.New("no <svg> element found")
	}
	r := &svgReader{ids: map[string]*element{}, layers: map[*element]int{}}
	r.draft = d
	r.fit = fitter{tol: CurveTolerance, left: d.maximum}
	r.index(svg)
	d.addLayer(layer{name: topLayer})
	r.findLayers(svg, true, false)
	r.choice = chooseLayers(d.layers, o, d.log)
	in := Intake{Format: "SVG"}
	var view viewport
	view, in.Units, in.UnitsFrom = rootViewport(svg, o)
	r.children(svg, svgState{m: view.m, viewW: view.w, viewH: view.h, style: newSVGStyle().inherit(svg)})
	return in, nil
}

// index notes the elements that have an id.
func (r *svgReader) index(e *element) {
	if id := e.get("id"); id != "" && r.ids[id] == nil {
		r.ids[id] = e
	}
	for _, k := range e.kids {
		r.index(k)
	}
}

// findLayers makes a layer of every group that a drawing program marked as
// one, and of every group with an id directly below the root.
func (r *svgReader) findLayers(e *element, top, hidden bool) {
	for _, k := range e.kids {
		if k.name != "g" {
			continue
		}
		off := hidden || newSVGStyle().inherit(k).hidden
		name := k.get("label")
		marked := k.get("groupmode") == "layer"
		if name == "" {
			name = k.get("id")
		}
		if name != "" && (marked || top) {
			r.layers[k] = r.draft.addLayer(layer{name: name, off: off})
		}
		r.findLayers(k, false, off)
	}
}

// undrawn are elements whose content is not shown where it stands.
var undrawn = map[string]bool{
	"defs": true, "symbol": true, "clipPath": true, "mask": true, "pattern": true, "marker": true,
	"linearGradient": true, "radialGradient": true, "filter": true, "metadata": true, "title": true,
	"desc": true, "script": true, "style": true, "namedview": true,
}

// svgAnnotation are elements that show no outline.
var svgAnnotation = map[string]bool{"text": true, "image": true, "foreignObject": true}

func (r *svgReader) children(e *element, st svgState) {
	if r.depth >= maxDepth {
		r.draft.log.add(Finding{Kind: TooMuch, Level: Problem, Line: e.line, Text: "elements are nested too deep; what lies deeper was left out"})
		return
	}
	r.depth++
	for _, k := range e.kids {
		if !undrawn[k.name] {
			r.element(k, st)
		}
	}
	r.depth--
}

// element draws one element and what is in it.
func (r *svgReader) element(e *element, st svgState) {
	if r.draft.copying && r.spent() {
		r.tooMuch()
		return
	}
	st.style = st.style.inherit(e)
	if id, ok := r.layers[e]; ok {
		st.layer, st.layerOff = id, r.draft.layers[id].off
	}
	st.m = st.m.after(parseTransform(e.get("transform")))
	if e.get("clip-path") != "" || e.get("mask") != "" {
		r.draft.log.add(Finding{Kind: Clipped, Level: Suspect, Line: e.line, Layer: r.draft.layers[st.layer].name, Text: "an element is clipped; the clip was ignored and the whole element taken"})
	}
	switch {
	case e.name == "g" || e.name == "a" || e.name == "switch":
		r.children(e, st)
	case e.name == "svg":
		r.children(e, st.nested(e))
	case e.name == "use":
		r.use(e, st)
	case svgAnnotation[e.name]:
		r.draft.skip(e.name)
		r.draft.log.add(Finding{Kind: Annotation, Level: Note, Line: e.line, Layer: r.draft.layers[st.layer].name, Text: e.name + " is annotation; left out: text to be cut must be turned into paths"})
	default:
		r.shape(e, st)
	}
}

// use draws the element that a use element points to.
func (r *svgReader) use(e *element, st svgState) {
	target := r.ids[strings.TrimPrefix(e.get("href"), "#")]
	if target == nil || r.depth >= maxNesting {
		r.draft.log.add(Finding{Kind: BlockMissing, Level: Problem, Line: e.line, Text: "a use element points to nothing in the file, or to itself; left out"})
		return
	}
	was := r.draft.copying
	r.draft.copying = true
	r.depth++
	x, y := st.length(e, "x", st.viewW), st.length(e, "y", st.viewH)
	st.m = st.m.after(affine2{orb.Point{1, 0}, orb.Point{0, 1}, orb.Point{x, y}})
	if target.name == "symbol" {
		r.children(target, st.nested(target))
	} else {
		r.element(target, st)
	}
	r.depth--
	r.draft.copying = was
}

// why says why an element is left out, "" where it is used.
func (r *svgReader) why(st svgState) Kind {
	switch {
	case st.layerOff || r.choice[st.layer] != "":
		return r.choice[st.layer]
	case st.style.hidden || st.style.invisible || st.style.stroke == "none" && st.style.fill == "none":
		return Invisible
	case st.style.dashed:
		return Construction
	}
	return ""
}

// shape draws an element that has an outline.
func (r *svgReader) shape(e *element, st svgState) {
	if !svgShapes[e.name] {
		return
	}
	r.context = context{from: &origin{typ: e.name, line: e.line}, layer: st.layer, out: r.why(st)}
	t := &trail{pen: &r.pen, m: st.m}
	ok := true
	switch e.name {
	case "path":
		ok = t.path(e.get("d"))
	case "polyline", "polygon":
		ok = t.points(e.get("points"), e.name == "polygon")
	case "line":
		t.moveTo(orb.Point{st.length(e, "x1", st.viewW), st.length(e, "y1", st.viewH)})
		t.lineTo(orb.Point{st.length(e, "x2", st.viewW), st.length(e, "y2", st.viewH)})
	case "rect":
		t.rect(st.rect(e))
	case "circle", "ellipse":
		t.ellipse(st.ellipse(e))
	}
	t.finish(false)
	r.noteFitted()
	if t.count > 0 {
		r.draft.entities[e.name]++
	}
	if !ok {
		r.draft.log.add(Finding{Kind: BadEntity, Level: Problem, Line: e.line, Layer: r.draft.layers[st.layer].name, Text: e.name + " holds something that is no number or command; it was read up to there"})
	}
}

var svgShapes = map[string]bool{
	"path": true, "rect": true, "circle": true, "ellipse": true, "line": true, "polyline": true, "polygon": true,
}
