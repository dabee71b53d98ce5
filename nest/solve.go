package nest

import (
	"context"
	"errors"
)

// ErrUnsupported is returned by a search that cannot take the kind of problem
// it was given.
var ErrUnsupported = errors.New("this search does not take this kind of problem")

// Solve lays the problem out with the searches that suit it and returns the
// best layout any of them found.
func Solve(ctx context.Context, p Problem, o Options) (Result, error) {
	return Genetic(ctx, p, o)
}
