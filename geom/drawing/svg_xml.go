package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding/charmap"
)

// An element of an XML file, without name spaces.
type element struct {
	name string
	attr []xml.Attr
	kids []*element
	line int
}

// get returns an attribute by its local name.
func (e *element) get(name string) string {
	for _, a := range e.attr {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// find returns the first element of a name, e itself or inside it.
func (e *element) find(name string) *element {
	for queue := []*element{e}; len(queue) > 0; queue = queue[1:] {
		if queue[0].name == name {
			return queue[0]
		}
		queue = append(queue, queue[0].kids...)
	}
	return nil
}

// parseXML reads elements and attributes. A file that breaks off or is not
// well formed is read as far as it goes, and the log says so.
func parseXML(data []byte, l *log) (*element, error) {
	dec := xml.NewDecoder(bytes.NewReader(data))
	dec.Strict = false
	dec.Entity = xml.HTMLEntity
	dec.CharsetReader = charsetReader
	root := &element{}
	open := []*element{root}
	for {
		tok, err := dec.RawToken()
		if err == io.EOF && len(open) == 1 {
			return root, nil
		}
		if err != nil {
			if len(root.kids) == 0 {
				return nil, fmt.Errorf("not readable as XML: %w", err)
			}
			line, _ := dec.InputPos()
			l.add(Finding{Kind: Truncated, Level: Suspect, Line: line, Text: "the file breaks off or is not well formed here; what comes after was not read"})
			return root, nil
		}
		open = takeToken(tok, open, dec)
	}
}

// takeToken adds an element or closes one. An end that fits no open element is
// passed over; one that fits an outer element closes the inner ones too.
func takeToken(tok xml.Token, open []*element, dec *xml.Decoder) []*element {
	switch t := tok.(type) {
	case xml.StartElement:
		line, _ := dec.InputPos()
		e := &element{name: t.Name.Local, attr: t.Copy().Attr, line: line}
		top := open[len(open)-1]
		top.kids = append(top.kids, e)
		return append(open, e)
	case xml.EndElement:
		for i := len(open) - 1; i > 0; i-- {
			if open[i].name == t.Name.Local {
				return open[:i]
			}
		}
	}
	return open
}

// charsetReader decodes the few encodings that SVG files come in besides
// UTF-8. UTF-16 was decoded before.
func charsetReader(name string, r io.Reader) (io.Reader, error) {
	switch strings.ToLower(name) {
	case "iso-8859-1", "latin1", "windows-1252":
		return charmap.Windows1252.NewDecoder().Reader(r), nil
	default:
		return r, nil
	}
}

// set adds an attribute.
func (e *element) set(name, value string) {
	e.attr = append(e.attr, xml.Attr{Name: xml.Name{Local: name}, Value: value})
}
