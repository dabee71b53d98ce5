// Package cost models the waterjet: how fast it cuts, how long a layout takes,
// what that uses up and what it costs.
//
// # Units
//
// Millimetres, seconds, megapascals, kilograms and watts inside; a name carries
// its unit where it is another one (FeedMMPerMin, AbrasiveGPerMin). Money is in
// the job's currency.
//
// # From a setup to a price
//
// A [Setup] says what is cut with what; [Setup.Check] refuses what cannot or
// must not be cut, with a reason. [SpeedOf] is the straight-line feed and what
// bounds it; [LayoutTime] adds the motion along real contours, pierces, rapid
// moves and handling; [LayoutLedger] what a run uses and costs. [StackTable] and
// [StudyPart] compare stack depths, [EstimateRun] and [ForecastStacks] say how
// sure the figures are, [Explain] how they come about, [Cautions] what to mind,
// and [Tune] learns the constants from a shop's own test cuts.
//
// # Motion
//
// One acceleration bounds the head along the path and towards a bend's centre.
// Corners are rounded within an allowed deviation. Where the trailing bottom of
// the jet would leave the edge by more than the grade or the order allows, arcs
// and corners are slowed down.
//
// # Uncertainty
//
// Every estimate keeps its causes apart by name ([Assumption]), so that sums and
// differences of estimates treat one pump or one batch of plate as one cause.
//
// # Sources
//
// Every constant carries a [Source]: a published one, "common practice", "from
// memory, unverified", "derived", or "demo". Reports show it.
//
// The figures are estimates. Local codes and licensed practice decide.
package cost
