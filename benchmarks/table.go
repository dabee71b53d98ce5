package main

import (
	"fmt"
	"io"
	"slices"
)

// printStripHead and printStrip print the rows of the table of strips.
func printStripHead(w io.Writer) {
	fmt.Fprintf(w, "%-12s %5s %-11s %11s %8s %8s | %9s %15s %15s %15s\n",
		"instance", "parts", "search", "length", "density%", "seconds", "2006 [1]", "2013 [2] av/be", "2019 [3] av/be", "2025 [4] av/be")
}

func printStrip(w io.Writer, o outcome) {
	fmt.Fprintf(w, "%-12s %5d %-11s %11.3f %8.2f %8.1f | %s%s\n",
		o.in.Name, o.in.copies(), o.search, o.result.Length, 100*o.result.Density, o.seconds, beside(o.in), o.remark())
}

// beside prints the published figures of an instance, or the known best.
func beside(in instance) string {
	row, ok := publishedDensities[in.Name]
	if !ok {
		if in.BestLength > 0 {
			return fmt.Sprintf("known length %g, %.2f %%", in.BestLength, 100*in.area()/(in.StripWidth*in.BestLength))
		}
		return ""
	}
	m := fromMemory[in.Name]
	return fmt.Sprintf("%9s %7s/%7s %7s/%7s %7s/%7s", figure(row.hybrid2006, m.hybrid2006),
		figure(row.cuckooAvg, m.cuckooAvg), figure(row.cuckooBest, m.cuckooBest),
		figure(row.rasterAvg, m.rasterAvg), figure(row.rasterBest, m.rasterBest),
		figure(row.separateAvg, m.separateAvg), figure(row.separateB, m.separateB))
}

func figure(v, remembered float64) string {
	switch {
	case v == 0:
		return "-"
	case remembered != 0:
		return fmt.Sprintf("%.2fm", v)
	}
	return fmt.Sprintf("%.2f", v)
}

// remark is what a reader must know of an outcome beyond its figures.
func (o outcome) remark() string {
	switch {
	case len(o.faults) > 0:
		return fmt.Sprintf("  REFUSED: %s", o.faults[0])
	case len(o.result.Warnings) > 0:
		return "  " + o.result.Warnings[0]
	}
	if s := o.latticeShare(); s.clipped > 0 {
		return fmt.Sprintf("  fullest sheet %d copies, %.1f %% of a clipped lattice's %d, %.1f %% of the plane's density", s.copies, 100*s.clip(), s.clipped, 100*s.plane)
	}
	return ""
}

func printBinHead(w io.Writer) {
	fmt.Fprintf(w, "%-12s %-11s %5s %-11s %5s %8s %6s %9s %8s\n",
		"instance", "set", "parts", "search", "bins", "optimum", "F", "density%", "seconds")
}

func printBin(w io.Writer, o outcome) {
	fmt.Fprintf(w, "%-12s %-11s %5d %-11s %5d %8s %6.3f %9.2f %8.1f%s\n",
		o.in.Name, o.in.Set, o.in.copies(), o.search, len(o.result.Layouts), o.in.targetWord(), o.fSquared(), 100*o.result.Density, o.seconds, o.remark())
}

// targetWord is the optimum, or the least that could do.
func (in instance) targetWord() string {
	if in.Optimum > 0 {
		return fmt.Sprintf("%d", in.Optimum)
	}
	return fmt.Sprintf(">= %d", in.target())
}

// printSums prints the means of every search that ran.
func printSums(w io.Writer, all []outcome) {
	for _, name := range searchNames() {
		mine := slices.DeleteFunc(slices.Clone(all), func(o outcome) bool { return o.search != name || o.err != nil })
		sumStrips(w, name, mine)
		sumBins(w, name, mine)
	}
}

// sumStrips prints the mean of the twelve when all of them ran.
func sumStrips(w io.Writer, name string, mine []outcome) {
	sum, n := 0.0, 0
	for _, o := range mine {
		if o.in.Set == "strip" && slices.Contains(theTwelve, o.in.Name) {
			sum += 100 * o.result.Density
			n++
		}
	}
	if n == len(theTwelve) {
		p := publishedMeans
		fmt.Fprintf(w, "mean of the 12 by %s: %.2f   beside %.1f (m) [1], %.1f [2], %.1f [3], %.1f [4]; bottom-left with searched order about 78.9 (m)\n",
			name, sum/float64(n), p.hybrid2006, p.cuckooAvg, p.rasterAvg, p.separateAvg)
	}
}

func sumBins(w io.Writer, name string, mine []outcome) {
	at, over, worst, n, f := 0, 0, 0, 0, 0.0
	for _, o := range mine {
		if o.in.strip() {
			continue
		}
		extra := len(o.result.Layouts) - o.in.target()
		if extra <= 0 {
			at++
		}
		over += extra
		worst = max(worst, extra)
		f += o.fSquared()
		n++
	}
	if n > 0 {
		fmt.Fprintf(w, "bins by %s: %d of %d at the optimum (%.0f %%), %d bins over in all, at worst %d; mean F %.3f\n",
			name, at, n, 100*float64(at)/float64(n), over, worst, f/float64(n))
	}
}
