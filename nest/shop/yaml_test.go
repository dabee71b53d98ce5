package shop

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf16"
)

func TestLineEndsAndMarksReadAlike(t *testing.T) {
	text := base + oneOrder
	want := fmt.Sprint(mustLoad(t, text).Orders)
	for name, written := range map[string]string{
		"CRLF":         strings.ReplaceAll(text, "\n", "\r\n"),
		"CR":           strings.ReplaceAll(text, "\n", "\r"),
		"mark":         "\ufeff" + text,
		"UTF-16":       inUTF16(text, true),
		"UTF-16 big":   inUTF16(text, false),
		"no last line": strings.TrimRight(text, "\n"),
		"dashes":       "---\n" + text + "...\n",
	} {
		j := mustLoad(t, written)
		for i := range j.Orders { // dashes move the lines
			j.Orders[i].Where = "week.yaml:31:6"
		}
		if got := fmt.Sprint(j.Orders); got != strings.ReplaceAll(want, "week.yaml:30:6", "week.yaml:31:6") {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
		}
	}
}

func inUTF16(s string, little bool) string {
	var b strings.Builder
	for _, u := range append([]uint16{0xFEFF}, utf16.Encode([]rune(s))...) {
		if little {
			b.WriteByte(byte(u))
		}
		b.WriteByte(byte(u >> 8))
		if !little {
			b.WriteByte(byte(u))
		}
	}
	return b.String()
}

// Names in the code page spreadsheets and editors use where UTF-8 was not asked for.
func TestWindowsText(t *testing.T) {
	j := mustLoad(t, strings.Replace(base+oneOrder, "id: K-1", "id: K-1, customer: Gie\xdferei M\xfcller", 1))
	if got := j.Orders[0].Customer; got != "Gießerei Müller" {
		t.Errorf("got %q", got)
	}
}

func TestAnchorsAndMerges(t *testing.T) {
	j := mustLoad(t, base+`orders:
  - &one {id: K-1, shape: disc, diameter_mm: 90, quantity: 1, material: test steel, thickness_mm: 6, note: a}
  - <<: *one
    id: K-2
    note: b
`)
	if len(j.Orders) != 2 || j.Orders[1].ID != "K-2" || j.Orders[1].Note != "b" || j.Orders[1].Part != "disc 90" {
		t.Errorf("got %+v", j.Orders)
	}
}

// Aliases of aliases that would unfold to 9^10 values stop at the bound, soon.
func TestUnfoldingIsBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString("a0: &a0 [x]\n")
	for i := 1; i <= 10; i++ {
		fmt.Fprintf(&b, "a%d: &a%d [%s]\n", i, i, strings.TrimRight(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	begin := time.Now()
	_, err := load(b.String())
	if err == nil || !strings.Contains(err.Error(), "more than 1048576 values: split the job, or use fewer aliases") {
		t.Errorf("got %v", err)
	}
	if d := time.Since(begin); d > 10*time.Second {
		t.Errorf("took %v", d)
	}
}

func TestNestingIsBounded(t *testing.T) {
	_, err := load("a: " + strings.Repeat("[", 200) + strings.Repeat("]", 200))
	if err == nil || !strings.Contains(err.Error(), "nested more than 64 deep: write it flatter") {
		t.Errorf("got %v", err)
	}
}

func TestSecondDocument(t *testing.T) {
	_, err := load(base + oneOrder + "---\nname: b\n")
	if err == nil || err.Error() != "week.yaml:33:1: a second document begins here: keep one document in the file: remove the line of dashes" {
		t.Errorf("got %v", err)
	}
}
