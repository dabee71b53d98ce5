// Package drawing reads part outlines from drawing files and writes layouts as
// drawings. It takes readers and writers; it opens no files.
package drawing
