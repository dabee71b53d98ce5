package shop

import "fmt"

// A spot is a place in a file, counted from 1; 0 is unknown.
type spot struct {
	file         string
	line, column int
}

func (s spot) String() string {
	switch {
	case s.line == 0:
		return s.file
	case s.column == 0:
		return fmt.Sprintf("%s:%d", s.file, s.line)
	}
	return fmt.Sprintf("%s:%d:%d", s.file, s.line, s.column)
}
