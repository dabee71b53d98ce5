package cost

import (
	"math"
	"testing"
)

func TestSplitSumsToTheWhole(t *testing.T) {
	l, err := LayoutLedger(aluminiumJob(3), plateWork(), 40)
	if err != nil {
		t.Fatal(err)
	}
	claims := []Claim{{"K-1", "plate", 3, 210, 880}, {"K-2", "ring", 10, 95, 400}, {"K-1", "cover", 1, 60, 2500}}
	book := Split("aluminium 2", "L1", l, claims)
	for _, level := range []Level{ByWeek, ByGroup, ByLayout, ByOrder, ByPart} {
		var sum Ledger
		for _, line := range book.By(level) {
			sum = sum.Plus(line.Ledger)
		}
		near(t, "money", sum.Money.Total(), l.Money.Total(), 1e-12)
		near(t, "material", sum.Money.Material, l.Money.Material, 1e-12)
		near(t, "jet seconds", sum.Usage.JetSec, l.Usage.JetSec, 1e-12)
		near(t, "sheets", sum.Usage.Sheets, 3, 1e-12)
	}
	orders := book.By(ByOrder)
	if len(orders) != 2 || orders[0].Key != "K-1" || orders[0].Quantity != 4 {
		t.Errorf("orders %+v", orders)
	}
	near(t, "share by area", book[0].Ledger.Money.Material/l.Money.Material, 3*880.0/(3*880+10*400+2500), 1e-12)
	near(t, "share by cut", book[1].Ledger.Usage.AbrasiveKg/l.Usage.AbrasiveKg, 950.0/(630+950+60), 1e-12)
	even := Split("g", "l", l, []Claim{{Order: "a", Quantity: 1}, {Order: "b", Quantity: 3}})
	near(t, "no weights: by quantity", even[1].Ledger.Money.Total(), 0.75*l.Money.Total(), 1e-12)
}

// The shop example: 2.91 L/min, 400 g/min, 24.6 kW over one hour of jet.
func TestLedgerOfOneHour(t *testing.T) {
	s := aluminiumJob(1)
	s.Rates = Rates{
		MachinePerHour: 60, LabourPerHour: 40, AbrasivePerKg: 0.5, PowerPerKWh: 0.2, WaterPerM3: 4, DisposalPerKg: 0.1,
		TubePrice: 120, TubeLifeH: 60, OrificePrice: 30, OrificeLifeH: 60,
	}
	l := LedgerOf(s, Time{CutSec: 3600, CutMM: 10000}, 50)
	fines := 2700 * s.KerfMM() * 2 * 10000 / 1e9
	runChecks(t, []check{
		{"water L", computed, l.Usage.WaterL / 60, 2.91, 2},
		{"abrasive kg", computed, l.Usage.AbrasiveKg, 24, 9},
		{"energy kWh", computed, l.Usage.EnergyKWh, 24.6, 1},
		{"sludge kg", computed, l.Usage.SludgeKg, 24 + fines, 9},
		{"machine", computed, l.Money.Machine, 60, 9},
		{"labour", computed, l.Money.Labour, 40, 9},
		{"abrasive money", computed, l.Money.Abrasive, 12, 9},
		{"wear", computed, l.Money.Wear, 2.5, 9},
		{"material", computed, l.Money.Material, 50, 9},
		{"total", computed, l.Money.Total(), 50 + 60 + 40 + 12 + 2.5 + l.Money.Power + l.Money.Water + l.Money.Disposal, 9},
	})
	// Abrasive is about half of the consumables.
	consumables := l.Money.Abrasive + l.Money.Power + l.Money.Water + l.Money.Disposal + l.Money.Wear
	if r := l.Money.Abrasive / consumables; !within(r, 0.4, 0.65) {
		t.Errorf("abrasive is %.2f of the consumables", r)
	}
}

func TestTwoTables(t *testing.T) {
	one, two := aluminiumJob(1), aluminiumJob(1)
	two.Machine.Tables = 2
	a, err := LayoutLedger(one, plateWork(), 0)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := LayoutLedger(two, plateWork(), 0)
	near(t, "occupied", b.Usage.OccupiedSec, math.Max(a.Usage.HeadSec, a.Usage.HandleSec), 1e-12)
	near(t, "occupied by one", a.Usage.OccupiedSec, a.Usage.HeadSec+a.Usage.HandleSec, 1e-12)
}

func TestLayerQuality(t *testing.T) {
	s := aluminiumJob(8)
	last := math.Inf(1)
	for layer := 1; layer <= 8; layer++ {
		q, err := LayerQuality(s, layer)
		if err != nil {
			t.Fatal(err)
		}
		if q.Index >= last {
			t.Errorf("layer %d is finer than the one above: %v after %v", layer, q.Index, last)
		}
		last = q.Index
	}
	bottom, _ := BottomQuality(s)
	near(t, "bottom index", bottom.Index, Medium.Index(), 1e-9)
	if bottom.Grade != Medium {
		t.Errorf("bottom grade %v", bottom.Grade)
	}
	s.Machine.FeedCapMMPerMin = 100 // slower than the law: finer than asked
	if q, _ := BottomQuality(s); q.Grade <= Medium {
		t.Errorf("at a low cap the bottom is only %v", q.Grade)
	}
}
