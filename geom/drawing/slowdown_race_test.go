//go:build race

package drawing

// slowdown is how many times longer than in a plain build a test may take: the race
// detector costs three to five times as much.
const slowdown = 8
