package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// A rack is the stock register of one run: read, and where asked for locked and
// in the end rewritten.
type rack struct {
	path string // "" is none
	data []byte // as the plan read it
	lock *registerLock
	once sync.Once

	booked []byte // what the register is to become
	notes  []string
}

// openRack readies a job's register; with book it takes the lock.
func openRack(job *shop.Job, path, purpose string, book bool) (*rack, error) {
	r := &rack{data: job.RegisterData}
	switch {
	case job.Register == "" && book:
		return nil, errors.New("--book-stock: the job names no stock register: name one with register: in the job file, or with --register")
	case job.Register == "":
		return r, nil
	}
	r.path = path
	if !book {
		return r, nil
	}
	if err := shop.Bookable(path); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	lock, err := lockRegister(path, purpose)
	if err != nil {
		return nil, err
	}
	r.lock = lock
	if err := r.unchanged(); err != nil {
		r.close()
		return nil, err
	}
	return r, nil
}

// close gives the lock up.
func (r *rack) close() {
	if r != nil {
		r.once.Do(r.lock.release)
	}
}

// unchanged reports whether the register is still as it was read.
func (r *rack) unchanged() error {
	now, err := os.ReadFile(r.path)
	if err != nil {
		return fmt.Errorf("the stock register cannot be read again: %w: nothing was booked", err)
	}
	if !bytes.Equal(now, r.data) {
		return fmt.Errorf("the stock register %s has changed since it was read: nothing was booked or written; plan again", r.path)
	}
	return nil
}

// prepare works out what the register becomes.
func (r *rack) prepare(p *week.Plan) (err error) {
	if r.path == "" || shop.Bookable(r.path) != nil {
		return nil
	}
	r.booked, r.notes, err = shop.BookRegister(filepath.Base(r.path), r.data, p.StockChange())
	return err
}

// file is the proposed register as a file of the plan.
func (r *rack) file() []outFile {
	if r.booked == nil {
		return nil
	}
	return []outFile{{registerAfter + strings.ToLower(filepath.Ext(r.path)), func(w io.Writer) error {
		_, err := w.Write(r.booked)
		return err
	}}}
}

// registerAfter is the name of the proposed register, less its ending.
const registerAfter = "register-after"

// replace keeps the register as it was beside it and puts the new one in place.
// The plan's folder is in place by then: whoever finds the plan and the old
// register has a plan that was not booked, and kerfold book can do that.
func (r *rack) replace() (kept string, err error) {
	target, err := filepath.EvalSymlinks(r.path)
	if err != nil {
		return "", err
	}
	mode := fs.FileMode(0o644)
	if st, err := os.Stat(target); err == nil {
		mode = st.Mode().Perm()
	}
	kept = keptName(r.path)
	if err := replaceFile(kept, r.data, mode); err != nil {
		return "", fmt.Errorf("the register as it was cannot be kept: %w: nothing was booked", err)
	}
	if err := replaceFile(target, r.booked, mode); err != nil {
		return "", fmt.Errorf("the register cannot be rewritten: %w: nothing was booked", err)
	}
	return kept, nil
}

// keptName is a free name for the register as it was: rack.csv becomes
// rack.before-1.csv.
func keptName(path string) string {
	ext := filepath.Ext(path)
	stem := strings.TrimSuffix(path, ext) + ".before-"
	highest := 0
	names, _ := filepath.Glob(escapeGlob(stem) + "*" + ext)
	for _, name := range names {
		n, _ := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(name, stem), ext))
		highest = max(highest, n)
	}
	return stem + strconv.Itoa(highest+1) + ext
}

var globSign = regexp.MustCompile(`[\[\]*?\\]`)

// escapeGlob makes the signs of a pattern stand for themselves. A backslash
// parts folders on some systems and stays there.
func escapeGlob(s string) string {
	if filepath.Separator == '\\' {
		return s
	}
	return globSign.ReplaceAllString(s, `\$0`)
}

// tell says what became of the register.
func (r *rack) tell(c *console, kept string) {
	for _, n := range r.notes {
		c.say("%s", n)
	}
	c.say("booked in %s; as it was it is kept in %s", r.path, kept)
}
