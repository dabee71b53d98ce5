package cost_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
)

func machine() cost.Machine {
	return cost.Machine{
		ID: "W1", Process: cost.Abrasive, PressureMPa: 380, MotorKW: 30, OrificeMM: 0.33, TubeMM: 1.02,
		AbrasiveGPerMin: 400, FeedCapMMPerMin: 3000, AccelMMPerS2: 300,
	}
}

func square(side float64) cost.Stroke {
	return cost.Stroke{Contour: geom.Contour{
		{P: orb.Point{0, 0}}, {P: orb.Point{side, 0}}, {P: orb.Point{side, side}}, {P: orb.Point{0, side}},
	}}
}

func ExampleSpeedOf() {
	s := cost.Setup{Machine: machine(), Material: cost.BuiltinMap()["mild steel"], ThicknessMM: 12, Grade: cost.Medium}
	v, err := cost.SpeedOf(s)
	fmt.Printf("%.0f mm/min, bounded by the %s, %v\n", v.MMPerMin, v.Limit, err)
	// Output: 125 mm/min, bounded by the power law, <nil>
}

func ExampleStackTable() {
	s := cost.Setup{
		Machine: machine(), Material: cost.BuiltinMap()["aluminium 6061"], Rates: cost.DefaultRates(),
		ThicknessMM: 1, Grade: cost.Medium,
	}
	k := square(30)
	k.Times = 60
	table, best, err := cost.StackTable(s, cost.Work{Strokes: []cost.Stroke{k}, Parts: 60}, 8, 20)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range table[:4] {
		fmt.Printf("%d layers: %d runs, %d left, %.0f s, %.0f %s\n", c.Depth, c.Runs, c.Remainder, c.Seconds, c.Money(), s.Rates.Currency)
	}
	fmt.Println("best:", table[best].Depth)
	// Output:
	// 1 layers: 8 runs, 0 left, 5307 s, 320 EUR
	// 2 layers: 4 runs, 0 left, 4205 s, 284 EUR
	// 3 layers: 2 runs, 2 left, 3947 s, 276 EUR
	// 4 layers: 2 runs, 0 left, 3712 s, 269 EUR
	// best: 8
}

func ExampleMachine_Validate() {
	m := machine()
	m.PressureMPa = 3800
	fmt.Println(m.Validate())
	// Output: machine W1: pressure 3800 MPa (bar? that would be 380 MPa): give 5 to 700 MPa
}

func ExampleCheckPump() {
	m := machine()
	m.MotorKW = 22
	fmt.Println(cost.CheckPump(m, 0.33))
	// Output: machine W1: a 0.330 mm orifice at 380 MPa needs a 24.6 kW motor, the pump has 22.0 kW: fit at most 0.312 mm (the largest usual size is 0.305 mm), or run at 353 MPa or less
}
