package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/gofrs/flock"

	"kerfold/nest/report"
	"kerfold/nest/week"
)

// A folder is the plan's output. It is written beside its place under another
// name and put in place in one step, so that a reader sees the old plan or the
// new one, whole.
type folder struct {
	path, temp string
	kept       string       // where a folder that was not ours went
	aside      bool         // the present folder is not ours; keep it
	lock       *flock.Flock // held while temp is being written
}

// openFolder looks whether the folder may be written, and readies the place
// beside it.
func openFolder(path, input string, force bool) (*folder, error) {
	path = filepath.Clean(path)
	if err := notAround(path, input); err != nil {
		return nil, err
	}
	mendSwap(path)
	f := &folder{path: path}
	foreign, err := foreignFile(path)
	if err != nil {
		return nil, err
	}
	if foreign != "" {
		if !force {
			return nil, fmt.Errorf("%s holds %s, which is no part of a plan: choose another folder with --out, or use --force to set it aside",
				path, foreign)
		}
		f.aside = true
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return nil, err
	}
	if err := f.beside(); err != nil {
		return nil, fmt.Errorf("the plan cannot be written there: %w", err)
	}
	return f, nil
}

// notAround refuses a folder that holds the job file, or is it.
func notAround(path, input string) error {
	out, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	in, err := filepath.Abs(input)
	if err != nil {
		return err
	}
	rel, err := filepath.Rel(out, in)
	if err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return fmt.Errorf("the job file %s lies in %s, which the plan would replace: choose another folder with --out", input, path)
	}
	return nil
}

// ours matches the names of files a plan is made of.
var ours = regexp.MustCompile(`^(plan\.json|cutlist\.csv|done\.csv|stock-after\.yaml|register-after\.[a-z]{1,5}|summary\.txt|report\.html|labels\.html|week\.xlsx|layouts|layouts/G\d+-L\d+\.(svg|dxf))$`)

// foreignFile names a file in an existing folder that no plan is made of.
func foreignFile(dir string) (string, error) {
	st, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", nil
	case err != nil:
		return "", err
	case !st.IsDir():
		return "", fmt.Errorf("%s is a file: choose a folder with --out", dir)
	}
	foreign, entries := "", 0
	err = fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name == "." {
			return nil
		}
		entries++
		if !ours.MatchString(name) || d.Type()&^fs.ModeDir != 0 {
			foreign = name
			return fs.SkipAll
		}
		return nil
	})
	if foreign == "" && entries > 0 && !holdsPlan(dir) {
		foreign = "files but no plan.json"
	}
	return foreign, err
}

// holdsPlan reports whether a folder's plan.json begins like one of ours.
func holdsPlan(dir string) bool {
	f, err := os.Open(filepath.Join(dir, "plan.json"))
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 256)
	n, _ := io.ReadFull(f, head)
	return bytes.Contains(head[:n], []byte(`"kerfold_plan"`))
}

// write writes every file of a plan and those added, beside the folder's place.
func (f *folder) write(p *week.Plan, more ...outFile) error {
	for _, file := range append(planFiles(p), more...) {
		if err := f.file(file); err != nil {
			return err
		}
	}
	return nil
}

// finish puts the folder in place.
func (f *folder) finish() error {
	if err := f.release(); err != nil {
		return err
	}
	if err := os.Chmod(f.temp, 0o755); err != nil {
		return err
	}
	return f.place()
}

// An outFile is one file of a plan.
type outFile struct {
	name  string
	write func(w io.Writer) error
}

func planFiles(p *week.Plan) []outFile {
	files := []outFile{
		{"plan.json", func(w io.Writer) error { return report.WritePlan(w, p) }},
		{"cutlist.csv", func(w io.Writer) error { return report.WriteCutList(w, p) }},
		{"stock-after.yaml", func(w io.Writer) error { return report.WriteStock(w, p) }},
		{"done.csv", func(w io.Writer) error { return report.WriteDoneList(w, p) }},
		{"summary.txt", func(w io.Writer) error { return report.WriteSummary(w, p) }},
		{"report.html", func(w io.Writer) error { return report.WriteReport(w, p) }},
		{"labels.html", func(w io.Writer) error { return report.WriteLabels(w, p) }},
		{"week.xlsx", func(w io.Writer) error { return report.WriteWorkbook(w, p) }},
	}
	for g := range p.Groups {
		for l := range p.Groups[g].Layouts {
			base := path.Join("layouts", p.Groups[g].Layouts[l].ID)
			files = append(files,
				outFile{base + ".svg", func(w io.Writer) error { return report.WriteLayoutSVG(w, p, g, l) }},
				outFile{base + ".dxf", func(w io.Writer) error { return report.WriteLayoutDXF(w, p, g, l) }})
		}
	}
	return files
}

func (f *folder) file(o outFile) error {
	name := filepath.Join(f.temp, filepath.FromSlash(o.name))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	out, err := os.Create(name)
	if err != nil {
		return err
	}
	b := bufio.NewWriter(out)
	err = errors.Join(o.write(b), b.Flush(), out.Sync(), out.Close())
	if err != nil {
		return fmt.Errorf("%s: %w", o.name, err)
	}
	return nil
}

// place puts the finished folder where it belongs.
func (f *folder) place() error {
	_, err := os.Lstat(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return os.Rename(f.temp, f.path)
	case err != nil:
		return err
	case f.aside:
		f.kept = freeName(f.path + ".before")
		if err := os.Rename(f.path, f.kept); err != nil {
			return err
		}
		return os.Rename(f.temp, f.path)
	}
	return swap(f.temp, f.path) // the old plan is now in temp, and is discarded
}

func freeName(name string) string {
	free := name
	for i := 2; ; i++ {
		if _, err := os.Lstat(free); errors.Is(err, fs.ErrNotExist) {
			return free
		}
		free = fmt.Sprintf("%s-%d", name, i)
	}
}

// discard removes what is not in place.
func (f *folder) discard() {
	f.release()
	if f.temp != "" {
		os.RemoveAll(f.temp)
	}
}
