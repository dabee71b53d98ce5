// Package route turns a layout into what the machine does: pierce points,
// leads, the order of the contours and the rapid moves between them.
//
// Lengths are millimetres, in sheet coordinates. Contours run with the material
// on their left: outlines counter-clockwise, holes clockwise, so the scrap that
// leads and pierces keep to is always on the right.
//
// # What a route keeps
//
//   - A part's holes are cut before its outline, the small ones first; a part
//     that lies in a hole of another is cut before that hole.
//   - A pierce hole does not reach into a part, and a lead keeps the jet off all
//     parts, off the other cuts and off their leads. Where the scrap is too
//     narrow for full clearances the lead is shortened or tilted, then may
//     touch the slot beside it (never a part), and last is left out; all of that
//     is said in the warnings.
//   - A pierce hole leaves a web to the sheet's edge, and leads keep out of the
//     remnant that is kept. Where asked, the remnant is cut free after all else.
//   - Rapid moves are short, and pass over parts already cut free only where
//     there is no cheap way round; a free part may have tipped up.
//
// # How the order is found
//
// Every contour gets several start points that allow a lead. A greedy tour is
// improved by 2-opt and Or-opt moves (Croes G.A. 1958, A method for solving
// traveling-salesman problems; Or I. 1976, thesis, Northwestern University) that
// respect the precedences, and shaken by exchanging neighbouring stretches
// (iterated local search, Lourenço, Martin, Stützle 2003). Start points are
// chosen along the tour by dynamic programming. The result depends on the input
// only.
package route
