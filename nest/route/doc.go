// Package route turns a layout into what the machine does: pierce points,
// leads, the order of the contours and the rapid moves between them.
package route
