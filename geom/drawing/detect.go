package drawing

import (
	"bytes"
	"errors"
	"fmt"
)

// A format is a kind of file, told by its content.
type format int

const (
	formatUnknown format = iota
	formatASCII          // DXF
	formatBinary         // DXF
	formatSVG
)

// binarySentinel opens every binary DXF file.
const binarySentinel = "AutoCAD Binary DXF\r\n\x1a\x00"

// foreign lists what is often sent in place of a DXF, by its first bytes.
var foreign = []struct{ magic, what string }{
	{"AC10", "a DWG file: save it as DXF (R12 or later)"},
	{"MC0.0", "a DWG file: save it as DXF (R12 or later)"},
	{"%PDF", "a PDF: ask for the DXF it was made from"},
	{"%!PS", "a PostScript file: ask for a DXF"},
	{"PK\x03\x04", "a zip archive: unpack it first"},
	{"\x1f\x8b", "a gzip archive: unpack it first"},
	{"7z\xbc\xaf", "a 7z archive: unpack it first"},
	{"Rar!", "a rar archive: unpack it first"},
	{"ISO-10303-21", "a STEP model: export the flat outline as DXF"},
	{"\x89PNG", "a picture: an outline needs a DXF or SVG drawing"},
	{"\xff\xd8\xff", "a picture: an outline needs a DXF or SVG drawing"},
	{"GIF8", "a picture: an outline needs a DXF or SVG drawing"},
	{"BM", "a picture: an outline needs a DXF or SVG drawing"},
	{"II*\x00", "a picture: an outline needs a DXF or SVG drawing"},
	{"\xd0\xcf\x11\xe0", "an office document: ask for the DXF itself"},
	{"<!DOCTYPE html", "a web page: download the drawing itself"},
	{"<html", "a web page: download the drawing itself"},
}

// detect tells the format of decoded text, or why it is none of ours.
func detect(data []byte) (format, error) {
	if bytes.HasPrefix(data, []byte(binarySentinel)) {
		return formatBinary, nil
	}
	head := bytes.TrimLeft(data[:min(len(data), 4096)], " \t\r\n\x00\x1a")
	if len(head) == 0 {
		return formatUnknown, errors.New("the file is empty")
	}
	if head[0] == '<' && hasSVG(data) {
		return formatSVG, nil
	}
	for _, f := range foreign {
		if bytes.HasPrefix(head, []byte(f.magic)) {
			return formatUnknown, fmt.Errorf("this is %s", f.what)
		}
	}
	if looksLikeGroups(head) {
		return formatASCII, nil
	}
	return formatUnknown, errors.New("neither DXF nor SVG: the first lines are no group codes and no <svg> element was found")
}

// hasSVG looks for an svg element, with or without a name space prefix.
func hasSVG(data []byte) bool {
	return bytes.Contains(data, []byte("<svg")) || bytes.Contains(data, []byte(":svg"))
}

// looksLikeGroups reports whether one of the first lines is a group code that
// a drawing may start with: 0 before a section or entity, 999 before a comment,
// 9 before a header variable.
func looksLikeGroups(head []byte) bool {
	for range 40 {
		line, rest := cutLine(head)
		if code, ok := parseCode(line); ok && (code == 0 || code == 999 || code == 9) {
			return true
		}
		if len(rest) == 0 {
			return false
		}
		head = rest
	}
	return false
}

// cutLine splits off the first line, whatever ends it.
func cutLine(b []byte) (line, rest []byte) {
	i := bytes.IndexAny(b, "\r\n")
	if i < 0 {
		return b, nil
	}
	return b[:i], b[i+1:]
}
