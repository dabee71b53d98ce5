package drawing

import "errors"

func readSVG(data []byte, d *draft, o Options) (Intake, error) {
	return Intake{}, errors.New("SVG is not read yet")
}
