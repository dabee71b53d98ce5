//go:build !linux && !darwin

package main

// swap exchanges two folders.
func swap(a, b string) error { return swapByRenaming(a, b) }
