// Package week plans a week of work: it groups orders by material, thickness
// and grade, lays each group out, chooses how often each layout is cut and how
// many sheets at once, and puts the runs on machines and days.
//
// # How a plan comes about
//
// [Make] works in steps, each in files of its own:
//
//  1. gather: orders become groups, each with its share of the stock and the
//     machines that can cut it (gather.go, stockshare.go, capable.go).
//  2. first: every group is laid out by one bottom-left pass in every way worth
//     trying (ways.go, urgent.go, foldfill.go): the whole demand at once; a k-th of
//     it, to be cut k times and stacked, and the rest; one sheet filled and repeated;
//     what is due first laid together. From here on there is a complete plan.
//  3. improve: the effort goes to the groups where most money can still be won;
//     the direct way, the best other one and, as far as the effort goes, those that
//     a search could make most of are searched in earnest (improve.go, contenders.go).
//  4. mix: all layouts met so far become columns of an integer plan
//     (columns.go), priced part by part (tariff.go) at the best split of their
//     repeats into stacks (split.go). A linear master (master.go) says what one
//     more copy of each part is worth; sheets filled for that worth become more
//     columns (pricing.go); a branch and bound chooses how often each is cut
//     (mix.go, integer.go, mixway.go). What no plan can beat is worked out from
//     areas and cost floors (bounds.go, sheetbound.go).
//  5. price: what is in the running is routed, every stack depth on every
//     machine is enumerated with the real cuts, and the cheapest way is kept
//     (candidate.go, stack.go). Leftovers that can be used again are credited
//     (remnant.go, freerect.go). Trial calendars of the whole week charge each way
//     with dearer machines, set-ups and lateness, and choose (jury.go); what they
//     favour is searched once more (refine.go).
//  6. assemble: nest/verify judges every layout; one it refuses is never part
//     of a plan (assemble.go, judge.go). Stacks are sequenced on machines and
//     days (calendar.go, bench.go, hours.go, sequence.go, thrift.go). For late
//     orders, changes that would bring them in time are tried (cures_find.go).
//
// # What decides
//
// Between ways: parts without a place first, then money on a calendar of the
// whole week, with what programming a layout and lateness weigh. Between
// sequences: days late by priority, then the seconds, then set-ups, then how
// early things finish; after that, money as long as nothing gets later.
//
// # Begun weeks
//
// [Replan] takes an earlier plan and what has been cut of it (done.go). Cut
// sheets are used up; layouts that are not begun lie as they lay, as far as
// their parts are wanted and their sheets are there (replan.go); what is left is
// planned as a week of its own, and the calendar keeps its order unless another
// is less late (replan_rest.go).
//
// # Bids
//
// [MakeBid] answers within seconds: the first layouts of step 2, a short search
// where a sheet may be saved, and what is cheapest routed and judged (bidwork.go).
// Where the job has due dates, they are weighed on a few trial calendars (biddates.go,
// latecharge.go). The sheets and hours of a plan that comes first are
// taken (bidload.go, bidfinish.go). What would change the bid is worked out by
// the same model (bidvary.go, bidchange.go).
//
// # Determinism
//
// Equal job, seed and effort give an equal plan, whatever the number of workers:
// every group and way has a random stream of its own, and results are joined in
// the groups' order. With a [Clock] the plan depends on how fast the machine is.
// The package reads no clock and no file itself.
//
// Lengths are mm, times s, money in the job's currency. The figures are
// estimates; local codes and licensed practice decide.
package week
