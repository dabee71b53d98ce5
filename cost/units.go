package cost

// Exact definitions of the customary units (international yard and pound 1959;
// US gallon of 231 cubic inches; 1 hp = 550 ft·lbf/s).
const (
	MMPerInch  = 25.4
	KgPerPound = 0.45359237
	MPaPerKSI  = KgPerPound * 9.80665 / (MMPerInch * MMPerInch) * 1000
	LPerGallon = 231 * MMPerInch * MMPerInch * MMPerInch / 1e6
	MPerFoot   = 0.3048
	KWPerHP    = 550 * KgPerPound * 9.80665 * MPerFoot / 1000
	BarPerMPa  = 10
)

// Exact conversions between the units of this package. They are variables for
// the unit laws alone, which measure in other minutes, grams and litres to see
// that no conversion is left out; nothing else sets them.
var (
	secPerMin   = 60.0
	secPerHour  = 3600.0
	gramsPerKg  = 1000.0
	mmPerM      = 1000.0
	paPerMPa    = 1e6
	mm3PerM3    = 1e9
	litresPerM3 = 1000.0
	wattsPerKW  = 1000.0
)

// MMFromInch converts inches to millimetres.
func MMFromInch(in float64) float64 { return in * MMPerInch }

// InchFromMM converts millimetres to inches.
func InchFromMM(mm float64) float64 { return mm / MMPerInch }

// MPaFromKSI converts thousands of pounds-force per square inch to megapascals.
func MPaFromKSI(ksi float64) float64 { return ksi * MPaPerKSI }

// KSIFromMPa converts megapascals to thousands of pounds-force per square inch.
func KSIFromMPa(mpa float64) float64 { return mpa / MPaPerKSI }

// MPaFromBar converts bar to megapascals.
func MPaFromBar(bar float64) float64 { return bar / BarPerMPa }

// LPerMinFromGPM converts US gallons per minute to litres per minute.
func LPerMinFromGPM(gpm float64) float64 { return gpm * LPerGallon }

// GPMFromLPerMin converts litres per minute to US gallons per minute.
func GPMFromLPerMin(l float64) float64 { return l / LPerGallon }

// GPerMinFromLbPerMin converts pounds per minute to grams per minute.
func GPerMinFromLbPerMin(lb float64) float64 { return lb * KgPerPound * gramsPerKg }

// LbPerMinFromGPerMin converts grams per minute to pounds per minute.
func LbPerMinFromGPerMin(g float64) float64 { return g / gramsPerKg / KgPerPound }

// KWFromHP converts mechanical horsepower to kilowatts.
func KWFromHP(hp float64) float64 { return hp * KWPerHP }

// HPFromKW converts kilowatts to mechanical horsepower.
func HPFromKW(kw float64) float64 { return kw / KWPerHP }

// MPerSFromFtPerS converts feet per second to metres per second.
func MPerSFromFtPerS(f float64) float64 { return f * MPerFoot }
