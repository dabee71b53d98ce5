package week

import "kerfold/cost"

// TotalMoney sums a ledger's money.
func TotalMoney(m cost.Money) float64 {
	return m.Material + m.Machine + m.Labour + m.Abrasive + m.Power + m.Water + m.Disposal + m.Wear + m.Cover
}
