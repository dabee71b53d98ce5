package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is the house's table: which rooms a room may import beside what
// those rooms may import themselves. Arrows run downwards only.
var mayImport = []struct {
	room string
	may  []string
}{
	{"geom", nil},
	{"geom/drawing", []string{"geom"}},
	{"cost", []string{"geom"}},
	{"nest", []string{"geom"}},
	{"nest/verify", []string{"geom"}},
	{"nest/route", []string{"geom", "nest"}},
	{"nest/shop", []string{"geom/drawing", "cost"}},
	{"nest/week", []string{"nest", "nest/route", "nest/verify", "cost", "nest/shop"}},
	{"nest/report", []string{"nest/week", "geom/drawing"}},
	{"cmd/kerfold", []string{"nest/report"}},
	{"benchmarks", []string{"nest", "nest/verify"}},
}

// allowed is the closure of mayImport.
func allowed() map[string]map[string]bool {
	all := map[string]map[string]bool{}
	for _, row := range mayImport {
		set := map[string]bool{}
		for _, r := range row.may {
			set[r] = true
			for below := range all[r] {
				set[below] = true
			}
		}
		all[row.room] = set
	}
	// The judge must share nothing with the searches, not even by way of
	// another room.
	all["nest/verify"] = map[string]bool{"geom": true}
	return all
}

func TestImportsRunDownwards(t *testing.T) {
	rooms := allowed()
	for _, f := range productFiles(t) {
		may, known := rooms[f.room]
		if !known {
			t.Errorf("%s: %s is no room of the house; add it to the table", f.name, f.room)
			continue
		}
		for _, imp := range f.imports {
			below, ours := strings.CutPrefix(imp, "kerfold/")
			if ours && below != f.room && !may[below] {
				t.Errorf("%s: %s may not import %s", f.name, f.room, below)
			}
		}
	}
}

// pureRooms read no clock, file, terminal or environment: all that is passed in.
func pureRoom(room string) bool {
	return room != "cmd/kerfold" && room != "benchmarks"
}

func TestRoomsTouchNothingOutside(t *testing.T) {
	forbidden := []string{"os", "os/exec", "os/signal", "syscall", "net", "net/http", "golang.org/x/term", "io/ioutil"}
	clocks := []string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Sleep"}
	for _, f := range productFiles(t) {
		if !pureRoom(f.room) {
			continue
		}
		for _, imp := range f.imports {
			if slices.Contains(forbidden, imp) {
				t.Errorf("%s imports %s: pass in what it needs", f.name, imp)
			}
		}
		for _, clock := range clocks {
			if f.uses["time."+clock] {
				t.Errorf("%s calls time.%s: pass the time in", f.name, clock)
			}
		}
		for _, unseeded := range []string{"rand.Int", "rand.IntN", "rand.Float64", "rand.Shuffle", "rand.Perm", "rand.N"} {
			if f.uses[unseeded] {
				t.Errorf("%s calls %s: pass a seeded source in", f.name, unseeded)
			}
		}
	}
}

// A productFile is one Go file that is no test.
type productFile struct {
	name, room string
	imports    []string
	uses       map[string]bool // pkg.Name selectors on imported packages
}

func productFiles(t *testing.T) []productFile {
	t.Helper()
	root := filepath.Join("..", "..")
	var files []productFile
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		base := d.Name()
		if d.IsDir() && (base == "testdata" || strings.HasPrefix(base, ".") && base != "..") {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(base, ".go") || strings.HasSuffix(base, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		f, err := readProductFile(name, filepath.ToSlash(rel))
		files = append(files, f)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 50 {
		t.Fatalf("only %d files found: the test looks in the wrong place", len(files))
	}
	return files
}

func readProductFile(name, rel string) (productFile, error) {
	src, err := os.ReadFile(name)
	if err != nil {
		return productFile{}, err
	}
	tree, err := parser.ParseFile(token.NewFileSet(), name, src, parser.SkipObjectResolution)
	if err != nil {
		return productFile{}, err
	}
	f := productFile{name: rel, room: strings.TrimSuffix(filepath.ToSlash(filepath.Dir(rel)), "/"), uses: map[string]bool{}}
	for _, imp := range tree.Imports {
		p, err := strconv.Unquote(imp.Path.Value)
		if err != nil {
			return f, err
		}
		f.imports = append(f.imports, p)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok {
				f.uses[x.Name+"."+sel.Sel.Name] = true
			}
		}
		return true
	})
	return f, nil
}
