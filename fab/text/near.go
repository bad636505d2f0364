package text

import (
	"sort"
	"strings"
)

// Nearest gives the candidate that a mistyped word most likely meant, or ""
// where none is near: at most a third of its letters changed, added, lost or
// swapped with a neighbour (optimal string alignment distance). Of equally
// near candidates the first in alphabetical order. Where none is near, a
// candidate that begins the word, or that the word begins (inch, in).
func Nearest(word string, candidates []string) string {
	w := []rune(strings.ToLower(word))
	if len(w) == 0 || len(w) > MaxKeyLength {
		return ""
	}
	sorted := append([]string(nil), candidates...)
	sort.Strings(sorted)
	best, least := "", 1+max(1, (len(w)+1)/3)
	for _, c := range sorted {
		k := []rune(strings.ToLower(c))
		if len(k) == 0 || len(k) > MaxKeyLength || len(k)-len(w) >= least || len(w)-len(k) >= least {
			continue
		}
		if c == word {
			continue
		}
		if d := distance(w, k); d < least && d < max(len(w), len(k)) {
			best, least = c, d
		}
	}
	if best != "" {
		return best
	}
	for _, c := range sorted {
		short, long := strings.ToLower(c), strings.ToLower(word)
		if len(short) > len(long) {
			short, long = long, short
		}
		if len(short) >= 2 && c != word && strings.HasPrefix(long, short) && len(c) > len(best) {
			best = c
		}
	}
	return best
}

// distance is the optimal string alignment distance of two words.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// suggest words a hint: `; did you mean "width"?`, or the list of what there
// is, or nothing.
func suggest(word string, candidates []string) string {
	if n := Nearest(word, candidates); n != "" {
		return "; did you mean " + Short(n, 60) + "?"
	}
	return ""
}

// List words a short list for a message: "a, b or c"; long lists are cut.
func List(words []string) string {
	const most = 14
	shown := make([]string, 0, most)
	for i, w := range words {
		if i == most && len(words) > most+1 {
			return strings.Join(shown, ", ") + " and others"
		}
		shown = append(shown, Short(w, 40))
	}
	switch n := len(shown); n {
	case 0:
		return "nothing"
	case 1:
		return shown[0]
	default:
		return strings.Join(shown[:n-1], ", ") + " or " + shown[n-1]
	}
}
