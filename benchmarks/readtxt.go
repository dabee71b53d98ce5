package main

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/paulmach/orb"
)

// readTXT reads the public collection's plain form of a bin instance: the number
// of parts, the bin's width and height, and for every part its number of
// vertices and their coordinates, all separated by blanks. The form names no
// turns; the collection's description allows quarter turns.
func readTXT(data []byte) (instance, error) {
	r := numbers{fields: bytes.Fields(data)}
	n := r.count("number of parts", maxCopies)
	in := instance{Bin: [2]float64{r.number("bin width"), r.number("bin height")}}
	for i := 0; i < n && r.err == nil; i++ {
		in.Parts = append(in.Parts, part{
			ID: fmt.Sprintf("p%02d", i+1), Quantity: 1, Angles: []float64{0, 90, 180, 270},
			Outline: orb.Polygon{r.ring(i)},
		})
	}
	if r.err == nil && r.at < len(r.fields) {
		r.err = fmt.Errorf("%d numbers are left over after part %d", len(r.fields)-r.at, n)
	}
	if r.err != nil {
		return instance{}, r.err
	}
	return in, in.check()
}

// numbers reads a sequence of numbers and keeps the first error.
type numbers struct {
	fields [][]byte
	at     int
	err    error
}

func (r *numbers) number(what string) float64 {
	if r.err != nil {
		return 0
	}
	if r.at >= len(r.fields) {
		r.err = fmt.Errorf("the file ends before the %s", what)
		return 0
	}
	word := string(r.fields[r.at])
	r.at++
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		r.err = fmt.Errorf("word %d, the %s: %q is not a number", r.at, what, word)
	}
	return v
}

func (r *numbers) count(what string, most int) int {
	v := r.number(what)
	if r.err == nil && (v != float64(int(v)) || v < 0 || v > float64(most)) {
		r.err = fmt.Errorf("word %d, the %s: %v is not a count up to %d", r.at, what, v, most)
	}
	if r.err != nil {
		return 0
	}
	return int(v)
}

func (r *numbers) ring(i int) orb.Ring {
	n := r.count(fmt.Sprintf("vertex count of part %d", i+1), len(r.fields))
	var ring orb.Ring
	for k := 0; k < n && r.err == nil; k++ {
		what := fmt.Sprintf("coordinates of vertex %d of part %d", k+1, i+1)
		ring = append(ring, orb.Point{r.number(what), r.number(what)})
	}
	return ring
}
