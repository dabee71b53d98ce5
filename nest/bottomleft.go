package nest

import "context"

// A Choice is one step of a placing order: a copy of a part and how it is
// turned. Turn indexes the part's allowed turns as [Turns] lists them;
// [AnyTurn] lets the decoder try all of them and keep the one that ends
// leftmost.
type Choice struct {
	Part, Turn int
}

// AnyTurn in a [Choice] leaves the turn to the decoder.
const AnyTurn = -1

// BottomLeft places the parts one after another, each at the leftmost and then
// lowest legal point. A nil order places by decreasing area and tries every
// turn. It is the quickest of the searches and the decoder of [Genetic].
func BottomLeft(ctx context.Context, p Problem, order []Choice, o Options) (Result, error) {
	return Result{}, ErrUnsupported
}
