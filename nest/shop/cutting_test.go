package shop

import (
	"strings"
	"testing"
)

func TestCutting(t *testing.T) {
	for _, c := range []struct {
		text string
		want Cutting // filled for 8 mm sheet
	}{
		{"", Cutting{PierceEdgeMM: 2}},
		{"cutting: {pierce_edge_mm: 4}", Cutting{PierceEdgeMM: 4}},
		{"cutting: {tabs: yes}", Cutting{PierceEdgeMM: 2, Tabs: true, TabMM: 0.8, TabBelowMM: 40}},
		{"cutting: {tab_below: 1 in}", Cutting{PierceEdgeMM: 2, Tabs: true, TabMM: 0.8, TabBelowMM: 25.4}},
		{"cutting: {tab_mm: 0.6}", Cutting{PierceEdgeMM: 2, Tabs: true, TabMM: 0.6, TabBelowMM: 40}},
		{"cutting: {tab_mm: 0.6, tabs: no}", Cutting{PierceEdgeMM: 2}},
	} {
		if got := mustLoad(t, base+oneOrder+c.text+"\n").Cutting.Filled(8); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.text, got, c.want)
		}
	}
	if got := (Cutting{Tabs: true}).Filled(2).TabMM; got != 0.5 {
		t.Errorf("a tab in 2 mm sheet is %v mm wide, want 0.5", got)
	}
	if j := mustLoad(t, base+oneOrder); !j.Remnants.Sever {
		t.Error("remnants are not severed by default")
	}
	if j := mustLoad(t, base+oneOrder+"remnants: {sever: no}\n"); j.Remnants.Sever {
		t.Error("remnants are severed, though the job says no")
	}
	for text, want := range map[string]string{
		"cutting: {pierce_edge_mm: 0}": "pierce_edge is 0",
		"cutting: {tab_width_mm: 1}":   "unknown key",
		"remnants: {sever: now}":       "write yes or no",
	} {
		if _, err := load(base + oneOrder + text + "\n"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want %s", text, err, want)
		}
	}
}
