package drawing

import (
	dxfentity "github.com/yofu/dxf/entity"
	dxfformat "github.com/yofu/dxf/format"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/table"

	"kerfold/geom"
)

// centreAnchor centres a text on its point, across and along.
const centreAnchor = dxfentity.CENTER_CENTER

// entityBase is the part of an entity that the DXF library gives every type
// but exports only through them.
type entityBase interface {
	Format(dxfformat.Formatter)
	Handle() int
	SetHandle(*int)
	SetBlockRecord(handle.Handler)
	Layer() *table.Layer
	SetLayer(*table.Layer)
	SetLtscale(float64)
}

// A bulged is an LWPOLYLINE whose segments may be arcs, which the library's
// own type cannot hold.
type bulged struct {
	entityBase
	vertices []geom.Vertex
	closed   bool
}

func newBulged(vs []geom.Vertex, closed bool, layer *table.Layer) *bulged {
	b := &bulged{dxfentity.NewEntity(dxfentity.LWPOLYLINE), vs, closed}
	b.SetLayer(layer)
	return b
}

// IsEntity is for the library's Entity interface.
func (b *bulged) IsEntity() bool { return true }

// Format writes the entity.
func (b *bulged) Format(f dxfformat.Formatter) {
	b.entityBase.Format(f)
	f.WriteString(100, "AcDbPolyline")
	f.WriteInt(90, len(b.vertices))
	flag := 0
	if b.closed {
		flag = 1
	}
	f.WriteInt(70, flag)
	for i, v := range b.vertices {
		f.WriteFloat(10, v.P[0])
		f.WriteFloat(20, v.P[1])
		if v.Bulge != 0 && (b.closed || i+1 < len(b.vertices)) {
			f.WriteFloat(42, v.Bulge)
		}
	}
}

// BBox is for the library's Entity interface; extents are set by WriteDXF.
func (b *bulged) BBox() (mins, maxs []float64) {
	bd := emptyBound()
	for _, v := range b.vertices {
		bd = bd.Extend(v.P)
	}
	return []float64{bd.Min[0], bd.Min[1], 0}, []float64{bd.Max[0], bd.Max[1], 0}
}
