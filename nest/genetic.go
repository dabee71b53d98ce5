package nest

import "context"

// Genetic searches over placing orders and turns, each decoded by bottom-left
// placement.
func Genetic(ctx context.Context, p Problem, o Options) (Result, error) {
	return Result{}, ErrUnsupported
}
