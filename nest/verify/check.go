package verify

// Check judges a layout and reports every violation.
func Check(l Layout) Report {
	return Report{Violations: []Violation{{
		Kind: Undecided, Use: -1, A: -1, B: -1, Zone: -1,
		Text: "the judge is not built yet",
	}}}
}
