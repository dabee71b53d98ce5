package shop

import (
	"io/fs"
	"testing/fstest"
)

// An overlay is a file system with some files changed on the way.
type overlay struct {
	fs.FS
	change map[string]func([]byte) []byte
}

func (o overlay) Open(name string) (fs.File, error) {
	change := o.change[name]
	if change == nil {
		return o.FS.Open(name)
	}
	data, err := fs.ReadFile(o.FS, name)
	if err != nil {
		return nil, err
	}
	return fstest.MapFS{name: {Data: change(data)}}.Open(name)
}
