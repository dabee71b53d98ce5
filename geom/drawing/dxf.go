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
	others   others
}

// A blockDef is a named group of entities.
type blockDef struct {
	name     string
	base     vec3
	external bool // lives in another file
	entities []entity
	others   others
	open     bool // being expanded
}

// others are entities that draw no outline, those of one type and layer
// together: drawings can hold millions of them.
type others []*otherEntities

type otherEntities struct {
	origin // of the first
	layer  int
	paper  bool
	role   role
	count  int
}

// An otherKey tells entities that are counted together.
type otherKey struct {
	block *blockDef
	typ   string
	layer int
	paper bool
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
	others  map[otherKey]*otherEntities
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
		tags: newTags(data, f, l), log: l, names: map[string]string{}, others: map[otherKey]*otherEntities{},
		doc: &document{
			metric: -1, layerIDs: map[string]int{}, dashed: map[string]bool{}, ltypeIDs: map[string]int{},
			blocks: map[string]*blockDef{},
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

// text decodes a name.
func (p *parser) text(g tag) string { return decodeName(p.bytes(g), p.doc.codePage) }
