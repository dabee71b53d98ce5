// Package nest lays parts out on sheets and strips.
//
// It holds one problem model ([Problem]) and the searches that work on it, each
// usable alone: bottom-left placement by no-fit polygons ([BottomLeft]) under a
// genetic search ([Genetic]), separation of overlapping layouts ([Separate]), and
// lattices of one part ([Lattice]); where parts could fill sheets without waste,
// exact tiling ([Tile]); where parts lie in holes of others, the outer ones by
// themselves ([Nested]). [Solve] runs those that suit a problem and says how far
// the result can be from the best at most ([LowerBound]). Lengths are
// millimetres, angles degrees counter-clockwise; a part's pose turns the part
// about its own origin and then translates it (see [geom.Pose]).
//
// Every search is anytime: it stops when its effort is spent or its context
// ends, and returns the best legal layout so far with a [Status] that says
// which. For a given problem, seed and effort the result does not depend on the
// number of workers. The package reads no clock, file or environment.
package nest
