package drawing

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// chooseLayers says for each layer why it is left out, "" where it is used.
// What the job names wins over what the drawing hides.
func chooseLayers(layers []layer, o Options, l *log) []Kind {
	out := make([]Kind, len(layers))
	for i, ly := range layers {
		switch {
		case named(o.Exclude, ly.name):
			out[i] = LayerExcluded
		case named(o.Layers, ly.name):
		case len(o.Layers) > 0:
			out[i] = LayerExcluded
		case ly.off || ly.frozen:
			out[i] = HiddenLayer
		case annotationName(ly.name):
			out[i] = AnnotationLayer
		}
	}
	for _, want := range slices.Concat(o.Layers, o.Exclude) {
		has := func(ly layer) bool { return strings.EqualFold(ly.name, want) }
		if !slices.ContainsFunc(layers, has) {
			l.add(Finding{Kind: LayerUnknown, Level: Suspect, Layer: want, Text: "the job names layer " + strconv.Quote(want) + ", which the drawing does not have"})
		}
	}
	return out
}

func named(names []string, name string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, name) })
}

// annotationWords are words that, where a layer's name has no others, say that
// the layer talks about the part. Common practice, and the layer for
// dimension points that DXF never plots.
var annotationWords = map[string]bool{
	"dim": true, "dims": true, "dimension": true, "dimensions": true, "dimensioning": true,
	"text": true, "texts": true, "note": true, "notes": true, "anno": true, "annotation": true, "annotations": true,
	"title": true, "titleblock": true, "block": true, "border": true, "hatch": true, "hatching": true,
	"center": true, "centre": true, "centers": true, "centres": true, "centerline": true, "centreline": true,
	"centerlines": true, "centrelines": true, "line": true, "lines": true, "construction": true, "defpoints": true,
}

// plainWords are those among them that mean nothing alone: a layer "lines"
// holds outlines as likely as not.
var plainWords = map[string]bool{"block": true, "line": true, "lines": true}

// annotationName reports whether a layer's name says annotation and nothing
// else.
func annotationName(name string) bool {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
	telling := false
	for _, w := range words {
		if !annotationWords[w] {
			return false
		}
		telling = telling || !plainWords[w]
	}
	return telling
}

// keepSomething takes construction lines and annotation layers back in where
// without them nothing would be left, and not because the job left something
// out: then they are the outline.
func (d *draft) keepSomething(o Options) {
	reasons := []Kind{"", Construction, AnnotationLayer}
	if len(o.Exclude) > 0 {
		reasons = nil
	}
	for _, why := range reasons {
		some := false
		for i := range d.strokes {
			if d.strokes[i].out == why {
				d.strokes[i].out = ""
				some = true
			}
		}
		if !some {
			continue
		}
		if why != "" {
			d.log.add(Finding{Kind: why, Level: Suspect, Text: "all there is to cut is drawn " + madeOf[why] + "; it was taken as the outline"})
		}
		break
	}
	d.reportLeftOut()
}

// madeOf says how something left out is drawn.
var madeOf = map[Kind]string{
	Construction: "in dashed linetypes", AnnotationLayer: "on layers named for annotation",
	HiddenLayer: "on a layer that is off or frozen", LayerExcluded: "on a layer that the job leaves out",
	Invisible: "invisible",
}

// reportLeftOut says for each layer what was left out and why.
func (d *draft) reportLeftOut() {
	for _, s := range d.strokes {
		if s.out == "" {
			continue
		}
		level := Note
		if s.out == Construction || s.out == AnnotationLayer {
			level = Suspect
		}
		d.log.add(Finding{
			Kind: s.out, Level: level, Layer: d.layers[s.layer].name, Line: s.from.line, Handle: s.from.name(),
			Text: s.from.typ + " is drawn " + madeOf[s.out] + "; left out",
		})
	}
}

// layerUse counts for each layer what is on it and what was used.
func (d *draft) layerUse() []LayerUse {
	out := make([]LayerUse, len(d.layers))
	why := make([][]string, len(d.layers))
	for i, l := range d.layers {
		out[i].Name = l.name
	}
	for _, s := range d.strokes {
		u := &out[s.layer]
		u.Entities++
		if s.out == "" {
			u.Kept++
		} else if w := d.whyOut(s); !slices.Contains(why[s.layer], w) {
			why[s.layer] = append(why[s.layer], w)
		}
	}
	for i := range out {
		out[i].Why = strings.Join(why[i], ", ")
	}
	return out
}

// whyOut says in a few words why a stroke is left out.
func (d *draft) whyOut(s stroke) string {
	switch {
	case s.out == HiddenLayer && d.layers[s.layer].off:
		return "off"
	case s.out == HiddenLayer && d.layers[s.layer].frozen:
		return "frozen"
	case s.out == HiddenLayer:
		return "in a frozen block"
	}
	return "drawn " + madeOf[s.out]
}
