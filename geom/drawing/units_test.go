package drawing

import (
	"bytes"
	"strings"
	"testing"
)

// Sizes of one drawing have the same decimals, and nothing is minus nothing.
func TestFiguresAreWrittenAlike(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		want string
	}{
		{20, 30, "20.0 × 30.0 mm"},
		{482.6, 472.04, "482.6 × 472.0 mm"},
		{1.2, 0.8954, "1.200 × 0.895 mm"},
		{0, 12, "0.0 × 12.0 mm"},
	} {
		if got := describe(c.w, c.h); got != c.want {
			t.Errorf("%v by %v: %q, want %q", c.w, c.h, got, c.want)
		}
	}
	if got := some(7.9e-5, 2) + " " + some(0.0061, 2) + " " + some(0, 2); got != "<0.01 0.01 0.00" {
		t.Errorf("got %q", got)
	}
	for v, want := range map[float64]string{-0.001: "0.00", 0.001: "0.00", -10: "-10.00", -0.01: "-0.01"} {
		if got := fixed(v, 2); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}

// Without a report the JSON still holds a list.
func TestNoReportsAreAnEmptyList(t *testing.T) {
	var b bytes.Buffer
	if err := WriteReportJSON(&b, nil); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"files": []`) {
		t.Errorf("got %s", b.String())
	}
}
