package drawing

import "strings"

// expand draws the document's model onto a draft, in mm.
func expand(doc *document, d *draft, o Options, mmPerUnit float64) {
	d.layers = doc.layers
	p := &pen{
		draft: d, doc: doc, choice: chooseLayers(doc.layers, o, d.log),
		fit: fitter{tol: CurveTolerance, left: d.maximum},
	}
	m := scale3(mmPerUnit, mmPerUnit, mmPerUnit)
	origins := make([]origin, len(doc.model)) // so that the entities themselves can go
	for i := range doc.model {
		e := &doc.model[i]
		origins[i] = e.origin
		if e.paper {
			d.skip(e.typ + onSheet)
			d.log.add(Finding{
				Kind: PaperSpace, Level: Note, Layer: doc.layers[e.layer].name, Line: e.line, Handle: e.name(),
				Text: e.typ + sheetText,
			})
			continue
		}
		p.entity(e, &origins[i], m)
		e.shape = nil // drawn once
	}
	for _, o := range doc.others {
		p.other(o)
	}
}

// entity draws one entity of the model or of a block.
func (p *pen) entity(e *entity, from *origin, m affine3) {
	p.context = p.resolve(e)
	p.from = from
	e.shape.draw(p, m)
}

// resolve finds out what an entity inherits from the inserts it is drawn in,
// and whether it is used.
func (p *pen) resolve(e *entity) context {
	c := context{layer: e.layer, ltype: e.ltype}
	if n := len(p.hosts); n > 0 {
		host := p.hosts[n-1]
		if p.doc.layers[c.layer].name == "0" {
			c.layer = host.layer
		}
		if c.ltype == byBlock {
			c.ltype = host.ltype
		}
		c.passOn = host.passOn
	}
	if c.ltype == byBlock {
		c.ltype = byLayer
	}
	if c.passOn == "" {
		c.passOn = p.hides(e, c.layer)
	}
	c.out = c.passOn
	if c.out == "" {
		c.out = p.choice[c.layer]
	}
	if c.out == "" && p.doc.isDashed(p.ltypeName(c)) {
		c.out = Construction
	}
	return c
}

// hides says why an entity and, where it is an insert, everything inside are
// hidden.
func (p *pen) hides(e *entity, layer int) Kind {
	switch {
	case e.invisible:
		return Invisible
	case p.doc.layers[layer].frozen && p.choice[layer] != "":
		return HiddenLayer
	}
	return ""
}

func (p *pen) ltypeName(c context) string {
	if c.ltype == byLayer {
		return p.doc.layers[c.layer].ltype
	}
	return p.doc.ltypes[c.ltype]
}

// dashedWords are parts of the names that linetypes with a pattern have in
// every drawing program's default set.
var dashedWords = []string{"HIDDEN", "DASH", "CENTER", "CENTRE", "PHANTOM", "DOT", "BORDER", "DIVIDE"}

// isDashed reports whether a linetype has a pattern: as the file declares it,
// else by its name.
func (d *document) isDashed(name string) bool {
	switch name {
	case "", "CONTINUOUS", "BYLAYER", "BYBLOCK":
		return false
	}
	if dashed, ok := d.dashed[name]; ok {
		return dashed
	}
	for _, w := range dashedWords {
		if strings.Contains(name, w) {
			return true
		}
	}
	return false
}
