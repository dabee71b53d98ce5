package drawing

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden reports anew; review the difference")

// TestReports compares the report of every drawing in testdata with the one
// reviewed before.
func TestReports(t *testing.T) {
	for _, name := range testdata(t) {
		t.Run(name, func(t *testing.T) {
			var buf bytes.Buffer
			in, err := Read(name, readFile(t, name), Options{})
			if err != nil {
				buf.WriteString(err.Error() + "\n")
			} else {
				checkIntake(t, in)
				if err := WriteReport(&buf, in); err != nil {
					t.Fatal(err)
				}
			}
			golden := filepath.Join("testdata", "reports", name+".txt")
			if *update {
				if err := os.WriteFile(golden, buf.Bytes(), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.ReplaceAll(string(want), "\r\n", "\n"), buf.String()); diff != "" {
				t.Errorf("report differs (-want +got):\n%s", diff)
			}
		})
	}
}

// testdata lists the drawings in testdata.
func testdata(tb testing.TB) []string {
	tb.Helper()
	files, err := filepath.Glob(filepath.Join("testdata", "*.*"))
	if err != nil || len(files) < 40 {
		tb.Fatalf("%d drawings in testdata: %v", len(files), err)
	}
	for i, f := range files {
		files[i] = filepath.Base(f)
	}
	return files
}

func readFile(tb testing.TB, name string) []byte {
	tb.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		tb.Fatal(err)
	}
	return data
}
