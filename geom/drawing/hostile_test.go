package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"testing"
	"time"
)

// hostile drawings ask for as much as few bytes can: each must end soon, in
// memory proportional to its size, and say what it could not do. They are made
// smaller by a scale, and in full size where the full trial of mutants is asked
// for.
func hostile(scale int) map[string][]byte {
	ents := func(body string) []byte {
		return []byte("0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n")
	}
	line := func(x0, y0, x1, y1 float64) string {
		return fmt.Sprintf("0\nLINE\n10\n%g\n20\n%g\n11\n%g\n21\n%g\n", x0, y0, x1, y1)
	}
	many := func(n int, f func(i int) string) string {
		var b strings.Builder
		for i := range n / scale {
			b.WriteString(f(i))
		}
		return b.String()
	}
	rng := rand.New(rand.NewPCG(1, 1))
	rnd := func() float64 { return 1000 * rng.Float64() }
	grid := many(150, func(i int) string {
		return many(150, func(k int) string {
			x, y := float64(i), float64(k)
			return line(x, y, x+1, y) + line(x, y, x, y+1)
		})
	})
	zigzag := "0\nLWPOLYLINE\n70\n1\n" + many(20000, func(i int) string { return fmt.Sprintf("10\n%g\n20\n%g\n", rnd(), rnd()) })
	lap := "0\nLWPOLYLINE\n70\n1\n" + many(40000, func(i int) string {
		s, c := math.Sincos(float64(i%7) * 2 * math.Pi / 7)
		return fmt.Sprintf("10\n%g\n20\n%g\n", 50*c, 50*s)
	})
	spline := "0\nSPLINE\n71\n3\n" + many(2004, func(i int) string { return fmt.Sprintf("40\n%d\n", i) }) +
		many(2000, func(i int) string { return fmt.Sprintf("10\n%g\n20\n%g\n", 1000*rnd(), 1000*rnd()) })
	return map[string][]byte{
		"lines on one another":    ents(many(40000, func(int) string { return line(0, 0, 10, 0) })),
		"lines through one point": ents(many(40000, func(i int) string { return line(0, 0, 100*math.Cos(float64(i)), 100*math.Sin(float64(i))) })),
		"lines at random":         ents(many(40000, func(int) string { return line(rnd(), rnd(), rnd(), rnd()) })),
		"a net of lines":          ents(grid),
		"circles within circles":  ents(many(20000, func(i int) string { return fmt.Sprintf("0\nCIRCLE\n10\n0\n20\n0\n40\n%g\n", 1+float64(i)/20) })),
		"circles across circles":  ents(many(20000, func(i int) string { return fmt.Sprintf("0\nCIRCLE\n10\n%g\n20\n0\n40\n50\n", float64(i)/200) })),
		"circles at random":       ents(many(20000, func(i int) string { return fmt.Sprintf("0\nCIRCLE\n10\n%g\n20\n%g\n40\n%g\n", rnd(), rnd(), rnd()/4) })),
		"one chain at random":     ents(zigzag),
		"one chain in laps":       ents(lap),
		"a wild spline":           ents(spline),
		"ends at one place":       ents(many(40000, func(i int) string { return line(float64(i)*1e-7, 0, 50, float64(i)/100) })),
		"ends a little apart":     ents(many(20000, func(i int) string { return line(float64(i%100)*1e-3, float64(i/100)*1e-3, 50, float64(i)) })),
		"counts beyond belief":    ents("0\nLWPOLYLINE\n90\n2147483647\n70\n1\n10\n0\n20\n0\n10\n5\n20\n0\n10\n5\n20\n5\n0\nSPLINE\n72\n2000000000\n73\n2000000000\n0\nINSERT\n2\nX\n70\n32767\n71\n32767\n"),
		"copies of nothing":       []byte("0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nE\n0\nTEXT\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nE\n10\n0\n20\n0\n70\n32767\n71\n32767\n0\nENDSEC\n0\nEOF\n"),
		"copies of copies":        copies(),
		"nothing but codes":       ents(strings.Repeat("0\n0\n", 200000)),
		"layers without end": ents(many(40000, func(i int) string {
			return fmt.Sprintf("0\nLINE\n8\nlayer %d\n10\n0\n20\n%d\n11\n1\n21\n%d\n", i, i, i)
		})),
		"svg of one path at random": []byte(`<svg width="9mm" viewBox="0 0 9 9"><path d="M0 0` + many(20000, func(int) string { return fmt.Sprintf("C%g %g %g %g %g %g", rnd(), rnd(), rnd(), rnd(), rnd(), rnd()) }) + `"/></svg>`),
	}
}

// copies nests arrays of inserts: a billion billion circles in a few lines.
func copies() []byte {
	var b strings.Builder
	b.WriteString("0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB0\n0\nCIRCLE\n10\n0\n20\n0\n40\n1\n0\nENDBLK\n")
	for i := range 20 {
		fmt.Fprintf(&b, "0\nBLOCK\n2\nB%d\n0\nINSERT\n2\nB%d\n10\n0\n20\n0\n70\n30000\n71\n30000\n44\n3\n45\n3\n0\nENDBLK\n", i+1, i)
	}
	b.WriteString("0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nB20\n10\n0\n20\n0\n0\nENDSEC\n0\nEOF\n")
	return []byte(b.String())
}

// peak runs f and returns the most memory it held at once, in bytes: the heap's
// objects, sampled while a diligent collector keeps dead ones few.
func peak(f func()) uint64 {
	defer debug.SetGCPercent(debug.SetGCPercent(10))
	runtime.GC()
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(sample)
	base := sample[0].Value.Uint64()
	most := base
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		for {
			metrics.Read(sample)
			most = max(most, sample[0].Value.Uint64())
			select {
			case <-stop:
				return
			case <-time.After(200 * time.Microsecond):
			}
		}
	}()
	f()
	close(stop)
	<-done
	return most - base
}

func TestHostileDrawings(t *testing.T) {
	scale := 5
	if os.Getenv("KERFOLD_MUTANTS") != "" {
		scale = 1
	}
	for why, data := range hostile(scale) {
		t.Run(why, func(t *testing.T) {
			start := cpuTime()
			in, err := Read(why, data, Options{})
			seconds := (cpuTime() - start).Seconds()
			verdict := in.Verdict()
			if err != nil {
				verdict = err.Error()
			} else {
				checkIntake(t, in)
			}
			in = Intake{}
			memory := peak(func() { in, err = Read(why, data, Options{}) })
			share := float64(memory) / float64(mutantMemory+20*len(data))
			t.Logf("%d bytes: %.2f s, %.0f %% of the memory allowed; %s", len(data), seconds, 100*share, verdict)
			if seconds > mutantSeconds || share > 1 {
				t.Errorf("%d bytes: %.2f s of processor time, %d bytes held at once", len(data), seconds, memory)
			}
		})
	}
}
