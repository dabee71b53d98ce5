package week

import "kerfold/nest"

var statusWords = [...]string{
	nest.Finished: "finished", nest.Limit: "limit", nest.Cancelled: "cancelled", nest.Infeasible: "infeasible",
}

// StatusWord names a status in one word, as plan.json does.
func StatusWord(s nest.Status) string {
	if s < 0 || int(s) >= len(statusWords) {
		return "unknown"
	}
	return statusWords[s]
}

// ParseStatus reads a status word; ok is false for an unknown one.
func ParseStatus(word string) (s nest.Status, ok bool) {
	for i, w := range statusWords {
		if w == word {
			return nest.Status(i), true
		}
	}
	return 0, false
}
