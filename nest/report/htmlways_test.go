package report

import (
	"testing"

	"kerfold/nest/week"
)

// A way that was set aside before dates were looked at may look cheaper than the
// chosen one: the table must not say that it is.
func TestWaysSetAsideBeforeDatesAreNotCompared(t *testing.T) {
	g := &week.Group{ID: "G1", Ways: []week.Way{
		{Name: "urgent parts first", Money: 120, LateKnown: true},
		{Name: week.DirectName, Money: 110, Late: 40, LateKnown: true},
		{Name: "layouts cut 2 times, and the rest", Money: 100},
	}}
	lines := newWayTable(samplePlan(), g).Lines
	want := [][2]string{{"0.00", "chosen"}, {"40.00", "+30.00"}, {"not tried", "-"}}
	for i, w := range want {
		if got := [2]string{lines[i].Late, lines[i].Difference}; got != w {
			t.Errorf("%s: lateness and difference %q, want %q", lines[i].Name, got, w)
		}
	}
}

// What a calendar adds to a way counts in the difference, and has a column where
// it tells ways apart.
func TestWaysShowWhatTheCalendarAdds(t *testing.T) {
	g := &week.Group{ID: "G1", Ways: []week.Way{
		{Name: "due by Tue 1 Dec first, on S-1", Money: 120, LateKnown: true},
		{Name: week.DirectName, Money: 110, Moved: 15, Late: 4, LateKnown: true},
	}}
	table := newWayTable(&week.Plan{}, g)
	if !table.Moved || table.Lines[1].Moved != "15.00" || table.Lines[1].Difference != "+9.00" {
		t.Errorf("calendar column %v, %q, difference %q", table.Moved, table.Lines[1].Moved, table.Lines[1].Difference)
	}
}

// Where no date was in danger nothing was tried, and money alone decides.
func TestWaysCompareByMoneyWhereNothingIsLate(t *testing.T) {
	g := &week.Group{ID: "G1", Ways: []week.Way{{Name: "a mix of layouts", Money: 100}, {Name: week.DirectName, Money: 110}}}
	table := newWayTable(samplePlan(), g)
	if table.Late || table.Lines[1].Difference != "+10.00" {
		t.Errorf("lateness shown: %v, difference %q", table.Late, table.Lines[1].Difference)
	}
}
