package drawing

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// plateDXF writes a large drawing as programs of the R2000 format do: plates
// with round holes, slots of lines and arcs, and outlines of polylines.
func plateDXF(plates int) []byte {
	var b bytes.Buffer
	handle := 0x100
	head := func(typ, sub string) {
		fmt.Fprintf(&b, "  0\r\n%s\r\n  5\r\n%X\r\n330\r\n1F\r\n100\r\nAcDbEntity\r\n  8\r\nCUT\r\n100\r\n%s\r\n", typ, handle, sub)
		handle++
	}
	pt := func(code int, x, y float64) {
		fmt.Fprintf(&b, " %d\r\n%.14f\r\n %d\r\n%.14f\r\n", code, x, code+10, y)
	}
	line := func(x0, y0, x1, y1 float64) {
		head("LINE", "AcDbLine")
		pt(10, x0, y0)
		b.WriteString(" 30\r\n0.0\r\n")
		pt(11, x1, y1)
		b.WriteString(" 31\r\n0.0\r\n")
	}
	arc := func(x, y, r, a0, a1 float64) {
		head("ARC", "AcDbCircle")
		pt(10, x, y)
		fmt.Fprintf(&b, " 30\r\n0.0\r\n 40\r\n%.14f\r\n100\r\nAcDbArc\r\n 50\r\n%.10f\r\n 51\r\n%.10f\r\n", r, a0, a1)
	}
	b.WriteString("  0\r\nSECTION\r\n  2\r\nHEADER\r\n  9\r\n$ACADVER\r\n  1\r\nAC1015\r\n  9\r\n$INSUNITS\r\n 70\r\n     4\r\n  0\r\nENDSEC\r\n  0\r\nSECTION\r\n  2\r\nENTITIES\r\n")
	for k := range plates {
		x, y := float64(k%40)*210, float64(k/40)*110
		head("LWPOLYLINE", "AcDbPolyline")
		b.WriteString(" 90\r\n        4\r\n 70\r\n     1\r\n 43\r\n0.0\r\n")
		for _, c := range [4][2]float64{{0, 0}, {200, 0}, {200, 100}, {0, 100}} {
			pt(10, x+c[0], y+c[1])
		}
		for i := range 8 {
			head("CIRCLE", "AcDbCircle")
			pt(10, x+15+float64(i)*24.123456789, y+20.987654321)
			fmt.Fprintf(&b, " 30\r\n0.0\r\n 40\r\n%.14f\r\n", 4+float64(i)/math.Pi)
		}
		for i := range 4 {
			u, v := x+20+float64(i)*45+1/3.0, y+60+1/7.0
			line(u, v, u+20, v)
			arc(u+20, v+5, 5, 270, 90)
			line(u+20, v+10, u, v+10)
			arc(u, v+5, 5, 90, 270)
		}
	}
	b.WriteString("  0\r\nENDSEC\r\n  0\r\nEOF\r\n")
	return b.Bytes()
}

// perCPU reports bytes read per second of processor time, which a busy machine
// does not spoil as it does the clock.
func perCPU(b *testing.B, size int) func() {
	b.SetBytes(int64(size))
	b.ReportAllocs()
	start := cpuTime()
	return func() {
		b.ReportMetric(float64(b.N)*float64(size)/1e6/(cpuTime()-start).Seconds(), "MB/cpu-s")
	}
}

// BenchmarkReadDXF reads from bytes to parts, healing included.
func BenchmarkReadDXF(b *testing.B) {
	data := plateDXF(1000)
	defer perCPU(b, len(data))()
	for b.Loop() {
		in, err := Read("plates.dxf", data, Options{})
		if err != nil || len(in.Parts) != 1000 || in.Contours() != 13000 || !in.Closed() {
			b.Fatalf("%v, %d parts, %d contours", err, len(in.Parts), in.Contours())
		}
	}
}

// BenchmarkReadCorpus reads the ASCII drawings of the reference set.
func BenchmarkReadCorpus(b *testing.B) {
	var files [][]byte
	total := 0
	for _, name := range corpus(b) {
		data, err := os.ReadFile(filepath.Join(corpusDir(b), name))
		if err != nil {
			b.Fatal(err)
		}
		if !strings.HasPrefix(string(data), binarySentinel) {
			files = append(files, data)
			total += len(data)
		}
	}
	defer perCPU(b, total)()
	for b.Loop() {
		for _, data := range files {
			_, _ = Read("", data, Options{})
		}
	}
}
