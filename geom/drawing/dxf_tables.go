package drawing

import "strings"

// takeTableEntry reads layers and linetypes.
func (p *parser) takeTableEntry() {
	switch p.rec.typ {
	case "LAYER":
		p.takeLayer()
	case "LTYPE":
		p.takeLineType()
	}
}

func (p *parser) takeLayer() {
	name, ltype, flags, colour := tag{}, tag{}, 0, 1
	for _, g := range p.rec.tags {
		switch g.code {
		case 2:
			name = g
		case 6:
			ltype = g
		case 70:
			flags = p.int(g)
		case 62:
			colour = p.int(g)
		}
	}
	l := &p.doc.layers[p.layerID(name)]
	l.frozen = flags&1 != 0
	l.off = colour < 0
	if ltype.code == 6 {
		l.ltype = strings.ToUpper(p.text(ltype))
	}
}

// takeLineType notes whether a linetype has a pattern.
func (p *parser) takeLineType() {
	name, elements := "", 0
	for _, g := range p.rec.tags {
		switch g.code {
		case 2:
			name = strings.ToUpper(p.text(g))
		case 73:
			elements = p.int(g)
		}
	}
	if name != "" && len(p.doc.dashed) < 10000 {
		p.doc.dashed[name] = elements > 0
	}
}

// layerID returns the place of a layer, making it when it is new. Layer names
// compare without case.
func (p *parser) layerID(g tag) int {
	raw := p.bytes(g)
	if id, ok := p.doc.layerIDs[string(raw)]; ok {
		return id
	}
	name := p.text(g)
	if name == "" {
		name = "0" // the default of the format
	}
	key := "\x00" + strings.ToUpper(name) // apart from raw names
	id, ok := p.doc.layerIDs[key]
	if !ok {
		id = len(p.doc.layers)
		p.doc.layers = append(p.doc.layers, layer{name: name})
		p.doc.layerIDs[key] = id
	}
	p.doc.layerIDs[string(raw)] = id
	return id
}

// ltypeID returns the place of a linetype name.
func (p *parser) ltypeID(g tag) int {
	if p.is(g, "BYLAYER") {
		return byLayer
	}
	if p.is(g, "BYBLOCK") {
		return byBlock
	}
	raw := p.bytes(g)
	if id, ok := p.doc.ltypeIDs[string(raw)]; ok {
		return id
	}
	id := len(p.doc.ltypes)
	p.doc.ltypes = append(p.doc.ltypes, strings.ToUpper(p.text(g)))
	p.doc.ltypeIDs[string(raw)] = id
	return id
}

// takeBlock reads the BLOCKS section: a head, entities, an end.
func (p *parser) takeBlock() {
	switch p.rec.typ {
	case "BLOCK":
		p.finishPolyline()
		p.openBlock()
	case "ENDBLK":
		p.finishPolyline()
		p.block = nil
	default:
		if p.block != nil {
			p.takeEntity()
		}
	}
}

func (p *parser) openBlock() {
	b := &blockDef{}
	for _, g := range p.rec.tags {
		switch g.code {
		case 2:
			b.name = p.text(g)
		case 10, 20, 30:
			b.base[g.code/10-1], _ = p.float(g)
		case 70:
			b.external = p.int(g)&4 != 0
		}
	}
	key := strings.ToUpper(b.name)
	if _, taken := p.doc.blocks[key]; !taken {
		p.doc.blocks[key] = b
	}
	p.block = b
}
