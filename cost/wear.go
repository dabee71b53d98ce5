package cost

import "math"

// Usual lives in jet hours [Unverified]: ruby orifice and mixing tube 40 to
// 100 h, diamond orifice 500 to 2000 h.
var (
	TubeLifeH    = Quantity{Value: 70, RelStdDev: 0.3, Source: Unverified}
	RubyLifeH    = Quantity{Value: 70, RelStdDev: 0.3, Source: Unverified}
	DiamondLifeH = Quantity{Value: 1000, RelStdDev: 0.4, Source: Unverified}
	// TubeGrowth is by how much of its bore a mixing tube has grown when it is
	// replaced [Derived].
	TubeGrowth = Quantity{Value: 0.15, RelStdDev: 0.3, Source: Derived}
)

// WornBore returns the bore in mm of a mixing tube after some jet hours of its
// life: it grows evenly by [TubeGrowth] of itself over that life.
func WornBore(newMM, hours, lifeH float64) float64 {
	return newMM * (1 + TubeGrowth.Value*share(hours, lifeH))
}

// WearSlowdown returns the speed with a worn bore as a share of the speed with
// a new one, by the tube's exponent in the speed: (d/d_worn)^(0.618·1.15).
func WearSlowdown(newMM, wornMM float64) float64 {
	return math.Pow(newMM/wornMM, ExpTube*ExpOuter)
}

// GrainFits says whether the largest abrasive grain passes the mixing tube: it
// may be a third of the bore at most [CommonPractice].
func GrainFits(grainMM, tubeMM float64) bool { return 3*grainMM <= tubeMM }

// MeshGrainMM returns the opening in mm of a sieve of the given mesh, about
// 15 mm divided by the mesh number [Derived from 80 mesh ≈ 0.18 mm], which the
// largest grains pass. Abrasive is sold as mesh 50 to 220, mostly 80 and 120.
func MeshGrainMM(mesh float64) float64 { return 14.9 / mesh }
