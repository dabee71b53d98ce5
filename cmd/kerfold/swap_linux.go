package main

import "golang.org/x/sys/unix"

// swap exchanges two folders in one step, or where the file system cannot, in
// three.
func swap(a, b string) error {
	if unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE) == nil {
		return nil
	}
	return swapByRenaming(a, b)
}
