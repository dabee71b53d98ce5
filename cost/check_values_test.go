package cost

import (
	"math"
	"testing"
)

// A check is one published or computed value that a formula must reach to the
// digits given. Its tag says where the value comes from.
type check struct {
	name string
	tag  string
	got  float64
	want float64
	// digits is how many decimals want is given to.
	digits int
}

func runChecks(t *testing.T, checks []check) {
	t.Helper()
	for _, c := range checks {
		half := 0.5 * math.Pow(10, -float64(c.digits))
		if !(math.Abs(c.got-c.want) <= half*(1+1e-9)) {
			t.Errorf("%s [%s]: got %.*f, want %.*f", c.name, c.tag, c.digits+2, c.got, c.digits, c.want)
		}
	}
}

// steel12 is the reference cut: SI Nm 87, 345 MPa, 0.356/1.016 mm, 454 g/min, 12.7 mm.
func steel12(q float64) AbrasiveCut {
	return AbrasiveCut{Factor: 1, Machinability: 87, PressureMPa: 345, OrificeMM: 0.356, AbrasiveGPerMin: 454, Index: q, ThicknessMM: 12.7, TubeMM: 1.016}
}

// shop12 is the second check nozzle: 380 MPa, 0.33/1.02 mm, 400 g/min.
func shop12(nm, h, q float64) AbrasiveCut {
	return AbrasiveCut{Factor: 1, Machinability: nm, PressureMPa: 380, OrificeMM: 0.33, AbrasiveGPerMin: 400, Index: q, ThicknessMM: h, TubeMM: 1.02}
}

func TestAbrasiveSpeedChecks(t *testing.T) {
	var cs []check
	for i, want := range []float64{413.6, 186.4, 116.9, 84.0, 65.0} {
		q := float64(i + 1)
		cs = append(cs, check{"mild steel 12.7 mm", "computed from the stated formula", AbrasiveSpeed(steel12(q)), want, 1})
	}
	us := AbrasiveSpeedUS(1, 87, 50, 0.014, 1, 1, 0.5, 0.040)
	cs = append(
		cs,
		check{"US form in/min", "computed from the stated formula", us, 16.26, 2},
		check{"US form mm/min", "computed from the stated formula", MMFromInch(us), 413.1, 1},
	)
	for _, r := range []struct {
		name string
		nm   float64
		want [3]float64
	}{
		{"mild steel", 87, [3]float64{443, 125, 70}},
		{"titanium", 115, [3]float64{611, 173, 96}},
		{"aluminium", 213, [3]float64{1242, 351, 195}},
		{"granite", 322, [3]float64{1997, 565, 314}},
	} {
		for i, q := range []float64{1, 3, 5} {
			cs = append(cs, check{r.name + " 12 mm", "computed from the stated formula", AbrasiveSpeed(shop12(r.nm, 12, q)), r.want[i], 0})
		}
	}
	for i, want := range []float64{100, 45, 28.3, 20.3, 15.7} {
		digits := 1
		if i == 1 { // given as a whole number
			digits = 0
		}
		cs = append(cs, check{"relative speed", "computed from the stated formula", 100 * RelativeSpeed(float64(i+1)), want, digits})
	}
	runChecks(t, cs)
}
