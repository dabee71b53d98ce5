package shop

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseNumber(t *testing.T) {
	for s, want := range map[string]float64{
		"12": 12, "12.5": 12.5, ".5": 0.5, "5.": 5, "-3": -3, "+3": 3, "1e3": 1000, "1.5E-2": 0.015,
		"1/8": 0.125, "1 1/2": 1.5, "1-1/2": 1.5, "-1/4": -0.25, "-2 1/4": -2.25, " 7 ": 7,
	} {
		if got, mend := parseNumber(s); got != want || mend != "" {
			t.Errorf("%q: got %v (%s), want %v", s, got, mend, want)
		}
	}
	for _, s := range []string{"", "x", "1,5", "1_000", "0x10", "inf", "NaN", "1e999", "1/0", "--1", "1 2", "1/2/3", "12 mm", "1e"} {
		if got, mend := parseNumber(s); mend == "" {
			t.Errorf("%q: read as %v", s, got)
		}
	}
}

// Every number as Go prints it reads back the same.
func TestNumbersRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e12, 1e12).Draw(t, "x")
		if got, mend := parseNumber(exact(x)); got != x {
			t.Fatalf("%v reads back as %v (%s)", x, got, mend)
		}
	})
}

// Values of units against published ones.
func TestUnits(t *testing.T) {
	tests := []struct {
		d      *dimension
		text   string
		want   float64
		source string
	}{
		{&length, "1 in", 25.4, "exact by definition, 1959"},
		{&length, `1/8"`, 3.175, "derived"},
		{&length, "1 1/2 in", 38.1, "derived"},
		{&length, "2 ft", 609.6, "derived"},
		{&pressure, "60 ksi", 413.685, "NIST SP 811, psi to kPa 6.894757"},
		{&pressure, "4000 bar", 400, "exact by definition"},
		{&pressure, "60000 psi", 413.685, "as above"},
		{&power, "50 hp", 37.285, "NIST SP 811, horsepower (550 ft lbf/s) 745.6999 W"},
		{&massFlow, "1 lb/min", 453.592, "NIST SP 811, pound 0.45359237 kg"},
		{&speed, "10 m/min", 10000, "derived"},
		{&speed, "100 ipm", 2540, "derived"},
		{&acceleration, "0.1 g", 980.665, "CGPM 1901"},
		{&density, "0.284 lb/in3", 7861.09, "NIST SP 811, lb/in3 27679.90 kg/m3"},
		{&duration, "4 min", 240, "derived"},
		{&hours, "90 min", 1.5, "derived"},
	}
	for _, tt := range tests {
		f := newLog().open(&value{kind: record}, "")
		got, ok := f.measured(&value{kind: scalar, text: tt.text}, "k", tt.d)
		if !ok || math.Abs(got-tt.want) > 1e-5*tt.want {
			t.Errorf("%s: got %v, want %v [%s]", tt.text, got, tt.want, tt.source)
		}
	}
}

// A quantity is the same whichever of its spellings is used.
func TestSpellingsAgree(t *testing.T) {
	dims := []*dimension{&length, &pressure, &power, &massFlow, &speed, &acceleration, &duration, &density}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dims).Draw(t, "dimension")
		u := rapid.SampledFrom(d.units).Draw(t, "unit")
		x := rapid.Float64Range(0.001, 1000).Draw(t, "x")
		byKey := spelled(t, "k_"+u.suffix, exact(x), d)
		byValue := spelled(t, "k", exact(x)+" "+rapid.SampledFrom(u.names).Draw(t, "name"), d)
		if byKey != byValue || math.Abs(byKey-x*u.size) > 1e-12*x*u.size {
			t.Fatalf("%v %s: %v by key, %v by value", x, u.suffix, byKey, byValue)
		}
	})
}

func spelled(t *rapid.T, key, text string, d *dimension) float64 {
	l := newLog()
	f := l.open(&value{kind: record, fields: []field{{key, spot{}, &value{kind: scalar, text: text}}}}, "")
	x, ok := f.quantity("k", d, limits{low: 0, high: math.MaxFloat64})
	f.done()
	if !ok || len(l.problems) > 0 {
		t.Fatalf("%s: %s: %v", key, text, l.err())
	}
	return x
}

func TestShortIsReadable(t *testing.T) {
	for x, want := range map[float64]string{1.0 / 3: "0.333333", 1200000: "1.2e+06", 6: "6"} {
		if got := short(x); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// edits against the plain recursive definition.
func TestEditsAgainstDefinition(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abc")), 0, 6, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if got, want := edits(a, b), editsByDefinition(a, b); got != want {
			t.Fatalf("%q to %q: %d, by definition %d", a, b, got, want)
		}
	})
}

func editsByDefinition(a, b string) int {
	switch {
	case a == "":
		return len(b)
	case b == "":
		return len(a)
	}
	m, n := len(a)-1, len(b)-1
	differ := 1
	if a[m] == b[n] {
		differ = 0
	}
	d := min(editsByDefinition(a[:m], b)+1, editsByDefinition(a, b[:n])+1, editsByDefinition(a[:m], b[:n])+differ)
	if m > 0 && n > 0 && a[m] == b[n-1] && a[m-1] == b[n] {
		d = min(d, editsByDefinition(a[:m-1], b[:n-1])+1)
	}
	return d
}

func TestNearest(t *testing.T) {
	known := []string{"thickness_mm", "quantity", "due", "id"}
	for word, want := range map[string]string{
		"thicknes_mm": "thickness_mm", "Quantity": "quantity", "quantiyt": "quantity", "dew": "", "thickness-mm": "thickness_mm", "colour": "",
		strings.Repeat("quantity", 1000): "",
	} {
		if got, _ := nearest(word, known); got != want {
			t.Errorf("%q: got %q, want %q", word, got, want)
		}
	}
}

func TestDates(t *testing.T) {
	tests := []struct {
		text  string
		order dateOrder
		want  string
	}{
		{"2026-12-02", isoDates, "2026-12-02"},
		{"2026-12-02T00:00:00Z", isoDates, "2026-12-02"},
		{"2.12.2026", isoDates, "2026-12-02"},
		{"02/12/2026", dayFirst, "2026-12-02"},
		{"02/12/2026", monthFirst, "2026-02-12"},
		{"02/12/2026", isoDates, ""},
		{"2026-13-01", isoDates, ""},
		{"2027-02-29", isoDates, ""},
		{"2028-02-29", isoDates, "2028-02-29"},
		{"1026-12-02", isoDates, ""},
		{"Wednesday", isoDates, ""},
	}
	for _, tt := range tests {
		got, mend := parseDate(tt.text, tt.order)
		if s := got.Format("2006-01-02"); (tt.want == "") != (mend != "") || mend == "" && s != tt.want {
			t.Errorf("%s (%s): got %s %q, want %s", tt.text, tt.order, s, mend, tt.want)
		}
	}
}

func TestWorkingDays(t *testing.T) {
	tests := []struct{ why, calendar, want string }{
		{"a week", "start: 2026-11-30", "1130 1201 1202 1203 1204"},
		{"over a weekend", "start: 2026-12-03\ndays: 4", "1203 1204 1207 1208"},
		{"a day closed", "start: 2026-11-30\ndays: 3\nclosed: [2026-12-01]", "1130 1202 1203"},
		{"weekend work", "start: 2026-12-04\ndays: 3\nweekdays: [fri, sat, Sunday]", "1204 1205 1206"},
		{"begins on Sunday", "start: 2026-11-29\ndays: 1", "1130"},
		{"listed", "days: [2026-11-30, 2026-12-02]", "1130 1202"},
	}
	for _, tt := range tests {
		j := mustLoad(t, strings.Replace(base+oneOrder, "start: 2026-11-30\ndays: 5", tt.calendar, 1))
		var got []string
		for _, d := range j.Days {
			got = append(got, d.Format("0102"))
		}
		if strings.Join(got, " ") != tt.want || !j.Start.Equal(j.Days[0]) {
			t.Errorf("%s: got %v, want %s", tt.why, got, tt.want)
		}
	}
}

func TestRotations(t *testing.T) {
	tests := []struct {
		written, want string
		free          bool
	}{
		{"", "[0 90 180 270]", false},
		{"rotations: any", "[0 90 180 270]", true},
		{"rotations: fixed", "[0]", false},
		{"rotations: every 120", "[0 120 240]", false},
		{"rotations: every 22.5 deg", "[0 22.5 45 67.5 90 112.5 135 157.5 180 202.5 225 247.5 270 292.5 315 337.5]", false},
		{"rotations: [180, 0, -180]", "[0 180]", false},
		{"rotations: [45]", "[45]", false},
	}
	for _, tt := range tests {
		j := mustLoad(t, strings.Replace(base+oneOrder, "quantity: 10", strings.TrimSuffix("quantity: 10, "+tt.written, ", "), 1))
		if got := fmt.Sprint(j.Orders[0].Angles); got != tt.want || j.Orders[0].FreeAngle != tt.free {
			t.Errorf("%s: got %s %v", tt.written, got, j.Orders[0].FreeAngle)
		}
	}
}

func TestOverRun(t *testing.T) {
	for written, want := range map[string]int{"3": 3, "5 %": 0, "10%": 1, "25 %": 2, "100 %": 10, "0": 0} {
		j := mustLoad(t, strings.Replace(base+oneOrder, "quantity: 10", "quantity: 10, over_run: "+strconv.Quote(written), 1))
		if got := j.Orders[0].Extra; got != want {
			t.Errorf("%s of 10: got %d, want %d", written, got, want)
		}
	}
}
