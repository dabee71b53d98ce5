package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// pageFile is the page that is made from the records, beside the hand-written
// README.md.
const pageFile = "RESULTS.md"

// A page is made from the records under a benchmarks folder, without running a
// search. Tables and plots need the records only; pictures need the instances'
// outlines as well.
type page struct {
	dir, data string
	talk      io.Writer
}

// remakePage is the word "page" of the command line.
func remakePage(args []string, talk io.Writer) int {
	p := page{talk: talk}
	f := flag.NewFlagSet("benchmarks page", flag.ContinueOnError)
	f.SetOutput(talk)
	f.StringVar(&p.dir, "dir", "benchmarks", "folder that holds results and page")
	f.StringVar(&p.data, "data", "", "folder of instances (default $"+dataEnv+", else ../shared/datasets)")
	err := f.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err == nil && f.NArg() > 0:
		err = fmt.Errorf("page takes flags only, not %q", f.Arg(0))
	}
	if err != nil {
		fmt.Fprintln(talk, "benchmarks:", err)
		return 2
	}
	if err := p.write(); err != nil {
		fmt.Fprintln(talk, "benchmarks:", err)
		return 1
	}
	return 0
}

// isFolder refuses a folder that is not there: made in the wrong place, records
// would be lost from sight.
func isFolder(dir string) error {
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return fmt.Errorf("no folder %q; run this at the top of the repository, or name the folder with -dir", dir)
	}
	return nil
}

// write remakes every file of the page.
func (p page) write() error {
	if err := isFolder(p.dir); err != nil {
		return err
	}
	records, err := readRecords(p.dir)
	if err != nil {
		return err
	}
	files, err := textAndPlots(records)
	if err != nil {
		return err
	}
	pictures, err := p.pictures(records)
	if err != nil {
		return err
	}
	for _, f := range append(files, pictures...) {
		if err := writeWhole(filepath.Join(p.dir, f.name), f.data); err != nil {
			return err
		}
	}
	return nil
}

// A madeFile is a file of the page, by its name from the benchmarks folder.
type madeFile struct {
	name string
	data []byte
}

// textAndPlots makes what needs the records only.
func textAndPlots(records []record) ([]madeFile, error) {
	v := viewOf(records)
	var files []madeFile
	for _, draw := range []struct {
		name string
		list []record
	}{{stripPlot, v.strips}, {sheetPlot, v.families}} {
		if len(draw.list) == 0 {
			continue
		}
		data, err := plotCurves(draw.list)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", draw.name, err)
		}
		files = append(files, madeFile{draw.name, data})
	}
	var text bytes.Buffer
	v.page(&text)
	return append(files, madeFile{pageFile, text.Bytes()}), nil
}

const (
	stripPlot = "results/plots/strips.svg"
	sheetPlot = "results/plots/sheets.svg"
)
