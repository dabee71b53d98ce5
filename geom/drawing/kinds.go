package drawing

// A Kind is a stable word for a kind of finding; programs may rely on it.
type Kind string

// Reading the file.
const (
	StrayLine      Kind = "stray-line"      // a line that is no group code
	Truncated      Kind = "truncated"       // the file ends too early
	BadNumber      Kind = "bad-number"      // a number that is none, or not finite
	BadEntity      Kind = "bad-entity"      // an entity without the data it needs
	Unreadable     Kind = "unreadable"      // an entity of a type that hides its geometry
	BlockMissing   Kind = "block-missing"   // an insert of a block that is not there
	BlockRecursive Kind = "block-recursive" // a block that inserts itself
	TooMuch        Kind = "too-much"        // expansion stopped at a limit
	OutOfRange     Kind = "out-of-range"    // a coordinate beyond geom.MaxCoordinate
)

// What was left out.
const (
	Annotation      Kind = "annotation"       // text, dimensions, hatches, points
	AnnotationLayer Kind = "annotation-layer" // a layer that by its name talks about the part
	PaperSpace      Kind = "paper-space"      // drawn on a sheet layout, not in the model
	HiddenLayer     Kind = "hidden-layer"     // layer off or frozen
	Invisible       Kind = "invisible"        // entity marked invisible
	Clipped         Kind = "clipped"          // an SVG clip that was not applied
	Construction    Kind = "construction"     // drawn in a dashed linetype, or a construction line
	LayerExcluded   Kind = "layer-excluded"   // the job left the layer out
	LayerUnknown    Kind = "layer-unknown"    // the job names a layer the drawing has not
	ZeroLength      Kind = "zero-length"
	Speck           Kind = "speck" // a loose piece too short to cut
	Duplicate       Kind = "duplicate"
	Overlap         Kind = "overlap" // drawn on top of a longer piece
	Spur            Kind = "spur"    // a contour that runs out and back
)

// Units and size.
const (
	UnitsAssumed     Kind = "units-assumed"
	UnitsImplausible Kind = "units-implausible"
	UnitsUnknown     Kind = "units-unknown"
	NotFlat          Kind = "not-flat" // geometry leaves the plane; the plan view was used
)

// Place.
const (
	Moved Kind = "moved" // drawn far from its origin, and brought near
)

// Curves and contours.
const (
	CurveFitted  Kind = "curve-fitted" // spline or ellipse turned into arcs
	GapClosed    Kind = "gap-closed"
	GapSuggested Kind = "gap-suggested" // wider than the tolerance, probably meant to close
	ShortPiece   Kind = "short-piece"   // shorter than ShortLength, kept
	OpenChain    Kind = "open-chain"
	Touching     Kind = "touching"
	Branch       Kind = "branch" // three or more ends meet
	LoopTrimmed  Kind = "loop-trimmed"
	SelfCrossing Kind = "self-crossing"
	Crossing     Kind = "crossing" // two contours cross
	Island       Kind = "island"   // a contour inside a hole
	NoContour    Kind = "no-contour"
)
