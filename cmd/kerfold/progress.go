package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"

	"kerfold/nest/week"
)

// steps is the resolution of the progress bar.
const steps = 1000

// A progress shows how far a plan is, on a terminal only.
type progress struct {
	mu    sync.Mutex
	pool  *mpb.Progress
	bar   *mpb.Bar
	start time.Time
	limit time.Duration // of the whole plan; 0 is none
	last  week.Progress
}

// newProgress returns nil when w is not a terminal; all methods accept nil.
func newProgress(w io.Writer, limit time.Duration) *progress {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	p := &progress{start: time.Now(), limit: limit, pool: mpb.New(mpb.WithOutput(w), mpb.WithWidth(40))}
	p.bar = p.pool.AddBar(steps, mpb.BarRemoveOnComplete(),
		mpb.PrependDecorators(decor.Any(func(decor.Statistics) string { return p.stage() })),
		mpb.AppendDecorators(decor.Any(func(decor.Statistics) string { return p.remaining() })))
	return p
}

func (p *progress) update(now week.Progress) {
	if p == nil {
		return
	}
	p.mu.Lock()
	p.last = now
	p.mu.Unlock()
	p.bar.SetCurrent(int64(min(p.share(now), 0.999) * steps))
}

// share is how far the plan is: by work, or by time where that is limited and
// further on.
func (p *progress) share(now week.Progress) float64 {
	if p.limit <= 0 {
		return now.Done
	}
	return max(now.Done, float64(time.Since(p.start))/float64(p.limit))
}

func (p *progress) stage() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return fmt.Sprintf("%-14s %3d sheets ", p.last.Stage, p.last.Sheets)
}

// remaining estimates the time left from the share done so far.
func (p *progress) remaining() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	spent := time.Since(p.start)
	share := p.share(p.last)
	if share < 0.02 {
		return " estimating"
	}
	left := time.Duration(float64(spent) * (1 - share) / share)
	return fmt.Sprintf(" about %d s left", int(left.Seconds())+1)
}

func (p *progress) done() {
	if p == nil {
		return
	}
	p.bar.SetCurrent(steps)
	p.pool.Wait()
}

// over is a writer for talk while the bar shows: lines appear above it.
func (p *progress) over(w io.Writer) io.Writer {
	if p == nil {
		return w
	}
	return overBar{p.pool, w}
}

type overBar struct {
	pool *mpb.Progress
	w    io.Writer
}

func (o overBar) Write(b []byte) (int, error) {
	if n, err := o.pool.Write(b); err == nil {
		return n, nil
	}
	return o.w.Write(b) // the bar is done
}
