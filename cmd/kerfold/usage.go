package main

import (
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// plainWords are words of the parser's that are no planner's.
var plainWords = strings.NewReplacer(
	"expected a float", "expected a number", "expected float value", "expected a number",
	"expected an int", "expected a whole number", "expected int value", "expected a whole number",
	" (string)", "", " (short flag)", "",
)

// usageFault says what is wrong with a command line, and where to read how it is
// written.
func usageFault(parser *kong.Kong, args []string, err error) string {
	var verbs []string
	for _, n := range parser.Model.Children {
		verbs = append(verbs, n.Name)
	}
	s := plainWords.Replace(err.Error())
	if !slices.Contains(verbs, args[0]) {
		return s + ": the verbs are " + strings.Join(verbs, ", ")
	}
	return s + ": kerfold " + args[0] + " --help says how it is written"
}
