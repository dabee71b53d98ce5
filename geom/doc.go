// Package geom is the plane geometry that nesting needs, on orb's types.
//
// # Units and orientation
//
// Lengths are millimetres, areas square millimetres, angles degrees measured
// counter-clockwise from the positive x axis. Outer rings run
// counter-clockwise and holes clockwise. An [orb.Ring] in this package is
// closed implicitly: it may or may not repeat its first point, and every
// function accepts both; functions return rings that do not repeat it.
//
// # Precision model
//
// Coordinates snap once, when a drawing or job is read, to multiples of
// [Grid], a power of two. Sums and differences of grid coordinates up to
// [MaxCoordinate] are exact in a float64, so translations of grid outlines by
// grid poses lose nothing, and turns by multiples of 90 degrees are exact.
//
// Predicates ([Orient], [RelateSegments], [Locate], [InteriorsOverlap],
// [Within]) are exact: a float64 filter with a derived error bound answers
// nearly always, exact arithmetic the rest. Where a computed point, the
// crossing of two edges, must be rounded to the grid (in overlays, offsets and
// no-fit polygons), edges move by at most half a grid step on each axis, edges
// along an axis not at all, and no vertex changes sides: snap rounding.
// [TouchTolerance] bounds what such roundings add up to.
//
// # Boundary rule
//
// Regions are closed sets and touching is legal: two outlines overlap only
// when their interiors meet. Clearance between real parts is a distance, and a
// distance equal to the one asked for is legal.
//
// # Safe flattening
//
// Arcs are replaced by chords on the side that keeps a flat layout legal for
// the real parts: parts flatten outwards (the polygon contains the true
// region), sheets inwards. So do the round corners of [Offset]. Computed
// vertices are pushed a few grid steps to that side before they are rounded, so
// that rounding cannot undo it; along the axes sizes stay exact.
//
// # Limits
//
// Overlays, offsets and no-fit polygons take coordinates up to 2^31 mm and pull
// in what lies farther out. They take any rings, however tangled, and return;
// their results mean something for simple polygons: rings that do not cross
// themselves or each other, though they may touch at points.
package geom
