package cost

import (
	"math"
	"strings"
	"testing"
)

// recompute holds every formula written out anew, in the symbols that the
// trace shows: what is printed must be enough to get the printed value.
var recompute = map[string]func(in map[string]float64) float64{
	"jet speed": func(in map[string]float64) float64 {
		l, c := in["L"], in["c"]
		return math.Sqrt(2 * l * 1e6 / (in["ρ0"] * (1 - c)) * (math.Pow(1+in["P"]/l, 1-c) - 1))
	},
	"ideal jet speed": func(in map[string]float64) float64 { return math.Sqrt(2 * in["P"] * 1e6 / in["ρ0"]) },
	"water flow": func(in map[string]float64) float64 {
		return in["Cd"] * math.Pi / 4 * math.Pow(in["do"]/1000, 2) * math.Sqrt(2*in["P"]*1e6/in["ρ0"]) * 60000
	},
	"jet power":       func(in map[string]float64) float64 { return in["P"] * in["Q"] / 60 },
	"motor power":     func(in map[string]float64) float64 { return in["jet"] / in["η"] },
	"solid thickness": func(in map[string]float64) float64 { return in["n"]*in["t"] + in["covers"]*in["t_cover"] },
	"stack factor": func(in map[string]float64) float64 {
		d := in["d"]
		return in["φ0"] * math.Pow(d/(d+2*in["g"]*math.Tan(in["α"]*math.Pi/180)), 0.618*1.15)
	},
	"feed": func(in map[string]float64) float64 {
		v := in["φ"] * in["u"]
		for _, c := range []float64{in["material cap"], in["machine cap"]} {
			if c > 0 {
				v = math.Min(v, c)
			}
		}
		return v
	},
	"bottom grade index": func(in map[string]float64) float64 { return in["q"] * math.Pow(in["φ·u"]/in["feed"], 1/in["e"]) },
	"kerf":               func(in map[string]float64) float64 { return 1.05*in["d"] + 2*in["s"]*math.Tan(math.Pi/180) },
	"taper": func(in map[string]float64) float64 {
		return in["k"] * math.Min(0.25*math.Pow(in["q"], math.Log(0.08/0.25)/math.Log(5)), 2*in["h"]*math.Tan(math.Pi/90))
	},
	"speed through a square corner": func(in map[string]float64) float64 {
		half := math.Sin(in["θ"] / 2 * math.Pi / 180)
		return 60 * math.Sqrt(in["a"]*in["δ"]*half/(1-half))
	},
	"speed on an arc of 5 mm radius": func(in map[string]float64) float64 { return 60 * math.Sqrt(in["a"]*in["R"]) },
	"grade index of that arc": func(in map[string]float64) float64 {
		return in["k"] * in["h"] / math.Sqrt(in["E"]*(2*in["R"]+in["E"]))
	},
	"piercing": func(in map[string]float64) float64 { return in["n"] * (in["pierce"] + in["head delay"]) },
	"handling": func(in map[string]float64) float64 {
		n := in["layers"]
		if n <= 1 {
			return in["load"] + in["unload"]*in["parts"]
		}
		return in["prep"] + (n+in["covers"])*in["layer"] + in["unload"]*in["parts"]*n
	},
	"occupied": func(in map[string]float64) float64 {
		if in["tables"] > 1 {
			return math.Max(in["head"], in["handling"])
		}
		return in["head"] + in["handling"]
	},
	"water":           func(in map[string]float64) float64 { return in["Q"] * in["jet"] / 60 },
	"abrasive":        func(in map[string]float64) float64 { return in["Ma"] * in["jet"] / 60000 },
	"energy":          func(in map[string]float64) float64 { return in["motor"] * in["jet"] / 3600 },
	"kerf material":   func(in map[string]float64) float64 { return in["ρ"] * in["w"] * in["h"] * in["L"] / 1e9 },
	"sludge":          func(in map[string]float64) float64 { return in["abrasive"] + in["kerf material"] },
	"money: material": func(in map[string]float64) float64 { return in["sheets"] * in["price"] },
	"money: machine":  func(in map[string]float64) float64 { return in["occupied"] / 3600 * in["rate"] },
	"money: labour":   func(in map[string]float64) float64 { return in["labour"] / 3600 * in["rate"] },
	"money: abrasive": func(in map[string]float64) float64 { return in["abrasive"] * in["rate"] },
	"money: power":    func(in map[string]float64) float64 { return in["energy"] * in["rate"] },
	"money: water":    func(in map[string]float64) float64 { return in["water"] / 1000 * in["rate"] },
	"money: disposal": func(in map[string]float64) float64 { return in["sludge"] * in["rate"] },
	"money: covers":   func(in map[string]float64) float64 { return in["covers"] * in["price"] },
	"money: wear": func(in map[string]float64) float64 {
		return in["tube h"]/in["tube life"]*in["tube price"] + in["orifice h"]/in["orifice life"]*in["orifice price"]
	},
}

// The two speed laws and the two pierce laws differ by process.
var recomputeAbrasive = map[string]func(in map[string]float64) float64{
	"power-law speed": func(in map[string]float64) float64 {
		u := in["fa"] * in["Nm"] * math.Pow(in["P"], 1.594) * math.Pow(in["do"], 1.374) * math.Pow(in["Ma"], 0.343) /
			(in["C"] * in["q"] * in["h"] * math.Pow(in["dm"], 0.618))
		return math.Pow(u, 1.15) * math.Pow(in["h"]/in["h0"], 1.15-in["e"])
	},
	"pierce": func(in map[string]float64) float64 { return (in["t0"] + in["κ"]*in["d"]/in["u1"]*60) * in["gentle"] },
}

var recomputePlain = map[string]func(in map[string]float64) float64{
	"power-law speed": func(in map[string]float64) float64 {
		return in["K"] * math.Pow(in["P"], in["a"]) * math.Pow(in["do"], in["b"]) / math.Pow(in["h"], in["c"]) * math.Pow(3/in["q"], in["g"])
	},
	"pierce": recomputeAbrasive["pierce"],
}

var recomputeTable = map[string]func(in map[string]float64) float64{
	"power-law speed": recomputeAbrasive["power-law speed"],
	"pierce":          func(in map[string]float64) float64 { return (in["fixed"] + in["per mm"]*in["h"]) * in["gentle"] },
}

func TestExplainRecomputes(t *testing.T) {
	stack := aluminiumJob(4)
	stack.Rates.CoverSheets, stack.Rates.CoverMM, stack.Rates.CoverPrice, stack.Rates.LayerGapMM = 2, 0.5, 3, 0.1
	stack.Machine.Tables = 2
	glass := aluminiumJob(1)
	glass.Material, glass.Grade = BuiltinMap()["glass"], Good
	rubber := Setup{
		Machine:  Machine{ID: "W2", Process: Plain, PressureMPa: 380, OrificeMM: 0.2},
		Material: BuiltinMap()["gasket rubber"], Rates: DefaultRates(), ThicknessMM: 3, Grade: Good, Layers: 3,
	}
	table := aluminiumJob(1)
	table.Machine.PierceFixedSec, table.Machine.PierceSecPerMM = 3, 0.6
	for _, c := range []struct {
		name string
		s    Setup
		own  map[string]func(map[string]float64) float64
	}{
		{"stack", stack, recomputeAbrasive},
		{"glass", glass, recomputeAbrasive},
		{"rubber", rubber, recomputePlain},
		{"pierce table", table, recomputeTable},
	} {
		tr, err := Explain(c.s, plateWork(), 25)
		if err != nil {
			t.Fatal(err)
		}
		checked := 0
		for _, step := range tr {
			checkSources(t, c.name, step)
			f := c.own[step.Name]
			if f == nil {
				f = recompute[step.Name]
			}
			if f == nil {
				continue
			}
			checked++
			in := map[string]float64{}
			for _, i := range step.Inputs {
				in[i.Symbol] = i.Value
			}
			if got := f(in); math.Abs(got-step.Value) > 1e-9*math.Abs(step.Value) {
				t.Errorf("%s, %s: shown %v, its inputs give %v", c.name, step.Name, step.Value, got)
			}
		}
		if checked < 26 {
			t.Errorf("%s: only %d steps recomputed", c.name, checked)
		}
		checkTotals(t, c.name, tr, c.s)
	}
}

func checkSources(t *testing.T, name string, s Step) {
	t.Helper()
	if s.Source == "" || s.Formula == "" {
		t.Errorf("%s, %s: no source or formula", name, s.Name)
	}
	for _, i := range s.Inputs {
		if i.Source == "" {
			t.Errorf("%s, %s: input %s (%s) has no source", name, s.Name, i.Symbol, i.Name)
		}
	}
}

func checkTotals(t *testing.T, name string, tr Trace, s Setup) {
	t.Helper()
	l, err := LayoutLedger(s, plateWork(), 25)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, step := range tr {
		if strings.HasPrefix(step.Name, "money: ") && step.Name != "money: total" {
			sum += step.Value
		}
	}
	total, _ := tr.Find("money: total")
	near(t, name+" sum of money", sum, total.Value, 1e-9)
	near(t, name+" total", total.Value, l.Money.Total(), 1e-9)
	price, _ := tr.Find("price")
	near(t, name+" price", price.Value, l.Money.Total(), 1e-9)
}
