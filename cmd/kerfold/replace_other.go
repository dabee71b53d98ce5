//go:build !windows

package main

import (
	"io/fs"

	"github.com/google/renameio/v2"
)

// replaceFile puts a file in place whole: it is written beside and renamed over
// the old one.
func replaceFile(path string, data []byte, mode fs.FileMode) error {
	return renameio.WriteFile(path, data, mode)
}
