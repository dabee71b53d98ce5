package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceFile puts a file in place whole: it is written beside and renamed over
// the old one, which the system does in one step.
func replaceFile(path string, data []byte, mode fs.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".writing-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}
