package shop

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"

	"kerfold/cost"
)

// maxFile bounds what is read from one file, in bytes.
const maxFile = 64 << 20

// Load reads a job file and everything it names: drawings, tables of orders,
// the stock register. Names in the file are relative to the file. The error,
// where not nil, is a [Problems] with everything found wrong, in file order.
func Load(fsys fs.FS, name string) (*Job, error) {
	return LoadWith(fsys, name, LoadOptions{})
}

// LoadOptions say what else there is beside the job file.
type LoadOptions struct {
	// Register is the name of a stock register that stands in for the one the
	// job names, and RegisterData its content; no name is none.
	Register     string
	RegisterData []byte
}

// LoadWith is Load with options.
func LoadWith(fsys fs.FS, name string, o LoadOptions) (*Job, error) {
	l := newLoader(fsys, name)
	l.options = o
	if v := l.jobFile(); v != nil {
		l.job.read(l, v)
	}
	if err := l.log.err(); err != nil {
		return nil, err
	}
	l.job.Warnings, l.job.log = l.log.texts(), l.log
	return l.job, nil
}

// A loader reads one job.
type loader struct {
	log  *log
	fsys fs.FS
	name string
	job  *Job

	ids       map[string]spot   // order ids
	orderAt   map[string]spot   // where an order is written, by id
	stockAt   map[string]spot   // likewise stock
	machineAt map[string]spot   // and machines
	drawn     map[string]*drawn // drawings read
	names     *nameList         // materials
	badOrders int               // orders left out because they are faulty
	badStock  int
	options   LoadOptions
	asWritten bool                       // materials are not looked up
	keys      map[string]map[string]bool // keys known by section
}

func newLoader(fsys fs.FS, name string) *loader {
	l := &loader{
		log: newLog(), fsys: fsys, name: name,
		job: &Job{File: name, Spacing: math.NaN(), Margin: math.NaN(), Gaps: map[string]Gap{}},
		ids: map[string]spot{}, orderAt: map[string]spot{}, stockAt: map[string]spot{}, machineAt: map[string]spot{},
		drawn: map[string]*drawn{}, keys: map[string]map[string]bool{},
	}
	l.log.met(name)
	return l
}

// jobFile reads the job file itself.
func (l *loader) jobFile() *value {
	at := spot{file: l.name}
	data, err := l.read(l.name)
	if err != nil {
		mend := "name a job file that you may read"
		if errors.Is(err, fs.ErrNotExist) {
			mend = "look at its path"
			if near, ok := l.nearFile(l.name); ok {
				mend = fmt.Sprintf("did you mean %s?", near)
			}
		}
		l.log.fault(at, "", fmt.Sprintf("the job file cannot be read: %v", plainReason(err)), mend)
		return nil
	}
	v := parseYAML(l.log, l.name, data)
	if v == nil && len(l.log.problems) == 0 || v != nil && v.kind == empty {
		l.log.fault(at, "", "the job file is empty", "begin with version: 1 and orders:")
		return nil
	}
	return v
}

// read returns a file's content, of bounded size.
func (l *loader) read(name string) ([]byte, error) {
	l.log.met(name)
	if !fs.ValidPath(name) {
		return nil, fs.ErrNotExist
	}
	f, err := l.fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if st, err := f.Stat(); err == nil && st.IsDir() {
		return nil, errors.New("it is a folder")
	}
	data, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	if len(data) > maxFile {
		return nil, fmt.Errorf("it is larger than %d MB", maxFile>>20)
	}
	return data, err
}

// resolve makes a name in the job file a name in the file system.
func (l *loader) resolve(f *fields, key, file string) (string, bool) {
	slashed := strings.ReplaceAll(file, `\`, "/")
	name := path.Join(path.Dir(l.name), slashed)
	if path.IsAbs(slashed) || strings.Contains(slashed, ":") || !fs.ValidPath(name) {
		mend := "put it beside the job file or below, and name it from there"
		if key == "register" {
			mend += ", or name it with --register"
		}
		f.fault(f.at(key), fmt.Sprintf("%s lies outside the job's folder", quoteText(file)), mend)
		return "", false
	}
	return name, true
}

// note remembers which keys a section knows, so that tests can hold the
// reference against it.
func (l *loader) note(section string, f *fields) {
	if l.keys[section] == nil {
		l.keys[section] = map[string]bool{}
	}
	for _, k := range append(slices.Clone(f.known), f.rare...) {
		l.keys[section][k] = true
	}
}

// read fills the job from the top record.
func (j *Job) read(l *loader, v *value) {
	f := l.log.open(v, "")
	if f.faulty {
		return
	}
	l.version(f)
	j.Name, _ = f.text("name")
	if j.Name == "" {
		j.Name = partName(l.name)
	}
	l.units(f)
	l.calendar(f)
	l.gaps(f)
	l.cutting(f)
	l.rates(f)
	l.remnantRule(f)
	l.materials(f)
	l.machines(f)
	l.allStock(f)
	l.allOrders(f)
	f.done()
	l.note("job", f)
	l.validate()
}

func (l *loader) version(f *fields) {
	n, ok := f.whole("version", 1, 1<<30)
	switch {
	case !ok && !f.has("version"):
		f.warn(spot{file: l.name}, "no version", fmt.Sprintf("begin the file with version: %d; it is read as that", Version))
	case ok && n != Version:
		f.fault(f.at("version"), fmt.Sprintf("version is %d, and this program reads %d", n, Version), "use the program the file was written for")
	}
}

// units reads what people read the results in. The job's own numbers say their
// units themselves.
func (l *loader) units(f *fields) {
	if word, ok := f.choice("units", cost.UnitSystems()...); ok {
		l.job.Units, _ = cost.ParseUnitSystem(word)
	}
}

var gap = limits{low: 0, high: 200, usualLow: 0, usualHigh: 50}

func (l *loader) gaps(f *fields) {
	if x, ok := f.quantity("spacing", &length, gap); ok {
		l.job.Spacing = x
	}
	if x, ok := f.quantity("margin", &length, gap); ok {
		l.job.Margin = x
	}
}

// records reads a list of records under key; read is called for each.
func (f *fields) records(key string, read func(v *value)) {
	for _, item := range f.items(key) {
		if item.kind != record {
			f.fault(item.at, fmt.Sprintf("%s holds %s", key, item.kind), recordsMend(key))
			continue
		}
		read(item)
	}
}

// recordsMend says how a list of records is written; orders may stand in tables.
func recordsMend(key string) string {
	mend := "list records: a dash, then key: value lines"
	if key == "orders" {
		mend += "; name a table of orders under order_tables: instead"
	}
	return mend
}

// MaterialNames lists the job's materials in sorted order.
func (j *Job) MaterialNames() []string { return sortedKeys(j.Materials) }
