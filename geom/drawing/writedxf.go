package drawing

import (
	"errors"
	"io"
)

// WriteDXF writes a sketch as an ASCII DXF (R2000) in millimetres.
func WriteDXF(w io.Writer, s Sketch) error {
	return errors.New("writing drawings is being built")
}
