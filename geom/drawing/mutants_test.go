package drawing

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime/metrics"
	"strconv"
	"testing"
	"time"
)

// Bounds that every reading must keep, whatever the data.
const (
	mutantSeconds = 2.0 * slowdown
	mutantMemory  = 64 << 20 // bytes, and 20 times the file's size
)

// TestMutants reads spoilt copies of the reference drawings. By default it
// tries a few hundred; KERFOLD_MUTANTS sets another number (100000 is the full
// trial, about half an hour of processor time), KERFOLD_MUTANT_SEED another
// start.
func TestMutants(t *testing.T) {
	count := envInt("KERFOLD_MUTANTS", 240)
	seed := uint64(envInt("KERFOLD_MUTANT_SEED", 1))
	var sources [][]byte
	for _, name := range corpus(t) {
		data, err := os.ReadFile(filepath.Join(corpusDir(t), name))
		if err != nil {
			t.Fatal(err)
		}
		sources = append(sources, data)
	}
	var worst struct {
		seconds, share float64 // share of the memory allowed
		slowest, most  int
	}
	for i := range count {
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		data := mutate(rng, sources[i%len(sources)], sources[rng.IntN(len(sources))])
		stop := time.AfterFunc(5*time.Minute, func() { panic("mutant " + strconv.Itoa(i) + " hangs") })
		before, start := allocated(), cpuTime()
		in, err := Read("mutant", data, Options{})
		seconds, memory := (cpuTime() - start).Seconds(), allocated()-before
		stop.Stop()
		if err == nil {
			checkIntake(t, in)
		}
		share := float64(memory) / float64(mutantMemory+20*len(data))
		if seconds > worst.seconds {
			worst.seconds, worst.slowest = seconds, i
		}
		if share > worst.share {
			worst.share, worst.most = share, i
		}
		if seconds > mutantSeconds || share > 1 {
			t.Errorf("mutant %d of seed %d, %d bytes: %.2f s of processor time, %d bytes allocated", i, seed, len(data), seconds, memory)
		}
		if t.Failed() {
			t.Fatalf("stopped at mutant %d of seed %d", i, seed)
		}
		if i%10000 == 9999 {
			t.Logf("%d read; slowest so far %.2f s (mutant %d), most memory %.0f %% of what is allowed (mutant %d)", i+1, worst.seconds, worst.slowest, 100*worst.share, worst.most)
		}
	}
	t.Logf("%d mutants: none panicked; slowest %.2f s of processor time (mutant %d); most memory %.0f %% of 64 MiB + 20 × size (mutant %d)",
		count, worst.seconds, worst.slowest, 100*worst.share, worst.most)
}

func envInt(name string, otherwise int) int {
	if v, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return v
	}
	return otherwise
}

// allocated is all memory ever taken from the heap: its growth over a call
// bounds from above what the call can have held at once.
func allocated() uint64 {
	s := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	metrics.Read(s)
	return s[0].Value.Uint64()
}

// mutate spoils a copy of a file in one to eight ways.
func mutate(rng *rand.Rand, src, other []byte) []byte {
	data := bytes.Clone(src)
	for range 1 + rng.IntN(8) {
		if len(data) == 0 {
			return data
		}
		data = mutations[rng.IntN(len(mutations))](rng, data, other)
	}
	return data
}

// nasty are values that readers stumble over.
var nasty = []string{
	"nan", "inf", "-1", "0", "1e308", "-1e308", "1e-300", "99999999999", "2147483647", "-2147483648", "65536", "1,5",
	"", "SECTION", "ENDSEC", "EOF", "BLOCK", "INSERT", "POLYLINE", "VERTEX", "SPLINE", "10", "70", "*Model_Space", "\x00\xff",
}

var mutations = []func(rng *rand.Rand, data, other []byte) []byte{
	func(rng *rand.Rand, data, _ []byte) []byte { // a byte becomes another
		data[rng.IntN(len(data))] = byte(rng.IntN(256))
		return data
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a bit flips
		data[rng.IntN(len(data))] ^= 1 << rng.IntN(8)
		return data
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // the file breaks off
		return data[:rng.IntN(len(data))]
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a stretch is lost
		a, b := stretch(rng, data)
		return append(data[:a], data[b:]...)
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a stretch comes twice, or many times
		a, b := stretch(rng, data)
		times := 1
		if b-a < 200 {
			times = 1 + rng.IntN(200)
		}
		return splice(data, b, bytes.Repeat(data[a:b], times))
	},
	func(rng *rand.Rand, data, other []byte) []byte { // a stretch of another file
		a, b := stretch(rng, other)
		return splice(data, rng.IntN(len(data)), other[a:b])
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a line says something else
		a, b := line1(rng, data)
		return append(data[:a:a], append([]byte(nasty[rng.IntN(len(nasty))]), data[b:]...)...)
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a line says what another says
		a, b := line1(rng, data)
		c, d := line1(rng, data)
		return append(data[:a:a], append(bytes.Clone(data[c:d]), data[b:]...)...)
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a line is lost
		a, b := line1(rng, data)
		return append(data[:a], data[min(b+1, len(data)):]...)
	},
	func(rng *rand.Rand, data, _ []byte) []byte { // a digit changes, many times
		for range 20 {
			if i := rng.IntN(len(data)); data[i] >= '0' && data[i] <= '9' {
				data[i] = byte('0' + rng.IntN(10))
			}
		}
		return data
	},
}

// stretch picks a part of the data, mostly short.
func stretch(rng *rand.Rand, data []byte) (a, b int) {
	a = rng.IntN(len(data))
	n := 1 << rng.IntN(14)
	return a, min(len(data), a+1+rng.IntN(n))
}

// line1 picks a line.
func line1(rng *rand.Rand, data []byte) (a, b int) {
	at := rng.IntN(len(data))
	a = bytes.LastIndexByte(data[:at], '\n') + 1
	if n := bytes.IndexByte(data[at:], '\n'); n >= 0 {
		return a, at + n
	}
	return a, len(data)
}

func splice(data []byte, at int, in []byte) []byte {
	out := make([]byte, 0, len(data)+len(in))
	return append(append(append(out, data[:at]...), in...), data[at:]...)
}

// checkIntake asserts what must hold of every intake.
func checkIntake(t *testing.T, in Intake) {
	t.Helper()
	for i, p := range in.Parts {
		if a := p.Outer.Area(); !(a > 0) {
			t.Errorf("part %d: outer area %v, want positive", i, a)
		}
		for k, h := range p.Holes {
			if a := h.Area(); !(a < 0) {
				t.Errorf("part %d hole %d: area %v, want negative", i, k, a)
			}
		}
		for _, c := range append(p.Holes[:len(p.Holes):len(p.Holes)], p.Outer) {
			for _, v := range c {
				checkVertex(t, v)
			}
		}
	}
	for _, c := range in.Open {
		if len(c) < 2 {
			t.Errorf("open chain of %d vertices", len(c))
		}
		for _, v := range c {
			checkVertex(t, v)
		}
	}
	for _, f := range in.Findings {
		if f.Kind == "" || f.Text == "" || f.Count < 1 || f.HasAt && !finite(f.At[0], f.At[1]) {
			t.Errorf("finding %+v is incomplete", f)
		}
	}
	if !in.Closed() && in.Worst() != Problem {
		t.Errorf("not every contour closes, but no problem is named: %s", in.Verdict())
	}
}

func checkVertex(t *testing.T, v vertex) {
	t.Helper()
	p := v.P
	if !within(p, 1<<20) || p[0]*(1<<20) != float64(int64(p[0]*(1<<20))) || p[1]*(1<<20) != float64(int64(p[1]*(1<<20))) || !finite(v.Bulge) {
		t.Errorf("vertex %v is not finite, out of range or off the grid", v)
	}
}
