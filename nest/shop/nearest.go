package shop

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// didYouMean is the mend for a word that is not among the known ones: the
// nearest; where none is near all of them, or of very many the likeliest.
func didYouMean(word string, known []string) string {
	if near, ok := nearest(word, known); ok {
		return fmt.Sprintf("did you mean %s?", near)
	}
	if len(known) == 0 {
		return "remove it"
	}
	sorted := slices.Clone(known)
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	if len(sorted) > longestList {
		return fmt.Sprintf("of the %d known here, those spelt most alike are %s", len(sorted), listed(likeliest(word, sorted, 3)))
	}
	return "known here: " + strings.Join(sorted, ", ")
}

// materialMeant is didYouMean for the name of a material, and says where all are
// listed where they are too many to.
func materialMeant(word string, known []string) string {
	mend := didYouMean(word, known)
	if _, near := nearest(word, known); !near && len(known) > longestList {
		mend += "; kerfold reference materials lists those built in"
	}
	return mend
}

// longestList is how many words a message lists.
const longestList = 24

// likeliest lists the n words that take the fewest edits from word, or a part of
// which does; the first of equals.
func likeliest(word string, known []string, n int) []string {
	if len(word) > longestWord {
		word = word[:longestWord]
	}
	from := foldWord(word)
	far := func(k string) int {
		least := edits(from, foldWord(k))
		for _, part := range strings.Fields(foldWord(k)) {
			least = min(least, edits(from, part))
		}
		return least
	}
	out := slices.Clone(known)
	slices.SortStableFunc(out, func(a, b string) int { return far(a) - far(b) })
	return out[:min(n, len(out))]
}

// listed writes "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// longestWord bounds the work: what is longer is no slip of a known word.
const longestWord = 64

// nearest returns the known word with the fewest edits from word, the first of
// equals, if that is few enough to be a slip.
func nearest(word string, known []string) (string, bool) {
	if len(word) > longestWord {
		return "", false
	}
	best, least := "", 1+max(1, (len(word)+1)/3)
	folded := foldWord(word)
	for _, k := range known {
		other := foldWord(k)
		if lengthsApart(folded, other) >= least {
			continue // it takes at least as many edits
		}
		d := edits(folded, other)
		if d > 1 && initial(word) != initial(k) {
			continue // glass is no slip of brass
		}
		if d < least {
			best, least = k, d
		}
	}
	return best, best != ""
}

// lengthsApart is the least number of edits between words of such lengths.
func lengthsApart(a, b string) int {
	d := utf8.RuneCountInString(a) - utf8.RuneCountInString(b)
	return max(d, -d)
}

// initial is a word's first letter in lower case.
func initial(s string) string {
	for _, r := range strings.ToLower(s) {
		return string(r)
	}
	return ""
}

// foldWord makes words that differ in case or in the sign between their parts alike.
func foldWord(s string) string { return joiners.Replace(strings.ToLower(s)) }

var joiners = strings.NewReplacer("-", " ", "_", " ", ".", " ")

// edits counts insertions, deletions, substitutions and swaps of neighbours
// that turn a into b, no place being edited twice (optimal string alignment;
// Damerau F. J. 1964, A technique for computer detection and correction of
// spelling errors, Communications of the ACM 7(3), 171–176).
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			rows[i][j] = editStep(rows, s, t, i, j)
		}
	}
	return rows[len(s)][len(t)]
}

func editStep(rows [][]int, s, t []rune, i, j int) int {
	swap := 0
	if s[i-1] != t[j-1] {
		swap = 1
	}
	d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+swap)
	if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
		d = min(d, rows[i-2][j-2]+1)
	}
	return d
}
