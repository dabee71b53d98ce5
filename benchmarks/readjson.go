package main

import (
	"encoding/json"
	"fmt"

	"github.com/paulmach/orb"
)

// jsonInstance is an instance file in JSON: strip_width or bin, parts, and where
// they come from.
type jsonInstance struct {
	Name       string     `json:"name"`
	Source     string     `json:"source"`
	StripWidth float64    `json:"strip_width"`
	Bin        []float64  `json:"bin"`
	Optimum    int        `json:"known_optimum_bins"`
	Parts      []jsonPart `json:"parts"`
}

type jsonPart struct {
	ID        string       `json:"id"`
	Quantity  int          `json:"quantity"`
	Rotations rotations    `json:"rotations_deg"`
	Outline   [][2]float64 `json:"outline"`
}

// rotations is a list of degrees or the word "any".
type rotations struct {
	Degrees []float64
	Any     bool
}

func (r *rotations) UnmarshalJSON(data []byte) error {
	var word string
	if json.Unmarshal(data, &word) == nil {
		if word != "any" {
			return fmt.Errorf("rotations_deg %q: give a list of degrees or \"any\"", word)
		}
		r.Any = true
		return nil
	}
	return json.Unmarshal(data, &r.Degrees)
}

// readJSON reads one instance in JSON.
func readJSON(data []byte) (instance, error) {
	var j jsonInstance
	if err := json.Unmarshal(data, &j); err != nil {
		return instance{}, err
	}
	in := instance{Name: j.Name, Source: j.Source, StripWidth: j.StripWidth, Optimum: j.Optimum}
	if len(j.Bin) > 0 {
		if len(j.Bin) != 2 {
			return instance{}, fmt.Errorf("bin has %d numbers; give width and height", len(j.Bin))
		}
		in.Bin = [2]float64{j.Bin[0], j.Bin[1]}
	}
	for _, p := range j.Parts {
		in.Parts = append(in.Parts, part{
			ID: p.ID, Quantity: p.Quantity, Angles: p.Rotations.Degrees, AnyAngle: p.Rotations.Any,
			Outline: orb.Polygon{ringOf(p.Outline)},
		})
	}
	return in, in.check()
}

func ringOf(points [][2]float64) orb.Ring {
	ring := make(orb.Ring, len(points))
	for i, p := range points {
		ring[i] = orb.Point(p)
	}
	return ring
}
