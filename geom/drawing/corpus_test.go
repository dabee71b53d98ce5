package drawing

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// corpusDir finds the reference drawings, or skips: they are kept outside the
// repository.
func corpusDir(tb testing.TB) string {
	tb.Helper()
	dir := os.Getenv("KERFOLD_DRAWINGS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "drawings")
	}
	if _, err := os.Stat(filepath.Join(dir, "REFERENCE.tsv")); err != nil {
		tb.Skip("the reference drawings are not here; set KERFOLD_DRAWINGS to their folder")
	}
	return dir
}

// corpus lists the names of the reference drawings.
func corpus(tb testing.TB) []string {
	tb.Helper()
	files, err := filepath.Glob(filepath.Join(corpusDir(tb), "*.dxf"))
	if err != nil || len(files) == 0 {
		tb.Fatalf("no drawings found: %v", err)
	}
	for i := range files {
		files[i] = filepath.Base(files[i])
	}
	slices.Sort(files)
	return files
}
