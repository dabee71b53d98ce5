// Kerfold plans a week of waterjet work: it lays orders out on sheets, decides
// how many sheets are cut at once, and says what that takes in material,
// machine hours and money.
//
// Data goes to standard output, talk to standard error. Exit codes:
//
//	0    done; every part has a place, every check passed
//	1    problems found: parts without a place, a check that failed
//	2    the command or its input is wrong; nothing was written
//	130  stopped at once by a second interrupt; nothing was written
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// Exit codes, see the package's documentation.
const (
	exitDone     = 0
	exitProblems = 1
	exitInput    = 2
	exitStopped  = 130
)

// A commandLine is the program's verbs.
type commandLine struct {
	Plan      PlanCmd      `cmd:"" help:"Plan a week: lay orders out on sheets, stack, cost, schedule, and write the layouts."`
	Book      BookCmd      `cmd:"" help:"Book a plan in the stock register it was made from: sheets taken out, remnants put in."`
	Check     CheckCmd     `cmd:"" help:"Check a plan.json again, from the file alone."`
	Compare   CompareCmd   `cmd:"" help:"Put two plans side by side: yield, sheets, hours, money, late orders, layouts that changed."`
	Inspect   InspectCmd   `cmd:"" help:"Read drawings and say what is in them: parts, holes, sizes, what does not close."`
	Stack     StackCmd     `cmd:"" help:"Compare stack depths: seconds and money for a part, cut one sheet at a time or several at once."`
	Bid       BidCmd       `cmd:"" help:"Answer a request at once: sheets, yield, price, hours, earliest finish, and what would change them."`
	Tune      TuneCmd      `cmd:"" help:"Learn the speeds of your own machine from test cuts, and write them as a material file."`
	Schema    SchemaCmd    `cmd:"" help:"Print the JSON Schema of a file this program writes."`
	Example   ExampleCmd   `cmd:"" help:"Print a small job file to start from."`
	Reference ReferenceCmd `cmd:"" help:"Print every key of the job file, or the materials built in."`
	Version   VersionCmd   `cmd:"" help:"Print the version."`
}

// A console is where a command speaks.
type console struct {
	out io.Writer // data
	err io.Writer // talk
}

// say writes a line of talk.
func (c *console) say(format string, args ...any) {
	fmt.Fprintf(c.err, "kerfold: "+format+"\n", args...)
}

// errProblems ends a command whose findings have been written already.
var errProblems = errors.New("problems found")

func run(args []string, stdout, stderr io.Writer) int {
	c := &console{out: stdout, err: stderr}
	var cl commandLine
	leave := -1
	parser, err := kong.New(&cl, kong.Name("kerfold"), kong.Description(description),
		kong.Writers(stdout, stderr), kong.Exit(func(code int) { leave = code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}), kong.Vars{"effort": strconv.Itoa(defaultEffort)}, kong.Bind(c))
	if err != nil {
		c.say("%v", err)
		return exitInput
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	ctx, err := parser.Parse(args)
	if leave >= 0 { // help was printed
		return leave
	}
	if err != nil {
		c.say("%s", usageFault(parser, args, err))
		return exitInput
	}
	return c.code(ctx.Run())
}

const description = `Plans a week of waterjet work: lays orders out on sheets and remnants, decides how many sheets are cut at once, and says what that takes in material, hours and money.

Exit codes: 0 done, 1 problems found (parts without a place, a failed check), 2 wrong command or input, 130 stopped by a second interrupt.`

// code says an error and gives the exit code for it.
func (c *console) code(err error) int {
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errProblems):
		return exitProblems
	case errors.Is(err, errStopped):
		return exitStopped
	}
	for _, line := range strings.Split(strings.TrimRight(err.Error(), "\n"), "\n") {
		c.say("%s", line)
	}
	return exitInput
}
