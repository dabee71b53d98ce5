package main

import (
	"errors"
	"fmt"
	"io/fs"
)

// unread says why a file that was named on the command line cannot be read, and
// what to do about it.
func unread(name, what string, err error) error {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: %s cannot be read: there is no such file: look at its path", name, what)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: %s cannot be read: you may not read it: ask for the right to, or copy it", name, what)
	case errors.As(err, &at):
		return fmt.Errorf("%s: %s cannot be read: %w: name a file", name, what, at.Err)
	}
	return fmt.Errorf("%s: %s cannot be read: %w", name, what, err)
}
