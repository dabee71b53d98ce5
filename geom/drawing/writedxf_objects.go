package drawing

import (
	"github.com/yofu/dxf/block"
	dxf "github.com/yofu/dxf/drawing"
	dxfformat "github.com/yofu/dxf/format"
	"github.com/yofu/dxf/table"
)

// The library's own drawings carry a second, orphaned sheet layout and a
// dictionary nobody owns; strict readers repair both. tidy replaces them.
func tidy(d *dxf.Drawing) {
	records := d.Sections[dxf.TABLES].(table.Tables)[table.BLOCK_RECORD]
	records.Clear()
	d.Sections[dxf.BLOCKS] = block.Blocks{}
	for _, name := range []string{"*Model_Space", "*Paper_Space"} {
		records.Add(table.NewBlockRecord(name))
		d.Sections[dxf.BLOCKS] = d.Sections[dxf.BLOCKS].(block.Blocks).Add(block.NewBlock(name, ""))
	}
	o := new(objects)
	d.Sections[dxf.OBJECTS] = o
	d.PlotStyle = &o.plain
	d.Layers["0"].SetPlotStyle(d.PlotStyle)
}

// A numbered is a thing with a handle.
type numbered int

// Handle returns the handle.
func (n *numbered) Handle() int { return int(*n) }

// SetHandle takes the next handle.
func (n *numbered) SetHandle(v *int) {
	*n = numbered(*v)
	*v++
}

// objects is the OBJECTS section of a drawing without named objects: the root
// dictionary, the empty group dictionary, and the plot styles with the one
// style that all layers name.
type objects struct {
	root, groups, styles, plain numbered
}

// SetHandle numbers the objects.
func (o *objects) SetHandle(v *int) {
	for _, n := range []*numbered{&o.root, &o.groups, &o.styles, &o.plain} {
		n.SetHandle(v)
	}
}

// Format writes the section.
func (o *objects) Format(f dxfformat.Formatter) {
	f.WriteString(0, "SECTION")
	f.WriteString(2, "OBJECTS")
	dictionary(f, "DICTIONARY", o.root, 0)
	entry(f, "ACAD_GROUP", o.groups)
	entry(f, "ACAD_PLOTSTYLENAME", o.styles)
	dictionary(f, "DICTIONARY", o.groups, o.root)
	dictionary(f, "ACDBDICTIONARYWDFLT", o.styles, o.root)
	entry(f, "Normal", o.plain)
	f.WriteString(100, "AcDbDictionaryWithDefault")
	f.WriteHex(340, int(o.plain))
	f.WriteString(0, "ACDBPLACEHOLDER")
	f.WriteHex(5, int(o.plain))
	f.WriteHex(330, int(o.styles))
	f.WriteString(0, "ENDSEC")
}

func dictionary(f dxfformat.Formatter, kind string, self, owner numbered) {
	f.WriteString(0, kind)
	f.WriteHex(5, int(self))
	f.WriteHex(330, int(owner))
	f.WriteString(100, "AcDbDictionary")
	f.WriteInt(281, 1)
}

func entry(f dxfformat.Formatter, name string, n numbered) {
	f.WriteString(3, name)
	f.WriteHex(350, int(n))
}
