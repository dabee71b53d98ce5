// Package cost models the waterjet: how fast it cuts, how long a layout takes,
// what that uses up and what it costs.
//
// # Units
//
// Millimetres, seconds, megapascals, kilograms and watts inside; a name carries
// its unit where it is another one (FeedMMPerMin, AbrasiveGPerMin). Money is in
// the job's currency.
//
// # Sources
//
// Every constant carries a [Source]: a published one, "common practice", "from
// memory, unverified", "derived", or "demo". Reports show it.
//
// The figures are estimates. Local codes and licensed practice decide.
package cost
