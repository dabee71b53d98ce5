package cost

// A Source says where a number comes from: a citation, or one of the words below.
type Source string

const (
	CommonPractice Source = "common practice"
	Unverified     Source = "from memory, unverified"
	Derived        Source = "derived"
	Demo           Source = "demo"
	Measured       Source = "measured in this shop"
	JobFile        Source = "job file"
)

// A Quantity is a number with its source and, where known, its relative
// standard uncertainty (0.05 = 5 %).
type Quantity struct {
	Value     float64
	RelStdDev float64
	Source    Source
}
