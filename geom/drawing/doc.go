// Package drawing reads part outlines from drawing files and writes layouts as
// drawings. It takes bytes and writers; it opens no files.
//
// # Reading
//
// [Read] accepts DXF (ASCII and binary, R12 to R2018, any line ending and
// encoding) and SVG, told apart by content. A drawing is read in four steps,
// each in files of its own:
//
//  1. decode: bytes to group codes or elements (group*.go, svg*.go);
//  2. expand: blocks, units, hidden layers, curves to lines and arcs, in
//     millimetres on the grid (dxf*.go, curve*.go);
//  3. heal: drop what is drawn twice, join ends, trace loops (heal*.go);
//  4. sort: loops inside loops become parts with holes (regions.go).
//
// Nothing is changed or left out in silence: every step adds to
// [Intake.Findings].
//
// # What is kept
//
// Lines stay lines and circular arcs stay arcs. Ellipses and splines become
// tangent arcs no further than [CurveTolerance] from the curve.
//
// # Writing
//
// [WriteDXF] writes a [Sketch]: closed contours, open paths, points and labels
// on named layers, in millimetres.
package drawing
