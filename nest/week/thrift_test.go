package week

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Thrift never makes anything later or dearer, and loses no chore.
func TestThriftSavesWithoutDelay(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	saved := 0
	for range 60 {
		b, money := randomMoneyBench(rng)
		q := sequence(b, 5, rng)
		before := newJudge(b).weigh(q)
		spent := queueMoney(b, q, money, 7)
		got := thrift(b, q, money, 7)
		after := newJudge(b).weigh(got)
		now := queueMoney(b, got, money, 7)
		if after.compareLate(before) > 0 || now > spent {
			t.Fatalf("late %v → %v, money %v → %v", before.late, after.late, spent, now)
		}
		n := 0
		for _, line := range got {
			n += len(line)
		}
		if n != len(b.chores) {
			t.Fatalf("%d chores in the queue, want %d", n, len(b.chores))
		}
		if now < spent {
			saved++
		}
	}
	if saved == 0 {
		t.Error("nothing was ever saved")
	}
}

func randomMoneyBench(rng *rand.Rand) (*bench, [][]float64) {
	b := &bench{setup: 10, hours: []*openHours{always(), always()}}
	var money [][]float64
	for i := range 2 + rng.IntN(6) {
		b.promises = append(b.promises, promise{due: 50 + 200*rng.Float64(), weight: 1})
		c := chore{family: rng.IntN(3), orders: []cutOf{{i, 1}}}
		var m []float64
		for k := range 2 {
			sec := 10 + 40*rng.Float64()
			if k == 1 && rng.IntN(4) == 0 {
				sec = math.Inf(1)
			}
			c.on, m = append(c.on, span{body: sec}), append(m, 5+20*rng.Float64())
		}
		b.chores, money = append(b.chores, c), append(money, m)
	}
	return b, money
}
