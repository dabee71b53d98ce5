package drawing

// A Unit is a length unit of a drawing.
type Unit string

const (
	UnitAuto       Unit = "" // from the header, else stated assumption
	Millimetre     Unit = "mm"
	Centimetre     Unit = "cm"
	Metre          Unit = "m"
	Inch           Unit = "in"
	Foot           Unit = "ft"
	UnitUnresolved Unit = "?" // a header code that names no unit we know
)
