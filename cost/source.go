package cost

// A Source says where a number comes from: a citation, or one of the words below.
type Source string

// Sources that are no citations.
const (
	CommonPractice Source = "common practice"         // told by the trade, no publication
	Unverified     Source = "from memory, unverified" // recalled from a publication, not looked up
	Derived        Source = "derived"                 // computed or judged from other numbers
	Demo           Source = "demo"                    // illustrative
	Measured       Source = "measured in this shop"   // learnt from test cuts
	JobFile        Source = "job file"                // given by the user
)

// Published sources that several numbers share.
const (
	SourceZengKim  Source = "Zeng, Kim 1993, 7th American Water Jet Conference, 175-189"
	SourceHashish  Source = "Hashish, compressible jet velocity; constants from memory, unverified"
	SourceWJTA     Source = "WJTA proceedings, ideal orifice equations"
	SourcePump     Source = "published pump ratings, 30-150 hp at 60 ksi"
	SourceTextbook Source = "textbook speed, from memory, unverified"
	SourceJSME     Source = "JSME"
	SourceUSGS     Source = "USGS Minerals Yearbook 2016"
)

// A Quantity is a number with its source and, where known, its relative
// standard uncertainty (0.05 = 5 %).
type Quantity struct {
	Value     float64
	RelStdDev float64
	Source    Source
}

// or returns q, or d where q is zero.
func (q Quantity) or(d Quantity) Quantity {
	if q.Value == 0 {
		return d
	}
	return q
}
