package shop

import (
	"fmt"
	"strings"
)

// A log gathers what is wrong, so that a user sees everything at once.
type log struct {
	problems Problems
	warnings Problems
	rank     map[string]int // files in the order they were first read
}

func newLog() *log { return &log{rank: map[string]int{}} }

func (l *log) add(p Problem) { l.problems = append(l.problems, p) }

// fault records something that must be mended before planning.
func (l *log) fault(at spot, subject, fact, mend string) {
	l.add(problemAt(at, subject, fact, mend))
}

// warn records something worth a look that stops nothing.
func (l *log) warn(at spot, subject, fact, mend string) {
	l.warnings = append(l.warnings, problemAt(at, subject, fact, mend))
}

func problemAt(at spot, subject, fact, mend string) Problem {
	return Problem{File: at.file, Line: at.line, Column: at.column, Subject: subject, Fact: fact, Mend: mend}
}

// met notes that a file is being read.
func (l *log) met(file string) {
	if _, ok := l.rank[file]; !ok {
		l.rank[file] = len(l.rank)
	}
}

// err is everything wrong, in file order, or nil.
func (l *log) err() error {
	if len(l.problems) == 0 {
		return nil
	}
	return l.problems.sorted(l.rank)
}

// mostAlike is how many warnings of one kind are told before the rest is counted.
const mostAlike = 8

// texts are the warnings, in file order. Of those alike, which a large table
// raises by the hundred, the first are told and the rest is counted.
func (l *log) texts() []string { return l.textsOf(func(Problem) bool { return true }) }

// textsOf is texts of the warnings wanted.
func (l *log) textsOf(wanted func(Problem) bool) []string {
	var out []string
	alike := map[string]int{}
	for _, w := range l.warnings.sorted(l.rank) {
		if !wanted(w) {
			continue
		}
		kind := w.File + "\x00" + w.Mend
		if alike[kind]++; alike[kind] <= mostAlike || w.Mend == "" {
			out = append(out, w.Error())
		}
	}
	for _, kind := range sortedKeys(alike) {
		file, mend, _ := strings.Cut(kind, "\x00")
		if more := alike[kind] - mostAlike; more > 0 && mend != "" {
			out = append(out, fmt.Sprintf("%s: and %s of this kind: %s", file, plural(more, "more warning"), mend))
		}
	}
	return out
}

// listing writes "a, b or c".
func listing(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
