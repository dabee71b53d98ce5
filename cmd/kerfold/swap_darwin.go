package main

import "golang.org/x/sys/unix"

// swap exchanges two folders in one step, or where the file system cannot, in
// three.
func swap(a, b string) error {
	if unix.RenamexNp(a, b, unix.RENAME_SWAP) == nil {
		return nil
	}
	return swapByRenaming(a, b)
}
