package drawing

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// maxListed bounds how many parts, layers or places the text names.
const maxListed = 12

// WriteReport writes an intake as text for people.
func WriteReport(w io.Writer, in Intake) error {
	r := NewReport(in)
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", r.File, r.Verdict)
	fmt.Fprintf(&b, "  %s, drawn in %s (%s)\n", r.Format, words[r.Units], unitSource[r.UnitsFrom])
	fmt.Fprintf(&b, "  %s\n", r.summary())
	if len(r.Entities) > 0 {
		fmt.Fprintf(&b, "  drawn: %s\n", counts(r.Entities))
	}
	if len(r.Skipped) > 0 {
		fmt.Fprintf(&b, "  passed over: %s\n", counts(r.Skipped))
	}
	r.writeParts(&b)
	r.writeLayers(&b)
	writeFindings(&b, in.Findings)
	_, err := io.WriteString(w, b.String())
	return err
}

// summary says what there is, how large it is and how long.
func (r Report) summary() string {
	what := "nothing that can be cut"
	if r.PathMM == 0 {
		return what
	}
	if len(r.Parts) > 0 {
		what = plural(len(r.Parts), "part", "parts") + " with " + plural(r.Holes, "hole", "holes")
	}
	return fmt.Sprintf("%s; %s, %s mm of line", what, describe(r.Width, r.Height), fixed(r.PathMM, decimals(r.Width, r.Height)))
}

var unitSource = map[string]string{
	"job": "as the job says", "header": "as the drawing says", "measurement": "from the drawing's measurement system", "assumed": "assumed",
}

// counts lists types with how many there are of each.
func counts(m map[string]int) string {
	var out []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		out = append(out, strconv.Itoa(m[k])+" "+k)
	}
	return strings.Join(out, ", ")
}

func (r Report) writeParts(b *strings.Builder) {
	if len(r.Parts) == 0 {
		return
	}
	n := decimals(r.Width, r.Height)
	fmt.Fprintf(b, "  %6s %21s %7s %13s %12s\n", "part", "size mm", "holes", "area cm²", "to cut mm")
	for i, p := range r.Parts[:min(len(r.Parts), maxListed)] {
		fmt.Fprintf(b, "  %6d %9s × %9s %7d %13s %12s\n", i+1, fixed(p.Width, n), fixed(p.Height, n), p.Holes, some(p.Area/100, n+1), fixed(p.CutMM, n))
	}
	if n := len(r.Parts) - maxListed; n > 0 {
		fmt.Fprintf(b, "  and %s\n", plural(n, "more part", "more parts"))
	}
}

func (r Report) writeLayers(b *strings.Builder) {
	var told []LayerReport
	for _, l := range r.Layers {
		if l.Entities > 0 {
			told = append(told, l)
		}
	}
	if len(told) < 2 && (len(told) == 0 || told[0].Used == told[0].Entities) {
		return
	}
	b.WriteString("  layers\n")
	for _, l := range told[:min(len(told), maxListed)] {
		fmt.Fprintf(b, "    %s: %d of %d used", l.Name, l.Used, l.Entities)
		if l.Why != "" {
			fmt.Fprintf(b, " (%s)", l.Why)
		}
		b.WriteString("\n")
	}
	if n := len(told) - maxListed; n > 0 {
		fmt.Fprintf(b, "    and %s\n", plural(n, "more layer", "more layers"))
	}
}

// writeFindings writes findings, the gravest first, those of one kind and
// layer together under the text of the first.
func writeFindings(b *strings.Builder, findings []Finding) {
	for _, level := range []Level{Problem, Suspect, Note} {
		for _, group := range gather(findings, level) {
			f := group[0]
			n := 0
			for _, g := range group {
				n += g.Count
			}
			times := ""
			if n > 1 {
				times = " ×" + strconv.Itoa(n)
			}
			fmt.Fprintf(b, "  %-8s%s: %s%s\n", level, times, f.Text, where(f))
			if len(group) > 1 {
				fmt.Fprintf(b, "            also at %s\n", places(group[1:]))
			}
		}
	}
}

// gather groups the findings of a level by kind and layer, in the order of
// their first.
func gather(findings []Finding, level Level) [][]Finding {
	type like struct {
		kind  Kind
		layer string
		text  string
	}
	var out [][]Finding
	at := map[like]int{}
	for _, f := range findings {
		if f.Level != level {
			continue
		}
		key := like{f.Kind, f.Layer, ""}
		if !f.HasAt {
			key.text = f.Text
		}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], f)
	}
	return out
}

// where says where a finding is, as far as it is known.
func where(f Finding) string {
	var out []string
	if f.HasAt {
		out = append(out, "at "+place(f.At))
	}
	if f.Layer != "" && f.Layer != "0" && f.Layer != topLayer {
		out = append(out, "layer "+f.Layer)
	}
	if f.Line > 0 {
		out = append(out, "line "+strconv.Itoa(f.Line))
	}
	if f.Handle != "" {
		out = append(out, "handle "+f.Handle)
	}
	if len(out) == 0 {
		return ""
	}
	return " (" + strings.Join(out, ", ") + ")"
}

// places lists where findings with a place are.
func places(fs []Finding) string {
	var out []string
	for _, f := range fs {
		if f.HasAt && len(out) < 4 {
			out = append(out, place(f.At))
		}
	}
	s := strings.Join(out, "; ")
	if n := len(fs) - len(out); n > 0 {
		s += fmt.Sprintf("; and %d more", n)
	}
	return s
}
