package week

import (
	"sync"

	"kerfold/nest"
)

// firstShare is how much of the work the first layouts count for.
const firstShare = 0.1

// A meter turns what the workers report into one progress. It calls back from
// one goroutine at a time.
type meter struct {
	mu     sync.Mutex
	report func(Progress)
	groups int
	firsts int
	done   []float64 // share searched, by task
	sheets int
}

func newMeter(report func(Progress), groups int) *meter {
	return &meter{report: report, groups: groups, done: make([]float64, groups)}
}

func (m *meter) firstDone(group string, sheets int) {
	m.tell(func() Progress {
		m.firsts++
		m.sheets += sheets
		return Progress{Stage: "first layouts", Group: group}
	})
}

// searching tells of one of several searches of a task; how many follow is not
// known, so that the first counts most.
func (m *meter) searching(task int, p nest.Progress) {
	m.tell(func() Progress {
		m.done[task] = max(m.done[task], p.Done/2)
		return Progress{Stage: "search"}
	})
}

func (m *meter) groupDone(task int) {
	m.tell(func() Progress {
		m.done[task] = 1
		return Progress{Stage: "search"}
	})
}

// tell updates the counts and reports, when anyone listens.
func (m *meter) tell(update func() Progress) {
	m.mu.Lock()
	defer m.mu.Unlock()
	p := update()
	if m.report == nil {
		return
	}
	searched := 0.0
	for _, d := range m.done {
		searched += min(d, 1)
	}
	n := float64(max(m.groups, 1))
	p.Done = firstShare*float64(m.firsts)/n + (1-firstShare)*searched/n
	p.Sheets = m.sheets
	m.report(p)
}
