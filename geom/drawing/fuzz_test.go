package drawing

import (
	"math"
	"strings"
	"testing"
)

// FuzzReadDXF asserts that whatever is read as a DXF keeps an intake's
// promises.
func FuzzReadDXF(f *testing.F) { fuzzRead(f, ".dxf") }

// FuzzReadSVG asserts the same of SVG.
func FuzzReadSVG(f *testing.F) { fuzzRead(f, ".svg") }

func fuzzRead(f *testing.F, suffix string) {
	for _, name := range testdata(f) {
		if strings.HasSuffix(name, suffix) && name != "block-flood.dxf" { // slow on purpose
			f.Add(readFile(f, name), 0.0, false)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte, join float64, refuse bool) {
		if !(join >= minJoin && join <= maxJoin) {
			join = 0
		}
		before := allocated()
		in, err := Read("fuzz", data, Options{JoinTolerance: join, RefuseIslands: refuse})
		if used := allocated() - before; used > mutantMemory+20*uint64(len(data)) {
			t.Errorf("%d bytes allocated for %d bytes of data", used, len(data))
		}
		if err == nil {
			checkIntake(t, in)
		}
	})
}

// FuzzParseDecimal compares the quick reading of decimals with the standard
// library's, bit for bit.
func FuzzParseDecimal(f *testing.F) {
	for _, s := range []string{"0", "-0.0", "1.", ".5", "+12.3456789", "123456789012345", "0.00000000000000000000012", "1e5", "--1", ".", "-", "9007199254740993", "0.1", "1.7976931348623157"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, ok := parseDecimal([]byte(s))
		if !ok {
			return
		}
		want, err := parseStandard(s)
		if err != nil || math.Float64bits(got) != math.Float64bits(want) {
			t.Errorf("%q read as %v, want %v (%v)", s, got, want, err)
		}
	})
}
