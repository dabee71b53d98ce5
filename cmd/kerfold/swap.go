package main

import (
	"errors"
	"io/fs"
	"os"
)

// swapByRenaming exchanges two folders in three steps; a failure in between is
// undone. A crash in between leaves both folders under other names; the next
// plan puts the old one back, see mendSwap.
func swapByRenaming(a, b string) error {
	aside := freeName(b + ".old")
	if err := os.Rename(b, aside); err != nil {
		return err
	}
	if err := os.Rename(a, b); err != nil {
		return firstError(err, os.Rename(aside, b))
	}
	return os.Rename(aside, a)
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// mendSwap puts a folder back that a crash in the middle of swapByRenaming left
// under its other name.
func mendSwap(path string) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) && holdsPlan(path+".old") {
		os.Rename(path+".old", path)
	}
}
