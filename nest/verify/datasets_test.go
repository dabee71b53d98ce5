package verify_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/verify"
)

// datasets returns the folder of public instances, or skips the test.
func datasets(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("KERFOLD_DATASETS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "datasets")
	}
	if _, err := os.Stat(filepath.Join(dir, "layouts")); err != nil {
		t.Skip("no published layouts here; set KERFOLD_DATASETS to a folder that has them")
	}
	return dir
}

type instanceFile struct {
	Name  string
	Width float64 `json:"strip_width"`
	Parts []struct {
		ID        string
		Quantity  int
		Rotations any         `json:"rotations_deg"`
		Outline   []orb.Point `json:"outline"`
	}
}

type layoutFile struct {
	Instance   string
	Length     float64
	Placements []struct {
		Part     string
		Rotation float64 `json:"rotation_deg"`
		X, Y     float64
	}
}

func readJSON(t *testing.T, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

// published returns a published layout as the judge takes it, no tolerance set.
func published(t *testing.T, dir, path string) (string, verify.Layout) {
	t.Helper()
	var lf layoutFile
	readJSON(t, path, &lf)
	var in instanceFile
	readJSON(t, filepath.Join(dir, "strip", lf.Instance+".json"), &in)
	l := verify.Layout{Sheets: []verify.Sheet{verify.Strip(in.Width, lf.Length)}}
	index := map[string]int{}
	for i, p := range in.Parts {
		index[p.ID] = i
		part := verify.Part{ID: p.ID, Min: p.Quantity, Max: p.Quantity, Shape: verify.Plain(orb.Polygon{p.Outline})}
		if list, ok := p.Rotations.([]any); ok {
			for _, a := range list {
				part.Angles = append(part.Angles, a.(float64))
			}
		} else {
			part.FreeAngle = true
		}
		l.Parts = append(l.Parts, part)
	}
	use := verify.Use{}
	for _, p := range lf.Placements {
		i, ok := index[p.Part]
		if !ok {
			t.Fatalf("%s: no part %s", path, p.Part)
		}
		use.Placements = append(use.Placements, verify.Placement{
			Part: i, Pose: geom.Pose{X: p.X, Y: p.Y, AngleDeg: p.Rotation},
		})
	}
	l.Uses = []verify.Use{use}
	return lf.Instance, l
}
