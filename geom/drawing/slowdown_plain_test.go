//go:build !race

package drawing

const slowdown = 1
