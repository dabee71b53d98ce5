package cost

// Defaults of the machine and of shop practice, each with its source.
var (
	// DefaultRipple is what an accumulator leaves of the pressure's swing.
	DefaultRipple = Quantity{Value: 0.025, Source: CommonPractice}
	// DefaultMotorToJet lies in the 0.74–0.77 that pump ratings give.
	DefaultMotorToJet = Quantity{Value: 0.75, RelStdDev: 0.01, Source: SourcePump}
	// DefaultCd is the orifice's discharge coefficient, 0.60–0.70.
	DefaultCd = Quantity{Value: 0.65, RelStdDev: 0.03, Source: CommonPractice}
	// DefaultCv is the orifice's velocity coefficient.
	DefaultCv                = Quantity{Value: 0.98, RelStdDev: 0.01, Source: CommonPractice}
	DefaultStandOffMM        = Quantity{Value: 2.5, Source: CommonPractice}
	DefaultRapidMMPerMin     = Quantity{Value: 10000, Source: Unverified}
	DefaultAccelMMPerS2      = Quantity{Value: 500, Source: Unverified}
	DefaultCornerDeviationMM = Quantity{Value: 0.02, Source: Unverified}
	DefaultLowPressureMPa    = Quantity{Value: 100, Source: Unverified}
	DefaultHeadSec           = Quantity{Value: 1, Source: Unverified}
	// DefaultClampFactor is φ, the middle of 0.85–0.95 for a clamped stack.
	DefaultClampFactor = Quantity{Value: 0.90, RelStdDev: 0.03, Source: Derived}
)

// Default feed caps by process: an abrasive head must keep its feed steady, a
// plain head on soft sheet runs as fast as the machine moves.
var (
	DefaultAbrasiveFeedCap = Quantity{Value: 5000, Source: Unverified}
	DefaultPlainFeedCap    = Quantity{Value: 20000, Source: Unverified}
)

func defaultFeedCap(plain bool) Quantity {
	if plain {
		return DefaultPlainFeedCap
	}
	return DefaultAbrasiveFeedCap
}
