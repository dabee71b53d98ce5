package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// registerLines reads the stock register the job names, if any, or the one that
// stands in for it.
func (l *loader) registerLines(top *fields) []*value {
	file, ok := top.text("register")
	if o := &l.options; o.Register != "" {
		l.log.met(o.Register)
		return l.takeRegister(o.Register, spot{file: o.Register}, o.RegisterData)
	}
	if !ok {
		return nil
	}
	name, ok := l.resolve(top, "register", file)
	if !ok {
		l.badStock++ // what is in stock is not known, so that nothing is said of it
		return nil
	}
	data, err := l.read(name)
	if err != nil {
		mend := "look at the file"
		if errors.Is(err, fs.ErrNotExist) {
			mend = l.fileMend(name)
		}
		l.badStock++
		top.fault(top.at("register"), fmt.Sprintf("register %s cannot be read: %v", name, plainReason(err)), mend)
		return nil
	}
	return l.takeRegister(name, top.at("register"), data)
}

func (l *loader) takeRegister(name string, at spot, data []byte) []*value {
	l.job.Register, l.job.RegisterData = name, data
	faults := len(l.log.problems)
	lines := l.registerData(name, at, data)
	if len(l.log.problems) > faults {
		l.badStock++
	}
	return lines
}

func (l *loader) registerData(name string, at spot, data []byte) []*value {
	if isTable(name) {
		return l.tableRecords(tableSpec{name: name, at: at, heads: stockHeads, dates: isoDates}, data)
	}
	return l.registerYAML(name, data)
}

func isTable(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".txt", ".tsv", ".xlsx", ".xlsm":
		return true
	}
	return false
}

func (l *loader) registerYAML(name string, data []byte) []*value {
	v := parseYAML(l.log, name, data)
	if v == nil || v.kind == empty {
		return nil // an empty rack
	}
	f := l.log.open(v, "stock register")
	if n, ok := f.whole("version", 1, 1<<30); ok && n != Version {
		f.fault(f.at("version"), fmt.Sprintf("version is %d, and this program reads %d", n, Version), "use the program the file was written for")
	}
	var lines []*value
	f.records("stock", func(v *value) { lines = append(lines, v) })
	f.done()
	return lines
}
