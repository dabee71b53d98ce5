package cost

import (
	"math"
	"testing"
)

// Each row is what a study of the changed job itself says, and the first is the
// study.
func TestWhatIfsAgainstStudies(t *testing.T) {
	j := studyJob(200)
	base, err := StudyPart(j)
	if err != nil || base.Stack < 2 {
		t.Fatalf("stack %d, %v", base.Stack, err)
	}
	found := map[string]WhatIf{}
	for _, w := range base.WhatIfs {
		found[w.Change] = w
	}
	if len(found) != len(changes()) || base.WhatIfs[0].Change != "" || base.WhatIfs[0].Best != base.Depths[base.Best].Depth {
		t.Fatalf("%d rows, the first %+v", len(found), base.WhatIfs[0])
	}
	for _, c := range changes() {
		other := j
		other.Setup = j.Setup.filled()
		c.set(&other.Setup)
		s, err := StudyPart(other)
		if err != nil {
			t.Fatal(err)
		}
		single, stack, w := s.Depths[0], s.Depths[base.Stack-1], found[c.name]
		near(t, c.name+": money", 1-w.MoneySaved, stack.Money()/single.Money(), 1e-9)
		near(t, c.name+": seconds", 1-w.SecondsSaved, stack.Seconds()/single.Seconds(), 1e-9)
		if w.Best != s.Depths[s.Best].Depth {
			t.Errorf("%s: best %d, the study says %d", c.name, w.Best, s.Depths[s.Best].Depth)
		}
	}
}

// What moves the saving most stands first, and every change moves it but that of
// a cap that does not bind.
func TestWhatIfsAreSorted(t *testing.T) {
	s, err := StudyPart(studyJob(200))
	if err != nil {
		t.Fatal(err)
	}
	moves, still := math.Inf(1), 0
	for _, w := range s.WhatIfs[1:] {
		m := math.Abs(w.MoneySaved - s.WhatIfs[0].MoneySaved)
		if m > moves+sameMove {
			t.Errorf("%s moves it by %v, the one before by %v", w.Change, m, moves)
		}
		if moves = m; m < sameMove {
			still++
		}
	}
	if still > 1 {
		t.Errorf("%d changes do nothing", still)
	}
}

// A change that forbids the stack says so; one layer alone leaves no choice.
func TestWhatIfsOfABoundStack(t *testing.T) {
	j := studyJob(200)
	j.Setup.Machine.MaxStackMM = 3*j.Setup.ThicknessMM + 0.1
	s, err := StudyPart(j)
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for _, w := range s.WhatIfs {
		if w.Refusal != "" {
			refused++
		}
	}
	if s.Stack == 3 && refused != 1 {
		t.Errorf("%d changes are refused, want the one with more air", refused)
	}
	j.MaxDepth = 1
	if s, err = StudyPart(j); err != nil || s.Stack != 0 || s.WhatIfs != nil {
		t.Errorf("single sheets alone: stack %d, %v, %v", s.Stack, s.WhatIfs, err)
	}
}

// Another thickness exponent leaves the single sheet's speed and slows a stack.
func TestTurnedExponentKeepsTheSingleSheet(t *testing.T) {
	for _, name := range []string{"aluminium 6061", "gasket rubber"} {
		s := aluminiumJob(1).filled()
		s.Material = BuiltinMap()[name].Filled()
		turned := s
		turned.turnExponent(exponentStep)
		near(t, name, turned.lawOnly(), s.lawOnly(), 1e-12)
		near(t, name+", four layers", turned.At(4).lawOnly(), s.At(4).lawOnly()*math.Pow(4, -exponentStep), 1e-12)
	}
}
