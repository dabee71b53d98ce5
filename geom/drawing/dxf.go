package drawing

import "strings"

// A document is a parsed DXF file: what it declares and the entities of its
// model and blocks, not yet expanded.
type document struct {
	version  string // "AC1015"; "" where the header does not say
	codePage string
	units    int // $INSUNITS; 0 where not given
	metric   int // $MEASUREMENT; -1 where not given
	layers   []layer
	layerIDs map[string]int // by the bytes of the name, and by its capitals
	dashed   map[string]bool
	ltypes   []string
	ltypeIDs map[string]int
	blocks   map[string]*blockDef
	model    []entity
	skipped  map[string]int // entities of the model that draw no outline
}

// A blockDef is a named group of entities.
type blockDef struct {
	name     string
	base     vec3
	external bool // lives in another file
	entities []entity
	open     bool // being expanded
}

// An entity is one thing drawn, in the coordinates of its block or the model.
type entity struct {
	origin
	layer     int
	ltype     int // index into ltypes, or byLayer, byBlock
	paper     bool
	invisible bool
	shape     shape
}

const (
	byLayer = -1
	byBlock = -2
)

// A parser reads a DXF file record by record. A record is a group with code 0
// and the groups up to the next one: an entity, a table entry, a section's
// head.
type parser struct {
	*tags
	doc     *document
	log     *log
	section string
	block   *blockDef // being read; nil outside BLOCKS
	poly    *waiting  // POLYLINE waiting for its vertices
	rec     record
	ahead   tag // the next record's first group
	more    bool
	names   map[string]string // type names met, each held once
}

// A record is reused from one to the next.
type record struct {
	typ  string
	line int
	tags []tag
}

// parseDXF reads a whole file. It finds what it can; the log says what it
// could not.
func parseDXF(data []byte, f format, l *log) *document {
	p := &parser{
		tags: newTags(data, f, l), log: l, names: map[string]string{},
		doc: &document{
			metric: -1, layerIDs: map[string]int{}, dashed: map[string]bool{}, ltypeIDs: map[string]int{},
			blocks: map[string]*blockDef{}, skipped: map[string]int{},
		},
	}
	p.start()
	for p.read() {
		if p.rec.typ == "EOF" {
			p.section = "EOF"
			break
		}
		p.take()
	}
	p.finishPolyline()
	if p.section != "EOF" && p.section != "" {
		l.add(Finding{Kind: Truncated, Level: Suspect, Line: p.line, Text: "the file ends without its end mark: part of the drawing may be missing"})
	}
	if p.comma {
		l.add(Finding{Kind: BadNumber, Level: Note, Text: "decimal commas were read as points"})
	}
	return p.doc
}

// start moves to the first record.
func (p *parser) start() {
	for {
		p.ahead, p.more = p.next()
		if !p.more || p.ahead.code == 0 {
			return
		}
	}
}

// read gathers the next record.
func (p *parser) read() bool {
	if !p.more {
		return false
	}
	p.rec.typ, p.rec.line, p.rec.tags = p.intern(p.bytes(p.ahead)), p.tags.line, p.rec.tags[:0]
	for {
		p.ahead, p.more = p.next()
		if !p.more || p.ahead.code == 0 {
			return true
		}
		p.rec.tags = append(p.rec.tags, p.ahead)
	}
}

// intern returns a type name in capitals, the same string for the same bytes.
func (p *parser) intern(b []byte) string {
	if s, ok := p.names[string(b)]; ok {
		return s
	}
	s := strings.ToUpper(strings.ToValidUTF8(string(b[:min(len(b), 64)]), "?"))
	if len(p.names) < 1000 {
		p.names[string(b)] = s
	}
	return s
}

// take puts the current record where it belongs.
func (p *parser) take() {
	switch p.rec.typ {
	case "SECTION":
		p.openSection()
	case "ENDSEC":
		p.finishPolyline()
		p.section, p.block = "END", nil
	default:
		switch p.section {
		case "TABLES":
			p.takeTableEntry()
		case "BLOCKS":
			p.takeBlock()
		case "ENTITIES", "", "END": // files without sections hold bare entities
			p.takeEntity()
		}
	}
}

func (p *parser) openSection() {
	p.finishPolyline()
	p.block = nil
	p.section = "?"
	if len(p.rec.tags) == 0 || p.rec.tags[0].code != 2 {
		return
	}
	p.section = strings.ToUpper(string(p.bytes(p.rec.tags[0])))
	if p.section == "HEADER" {
		p.takeHeader()
	}
}

// takeHeader reads the variables that matter to us.
func (p *parser) takeHeader() {
	var variable string
	for _, g := range p.rec.tags[1:] {
		switch {
		case g.code == 9:
			variable = p.intern(p.bytes(g))
		case variable == "$ACADVER" && g.code == 1:
			p.doc.version = string(p.bytes(g))
		case variable == "$DWGCODEPAGE" && g.code == 3:
			p.doc.codePage = string(p.bytes(g))
		case variable == "$INSUNITS" && g.code == 70:
			p.doc.units = p.int(g)
		case variable == "$MEASUREMENT" && g.code == 70:
			p.doc.metric = p.int(g)
		}
	}
}

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

// text decodes a name.
func (p *parser) text(g tag) string { return decodeName(p.bytes(g), p.doc.codePage) }

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
