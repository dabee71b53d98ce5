package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// A recording runs series and adds to the records what is not yet in them.
type recording struct {
	settings
	dir, note string
	series    []series
	state     state
	today     string
	done      []record
	out, talk io.Writer
}

func parseRecording(args []string, talk io.Writer) (recording, error) {
	r := recording{talk: talk}
	var names string
	f := flag.NewFlagSet("benchmarks record", flag.ContinueOnError)
	f.SetOutput(talk)
	f.StringVar(&r.dir, "dir", "benchmarks", "folder that holds results and page")
	f.StringVar(&names, "series", "all", "comma-separated series")
	f.StringVar(&r.data, "data", "", "folder of instances (default $"+dataEnv+", else ../shared/datasets)")
	f.StringVar(&r.instances, "instances", "", "comma-separated names or sets: only these of the series")
	f.StringVar(&r.search, "search", "", "comma-separated searches: only these of the series")
	f.Float64Var(&r.seconds, "seconds", 0, "seconds for each search, instead of the series' own")
	f.Uint64Var(&r.seed, "seed", 1, "seed of every search")
	f.IntVar(&r.workers, "workers", 2, "goroutines a search may use")
	f.BoolVar(&r.processor, "processor", false, "count seconds in processor time, each worker's share of it, so that other work on the machine matters little")
	f.StringVar(&r.note, "note", "", "remark to put into the records, such as what else the machine was doing")
	if err := f.Parse(args); err != nil {
		return r, err
	}
	if f.NArg() > 0 || r.seconds < 0 || r.workers < 1 {
		return r, fmt.Errorf("record takes flags only, positive seconds and workers")
	}
	if r.processor && !tellsProcessorTime() {
		return r, errNoProcessorTime
	}
	var err error
	if r.series, err = seriesNamed(names); err != nil {
		return r, err
	}
	return r, isFolder(r.dir)
}

// recordAll is the word "record" of the command line.
func recordAll(ctx context.Context, args []string, out, talk io.Writer) int {
	r, err := parseRecording(args, talk)
	if err == flag.ErrHelp {
		return 0
	}
	if err == nil {
		r.out, r.today = out, time.Now().Format(time.DateOnly)
		r.state, err = stateHere()
	}
	if err == nil {
		return r.run(ctx)
	}
	fmt.Fprintln(talk, "benchmarks:", err)
	return 2
}

// run does what is missing and remakes the page.
func (r *recording) run(ctx context.Context) int {
	todo, err := r.plan()
	if err != nil {
		fmt.Fprintln(r.talk, "benchmarks:", err)
		return 2
	}
	code := r.all(ctx, todo)
	return max(code, r.remake())
}

// all runs what is missing until it is interrupted or cannot be written.
func (r *recording) all(ctx context.Context, todo []job) int {
	code := 0
	for i, job := range todo {
		fmt.Fprintf(r.out, "%d of %d: ", i+1, len(todo))
		failed, err := r.one(ctx, job)
		switch {
		case ctx.Err() != nil:
			fmt.Fprintln(r.talk, "benchmarks: interrupted; the same command goes on from here")
			return 130
		case err != nil:
			fmt.Fprintln(r.talk, "benchmarks:", err)
			return 1
		case failed:
			code = 1
		}
	}
	return code
}

// remake makes the page from the records.
func (r *recording) remake() int {
	p := page{dir: r.dir, data: r.data, talk: r.talk}
	if err := p.write(); err != nil {
		fmt.Fprintln(r.talk, "benchmarks:", err)
		return 1
	}
	return 0
}

// A job is one run of a series.
type job struct {
	series series
	in     instance
	way    search
	budget budget
}

// plan lists the runs that no record gives yet, and says how long they may take.
func (r *recording) plan() ([]job, error) {
	wanted, err := r.jobs()
	if err != nil {
		return nil, err
	}
	if r.done, err = readRecords(r.dir); err != nil {
		return nil, err
	}
	var todo []job
	seconds := 0.0
	for _, j := range wanted {
		if !r.recorded(j) {
			todo = append(todo, j)
			seconds += j.budget.seconds
		}
	}
	fmt.Fprintf(r.out, "%d runs wanted, %d recorded already with this engine (%s), %d to do in up to %s\n",
		len(wanted), len(wanted)-len(todo), r.state.engine, len(todo), time.Duration(seconds*float64(time.Second)).Round(time.Second))
	return todo, nil
}

// jobs lists every run of the chosen series.
func (r *recording) jobs() ([]job, error) {
	var list []job
	for _, s := range r.series {
		more, err := r.jobsOf(s)
		if err != nil {
			return nil, fmt.Errorf("series %s: %w", s.name, err)
		}
		list = append(list, more...)
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("none of the series has a search %q on an instance or set %q", r.search, r.instances)
	}
	return list, nil
}

func (r *recording) jobsOf(s series) ([]job, error) {
	ways, err := s.ways()
	if err == nil {
		ways, err = onlyWays(ways, r.search)
	}
	if err != nil {
		return nil, err
	}
	from := r.settings
	from.instances = s.instances
	ins, err := from.load(r.talk)
	if err != nil {
		return nil, err
	}
	ins = only(ins, r.instances)
	b := r.budget
	if b.seconds == 0 {
		b.seconds = s.seconds
	}
	var list []job
	for _, in := range ins {
		for _, way := range ways {
			list = append(list, job{s, in, way, b})
		}
	}
	return list, nil
}

// only keeps the instances that are named, by name or by set; all without names.
func only(list []instance, names string) []instance {
	if names == "" {
		return list
	}
	words := strings.Split(names, ",")
	return slices.DeleteFunc(slices.Clone(list), func(in instance) bool {
		return !slices.Contains(words, in.Name) && !slices.Contains(words, in.Set)
	})
}

// onlyWays keeps the searches that are named; all without names.
func onlyWays(list []search, names string) ([]search, error) {
	if names == "" {
		return list, nil
	}
	named, err := searchNamed(names)
	return slices.DeleteFunc(list, func(w search) bool {
		return !slices.ContainsFunc(named, func(n search) bool { return n.name == w.name })
	}), err
}

func (r *recording) recorded(j job) bool {
	would := r.blank(recordOf(outcome{in: j.in, search: j.way.name}, j.budget), j)
	return slices.ContainsFunc(r.done, would.repeats)
}

// blank fills in what a record says besides the outcome.
func (r *recording) blank(rec record, j job) record {
	rec.Date, rec.Series, rec.Note = r.today, j.series.name, r.note
	if j.budget.processor {
		rec.Clock = processorClock
	}
	rec.Engine, rec.Commit, rec.Machine = r.state.engine, r.state.commit, r.state.machine
	return rec
}

// one runs a job and records it, unless it was interrupted; it tells whether the
// search failed or its layout was refused.
func (r *recording) one(ctx context.Context, j job) (failed bool, err error) {
	forgetPeak()
	cpu := cpuSeconds()
	o := attempt(ctx, j.in, j.way, j.budget)
	if ctx.Err() != nil {
		return false, nil
	}
	rec := r.blank(recordOf(o, j.budget), j)
	rec.CPU, rec.PeakMB = rounded(cpuSeconds()-cpu, 2), rounded(peakMiB(), 1)
	r.tellRecord(rec)
	if rec.Fault == "" && j.series.pictures {
		rec.Layout = layoutName(rec)
		if err := keepLayout(r.dir, o, j.budget, rec.Layout); err != nil {
			return false, err
		}
	}
	return rec.Fault != "", appendRecord(r.dir, rec)
}

func (r *recording) tellRecord(rec record) {
	switch {
	case rec.Fault != "":
		fmt.Fprintf(r.out, "%s: REFUSED: %s\n", rec.key(), rec.Fault)
	case rec.strip():
		fmt.Fprintf(r.out, "%s: %.2f %%, length %.3f\n", rec.key(), rec.Density, rec.Length)
	default:
		fmt.Fprintf(r.out, "%s: %d bins (%d known or needed), %.2f %%\n", rec.key(), rec.Bins, rec.target(), rec.Density)
	}
}
