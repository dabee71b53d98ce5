package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
)

// recordsFile holds a record a line, the oldest first; it is only ever added to.
const recordsFile = "results/records.jsonl"

// A record is one search on one instance, with all that a reader needs to judge
// the figure and to repeat it.
type record struct {
	Date     string  `json:"date"`
	Series   string  `json:"series"`
	Instance string  `json:"instance"`
	Set      string  `json:"set"`
	Parts    int     `json:"parts"`
	Kinds    int     `json:"kinds"`
	Search   string  `json:"search"`
	Seed     uint64  `json:"seed"`
	Limit    float64 `json:"seconds"`         // given to the search
	Clock    string  `json:"clock,omitempty"` // "processor" where seconds are processor time divided by the workers
	Workers  int     `json:"workers"`
	Took     float64 `json:"took"`                   // seconds until the search came back
	CPU      float64 `json:"cpu_seconds,omitempty"`  // processor time of the whole process meanwhile; 0 where the system tells none
	PeakMB   float64 `json:"peak_mib,omitempty"`     // memory resident at most meanwhile; 0 where the system tells none
	Density  float64 `json:"density_percent"`        // part area over area used
	Length   float64 `json:"length,omitempty"`       // of a strip
	Best     float64 `json:"known_length,omitempty"` // that is known to suffice
	Bins     int     `json:"bins,omitempty"`         // used
	Optimum  int     `json:"known_bins,omitempty"`   // that are known to suffice
	AtLeast  int     `json:"bins_at_least,omitempty"`
	F        float64 `json:"mean_squared_use,omitempty"`
	Fullest  float64 `json:"fullest_percent,omitempty"`       // use of the fullest sheet
	Lattice  float64 `json:"lattice_share_percent,omitempty"` // that use beside the part's densest lattice; for one kind of part
	Copies   int     `json:"fullest_copies,omitempty"`        // on that sheet; for one kind of part
	Clipped  int     `json:"clipped_copies,omitempty"`        // most whole copies that a lattice has on such a sheet
	Fault    string  `json:"refused,omitempty"`               // why the judges refused the layout, or the search failed
	Layout   string  `json:"layout,omitempty"`                // file, from the results folder
	Won      string  `json:"found_by,omitempty"`              // the arm of the search that found the layout
	Curve    curveOf `json:"curve"`
	Problem  string  `json:"problem"` // digest of the instance
	Engine   string  `json:"engine"`  // last commit that changed what lays parts out
	Commit   string  `json:"commit"`  // that was checked out
	Machine  string  `json:"machine"`
	Note     string  `json:"note,omitempty"`
}

// processorClock is the [record] clock of a run limited by processor time.
const processorClock = "processor"

// curveOf lists seconds, density in per cent and bins of each better layout.
type curveOf [][3]float64

// add appends a layout, unless it is incomplete, which searches report with a
// density of 0, or no better in the decimals that are kept.
func (c *curveOf) add(seconds, density float64, sheets int) {
	if density <= 0 {
		return
	}
	if n := len(*c); n == 0 || density > (*c)[n-1][1] {
		*c = append(*c, [3]float64{seconds, density, float64(sheets)})
	}
}

// key is what makes two records the same run at different times.
func (r record) key() string {
	return fmt.Sprintf("%s %s %g s seed %d workers %d", r.Instance, r.Search, r.Limit, r.Seed, r.Workers)
}

// repeats tells whether running r again could only give what old gives: the same
// run of the same engine on the same problem.
func (r record) repeats(old record) bool {
	return r.key() == old.key() && r.Problem == old.Problem && r.Engine == old.Engine && old.Fault == ""
}

func (r record) strip() bool { return r.Length > 0 }

// target is the known number of bins, or the least that could do.
func (r record) target() int {
	if r.Optimum > 0 {
		return r.Optimum
	}
	return r.AtLeast
}

// readRecords reads the records under a benchmarks folder; none is no error.
func readRecords(dir string) ([]record, error) {
	file := filepath.Join(dir, recordsFile)
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var list []record
	lines := bufio.NewScanner(bytes.NewReader(data))
	lines.Buffer(nil, maxRecordBytes)
	for n := 1; lines.Scan(); n++ {
		r, err := parseRecord(lines.Bytes())
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w; mend the line or take it out", file, n, err)
		}
		list = append(list, r)
	}
	return list, lines.Err()
}

// parseRecord reads one line, which must hold a record and nothing else.
func parseRecord(line []byte) (record, error) {
	var r record
	decoder := json.NewDecoder(bytes.NewReader(line))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&r); err != nil {
		return r, err
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return r, fmt.Errorf("more than one record in the line")
	}
	return r, nil
}

// maxRecordBytes bounds one line of the records.
const maxRecordBytes = 1 << 24

// appendRecord adds a record to those under a benchmarks folder.
func appendRecord(dir string, r record) error {
	data, err := json.Marshal(r)
	if err != nil {
		return err
	}
	file := filepath.Join(dir, recordsFile)
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	f, err := os.OpenFile(file, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(append(data, '\n'))
	return errors.Join(err, f.Close())
}

// newest keeps the last record of each run, in the order in which the runs were
// first recorded.
func newest(list []record) []record {
	at := map[string]int{}
	var kept []record
	for _, r := range list {
		i, known := at[r.key()]
		if !known {
			i = len(kept)
			at[r.key()] = i
			kept = append(kept, r)
		}
		kept[i] = r
	}
	return kept
}

// recordOf is an outcome as a record; what the process and the repository say is
// filled in by the caller.
func recordOf(o outcome, b budget) record {
	r := record{
		Instance: o.in.Name, Set: o.in.Set, Parts: o.in.copies(), Kinds: len(o.in.Parts), Search: o.search,
		Seed: b.seed, Limit: b.seconds, Workers: b.workers, Took: rounded(o.seconds, 3),
		Problem: o.in.digest(), Fault: o.fault(),
	}
	for _, p := range o.curve {
		r.Curve.add(rounded(p.seconds, 3), rounded(100*p.density, 4), p.sheets)
	}
	if r.Fault != "" {
		return r
	}
	r.Density, r.Won = rounded(100*o.result.Density, 4), o.result.Stats.Won
	if o.in.strip() {
		r.Length, r.Best = o.result.Length, o.in.BestLength
		return r
	}
	r.Bins, r.Optimum, r.AtLeast, r.F = len(o.result.Layouts), o.in.Optimum, o.in.target(), rounded(o.fSquared(), 5)
	share := o.latticeShare()
	r.Fullest, r.Lattice, r.Copies, r.Clipped = rounded(100*o.fullest(), 4), rounded(100*share.plane, 2), share.copies, share.clipped
	return r
}

// fault is why an outcome does not count, or empty.
func (o outcome) fault() string {
	switch {
	case o.err != nil:
		return o.err.Error()
	case len(o.faults) > 0:
		return o.faults[0]
	}
	return ""
}

// digest tells instances apart by what a search is given of them.
func (in instance) digest() string {
	p := in.problem()
	data, err := json.Marshal(struct {
		Width   float64    `json:"width"`
		Bin     [2]float64 `json:"bin"`
		Parts   []part     `json:"parts"`
		Spacing float64    `json:"spacing,omitempty"`
		Margin  float64    `json:"margin,omitempty"`
	}{in.StripWidth, in.Bin, in.Parts, p.Spacing, p.Margin})
	if err != nil {
		return "unknown"
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:6])
}

func rounded(x float64, decimals int) float64 {
	unit := math.Pow10(decimals)
	return math.Round(x*unit) / unit
}
