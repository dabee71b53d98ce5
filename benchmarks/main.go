// Benchmarks runs the layout searches on test instances and prints their yields
// beside published ones.
//
//	go run ./benchmarks [-data DIR] [-instances a,b] [-seconds N | -effort N] [-seed S]
//	                    [-workers N] [-search NAMES] [-out DIR] [FILE …]
//	go run ./benchmarks record [-series NAMES] [-instances a,b] [-search NAMES] [-seconds N]
//	                    [-seed S] [-workers N] [-processor] [-note TEXT] [-data DIR] [-dir DIR]
//	go run ./benchmarks page [-data DIR] [-dir DIR]
//
// The first form runs and prints. "record" runs the series of series.go, skips what
// results/records.jsonl already holds for the searches that are checked out, adds
// the rest to it and remakes the page; "page" remakes the page alone: RESULTS.md,
// plots and pictures.
//
// Instances come from the folder given with -data, by the environment variable
// KERFOLD_DATASETS, or else from ../shared/datasets: strip/NAME.json and
// bin/SET/NAME.json, the public collection of the ESICUP working group in one
// plain form. FILEs may also be in the collection's own XML (strips) and TXT
// (bins). The program carries a few instances itself, of known best length or
// number of bins; they form the set "built-in". It also makes instances as a
// shop has them: 500 copies of one outline (the set "gaskets") and many kinds (the
// set "mix"). -instances picks by name or by
// set ("strip", the bin sets, "built-in", "all"); without it, and without FILEs,
// the strips are run.
//
// Every layout is examined by the project's verifier and by a second library
// before it counts. With -out every legal layout is written as JSON, and its
// yield over time as CSV. The program ends with exit code 1 when a layout was
// refused or a search failed, 2 when it was called wrongly, and 130 when it was
// interrupted.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// settings is what the command line says.
type settings struct {
	data, instances, out, search string
	files                        []string
	budget
}

func parse(args []string, talk io.Writer) (settings, error) {
	var s settings
	f := flag.NewFlagSet("benchmarks", flag.ContinueOnError)
	f.SetOutput(talk)
	f.StringVar(&s.data, "data", "", "folder of instances (default $"+dataEnv+", else ../shared/datasets)")
	f.StringVar(&s.instances, "instances", "", "comma-separated names or sets (default the strips)")
	f.Float64Var(&s.seconds, "seconds", 0, "seconds for each search, instead of effort")
	f.Float64Var(&s.effort, "effort", 1, "effort for each search; 1 is about a second on one core")
	f.Uint64Var(&s.seed, "seed", 1, "seed of every search")
	f.IntVar(&s.workers, "workers", 2, "goroutines a search may use")
	f.StringVar(&s.search, "search", "solve", "comma-separated searches, or all")
	f.StringVar(&s.out, "out", "", "folder for layouts and curves")
	if err := f.Parse(args); err != nil {
		return s, err
	}
	s.files = f.Args()
	if s.seconds < 0 || s.effort <= 0 || s.workers < 1 {
		return s, fmt.Errorf("seconds %g, effort %g, workers %d: give positive numbers", s.seconds, s.effort, s.workers)
	}
	return s, nil
}

func run(ctx context.Context, args []string, out, talk io.Writer) int {
	if len(args) > 0 && args[0] == "record" {
		return recordAll(ctx, args[1:], out, talk)
	}
	if len(args) > 0 && args[0] == "page" {
		return remakePage(args[1:], talk)
	}
	s, err := parse(args, talk)
	if err == flag.ErrHelp {
		return 0
	}
	if err != nil {
		fmt.Fprintln(talk, "benchmarks:", err)
		return 2
	}
	list, err := s.load(talk)
	if err != nil {
		fmt.Fprintln(talk, "benchmarks:", err)
		return 2
	}
	ways, err := searchNamed(s.search)
	if err != nil {
		fmt.Fprintln(talk, "benchmarks:", err)
		return 2
	}
	return s.runAll(ctx, list, ways, out, talk)
}

// load finds the instances to run.
func (s settings) load(talk io.Writer) ([]instance, error) {
	var chosen []instance
	for _, file := range s.files {
		in, err := readFile(file)
		if err != nil {
			return nil, err
		}
		chosen = append(chosen, in)
	}
	if len(chosen) > 0 && s.instances == "" {
		return chosen, nil
	}
	dir, err := dataFolder(s.data)
	if err != nil {
		return nil, err
	}
	list := generated()
	if dir == "" {
		fmt.Fprintf(talk, "benchmarks: no folder of public instances was found; only the built-in ones can be run. Give one with -data or %s\n", dataEnv)
		if s.instances == "" {
			s.instances = builtInSet
		}
	} else {
		public, err := readFolder(dir)
		if err != nil {
			return nil, err
		}
		list = append(public, list...)
	}
	named, err := choose(list, s.instances)
	return append(chosen, named...), err
}

// runAll runs every search on every instance and prints as it goes: strips
// first, then bins.
func (s settings) runAll(ctx context.Context, list []instance, ways []search, out, talk io.Writer) int {
	fmt.Fprintln(out, header(s.budget))
	code := 0
	var all []outcome
	for _, strips := range []bool{true, false} {
		headed := false
		for _, in := range list {
			if in.strip() != strips {
				continue
			}
			for _, way := range ways {
				if ctx.Err() != nil {
					return 130
				}
				if !headed {
					s.printHead(out, strips)
					headed = true
				}
				o := attempt(ctx, in, way, s.budget)
				code = max(code, s.tell(o, out, talk))
				all = append(all, o)
			}
		}
	}
	printSums(out, all)
	if len(list) > 0 && list[0].strip() {
		fmt.Fprintln(out, citations)
	}
	return code
}

func (s settings) printHead(out io.Writer, strips bool) {
	if strips {
		printStripHead(out)
		return
	}
	printBinHead(out)
}

// tell prints and writes one outcome and returns its exit code.
func (s settings) tell(o outcome, out, talk io.Writer) int {
	if o.err != nil {
		fmt.Fprintf(talk, "benchmarks: %s by %s: %v\n", o.in.Name, o.search, o.err)
		return 1
	}
	if o.in.strip() {
		printStrip(out, o)
	} else {
		printBin(out, o)
	}
	for _, fault := range o.faults {
		fmt.Fprintf(talk, "benchmarks: %s by %s refused: %s\n", o.in.Name, o.search, fault)
	}
	if s.out != "" {
		if err := writeOutcome(s.out, o, s.budget); err != nil {
			fmt.Fprintln(talk, "benchmarks:", err)
			return 1
		}
	}
	if len(o.faults) > 0 {
		return 1
	}
	return 0
}
