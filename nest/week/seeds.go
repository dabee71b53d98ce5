package week

// Streams name the random streams of a plan, so that none is used twice.
const (
	streamCalendar = 1
	streamWays     = 1000 // plus 1000 per group and 1 per way
	mixStream      = 500  // among a group's ways: what a mix lays out by itself
	refineStream   = 100  // among a group's ways: those searched again
	streamFills    = 1 << 41
	streamMixes    = 1 << 40
)

// streamSeed mixes the plan's seed with a stream's number (the finaliser of
// SplitMix64: Steele, Lea, Flood 2014, "Fast splittable pseudorandom number
// generators").
func streamSeed(seed, stream uint64) uint64 {
	z := seed + (stream+1)*0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
