package verify

import "github.com/paulmach/orb"

// A Kind says what sort of fault a violation is.
type Kind int

const (
	// BadNumber: a number that is not finite, out of range, or an index that
	// points nowhere. What hangs on it is not judged further.
	BadNumber Kind = iota
	// BadOutline: an outline with no area or one that crosses itself, so that
	// there is no telling what is material.
	BadOutline
	// Overlap: two parts share material.
	Overlap
	// Clearance: two parts are nearer than the spacing asked for.
	Clearance
	// OutsideSheet: a part reaches over the sheet's edge.
	OutsideSheet
	// Margin: a part is nearer to the sheet's edge or to a blocked zone than
	// the margin asked for.
	Margin
	// BlockedZone: a part lies on a blocked zone.
	BlockedZone
	// TooFew and TooMany: a part's quantity is not as ordered.
	TooFew
	TooMany
	// SheetCount: more sheets are used than there are.
	SheetCount
	// Angle: a part is turned by an angle that is not allowed.
	Angle
	// Mirrored: a part is turned over that must not be.
	Mirrored
	// Grain: a part lies across the sheet's grain.
	Grain
	// Kit: parts of one kit are spread over sheets.
	Kit
	// Undecided: the pair is so entangled near the tolerance that the judge
	// gave up. It counts as a violation.
	Undecided
)

var kindNames = [...]string{
	"bad number", "bad outline", "overlap", "clearance", "outside sheet",
	"margin", "blocked zone", "too few", "too many", "sheet count", "angle",
	"mirrored", "grain", "kit", "undecided",
}

// String returns the kind in words.
func (k Kind) String() string {
	if k < 0 || int(k) >= len(kindNames) {
		return "unknown"
	}
	return kindNames[k]
}

// A Violation is one fault of a layout.
type Violation struct {
	Kind Kind
	// Use, A and B index Layout.Uses and that use's placements; −1 where they
	// do not apply. B is the second part of a pair.
	Use, A, B int
	// PartA and PartB are the parts' IDs, "" where they do not apply.
	PartA, PartB string
	// Zone is the index of the blocked zone, −1 where it does not apply.
	Zone int
	// Where is the spot in sheet coordinates, mm.
	Where orb.Point
	// Amount is by how much: for Overlap, OutsideSheet and BlockedZone the
	// depth in mm, for Clearance and Margin the distance missing in mm, for
	// Angle and Grain the degrees off, for quantities a count.
	Amount float64
	// Text states the fact and the mend, lower case, without full stop.
	Text string
}

// Stats counts what a check did.
type Stats struct {
	Placements int
	Pairs      int // pairs of parts near enough to be compared edge by edge
	Probes     int // points at which a depth was computed
}

// A Report is the verdict on a layout.
type Report struct {
	// Violations are in order of kind-independent place: first the rules for
	// the whole job, then use by use, placement by placement.
	Violations []Violation
	// More counts the violations beyond Layout.Limit.
	More  int
	Stats Stats
}

// OK reports whether the layout is legal.
func (r Report) OK() bool { return len(r.Violations) == 0 && r.More == 0 }
